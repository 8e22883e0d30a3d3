"""Names and letters of sessions that other copies of this book have given.

A book restored from a backup does not have the sessions that were opened after it. It gives
neither their names nor the letters of their marks again, so that both can be brought together.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from benchapp.events.entry import Entry, canonical_json
from benchapp.events.session import SessionOpened

_KEY: Final = "taken elsewhere"


@dataclass(frozen=True, slots=True)
class TakenNames:
    """What is given out no more.

    Attributes:
        names: Of sessions, `2026-05-03b`.
        letters: Of sheet marks, `K`.
    """

    names: frozenset[str] = frozenset()
    letters: frozenset[str] = frozenset()

    def __or__(self, other: TakenNames) -> TakenNames:
        return TakenNames(self.names | other.names, self.letters | other.letters)


def taken_in(entries: Iterable[Entry]) -> TakenNames:
    """The names and letters these entries give; also letters a printer pencilled by themselves."""
    names, letters = set(), set()
    for entry in entries:
        event = entry.event
        if isinstance(event, SessionOpened):
            names.add(event.session)
            letters.add(event.letters)
        if isinstance(mark := getattr(event, "mark", None), str):
            letters.add("".join(sign for sign in mark.upper() if sign.isalpha()))
    return TakenNames(frozenset(names), frozenset(letters - {""}))


def read_taken_names(connection: sqlite3.Connection) -> TakenNames:
    """What the book behind `connection` has been told of other copies."""
    row = connection.execute("SELECT value FROM meta WHERE key = ?", (_KEY,)).fetchone()
    said = json.loads(row[0]) if row else {}
    return TakenNames(frozenset(said.get("names", ())), frozenset(said.get("letters", ())))


def write_taken(connection: sqlite3.Connection, taken: TakenNames) -> None:
    """Tell the book behind `connection` of other copies."""
    text = canonical_json({"names": sorted(taken.names), "letters": sorted(taken.letters)})
    connection.execute("INSERT OR REPLACE INTO meta VALUES (?, ?)", (_KEY, text))
