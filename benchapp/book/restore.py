"""A backup put in a book's place, so that neither is lost and both can be brought together again.

What another copy wrote after the backup keeps its ids. If there is such a copy, the restored
book goes on under a new origin, as a book of its own: it never gives an id, a name or a letter
that a readable copy has given, and that copy can be merged into it.
"""

from __future__ import annotations

import os
import secrets
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Final

from benchapp.book import backup, verify
from benchapp.book.append import Fault, no_fault
from benchapp.book.beside import log_lies_there, missing_log, refuse_strange_log
from benchapp.book.beyond import entries_beyond
from benchapp.book.connection import connect, has_file, make_book_folder, sync_folder
from benchapp.book.copies import books_in, open_copy
from benchapp.book.database import new_origin
from benchapp.book.errors import (
    BookDamaged,
    BookDisk,
    BookError,
    NoBook,
    disk_error,
    only_book_errors,
)
from benchapp.book.keeping import missing_entries
from benchapp.book.lock import WriterLock
from benchapp.book.placing import (
    SIDES,
    finish_placing,
    free_aside,
    is_waiting,
    waiting_path,
    write_move,
)
from benchapp.book.read import last_sequence
from benchapp.book.reader import read_meta
from benchapp.book.session_index import Listing
from benchapp.book.spill import entries_left
from benchapp.book.taken import TakenNames, read_taken_names, taken_in, write_taken
from benchapp.events.entry import Entry

_NOTHING: Final[Mapping[Path, Iterable[Entry]]] = MappingProxyType({})


@dataclass(slots=True)
class Restore:
    """A backup that is ready to be put in a place; made by `prepare_restore`.

    Attributes:
        file: The backup.
        path: The place.
        entries: How many entries the backup holds.
        still_open: The sessions that were open when it was made, and would be another book's.
        old: Whether there is a book in the place.
        only_old: The entries that only the book in the place holds, in order.
        unread: How many entries of it could not be read, at least; -1: it could not be opened.
        origin: The origin the restored book goes on under; None: that of the backup.
        notice: What to know of the backup; or empty.
        further: Other copies that hold entries the backup does not, each with how many.
        mirrored: The entries that no readable copy holds, by where they were told of.
    """

    file: Path
    path: Path
    entries: int = 0
    still_open: list[str] = field(default_factory=list)
    old: bool = False
    only_old: list[Entry] = field(default_factory=list)
    unread: int = 0
    origin: str | None = None
    notice: str = ""
    further: dict[Path, int] = field(default_factory=dict)
    mirrored: dict[Path, list[Entry]] = field(default_factory=dict)
    _taken: TakenNames = field(default_factory=TakenNames)
    _was: str = ""
    _state: Path | None = None
    _temp: Path | None = None
    _source: sqlite3.Connection = field(init=False, repr=False)
    _fault: Fault = no_fault

    def put_in_place(self, stamp: str) -> Path | None:
        """Put the backup in its place, and the book there aside with its side files.

        Args:
            stamp: Belongs into the name of the book put aside, such as `2026-05-03-1820`.

        Returns:
            Where the old book is now; None: there was none.

        Raises:
            BookError: It cannot be done now. If the restored book waits already, the next one to
            open the book finishes it; else all is as it was.
        """
        new = waiting_path(self.path)
        part = new.with_name(f"{new.name}.part")
        aside = free_aside(self.path, stamp)
        moved = self.origin and self._was
        try:
            self._fault("copy")
            self._write(part, (aside, moved or ""))
            self._fault("wait")
            part.replace(new)
            sync_folder(new.parent)
        except OSError as error:
            raise disk_error(error, self.path, "writing the restored book") from error
        was = any(os.path.lexists(self.path.with_name(self.path.name + x)) for x in SIDES)
        old = finish_placing(self.path, self._state, self._temp, self._fault)
        return old if was else None

    def put_into(self, new: Path) -> None:
        """Write the restored book to the new file `new`; the place stays as it is.

        Raises:
            BookDisk: `new` exists already, or cannot be written.
        """
        new = new.expanduser().absolute()
        if os.path.lexists(new):
            raise BookDisk(f"{new} is there already, so nothing was written. Choose another name.")
        part = new.with_name(f"{new.name}.{secrets.token_hex(4)}.part")
        try:
            self._write(part, None)
            backup.publish_copy(part, new)
            sync_folder(new.parent)
        except OSError as error:
            raise disk_error(error, new, "writing the restored book") from error
        finally:
            with suppress(OSError):
                backup.remove_with_sides(part)

    def _write(self, part: Path, move: tuple[str, str] | None) -> None:
        """The whole restored book as a file: told of other copies, checked, on disk."""
        part.unlink(missing_ok=True)
        backup.copy_book(self._source, part)
        with only_book_errors(part), closing(connect(part, "mode=rw")) as connection:
            connection.execute("PRAGMA synchronous = EXTRA")
            connection.execute("BEGIN IMMEDIATE")
            if self.origin is not None:
                _rename(connection, self.origin)
            write_taken(connection, self._taken)
            if move is not None:
                write_move(connection, *move)
            connection.execute("COMMIT")
            if verify.find_problems(connection, full=False):
                raise BookDamaged(
                    "The restored book failed its check, so it was not put in place: the "
                    "disk may be failing. Restore to another disk with --into FILE."
                )


@contextmanager
def prepare_restore(
    path: Path,
    file: Path,
    *,
    state: Path | None = None,
    temp: Path | None = None,
    copies: Iterable[Path] = (),
    mirrors: Mapping[Path, Iterable[Entry]] = _NOTHING,
    keep: bool = False,
    fault: Fault = no_fault,
) -> Iterator[Restore]:
    """Make ready to restore the backup `file`: check it, take the lock, and see what is only here.

    A restore that was cut off before is finished first.

    Args:
        path: The place of the book.
        file: The backup.
        state: See `Book.open`.
        temp: The same.
        copies: Folders in which other copies of the book may lie.
        mirrors: Entries that are told of elsewhere, by where that is.
        keep: The book in the place stays there: see `Restore.put_into`.
        fault: Called with the name of each point where the world may fail.

    Raises:
        NoBook: There is no backup of that name.
        BookDamaged: The backup is not sound; the message has every problem.
        BookLocked: The book in the place is open.
        BookError: One of the others.
    """
    path = path.expanduser().absolute().resolve()
    file = file.expanduser().absolute()
    _must_be_another(file, path)
    try:
        make_book_folder(path.parent)
    except OSError as error:
        raise disk_error(error, path, "making the folder of the book") from error
    lock = WriterLock(path)
    try:
        _finish_what_waits(path, state, temp)
        refuse_strange_log(file)
        whole = log_lies_there(file)
        with only_book_errors(file), closing(open_copy(file)) as source:
            _must_be_sound(source, file)
            made = Restore(file, path, _state=state, _temp=temp, _fault=fault)
            made.notice = "" if whole else missing_log(file, source)
            made._source = source
            _look_round(made, copies, mirrors, keep=keep)
            yield made
    finally:
        lock.release()


def _must_be_another(file: Path, path: Path) -> None:
    if not has_file(file):
        raise NoBook(f"There is no backup at {file}. Give the name of the file.")
    if has_file(path) and file.samefile(path):
        raise BookDisk(
            f"{file} is the book itself. Give the name of a backup; if this file is one that was "
            "put there by hand, give it another name first."
        )


def _must_be_sound(source: sqlite3.Connection, file: Path) -> None:
    if problems := verify.find_problems(source):
        raise BookDamaged("\n".join((
            f"The backup {file} is not sound, so nothing was changed. Use another backup.",
            *problems)))


def _finish_what_waits(path: Path, state: Path | None, temp: Path | None) -> None:
    """Finish a restore that was cut off, and clear away what one left that never came so far."""
    if is_waiting(path):
        try:
            finish_placing(path, state, temp)
        except BookDamaged:
            # What waits is a copy; what it was to replace is in its place still, or aside.
            waiting_path(path).unlink(missing_ok=True)
    stem = f"{waiting_path(path).name}."
    with suppress(OSError):
        for left_over in [x for x in path.parent.iterdir() if x.name.startswith(stem)]:
            left_over.unlink()


def _look_round(made: Restore, copies: Iterable[Path],
                mirrors: Mapping[Path, Iterable[Entry]], *, keep: bool) -> None:
    """See what other copies and the mirrors hold, the book in the place above all."""
    source = made._source
    made.entries = last_sequence(source)
    made._was = read_meta(source, "origin") or ""
    made._taken = read_taken_names(source)
    beyond: list[Entry] = []
    made.old = has_file(made.path)
    if made.old:
        made.only_old, made.unread = _only_in(made.path, made)
    known = {e.id for e in made.only_old}
    waits = entries_left(made._was, made.path, made._state, made._temp)
    made.only_old += [e for e in missing_entries(source, waits) if e.id not in known]
    beyond += made.only_old
    for file in _copies(made, copies):
        more, _ = _only_in(file, made)
        if any(_is_by(entry, made._was) for entry in more):
            made.further[file] = len(more)
        beyond += more
    known = {entry.sha256 for entry in beyond}  # two may have one id
    for place, entries in mirrors.items():
        more, of_this_book = _missing_in(source, entries, made._was)
        beyond += more
        alone = [entry for entry in more if entry.sha256 not in known]
        if of_this_book and alone:
            made.mirrored[place] = alone
            known |= {entry.sha256 for entry in alone}
    made._taken |= taken_in(beyond)
    if any(_is_by(entry, made._was) for entry in beyond) or made.unread or (keep and made.old):
        made.origin = new_origin()
        rows = Listing().rows(source, ())
        # Sessions of another origin are another book's, and a book names its own alone apart.
        made._taken |= TakenNames(frozenset(row.name for row in rows))
        made.still_open = [row.name for row in rows
                           if not row.closed and row.id.endswith(f"@{made._was}")]


def _missing_in(
    source: sqlite3.Connection, entries: Iterable[Entry], origin: str
) -> tuple[list[Entry], bool]:
    """Those of `entries` the backup does not hold, and whether they are told of its book."""
    more, of_this_book = [], False
    for entry in entries:
        lacks = missing_entries(source, [entry])
        more += lacks
        of_this_book = of_this_book or not lacks or _is_by(entry, origin)
    return more, of_this_book


def _is_by(entry: Entry, origin: str) -> bool:
    """Whether the book of that origin wrote it."""
    return entry.id.rpartition(":")[0] == origin


def _only_in(file: Path, made: Restore) -> tuple[list[Entry], int]:
    """What a copy holds that the backup does not; -1 where it cannot be opened."""
    try:
        refuse_strange_log(file)
        with only_book_errors(file), closing(open_copy(file)) as copy:
            made._taken |= read_taken_names(copy)
            return entries_beyond(copy, made._source)
    except BookError:
        return [], -1


def _copies(made: Restore, folders: Iterable[Path]) -> list[Path]:
    """Other books that lie where copies of this one may lie."""
    return books_in({made.path.parent, made.file.parent, *folders},
                      (made.path, made.file.resolve()))


def _rename(connection: sqlite3.Connection, origin: str) -> None:
    """Give the copy an origin of its own; what keeps it from changing is put back at once."""
    name = "origin_never_changes"
    (trigger,) = connection.execute(
        "SELECT sql FROM sqlite_master WHERE type = 'trigger' AND name = ?", (name,)).fetchone()
    connection.execute(f"DROP TRIGGER {name}")
    connection.execute("UPDATE meta SET value = ? WHERE key = 'origin'", (origin,))
    connection.execute(trigger)
