"""Whole books, made up: days printed, sheets numbered, books apart and together again.

Everything goes through the two doors the screens and commands use: `SessionService` for the bench,
`EditionService` for numbers and boards. What is read anew from the book is what was kept while it
was written, and an edition adds up at every moment.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.drying import actions as b
from benchapp.edition import actions as a
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.figures import sheet_accounts
from benchapp.edition.numbers import taken_numbers
from benchapp.edition.state import Register
from benchapp.reports.documentation import About, documentation_sheet, sheet_page
from benchapp.reports.editions import edition_lines, edition_sheet
from benchapp.reports.json_form import json_values
from benchapp.service.editions import EditionService
from benchapp.service.sessions import SessionService
from benchapp.session import actions as s
from tests.edition.support import P
from tests.edition.test_histories import adds_up

DAY_MS = 86_400_000
SIZE = 5
RECIPE = """\
recipe: 1
print:
  {title: Slack Water, artist: Wren Halloran, key: slack water, edition: 5,
   proofs: {AP: 2, HC: {cap: 1, inside: true}}}
plates: [{name: key, metal: copper, size: 100 x 140 mm}]
each:
  - {do: Ink, hands: inky}
  - {do: Pull, hands: clean, pulls: key}
  - {do: Lift, hands: clean, asks: [verdict]}
drying:
  - {do: Change, after: 3 h}
"""
Move = tuple[Any, ...]
_WHO = st.integers(0, 9)
_N = st.integers(0, SIZE + 2)
#: What is done at the table, in one book or in two that are apart.
ON_PAPER: st.SearchStrategy[Move] = st.one_of(
    st.tuples(st.just("number"), _WHO, st.none() | _N),
    st.tuples(st.just("number"), _WHO, st.none()),
    st.tuples(st.just("proof"), _WHO, st.sampled_from(["AP", "HC", "BAT"])),
    st.tuples(st.just("sign"), _WHO),
    st.tuples(st.just("back"), _WHO),
    st.tuples(st.just("void"), _N),
    st.tuples(st.just("destroy"), _WHO),
    st.tuples(st.just("lower"), st.integers(1, SIZE)),
    st.tuples(st.just("out"), _WHO, st.sampled_from(["gallery", "given", "sold"])),
    st.tuples(st.just("correct"), _WHO, _N),
    st.tuples(st.just("boards"), st.sampled_from(["changed", "lift", "weigh", "down"])),
)
A_DAY: st.SearchStrategy[Move] = st.tuples(
    st.just("day"), st.lists(st.sampled_from(["keep", "doubtful", "spoiled"]), min_size=1,
                             max_size=2), st.booleans())
APART: st.SearchStrategy[Move] = st.tuples(
    st.just("apart"), st.lists(ON_PAPER, max_size=4),
    st.lists(ON_PAPER, max_size=4))
YEARS = st.lists(st.one_of(ON_PAPER, ON_PAPER, ON_PAPER, ON_PAPER, A_DAY, APART,
                           st.just(("cancel",))),
                 min_size=6, max_size=20)


class Life:
    """One book through the years."""

    def __init__(self) -> None:
        """Two days are printed in it."""
        self.clock = FakeClock()
        self.book = Book.in_memory()
        self.shop = SessionService(self.book, self.clock)
        self.corrected: set[str] = set()
        for _ in range(2):
            self.day(["keep", "keep"], True)

    @property
    def editions(self) -> EditionService:
        """As the screens have them: kept, and brought up to what was written since."""
        return self.shop.editions

    def day(self, verdicts: Sequence[str], judged: bool) -> None:
        """So many sheets, each judged, or none."""
        shop = self.shop
        assert shop.open_session("slack-water", RECIPE, len(verdicts)).ok
        for _ in range(60):
            session = shop.room.session
            if session is None or session.closed is not None:
                break
            self.clock.advance(4 * 60_000)
            assert shop.do(s.GoOn()).ok
        else:
            raise AssertionError("the day never closed")
        for n, verdict in enumerate(verdicts, 1):
            if judged:
                assert shop.do(s.Judge(verdict, n), session=session.id).ok
        shop.leave_bench()
        self.clock.advance(9 * DAY_MS)

    def live(self, move: Move) -> None:
        """One thing happens."""
        match move:
            case ("day", verdicts, judged):
                self.day(verdicts, judged)
            case ("apart", here, there):
                self.apart(here, there)
            case _:
                self.clock.advance(DAY_MS)
                said(self.editions, move, self.corrected)

    def apart(self, here: Sequence[Move], there: Sequence[Move]) -> None:
        """A copy goes away, both are written in, and it comes back."""
        other = Book.in_memory()
        other.merge(self.book.entries())
        away = EditionService(other, self.clock)
        for editions, moves in ((self.editions, here), (away, there)):
            for move in moves:
                self.clock.advance(60_000)
                said(editions, move, self.corrected)
        self.book.merge(other.entries())
        self.holds_apart(other)

    def holds_apart(self, other: Book) -> None:
        """Either book, having taken the other in, names the same clashes."""
        other.merge(self.book.entries())
        one, two = self.editions.register, EditionService(other, self.clock).register
        assert {c.key
                for c in unsettled_clashes(one, P)} == {c.key for c in unsettled_clashes(two, P)}
        assert one.edition(P).size == two.edition(P).size
        assert one.sheets == two.sheets
        assert self.editions.boards.stacks == EditionService(other, self.clock).boards.stacks


def said(editions: EditionService, move: Move, corrected: set[str]) -> None:
    """Do it if it can be done; what is signed stands as it stood."""
    if move[0] == "boards":
        on_boards(editions, move[1])
        return
    before = signed(editions.register)
    action = meant(editions, move)
    would = editions.would(action)
    done = editions.do(action)
    assert (would.refusal is None) == done.ok
    if isinstance(action, a.Correct) and done.ok:
        corrected.add(action.sheet)
    now = signed(editions.register)
    assert {x: c for x, c in now.items() if x in before and x not in corrected} == {
        x: c for x, c in before.items() if x not in corrected}


def on_boards(editions: EditionService, do: str) -> None:
    """Something is done to every stack that is up, or refused."""
    for stack in editions.boards.up:
        top = stack.sheets[0].sheet if stack.sheets else ""
        editions.on_boards({
            "changed": b.Changed(stack.id), "lift": b.Lift(stack.id, top),
            "weigh": b.Weigh(stack.id, top, 98_400), "down": b.TakeDown(stack.id)}[do])


def signed(register: Register) -> dict[str, object]:
    """What stands on the signed sheets."""
    return {h.sheet: None if h.bears is None else h.bears.claim
            for h in register.edition(P).holdings.values() if h.signed is not None}


def meant(editions: EditionService, move: Move) -> a.Action:
    """The action, about one of the sheets there are."""
    sheets = list(editions.register.sheets)
    who = sheets[move[1] % len(sheets)] if len(move) > 1 else ""
    match move:
        case ("number", _, n):
            return a.GiveNumbers(P, ((who, n),))
        case ("proof", _, kind):
            return a.GiveProof(P, who, kind)
        case ("sign", _):
            return a.Sign(P, (who,))
        case ("back", _):
            return a.TakeNumberBack(P, who)
        case ("void", n):
            return a.VoidNumber(P, n, "smudged")
        case ("destroy", _):
            return a.Destroy(P, who, "torn")
        case ("lower", n):
            return a.Lower(P, n, "worn")
        case ("out", _, place):
            return a.HandOut(P, who, place, words={"to": "Ms Auk"})
        case ("correct", _, n):
            label = a.SheetLabel("edition", n) if n else None
            return a.Correct(P, who, label, "as it is pencilled")
    return a.CancelPlate(P, "scored")


def holds(life: Life) -> None:
    """Read anew it is the same; no number twice that is not named; totals add up both ways."""
    kept, anew = life.editions, EditionService(life.book, life.clock)
    assert anew.register == kept.register
    assert anew.boards == kept.boards == life.shop.stacks()
    register = anew.register
    e = register.edition(P)
    assert sum(sheet_accounts(register, P).values()) == len(register.sheets)
    twice = {c for c, n in Counter(
        h.bears.claim for h in e.holdings.values() if h.bears and not h.destroyed).items()
        if n > 1 and c[0] in ("edition", "AP", "HC", "BAT") and (c[1] or c[0] == "BAT")}
    named = " ".join([*(c.key for c in unsettled_clashes(register, P)), *e.settled])
    assert all(f"twice {kind} {n or ''}:" in named for kind, n in twice)
    now = taken_numbers(e)
    assert not set(now.taken) & set(now.void)
    if not unsettled_clashes(register, P) and not life.corrected:
        adds_up(register)
    lines = edition_lines(register, P, title="Slack Water", artist="Wren Halloran")
    assert json_values(edition_sheet(register, P, title="", artist=""))["taken"] == list(now.taken)
    page = sheet_page(documentation_sheet(register, P, About("Slack Water", "Wren Halloran")))
    assert "Auk" not in "".join((*lines, page))


def lives(years: list[Move]) -> None:
    """All of it."""
    life = Life()
    for move in years:
        life.live(move)
        life.shop.stacks()  # as the calls do after every tread: only what is new is read
        assert life.editions.register.edition(P).size is not None
    holds(life)


@settings(max_examples=6)
@given(YEARS)
def test_a_book_of_years_reads_back_as_it_was_written(years: list[Move]) -> None:
    """Days, numbers, signatures, voids, merges: through the doors the screens use."""
    lives(years)


@pytest.mark.full
@settings(max_examples=1_000)
@given(YEARS)
def test_a_thousand_books_of_years(years: list[Move]) -> None:
    """The same, many more."""
    lives(years)
