"""Backups that are made by themselves: checked, named by what they hold, the old ones let go of.

Of each book the ten newest stay, the last of each of twelve months, and the last of each year. All
together they take a tenth of the free space at most; where that is little, the oldest go first.
"""

from __future__ import annotations

import os
import re
import secrets
import shutil
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from benchapp import files
from benchapp.book import BookError
from benchapp.book.copied import Ending, copy_checked, ending_of
from benchapp.events.entry import Moment
from benchapp.events.moments import local_time

NEWEST: Final = 10
MONTHS: Final = 12
#: Of the space that is free without them they take one part in so many.
SHARE: Final = 10
_NAME: Final = re.compile(
    r"(?P<book>.+)-(?P<origin>[a-z0-9]+)-(?P<row>\d{6,12})-(?P<day>\d{4}-\d\d-\d\d)-\d{4}\.book")
_PART: Final = re.compile(r"\.[0-9a-f]{16}\.part.*")


@dataclass(frozen=True, slots=True)
class Backup:
    """A backup by its name: which book, up to which row, of which day.

    They are ordered by rows: a clock may be wrong, a row is not.
    """

    row: int
    day: str
    origin: str
    path: Path
    size: int


def backups_of(book: Path) -> list[Backup]:
    """The backups that were made of the book at `book` by themselves, the oldest first."""
    found = []
    with suppress(OSError):
        for path in files.backups_folder(book).iterdir():
            name = _NAME.fullmatch(path.name)
            if name is None or name["book"] != book.stem or path.is_symlink():
                continue
            with suppress(OSError):
                found.append(Backup(int(name["row"]), name["day"], name["origin"], path,
                                    path.stat().st_size))
    return sorted(found, key=lambda one: (one.row, one.day, one.path.name))


def back_up(book: Path, now: Moment, free_bytes: int | None = None) -> str:
    """Make a backup of the book at `book`, open or not, unless the newest has all of it.

    Args:
        book: The book.
        now: What it is dated by.
        free_bytes: How much space is free; None: what the disk says.

    Returns:
        Why none was made, a sentence; empty where all is well.
    """
    try:
        end = ending_of(book)
        if end is None or not end.row or _is_there(book, end):
            return ""
        folder = files.make_folder(files.backups_folder(book))
        _sweep(folder)
        old = backups_of(book)
        free = shutil.disk_usage(folder).free if free_bytes is None else free_bytes
        room = (free + sum(one.size for one in old)) // SHARE
        if end.size > room:
            return (f"No backup was made: it takes {_mb(end.size, up=True)}, and a tenth of the "
                    f"free space is {_mb(room)}. Free some space, or name a file on another disk: "
                    "benchapp book backup FILE")
        made = _made(book, folder, end, now)
        _let_go([*old, made], room)
    except (BookError, files.FileProblem) as problem:
        return f"No backup was made. {problem}"
    except OSError as error:
        return f"No backup was made: {files.system_said(error)}."
    return ""


def _is_there(book: Path, end: Ending) -> bool:
    """Whether a backup holds all the book holds, in the same layout."""
    mine = [one for one in backups_of(book) if one.origin == end.origin and one.row == end.row]
    for one in mine:
        with suppress(BookError):
            if ending_of(one.path) == end:
                return True
    return False


def _made(book: Path, folder: Path, end: Ending, now: Moment) -> Backup:
    part = folder / f".{secrets.token_hex(8)}.part"
    try:
        copy_checked(book, part)
        # It may have gone on since.
        end = ending_of(part) or end
        path = folder / (f"{book.stem}-{end.origin}-{end.row:06d}-"
                         f"{local_time(now):%Y-%m-%d-%H%M}.book")
        if os.path.lexists(path):
            raise files.AlreadyThere(f"{path} is there already")
        part.rename(path)
    finally:
        part.unlink(missing_ok=True)
    return Backup(end.row, f"{local_time(now):%Y-%m-%d}", end.origin, path, path.stat().st_size)


def _let_go(all_: list[Backup], room: int) -> None:
    """Remove those that need not stay, then the oldest until the rest has room; never the last."""
    made = all_[-1]
    stay = sorted(backups_to_keep(all_), key=lambda one: (one.day, one.row))
    while len(stay) > 1 and sum(one.size for one in stay) > room:
        stay.remove(next(one for one in stay if one != made))
    for one in all_:
        if one not in stay:
            one.path.unlink(missing_ok=True)


def backups_to_keep(backups: Iterable[Backup]) -> list[Backup]:
    """Those that stay, the oldest first: of each book the newest, one a month, one a year."""
    ordered = sorted(backups, key=lambda one: (one.row, one.day, one.path.name))
    stay: set[Backup] = set()
    for origin in {one.origin for one in ordered}:
        mine = [one for one in ordered if one.origin == origin]
        stay.update(mine[-NEWEST:])
        # The later of a month, and of a year, comes after the earlier and takes its place.
        months = {one.day[:7]: one for one in mine}
        stay.update(months[month] for month in sorted(months)[-MONTHS:])
        stay.update({one.day[:4]: one for one in mine}.values())
    return [one for one in ordered if one in stay]


def _sweep(folder: Path) -> None:
    """Remove what a backup that was cut off left; only who may write in the book comes here."""
    for path in folder.iterdir():
        if _PART.fullmatch(path.name):
            path.unlink(missing_ok=True)


def _mb(size: int, *, up: bool = False) -> str:
    """A size in tenths of a megabyte; `up`: rounded up, so that it is never told too small."""
    tenths = -(-size // 100_000) if up else size // 100_000
    return f"{tenths / 10:.1f} MB"
