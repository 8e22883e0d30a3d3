"""Where entries go while the book cannot be written, so that none is lost.

One file a place, one line an action, forced to the disk. The places are tried in
order: beside the book, the state folder, the temporary folder; what none of them
takes stays in memory. The next start takes the lines into the book by their ids.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import secrets
import stat
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any, Final

from benchapp.book.append import Fault
from benchapp.book.read import sequence_of
from benchapp.events.entry import Entry, Moment, canonical_json

#: A spill file larger than this is none of ours: a long day is a hundredth of it.
_LARGEST_BYTES: Final = 64 * 1024 * 1024

_NO_LINK: Final = getattr(os, "O_NOFOLLOW", 0)

_ENDING: Final = ".jsonl"


@dataclass(frozen=True, slots=True)
class SpillPlace:
    """A folder that may take entries.

    Attributes:
        name: What it is called in messages and in tests.
        folder: The folder.
        tag: Tells this file of the book from its copies, which have the same origin and
            may share the folder.
    """

    name: str
    folder: Path
    tag: str = ""


def places_of(path: Path, state: Path | None, temp: Path | None) -> tuple[SpillPlace, ...]:
    """Where entries of the book at `path` may be kept, best first.

    Without `temp` the system's temporary folder is the last.
    Beside the book its name alone tells it from a copy, so that a folder that was moved or
    copied whole keeps what is in it.
    """
    # Looking for the system's own fails where every disk is full.
    with contextlib.suppress(FileNotFoundError):
        temp = temp or Path(tempfile.gettempdir())
    whole = _tag_of(str(path))
    found = [SpillPlace("beside", path.parent, _tag_of(path.name))]
    found += [SpillPlace(name, folder, whole)
              for name, folder in (("state", state), ("temp", temp)) if folder is not None]
    return tuple(found)


def _tag_of(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogateescape")).hexdigest()[:8]


@dataclass(slots=True)
class Spill:
    """The entries that are not in the book yet.

    Attributes:
        stem: What the files' names begin with; has the book's origin in it, as several
            books may share the state and the temporary folder.
        book: The book's file; named in each of them.
        places: Where to write, best first.
        pending: Every entry not in the book, in order.
        unsaved: Those of them that are on no disk at all.
        files: The files that hold the others.
    """

    stem: str
    book: Path
    places: tuple[SpillPlace, ...]
    fault: Fault
    pending: tuple[Entry, ...] = ()
    unsaved: tuple[Entry, ...] = ()
    files: list[Path] = field(default_factory=list)
    _own: dict[Path, Path] = field(default_factory=dict)

    def keep(self, entries: Sequence[Entry]) -> None:
        """Keep the entries of one action in the best place that takes them."""
        self.pending = (*self.pending, *entries)
        waiting = (*self.unsaved, *entries)
        self.unsaved = () if self._written(waiting) else waiting

    def clear(self) -> None:
        """Everything is in the book now; the files have done their work."""
        self.pending = self.unsaved = ()
        for path in self.files:
            # One that stays is recognised at the next start: all its ids are in the book.
            with contextlib.suppress(OSError):
                path.unlink(missing_ok=True)
        self.files = []
        self._own = {}

    def _written(self, entries: Sequence[Entry]) -> bool:
        line = _line(entries)
        for place in self.places:
            try:
                self.fault(f"spill {place.name}")
                self._write(place, line)
            except OSError:
                continue
            return True
        return False

    def _write(self, place: SpillPlace, line: bytes) -> None:
        path = self._own.get(place.folder)
        new = path is None
        if path is None:
            place.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            name = "-".join(filter(None, (self.stem, place.tag, secrets.token_hex(4))))
            path = place.folder / f"{name}{_ENDING}"
            line = _head(self.book) + line
        flags = os.O_WRONLY | os.O_APPEND | _NO_LINK | (os.O_CREAT | os.O_EXCL if new else 0)
        descriptor = os.open(path, flags, 0o600)
        try:
            _append(descriptor, line)
        except OSError:
            if new:
                path.unlink(missing_ok=True)
            raise
        finally:
            os.close(descriptor)
        if new:
            self._own[place.folder] = path
            self.files.append(path)


def _head(book: Path) -> bytes:
    """The first line of a file: whose entries follow."""
    return canonical_json({"book": os.fsencode(book).decode("utf-8", "replace")}).encode()


def _append(descriptor: int, line: bytes) -> None:
    """Add a whole line or nothing."""
    before = os.fstat(descriptor).st_size
    try:
        _write_all(descriptor, line)
        os.fsync(descriptor)
    except OSError:
        os.ftruncate(descriptor, before)
        raise


def _write_all(descriptor: int, line: bytes) -> None:
    # A disk that fills takes a part, and says that it is full when asked to take the rest.
    while line:
        line = line[os.write(descriptor, line):]


def _line(entries: Sequence[Entry]) -> bytes:
    plain = [{**asdict(entry), "body": dict(entry.body)} for entry in entries]
    # A line end on both sides: a torn line before this one must not swallow it.
    return f"\n{canonical_json(plain)}\n".encode()


@dataclass(frozen=True, slots=True)
class SpilledEntries:
    """What an earlier day left in one spill file.

    Attributes:
        path: The file.
        entries: Those that could be read, in the file's order.
        whole: False if a line is unreadable.
        book: The file of the book they were kept for; empty in files of older versions.
    """

    path: Path
    entries: tuple[Entry, ...]
    whole: bool
    book: str = ""

    @property
    def ids(self) -> set[str]:
        """The ids of its entries."""
        return {entry.id for entry in self.entries}


def find_spills(stem: str,
                places: Sequence[SpillPlace]) -> tuple[list[SpilledEntries], list[SpilledEntries]]:
    """The spill files of this book, wherever they are, and those of copies of it.

    A file kept for a book that is no longer at its place is this book's: it was moved here.
    Files of other people are passed by.
    """
    own: list[SpilledEntries] = []
    copies: list[SpilledEntries] = []
    for place in {place.folder: place for place in places}.values():
        for path, tag in _candidates(place.folder, stem):
            found = _read(path)
            mine = tag in ("", place.tag) or not (found.book and Path(found.book).exists())
            (own if mine else copies).append(found)
    return own, copies


def entries_left(
    origin: str, path: Path, state: Path | None, temp: Path | None = None
) -> list[Entry]:
    """The entries kept for the book at `path` that may not be in it yet, as far as readable."""
    found, _ = find_spills(stem_of(origin), places_of(path, state, temp))
    return sorted((entry for one in found for entry in one.entries), key=sequence_of)


def stem_of(origin: str) -> str:
    """What the names of the files begin with that hold entries of the book `origin`."""
    return f"benchapp-spill-{origin}"


def hand_over(stem: str, places: Sequence[SpillPlace], to: Sequence[SpillPlace]) -> None:
    """Let the book of the places `to` have the files of that of `places`: it was moved there.

    Raises:
        OSError: One cannot be renamed.
    """
    own, _ = find_spills(stem, places)
    tags = {place.folder: place.tag for place in to}
    for path in (one.path for one in own if one.path.parent in tags):
        last = path.name.rpartition("-")[2]
        path.rename(path.with_name("-".join((stem, tags[path.parent], last))))


def set_aside(path: Path) -> Path:
    """Rename a file that could not be taken in, so that it is kept and not tried again."""
    aside = path.with_name(path.name + ".aside")
    path.rename(aside)
    return aside


def _candidates(folder: Path, stem: str) -> Iterator[tuple[Path, str]]:
    """Our files in a folder, each with its tag; those of older versions have none."""
    try:
        names = sorted(path for path in folder.iterdir() if path.name.startswith(f"{stem}-"))
    except OSError:
        return
    for path in names:
        if path.suffix == _ENDING and _is_ours(path):
            tag, between, _ = path.name.removeprefix(f"{stem}-").rpartition("-")
            yield path, tag if between else ""


def _is_ours(path: Path) -> bool:
    """The temporary folder is everybody's: only our own plain files are read from it."""
    try:
        found = path.lstat()
    except OSError:
        return False
    mine = not hasattr(os, "getuid") or found.st_uid == os.getuid()
    return stat.S_ISREG(found.st_mode) and mine and found.st_size <= _LARGEST_BYTES


def _read(path: Path) -> SpilledEntries:
    try:
        lines = path.read_bytes().split(b"\n")
    except OSError:
        return SpilledEntries(path, (), whole=False)
    entries: list[Entry] = []
    whole, book = True, ""
    for line in filter(None, lines):
        try:
            plain = json.loads(line)
            if isinstance(plain, dict):
                book = str(plain["book"])
            else:
                entries.extend(_entry(one) for one in plain)
        except (ValueError, TypeError, KeyError):
            whole = False
    return SpilledEntries(path, tuple(entries), whole, book)


def _entry(plain: dict[str, Any]) -> Entry:
    return Entry(**{**plain, "at": Moment(**plain["at"])})
