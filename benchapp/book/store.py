"""The book as the rest of the program sees it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Final, Self

from benchapp.book import backup, placing, read
from benchapp.book.append import Fault, StreamEnds, no_fault, roll_back
from benchapp.book.beside import log_lies_there, lost_text, refuse_strange_log
from benchapp.book.checks import check_drafts
from benchapp.book.connection import has_file, inspect_file, make_file
from benchapp.book.database import Database, new_origin
from benchapp.book.errors import BookDamaged, BookDisk, NoBook, only_book_errors
from benchapp.book.keeping import FallbackWriter
from benchapp.book.lock import CLEAN, WriterLock
from benchapp.book.reader import BookReader, read_meta
from benchapp.book.reserve import Reserve
from benchapp.book.soundness import (
    FULL,
    LATER_S,
    QUICK,
    FullCheck,
    emptied_text,
    hold_sound,
    is_day_over,
    last_checked,
    write_checked,
)
from benchapp.book.spill import Spill, SpillPlace, places_of, stem_of
from benchapp.events.entry import Draft, Entry, Moment, canonical_json

if TYPE_CHECKING:
    from benchapp.book.merge import Merged

#: The heartbeat is written at most this often.
HEARTBEAT_MS: Final = 60_000


class Book(BookReader):
    """The studio's one file, open. Made by `open`, `reading` or `in_memory`; close it.

    One book is used from one thread.
    """

    def __init__(
        self, database: Database, keeper: FallbackWriter | None, chain: StreamEnds,
        lock: WriterLock | None
    ) -> None:
        super().__init__(database, keeper)
        self._chain = chain
        self._lock = lock
        self._beat: Moment | None = None
        self._watched: float | None = None
        self._check: FullCheck | None = None
        self._checked_in_full: Moment | None = None

    # -- opening and closing ------------------------------------------------

    @classmethod
    def open(
        cls,
        path: Path,
        *,
        write: bool,
        create: bool = False,
        state: Path | None = None,
        temp: Path | None = None,
        now: Moment | None = None,
        fault: Fault = no_fault,
    ) -> Book:
        """Open the book at `path`.

        Args:
            path: The file.
            write: Take it to write in; one program at a time can. Else it is only read,
                also while another writes.
            create: Make the book, and its folder, if there is none. Needs `write`.
            state: The printer's state folder, the second place for entries that the disk
                keeps out of the book.
            temp: The third place; None is the system's temporary folder.
            now: The clocks: if the book was not checked on this day, it is before it is written
                in. None: only after a writer that was cut off.
            fault: Called with the name of each point where the world may fail.

        Raises:
            NoBook: There is none, and `create` is false.
            BookDamaged: It is not sound, so it can only be read.
            BookError: One of the others: it cannot be used.
        """
        path = path.expanduser().absolute()
        if placing.is_waiting(path.resolve()):
            if not write:
                waits = placing.waiting_path(path.resolve())
                return cls(Database.reading(waits, fault), None, StreamEnds(""), None)
            cls._finish_restore(path.resolve(), state, temp)
        refuse_strange_log(path.resolve())
        whole = log_lies_there(path.resolve())
        there = has_file(path)
        blank = not there or inspect_file(path)
        if there and blank and Reserve(path.resolve(), fault).path.exists():
            raise BookDamaged(emptied_text(path))
        if blank and not (write and create):
            raise NoBook(
                f"There is no book at {path} yet. Open a first session to make it: "
                "benchapp run. Or name another book with --book."
            )
        if not write:
            return cls(Database.reading(path, fault, whole=whole), None, StreamEnds(""), None)
        path = path.resolve()
        return cls._opened(path, places_of(path, state, temp), now, fault, whole=whole)

    @classmethod
    def _finish_restore(cls, path: Path, state: Path | None, temp: Path | None) -> None:
        lock = WriterLock(path)
        try:
            # Another program may have finished it meanwhile.
            if placing.is_waiting(path):
                placing.finish_placing(path, state, temp)
        finally:
            lock.release()

    @classmethod
    def _opened(
        cls, path: Path, places: tuple[SpillPlace, ...], now: Moment | None, fault: Fault, *,
        whole: bool,
    ) -> Book:
        make_file(path)
        lock = WriterLock(path)
        try:
            cut_off = lock.left != CLEAN
            was_checked = hold_sound(path, lock, now)
            reserve = Reserve(path, fault)
            database = Database.writing(path, reserve, fault, whole=whole)
            lock.mark_open()
        except BaseException:
            lock.release()
            raise
        try:
            with only_book_errors(path):
                if was_checked and now is not None:
                    write_checked(database.connection, QUICK, now)
                book = cls._ready(database, reserve, places, lock, fault)
                book._checked_in_full = None if cut_off else last_checked(
                    database.connection, FULL)
        except BaseException:
            database.close(settle=True)
            lock.release()
            raise
        reserve.make()
        return book

    @classmethod
    def _ready(
        cls,
        database: Database,
        reserve: Reserve,
        places: tuple[SpillPlace, ...],
        lock: WriterLock | None,
        fault: Fault,
    ) -> Book:
        connection = database.connection
        origin = read_meta(connection, "origin") or ""
        chain = StreamEnds(origin, read.last_sequence(connection), read.stream_heads(connection))
        stem = stem_of(origin)
        spill = Spill(stem, database.path, places, fault)

        def stop_writing() -> None:
            database.stop_writing()
            if lock is not None:
                lock.mark_damaged()

        keeper = FallbackWriter(lambda: database.connection, database.reopen, stop_writing, reserve,
                                spill, fault)
        if database.notice:
            keeper.notices.append(database.notice)
        last = read.last_sequence(connection)
        if lock is not None and lock.written > last:
            keeper.notices.append(lost_text(database.path, lock.written - last))
            lock.mark_written(last)  # it has been told
        keeper.take_in(stem, places, chain)
        return cls(database, keeper, chain, lock)

    @classmethod
    def reading(cls, path: Path, because: str = "") -> Book:
        """The book at `path` to read in; an empty one, and nothing made, if there is none.

        Args:
            path: The file.
            because: Why a damaged book is only read; stands as its banner.

        Raises:
            BookError: There is a file, but it cannot be read as a book.
        """
        try:
            book = cls.open(path, write=False)
        except NoBook:
            return cls(Database.empty(path, no_fault), None, StreamEnds(""), None)
        book.only_read = because
        return book

    @classmethod
    def in_memory(cls, origin: str | None = None) -> Book:
        """A new book to write in that never touches a disk, for rehearsals and tests.

        Args:
            origin: The book's name; a new one if None.
        """
        path = Path(":memory:")
        database = Database.empty(path, no_fault, origin or new_origin())
        return cls._ready(database, Reserve(path, no_fault), (), None, no_fault)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Leave one file at rest and let the next writer in. Closing twice is allowed.

        Raises:
            BookDisk: Entries are left that no disk took: they are in `unsaved`.
            BookDamaged: The book was found damaged; it was left as it was then.
        """
        if self._database.closed:
            return
        sound = not self.damaged
        try:
            if self._check is not None:
                self._check.stop()
                self._look_at_check(None)
            sound = not self.damaged
            if self._lock is not None and self.retry():
                self.derive()
        finally:
            self._database.close(settle=self._lock is not None)
            if self._lock is not None:
                self._lock.release(clean=sound)
                self._lock = None
        if self.unsaved:
            raise BookDisk(self.banner)
        if self.damaged:
            raise BookDamaged(self._keeper.parting() if self._keeper else self.only_read)

    # -- whether it is sound --------------------------------------------------

    @property
    def damaged(self) -> bool:
        """Whether damage was found, so that nothing is written in the file."""
        return bool(self.only_read) or (self._keeper is not None and not self._keeper.trusted)

    def watch(self, later_s: float = LATER_S) -> None:
        """Have it checked in full beside the work, once a day: see `look_after`.

        Args:
            later_s: So many seconds after it was found due.
        """
        self._watched = later_s

    def look_after(self, now: Moment) -> None:
        """Begin the day's full check of a book that is watched, and see what came of it.

        The check has a thread and a connection of its own. If it finds damage, nothing more is
        written in the file.

        Args:
            now: The clocks.
        """
        if self._check is not None:
            if self._check.ended:
                self._look_at_check(now)
        elif (self._watched is not None and self._lock is not None and not self.damaged
              and is_day_over(self._checked_in_full, now) and self._database.has_log()):
            self._check = FullCheck(self._database.path, self._watched)

    def _look_at_check(self, now: Moment | None) -> None:
        problems = self._check.problems if self._check is not None else None
        self._check, self._checked_in_full = None, now
        if problems:
            self._writer().give_up(problems[0])
        elif problems is not None and now is not None:
            write_checked(self._database.connection, FULL, now)

    # -- writing ------------------------------------------------------------

    def append(self, drafts: Sequence[Draft], at: Moment, word: str) -> tuple[Entry, ...]:
        """Append the entries of one action, all or none; on disk when it returns.

        When the disk refuses, the entries are kept elsewhere and `notice` or, if there
        is no elsewhere, `banner` says so: what happened at the press is never turned away.

        Args:
            drafts: The entries, in order, over any streams.
            at: The clocks when it was decided.
            word: The action's word.

        Raises:
            Unwritable: An entry no book can hold; nothing was written.
            BookDisk: The book is open for reading only.
        """
        keeper = self._writer()
        entries = self._chain.numbered(check_drafts(drafts, at, word), at, word)
        if entries:
            keeper.keep(entries)
            self._chain.advance(entries)
            if self._lock is not None and not keeper.spill.pending:
                self._lock.mark_written(read.sequence_of(entries[-1]))
        return entries

    def retry(self) -> bool:
        """Try again to bring what waits into the book; True if nothing waits any more."""
        return self._writer().retry()

    def merge(self, entries: Iterable[Entry]) -> Merged:
        """Take in entries of another book by their ids: all that are new, or none.

        Args:
            entries: As that book wrote them, in its order; read once.

        Raises:
            Unfit: One does not fit; the book is as it was.
            BookError: They cannot be written.
        """
        # It reads recipes to know a stranger's entries; no other use of a book does.
        from benchapp.book import merge

        if not self._writer().flush():
            raise BookDisk(f"Entries are waiting to go into the book. {self.banner or self.notice}")
        with self._asking() as connection:
            told = merge.merge_entries(connection, self.origin, entries)
            self._follow(connection)
        return told

    def merge_whole(self, entries: Sequence[Entry], ends: Mapping[str, int]) -> Merged:
        """Take in entries of a damaged book: all that are new of each stream that is whole.

        Args:
            entries: Those that can be read, in its order.
            ends: The last position of its streams, as far as it is known.

        Raises:
            BookError: They cannot be written.
        """
        from benchapp.book import merge

        if not self._writer().flush():
            raise BookDisk(f"Entries are waiting to go into the book. {self.banner or self.notice}")
        with self._asking() as connection:
            told = merge.merge_whole(connection, self.origin, entries, ends)
            self._follow(connection)
        return told

    def _follow(self, connection: sqlite3.Connection) -> None:
        """Go on after entries that did not come through `append`."""
        self._chain.sequence = read.last_sequence(connection)
        self._chain.heads = read.stream_heads(connection)

    def derive(self) -> None:
        """Keep beside each stream what folding it came to; done at `close`.

        A disk that refuses it is no error: what is not kept is folded.
        """
        # It folds sessions; no other use of a book does.
        from benchapp.book import summaries as derived

        connection = self._database.connection
        with suppress(sqlite3.Error):
            derived.refresh_summaries(connection, self._chain.heads)
        roll_back(connection)

    def heartbeat(self, now: Moment, *, leaving: bool = False) -> bool:
        """Mark that the program is alive; written at most once a minute, never in the journal.

        Args:
            now: The clocks.
            leaving: Whether the program is left now: then it is written whenever the last was.

        Returns:
            Whether it was written. A disk that refuses it is no error: the next one follows.
        """
        if not self._writer().trusted:
            return False
        last = self._beat or self.last_heartbeat()
        if last is not None and not leaving and not _minute_over(last, now):
            return False
        connection = self._database.connection
        try:
            connection.execute(
                "INSERT INTO meta VALUES ('heartbeat', ?) "
                "ON CONFLICT (key) DO UPDATE SET value = excluded.value",
                (canonical_json(asdict(now)),),
            )
        except sqlite3.Error:
            roll_back(connection)
            return False
        self._beat = now
        return True

    def mind(self, text: str) -> None:
        """Have `notice` say this too: something about where the file is."""
        self._writer().notices.append(text)

    def backup(self, to: Path) -> None:
        """Write a copy of the book, in use or not, to the new file `to`.

        Raises:
            BookError: `to` exists or cannot be written, or the book is damaged.
        """
        if self._keeper is not None and not self.retry():
            raise BookDisk(
                "Entries are waiting to go into the book, so a copy would not have them. "
                f"{self.banner or self.notice}"
            )
        with self._asking() as connection:
            backup.copy_book(connection, to.expanduser().absolute())

    def _writer(self) -> FallbackWriter:
        if self.only_read:
            raise BookDamaged(self.only_read)
        if self._keeper is None:
            raise BookDisk(f"The book {self._database.path} is open for reading only.")
        if self._database.closed:
            raise ValueError(f"the book {self._database.path} is closed")
        return self._keeper


def _minute_over(last: Moment, now: Moment) -> bool:
    if last.boot_id != now.boot_id:
        return True
    return now.boot_ns - last.boot_ns >= HEARTBEAT_MS * 1_000_000
