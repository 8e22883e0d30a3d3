"""The questions that are asked of a book, open in whatever way."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar, Unpack

from benchapp.book import read, rows, verify
from benchapp.book.beyond import ends_of_streams, readable_entries
from benchapp.book.database import Database
from benchapp.book.errors import only_book_errors
from benchapp.book.keeping import FallbackWriter, missing_entries
from benchapp.book.salvage import AsWritten
from benchapp.book.search import Finder, Hit, Narrowed
from benchapp.book.session_index import Listing
from benchapp.book.taken import TakenNames, read_taken_names
from benchapp.events.entry import Entry, Moment
from benchapp.events.streams import told_of

if TYPE_CHECKING:
    from benchapp.book.summaries import Told

_T = TypeVar("_T")


class BookReader:
    """What a book answers; `Book` opens, writes and closes it."""

    def __init__(self, database: Database, keeper: FallbackWriter | None) -> None:
        """Answer from this file, and from what waits to go into it."""
        self._database = database
        self._keeper = keeper
        self._listing = Listing()
        #: Why a damaged book is only read; empty: it is not damaged, as far as is known.
        self.only_read = ""

    @property
    def origin(self) -> str:
        """The name of this book, made with it; empty where there is none."""
        with self._asking() as connection:
            return read_meta(connection, "origin") or ""

    @property
    def path(self) -> Path | None:
        """Where it is; None: in memory, with nothing beside it."""
        return None if str(self._database.path) == ":memory:" else self._database.path

    @property
    def notice(self) -> str:
        """What the printer should know about the file and how it is written; or empty."""
        return self._keeper.notice if self._keeper else self._database.notice

    @property
    def banner(self) -> str:
        """A warning that must stay in sight: entries are on no disk, or the book is damaged."""
        return self._keeper.banner if self._keeper else self.only_read

    @property
    def unsaved(self) -> tuple[Entry, ...]:
        """The entries that are on no disk."""
        return self._keeper.spill.unsaved if self._keeper else ()

    def stream(self, name: str) -> tuple[Entry, ...]:
        """The entries of the stream `name` in order; none if there is no such stream."""
        with self._asking() as connection:
            waiting = (entry for entry in self._pending if entry.stream == name)
            return (*read.read_stream(connection, name), *waiting)

    def head(self, name: str) -> tuple[int, str]:
        """Position and digest of the last entry of the stream `name`; (0, "") if it has none."""
        waiting = [(e.position, e.sha256) for e in self._pending if e.stream == name]
        with self._asking() as connection:
            return waiting[-1] if waiting else read.stream_head(connection, name)

    def ended_ms(self, name: str) -> int:
        """When the last entry of the stream `name` was written, wall milliseconds; 0: none was."""
        waiting = [e.at.wall_ms for e in self._pending if e.stream == name]
        with self._asking() as connection:
            return waiting[-1] if waiting else read.stream_end_ms(connection, name)

    def rows_of_others(self, since: int = 0) -> list[tuple[int, str, int, int]]:
        """The rows after `since` that entries of other books have; see `rows.of_others`."""
        with self._asking() as connection:
            return rows.of_others(connection, self.origin, since)

    def streams(self, family: str) -> list[str]:
        """The names of all streams of a family, sorted by name."""
        return self.streams_from(f"{family}/")

    def derived(self, start: str) -> dict[str, Told]:
        """What is known of the streams whose names begin with `start`, as far as it is kept."""
        from benchapp.book import summaries as derived

        with self._asking() as connection:
            return self._without_waiting(derived.known_summaries(connection, start))

    def sheets_known(self) -> dict[str, dict[str, Any]]:
        """What is known of the sheets of each session, by its stream, as far as it is kept."""
        from benchapp.book import summaries as derived

        with self._asking() as connection:
            return self._without_waiting(derived.known_sheets(connection))

    def streams_from(self, start: str) -> list[str]:
        """The names of all streams that begin with `start`, sorted."""
        with self._asking() as connection:
            waiting = {e.stream for e in self._pending if e.stream.startswith(start)}
            return sorted(waiting.union(read.streams_from(connection, start)))

    def streams_of(self, session: str) -> tuple[str, ...]:
        """The streams of a session, by its id: its own, and those in which other books tell of it.

        What a session is, is folded from all of them.
        """
        own = f"session/{session}"
        return own, *self.streams_from(f"{own}@")

    def entries(
        self, streams: Collection[str] | None = None, since: int | None = None
    ) -> tuple[Entry, ...]:
        """The entries of `streams` (None: of all) after the sequence `since`, in order."""
        after = since or 0
        with self._asking() as connection:
            waiting = (
                entry
                for entry in self._pending
                if read.sequence_of(entry) > after and (streams is None or entry.stream in streams)
            )
            return (*read.read_entries(connection, streams, after), *waiting)

    def entries_of_kinds(self, *kinds: str) -> tuple[Entry, ...]:
        """All entries of these kinds, in order."""
        with self._asking() as connection:
            return (*read.entries_of_kinds(connection, kinds),
                    *(e for e in self._pending if e.kind in kinds))

    def each(self, streams: Collection[str] | None = None) -> Iterator[Entry]:
        """The entries of `streams` (None: of all) in order, a few at a time."""
        with self._asking() as connection:
            yield from read.each_entry(connection, streams)
            yield from (e for e in self._pending if streams is None or e.stream in streams)

    def readable(self) -> tuple[list[Entry], int, dict[str, int]]:
        """Of a damaged book what can be read.

        Returns:
            The entries in order; how many cannot be read, at least; and the last position of
            each stream, as far as it is known.
        """
        with self._asking() as connection:
            return *readable_entries(connection), ends_of_streams(connection)

    def as_written(self, streams: Collection[str] | None = None) -> AsWritten:
        """The entries of `streams` (None: of all) in order, also of a damaged book.

        What waits to go into the file is not among them.
        """
        with self._asking() as connection:
            return AsWritten(self._database.path, connection, streams)

    def last_sequence(self) -> int:
        """The sequence of the last entry; 0 in an empty book."""
        with self._asking() as connection:
            return max([read.last_sequence(connection), *map(read.sequence_of, self._pending)])

    def sessions(self) -> list[read.SessionRow]:
        """The sessions in the order they were opened, without those that were discarded."""
        return [row for row in self.all_sessions() if not row.discarded]

    def all_sessions(self) -> list[read.SessionRow]:
        """Every session in the order they were opened: names and letters go by these."""
        with self._asking() as connection:
            return self._listing.rows(connection, self._pending)

    def search(self, words: str, **narrowed: Unpack[Narrowed]) -> list[Hit]:
        """Where all of `words` stand, the newest session first; see `Finder.find`."""
        with self._asking():
            return self.finder().find(words, **narrowed)

    def finder(self) -> Finder:
        """The book as it is now, ready to be searched at each key that is typed."""
        with self._asking() as connection:
            return Finder(connection, self._database.path)

    def last_heartbeat(self) -> Moment | None:
        """When the program was last known to be alive in this book."""
        with self._asking() as connection:
            text = read_meta(connection, "heartbeat")
            with suppress(ValueError, TypeError):  # nothing rests on it
                return Moment(**json.loads(text)) if text else None
            return None

    def without(self, entries: Sequence[Entry]) -> list[Entry]:
        """Those of `entries` that the book does not have."""
        with self._asking() as connection:
            return missing_entries(connection, entries)

    def taken_elsewhere(self) -> TakenNames:
        """Names and letters of sessions that other copies of this book have given."""
        with self._asking() as connection:
            return read_taken_names(connection)

    def verify(self, *, full: bool = True) -> list[str]:
        """What is wrong with the book, a sentence each; none if all is well.

        Args:
            full: Hold every entry against what was written too; takes longer.
        """
        with self._asking() as connection:
            return verify.find_problems(connection, full=full)

    def _without_waiting(self, known: dict[str, _T]) -> dict[str, _T]:
        """What is known of the streams that nothing waits for: the others go on."""
        waiting = {told_of(e.stream) for e in self._pending}
        return {stream: told for stream, told in known.items() if stream not in waiting}

    @property
    def _pending(self) -> tuple[Entry, ...]:
        return self._keeper.spill.pending if self._keeper else ()

    @contextmanager
    def _asking(self) -> Iterator[sqlite3.Connection]:
        with only_book_errors(self._database.path):
            yield self._database.connection


def read_meta(connection: sqlite3.Connection, key: str) -> str | None:
    row = connection.execute("SELECT value FROM meta WHERE key = ?", (key,)).fetchone()
    return str(row[0]) if row else None
