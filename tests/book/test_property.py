"""Whatever is appended, whatever fails, whenever it starts anew: the book is the model."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.book import Book
from benchapp.events.entry import Draft, Entry, entry_digest
from tests.book.samples import Faults, disk_full, moment, no_space, note, sqlite_error, writing

_TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=20)
_VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**63), 2**63 - 1) | _TEXT
    | st.floats(allow_nan=False, allow_infinity=False),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(_TEXT, inner, max_size=3),
    max_leaves=5,
)
_STREAMS = st.sampled_from(["session/a", "session/b", "session/aa", "session/ä"])
_DRAFTS = st.builds(note, _TEXT, _STREAMS) | st.builds(
    lambda stream, value: Draft(stream, "setting changed", {"name": "ink", "value": value}),
    _STREAMS, _VALUES)


@dataclass(frozen=True)
class Turn:
    """What happens next: an action, and what the disk does meanwhile."""

    drafts: list[Draft]
    fails: str
    times: int
    starts_anew: bool


_TURNS = st.builds(
    Turn,
    st.lists(_DRAFTS, max_size=4),
    st.sampled_from(["", "", "begin", "insert", "commit", "fsync", "everything"]),
    st.integers(1, 4),
    st.booleans(),
)


def _plan(faults: Faults, turn: Turn) -> None:
    faults.clear()
    if turn.fails == "fsync":
        faults.plan("commit", lambda: sqlite_error(1034), turn.times)
    elif turn.fails:
        point = "commit" if turn.fails == "everything" else turn.fails
        faults.plan(point, disk_full, turn.times)
    if turn.fails == "everything":
        for place in ("beside", "state", "temp"):
            faults.plan(f"spill {place}", no_space, 1)


def _chained(entries: tuple[Entry, ...]) -> bool:
    heads: dict[str, str] = {}
    for entry in entries:
        if entry.sha256 != entry_digest(heads.get(entry.stream, ""), entry):
            return False
        heads[entry.stream] = entry.sha256
    return True


#: A disk in memory where there is one: nothing here asks whether a disk keeps its word.
_QUICK = "/dev/shm" if Path("/dev/shm").is_dir() else None


@settings(max_examples=min(settings().max_examples, 600))  # each opens and closes real files
@given(st.lists(_TURNS, max_size=8))
def test_book_equals_model(turns: list[Turn]) -> None:
    """After any actions, failures and new starts a replay gives what append gave, in order."""
    model: list[Entry] = []
    with tempfile.TemporaryDirectory(dir=_QUICK) as folder:
        path = Path(folder) / "book.db"
        faults = Faults()
        book = writing(path, faults)
        for second, turn in enumerate(turns):
            _plan(faults, turn)
            entries = book.append(turn.drafts, moment(second), "turn")
            assert [(e.stream, e.kind, e.body) for e in entries] == [
                (d.stream, d.kind, d.body) for d in turn.drafts]
            model.extend(entries)
            assert list(book.entries()) == model
            if turn.starts_anew and not book.unsaved:
                book.close()
                book = writing(path, faults)
        faults.clear()
        book.close()
        with Book.reading(path) as reader:
            assert list(reader.entries()) == model
            assert reader.verify() == []
            for name in reader.streams("session"):
                assert list(reader.stream(name)) == [e for e in model if e.stream == name]
    assert [int(e.id.split(":")[1]) for e in model] == list(range(1, len(model) + 1))
    assert _chained(tuple(model))
