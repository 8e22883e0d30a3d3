"""Where the sheets of an edition are, place by place, and how many can still be sold. Pure.

Every sheet is in one group, so that the groups are all that was printed here, also for the
cancellation proof, or is known from old papers.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from benchapp.edition.figures import edition_figures, whereabouts_of
from benchapp.edition.holding import OUT, Holding
from benchapp.edition.numbers import session_day_words
from benchapp.edition.state import CANCELLATION, Edition, Register
from benchapp.edition.view import SheetRow, days_over, sheet_rows, signature_state

Place = Literal["signed", "unsigned", "unsure", "BAT", "cancellation proof", "void", "no number",
                "gallery", "sold", "given", "lost", "unknown", "destroyed"]
#: Of each group: what is said behind its count, and its heading over the sheets in it. The BAT and
#: the cancellation proof are kept, so they do not count among what can be sold.
PLACES: Final[dict[Place, tuple[str, str]]] = {
    "signed": ("signed in the studio", "in the studio, signed"),
    "unsigned": ("not signed", "in the studio, not signed"),
    "unsure": ("signature not known", "in the studio, signature not known"),
    "BAT": ("BAT", "in the studio, the BAT"),
    "cancellation proof": ("cancellation proof", "in the studio, the cancellation proof"),
    "void": ("void", "in the studio, its number void"),
    "no number": ("without a number", "in the studio, without a number"),
    "gallery": ("with a gallery", "with a gallery"),
    "sold": ("sold", "sold"),
    "given": ("given", "given"),
    "lost": ("lost", "lost"),
    "unknown": ("place not known", "place not known, from old papers"),
    "destroyed": ("destroyed", "destroyed"),
}


@dataclass(frozen=True, slots=True)
class PlaceGroup:
    """The sheets of one place.

    Attributes:
        place: Which; in the studio also what they are.
        count: How many there are.
        sheets: Those of which the register says something, in the order of their numbers.
        due: The first day, not yet past, that one of them is due back (ISO 8601); None: none is.
        late: How many are overdue.
        since: The first day that is past; None: none is overdue.
    """

    place: Place
    count: int
    sheets: tuple[SheetRow, ...]
    due: str | None = None
    late: int = 0
    since: str | None = None

    @property
    def heading(self) -> str:
        """What stands over its sheets."""
        return PLACES[self.place][1]

    @property
    def words(self) -> str:
        """`1 with a gallery (due 16 Dec 2026)`."""
        due = []
        if self.since is not None:
            due.append(f"{self.late} overdue since {session_day_words(self.since)}")
        if self.due is not None:
            first = sum(r.due is not None for r in self.sheets) - self.late > 1
            due.append(f"{'first due' if first else 'due'} {session_day_words(self.due)}")
        return f"{self.count} {PLACES[self.place][0]}" + (f" ({', '.join(due)})" if due else "")


def place_groups(register: Register, id: str, today: date, *,
                 private: bool = False) -> tuple[PlaceGroup, ...]:
    """The sheets of an edition by place; what can be sold comes first, and is there if none is.

    Args:
        register: All editions, with the sheets of the book.
        id: Which edition.
        today: The local date, for what is due back.
        private: With the printer's own words.
    """
    e = register.edition(id)
    found: dict[Place, list[SheetRow]] = {p: [] for p in PLACES}
    for row in sheet_rows(register, id, private=private):
        if row.sheet is not None:
            found[_place(e, e.holdings[row.sheet])].append(row)
    f = edition_figures(register, id)
    # Of the rest the register says nothing: they were pulled, and are not sorted yet.
    rest = f.printed + f.after + f.papers - sum(map(len, found.values()))
    return tuple(_group(e, place, sheets, rest if place == "no number" else 0, today)
                 for place, sheets in found.items()
                 if sheets or place == "signed" or (place == "no number" and rest))


def head_words(found: Iterable[PlaceGroup]) -> str:
    """`10 signed in the studio, 1 with a gallery (due 16 Dec 2026), 4 sold, 2 destroyed`."""
    return ", ".join(g.words for g in found)


def _place(e: Edition, h: Holding) -> Place:
    where = whereabouts_of(h)
    if where == "out":
        place = next(s.place for s in reversed(h.stays) if s.place in OUT)
        return "gallery" if place == "gallery" else "sold" if place == "sold" else "given"
    if where != "studio":
        return where
    kind = None if h.bears is None else h.bears.kind
    if kind == "BAT":
        return "BAT"
    if kind == CANCELLATION:
        return "cancellation proof"
    said = signature_state(e, h)
    if said == "void":
        return "void"
    if said in ("signed", "unknown"):
        return "signed" if said == "signed" else "unsure"
    return "no number" if kind is None else "unsigned"


def _group(e: Edition, place: Place, sheets: list[SheetRow], rest: int, today: date) -> PlaceGroup:
    days = [r.due for r in sheets if r.due is not None and place == "gallery"]
    over = [r.due for r in sheets if r.sheet is not None and r.due is not None
            and days_over(e.holdings[r.sheet], today)]
    return PlaceGroup(place, len(sheets) + rest, tuple(sheets),
                      min((d for d in days if d not in over), default=None), len(over),
                      min(over, default=None))
