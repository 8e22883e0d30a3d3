"""Power cuts at any instant, also while the book is opened again: nothing acknowledged is lost.

The book is written by the program as it is, with the interpreter's own SQLite; a cut keeps what
was synced, and of the rest any writes, whole or torn at a sector. A weakened program is caught.
"""

from __future__ import annotations

import random
from bisect import bisect_right
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from benchapp.book import Book, BookError, connection
from benchapp.book.lock import lock_file
from tests.book.samples import moment, note, opened, writing
from tests.faults.disk import CAN_BE_SEEN, Act, Disk
from tests.faults.power import state_after

pytestmark = pytest.mark.skipif(not CAN_BE_SEEN, reason="this SQLite cannot be called by name")

#: Books written, and the disk states tried of each: half of them of a second cut.
BOOKS, STATES = 20, 500


@dataclass
class Story:
    """What was done to a book, from a sound disk on.

    Attributes:
        before: The files at the beginning, by path.
        acts: What was done to them.
        said: For each acknowledged entry, in order: how many acts were done by then, and its id.
    """

    before: dict[str, bytes]
    acts: list[Act] = field(default_factory=list)
    said: list[tuple[int, str]] = field(default_factory=list)

    def cut(self, chance: random.Random) -> tuple[dict[str, bytes], list[str]]:
        """A state of the disk after a cut, and what was acknowledged before it.

        Every other cut falls just after an acknowledgement, where most is at stake.
        """
        at = chance.randrange(len(self.acts) + 1)
        if self.said and chance.random() < 0.5:
            at = chance.choice(self.said)[0]
        heard = self.said[:bisect_right([n for n, _ in self.said], at)]
        return state_after(self.before, self.acts[:at], chance), [name for _, name in heard]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the book is made."""
    return tmp_path / "studio" / "studio.book"


def _written(path: Path, seed: int) -> Story:
    """A book made and written in by three programs, one after the other."""
    chance = random.Random(seed)
    path.parent.mkdir(parents=True)
    story = Story({str(path): b""})
    with Disk(acts=story.acts):
        for _ in range(3):
            with writing(path) as book:
                for n in range(chance.randrange(3, 12)):
                    drafts = [note("x" * chance.randrange(2000))
                              for _ in range(chance.randrange(1, 4))]
                    if n == 0:
                        drafts.insert(0, opened(f"{seed}-{book.last_sequence()}"))
                    for entry in book.append(drafts, moment(n), "note"):
                        story.said.append((len(story.acts), entry.id))
    return story


def _lay(state: dict[str, bytes], path: Path) -> None:
    """Put the files of a state in the place, in which nobody has the book open.

    The lock file is made before SQLite syncs the folder for its first journal, so before the
    book is more than empty; the reserve is never synced, and may be missing.
    """
    for old in path.parent.glob(f"{path.name}*"):
        old.unlink()
    lock_file(path).touch()
    for name, data in state.items():
        Path(name).write_bytes(data)


def _went_on(path: Path, state: dict[str, bytes], heard: list[str]) -> tuple[Story, list[str]]:
    """Open what a cut left, and go on; the story of that, and what is wrong."""
    _lay(state, path)
    story = Story(dict(state), said=[(0, name) for name in heard])
    try:
        with Disk(acts=story.acts), writing(path) as book:
            found = [entry.id for entry in book.entries()]
            wrong = [] if book.damaged else list(map(str, book.verify()))
            wrong += ["damaged"] if book.damaged else []
            wrong += ["lost"] if found[:len(heard)] != heard else []
            new = book.append([note("after the cut")], moment(99), "note")
            # Beyond what was heard, the entries of a commit that nobody heard of may be there too.
            story.said += [(len(story.acts), name) for name in [*found[len(heard):], new[0].id]]
        with Book.reading(path) as book:
            there = [entry.id for entry in book.entries()]
            wrong += ["not gone on"] if there != [*found, new[0].id] else []
    except BookError as error:
        return story, [str(error)]
    return story, wrong


def _tried(path: Path, seed: int, states: int) -> tuple[int, list[str]]:
    """Cut one book's story `states` times, half of them twice: states tried, what is wrong."""
    chance = random.Random(seed)
    story = _written(path, seed)
    assert {"write", "truncate", "sync", "delete"} <= {act.what for act in story.acts}
    tried, wrong = 0, []
    while tried < states:
        second, found = _went_on(path, *story.cut(chance))
        wrong += found
        if not found:
            wrong += _went_on(path, *second.cut(chance))[1]
            tried += 1
        tried += 1
    return tried, wrong


def test_a_few_cuts(path: Path) -> None:
    """A sample of the heavy one."""
    tried, wrong = _tried(path, 1, 6)
    assert wrong == []
    assert tried >= 6


@pytest.mark.full
@pytest.mark.parametrize("seed", range(BOOKS))
def test_ten_thousand_cuts(path: Path, seed: int) -> None:
    """The state after any cut, and after a cut of the opening that follows, is whole."""
    tried, wrong = _tried(path, 1000 + seed, STATES)
    assert wrong == []
    assert tried >= STATES
    assert tried * BOOKS >= 10_000


@pytest.mark.full
@pytest.mark.parametrize("level", [0, 1], ids=["off", "normal"])
def test_weaker_syncs_are_caught(level: int, path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With `synchronous` weakened the same cuts lose what was acknowledged."""
    monkeypatch.setattr(connection, "_FULL", level)
    assert "lost" in _tried(path, 1, 60)[1]


def test_skipped_syncs_are_caught(path: Path) -> None:
    """A sync that never reached the disk loses what was acknowledged."""
    story = _written(path, 1)
    story.acts[:] = [Act("open", x.path) if x.what == "sync" else x for x in story.acts]
    chance = random.Random(1)
    assert any(_went_on(path, *story.cut(chance))[1] for _ in range(10))
