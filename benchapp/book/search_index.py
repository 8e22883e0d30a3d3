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
from typing import Any, Final, NamedTuple

from benchapp.book.folding import fold_text
from benchapp.edition.holding import BEARS, WHOLE
from benchapp.edition.numbers import place_word
from benchapp.edition.state import NUMBERED
from benchapp.events.entry import Entry
from benchapp.events.streams import stream_family, told_of
from benchapp.session.edition_links import of_sheet

Body = Mapping[str, Any]

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
    yield from _words(entry.stream, entry.kind, entry.word, entry.body)


def text_of(stream: str, kind: str, body: Body, part: str) -> str:
    """One text of an entry as it is shown; empty: it has none of that part."""
    told = _KINDS.get((stream_family(stream), kind))
    return "" if told is None else next((x for where, x in told(body) if where == part), "")


def _words(stream: str, kind: str, word: str, body: Body) -> Iterator[EntryText]:
    told = _KINDS.get((stream_family(stream), kind))
    if told is None or (kind == "step finished" and word != "skip"):
        return  # a step that was skipped by rule is nobody's word
    day, sheet = _unit(stream, body)
    for part, text in told(body):
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
    for e, sequence in entries:
        if e.kind == "taken back":
            _drop(connection, e.stream, e.body["action"])
        else:
            _put(connection, sequence, words_of(e))


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
        if kind != "taken back" and (stream_family(stream), kind) not in _KINDS:
            continue
        with suppress(ValueError):  # a damaged one: the rest is found all the same
            body = json.loads(text)
            if kind == "taken back":
                _drop(connection, stream, body["action"])
            else:
                _put(connection, sequence, _words(stream, kind, word, body))


def _put(connection: sqlite3.Connection, sequence: int, words: Iterable[EntryText]) -> None:
    rows = ((day, sequence, part, sheet, fold_text(text)) for day, part, sheet, text in words)
    connection.executemany("INSERT OR REPLACE INTO words VALUES (?, ?, ?, ?, ?)", rows)


def _drop(connection: sqlite3.Connection, stream: str, action: str) -> None:
    rows = connection.execute("SELECT sequence, kind, word, body FROM entries WHERE stream = ? "
                              "AND action = ?", (stream, action)).fetchall()
    for sequence, kind, word, text in rows:
        with suppress(ValueError):
            for day in {w.day for w in _words(stream, kind, word, json.loads(text))}:
                connection.execute("DELETE FROM words WHERE day = ? AND sequence = ?",
                                   (day, sequence))


# -- what belongs to what ---------------------------------------------------------------------


def _unit(stream: str, body: Body) -> tuple[str, str]:
    """The day and the sheet an entry is about."""
    match stream_family(stream):
        case "session":
            ordinal = body.get("impression")
            return told_of(stream), "" if ordinal is None else str(ordinal)
        case "clock":
            return told_of(stream), ""
        case "stack":
            whole = f"stack/{body['stack']}"
        case _:
            whole = f"print/{body['print']}"
    sheet = body.get("sheet")
    if sheet is None:
        return whole, ""
    pulled = of_sheet(sheet)
    return (whole, sheet) if pulled is None else (f"session/{pulled[0]}", str(pulled[1]))


# -- what is said -------------------------------------------------------------------------------

_Texts = Iterator[tuple[str, str]]


def _one(part: str, *names: str, between: str = " ") -> Callable[[Body], _Texts]:
    """The fields of these names that say something, as one text."""
    def told(body: Body) -> _Texts:
        yield part, between.join(str(body[n]) for n in names if body.get(n) is not None)
    return told


def _read(body: Body) -> _Texts:
    unit = body.get("unit") or ""
    said = f"{body['name']}: {body['value']}"
    yield ("setting" if body.get("impression") is None else "reading",
           said if not unit or unit.startswith("grade") else f"{said} {unit}")


def _claimed(body: Body) -> _Texts:
    if body.get("kind") is not None:
        yield NUMBER, claim_text(body["kind"], body.get("number"))


def _proof(body: Body) -> _Texts:
    yield from _claimed(body)
    yield "passed", body.get("by") or ""


def _declared(body: Body) -> _Texts:
    size = "an open edition" if body.get("size") is None else f"an edition of {body['size']}"
    yield "edition", f"{body['title']}, {body['artist']}: {size}"
    yield "beside", f"{body['relation']} of {body['sibling']}" if body.get("relation") else ""


def _recalled(body: Body) -> _Texts:
    yield from _claimed(body)
    yield "paper", body.get("paper") or ""
    yield "destroyed", body.get("destroyed") or ""


def _corrected(body: Body) -> _Texts:
    now = body.get("now")
    if BEARS in body.get("about", WHOLE):
        yield NUMBER, "" if now is None else claim_text(now["kind"], now.get("number"))
    yield "corrected", body.get("why") or ""


def _place(body: Body) -> _Texts:
    days = (f"{word} {body[x]}" for x, word in (("day", "since"), ("due", "due back"))
            if body.get(x) is not None)
    said = (place_word(body["place"]), body.get("terms") or "", *days)
    yield "where", ", ".join(x for x in said if x)
    yield "corrected", body.get("why") or ""


def _own_words(body: Body) -> _Texts:
    yield PRIVATE, "; ".join(f"{k}: {v}" for k, v in body["words"].items())


def _mass(part: str, field: str, by: int, unit: str) -> Callable[[Body], _Texts]:
    def told(body: Body) -> _Texts:
        if (mass := body.get(field)) is not None:
            yield part, f"{mass / by:g} {unit}"
    return told


_KINDS: Final[Mapping[tuple[str, str], Callable[[Body], _Texts]]] = {
    ("session", "noted"): _one("note", "text"),
    ("session", "tagged"): _one(TAG, "tag"),
    ("session", "untagged"): _one(TAG, "tag"),
    ("session", "judged"): _one(VERDICT, "verdict"),
    ("session", "marked"): _one(MARK, "mark"),
    ("session", "pulled"): _one(PULLED, "mark"),
    ("session", "for said"): _one(FOR, "for", "state"),
    ("session", "setting changed"): _one("setting", "name", "value", between=": "),
    ("session", "read"): _read,
    ("session", "reworked"): _one("plate", "plate", "state", "what"),
    ("session", "left off"): _one("left off", "text"),
    ("session", "timed"): _one("timer", "name"),
    ("session", "helper joined"): _one("helper", "name"),
    ("session", "must answered"): _one("answer", "fact"),
    ("session", "step finished"): _one("skipped", "why"),
    ("session", "skip said"): _one("skipped", "why"),
    ("clock", "started"): _one("timer", "name"),
    ("print", "declared"): _declared,
    ("print", "lowered"): _one("short", "why"),
    ("print", "BAT replaced"): _one("replaced", "why"),
    ("print", "cut short"): _one("short", "why"),
    ("print", "number given"): lambda b: iter(((NUMBER, str(b.get("number"))),)),
    ("print", "proof given"): _proof,
    ("print", "number taken back"): lambda b: iter(((NUMBER, ""),)),
    ("print", "signed"): _claimed,
    ("print", "number voided"): _one("void", "number", "why", between=": "),
    ("print", "destroyed"): _one("destroyed", "why"),
    ("print", "recalled"): _recalled,
    ("print", "corrected"): _corrected,
    ("print", "recorded by mistake"): _one("by mistake", "what", "why", between=": "),
    ("print", "number not void"): _one("not void", "number", "why", between=": "),
    ("print", "clash settled"): _one("settled", "why"),
    ("print", "plate told"): _one("plate", "plate", "state"),
    ("print", "plate cancelled"): _one("cancelled", "how"),
    ("print", "handed out"): _place,
    ("print", "came back"): _place,
    ("print", "placed"): _place,
    ("print", "told in private"): _own_words,
    ("stack", "begun"): _one("stack", "name"),
    ("stack", "change skipped"): _one("skipped", "why"),
    ("stack", "weighted"): _mass("weight", "grams", 1000, "kg"),
    ("stack", "weighed"): _mass("weighing", "mg", 1000, "g"),
}
