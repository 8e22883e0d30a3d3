"""The text mirror: each stream of the book as a file of JSON lines, as `export --jsonl` has them.

A file is written whole or not at all. One that holds what the book does not have, as after an older
backup was brought back, is never written over: what goes on is left, what differs is put aside.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import Final

from benchapp import files
from benchapp.book import Book, BookError
from benchapp.clock import Clock
from benchapp.events.entry import Entry, canonical_json
from benchapp.files.problems import system_problem
from benchapp.reports import jsonl

ENDING: Final = ".jsonl"
_ASIDE: Final = ".aside"
#: What the whole folder mirrors; without it every file is looked at.
_FOLDER_FILE: Final = "folder.json"
#: Bytes that a file's name may have without its ending; longer ones end in a digest.
_LONGEST: Final = 180
_KEPT: Final = 120
#: Most last lines are shorter, in bytes.
_USUAL: Final = 16 * 1024
#: So long leaving a program may wait for the mirror; the rest is written the next time.
LEAVING_MS: Final = 1_000
#: More than what a folder mirrors takes to say, in bytes.
_MOST_BYTES: Final = 16 * 1024 * 1024
#: Capitals are escaped: some disks take two names that differ in them alone for one.
_SMALL: Final = frozenset("abcdefghijklmnopqrstuvwxyz0123456789-_.@")


@dataclass(frozen=True, slots=True)
class Run:
    """Rows of the book that another book's entries have, one after the other.

    Attributes:
        row: The first.
        origin: The other book.
        first: The number of its first entry.
        count: How many.
    """

    row: int
    origin: str
    first: int
    count: int


@dataclass(frozen=True, slots=True)
class Mirrored:
    """What a folder mirrors.

    Attributes:
        origin: The book.
        row: The last row that is in it.
        sha256: The digest of that row.
        others: The rows that entries of other books have.
    """

    origin: str
    row: int = 0
    sha256: str = ""
    others: tuple[Run, ...] = ()


def always() -> bool:
    """Go on to the end."""
    return True


def write_mirrors(book: Book, folder: Path, go_on: Callable[[], bool] = always) -> bool:
    """Bring the mirror in `folder` up to the book, as far as `go_on` lets it.

    Args:
        book: The book, open in whatever way.
        folder: Made if it is not there.
        go_on: Asked before each file.

    Returns:
        Whether all of it is there now; else the next time goes on.

    Raises:
        FileProblem: The disk refuses.
        BookError: The book cannot be read.
    """
    before = read_mirrored(folder)
    origin, last = book.origin, book.last_sequence()
    new = _since(book, before) if before is not None and before.origin == origin else None
    if before is not None and new == ():
        return all(_mirrored(book, folder, name, go_on) for name in _gone(book, folder))
    files.remove_parts([folder, *folder.glob("*/")])
    streams = book.streams_from("")
    if new is not None:
        went_on = {entry.stream for entry in new}
        streams = [*sorted(went_on), *(x for x in _gone(book, folder) if x not in went_on)]
    if not all(_mirrored(book, folder, name, go_on) for name in streams):
        return False
    known = before.others if before is not None and new is not None else ()
    since = before.row if before is not None and new is not None else 0
    others = (*known, *(Run(*run) for run in book.rows_of_others(since)))
    end = book.entries(since=last - 1) if last else ()
    _keep(folder, Mirrored(origin, last, end[0].sha256 if end else "", others))
    return True


def within(clock: Clock, ms: int) -> Callable[[], bool]:
    """Whether `ms` have not passed yet since this was asked for."""
    until_ns = clock.now().boot_ns + ms * 1_000_000
    return lambda: clock.now().boot_ns < until_ns


def mirror_on_leaving(book: Book, path: Path, clock: Clock) -> None:
    """Bring the mirror of the open book at `path` up to it; what takes too long waits.

    A disk that refuses is no error: the next time goes on.
    """
    with suppress(files.FileProblem, BookError):
        write_mirrors(book, files.mirrors_folder(path), within(clock, LEAVING_MS))


def _since(book: Book, before: Mirrored) -> tuple[Entry, ...] | None:
    """The entries after those mirrored; None where the book does not go on from there."""
    if before.row == 0:
        return None
    found = book.entries(since=before.row - 1)
    return found[1:] if found and found[0].sha256 == before.sha256 else None


def _gone(book: Book, folder: Path) -> list[str]:
    """The streams that have no file."""
    there = {path.relative_to(folder) for path in mirror_files(folder)}
    return [x for x in book.streams_from("") if file_of(folder, x).relative_to(folder) not in there]


def mirror_files(folder: Path) -> list[Path]:
    """The files of streams in a mirror, sorted; links are passed by."""
    return sorted(path for path in folder.glob(f"*/*{ENDING}")
                  if path.is_file() and not path.is_symlink())


def files_aside(folder: Path) -> list[Path]:
    """The files that were put aside in a mirror, sorted; links are passed by."""
    return sorted(path for path in folder.glob(f"*/*{ENDING}.*{_ASIDE}")
                  if path.is_file() and not path.is_symlink())


def file_of(folder: Path, stream: str) -> Path:
    """Where a stream is mirrored: its family is a folder, its name a file every disk takes."""
    family, _, name = stream.partition("/")
    safe = "".join(sign if sign in _SMALL else _escaped(sign) for sign in name)
    if safe.startswith(".") or files.is_device(safe):
        safe = _escaped(safe[0]) + safe[1:]
    if len(safe) > _LONGEST:
        safe = f"{safe[:_KEPT]}~{hashlib.sha256(stream.encode()).hexdigest()[:16]}"
    return folder / family / f"{safe}{ENDING}"


def _escaped(sign: str) -> str:
    return "".join(f"%{byte:02X}" for byte in sign.encode())


def _mirrored(book: Book, folder: Path, stream: str, go_on: Callable[[], bool]) -> bool:
    """Have the file of a stream hold what the book has of it."""
    if not go_on():
        return False
    path = file_of(folder, stream)
    head = book.head(stream)
    end = _end(path)
    if end == head:
        return True
    entries = book.stream(stream)
    if os.path.lexists(path):
        if end is not None and end[0] > head[0] and _line_of(path, head[0]) == head[1]:
            return True  # the mirror has more: the book in this place is older
        if end is None or not _goes_on(entries, end):
            _put_aside(path)
    files.write_over(path, jsonl.entry_lines(entries))
    return True


def _goes_on(entries: tuple[Entry, ...], end: tuple[int, str]) -> bool:
    position, sha256 = end
    return position <= len(entries) and entries[position - 1].sha256 == sha256


def _end(path: Path) -> tuple[int, str] | None:
    """Position and digest of the last line; None where there is no such file or line."""
    if path.is_symlink():
        return None
    try:
        with path.open("rb") as raw:
            size = raw.seek(0, os.SEEK_END)
            for length in (_USUAL, jsonl.LONGEST):
                raw.seek(max(0, size - length))
                tail = raw.read()
                if not tail.endswith(b"\n"):
                    return None
                if (found := _told(tail[:-1].rpartition(b"\n")[2])) is not None:
                    return found
    except OSError:
        return None
    return None


def _line_of(path: Path, position: int) -> str:
    """The digest in the line of that position; empty where it cannot be read."""
    with suppress(OSError), path.open("rb") as raw:
        for line in raw:
            if (found := _told(line)) is not None and found[0] == position:
                return found[1]
    return ""


def _told(line: bytes) -> tuple[int, str] | None:
    try:
        found = json.loads(line)
        return int(found["position"]), str(found["sha256"])
    except (ValueError, TypeError, KeyError, RecursionError):
        return None


def _put_aside(path: Path) -> None:
    """Give what is not the book's another name: nothing is lost by a mirror."""
    aside = next(x for n in count(1) if not os.path.lexists(
        x := path.with_name(f"{path.name}.{n}{_ASIDE}")))
    try:
        path.rename(aside)
    except OSError as error:
        raise system_problem(path, "cannot be renamed", error) from None


# -- what a folder mirrors ------------------------------------------------------------------


def read_mirrored(folder: Path) -> Mirrored | None:
    """What a folder says it mirrors; None where it says nothing that can be read."""
    try:
        found = json.loads(files.read_text(folder / _FOLDER_FILE, limit=_MOST_BYTES))
        runs = tuple(Run(int(row), str(origin), int(first), int(many))
                     for row, origin, first, many in found["others"])
        return Mirrored(str(found["origin"]), int(found["row"]), str(found["sha256"]), runs)
    except (files.FileProblem, ValueError, TypeError, KeyError, RecursionError):
        return None


def _keep(folder: Path, mirrored: Mirrored) -> None:
    files.write_over(folder / _FOLDER_FILE, canonical_json({
        "origin": mirrored.origin, "row": mirrored.row, "sha256": mirrored.sha256,
        "others": [[r.row, r.origin, r.first, r.count] for r in mirrored.others]}) + "\n")
