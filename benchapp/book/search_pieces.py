"""The pieces of text a search looks through, straight from the table of folded words.

What was taken back, taken off again or judged otherwise since is not among them. Where several
books tell of one session, the later word stands, as it does in the fold.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from benchapp.book import numbered
from benchapp.book import search_index as worded
from benchapp.book.heads import HitHead, TextPiece
from benchapp.book.read import read_entries, streams_from
from benchapp.book.search_terms import WantedWord
from benchapp.edition.state import NUMBERED
from benchapp.events.edition import PrintEvent
from benchapp.events.entry import read_event
from benchapp.events.event import BookEvent
from benchapp.events.impression import ImpressionPulled
from benchapp.events.stack import StackEvent
from benchapp.events.streams import is_said, told_of
from benchapp.session.merge_order import order_entries

#: What an entry is asked for, of the rows found in a span of days. The text is asked first, which
#: leaves few rows for the rest: the other way round takes three times as long.
_FOUND: Final = """SELECT w.day, w.sheet, w.part, e.id, e.kind, e.stream, e.position, e.body
    FROM words w CROSS JOIN entries e ON e.sequence = w.sequence
    WHERE w.day BETWEEN ? AND ? AND """
_SAID: Final = (f"{_FOUND} instr(w.text, ?) > 0 AND w.part NOT IN ('{worded.VERDICT}', "
                f"'{worded.NUMBER}', '{worded.PULLED}') AND (w.part <> '{worded.PRIVATE}' OR ?)")
_JUDGED: Final = f"{_FOUND} w.part = '{worded.VERDICT}'"
_CLAIMED: Final = (f"{_FOUND} (w.text = ? OR ? AND instr(w.text, ?) = 1) "
                   f"AND w.part = '{worded.NUMBER}'")
_OF_DAY: Final = f"{_FOUND} w.part = ?"
_OF_SHEET: Final = f"{_FOUND} w.sheet = ? AND e.stream >= 'print/' AND e.stream < 'print0'"
#: There are no other verdicts: only a word that is part of one is looked for among them.
_VERDICTS: Final = ("keep", "doubtful", "spoiled")
_ANY: Final = "\U0010ffff"


@dataclass(frozen=True, slots=True)
class _Row:
    """A row of the table with its entry."""

    day: str
    sheet: str
    part: str
    id: str
    kind: str
    stream: str
    position: int
    event: BookEvent

    def piece(self, text: str | None = None) -> TextPiece:
        """Its text, with its place."""
        if text is None:
            text = worded.text_of(self.event, self.part)
        return TextPiece(self.day, self.sheet, self.stream, self.position, self.part, text,
                         _about(self.event))


def _about(event: BookEvent) -> str:
    """The stack or the print an event is about; empty: neither."""
    if isinstance(event, StackEvent):
        return event.stack
    return event.print if isinstance(event, PrintEvent) else ""


class Words:
    """The words of a book as it was when this was made."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        """Look up of which sessions other books tell."""
        self._connection = connection
        if not worded.is_indexed(connection):
            worded.make_for_now(connection)
        self._shared = {told_of(x) for x in streams_from(connection, "session/") if is_said(x)}
        self._turns: dict[str, dict[tuple[str, int], int]] = {}
        self._totals_of: dict[tuple[str, str], set[int]] = {}

    def days(self) -> list[str]:
        """Everything that has words, sorted: sessions, prints and stacks."""
        rows = self._connection.execute(
            """WITH RECURSIVE name(day) AS (
                SELECT min(day) FROM words UNION ALL
                SELECT (SELECT min(day) FROM words WHERE day > name.day)
                FROM name WHERE name.day IS NOT NULL
            ) SELECT day FROM name WHERE day IS NOT NULL""")
        return [day for (day,) in rows]

    def last_said(self, family: str, part: str) -> dict[str, BookEvent]:
        """Of each print, or stack, the last event that says this of it."""
        rows = self._rows(_OF_DAY, (f"{family}/", f"{family}/{_ANY}", part))
        return {row.day: row.event for row in rows}

    def holding(self, wanted: WantedWord, heads: Mapping[str, HitHead], *, alone: bool,
                private: bool) -> Iterator[TextPiece]:
        """Every piece of these days that holds a word.

        Args:
            wanted: What is looked for.
            heads: The days.
            alone: They lie far apart.
            private: The printer's own words about people are looked through too.
        """
        word, spans = wanted.text, _spans(heads, alone=alone)
        yield from (p for h in heads.values() for text, p in h.own if word in text)
        yield from self._by_mark(wanted, heads)
        tags: list[_Row] = []
        for row in self._in(spans, heads, _SAID, word, private):
            if row.part == worded.TAG:
                tags.append(row)
            elif row.part != worded.FOR or self._is_last(row):
                yield row.piece()
        yield from self._on(tags)
        yield from self._claimed(wanted, heads, spans)
        if any(word in verdict for verdict in _VERDICTS):
            yield from self._verdicts(word, heads, spans)

    def pulled(self, day: str) -> list[tuple[int, int, str]]:
        """(ordinal, number, mark) of each pull of a session that was not taken back."""
        events = (r.event for r in self._rows(_OF_DAY, (day, day, worded.PULLED)))
        return [(x.impression, x.number, x.mark) for x in events
                if isinstance(x, ImpressionPulled)]

    # -- one after the other -----------------------------------------------------------------

    def _rows(self, question: str, given: tuple[object, ...]) -> Iterator[_Row]:
        for row in self._connection.execute(question, given):
            day, sheet, part, id_, kind, stream, position, body = row
            event = read_event(stream, kind, json.loads(body))
            yield _Row(day, sheet, part, id_, kind, stream, position, event)

    def _in(self, spans: Iterable[tuple[str, str]], heads: Mapping[str, HitHead], question: str,
            *given: object) -> Iterator[_Row]:
        for span in spans:
            yield from (r for r in self._rows(question, (*span, *given)) if r.day in heads)

    def _on(self, rows: Iterable[_Row]) -> Iterator[TextPiece]:
        """The tags that are on a sheet: put on, and not taken off since."""
        last: dict[tuple[str, str, str], tuple[int, str, TextPiece]] = {}
        for row in rows:
            p = row.piece()
            key, turn = (p.day, p.sheet, p.text), self._turn(p)
            if key not in last or turn > last[key][0]:
                last[key] = turn, row.kind, p
        yield from (p for _, kind, p in last.values() if kind == "tagged")

    def _verdicts(self, word: str, heads: Mapping[str, HitHead],
                  spans: Iterable[tuple[str, str]]) -> Iterator[TextPiece]:
        """The verdict each sheet has: the last that was said."""
        last: dict[tuple[str, str], tuple[int, TextPiece]] = {}
        for row in self._in(spans, heads, _JUDGED):
            p = row.piece()
            key, turn = (p.day, p.sheet), self._turn(p)
            if key not in last or turn > last[key][0]:
                last[key] = turn, p
        yield from (p for _, p in last.values() if word in p.text)

    def _is_last(self, row: _Row) -> bool:
        """Whether nothing else was said later of what the pull was for."""
        turn = self._turn(row.piece())
        others = self._rows(_OF_DAY, (row.day, row.day, row.part))
        return all(self._turn(x.piece()) <= turn for x in others if x.sheet == row.sheet)

    def _turn(self, p: TextPiece) -> int:
        """When a word counts; where one book alone tells of a session, its place says it."""
        if p.day not in self._shared:
            return p.position
        if p.day not in self._turns:
            streams = [p.day, *streams_from(self._connection, f"{p.day}@")]
            told = order_entries(read_entries(self._connection, streams, 0))
            self._turns[p.day] = {(e.stream, e.position): n for n, e in enumerate(told)}
        return self._turns[p.day].get((p.stream, p.position), -1)

    # -- marks and numbers -------------------------------------------------------------------

    def _by_mark(self, wanted: WantedWord, heads: Mapping[str, HitHead]) -> Iterator[TextPiece]:
        """The sheets a mark such as `k7` may mean: letters of the session, number of the pull."""
        if wanted.mark is None:
            return
        for head in heads.values():
            if head.letters == wanted.mark[0]:
                for ordinal, number, mark in self.pulled(head.day):
                    if number == wanted.mark[1]:
                        yield TextPiece(head.day, str(ordinal), head.day, 0, worded.MARK, mark)

    def _claimed(self, wanted: WantedWord, heads: Mapping[str, HitHead],
                 spans: Iterable[tuple[str, str]]) -> Iterator[TextPiece]:
        """The sheets that bear a number or a kind of proof, as they bear it now."""
        if wanted.claim is None:
            return
        text = worded.claim_text(*wanted.claim).lower()
        seen = set()
        for row in self._in(spans, heads, _CLAIMED, text, wanted.claim[1] is None, f"{text} "):
            found = self._borne(row, wanted)
            if found is not None and (row.day, row.sheet, found) not in seen:
                seen.add((row.day, row.sheet, found))
                yield row.piece(found)

    def _borne(self, row: _Row, wanted: WantedWord) -> str | None:
        """What a sheet bears by this entry; None: no more, or of another total."""
        about = self._rows(_OF_SHEET, (row.day, row.day, row.sheet))
        if not numbered.is_latest_label(row.id, [(x.id, x.event) for x in about]):
            return None
        kind, number, of = numbered.claim_in(row.event)
        if kind is None:
            return None
        totals = {of} if of is not None else self._totals(_about(row.event), kind)
        if wanted.of is not None and wanted.of not in totals:
            return None
        said = worded.claim_text(kind, number)
        total = next(iter(totals)) if len(totals) == 1 else None
        return said if total is None or number is None else f"{said}/{total}"

    def _totals(self, print_: str, kind: str) -> set[int]:
        """How many there are to be of a kind, as it was declared."""
        if (print_, kind) not in self._totals_of:
            day = f"print/{print_}"
            told = [(x.id, x.event) for part in ("edition", "short")
                    for x in self._rows(_OF_DAY, (day, day, part))]
            self._totals_of[print_, kind] = numbered.declared_totals(
                told, None if kind == NUMBERED else kind)
        return self._totals_of[print_, kind]


def _spans(heads: Mapping[str, HitHead], *, alone: bool) -> list[tuple[str, str]]:
    """From where to where these days lie."""
    if alone:
        return [(x, x) for x in heads]
    return [(min(heads), max(heads))] if heads else []
