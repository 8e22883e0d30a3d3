"""What two books say differently, one thing a test: how it is said, and how it is decided."""

from __future__ import annotations

from benchapp.edition import actions as a
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.decide import replay_register
from benchapp.edition.holding import SheetLabel
from benchapp.edition.numbers import taken_numbers
from benchapp.edition.sharing import first_cancelling
from benchapp.edition.view import edition_view
from tests.edition.model import CAPS, SHEETS, SIZE, correction
from tests.edition.support import P, Studio, declared, texts
from tests.edition.test_apart import meet, named, together
from tests.edition.test_histories import begun


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
    (clash,) = unsettled_clashes(both.register, P)
    assert clash.text == "3/5 is on K1 and K2"
    both.do(a.Settle(P, clash.key, "K2 is marked 3a in pencil, the buyer knows"))
    assert unsettled_clashes(both.register, P) == ()


def test_two_books_that_gave_one_sheet_two_numbers():
    """It is not settled but corrected: somebody has to look at the sheet."""
    home = begun()
    home.do(a.GiveNumbers(P, (("K1", 1),)))
    away = Studio(*SHEETS, origin="away", book=home.entries)
    home.do(a.GiveNumbers(P, (("K1", 2),)), a.GiveNumbers(P, (("K1", 1),)))
    away.do(a.GiveNumbers(P, (("K1", 3),)))
    both = Studio(*SHEETS, book=[*home.entries, *away.entries[2:]])
    (clash,) = unsettled_clashes(both.register, P)
    assert clash.text == "Books differ on K1: 1/5 and 3/5"
    assert both.no(a.Settle(P, clash.key, "never mind")).rule == "clash"
    assert both.no(a.GiveNumbers(P, (("K1", 4),))).rule == "clash"
    assert both.no(a.GiveNumbers(P, (("K2", 3),))).rule == "taken"
    both.do(correction("K1", 3))
    assert unsettled_clashes(both.register, P) == ()
    assert taken_numbers(both.e).taken == (3,)


def test_two_books_that_lowered_the_edition_differently():
    """Nothing is numbered until the true size is said."""
    home = begun()
    away = Studio(*SHEETS, origin="away", book=home.entries)
    home.do(a.Lower(P, 4, "worn"))
    away.do(a.Lower(P, 3, "worn"))
    both = Studio(*SHEETS, book=[*home.entries, *away.entries[1:]])
    assert both.no(a.GiveNumbers(P, (("K1", 1),))).rule == "clash"
    (clash,) = unsettled_clashes(both.register, P)
    assert clash.sizes == (3, 4)
    assert both.no(a.Settle(P, clash.key, "counted", size=5)).rule == "size"
    both.do(a.Settle(P, clash.key, "counted", size=3), a.GiveNumbers(P, (("K1", None),)))
    assert both.e.size == 3


def test_a_number_corrected_here_and_signed_there_waits_for_a_look_at_the_sheet():
    """Both are said; the correction made then is over both, and the sheet bears one thing."""
    for both in meet([a.GiveNumbers(P, (("K1", 1),))], [a.Sign(P, ("K1",))],
                     [correction("K1", 2)]):
        assert texts(both.register) == ["Books differ on K1: 1/5 and 2/5"]
        assert both.no(a.GiveNumbers(P, (("K2", 1),))).rule == "taken"
        both.do(correction("K1", 2))
        assert (texts(both.register), both.held("K1").claims) == ([], (SheetLabel("edition", 2),))
        assert both.held("K1").signed is not None
        assert replay_register(both.entries, both.register.origin,
                               both.register.sheets) == both.register


def test_a_signature_taken_off_here_and_relied_on_there():
    """Corrected here; there it was destroyed as the signed sheet it was taken for."""
    signed = [a.GiveNumbers(P, (("K1", 1),)), a.Sign(P, ("K1",))]
    bare = a.Correct(P, "K1", a.AS_IT_IS, "bare", signed=False)
    for both in meet(signed, [bare], [correction("K1", 2)]):
        assert texts(both.register) == []
        assert (both.held("K1").signed,
                both.held("K1").claims) == (None, (SheetLabel("edition", 2),))
    for both in meet(signed, [bare], [a.Destroy(P, "K1", "torn")]):
        assert texts(both.register) == [
            "Books differ on K1: one says signed, the other not signed"]
        both.do(a.Correct(P, "K1", a.AS_IT_IS, "looked again", signed=True))
        assert texts(both.register) == []


def test_a_sheet_moved_by_two_books():
    """Where it is, is said by both until somebody says it now."""
    for both in meet([a.HandOut(P, "K1", "gallery")], [a.HandOut(P, "K1", "sold")],
                     [a.TakeIn(P, "K1")]):
        assert texts(both.register) == [
            "Books differ on where K1 is: in the drawer / sold"]
        assert both.held("K1").out
        assert both.no(a.Settle(P, unsettled_clashes(both.register, P)[0].key,
                                "never mind")).rule == "clash"
        both.do(a.TakeIn(P, "K1"))
        assert (texts(both.register), both.held("K1").out) == ([], False)


def test_two_books_that_named_two_standards():
    """Until one is named again; nothing is held against nothing meanwhile."""
    for both in meet([], [a.NameStandard(P, "K1")], [a.NameStandard(P, "K2")]):
        assert texts(both.register) == [
            "Books name different standards: K1 and K2"]
        assert both.e.standard in ("K1", "K2")
        both.do(a.NameStandard(P, "K1"))
        assert (texts(both.register), both.e.standard) == ([], "K1")


def test_two_books_that_told_of_a_plate_differently():
    """Both states and both figures; the larger is reckoned with, till it is told again."""
    for both in meet([], [a.TellPlate(P, "key", "steel-faced", 100)],
                     [a.TellPlate(P, "key", "re-ground", 120)]):
        assert texts(both.register) == [
            "Books differ on the plate key: re-ground and steel-faced; "
            "100 and 120 impressions before this book"]
        both.do(a.TellPlate(P, "key", "steel-faced", None))
        assert texts(both.register) == [
            "Books differ on the plate key: 100 and 120 impressions before this book"]
        assert both.e.plates["key"].before == 120
        both.do(a.TellPlate(P, "key", None, 100))
        assert (texts(both.register), both.e.plates["key"].before) == ([], 100)


def test_two_books_in_which_others_passed_one_bat():
    """Both are said, also on paper, and it may stay so with the reason."""
    for both in meet([], [a.GiveProof(P, "K1", "BAT", by="the artist")],
                     [a.GiveProof(P, "K1", "BAT", by="the publisher")]):
        (clash,) = unsettled_clashes(both.register, P)
        assert clash.text == ("Books differ on who passed the BAT, K1: the artist "
                              "and the publisher")
        assert edition_view(both.register, P).bat == (
            "K1, passed by the artist or the publisher")
        both.do(a.Settle(P, clash.key, "both stood there"))
        assert texts(both.register) == []


def test_two_books_that_recorded_the_cancelling_differently():
    """All plates either names are cancelled; the two records are named, and may stay."""
    for both in meet([], [a.CancelPlate(P, "scored", ("key",))], [a.CancelPlate(P, "drilled")]):
        (clash,) = unsettled_clashes(both.register, P)
        assert clash.text == ("Books differ on how the plate was cancelled: drilled (every "
                              "plate) and scored (key)")
        done = first_cancelling(both.register, P)
        assert done is not None
        assert done.plates == ()
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


# -- what neither book could have refused, having seen the other ------------------------------


def test_a_size_changed_while_a_sheet_was_signed_elsewhere_can_be_given_back():
    """Signed 1/5 here, lowered or raised there: the edition is declared again as it was signed."""
    for there in (a.Lower(P, 3, "worn"), declared(8, caps=CAPS)):
        for both in meet([a.GiveNumbers(P, (("K1", 1),))], [a.Sign(P, ("K1",))], [there]):
            assert texts(both.register) == [
                f"K1 is marked 1/5, but the edition is {both.e.size}"]
            assert both.no(declared(6, caps=CAPS)).rule == "signed"
            both.do(declared(SIZE, caps=CAPS))
            assert (texts(both.register), both.e.size) == ([], SIZE)


def test_an_edition_that_was_signed_as_open_here_and_declared_there():
    """A signature without a total under it is named, and the edition can be open again."""
    opened = a.Declare(P, "Slack Water", "Wren Halloran", None, "open", CAPS)
    for both in meet([opened], [a.GiveNumbers(P, (("K1", 3),)), a.Sign(P, ("K1",))],
                     [declared(8, caps=CAPS)]):
        assert texts(both.register) == [
            "K1 was signed without a total, as in an open edition; the edition is 8"]
        both.do(opened)
        assert (texts(both.register), both.e.form) == ([], "open")


def test_more_than_the_edition_holds_by_two_books():
    """Its last number here, a proof inside the total there."""
    four = [a.GiveNumbers(P, tuple((f"K{n}", n) for n in range(1, 5)))]
    for both in meet(four, [a.GiveNumbers(P, (("K5", 5),))], [a.GiveProof(P, "K6", "HC")]):
        assert texts(both.register) == [
            "The edition of 5 has 6 numbers and proofs inside its total"]
        both.do(a.TakeNumberBack(P, "K6"))
        assert texts(both.register) == []


def test_a_sheet_both_books_sold():
    """Two buyers of one sheet: also where both say just the same."""
    sold = [a.HandOut(P, "K1", "sold", words={"to": "Ms Auk"})]
    for both in meet([], sold, [a.HandOut(P, "K1", "sold", words={"to": "Mr Teal"})]):
        assert texts(both.register) == ["Books differ on where K1 is: sold / sold"]
        (row,) = edition_view(both.register, P, private=True).rows
        assert ("Auk" in row.where, "Teal" in row.where) == (True, True)


def test_a_sheet_destroyed_here_and_sold_there():
    """Whoever sold it had it in the hand; one correction decides, whichever it was."""
    for both in meet([a.GiveNumbers(P, (("K1", 1),))], [a.Destroy(P, "K1", "torn")],
                     [a.Sign(P, ("K1",)), a.HandOut(P, "K1", "sold")]):
        assert texts(both.register) == [
            "Books differ on K1: one says destroyed, the other that it still exists",
            "K1 is sold in one book; another destroyed it without knowing"]
        both.do(a.Correct(P, "K1", a.AS_IT_IS, "in its owner's frame", destroyed=False))
        assert (texts(both.register), both.held("K1").out) == ([], True)


def test_a_sheet_sold_here_and_renumbered_there():
    """In one book a sheet that is out keeps its number."""
    for both in meet([a.GiveNumbers(P, (("K1", 1),))], [a.HandOut(P, "K1", "sold")],
                     [a.GiveNumbers(P, (("K1", 2),))]):
        assert texts(both.register) == [
            "K1 is sold in one book; another changed what is on it without knowing"]
        both.do(correction("K1", 1))
        assert texts(both.register) == []


def test_a_number_voided_here_and_signed_there():
    """The void one stays void, and what was signed is named until it is looked at."""
    for both in meet([a.GiveNumbers(P, (("K1", 1),))], [a.VoidNumber(P, 1, "smudged")],
                     [a.Sign(P, ("K1",))]):
        assert texts(both.register) == ["1/5 is void (smudged) but is on K1"]
        both.do(a.Correct(P, "K1", SheetLabel("edition", 1, SIZE), "smudged, and signed", False))
        assert texts(both.register) == []


def test_one_number_on_two_sheets_of_which_one_is_destroyed_and_found_again():
    """It left the other its number; found again, both bear it again."""
    for both in meet([], [a.GiveNumbers(P, (("K1", 1),))], [a.GiveNumbers(P, (("K2", 1),))]):
        twice = texts(both.register)
        both.do(a.Destroy(P, "K1", "torn"))
        assert (len(twice), texts(both.register)) == (1, [])
        both.do(a.Correct(P, "K1", SheetLabel("edition", 1), "behind the press", destroyed=False))
        assert texts(both.register) == twice


def test_one_old_paper_taken_in_by_both_books():
    """Its sheets are known once; what one of them was told otherwise is named."""
    lines = (a.Recalled("the ledger", 1), a.Recalled("the ledger", None, "progressive"),
             a.Recalled("the ledger", None, "progressive"), a.Recalled("the ledger", 2))
    other = (*lines[:3], a.Recalled("the ledger", 2, destroyed="water"))
    for both in meet([], [a.Recall(P, lines)], [a.Recall(P, other)]):
        assert len(both.e.holdings) == 4
        assert texts(both.register) == [
            "Books differ on 2/5 from old papers: one says destroyed, the other that it still "
            "exists"]
