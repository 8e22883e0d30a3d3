"""Mirrors and backups of a day, cut off and held against the book: what the tests of copies do."""

from __future__ import annotations

import json
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import partial
from pathlib import Path

from benchapp import files
from benchapp.book import Book, backup, copied
from benchapp.copies import backups, mirrors
from benchapp.copies.rebuild import rebuild_from_mirror
from benchapp.events.entry import Entry
from tests.book.samples import closed, moment, note, opened, sheet_out
from tests.faults.apart import die_at, ended, forked

DAYS = ("2026-05-03", "2026-05-04", "2026-05-05")
_PAGE = 4096
#: In bytes: so large is the disk that becomes full.
_DISK = 2 * 1024 * 1024
#: Taken for the free space when a backup begins; the disk becomes full meanwhile.
_SEEMED_FREE = 10**9


def make_studio(folder: Path) -> Path:
    """A book of two days with its mirror and a backup; an own file lies between the backups."""
    path = folder / "studio.book"
    with Book.open(path, write=True, create=True) as book:
        for n, day in enumerate(DAYS[:2]):
            stream = f"session/{day}"
            said = note("cold " * 4000, stream)
            book.append([opened(day), said, sheet_out(n)], moment(n), "open")
            book.append([closed(day)], moment(n), "close")
        assert mirrors.write_mirrors(book, files.mirrors_folder(path))
    assert backups.back_up(path, moment(10), _SEEMED_FREE) == ""
    return path


def print_day(book: Book) -> None:
    """A third day, with words about the one before."""
    stream = f"session/{DAYS[2]}"
    book.append([opened(DAYS[2]), note("warm " * 4000, stream), sheet_out(0)], moment(90), "open")
    book.append([note("dry", f"session/{DAYS[1]}"), closed(DAYS[2])], moment(91), "close")


def copy_it(book: Book, path: Path) -> None:
    """Write the mirror and make a backup, as at the end of a session."""
    mirrors.write_mirrors(book, files.mirrors_folder(path))
    backups.back_up(path, moment(100), _SEEMED_FREE)


# -- what must hold -------------------------------------------------------------------------


def wrong_after(path: Path, before: Path) -> Iterator[str]:
    """What is not as it must be after copying the third day was cut off.

    Args:
        path: The book.
        before: The same studio before that day.
    """
    with Book.open(path, write=True) as book:
        yield from (f"the book: {problem}" for problem in book.verify())
        entries = book.entries()
        if not any(e.stream.endswith(DAYS[2]) and e.kind == "closed" for e in entries):
            yield "the day is not in the book"
        yield from _wrong_mirror(book, files.mirrors_folder(path), files.mirrors_folder(before))
        yield from _wrong_backups(path, before)
        if not mirrors.write_mirrors(book, files.mirrors_folder(path)):
            yield "the mirror is not whole the next time"
        if problem := backups.back_up(path, moment(200), _SEEMED_FREE):
            yield f"the next time: {problem}"
    yield from _wrong_backups(path, before)
    newest = backups.backups_of(path)[-1].path
    if _entries_of(newest) != entries:
        yield "the newest backup lacks something the next time"
    new = path.with_name("rebuilt.book")
    found = rebuild_from_mirror(files.mirrors_folder(path), new)
    if not found.whole or found.left_out or _entries_of(new) != entries:
        yield f"the mirror does not give the book back the next time: {found}"
    yield from (f"{x} is left over" for x in path.parent.rglob("*.part*"))


def _wrong_mirror(book: Book, mirror: Path, before: Path) -> Iterator[str]:
    known = {mirrors.file_of(mirror, x): book.stream(x) for x in book.streams_from("")}
    for file in mirrors.mirror_files(mirror):
        told = _told(file)
        if file not in known or told != [e.sha256 for e in known[file]][:len(told)]:
            yield f"{file}: is not what the book has"
    for file in mirrors.mirror_files(before):
        now = mirror / file.relative_to(before)
        if not now.exists() or not now.read_bytes().startswith(file.read_bytes()):
            yield f"{now}: what it held is lost"


def _told(file: Path) -> list[str]:
    try:
        return [str(json.loads(line)["sha256"]) for line in file.read_text("utf-8").splitlines()]
    except ValueError:
        return ["torn"]


def _wrong_backups(path: Path, before: Path) -> Iterator[str]:
    for old in backups.backups_of(before):
        now = files.backups_folder(path) / old.path.name
        if not now.exists() or now.read_bytes() != old.path.read_bytes():
            yield f"the backup {now.name} is lost"
    for one in backups.backups_of(path):
        if not _entries_of(one.path):
            yield f"the backup {one.path.name} is not sound"


def _entries_of(path: Path) -> tuple[Entry, ...]:
    """All entries of a book that is sound; none where it is not."""
    with suppress(Exception), Book.reading(path) as book:
        if not book.verify():
            return book.entries()
    return ()


# -- killed ---------------------------------------------------------------------------------


def kill_at_operations(folder: str, only: list[int] | None, weak: str) -> tuple[int, list[str]]:
    """Killed before each file operation of the copying, or before some; how often, what is wrong.

    Args:
        folder: Where all of it lies.
        only: Which operations; None: every one.
        weak: How the program is weakened: see `weaken`.
    """
    before = make_studio(Path(folder) / "before")
    last = _operations(before, weak)
    wrong, many = [], 0
    for event in only or range(1, last + 1):
        path = _fresh(before)
        code = ended(forked(_day, path, partial(die_at, event), weak))
        if code != -signal.SIGKILL:
            wrong.append(f"operation {event}: ended with {code}")
        many += 1
        wrong += [f"operation {event}: {x}" for x in wrong_after(path, before)]
        shutil.rmtree(path.parent)
    return many, wrong


def kill_at_moments(folder: str, times: int, seed: int) -> tuple[int, list[str]]:
    """Killed at moments of chance while copying; how often it was at work, what is wrong."""
    before = make_studio(Path(folder) / "before")
    chance, wrong, many, longest = random.Random(seed), [], 0, 0.02
    while many < times:
        path = _fresh(before)
        out, into = os.pipe()
        child = forked(_day, path, partial(os.write, into, b"!"), "")
        os.read(out, 1)
        began = time.perf_counter()
        wait = chance.random() * longest
        while time.perf_counter() - began < wait:
            pass  # a sleep is too coarse to fall into a write
        os.kill(child, signal.SIGKILL)
        if ended(child) == -signal.SIGKILL:
            many += 1
        else:
            longest *= 0.9  # it was through
        os.close(out)
        os.close(into)
        wrong += [f"kill {many} after {wait:.4f} s: {x}" for x in wrong_after(path, before)]
        shutil.rmtree(path.parent)
    return many, wrong


def _operations(before: Path, weak: str) -> int:
    """How many file operations the copying takes, once everything it needs is imported."""
    path = _fresh(before)
    assert ended(forked(_day, path, dict, "")) == 0
    assert [*wrong_after(path, before)] == []
    shutil.rmtree(path.parent)
    path = _fresh(before)
    out, into = os.pipe()

    def work() -> None:
        counted: list[Callable[[], int]] = []
        _day(path, lambda: counted.append(die_at(0)), weak)
        os.write(into, str(counted[0]()).encode())

    assert ended(forked(work)) == 0
    shutil.rmtree(path.parent)
    return int(os.read(out, 20))


def _fresh(before: Path) -> Path:
    """The studio once more, in a folder of its own."""
    folder = before.parent.with_name("now")
    shutil.copytree(before.parent, folder)
    return folder / before.name


def _day(path: Path, begin: Callable[[], object], weak: str) -> None:
    weaken(weak)
    with Book.open(path, write=True) as book:
        print_day(book)
        begin()
        copy_it(book, path)


def weaken(how: str) -> None:
    """Have mirrors written in their place (`mirror`), or backups under their name (`backup`)."""
    if how == "mirror":
        mirrors.files.write_over = _write_in_place  # type: ignore[attr-defined]
    elif how == "backup":
        copied.backup.copy_book = _copy_in_place  # type: ignore[attr-defined]
        backups.secrets.token_hex = lambda _: "0"  # type: ignore[attr-defined]
        backups._sweep = lambda _: None
        backups._made = _made_in_place


def _write_in_place(path: Path, data: object) -> None:
    with path.open("w") as file:
        for part in [data] if isinstance(data, str) else data:  # type: ignore[attr-defined]
            file.write(part[:20])
            file.flush()
            sys.audit("sabotage")
            file.write(part[20:])


def _copy_in_place(source: object, to: Path) -> None:
    to.touch()
    backup._fill(source, to)  # type: ignore[arg-type]


def _made_in_place(book: Path, folder: Path, end: copied.Ending, _: object) -> backups.Backup:
    path = folder / f"{book.stem}-{end.origin}-{end.row:06d}-2026-05-05-1200.book"
    copied.copy_checked(book, path)
    return backups.Backup(end.row, "2026-05-05", end.origin, path, 0)


# -- the disk full --------------------------------------------------------------------------


def fill_disk(folder: str, only: list[int] | None) -> tuple[int, list[str]]:
    """A disk with so many pages of 4 KiB free while copying, from none until all has room.

    Args:
        folder: Where the small disk is mounted, for this process alone.
        only: How many pages; None: every number there is.

    Returns:
        How many were tried, and what is wrong.
    """
    disk = Path(folder) / "disk"
    disk.mkdir()
    subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={_DISK}", "none", str(disk)], check=True)
    before = make_studio(Path(folder) / "before")
    wrong: list[str] = []
    many = 0
    for free in only or range(_DISK // _PAGE):
        many += 1
        had_room, found = _copied_with(before, disk, free)
        wrong += [f"{free} pages free: {x}" for x in found]
        if had_room and only is None:
            return many, wrong
    return many, wrong


def _copied_with(before: Path, disk: Path, pages: int) -> tuple[bool, list[str]]:
    """Copy a day with so many pages free; whether they were enough, and what is wrong then."""
    place = disk / "studio"
    shutil.copytree(before.parent, place)
    path = place / before.name
    with Book.open(path, write=True) as book:
        print_day(book)
        _leave(disk, pages)
        whole = True
        try:
            whole = mirrors.write_mirrors(book, files.mirrors_folder(path))
        except files.FileProblem:
            whole = False
        whole &= backups.back_up(path, moment(100), _SEEMED_FREE) == ""
        found = [f"left over: {x.name}" for x in place.rglob("*.part*")]
    (disk / "other").unlink()
    found += wrong_after(path, before)
    shutil.rmtree(place)
    return whole, found


def _leave(disk: Path, pages: int) -> None:
    """Fill the disk but for so many pages."""
    with (disk / "other").open("wb") as other:
        free = shutil.disk_usage(disk).free - pages * _PAGE
        os.posix_fallocate(other.fileno(), 0, free)
