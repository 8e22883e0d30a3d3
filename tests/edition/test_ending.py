"""An edition that ends early: cut short after a signature, and its plate cancelled."""

from __future__ import annotations

from benchapp.edition import actions as a
from benchapp.edition.ending import cut_short_words, numbers_now
from benchapp.edition.numbers import label_text
from benchapp.edition.sharing import first_cancelling
from benchapp.edition.view import edition_view, sheet_rows, where_number_is
from benchapp.reports.editions import edition_lines, edition_sheet
from benchapp.reports.json_form import json_values
from tests.edition.support import HOUR, START_MS, P, declared, number, sheet, sign, studio, texts
from tests.edition.test_apart import meet


def test_a_plate_that_fails_after_a_signature_ends_the_edition_at_a_number():
    """The total stays on every sheet; the numbers above are void by one sentence, and say so."""
    s = studio()
    s.do(number("K1", 1), number("K2", 3))
    assert s.no(a.CutEdition(P, 3, "plate failed")).mend.startswith("make it a short edition")
    s.do(sign("K1"))
    assert "--cut-short 3" in s.no(a.Lower(P, 3, "plate failed")).mend
    assert s.no(a.CutEdition(P, 2, "plate failed")).mend.startswith("cut it short at 3 or above")
    assert s.no(a.CutEdition(P, 30, "plate failed")).rule == "size"
    assert s.no(a.CutEdition(P, 4, " ")).rule == "reason"
    s.do(a.CutEdition(P, 4, "plate failed"))

    words = "declared 30, cut short at 4, plate failed"
    now = numbers_now(s.register, P)
    assert (now.taken, now.free, now.void, now.next) == ((1, 3), (2, 4), tuple(range(5, 31)), 4)
    assert cut_short_words(s.e) == words
    assert label_text(s.e, s.held("K1").bears) == "1/30"
    assert edition_view(s.register, P).left_to_give == 2
    assert json_values(edition_sheet(s.register, P, title="T", artist="A"))["cut_short"] == words
    assert f"  cut short: {words}" in edition_lines(s.register, P, title="T", artist="A")
    (void,) = [r for r in sheet_rows(s.register, P) if r.sheet is None]
    assert (void.label, void.standing) == ("5/30 to 30/30", "void: cut short at 4: plate failed")
    assert where_number_is(s.register, P, 9)[0].text == "9/30 is void: cut short at 4: plate failed"
    assert s.no(number("K3", 5)).rule == "void"
    s.do(number("K3"), number("K4", 2))
    assert numbers_now(s.register, P).next is None


def test_where_it_ends_is_said_again_and_a_mistake_goes():
    """The later word counts, and an edition that goes on after all has its numbers again."""
    s = studio()
    s.do(number("K1", 1), sign("K1"), a.CutEdition(P, 4, "plate failed"))
    assert s.no(a.CutEdition(P, 4, "plate failed")).rule == "already"
    assert s.no(a.VoidNumber(P, 6, "torn")).rule == "void"
    s.do(a.CutEdition(P, 7, "two more were under the boards"), a.VoidNumber(P, 6, "torn"))
    assert numbers_now(s.register, P).void == (6, *range(8, 31))
    s.do(a.CutEdition(P, None, "the plate was mended"))
    assert numbers_now(s.register, P).void == (6,)
    assert (s.e.cut, edition_view(s.register, P).cut) == (None, None)
    assert s.no(a.CutEdition(P, None, "again")).rule == "cut"


def test_two_books_that_end_it_differently_are_named_and_nothing_falls_outside():
    """The later number counts until one is said again."""
    for both in meet([number("K1", 1), sign("K1")], [a.CutEdition(P, 3, "plate failed")],
                     [a.CutEdition(P, 4, "plate failed")]):
        assert "Books differ on the last number of the edition: 3 and 4" in texts(both.register)
        assert both.e.cut.size == 4
        both.do(a.CutEdition(P, 3, "plate failed, looked again"))
        assert texts(both.register) == []


def test_nothing_is_free_or_next_after_a_cancellation():
    """What was never given is void; a sheet pulled before can still take one, and that is said."""
    s = studio(3)
    s.pull(sheet("L1", pulled_ms=START_MS + HOUR, purpose="cancellation proof"))
    s.do(number("K1", 1), number("K2", 2), sign("K1"), a.CancelPlate(P, "scored"))
    now = numbers_now(s.register, P)
    assert (now.free, now.next, now.void) == ((), None, tuple(range(3, 31)))
    view = edition_view(s.register, P)
    assert (view.left_to_give, view.to_number) == (0, 1)
    s.do(number("K3"))
    now = numbers_now(s.register, P)
    assert (now.taken, now.free, now.next) == ((1, 2, 3), (), None)
    assert now.void == tuple(range(4, 31))


def test_a_colourway_is_cancelled_only_by_a_plate_it_is_known_to_share():
    """Not known is not shared; another plate of the same edition can be cancelled later."""
    s = studio()
    for name, shares in (("blue", None), ("green", ("key",)), ("red", ())):
        s.do(a.Declare(name, name, "Wren Halloran", 9, sibling=P, relation="colourway",
                       shares=shares))
    s.do(a.CancelPlate(P, "scored", ("key",)))
    assert first_cancelling(s.register, P).plates == ("key",)
    assert [first_cancelling(s.register, x) for x in ("blue", "red")] == [None, None]
    assert first_cancelling(s.register, "green").plates == ("key",)
    assert s.no(a.CancelPlate("green", "ground")).rule == "cancelled"
    s.do(a.CancelPlate(P, "ground", ("tone",)))
    assert s.no(a.CancelPlate(P, "again")).rule == "cancelled"
    assert first_cancelling(s.register, P).plates == ("key", "tone")
    assert first_cancelling(s.register, "green").plates == ("key",)
    assert texts(s.register) == []
    for edition in (declared(), a.SharePlates(P, ("key",))):
        assert s.no(edition)
    s.do(a.SharePlates("blue", ("tone",)))
    assert first_cancelling(s.register, "blue").how == "ground"
