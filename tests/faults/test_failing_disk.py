"""Every act on the book's files fails once, or from then on; the disk fills; two faults together.

An act is an opening, a write, a cut, a sync, a removal or a new name: SQLite's or the program's
own, where it spills entries or makes its reserve. The disk is also full after each 4 KiB that a
day takes; and of two days in a row each meets a fault of its own, one of which may be kill -9.
What was acknowledged is in the book or spilled beside it, and in the book once the disk is sound;
what is refused is refused with plain sentences. """

from __future__ import annotations

import errno
import os
import random
import shutil
import signal
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from benchapp.book import Book, BookError, spill
from tests.book.samples import moment, note, opened, writing
from tests.faults.apart import ended, forked
from tests.faults.disk import CAN_BE_SEEN, Act
from tests.faults.failing import ERRORS, FOR_GOOD, Failing, Refuse, deadly, file_limit, nth
from tests.faults.wholeness import hold_plain

pytestmark = pytest.mark.skipif(not CAN_BE_SEEN, reason="this SQLite cannot be called by name")

#: At least so many acts of a short day, each failed in each way; 4 KiB steps; faults in pairs.
ACTS, STEPS, PAIRS = 100, 24, 500
_PAGE = 4096


def _day(path: Path, name: str, refuse: Refuse,
         say: Callable[[list[str]], object] = lambda _: None) -> tuple[list[str], int]:
    """A short day on such a disk: the ids acknowledged as kept, and how many acts it took.

    What the book could keep nowhere it says itself, and that is not acknowledged. `say` is given
    what is acknowledged, as soon as it is.
    """
    said: list[str] = []
    with Failing(refuse) as disk:
        try:
            with writing(path) as book:
                lost: set[str] = set()
                for n in range(4):
                    drafts = [opened(name)] if n == 0 else [note("x" * 900), note(str(n))]
                    new = [x.id for x in book.append(drafts, moment(n), "note")]
                    lost = {x.id for x in book.unsaved}
                    said += new
                    say([x for x in new if x not in lost])
                said = [x for x in said if x not in lost]
        except BookError as refusal:
            hold_plain(str(refusal))
    return said, disk.count


def _killed_day(path: Path, name: str, at: int) -> list[str]:
    """A day on a sound disk, killed before its act numbered `at`: what it had acknowledged."""
    hears, tells = os.pipe()

    child = forked(_day, path, name, deadly(nth(at, errno.EIO)),
                   lambda ids: os.write(tells, "".join(f"{x}\n" for x in ids).encode()))
    os.close(tells)
    with closing(os.fdopen(hears)) as heard:
        said = heard.read().split()
    assert ended(child) in (0, -signal.SIGKILL)
    return said


def _hold(path: Path, said: list[str]) -> None:
    """The disk is sound again: everything said is in the book, which goes on."""
    with writing(path) as book:
        assert not book.damaged
        found = [entry.id for entry in book.entries()]
        assert set(said) <= set(found)
        assert book.verify() == []
        book.append([note("after")], moment(90), "note")
    with Book.reading(path) as book:
        assert len(list(book.entries())) == len(found) + 1


class Disks:
    """A book of one day, and as many copies of it as faults are tried.

    Attributes:
        acts: How many acts a second day takes.
        largest: The size of its largest file then, in bytes.
    """

    def __init__(self, folder: Path) -> None:
        self._folder, self._tried = folder, 0
        self._first = folder / "first" / "studio.book"
        self._first.parent.mkdir()
        self._said, _ = _day(self._first, "first", lambda _: 0)
        copy = self._copied()
        sizes: set[int] = set()

        def look(act: Act) -> int:
            if act.what == "write" and not act.path.endswith("-reserve"):
                sizes.add(act.at + len(act.data))
            return 0

        said, self.acts = _day(copy, "second", look)
        self.largest = max(sizes)
        _hold(copy, [*self._said, *said])

    def _copied(self) -> Path:
        self._tried += 1
        at = self._folder / str(self._tried) / "studio.book"
        shutil.copytree(self._first.parent, at.parent)
        return at

    def hold(self, *days: Callable[[Path, str], list[str]]) -> None:
        """A copy has such days, one after the other; all they said is there then."""
        at = self._copied()
        said = list(self._said)
        for n, day in enumerate(days):
            said += day(at, f"day-{n}")
        _hold(at, said)
        shutil.rmtree(at.parent)


def on(refuse: Refuse) -> Callable[[Path, str], list[str]]:
    """A day on a disk that refuses so."""
    return lambda path, name: _day(path, name, refuse)[0]


def killed(at: int) -> Callable[[Path, str], list[str]]:
    """A day that is killed before its act numbered `at`."""
    return lambda path, name: _killed_day(path, name, at)


@pytest.fixture
def disks(tmp_path: Path) -> Iterator[Disks]:
    """Copies of a book of one day."""
    return Disks(tmp_path)


def test_some_faults(disks: Disks) -> None:
    """A sample of all the heavy ones: two in a row, of them one kill."""
    assert disks.acts >= ACTS
    disks.hold(on(nth(disks.acts // 2, errno.ENOSPC, FOR_GOOD)), killed(disks.acts // 3))


@pytest.mark.full
@pytest.mark.parametrize("times", [1, FOR_GOOD], ids=["once", "for good"])
@pytest.mark.parametrize("errors", [(errno.ENOSPC,), ERRORS], ids=["full", "broken"])
def test_every_act_fails(disks: Disks, errors: tuple[int, ...], times: int) -> None:
    """The n-th act of a day fails, for each n; on a full disk only what takes room does."""
    assert disks.acts >= ACTS
    only = ("open", "write", "mkdir", "link") if errors == (errno.ENOSPC,) else ()
    for n in range(disks.acts):
        disks.hold(on(nth(n, errors[n % len(errors)], times, only)))


@pytest.mark.full
def test_full_at_every_page(disks: Disks) -> None:
    """No file of the book grows beyond each 4 KiB that it takes."""
    steps = disks.largest // _PAGE + 2
    assert steps >= STEPS
    for pages in range(steps):
        disks.hold(on(file_limit(pages * _PAGE)))


@pytest.mark.full
def test_two_faults_together(disks: Disks) -> None:
    """A day with one fault, and another day with another one."""
    chance = random.Random(1)
    ways: list[Callable[[], Callable[[Path, str], list[str]]]] = [
        lambda: on(nth(chance.randrange(disks.acts), chance.choice(ERRORS),
                       chance.choice((1, FOR_GOOD)))),
        lambda: on(file_limit(chance.randrange(STEPS) * _PAGE)),
        lambda: killed(chance.randrange(disks.acts))]
    for _ in range(PAIRS):
        disks.hold(chance.choice(ways)(), chance.choice(ways)())


def test_entries_spilled_nowhere_would_be_noticed(
        disks: Disks, monkeypatch: pytest.MonkeyPatch) -> None:
    """A program that takes a spill for done without one loses what it acknowledged."""
    monkeypatch.setattr(spill.Spill, "_written", lambda *_: True)
    with pytest.raises(AssertionError):
        disks.hold(on(nth(disks.acts // 2, errno.ENOSPC, FOR_GOOD)))
