"""A book rebuilt from its text mirror: every entry with its digest, each stream while it is whole.

If nothing is missing the book is the very one that was mirrored: its own name, each entry in its
row, open sessions go on. If something is missing, that book gave numbers that nobody knows now, so
the new one gets a name of its own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from benchapp.book.rebuild import make_anew
from benchapp.copies.mirrors import Mirrored, mirror_files, read_mirrored
from benchapp.events.entry import Entry, Moment, entry_digest
from benchapp.events.streams import is_said, told_of
from benchapp.reports import jsonl


@dataclass(frozen=True, slots=True)
class _Line:
    """Where an entry is: its file by its place in the list, and the byte its line begins at."""

    file: int
    at: int
    origin: str
    number: int


_LONG_AGO: Final = Moment(0, 0, 0, "", 0)


@dataclass(slots=True)
class Rebuilt:
    """What was found in a mirror.

    Attributes:
        entries: How many entries the book has.
        streams: How many streams.
        until: When the latest entry was written.
        whole: Whether nothing is missing, so that open sessions go on.
        left_out: What could not be taken, a sentence each.
    """

    entries: int = 0
    streams: int = 0
    until: Moment = _LONG_AGO
    whole: bool = True
    left_out: list[str] = field(default_factory=list)


class NoMirror(ValueError):  # noqa: N818 - what is told a printer
    """The folder mirrors no book; the message says why."""


def rebuild_from_mirror(folder: Path, into: Path) -> Rebuilt:
    """Make the book that `folder` mirrors anew, in the new file `into`.

    Raises:
        NoMirror: There is no stream in the folder.
        BookError: The new book cannot be written.
        OSError: The folder cannot be read.
    """
    paths = mirror_files(folder)
    told = Rebuilt()
    streams = {}
    for number, path in enumerate(paths):
        stream, lines = _whole(path, number, told)
        if not lines:
            continue
        if stream in streams:
            told.left_out.append(f"{path}: {stream} is in another file too. This one is left out")
            continue
        streams[stream] = lines
    for stream in [x for x in streams if is_said(x) and told_of(x) not in streams]:
        told.left_out.append(f"{stream} is about {told_of(stream)}, which is missing. "
                             "It is left out")
        del streams[stream]
    if not streams:
        raise NoMirror(f"{folder} has no text mirror of a book. "
                       "Name a folder with files like session/….jsonl")
    mirrored = read_mirrored(folder)
    origin = _origin(streams, mirrored)
    ordered = _by_row(streams, origin, mirrored) if origin is not None else None
    told.whole = ordered is not None
    if ordered is None:
        origin, ordered = None, _in_turn(streams)
    told.entries, told.streams = len(ordered), len(streams)
    make_anew(into, origin, _read(paths, ordered, told))
    return told


def _whole(path: Path, number: int, told: Rebuilt) -> tuple[str, list[_Line]]:
    """The lines of a file up to where its chain breaks; what is wrong is put into `told`."""
    found: list[_Line] = []
    stream, before, at, why = "", "", 0, ""
    with path.open("rb") as raw:
        while not why and (line := raw.readline(jsonl.LONGEST + 1)):
            try:
                (entry,) = jsonl.read_lines([line])
            except (jsonl.NotOurs, ValueError):
                why = "this is not an entry"
                break
            stream = stream or entry.stream
            why = _broken(entry, stream, len(found) + 1, before)
            if not why:
                origin, _, said = entry.id.rpartition(":")
                found.append(_Line(number, at, origin, int(said)))
                at, before = at + len(line), entry.sha256
    if why:
        told.left_out.append(f"{path}, line {len(found) + 1}: {why}. It is left out, with what "
                             "comes after it")
    return stream, found


def _broken(entry: Entry, stream: str, position: int, before: str) -> str:
    """Why a line is not what comes next; empty if it is."""
    if entry.stream != stream:
        return f"it is of {entry.stream}, not of {stream}"
    if entry.position != position:
        return f"it is entry {entry.position} of its stream, not {position}"
    number = entry.id.rpartition(":")[2]
    if not (number.isascii() and number.isdigit()):
        return "its id has no number"
    with suppress(ValueError):
        if entry_digest(before, entry) == entry.sha256:
            return ""
    return "it was changed since, or the entry before it was"


def _origin(streams: dict[str, list[_Line]], mirrored: Mirrored | None) -> str | None:
    """Whose book it was; None where that cannot be told."""
    if mirrored is not None:
        return mirrored.origin
    there = Counter(line.origin for lines in streams.values() for line in lines)
    return next(iter(there)) if len(there) == 1 else None


def _by_row(streams: dict[str, list[_Line]], origin: str,
            mirrored: Mirrored | None) -> list[_Line] | None:
    """All lines, each in the row it had; None if not every row has one."""
    runs = mirrored.others if mirrored is not None else ()
    others = {(run.origin, run.first + n): run.row + n for run in runs for n in range(run.count)}
    rows: dict[int, _Line] = {}
    for line in (line for lines in streams.values() for line in lines):
        row = line.number if line.origin == origin else others.get((line.origin, line.number), 0)
        if row < 1 or row in rows:
            return None
        rows[row] = line
    last = mirrored.row if mirrored is not None else 0
    if max(rows) != len(rows) or len(rows) < last:
        return None
    return [rows[row] for row in range(1, len(rows) + 1)]


def _in_turn(streams: dict[str, list[_Line]]) -> list[_Line]:
    """All lines: each book's in the order it wrote them, what books say of others' days last."""
    # A stream has one writer, whose numbers rise along it.
    turns = [(is_said(stream), line.origin, line.number, line)
             for stream, lines in streams.items() for line in lines]
    return [line for *_, line in sorted(turns, key=lambda turn: turn[:3])]


def _read(paths: list[Path], lines: list[_Line], told: Rebuilt) -> Iterator[Entry]:
    raw, number = None, -1
    try:
        for line in lines:
            if raw is None or line.file != number:
                if raw is not None:
                    raw.close()
                raw, number = paths[line.file].open("rb"), line.file
            raw.seek(line.at)
            (entry,) = jsonl.read_lines([raw.readline()])
            told.until = max(told.until, entry.at, key=lambda at: at.wall_ms)
            yield entry
    finally:
        if raw is not None:
            raw.close()
