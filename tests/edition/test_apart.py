"""Two books that wrote about one print while apart: together they say the same in either order.

Nothing either book said is lost or chosen in silence: what both cannot be true of is named.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.edition import actions as a
from benchapp.edition.conflicts.conflict import Clash
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.decide import replay_register
from benchapp.edition.figures import sheet_accounts
from benchapp.edition.holding import BEARS, DESTROYED, SIGNED, WHOLE, Holding, SheetLabel
from benchapp.edition.numbers import taken_numbers
from benchapp.edition.state import Register
from benchapp.edition.view import EditionView, edition_view
from tests.edition.model import NAMES, SHEETS, SIZE, correction
from tests.edition.support import P, Studio, texts
from tests.edition.test_histories import AT_THE_TABLE, begun, borne

_WHO = st.sampled_from(NAMES)
_PENCIL = st.none() | st.builds(
    SheetLabel, st.just("edition"), st.integers(1, SIZE + 2),
    st.none() | st.integers(SIZE, SIZE + 1))
#: All that two books do of an edition while apart.
APART: st.SearchStrategy[a.Action] = st.one_of(
    AT_THE_TABLE, AT_THE_TABLE,
    st.builds(lambda s, b, signed, gone: a.Correct(P, s, b, "looked", signed, gone),
              _WHO, st.just(a.AS_IT_IS) | _PENCIL, st.none() | st.booleans(),
              st.none() | st.booleans()),
    st.builds(lambda n: a.UnvoidNumber(P, n, "smeared, not smudged"), st.integers(1, SIZE)),
    st.just(a.ByMistake(P, "plate cancelled", None, "another plate")),
    st.builds(lambda s, p, day: a.CorrectPlace(
        P, s, {"place": p} if day is None else {"day": day}, "never there"),
        _WHO, st.sampled_from(["drawer", "sold", "given", "lost"]),
        st.sampled_from([None, "2026-05-03"])),
    st.builds(lambda s, p: a.HandOut(P, s, p), _WHO, st.sampled_from(["gallery", "given", "sold"])),
    st.builds(lambda s: a.TakeIn(P, s), _WHO),
    st.builds(lambda s, p: a.Put(P, s, p), _WHO, st.sampled_from(["drawer", "lost"])),
    st.builds(lambda s: a.NameStandard(P, s), st.none() | _WHO),
    st.builds(lambda s, n: a.TellPlate(P, "key", s, n),
              st.sampled_from(["steel-faced", "re-ground"]), st.none() | st.integers(0, 2)),
)
_SOME = st.lists(APART, max_size=12)


def together(home: Studio, away: Studio, known: int) -> tuple[Register, Register]:
    """Both books' entries, in either order; the first `known` are of both."""
    ours, theirs = home.entries[known:], away.entries[known:]
    one, two = (replay_register(x, "home", home.register.sheets) for x in (
        [*home.entries, *theirs], [*away.entries, *ours]))
    return one, two


def parted(first: list[a.Action], here: list[a.Action],
           there: list[a.Action]) -> tuple[Studio, Studio, Studio]:
    """The book before they parted, and each as it became; what is refused is left out."""
    before = begun()
    for move in first:
        before.try_(move)
    home = Studio(*SHEETS, book=before.entries)
    home.written = before.written
    away = Studio(*SHEETS, origin="away", book=before.entries)
    for studio, moves in ((home, here), (away, there)):
        for move in moves:
            studio.clock.advance(60_000)
            studio.try_(move)
    return before, home, away


@given(_SOME, _SOME, _SOME)
def test_two_books_that_numbered_apart_come_together_with_every_clash_named(first, here, there):
    """In either order: the same clashes, no claim lost, and nothing chosen in silence."""
    before, home, away = parted(first, here, there)
    known = len(before.entries)
    one, two = together(home, away, known)
    lowered = {s.e.size for s in (home, away)
               if any(e.kind == "lowered" for e in s.entries[known:])}
    assert named(one) == named(two)
    assert shown(one) == shown(two)
    assert {one.edition(P).size, *one.edition(P).sizes} == (lowered or {home.e.size})
    adds_up_apart(one)
    for sheet in NAMES:
        nothing_lost(one, sheet, before, home, away, known)
    every_number_named(one, home, away)


def named(register: Register) -> set[tuple[str, tuple[int, ...], tuple[str, ...], tuple[int, ...]]]:
    """The clashes of a register, without their wording."""
    return {(c.key, tuple(sorted(c.numbers)), tuple(sorted(c.sheets)), c.sizes)
            for c in unsettled_clashes(register, P)}


def shown(register: Register) -> EditionView:
    """All an edition's page shows, in an order that does not hang on the book's."""
    view = edition_view(register, P)
    rows = sorted((replace(r, clashes=tuple(sorted(r.clashes))) for r in view.rows),
                  key=lambda r: (r.who, r.number or 0))
    return replace(view, rows=tuple(rows), short=tuple(sorted(view.short)),
                   plates=tuple(sorted(view.plates, key=lambda p: p.name)),
                   clashes=tuple(replace(c, numbers=tuple(sorted(c.numbers)),
                                         sheets=tuple(sorted(c.sheets)))
                                 for c in sorted(view.clashes, key=lambda c: c.key)))


def adds_up_apart(register: Register) -> None:
    """Whatever came together, each number is in one list and each sheet under one heading."""
    now = taken_numbers(register.edition(P))
    assert not set(now.taken) & set(now.void)
    assert sum(sheet_accounts(register, P).values()) == len(SHEETS)


def about(studio: Studio, sheet: str, known: int, what: str) -> bool:
    """Whether a book told this of a sheet since they parted."""
    return any(e.body.get("sheet") == sheet and what in e.body.get("about", WHOLE)
               and e.kind not in ("handed out", "came back", "placed", "standard named",
                                  "number voided", "picture tied",
                                  "picture untied") for e in studio.entries[known:])


#: What is told of a sheet, and how it is read off.
TOLD: tuple[tuple[str, Callable[[Holding], object]], ...] = (
    (BEARS, lambda h: (h.bears, h.also)),
    (SIGNED, lambda h: (h.signed, SIGNED in h.doubts)),
    (DESTROYED, lambda h: (h.destroyed, DESTROYED in h.doubts)))


def held(register: Register, sheet: str) -> Holding:
    """The sheet in a register; one nothing was said of bears nothing."""
    return register.edition(P).holdings.get(sheet) or Holding(sheet, "", "")


def nothing_lost(register: Register, sheet: str, before: Studio, home: Studio, away: Studio,
                 known: int) -> None:
    """What one book alone told of a sheet stands; of what both told, all does or a clash is named.

    Told by the ends alone: what each book says of the sheet at last, and what it said before.
    """
    both = held(register, sheet)
    was, ours, theirs = (held(s.register, sheet) for s in (before, home, away))
    of = [c for c in unsettled_clashes(register, P) if sheet in c.sheets]
    for what, read in TOLD:
        told = [end for studio, end in ((home, ours), (away, theirs))
                if about(studio, sheet, known, what)]
        if len(told) < 2:
            (now,) = told or (was,)
            assert read(both) == read(now)
            continue
        for end, other in ((ours, theirs), (theirs, ours)):
            if what == BEARS:
                both_bear(both, end, other, was, of)
            elif what == SIGNED:
                assert both.signed is not None or end.signed is None
                if end.signed and not other.signed and was.signed:
                    assert any(c.key.startswith("signed or not") for c in of)
            else:
                assert both.destroyed is not None or end.destroyed is None
                if end.destroyed and not other.destroyed and was.destroyed:
                    assert any(c.key.startswith("destroyed or not") for c in of)


def both_bear(both: Holding, end: Holding, other: Holding, was: Holding,
              of: list[Clash]) -> None:
    """What either book says stands on a sheet is said of it, and named where they differ."""
    claims = {b.claim for b in both.claims}
    assert {b.claim for b in end.claims} <= claims
    if end.bears is None and other.bears is not None and (
            was.bears is not None and other.bears.claim == was.bears.claim):
        assert any(c.key.startswith("sheet ") for c in of)  # taken off here, kept there
    if len(claims) > 1:
        assert any(c.key.startswith("sheet ") for c in of)


def every_number_named(register: Register, home: Studio, away: Studio) -> None:
    """A number that stands on one sheet here and on another there is named on every list."""
    for n in range(1, SIZE + 3):
        claim = ("edition", n)
        on = {s for s in NAMES for b in (borne(home.register), borne(away.register))
              if b.get(s) == claim and claim in {c.claim for c in held(register, s).claims}
              and held(register, s).destroyed is None}  # what was destroyed may have given way
        if len(on) > 1:
            assert any(n in c.numbers for c in unsettled_clashes(register, P)) or any(
                k.startswith(f"twice edition {n}:") for k in register.edition(P).settled)


# -- every pair of short histories of one sheet --------------------------------------------

ONE_SHEET: tuple[a.Action, ...] = (
    a.GiveNumbers(P, (("K1", 1),)), a.GiveNumbers(P, (("K1", 2),)), a.GiveProof(P, "K1", "AP"),
    a.GiveProof(P, "K1", "BAT", by="the artist"), a.TakeNumberBack(P, "K1"), a.Sign(P, ("K1",)),
    a.Destroy(P, "K1", "x"), a.VoidNumber(P, 1, "x"), a.GiveNumbers(P, (("K2", 1),)),
    correction("K1", 2), a.Correct(P, "K1", None, "looked"),
    a.Correct(P, "K1", SheetLabel("edition", 1, 5), "looked", signed=True),
    a.Correct(P, "K1", SheetLabel("edition", 1, 5), "looked", signed=False, destroyed=False),
    a.Correct(P, "K1", a.AS_IT_IS, "whole", destroyed=False),
    a.Correct(P, "K1", a.AS_IT_IS, "bare", signed=False), a.UnvoidNumber(P, 1, "y"))
BEFORE: tuple[tuple[a.Action, ...], ...] = (
    (), ONE_SHEET[:1], (ONE_SHEET[0], ONE_SHEET[5]), (ONE_SHEET[0], ONE_SHEET[5], ONE_SHEET[6]))


def histories(longest: int) -> list[tuple[a.Action, ...]]:
    """Every history of up to so many moves."""
    return [h for n in range(1, longest + 1) for h in product(ONE_SHEET, repeat=n)]


def done(before: Studio, moves: tuple[a.Action, ...], origin: str) -> Studio | None:
    """The book with all of it; None: a move of it is refused."""
    studio = Studio(*SHEETS, origin=origin, book=before.entries)
    studio.written = before.written
    for move in moves:
        studio.clock.advance(60_000)
        if studio.try_(move) is not None:
            return None
    return studio


def every_pair(longest: int) -> int:
    """Each joined in both orders; how many there were."""
    pairs = 0
    for first in BEFORE:
        before = begun()
        before.do(*first)
        known = len(before.entries)
        homes, aways = ([s for h in histories(longest) if (s := done(before, h, origin))]
                        for origin in ("home", "away"))
        for home, away in product(homes, aways):
            one, two = together(home, away, known)
            moves = [e.kind for e in (*home.entries[known:], *away.entries[known:])]
            assert named(one) == named(two), moves
            assert shown(one) == shown(two), moves
            for sheet in ("K1", "K2"):
                nothing_lost(one, sheet, before, home, away, known)
            every_number_named(one, home, away)
            pairs += 1
    return pairs


def test_every_pair_of_moves_of_one_sheet():
    """Whatever one move does here and one there."""
    assert every_pair(1) > 200


@pytest.mark.full
def test_every_pair_of_short_histories_of_one_sheet():
    """Up to two moves here and two there, over a sheet bare, numbered, signed and destroyed."""
    assert every_pair(2) > 10_000


def meet(first: list[a.Action], here: list[a.Action], there: list[a.Action]) -> tuple[Studio, ...]:
    """Both books with the other's entries taken in, each as a studio to go on in."""
    before, home, away = parted(first, here, there)
    known = len(before.entries)
    ours, theirs = home.entries[known:], away.entries[known:]
    assert ours
    assert theirs
    both = (Studio(*SHEETS, book=[*home.entries, *theirs]),
            Studio(*SHEETS, origin="away", book=[*away.entries, *ours]))
    for studio in both:
        studio.clock.advance(3_600_000)
        studio.written = 100
    return both


# -- what is named can be decided -----------------------------------------------------------


def ways(studio: Studio, clash: Clash) -> Iterator[a.Action]:
    """What a printer can do about a clash, the sheets in front of them."""
    e = studio.e
    for sheet in clash.sheets:
        h = held(studio.register, sheet)
        yield a.Correct(P, sheet, h.bears, "looked")
        yield a.Correct(P, sheet, a.AS_IT_IS, "looked", h.signed is not None)
        yield a.Correct(P, sheet, a.AS_IT_IS, "looked", destroyed=h.destroyed is not None)
        yield from (a.TakeIn(P, sheet), a.Put(P, sheet, "drawer"), a.NameStandard(P, sheet))
    for name, told in e.plates.items():
        yield a.TellPlate(P, name, *([told.states[0]] if told.states else [None]), told.before)
    yield a.Settle(P, clash.key, "looked", max((n for n in clash.sizes if n), default=None))


def decided(studio: Studio, most: int = 60) -> None:
    """Every clash is decided by one of the ways; one may bring up another, but not for ever."""
    for _ in range(most):
        named = unsettled_clashes(studio.register, P)
        if not named:
            return
        for way in ways(studio, named[0]):
            studio.try_(way)
            if named[0].key not in {c.key for c in unsettled_clashes(studio.register, P)}:
                break
        else:
            raise AssertionError(f"nothing decides: {named[0]}")
    raise AssertionError(f"never at an end: {texts(studio.register)}")


@given(_SOME, _SOME, _SOME)
def test_every_clash_can_be_decided_and_does_not_come_back(first, here, there):
    """In one book, looking at the sheets; the other takes that in and names nothing either."""
    before, home, away = parted(first, here, there)
    known = len(before.entries)
    both = Studio(*SHEETS, book=[*home.entries, *away.entries[known:]])
    both.clock.advance(3_600_000)
    both.written = home.written
    joined = len(both.entries)
    decided(both)
    register = replay_register([*away.entries, *home.entries[known:], *both.entries[joined:]],
                               "away",
                               both.register.sheets)
    assert texts(register) == []
    assert shown(register) == shown(both.register)


def three_books(moves: list[list[a.Action]]) -> list[Studio]:
    """Three books that each wrote for themselves, from one beginning."""
    before = begun()
    books = [Studio(*SHEETS, origin=x, book=before.entries) for x in ("home", "away", "third")]
    books[0].written = before.written
    for studio, mine in zip(books, moves, strict=True):
        for move in mine:
            studio.clock.advance(60_000)
            studio.try_(move)
    return books


@given(st.lists(_SOME, min_size=3, max_size=3), _SOME, st.permutations([0, 1, 2]))
def test_three_books_come_together_in_any_order(moves, after, order):
    """Two meet and go on; the third joins either before or after: all say the same."""
    books = three_books(moves)
    known = len(begun().entries)
    own = [x.entries[known:] for x in books]
    two = Studio(*SHEETS, book=[*books[0].entries, *own[1]])
    two.written = books[0].written
    went_on = len(two.entries)
    for move in after:
        two.clock.advance(60_000)
        two.try_(move)
    later = two.entries[went_on:]
    start = books[0].entries[:known]
    straight = replay_register([*start, *own[0], *own[1], *later, *own[2]], "home",
                               two.register.sheets)
    mixed = replay_register([*start, *(e for n in order for e in own[n]), *later], "home",
                            two.register.sheets)
    assert named(straight) == named(mixed)
    assert shown(straight) == shown(mixed)
