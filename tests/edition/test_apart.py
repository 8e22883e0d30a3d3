"""Two books that wrote about one print while apart: together they say the same in either order.

Nothing either book said is lost or chosen in silence: what both cannot be true of is named.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.edition import acts as a
from benchapp.edition.clashes import clashes, clashing
from benchapp.edition.figures import accounts
from benchapp.edition.holding import Bears, Holding
from benchapp.edition.numbers import taken
from benchapp.edition.register import replay
from benchapp.edition.state import Register
from benchapp.edition.view import EditionView, edition_view
from tests.edition.model import NAMES, SHEETS, SIZE, correction
from tests.edition.support import P, Studio
from tests.edition.test_histories import AT_THE_TABLE, begun, borne

_WHO = st.sampled_from(NAMES)
_PENCIL = st.none() | st.builds(
    Bears, st.just("edition"), st.integers(1, SIZE + 2), st.none() | st.integers(SIZE, SIZE + 1))
#: All that two books do of an edition while apart.
APART: st.SearchStrategy[a.Action] = st.one_of(
    AT_THE_TABLE, AT_THE_TABLE,
    st.builds(lambda s, b, signed, found: a.Correct(P, s, b, "looked", signed, found),
              _WHO, _PENCIL, st.none() | st.booleans(), st.booleans()),
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
    one, two = (replay(x, "home", home.register.sheets) for x in (
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
            for c in clashes(register, P)}


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
    now = taken(register.edition(P))
    assert not set(now.taken) & set(now.void)
    assert sum(accounts(register, P).values()) == len(SHEETS)


def about(studio: Studio, sheet: str, known: int) -> bool:
    """Whether a book wrote of what a sheet is since they parted."""
    return any(e.body.get("sheet") == sheet and e.kind not in (
        "handed out", "came back", "placed", "standard named", "number voided")
        for e in studio.entries[known:])


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
    told = [end for studio, end in ((home, ours), (away, theirs)) if about(studio, sheet, known)]
    if len(told) < 2:
        (now,) = told or (was,)
        assert (both.bears, both.also, both.signed, both.destroyed, both.doubts) == (
            now.bears, now.also, now.signed, now.destroyed, now.doubts)
        return
    of = [c for c in clashes(register, P) if sheet in c.sheets]
    claims = {b.claim for b in both.claims}
    for end, other in ((ours, theirs), (theirs, ours)):
        assert {b.claim for b in end.claims} <= claims
        if end.bears is None and other.bears is not None and (
                was.bears is not None and other.bears.claim == was.bears.claim):
            assert any(c.key.startswith("sheet ") for c in of)  # taken off here, kept there
        if end.signed and not other.signed and was.signed:
            assert any(c.key.startswith("signed or not") for c in of)
        if end.destroyed and not other.destroyed and was.destroyed:
            assert any(c.key.startswith("destroyed or not") for c in of)
        assert both.signed is not None or end.signed is None
        assert both.destroyed is not None or end.destroyed is None
    if len(claims) > 1:
        assert any(c.key.startswith("sheet ") for c in of)


def every_number_named(register: Register, home: Studio, away: Studio) -> None:
    """A number that stands on one sheet here and on another there is named on every list."""
    for n in range(1, SIZE + 3):
        claim = ("edition", n)
        on = {s for s in NAMES for b in (borne(home.register), borne(away.register))
              if b.get(s) == claim and claim in {c.claim for c in held(register, s).claims}}
        if len(on) > 1:
            assert n in clashing(register, P) or any(
                k.startswith(f"twice edition {n}:") for k in register.edition(P).settled)


# -- every pair of short histories of one sheet --------------------------------------------

ONE_SHEET: tuple[a.Action, ...] = (
    a.GiveNumbers(P, (("K1", 1),)), a.GiveNumbers(P, (("K1", 2),)), a.GiveProof(P, "K1", "AP"),
    a.GiveProof(P, "K1", "BAT", by="the artist"), a.TakeNumberBack(P, "K1"), a.Sign(P, ("K1",)),
    a.Destroy(P, "K1", "x"), a.Void(P, 1, "x"), a.GiveNumbers(P, (("K2", 1),)),
    correction("K1", 2), a.Correct(P, "K1", None, "looked"),
    a.Correct(P, "K1", Bears("edition", 1, 5), "looked", signed=True),
    a.Correct(P, "K1", Bears("edition", 1, 5), "looked", signed=False, found=True))
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


# -- each by hand --------------------------------------------------------------------------


def test_a_sheet_made_a_proof_here_and_corrected_there_is_named():
    """The correction had not seen the proof: in either order both are said."""
    home = begun()
    home.do(a.GiveNumbers(P, (("K1", 1),)))
    away = Studio(*SHEETS, origin="away", book=home.entries)
    known = len(home.entries)
    home.do(a.GiveProof(P, "K1", "AP"))
    away.do(correction("K1", 2))
    for both in together(home, away, known):
        assert {x[0] for x in named(both)} == {"sheet K1: AP 1/None | edition 2/None"}


def test_a_sheet_signed_bare_here_and_its_proof_given_and_taken_back_there():
    """What was taken back never stood on the signed sheet: nothing clashes, in either order."""
    home = begun()
    away = Studio(*SHEETS, origin="away", book=home.entries)
    known = len(home.entries)
    home.do(a.Sign(P, ("K7",)))
    away.do(a.GiveProof(P, "K7", "AP"), a.TakeNumberBack(P, "K7"))
    for both in together(home, away, known):
        assert named(both) == set()
        assert both.edition(P).holdings["K7"].bears is None
        assert both.edition(P).holdings["K7"].signed is not None


def test_two_books_that_gave_one_number_to_two_sheets():
    """Both are named, with the number on every list, until the printer has looked."""
    home = begun()
    away = Studio(*SHEETS, origin="away", book=home.entries)
    home.do(a.GiveNumbers(P, (("K1", 3),)), a.Sign(P, ("K1",)))
    away.do(a.GiveNumbers(P, (("K2", 3),)), a.Sign(P, ("K2",)))
    both = Studio(*SHEETS, book=[*home.entries, *away.entries[1:]])
    (clash,) = clashes(both.register, P)
    assert clash.text == "3/5 stands on K1 of 3 May 2026 and K2 of 3 May 2026"
    both.do(a.Settle(P, clash.key, "K2 is marked 3a in pencil, the buyer knows"))
    assert clashes(both.register, P) == ()


def test_two_books_that_gave_one_sheet_two_numbers():
    """It is not settled but corrected: somebody has to look at the sheet."""
    home = begun()
    home.do(a.GiveNumbers(P, (("K1", 1),)))
    away = Studio(*SHEETS, origin="away", book=home.entries)
    home.do(a.GiveNumbers(P, (("K1", 2),)), a.GiveNumbers(P, (("K1", 1),)))
    away.do(a.GiveNumbers(P, (("K1", 3),)))
    both = Studio(*SHEETS, book=[*home.entries, *away.entries[2:]])
    (clash,) = clashes(both.register, P)
    assert clash.text == "Of K1 of 3 May 2026 two things are said: 1/5 and 3/5"
    assert both.no(a.Settle(P, clash.key, "never mind")).rule == "clash"
    assert both.no(a.GiveNumbers(P, (("K1", 4),))).rule == "clash"
    assert both.no(a.GiveNumbers(P, (("K2", 3),))).rule == "taken"
    both.do(correction("K1", 3))
    assert clashes(both.register, P) == ()
    assert taken(both.e).taken == (3,)


def test_two_books_that_lowered_the_edition_differently():
    """Nothing is numbered until the true size is said."""
    home = begun()
    away = Studio(*SHEETS, origin="away", book=home.entries)
    home.do(a.Lower(P, 4, "worn"))
    away.do(a.Lower(P, 3, "worn"))
    both = Studio(*SHEETS, book=[*home.entries, *away.entries[1:]])
    assert both.no(a.GiveNumbers(P, (("K1", 1),))).rule == "clash"
    (clash,) = clashes(both.register, P)
    assert clash.sizes == (3, 4)
    assert both.no(a.Settle(P, clash.key, "counted", size=5)).rule == "size"
    both.do(a.Settle(P, clash.key, "counted", size=3), a.GiveNumbers(P, (("K1", None),)))
    assert both.e.size == 3


def texts(register: Register) -> list[str]:
    """The clashes, as they are said."""
    return [c.text for c in clashes(register, P)]


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


def test_a_number_corrected_here_and_signed_there_waits_for_a_look_at_the_sheet():
    """Both are said; the correction made then is over both, and the sheet bears one thing."""
    for both in meet([a.GiveNumbers(P, (("K1", 1),))], [a.Sign(P, ("K1",))],
                     [correction("K1", 2)]):
        assert texts(both.register) == ["Of K1 of 3 May 2026 two things are said: 1/5 and 2/5"]
        assert both.no(a.GiveNumbers(P, (("K2", 1),))).rule == "taken"
        both.do(correction("K1", 2))
        assert (texts(both.register), both.held("K1").claims) == ([], (Bears("edition", 2),))
        assert both.held("K1").signed is not None
        assert replay(both.entries, both.register.origin, both.register.sheets) == both.register


def test_a_signature_taken_off_here_and_relied_on_there():
    """One looked and found no signature; the other looked and left that as it was."""
    signed = [a.GiveNumbers(P, (("K1", 1),)), a.Sign(P, ("K1",))]
    for both in meet(signed, [a.Correct(P, "K1", Bears("edition", 1, 5), "bare", signed=False)],
                     [correction("K1", 1), correction("K1", 2), correction("K1", 1)]):
        assert texts(both.register) == [
            "Of K1 of 3 May 2026 two things are said: it is signed, and it is not"]
        assert both.no(a.TakeNumberBack(P, "K1")).rule == "signed"
        both.do(a.Correct(P, "K1", Bears("edition", 1, 5), "looked again", signed=True))
        assert texts(both.register) == []


def test_a_sheet_moved_by_two_books():
    """Where it is, is said by both until somebody says it now."""
    for both in meet([a.HandOut(P, "K1", "gallery")], [a.HandOut(P, "K1", "sold")],
                     [a.TakeIn(P, "K1")]):
        assert texts(both.register) == [
            "Two books say where K1 of 3 May 2026 is: in the drawer and sold"]
        assert both.held("K1").out
        assert both.no(a.Settle(P, clashes(both.register, P)[0].key, "never mind")).rule == "clash"
        both.do(a.TakeIn(P, "K1"))
        assert (texts(both.register), both.held("K1").out) == ([], False)


def test_two_books_that_named_two_standards():
    """Until one is named again; nothing is held against nothing meanwhile."""
    for both in meet([], [a.NameStandard(P, "K1")], [a.NameStandard(P, "K2")]):
        assert texts(both.register) == [
            "Two books name the standard: K1 of 3 May 2026 and K2 of 3 May 2026"]
        assert both.e.standard in ("K1", "K2")
        both.do(a.NameStandard(P, "K1"))
        assert (texts(both.register), both.e.standard) == ([], "K1")


def test_two_books_that_told_of_a_plate_differently():
    """Both states and both figures; the larger is reckoned with, till it is told again."""
    for both in meet([], [a.TellPlate(P, "key", "steel-faced", 100)],
                     [a.TellPlate(P, "key", "re-ground", 120)]):
        assert texts(both.register) == [
            "Two books tell of the plate key: re-ground and steel-faced; "
            "100 and 120 impressions before this book"]
        both.do(a.TellPlate(P, "key", "steel-faced", None))
        assert texts(both.register) == [
            "Two books tell of the plate key: 100 and 120 impressions before this book"]
        assert both.e.plates["key"].before == 120
        both.do(a.TellPlate(P, "key", None, 100))
        assert (texts(both.register), both.e.plates["key"].before) == ([], 100)


def test_two_books_in_which_others_passed_one_bat():
    """Both are said, also on paper, and it may stay so with the reason."""
    for both in meet([], [a.GiveProof(P, "K1", "BAT", by="the artist")],
                     [a.GiveProof(P, "K1", "BAT", by="the publisher")]):
        (clash,) = clashes(both.register, P)
        assert clash.text == ("Two books say who passed the BAT, K1 of 3 May 2026: the artist and "
                              "the publisher")
        assert edition_view(both.register, P).bat == (
            "K1 of 3 May 2026, passed by the artist or the publisher")
        both.do(a.Settle(P, clash.key, "both stood there"))
        assert texts(both.register) == []


def test_two_books_that_recorded_the_cancelling_differently():
    """All plates either names are cancelled; the two records are named, and may stay."""
    for both in meet([], [a.CancelPlate(P, "scored", ("key",))], [a.CancelPlate(P, "drilled")]):
        (clash,) = clashes(both.register, P)
        assert clash.text == ("Two books record how the plate was cancelled: drilled (every "
                              "plate) and scored (key)")
        assert both.e.cancelled is not None
        assert both.e.cancelled.plates == ()
        both.do(a.Settle(P, clash.key, "scored first, drilled later"))
        assert texts(both.register) == []


def test_whose_a_proof_is_goes_with_the_proof_and_of_two_books_both_are_said():
    """The printer's own words are of the giving they were said with, whichever came first."""
    give = [a.GiveProof(P, "K1", "AP", whose="the artist")]
    for both in meet([], give, [a.GiveProof(P, "K1", "AP", whose="Ms Auk")]):
        assert both.held("K1").words == {"whose": "Ms Auk or the artist"}
        assert texts(both.register) == []
        both.do(a.TakeNumberBack(P, "K1"))
        assert both.held("K1").words == {}
        both.do(a.GiveProof(P, "K1", "AP", whose="the printer"), a.Sign(P, ("K1",)))
        assert both.held("K1").words == {"whose": "the printer"}
