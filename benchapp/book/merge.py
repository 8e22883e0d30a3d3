"""Taking in entries that another book, or an earlier one, wrote: each as it was, or none at all.

An entry keeps its id, its place in its stream and its digest; only the row it lies in is new.
So a stream can be added to where it goes on exactly, and never where two books wrote apart.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from benchapp.book import search_index as worded
from benchapp.book import validation as bodies
from benchapp.book.append import INSERT, roll_back
from benchapp.book.checks import check_drafts
from benchapp.book.errors import Unwritable
from benchapp.book.read import entry_row, last_sequence, sequence_of, stream_head
from benchapp.events.entry import Draft, Entry, entry_digest
from benchapp.events.session import SessionOpened
from benchapp.events.streams import is_said, stream_family, told_of
from benchapp.recipe.build import build_recipe
from benchapp.recipe.problems import RecipeError


class Unfit(ValueError):  # noqa: N818 - what is told a printer
    """An entry that cannot be taken in; nothing was. `place` counts from 1."""

    def __init__(self, place: int, why: str) -> None:
        super().__init__(f"entry {place}: {why}")
        self.place = place
        self.why = why


@dataclass(slots=True)
class Merged:
    """What taking in did.

    Attributes:
        added: Entries that are new in the book.
        known: Entries it had already.
        sessions: The streams of sessions that got entries, or are told of in some, in the order
            they came.
        left_out: The streams that are not whole, each with what is wrong.
    """

    added: int = 0
    known: int = 0
    sessions: list[str] = field(default_factory=list)
    left_out: dict[str, str] = field(default_factory=dict)


def merge_entries(
    connection: sqlite3.Connection, origin: str, entries: Iterable[Entry]
) -> Merged:
    """Write those of `entries` the book does not have: all of them, or none and an error.

    Args:
        connection: Of the book.
        origin: The book's own name.
        entries: In the order they were written; read once.

    Raises:
        Unfit: One of them does not fit; the book is as it was.
        sqlite3.Error: They are not written; the connection can go on.
    """
    told = Merged()
    try:
        connection.execute("BEGIN IMMEDIATE")
        for entry, sequence in _new(connection, origin, entries, told):
            connection.execute(INSERT, (*entry_row(entry)[:-1], sequence))
            worded.index_entries(connection, [(entry, sequence)])
        connection.execute("COMMIT")
    except BaseException:  # also what a torn file raises while it is read
        roll_back(connection)
        raise
    return told


def merge_whole(
    connection: sqlite3.Connection, origin: str, entries: Sequence[Entry], ends: Mapping[str, int]
) -> Merged:
    """Write those of `entries` the book does not have, of all streams that are whole.

    A stream with a gap, or with an entry that is not what was written, is left out to its end:
    what is missing may have taken back what is there.

    Args:
        connection: Of the book.
        origin: The book's own name.
        entries: What could be read of the other, in its order.
        ends: The last position of its streams, as far as it is known.

    Raises:
        sqlite3.Error: They are not written; the connection can go on.
    """
    last = {entry.stream: entry.position for entry in entries}
    left_out = {stream: "its end cannot be read"
                for stream, position in ends.items() if position > last.get(stream, 0)}
    while True:
        whole = [entry for entry in entries if entry.stream not in left_out]
        try:
            told = merge_entries(connection, origin, whole)
        except Unfit as wrong:
            left_out[whole[wrong.place - 1].stream] = wrong.why
            continue
        told.left_out = left_out
        return told


def _new(
    connection: sqlite3.Connection, origin: str, entries: Iterable[Entry], told: Merged
) -> Iterator[tuple[Entry, int]]:
    last = last_sequence(connection)
    heads: dict[str, tuple[int, str]] = {}
    for place, entry in enumerate(entries, 1):
        if _known(connection, entry, place):
            told.known += 1
            continue
        before = heads.get(entry.stream) or stream_head(connection, entry.stream)
        last += 1
        _fits(entry, before, origin, last, place)
        if is_said(entry.stream):
            _is_of_a_day(connection, heads, entry, place)
        heads[entry.stream] = (entry.position, entry.sha256)
        told.added += 1
        day = told_of(entry.stream)
        if stream_family(day) == "session" and day not in told.sessions:
            told.sessions.append(day)
        yield entry, last


def _known(connection: sqlite3.Connection, entry: Entry, place: int) -> bool:
    question = "SELECT sha256 FROM entries WHERE id = ?"
    row = connection.execute(question, (entry.id,)).fetchone()
    if row is None:
        return False
    if row[0] != entry.sha256:
        raise Unfit(place, f"the book has another {entry.id}: one of the two was changed")
    return True


def _fits(entry: Entry, before: tuple[int, str], origin: str, row: int, place: int) -> None:
    """Hold an entry against the end of its stream.

    Raises:
        Unfit: It is not what could come next, or no book could hold it.
    """
    position, sha256 = before
    if entry.position != position + 1:
        raise Unfit(place, _apart(entry, position))
    try:
        (draft,) = check_drafts([Draft(entry.stream, entry.kind, entry.body)], entry.at, entry.word)
    except Unwritable as wrong:
        raise Unfit(place, f"{wrong}; a later version may have written it") from None
    if entry_digest(sha256, entry) != entry.sha256:
        raise Unfit(place, "it was changed since, or the entry before it was")
    if (strange := bodies.find_wrong_field(entry)) is not None:
        raise Unfit(place, f"{strange}; no book of benchapp has this")
    if entry.id.rpartition(":")[0] == origin and sequence_of(entry) != row:
        raise Unfit(place, "this book itself wrote it and no longer has it; restore "
                           "a newer copy of the book instead: benchapp book restore FILE")
    if entry.kind == "opened":
        _readable(draft, place)


def _is_of_a_day(connection: sqlite3.Connection, heads: Mapping[str, tuple[int, str]],
                 entry: Entry, place: int) -> None:
    """What one book tells of another's session was written there, and the session is here."""
    day = told_of(entry.stream)
    if entry.id.rpartition(":")[0] != entry.stream.rpartition("@")[2]:
        raise Unfit(place, f"another book than this one writes {entry.stream}")
    if day not in heads and stream_head(connection, day)[0] == 0:
        raise Unfit(place, f"it is about {day}, which is missing in the book and before it")


def _apart(entry: Entry, position: int) -> str:
    if entry.position <= position:
        return (f"{entry.stream} was continued in this book and in that one; "
                "benchapp cannot join them")
    return f"the entries before it in {entry.stream} are missing"


def _readable(draft: Draft, place: int) -> None:
    """A session is worth nothing without the recipe it was opened on."""
    try:
        build_recipe(SessionOpened.from_entry(draft).recipe_text)
    except (RecipeError, TypeError, AttributeError):
        raise Unfit(place, "the recipe it was opened on cannot be read") from None
