"""The sessions of a book, kept while it is open: each time only what was written since is read."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from benchapp.book.read import SELECT, SessionRow, entry_of, last_sequence, sequence_of
from benchapp.book.schema import OPENING
from benchapp.events.entry import Entry
from benchapp.events.event import ActionTakenBack
from benchapp.events.streams import is_said, stream_family, told_of

_KINDS = ("opened", "closed", "taken back")
#: The word of the action that closes a session and puts it out of the lists.
_DISCARD = "discard"


@dataclass(slots=True)
class _Day:
    """What is known of one session."""

    opened: tuple[int, Entry] | None = None
    closing: set[object] = field(default_factory=set)
    discarding: set[object] = field(default_factory=set)
    last: int = 0
    said: int = 0

    def take(self, sequence: int, entry: Entry) -> None:
        """What says whether there is a session, and whether it is closed or discarded."""
        if entry.kind == "opened" and self.opened is None:
            self.opened = sequence, entry
        elif entry.kind == "closed":
            self.closing.add(entry.action)
            if entry.word == _DISCARD:
                self.discarding.add(entry.action)
        elif isinstance(entry.event, ActionTakenBack):
            self.closing.discard(entry.event.action)
            self.discarding.discard(entry.event.action)


class Listing:
    """The sessions of one open book, in the order they were opened."""

    def __init__(self) -> None:
        """Nothing is read yet."""
        self._days: dict[str, _Day] = {}
        self._seen = 0
        self._rows: list[SessionRow] = []

    def rows(self, connection: sqlite3.Connection, pending: Sequence[Entry]) -> list[SessionRow]:
        """Every session, discarded ones too; `pending` entries come after those of the file.

        Raises:
            sqlite3.Error: The file cannot be read.
            BookDamaged: An entry in it is not what was written.
        """
        seen = last_sequence(connection)
        if seen != self._seen:
            # Only what was read whole is kept: what fails is read again the next time.
            days = self._since(connection, seen) if self._seen else _all(connection)
            self._days, self._seen, self._rows = days, seen, _listed(days)
        if not pending:
            return list(self._rows)
        days = {name: _copied(day) for name, day in self._days.items()}
        _told(days, ((sequence_of(e), e.stream, e) for e in pending))
        return _listed(days)

    def _since(self, connection: sqlite3.Connection, seen: int) -> dict[str, _Day]:
        rows = connection.execute(
            f"{SELECT} WHERE sequence > ? AND sequence <= ?", (self._seen, seen)).fetchall()
        touched = {told_of(row[1]) for row in rows if stream_family(row[1]) == "session"}
        days = self._days | {x: _copied(self._days[x]) for x in touched if x in self._days}
        _told(days, ((row[13], row[1], entry_of(row) if row[5] in _KINDS else None)
                     for row in rows))
        return days


def _copied(day: _Day) -> _Day:
    return _Day(day.opened, set(day.closing), set(day.discarding), day.last, day.said)


def _told(days: dict[str, _Day], turns: Iterable[tuple[int, str, Entry | None]]) -> None:
    for sequence, stream, entry in turns:
        if stream_family(stream) != "session":
            continue
        day = days.setdefault(told_of(stream), _Day())
        if is_said(stream):
            day.said = max(day.said, sequence)
            continue
        day.last = max(day.last, sequence)
        if entry is not None:
            day.take(sequence, entry)


def _all(connection: sqlite3.Connection) -> dict[str, _Day]:
    """From the index on the openings, and the last entry of each stream."""
    days: dict[str, _Day] = {}
    rows = connection.execute(
        f"{SELECT} WHERE {OPENING} AND stream >= 'session/' AND stream < 'session0' "
        "ORDER BY stream, position")
    _told(days, ((row[13], row[1], entry_of(row)) for row in rows))
    lasts = connection.execute(
        """WITH RECURSIVE name(stream) AS (
            SELECT min(stream) FROM entries WHERE stream >= 'session/'
            UNION ALL
            SELECT (SELECT min(stream) FROM entries WHERE stream > name.stream)
            FROM name WHERE name.stream < 'session0'
        ) SELECT stream, (SELECT sequence FROM entries WHERE entries.stream = name.stream
            ORDER BY position DESC LIMIT 1)
        FROM name WHERE name.stream < 'session0'""")
    _told(days, ((sequence, stream, None) for stream, sequence in lasts))
    return days


def _listed(days: dict[str, _Day]) -> list[SessionRow]:
    found = [(day.opened[0], SessionRow(name, day.opened[1], bool(day.closing), day.last, day.said,
                                        bool(day.discarding)))
             for name, day in days.items() if day.opened is not None]
    return [row for _, row in sorted(found, key=lambda pair: pair[0])]
