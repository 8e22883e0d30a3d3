"""Appending: numbered, chained, whole, on disk, and refused before anything is written."""

from __future__ import annotations

import hashlib
import json
from enum import Enum, IntEnum
from pathlib import Path
from types import MappingProxyType

import pytest

from benchapp.book import Book, BookDisk, Unwritable
from benchapp.events.entry import Draft, Moment
from tests.book.samples import (
    DAY,
    Faults,
    draft,
    moment,
    note,
    opened,
    sheet_out,
    sqlite_error,
    writing,
)


def test_ids_positions_and_action(path: Path) -> None:
    """One action over two streams: one action id, positions of each stream's own."""
    with writing(path) as book:
        first = book.append([opened(), sheet_out(), note("dry")], moment(), "open")
        second = book.append([sheet_out(), note("wet")], moment(1), "note")
        origin = book.origin
    assert [entry.id for entry in (*first, *second)] == [f"{origin}:{n}" for n in range(1, 6)]
    assert [(entry.stream, entry.position) for entry in (*first, *second)] == [
        (DAY, 1), ("pack/7", 1), (DAY, 2), ("pack/7", 2), (DAY, 3)]
    assert {entry.action for entry in first} == {f"{origin}:1"}
    assert {entry.action for entry in second} == {f"{origin}:4"}
    assert [entry.word for entry in second] == ["note", "note"]


def test_read_back_as_appended(path: Path) -> None:
    """What append gives is what a later start reads, clocks and bodies and all."""
    at = Moment(-1, -570, 2**63 - 1, "b–ß", 0)
    body = {"impression": 1, "name": "tone", "value": MappingProxyType({"a": (1, 2.5, None, True)}),
            "unit": "grade 1-5 · é 🖐 \u202e"}
    with writing(path) as book:
        entry, = book.append([Draft(DAY, "read", body)], at, "reading")
    with Book.reading(path) as book:
        assert book.stream(DAY) == (entry,)
    assert entry.at == at
    assert entry.body["value"] == {"a": [1, 2.5, None, True]}


def test_digest_is_what_the_registry_says(path: Path) -> None:
    """The digest can be worked out by hand: SHA-256 over canonical JSON and the one before."""
    with writing(path) as book:
        one, two = book.append([note("é"), note("b")], moment(), "note")
    at = moment()
    text = json.dumps(
        [one.sha256, two.id, DAY, 2, one.id, "note", "noted", at.wall_ms, at.offset_min, at.boot_ns,
         at.boot_id, at.mono_ns, {"impression": None, "text": "b"}],
        ensure_ascii=False, separators=(",", ":"))
    assert two.sha256 == hashlib.sha256(text.encode()).hexdigest()


def test_numbers_go_on_after_a_new_start(path: Path) -> None:
    """A second start goes on where the first ended, in the same book."""
    with writing(path) as book:
        book.append([note("a"), note("b")], moment(), "note")
        origin = book.origin
    with writing(path) as book:
        entry, = book.append([note("c")], moment(), "note")
        assert (book.origin, entry.id, entry.position) == (origin, f"{origin}:3", 3)
        assert book.verify() == []


def test_committed_when_it_returns(path: Path) -> None:
    """Another reader finds the entry the moment append returns, before any close."""
    with writing(path) as book, Book.reading(path) as reader:
        entry, = book.append([note("a")], moment(), "note")
        assert reader.entries() == (entry,)


def test_nothing_is_no_action(path: Path) -> None:
    """An action without entries writes nothing and is given no number."""
    faults = Faults()
    with writing(path, faults) as book:
        assert book.append([], moment(), "status") == ()
        assert "begin" not in faults.seen
        assert book.last_sequence() == 0


def test_a_closed_book_takes_nothing(path: Path) -> None:
    """After close it is a mistake to write or read, and nothing is put anywhere."""
    book = writing(path)
    book.close()
    before = sorted(path.parent.iterdir())
    with pytest.raises(ValueError, match="is closed"):
        book.append([note("a")], moment(), "note")
    with pytest.raises(ValueError, match="is closed"):
        book.entries()
    assert sorted(path.parent.iterdir()) == before


def test_text_of_another_make(path: Path) -> None:
    """An enumeration that is text or number is kept as its value."""
    class Verdict(str, Enum):  # noqa: UP042
        KEEP = "keep"

    class Grade(IntEnum):
        THREE = 3

    with writing(path) as book:
        entry, = book.append([draft(DAY, "judged", impression=Grade.THREE, verdict=Verdict.KEEP)],
                             moment(), "keep")
        assert entry.body == {"impression": 3, "verdict": "keep"}
        assert {type(value) for value in entry.body.values()} == {int, str}
        assert book.stream(DAY) == (entry,)


def test_a_reader_cannot_write(path: Path) -> None:
    """A book open for reading refuses to be written in."""
    writing(path).close()
    with Book.reading(path) as book, pytest.raises(BookDisk, match="open for reading only"):
        book.append([note("a")], moment(), "note")


@pytest.mark.parametrize(("draft", "says"), [
    (Draft(DAY, "nodded", {}), "no kind 'nodded' is registered for 'session'"),
    (Draft("pack/7", "noted", {"impression": 1, "text": ""}), "no kind 'noted' is registered for"),
    (Draft(DAY, "noted", {"text": "a"}), "noted: missing impression"),
    (Draft(DAY, "paused", {"why": "tea"}), "paused: not registered: 'why'"),
    (Draft("session", "paused", {}), "'session' is not of the form family/name"),
    (Draft("session/", "paused", {}), "'session/' is not of the form family/name"),
    (note("a\0b"), "noted: text: the text holds a NUL character"),
    (note("ab\ud800"), "noted: text: the character at place 3 is half a character"),
    (note("a", f"{DAY}@a@b@c"), "noted: is not for session/2026-05-03@a@b@c to say; only the book"),
    (opened("2026-05-03@a@b"), "opened: is not for session/2026-05-03@a@b to say; only the book"),
    (note("a", "session/\udc00"), "the stream: the character at place 9 is half"),
    (Draft(DAY, "slept", {"ms": 2**63}), "slept: ms: 9223372036854775808 is too large"),
    (Draft(DAY, "slept", {"ms": -(2**63) - 1}), "is too large"),
    (Draft(DAY, "slept", {"ms": float("nan")}), "slept: ms: nan is not a number"),
    (Draft(DAY, "slept", {"ms": [1, {"a": float("inf")}]}), "slept: ms\\[1\\].a: inf is not"),
    (Draft(DAY, "slept", {"ms": {1: 2}}), "slept: ms: the key 1 is not text"),
    (Draft(DAY, "slept", {"ms": Path("x")}), "slept: ms: P[a-zA-Z]+ is not a JSON value"),
])
def test_refused_before_writing(path: Path, draft: Draft, says: str) -> None:
    """What a book can't hold is refused by name, and the whole action with it."""
    with writing(path) as book:
        book.append([note("before")], moment(), "note")
        with pytest.raises(Unwritable, match=says) as caught:
            book.append([note("first"), draft], moment(), "note")
        assert isinstance(caught.value, ValueError)
        assert book.last_sequence() == 1
        entry, = book.append([note("after")], moment(), "note")
        assert entry.position == 2


def test_limits_are_kept(path: Path) -> None:
    """The largest and the smallest whole numbers come back."""
    with writing(path) as book:
        for ms in (2**63 - 1, -(2**63)):
            book.append([Draft(DAY, "slept", {"ms": ms})], moment(), "time")
        assert [entry.body["ms"] for entry in book.stream(DAY)] == [2**63 - 1, -(2**63)]


@pytest.mark.parametrize("at", [
    Moment(2**63, 0, 0, "b", 0), Moment(0, 0, -(2**63) - 1, "b", 0), Moment(0, 0, 0, "b\0", 0),
])
def test_clocks_out_of_range(path: Path, at: Moment) -> None:
    """A clock no column can hold is refused like any value."""
    with writing(path) as book, pytest.raises(Unwritable, match=r"too large|NUL"):
        book.append([note("a")], at, "note")


@pytest.mark.parametrize("word", ["", "no\0te"])
def test_word_of_the_action(path: Path, word: str) -> None:
    """An action has a word, and it is text."""
    with writing(path) as book, pytest.raises(Unwritable, match="the action's word"):
        book.append([note("a")], moment(), word)


@pytest.mark.parametrize("point", ["begin", "insert", "commit"])
def test_all_of_an_action_or_nothing(path: Path, point: str) -> None:
    """An error at any point of the transaction leaves nothing of the action in the file."""
    faults = Faults()
    with writing(path, faults) as book, Book.reading(path) as reader:
        book.append([note("a")], moment(), "note")
        faults.plan(point, lambda: sqlite_error(10))
        book.append([note("b"), sheet_out()], moment(), "note")
        assert [entry.body["text"] for entry in reader.entries()] == ["a"]
        faults.clear()


def test_in_memory_touches_no_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A rehearsal's book is a whole book without a file."""
    monkeypatch.chdir(tmp_path)
    with Book.in_memory() as book:
        book.append([opened(), note("a")], moment(), "open")
        assert book.origin
        assert [row.name for row in book.sessions()] == ["2026-05-03"]
        assert book.verify() == []
        assert book.heartbeat(moment())
    assert list(tmp_path.iterdir()) == []
