"""The words of each entry, folded, in a table beside the entries: what a search looks through.

They are put there in the very transaction their entries are written in. Nothing rests on them:
a book from before gets them when it is opened to write, and whoever only reads such a book makes
them for the moment. What is taken back has none any more.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from typing import Any, Final, NamedTuple, TypeAlias, TypeVar

from benchapp.book.folding import fold_text
from benchapp.edition.holding import BEARS, WHOLE
from benchapp.edition.numbers import place_word
from benchapp.edition.state import NUMBERED
from benchapp.events import edition as p
from benchapp.events import impression as i
from benchapp.events import session as d
from benchapp.events.call import BenchClockStarted
from benchapp.events.edition import PrintEvent
from benchapp.events.entry import Entry, read_event
from benchapp.events.event import ActionTakenBack, BookEvent
from benchapp.events.field_types import given
from benchapp.events.kinds import KINDS
from benchapp.events.stack import (
    ChangeSkipped,
    SheetWeighed,
    StackBegun,
    StackEvent,
    StackWeighted,
)
from benchapp.events.streams import stream_family, told_of
from benchapp.events.timer import ClockStarted
from benchapp.session.edition_links import of_sheet

#: What is told changes with this: a book with another has its words made anew.
VERSION: Final = "2"

#: What only the printer is shown, and only when it is asked for.
PRIVATE: Final = "own words"
#: What stands on a sheet; its text is the claim alone, as `claim_text` spells it.
NUMBER: Final = "number"
#: Of these the last one of a sheet stands.
VERDICT: Final = "verdict"
FOR: Final = "for"
TAG: Final = "tag"
#: What sheets are pencilled with on their backs.
MARK: Final = "mark"
PULLED: Final = "pulled"

#: As the layout of a book has it; by the same name, which means this one where there are both.
_FOR_NOW: Final = """CREATE TABLE temp.words (
    day TEXT NOT NULL, sequence INTEGER NOT NULL, part TEXT NOT NULL, sheet TEXT NOT NULL,
    text TEXT NOT NULL, PRIMARY KEY (day, sequence, part)) WITHOUT ROWID, STRICT"""


class EntryText(NamedTuple):
    """One text of an entry.

    Attributes:
        day: What it belongs to: the stream of a session or a clock, `print/…` or `stack/…` without
            the book that wrote it.
        part: Where it stands there: `note`, `tag`, `number`, `where` …
        sheet: Which sheet of it: the ordinal of an impression, or the id of a sheet known from
            a paper; empty: the whole.
        text: As it is shown.
    """

    day: str
    part: str
    sheet: str
    text: str


def words_of(entry: Entry) -> Iterator[EntryText]:
    """Every text of an entry that a search looks through. Total."""
    yield from _words(entry.stream, entry.word, entry.event)


def text_of(event: BookEvent, part: str) -> str:
    """One text of an event as it is shown; empty: it has none of that part."""
    return next((x for where, x in _told(event) if where == part), "")


def _told(event: BookEvent) -> _Texts:
    tell = _TELLERS.get(type(event))
    return iter(()) if tell is None else tell(event)


def _words(stream: str, word: str, event: BookEvent) -> Iterator[EntryText]:
    if isinstance(event, d.StepFinished) and word != "skip":
        return  # a step that was skipped by rule is nobody's word
    day, sheet = _unit(stream, event)
    for part, text in _told(event):
        if text or part in (VERDICT, NUMBER):  # an empty one ends what was said before
            yield EntryText(day, part, sheet, text)


def claim_text(kind: str, number: int | None) -> str:
    """What stands on a sheet, as it is looked for: `12`, `AP 2`, `BAT`."""
    if kind == NUMBERED:
        return "" if number is None else str(number)
    return kind if number is None else f"{kind} {number}"


def index_entries(connection: sqlite3.Connection, entries: Iterable[tuple[Entry, int]]) -> None:
    """Put the words of entries, each with its sequence in this book, beside them.

    Raises:
        sqlite3.Error: They are not written.
    """
    for entry, sequence in entries:
        if isinstance(entry.event, ActionTakenBack):
            _drop(connection, entry.stream, entry.event.action)
        else:
            _put(connection, sequence, words_of(entry))


def is_indexed(connection: sqlite3.Connection) -> bool:
    """Whether the book has the words of all its entries."""
    row = connection.execute("SELECT value FROM meta WHERE key = 'words'").fetchone()
    return row is not None and row[0] == VERSION


def rebuild_index(connection: sqlite3.Connection) -> None:
    """Make the words of all entries anew where the book does not have them; all, or none.

    A disk that refuses it is no error: then they are made whenever they are looked through.
    """
    if is_indexed(connection):
        return
    with suppress(sqlite3.Error):
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("DELETE FROM words")
        _all(connection)
        connection.execute("INSERT INTO meta VALUES ('words', ?) "
                           "ON CONFLICT (key) DO UPDATE SET value = excluded.value", (VERSION,))
        connection.execute("COMMIT")
    if connection.in_transaction:
        connection.execute("ROLLBACK")


def make_for_now(connection: sqlite3.Connection) -> None:
    """Make them for this connection alone, in memory; the book is not touched.

    Raises:
        sqlite3.Error: The book cannot be read.
    """
    guarded = connection.execute("PRAGMA query_only").fetchone()[0]
    connection.execute("PRAGMA query_only = 0")  # it keeps from temporary tables too
    try:
        connection.execute("PRAGMA temp_store = MEMORY")
        connection.execute("DROP TABLE IF EXISTS temp.words")
        connection.execute(_FOR_NOW)
        _all(connection)
    finally:
        connection.execute(f"PRAGMA query_only = {guarded:d}")


def _all(connection: sqlite3.Connection) -> None:
    rows = connection.execute("SELECT sequence, stream, kind, word, body FROM entries "
                              "ORDER BY sequence")
    for sequence, stream, kind, word, text in rows:
        if (stream_family(stream), kind) not in _INDEXED:
            continue
        with suppress(ValueError):  # a damaged one: the rest is found all the same
            event = read_event(stream, kind, json.loads(text))
            if isinstance(event, ActionTakenBack):
                _drop(connection, stream, event.action)
            else:
                _put(connection, sequence, _words(stream, word, event))


def _put(connection: sqlite3.Connection, sequence: int, words: Iterable[EntryText]) -> None:
    rows = ((day, sequence, part, sheet, fold_text(text)) for day, part, sheet, text in words)
    connection.executemany("INSERT OR REPLACE INTO words VALUES (?, ?, ?, ?, ?)", rows)


def _drop(connection: sqlite3.Connection, stream: str, action: str) -> None:
    rows = connection.execute("SELECT sequence, kind, word, body FROM entries WHERE stream = ? "
                              "AND action = ?", (stream, action)).fetchall()
    for sequence, kind, word, text in rows:
        with suppress(ValueError):
            event = read_event(stream, kind, json.loads(text))
            for day in {w.day for w in _words(stream, word, event)}:
                connection.execute("DELETE FROM words WHERE day = ? AND sequence = ?",
                                   (day, sequence))


# -- what belongs to what ---------------------------------------------------------------------


def _unit(stream: str, event: BookEvent) -> tuple[str, str]:
    """The day and the sheet an entry is about."""
    match event:
        case StackEvent():
            whole, sheet = f"stack/{event.stack}", getattr(event, "sheet", None)
        case PrintEvent():
            whole, sheet = f"print/{event.print}", event.of_sheet
        case _:
            ordinal = getattr(event, "impression", None)
            return told_of(stream), "" if ordinal is None else str(ordinal)
    if sheet is None:
        return whole, ""
    pulled = of_sheet(sheet)
    return (whole, sheet) if pulled is None else (f"session/{pulled[0]}", str(pulled[1]))


# -- what is said -------------------------------------------------------------------------------

_Texts: TypeAlias = Iterator[tuple[str, str]]
_Teller: TypeAlias = Callable[[Any], _Texts]
E = TypeVar("E", bound=BookEvent)


def _row(of: type[E], tell: Callable[[E], _Texts]) -> tuple[type[BookEvent], _Teller]:
    return of, tell


def _one(of: type[E], part: str, said: Callable[[E], Iterable[object]],
         between: str = " ") -> tuple[type[BookEvent], _Teller]:
    """The row of an event with one text: what it says of these, joined."""
    def tell(event: E) -> _Texts:
        yield part, between.join(str(x) for x in said(event) if x is not None)
    return of, tell


def _read(told: i.ReadingRecorded) -> _Texts:
    unit, said = told.unit or "", f"{told.name}: {told.value}"
    yield ("setting" if told.impression is None else "reading",
           said if not unit or unit.startswith("grade") else f"{said} {unit}")


def _claimed(told: p.ProofGiven | p.SheetSigned | p.SheetRecalled) -> _Texts:
    if told.kind is not None:
        yield NUMBER, claim_text(told.kind, told.number)


def _proof(told: p.ProofGiven) -> _Texts:
    yield from _claimed(told)
    yield "passed", told.by or ""


def _declared(told: p.EditionDeclared) -> _Texts:
    size = "an open edition" if told.size is None else f"an edition of {told.size}"
    yield "edition", f"{told.title}, {told.artist}: {size}"
    yield "beside", f"{told.relation} of {told.sibling}" if told.relation else ""


def _recalled(told: p.SheetRecalled) -> _Texts:
    yield from _claimed(told)
    yield "paper", told.paper or ""
    yield "destroyed", told.destroyed or ""


def _corrected(told: p.SheetCorrected) -> _Texts:
    if BEARS in given(told.about, WHOLE):
        now = told.now
        yield NUMBER, "" if now is None else claim_text(now["kind"], now.get("number"))
    yield "corrected", told.why or ""


def _handed_out(told: p.SheetHandedOut) -> _Texts:
    yield _where(told.place, told.terms, told.day, told.due)
    yield "corrected", given(told.why, "")


def _placed(told: p.SheetPlaced) -> _Texts:
    yield _where(told.place, None, given(told.day, None), None)
    yield "corrected", given(told.why, "")


def _where(place: str, terms: str | None, day: str | None, due: str | None) -> tuple[str, str]:
    said = (place_word(place), terms, day and f"since {day}", due and f"due back {due}")
    return "where", ", ".join(x for x in said if x)


def _mass(part: str, mass: int | None, unit: str) -> _Texts:
    if mass is not None:
        yield part, f"{mass / 1000:g} {unit}"


_TELLERS: Final[Mapping[type[BookEvent], _Teller]] = dict((
    _one(i.NoteWritten, "note", lambda x: (x.text,)),
    _one(i.TagPutOn, TAG, lambda x: (x.tag,)),
    _one(i.TagTakenOff, TAG, lambda x: (x.tag,)),
    _one(i.ImpressionJudged, VERDICT, lambda x: (x.verdict,)),
    _one(i.SheetMarked, MARK, lambda x: (x.mark,)),
    _one(i.ImpressionPulled, PULLED, lambda x: (x.mark,)),
    _one(i.PurposeSaid, FOR, lambda x: (x.purpose, x.state)),
    _one(i.SettingChanged, "setting", lambda x: (x.name, x.value), ": "),
    _row(i.ReadingRecorded, _read),
    _one(i.PlateReworked, "plate", lambda x: (x.plate, x.state, x.what)),
    _one(d.LeftOffWritten, "left off", lambda x: (x.text,)),
    _one(BenchClockStarted, "timer", lambda x: (x.name,)),
    _one(d.HelperJoined, "helper", lambda x: (x.name,)),
    _one(d.MustAnswered, "answer", lambda x: (x.fact,)),
    _one(d.StepFinished, "skipped", lambda x: (x.why,)),
    _one(d.SkipSaid, "skipped", lambda x: (x.why,)),
    _one(ClockStarted, "timer", lambda x: (x.name,)),
    _row(p.EditionDeclared, _declared),
    _one(p.EditionLowered, "short", lambda x: (x.why,)),
    _one(p.BatReplaced, "replaced", lambda x: (x.why,)),
    _one(p.EditionCutShort, "short", lambda x: (x.why,)),
    _one(p.NumberGiven, NUMBER, lambda x: (x.number,)),
    _row(p.ProofGiven, _proof),
    _one(p.NumberTakenBack, NUMBER, lambda x: ()),
    _row(p.SheetSigned, _claimed),
    _one(p.NumberVoided, "void", lambda x: (x.number, x.why), ": "),
    _one(p.SheetDestroyed, "destroyed", lambda x: (x.why,)),
    _row(p.SheetRecalled, _recalled),
    _row(p.SheetCorrected, _corrected),
    _one(p.RecordedByMistake, "by mistake", lambda x: (x.what, x.why), ": "),
    _one(p.NumberNotVoid, "not void", lambda x: (x.number, x.why), ": "),
    _one(p.ClashSettled, "settled", lambda x: (x.why,)),
    _one(p.PlateHistoryTold, "plate", lambda x: (x.plate, x.state)),
    _one(p.PictureTied, "picture", lambda x: (x.name,)),
    _one(p.PictureUntied, "no picture", lambda x: (x.why,)),
    _one(p.PlateCancelled, "cancelled", lambda x: (x.how,)),
    _row(p.SheetHandedOut, _handed_out),
    _row(p.SheetCameBack,
         lambda x: iter((_where(x.place, None, x.day, None), ("corrected", "")))),
    _row(p.SheetPlaced, _placed),
    _one(p.ToldInPrivate, PRIVATE, lambda x: (f"{k}: {v}" for k, v in x.words.items()), "; "),
    _one(StackBegun, "stack", lambda x: (x.name,)),
    _one(ChangeSkipped, "skipped", lambda x: (x.why,)),
    _row(StackWeighted, lambda x: _mass("weight", x.grams, "kg")),
    _row(SheetWeighed, lambda x: _mass("weighing", x.mg, "g")),
))
#: By the names they are stored under: all that has words, or takes them away.
_INDEXED: Final = frozenset(
    name for name, kind in KINDS.items()
    if kind.event in _TELLERS or issubclass(kind.event, ActionTakenBack))
