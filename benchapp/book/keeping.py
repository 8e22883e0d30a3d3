"""Keeping what happened, whatever the disk does: the ladder down from the book.

First the book; once more; once more with the reserve let go of; then a spill file in
one place after another; at last memory, with a banner. A later action tries the book
again first, and takes all that waits with it.
"""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Callable, Iterable, Sequence
from typing import Final

from benchapp.book.append import Fault, StreamEnds, commit_entries
from benchapp.book.errors import code_of, is_damage, is_full, primary_code
from benchapp.book.read import sequence_of
from benchapp.book.reserve import Reserve
from benchapp.book.spill import Spill, SpilledEntries, SpillPlace, find_spills, set_aside
from benchapp.events.entry import Entry

#: While entries wait, each action asks the book again; this long at most, in milliseconds,
#: so that the bench does not stand still at every tread.
_SHORT_PATIENCE_MS: Final = 50

#: With a failing disk the book is asked at every action so many times, then ever more seldom,
#: down to one action in so many: each time all that waits is written again.
_PATIENT_TIMES: Final = 8
_MOST_PASSED_BY: Final = 16

#: On a full disk the log is kept this short, in pages. Every commit adds three or more to it, so
#: at its usual thousand it alone would eat the reserve within eighty actions (measured).
_SHORT_LOG: Final = 32

#: Short, as it stands over the work; the rest is told when the book is left.
_GO_ON: Final = (
    "The book is damaged: benchapp writes nothing more in it. Go on with your day: it is kept in "
    "another file. When you leave, benchapp says what to do."
)

_LET_GO: Final = (
    "The disk is full. benchapp has freed its reserve, which is enough for today. Free "
    "some space before the next session."
)

_BUSY: Final = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)


class FallbackWriter:
    """Puts entries into the book, or keeps them until that works.

    Attributes:
        trusted: False once the file was found damaged: it is not written any more.
        notices: What the printer should read, besides the banner.
    """

    def __init__(
        self,
        connection: Callable[[], sqlite3.Connection],
        reopen: Callable[[], bool],
        stop_writing: Callable[[], None],
        reserve: Reserve,
        spill: Spill,
        fault: Fault,
    ) -> None:
        """`reopen` opens the file anew and says whether it is found sound; `stop_writing` has it
        only read from then on."""
        self._connection = connection
        self._reopen = reopen
        self._stop_writing = stop_writing
        self._reserve = reserve
        self._fault = fault
        self._why = ""
        self._failures = 0
        self._passed_by = 0
        self.spill = spill
        self.trusted = True
        self.notices: list[str] = []

    @property
    def notice(self) -> str:
        """Where entries are being kept, and what else the disk has to say."""
        waiting = []
        if self.trusted and self.spill.files and self.spill.pending:
            places = ", ".join(map(str, self.spill.files))
            waiting = [
                f"The book cannot be written ({self._why}). What happens now is in {places}. It "
                "goes into the book when benchapp can write it, or at the next start."
            ]
        return "\n".join([*self.notices, *waiting])

    @property
    def banner(self) -> str:
        """Says that entries are on no disk, or the book damaged; stands while it is so."""
        lines = [] if self.trusted else [_GO_ON]
        if unsaved := self.spill.unsaved:
            what = f"{_count(unsaved)} {'is' if len(unsaved) == 1 else 'are'}"
            lines.insert(0, (
                f"Not on disk yet: {what} in memory only, because neither the book nor any other "
                f"folder can be written ({self._why}). Free some space before you leave benchapp."
            ))
        return "\n".join(lines)

    def parting(self) -> str:
        """What to do about a damaged book, when it is left."""
        files = f" What happened since is in {', '.join(map(str, self.spill.files))}." if (
            self.spill.files) else ""
        return (
            f"The book {self.spill.book} is damaged, so benchapp stopped writing in it.{files} "
            "First save what can be read: benchapp export --private --jsonl FILE. Then restore a "
            f"backup: benchapp book restore FILE. What is wrong: {self._why}"
        )

    def keep(self, entries: Sequence[Entry]) -> None:
        """Have `entries`, one action, on disk on return, or in memory with a banner."""
        if self._passed_by < min(self._failures - _PATIENT_TIMES, _MOST_PASSED_BY):
            self._passed_by += 1
        elif self.flush(entries):
            return
        if _LET_GO in self.notices:  # it was not enough
            self.notices.remove(_LET_GO)
        self.spill.keep(entries)

    def retry(self) -> bool:
        """Try all places again; True if nothing waits to go into the book any more."""
        if self.flush():
            return True
        if self.spill.unsaved:
            self.spill.keep(())
        return False

    def flush(self, entries: Sequence[Entry] = ()) -> bool:
        """Put all that waits, then `entries`, into the book; False if it takes nothing now."""
        pending = self.spill.pending
        if not self.trusted:
            return False
        if not (pending or entries):
            return True
        self._passed_by = 0
        try:
            self._climb(entries)
        except sqlite3.ProgrammingError:
            raise
        except sqlite3.Error as error:
            self._failures += 1
            self._why = _reason(error)
            if is_damage(error):
                self._distrust(error)
            return False
        self._failures = 0
        if pending:
            self.spill.clear()
        return True

    def _climb(self, entries: Sequence[Entry]) -> None:
        """The rungs above the spill.

        Raises:
            sqlite3.Error: None of them held.
        """
        if self.spill.pending:
            self._commit_waiting(entries)
            return
        try:
            commit_entries(self._connection(), entries, self._fault)
        except sqlite3.Error as error:
            # SQLite has waited for a busy file already; damage is not tried twice.
            if is_damage(error) or primary_code(error) in _BUSY:
                raise
            self._again(entries)

    def _again(self, entries: Sequence[Entry]) -> None:
        try:
            commit_entries(self._connection(), entries, self._fault)
        except sqlite3.Error as error:
            if not is_full(error):
                raise
            self._make_room()
            commit_entries(self._connection(), entries, self._fault)

    def _make_room(self) -> None:
        if self._reserve.release():
            self.notices.append(_LET_GO)
        connection = self._connection()
        # What the log holds goes into the file, and its room back to the disk.
        with contextlib.suppress(sqlite3.OperationalError):
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        connection.execute(f"PRAGMA wal_autocheckpoint = {_SHORT_LOG:d}")

    def _commit_waiting(self, entries: Sequence[Entry]) -> None:
        connection = self._connection()
        patience = connection.execute("PRAGMA busy_timeout").fetchone()[0]
        connection.execute(f"PRAGMA busy_timeout = {_SHORT_PATIENCE_MS:d}")
        try:
            # A commit that failed in its fsync may be in the file all the same.
            waiting = missing_entries(connection, self.spill.pending)
            commit_entries(connection, (*waiting, *entries), self._fault)
        finally:
            connection.execute(f"PRAGMA busy_timeout = {patience:d}")

    def _distrust(self, error: sqlite3.Error) -> None:
        if not self._reopen() or primary_code(error) == sqlite3.SQLITE_CONSTRAINT:
            self.give_up(self._why)

    def give_up(self, why: str) -> None:
        """The book was found damaged: it is not written any more.

        Args:
            why: What is wrong with it.
        """
        self._why = why
        self.trusted = False
        self._stop_writing()

    def take_in(self, stem: str, places: Sequence[SpillPlace], chain: StreamEnds) -> None:
        """Take what an earlier day spilled; what does not follow the book is set aside."""
        found, copies = find_spills(stem, places)
        self.notices += [_kept_for_a_copy(one) for one in copies]
        waiting, strays = sorted_out(self._connection(), found, chain)
        odd = [one for one in found if not one.whole or strays.intersection(one.ids)]
        self.spill.files = [one.path for one in found if one not in odd]
        self.spill.pending = waiting
        chain.advance(waiting)
        if not self.flush():
            return
        if not waiting:
            self.spill.clear()
        else:
            self.notices.append(
                f"{_count(waiting)} of an earlier day "
                f"{'is' if len(waiting) == 1 else 'are'} in the book now. "
                "benchapp could not write them that day."
            )
        # Only now: until then a file with a torn line may be the one place of its good lines.
        for one in odd:
            self._put_aside(one)

    def _put_aside(self, one: SpilledEntries) -> None:
        try:
            path = set_aside(one.path)
        except OSError:
            path = one.path
        self.notices.append(
            f"{path} holds entries that do not follow this book. Was an older copy put in its "
            "place? The file stays as it is."
        )


def _kept_for_a_copy(one: SpilledEntries) -> str:
    return (
        f"{one.path} holds {_count(one.entries)} of {one.book}, a copy of this book. Open that "
        "book once with --book, and they go into it."
    )


def _count(entries: Sequence[Entry]) -> str:
    return "1 entry" if len(entries) == 1 else f"{len(entries)} entries"


def missing_entries(connection: sqlite3.Connection, entries: Iterable[Entry]) -> list[Entry]:
    """Those of `entries` the file does not have yet, by id and digest."""
    return [entry for entry in entries if _digest_of(connection, entry.id) != entry.sha256]


def sorted_out(
    connection: sqlite3.Connection, found: Sequence[SpilledEntries], chain: StreamEnds
) -> tuple[tuple[Entry, ...], set[str]]:
    """What of `found` comes next in the book, in order, and the ids of what does not fit."""
    trial = StreamEnds(chain.origin, chain.sequence, dict(chain.heads))
    ordered = sorted((entry for one in found for entry in one.entries), key=sequence_of)
    waiting: dict[str, Entry] = {}
    strays: set[str] = set()
    for entry in ordered:
        known = waiting.get(entry.id)
        if known == entry or _digest_of(connection, entry.id) == entry.sha256:
            continue
        if known is None and trial.follows(entry):
            trial.advance([entry])
            waiting[entry.id] = entry
        else:
            strays.add(entry.id)
    return tuple(waiting.values()), strays


def _digest_of(connection: sqlite3.Connection, entry_id: str) -> str:
    question = "SELECT sha256 FROM entries WHERE id = ?"
    row = connection.execute(question, (entry_id,)).fetchone()
    return str(row[0]) if row else ""


def _reason(error: sqlite3.Error) -> str:
    if primary_code(error) == sqlite3.SQLITE_FULL:
        return "the disk is full"
    if is_full(error):  # a quota says so, and so does a disk that fails
        return "the disk is full, or refuses to be written"
    if primary_code(error) in _BUSY:
        return "another program holds it"
    if primary_code(error) == sqlite3.SQLITE_READONLY:
        return "it may not be written"
    return f"{error}, code {code_of(error)}"
