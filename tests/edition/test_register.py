"""The rules of an edition: each refusal says which one, who has it, and what can be done."""

from __future__ import annotations

import pytest

from benchapp.edition import actions as a
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.corrections import NOT_SIGNED, can_be_wrong
from benchapp.edition.decide import check_recall, reason_to_keep_pull
from benchapp.edition.figures import (
    edition_figures,
    edition_totals,
    planned_impressions,
    plate_figures,
    proof_figures,
    sheet_accounts,
)
from benchapp.edition.holding import SheetLabel
from benchapp.edition.numbers import TakenNumbers, label_text, taken_numbers
from benchapp.edition.state import Cap, Sheet
from benchapp.edition.view import (
    bat_words,
    edition_siblings,
    edition_view,
    joint_total,
    propose_numbers,
    running_list,
    sheet_rows,
    signature_words,
    where_number_is,
)
from benchapp.edition.warnings import recipe_differences
from benchapp.views.signing import unsigned_sheets
from tests.edition.support import (
    DAY,
    HOUR,
    START_MS,
    P,
    Studio,
    declared,
    number,
    sheet,
    sign,
    studio,
    warned,
)


def on_sheet(s: Studio, mark: str) -> str:
    """What stands on a sheet."""
    return label_text(s.e, s.held(mark).bears)


# -- numbers ------------------------------------------------------------------------------


def test_a_number_goes_to_one_sheet_and_the_refusal_names_who_has_it():
    """The second asker is told which sheet of which day bears it, and what is free."""
    s = Studio(sheet("K11"), sheet("L2", "2026-06-09"))
    s.do(declared(), number("K11", 7))
    no = s.no(number("L2", 7))
    assert no.rule == "taken"
    assert str(no).startswith(
        "7/30 is K11; a number is used once")
    assert "next is 8/30" in no.mend
    assert "1, 2, 3, 4, 5, 6, 8" in no.mend


def test_a_destroyed_sheet_keeps_its_number_void():
    """Destroying takes a reason; its number is in void, not in taken, and is never given again."""
    s = studio()
    s.do(number("K1", 7))
    assert s.no(a.Destroy(P, "K1", "  ")).rule == "reason"
    s.do(a.Destroy(P, "K1", "torn in framing"))
    assert taken_numbers(s.e).taken == ()
    assert taken_numbers(s.e).void == (7,)
    no = s.no(number("K2", 7))
    assert "7/30 is void: K1 was destroyed (torn in framing)" in no.why
    assert s.no(number("K1", 8)).rule == "destroyed"


def test_next_is_the_highest_plus_one_and_holes_stay_visible():
    """Numbers need not follow pulling order; a hole is listed, and filled only by name."""
    s = studio()
    s.do(number("K3"), number("K1", 9), number("K2"))
    assert taken_numbers(s.e) == TakenNumbers((1, 9, 10), (), (*range(2, 9), *range(11, 31)), 11)
    s.do(number("K4", 2))
    assert taken_numbers(s.e).next == 11


def test_after_the_last_number_a_hole_has_to_be_named():
    """With 3/3 given nothing comes next; the free ones are said."""
    s = studio(size=3, caps={})
    s.do(number("K1", 3))
    no = s.no(number("K2"))
    assert (no.rule, no.mend) == ("size", "free: 1, 2")


@pytest.mark.parametrize("n", [0, -1, 31, 10**30])
def test_a_number_outside_the_edition_is_refused(n):
    """1 … N and nothing else."""
    assert studio().no(number("K1", n)).why == f"{n} is not between 1 and 30"


def test_an_unsigned_number_is_changed_by_hand_and_taken_back():
    """What was given is free again; what is void is not."""
    s = studio()
    s.do(number("K1", 4), number("K1", 5))
    assert taken_numbers(s.e).taken == (5,)
    assert s.no(number("K1", 5)).rule == "already"
    s.do(a.TakeNumberBack(P, "K1"))
    assert taken_numbers(s.e).taken == ()
    assert s.no(a.TakeNumberBack(P, "K1")).rule == "nothing"


def test_two_sheets_swap_their_numbers_in_one_sitting():
    """All are taken back before any is given."""
    s = studio()
    s.do(a.GiveNumbers(P, (("K1", 1), ("K2", 2))), a.GiveNumbers(P, (("K1", 2), ("K2", 1))))
    assert (on_sheet(s, "K1"), on_sheet(s, "K2")) == ("2/30", "1/30")


def test_a_sitting_is_done_whole_or_not_at_all():
    """One sheet that cannot be numbered leaves the others as they were."""
    s = studio()
    s.do(number("K5", 3))
    assert s.no(a.GiveNumbers(P, (("K1", 1), ("K2", 3)))).rule == "taken"
    assert s.no(a.GiveNumbers(P, (("K1", 1), ("K1", 2)))).rule == "sheet"
    assert taken_numbers(s.e).taken == (3,)


@pytest.mark.parametrize("purpose", ["TP", "WP", "SP", "warm-up", "ghost"])
def test_what_was_pulled_for_something_else_takes_no_edition_number(purpose):
    """It can be said to have been for the edition, or kept as a proof."""
    s = Studio(sheet("K1", purpose=purpose))
    s.do(declared())
    no = s.no(number("K1", 1))
    assert no.rule == "for"
    assert no.mend.startswith("say first what it was for: for K1 edition")
    s.do(a.GiveProof(P, "K1", "AP"))


def test_a_spoiled_sheet_becomes_nothing():
    """Neither a number nor a proof."""
    s = Studio(sheet("K1", verdict="spoiled"))
    s.do(declared())
    assert s.no(number("K1", 1)).rule == "spoiled"
    assert s.no(a.GiveProof(P, "K1", "AP")).rule == "spoiled"


def test_nothing_but_what_is_said_is_demanded_before_a_number():
    """Without BAT and judgement it is numbered all the same, with a warning."""
    s = Studio(sheet("K1", verdict=None))
    s.do(declared())
    assert warned(s, number("K1", 1)) == (
        "No BAT is approved yet", "K1 is not judged")
    s.do(number("K1", 1))


def test_no_number_before_the_size_is_known():
    """The refusal says what to do."""
    s = Studio(sheet("K1"))
    assert str(s.no(number("K1", 1))) == (
        "The size of the edition is not known; declare it, or say that it is open")


# -- void ---------------------------------------------------------------------------------


def test_a_void_number_stands_in_void_and_not_in_taken():
    """Whether a sheet bears it or not, signed or not."""
    s = studio()
    s.do(number("K1", 12), sign("K1"), a.VoidNumber(P, 12, "pencilled on the wrong sheet"),
         a.VoidNumber(P, 3, "skipped"))
    assert taken_numbers(s.e).taken == ()
    assert taken_numbers(s.e).void == (3, 12)
    assert taken_numbers(s.e).next == 13
    assert s.no(a.VoidNumber(P, 12, "again")).why == (
        "12/30 is void already: pencilled on the wrong sheet")
    assert s.no(number("K2", 3)).rule == "void"
    assert s.no(a.VoidNumber(P, 4, "")).rule == "reason"


def test_an_unsigned_sheet_with_a_void_number_gets_another():
    """The void one stays void."""
    s = studio()
    s.do(number("K1", 2), a.VoidNumber(P, 2, "smudged"))
    assert s.no(sign("K1")).rule == "void"
    s.do(number("K1", 3), sign("K1"))
    assert (taken_numbers(s.e).taken, taken_numbers(s.e).void) == ((3,), (2,))


# -- size ---------------------------------------------------------------------------------


def test_an_edition_is_lowered_until_the_first_signature_and_never_after():
    """Short edition; then only a second edition that names the first."""
    s = studio()
    s.do(number("K1", 1), a.Lower(P, 20, "aquatint worn"))
    assert (on_sheet(s, "K1"), s.e.size) == ("1/20", 20)
    assert edition_view(s.register, P).short == ("lowered from 30 to 20: aquatint worn",)
    s.do(sign("K1"))
    for action, mend in (
            (a.Lower(P, 10, "again"),
             "if it ends early, its total stays: --cut-short 10 --why WORDS"),
            (declared(40), "declare a second edition, with --beside and this one")):
        no = s.no(action)
        assert no.rule == "signed"
        assert no.why.startswith("1/20, K1, is signed")
        assert no.mend == mend


def test_it_is_not_lowered_below_what_is_given():
    """The refusal says how far it can go."""
    s = studio()
    s.do(number("K1", 12))
    assert s.no(a.Lower(P, 11, "plate failed")).mend.startswith("lower it to 12 or more")
    s.do(a.Lower(P, 12, "plate failed"))


def test_the_signature_of_a_bat_or_a_trial_fixes_nothing():
    """They are signed before the edition is printed."""
    s = Studio(sheet("K1"), sheet("K2", purpose="TP"), sheet("K3"))
    s.do(declared(), a.GiveProof(P, "K1", "BAT"), sign("K1", "K2"), a.Lower(P, 25, "enough"))
    s.do(a.GiveProof(P, "K3", "AP"), sign("K3"))
    assert s.no(a.Lower(P, 20, "more")).rule == "signed"


def test_a_second_edition_names_the_first_and_both_know_the_total():
    """Also colourways and papers; a sheet is of one of them only."""
    s = studio()
    second = a.Declare("slack water ii", "Slack Water", "Wren Halloran", 15, sibling=P,
                       relation="second edition")
    s.do(second, number("K1", 1))
    assert s.no(a.Declare("x", "X", "Y", 5, sibling="nowhere", relation="paper")).rule == "sibling"
    assert s.no(a.Declare("x", "X", "Y", 5, sibling=P)).rule == "sibling"
    assert [(x.id, x.relation, x.size) for x in edition_siblings(s.register, "slack water ii")] == [
        (P, None, 30)]
    assert [(x.id, x.relation) for x in edition_siblings(s.register, P)] == [
        ("slack water ii", "second edition")]
    assert joint_total(s.register, P) == joint_total(s.register, "slack water ii") == 45
    no = s.no(a.GiveNumbers("slack water ii", (("K1", 1),)))
    assert (no.rule, no.why) == ("elsewhere", "K1 is 1/30 of slack water")


def test_a_sheet_of_an_open_edition_that_is_signed_stands_as_unnumbered():
    """Not as one that is still to be sorted."""
    s = studio(size=None, form="open", caps={})
    s.do(a.Sign(P, ("K1",)))
    assert [(r.label, r.standing) for r in edition_view(s.register, P).rows] == [
        ("unnumbered", "signed")]


def test_an_open_edition_has_numbers_without_a_total():
    """They go on, and a sheet may be signed without one."""
    s = studio(size=None, form="open", caps={})
    s.do(number("K1"), number("K2"), sign("K1", "K3"))
    assert on_sheet(s, "K2") == "2"
    assert taken_numbers(s.e).next == 3
    assert edition_figures(s.register, P).declared is None


def test_varied_and_roman_editions_are_written_their_way():
    """E.V. before the number; Roman numerals for the whole edition or its proofs."""
    s = studio(form="varied")
    s.do(number("K1", 4), a.GiveProof(P, "K2", "AP"))
    assert (on_sheet(s, "K1"), on_sheet(s, "K2")) == ("E.V. 4/30", "AP I/III")
    r = studio(roman=True, roman_proofs=False)
    r.do(number("K1", 4), a.GiveProof(P, "K2", "AP"))
    assert (on_sheet(r, "K1"), on_sheet(r, "K2")) == ("IV/XXX", "AP 1/3")
    assert Studio().no(declared(4000, roman=True)).rule == "roman"


def test_a_later_recipe_that_says_otherwise_changes_nothing():
    """It is warned about."""
    s = studio()
    assert recipe_differences(s.e, 50, {"AP": Cap(5), "PP": Cap(1)}) == (
        "This recipe says an edition of 50; it stays 30", "This recipe says AP 5; you declared 3")
    assert recipe_differences(s.e, 30, {}) == ()


# -- proofs -------------------------------------------------------------------------------


def test_caps_warn_and_do_not_refuse():
    """The fourth of three AP is given, and shown as one too many."""
    s = studio()
    for mark in ("K1", "K2", "K3"):
        s.do(a.GiveProof(P, mark, "AP"))
    fourth = a.GiveProof(P, "K4", "AP")
    assert "AP: 3 given of 3; this is one more" in warned(s, fourth)
    s.do(fourth)
    ap = proof_figures(s.register, P)["AP"]
    assert (ap.given, ap.cap, ap.over) == (4, 3, 1)
    assert proof_figures(s.register, P)["PP"].given == 0


def test_there_is_one_bat():
    """A second is refused by the name of the first, and so is a standard beside it."""
    s = studio()
    s.do(a.GiveProof(P, "K1", "BAT", by="Wren"))
    assert s.no(a.GiveProof(P, "K2", "BAT")).why == "The BAT is K1; there is one"
    assert s.no(number("K1", 1)).rule == "BAT"
    s.do(a.Put(P, "K1", "drawer"))
    assert s.no(a.NameStandard(P, "K2")).rule == "single"
    assert bat_words(s.e) == "K1, passed by Wren: in the drawer"
    assert edition_view(s.register, P).standard == "K1"
    s.do(a.TakeNumberBack(P, "K1"), a.GiveProof(P, "K3", "BAT"))


def test_proofs_inside_the_total_leave_fewer_numbers():
    """Size 4 with one AP inside: three numbers and no more."""
    s = studio(size=4, caps={"AP": Cap(1, inside=True), "PP": Cap(1)})
    s.do(a.GiveProof(P, "K1", "AP"), number("K2"), number("K3"), number("K4"))
    no = s.no(number("K5"))
    assert (no.rule, no.why) == ("total", "The edition of 4 is full: AP count inside it")
    s.do(a.GiveProof(P, "K5", "PP"))
    t = edition_totals(s.e)
    assert (t.numbered, t.inside, t.outside, t.in_total, t.everything) == (3, 1, 1, 4, 5)


def test_proof_kinds_are_the_trades():
    """What is said at the press is not given at sorting; an unknown word is answered by a list."""
    s = studio()
    assert s.no(a.GiveProof(P, "K1", "TP")).why == "You set TP at the press"
    assert s.no(a.GiveProof(P, "K1", "XX")).mend.startswith("write BAT, AP, PP, HC, presentation")
    assert s.no(a.GiveProof(P, "K1", "BAT", 2)).rule == "kind"
    s.do(a.GiveProof(P, "K1", "AP", 2))
    assert s.no(a.GiveProof(P, "K2", "AP", 2)).why.startswith(
        "AP II/III is K1; a number is used once")


# -- signing ------------------------------------------------------------------------------


def test_nothing_signed_changes():
    """Not by number, kind or take-back; the refusal points to the pencil."""
    s = studio()
    s.do(number("K1", 1), sign("K1"))
    for action in (number("K1", 2), a.TakeNumberBack(P, "K1"), a.GiveProof(P, "K1", "AP")):
        no = s.no(action)
        assert no.why == "K1 is signed as 1/30; you cannot change it"
    assert s.no(sign("K1")).why == "K1 is signed already"


def test_a_sheet_is_signed_once_it_is_something():
    """A whole sitting is refused for one sheet without a number."""
    s = studio()
    s.do(number("K1", 1))
    assert s.no(sign("K1", "K2")).mend == "number it first, or keep it as a proof"
    assert s.held("K1").signed is None


# -- the plate ----------------------------------------------------------------------------


def test_a_cancelled_plate_gives_one_proof_and_nothing_more():
    """What was pulled before can still be numbered; what is pulled after cannot."""
    s = studio()
    proof = a.GiveProof(P, "L1", "cancellation proof")
    s.pull(sheet("L1", pulled_ms=START_MS + HOUR), sheet("L2", pulled_ms=START_MS + HOUR))
    assert s.no(proof).rule == "cancelled"
    s.do(a.CancelPlate(P, "two scored lines", day="2026-05-03"))
    assert s.no(a.CancelPlate(P, "again")).why == (
        "The plate was cancelled on 3 May 2026 already: two scored lines")
    s.do(proof, number("K1", 1))
    assert s.no(number("L2", 2)).rule == "cancelled"
    assert s.no(a.GiveProof(P, "L2", "AP")).rule == "cancelled"
    assert s.no(a.GiveProof(P, "L2", "cancellation proof")).why.startswith(
        "The cancellation proof is L1; a cancelled plate gives one")
    assert s.no(a.Declare("b", "B", "W", 5, sibling=P, relation="paper")).rule == "cancelled"


def test_what_a_plate_gave_is_counted_in_all():
    """Also un-numbered sheets, and what it gave before this book; not known is not nought."""
    s = Studio(sheet("K1", plates=("tone", "key")), sheet("K2", plates=("tone",), purpose="TP"))
    s.do(declared(), a.TellPlate(P, "key", state="steel-faced", before=60))
    tone, key = plate_figures(s.register, P)
    assert (tone.name, tone.pulls, tone.before, tone.total) == ("tone", 2, None, 2)
    assert (key.pulls, key.before, key.total, key.state) == (1, 60, 61, "steel-faced")
    assert s.no(a.TellPlate(P, "key")).rule == "nothing"


# -- the pencil ---------------------------------------------------------------------------


def test_the_book_follows_the_pencil_also_after_signing_and_names_the_clash():
    """Visible as a correction; the clash is on every list until it is resolved."""
    s = studio()
    s.do(number("K1", 8), number("K2", 9), sign("K1", "K2"),
         a.Correct(P, "K1", SheetLabel("edition", 9), "looked: it says 9"))
    assert on_sheet(s, "K1") == "9/30"
    assert s.held("K1").corrections[0].was.number == 8
    (clash,) = unsettled_clashes(s.register, P)
    assert clash.text == "9/30 is on K1 and K2"
    assert clash.numbers == (9,)
    assert clash.text in next(r for r in sheet_rows(s.register, P) if r.sheet == "K2").clashes
    assert clash.text in warned(s, number("K3", 1))
    mended = a.Correct(P, "K2", SheetLabel("edition", 8), "it says 8")
    assert warned(s, mended) == ()
    s.do(mended)
    assert unsettled_clashes(s.register, P) == ()


def test_a_clash_is_settled_with_a_reason_and_comes_back_with_a_third_sheet():
    """What was settled is settled for these sheets alone."""
    s = studio()
    s.do(number("K1", 9), sign("K1"), a.Correct(P, "K2", SheetLabel("edition", 9), "pencil"))
    key = unsettled_clashes(s.register, P)[0].key
    assert s.no(a.Settle(P, key, " ")).rule == "reason"
    assert s.no(a.Settle(P, "another", "why")).rule == "clash"
    s.do(a.Settle(P, key, "both sold, the buyers know"))
    assert unsettled_clashes(s.register, P) == ()
    assert s.no(number("K3", 9)).rule == "taken"
    s.do(a.Correct(P, "K3", SheetLabel("edition", 9), "this one too"))
    assert len(unsettled_clashes(s.register, P)) == 1


def test_destroying_one_of_two_resolves_their_clash():
    """The one that is left has the number alone."""
    s = studio()
    s.do(number("K1", 9), a.Correct(P, "K2", SheetLabel("edition", 9), "pencil"),
         a.Destroy(P, "K2", "torn up, number doubled"))
    assert unsettled_clashes(s.register, P) == ()
    assert taken_numbers(s.e).taken == (9,)


@pytest.mark.parametrize(("bears", "words"), [
    (SheetLabel("edition", 31), "31/30 is on K1, but the edition is 30"),
    (SheetLabel("edition", 3, 40), "is marked 3/40, but the edition is 30"),
])
def test_pencil_that_does_not_fit_the_edition_is_recorded_and_named(bears, words):
    """A number beyond N, or another total."""
    s = studio()
    s.do(a.Correct(P, "K1", bears, "looked"))
    assert words in unsettled_clashes(s.register, P)[0].text


def test_a_destroyed_sheet_that_is_there_after_all_is_corrected():
    """And a correction that says what the book has is none."""
    s = studio()
    s.do(number("K1", 1), a.Destroy(P, "K1", "burnt"))
    same = a.Correct(P, "K1", SheetLabel("edition", 1), "found behind the press")
    assert s.no(same).rule == "already"
    s.do(a.Correct(P, "K1", SheetLabel("edition", 1), "found behind the press", destroyed=False))
    assert taken_numbers(s.e).taken == (1,)


# -- old papers ---------------------------------------------------------------------------


def test_numbers_known_only_from_old_papers_stand_without_an_impression():
    """They are counted apart, and their numbers are taken."""
    s = studio()
    s.do(a.Recall(P, (
        a.Recalled("the 2019 notebook", 1, signed=True, place="sold", words={"to": "M. Okafor"}),
        a.Recalled("the 2019 notebook", 2, signed=True, destroyed="water"),
        a.Recalled("the 2019 notebook", None, kind="BAT", signed=False))))
    assert (taken_numbers(s.e).taken, taken_numbers(s.e).void,
            taken_numbers(s.e).next) == ((1,), (2,), 3)
    f = edition_figures(s.register, P)
    assert (f.printed, f.signed, f.left, f.papers, f.old.signed, f.old.out) == (5, 0, 0, 3, 2, 1)
    assert (f.old.numbered, f.old.destroyed, f.old.unknown, f.old.in_studio) == (2, 1, 1, 0)
    assert (f.pulled.in_studio, f.pulled.unknown, f.pulled.numbered) == (5, 0, 0)
    assert s.no(number("K1", 1)).why.startswith("1/30 is a sheet from old papers")
    assert s.no(a.Lower(P, 20, "short")).rule == "signed"


def test_one_bad_line_of_an_old_paper_leaves_all_of_it_out():
    """And every bad line is named by its place."""
    s = studio()
    s.do(number("K1", 4))
    lines = (a.Recalled("card", 1), a.Recalled("card", 4), a.Recalled("card", 1),
             a.Recalled("card", 99), a.Recalled("card", 5, place="moon"))
    assert s.no(a.Recall(P, lines)).rule == "taken"
    found = check_recall(s.register, a.Recall(P, lines), s.clock.now())
    assert [(x.place, x.refusal.rule, x.first) for x in found] == [
        (1, "taken", None), (2, "twice", 0), (3, "size", None), (4, "place", None)]
    assert found[0].refusal.mend == "next is 5/30; free: 2, 3, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14 " \
        "and 16 more"


# -- where they are -----------------------------------------------------------------------


def test_where_is_answers_at_once_and_keeps_private_words_home():
    """To whom is said only when it is asked for; it lies in a stream of its own."""
    s = studio()
    s.do(number("K1", 12), sign("K1"), a.HandOut(
        P, "K1", "gallery", terms="consignment", day="2026-05-03", due="2026-09-01",
        words={"to": "The Quay, Mrs Anand"}))
    (found,) = where_number_is(s.register, P, 12)
    assert found.text == ("12/30 is K1: signed, with a gallery, consignment, since "
                          "3 May 2026, due back 1 Sept 2026")
    assert "to: The Quay, Mrs Anand" in where_number_is(s.register, P, 12, private=True)[0].text
    public = [e for e in s.entries if not e.stream.endswith("/private")]
    assert len(public) == len(s.entries) - 1
    assert "Anand" not in str(public)
    assert where_number_is(s.register, P, 13) == ()


def test_a_sheet_goes_out_once_and_comes_back():
    """From a gallery it may be sold; sold once, it is not sold again."""
    s = studio()
    s.do(number("K1", 1), sign("K1"), a.HandOut(P, "K1", "gallery"), a.HandOut(P, "K1", "sold"))
    assert s.no(a.HandOut(P, "K1", "given")).why == "K1 was sold already"
    assert s.no(a.Put(P, "K1", "framed")).rule == "out"
    assert edition_figures(s.register, P).left == 1
    s.do(a.TakeIn(P, "K1"), a.Put(P, "K1", "framed"))
    assert edition_figures(s.register, P).left == 0
    assert s.no(a.TakeIn(P, "K1")).rule == "place"
    assert s.no(a.HandOut(P, "K1", "sold", due="2026-09-01")).rule == "due"
    assert s.no(a.HandOut(P, "K1", "gallery", due="soon")).rule == "day"


def test_what_has_happened_is_on_no_day_to_come_and_on_none_before_the_pull():
    """Nor before the move it follows; the day a sheet was lost, found or moved is kept."""
    s = studio()
    s.clock.advance(20 * 24 * HOUR)
    s.do(number("K1", 1), sign("K1"))
    for day, why in (("2026-05-24", "24 May 2026 is in the future"),
                     ("2026-05-02", "K1 was pulled on 3 May 2026, after 2 May 2026")):
        for move in (a.HandOut(P, "K1", "sold", day=day), a.Put(P, "K1", "lost", day=day)):
            assert s.no(move).why == why
        assert s.no(a.CancelPlate(P, "scored", day=day)).rule == "day"
    s.do(a.HandOut(P, "K1", "gallery", day="2026-05-10"))
    assert s.no(a.TakeIn(P, "K1", day="2026-05-09")).why == (
        "K1 is with a gallery, since 10 May 2026: it can't have left earlier, on 9 May 2026")
    assert s.no(a.HandOut(P, "K1", "gallery", day="2026-05-12", due="2026-05-11")).rule == "day"
    s.do(a.TakeIn(P, "K1", day="2026-05-11"), a.Put(P, "K1", "framed", day="2026-05-12"),
         a.Put(P, "K1", "lost", day="2026-05-13"))
    assert [x.day for x in s.held("K1").places] == [
        "2026-05-10", "2026-05-11", "2026-05-12", "2026-05-13"]
    assert where_number_is(s.register, P,
                           1)[0].text.endswith("lost, since 13 May 2026, last framed")


def test_an_unsigned_sheet_that_left_is_counted_apart():
    """It is out all the same; it is warned about before."""
    s = studio()
    out = a.HandOut(P, "K1", "given")
    s.do(number("K1", 1))
    assert warned(s, out) == ("1/30 is not signed",)
    s.do(out)
    f = edition_figures(s.register, P)
    assert (f.signed, f.left, f.pulled.out, f.pulled.out_unsigned) == (0, 0, 1, 1)
    assert s.no(number("K1", 2)).rule == "out"


def test_a_lost_sheet_says_where_it_was_last():
    """And counts as lost, neither in the studio nor out; it had left when it was lost."""
    s = studio()
    s.do(number("K1", 1), sign("K1"), a.HandOut(P, "K1", "gallery"), a.Put(P, "K1", "lost"))
    assert where_number_is(s.register, P, 1)[0].text.endswith("lost, last with a gallery")
    f = edition_figures(s.register, P)
    assert (f.left, f.pulled.lost, f.pulled.out, f.pulled.in_studio) == (1, 1, 0, 4)


# -- lists --------------------------------------------------------------------------------


def test_a_sitting_is_proposed_and_written_from_a_running_list():
    """Next numbers in the order of the sheets; void ones are passed over."""
    s = studio()
    s.do(number("K1", 1), a.VoidNumber(P, 3, "smudged"))
    pairs = propose_numbers(s.register, P, ["K2", "K4", "K3"])
    assert pairs == (("K2", 2), ("K4", 4), ("K3", 5))
    assert running_list(s.register, P, pairs) == ("K2 → 2/30", "K4 → 4/30", "K3 → 5/30")
    s.do(a.GiveNumbers(P, pairs))


def test_every_sheet_is_accounted_for_once():
    """What became of each adds up to what was pulled."""
    s = Studio(*(sheet(f"K{i}") for i in range(1, 6)), sheet("K6", purpose="warm-up"),
               sheet("K7", verdict="spoiled"), sheet("K8", purpose="TP"))
    s.do(declared(), number("K1"), number("K2"), a.GiveProof(P, "K3", "AP"),
         a.Destroy(P, "K4", "hair"), a.VoidNumber(P, 2, "smudged"))
    assert sheet_accounts(s.register, P) == {"edition": 1, "void": 1, "AP": 1, "destroyed": 1,
                                             "undecided": 1, "warm-up": 1, "spoiled": 1, "TP": 1}
    assert sum(sheet_accounts(s.register,
                              P).values()) == edition_figures(s.register, P).printed == 8
    assert proof_figures(s.register, P)["TP"].given == 1


def test_a_sheet_with_a_number_holds_its_pull_fast():
    """The bench asks before a pull is taken back."""
    s = studio()
    assert reason_to_keep_pull(s.register, "K1") is None
    s.do(number("K1", 1))
    assert reason_to_keep_pull(s.register, "K1") == "it is 1/30 of Slack Water"


def test_hostile_words_are_refused_at_the_door():
    """A sign that acts on a terminal is no reason, no name and no place."""
    s = studio()
    for action in (a.Destroy(P, "K1", "torn\x1b[2J"), a.VoidNumber(P, 1, "x\u202e"),
                   a.CancelPlate(P, "\x9b2J"), a.HandOut(P, "K1", "sold", words={"to": "\x07"})):
        assert s.no(action).rule == "text"


def test_a_print_nobody_knows_is_said_so():
    """Nothing is begun by a misspelt name."""
    assert Studio().no(number("K1", 1)).why == "No print slack water is in the book"
    s = Studio(Sheet("K1", "K1", DAY, P))
    assert s.no(number("K9", 1)).rule == "size"
    s.do(declared())
    assert s.no(number("K9", 1)).why == "No sheet K9 is in the book"


def test_a_size_declared_says_how_many_to_plan_for():
    """Proofs inside add nothing."""
    assert planned_impressions(30, {"AP": Cap(3), "PP": Cap(1), "HC": Cap(2, inside=True)}) == 34
    assert planned_impressions(None, {"AP": Cap(3)}) is None


def test_a_signature_no_old_paper_tells_of_is_not_known():
    """Not signed and not unsigned: what rests on it waits until somebody says it."""
    s = studio()
    s.do(a.Recall(P, (a.Recalled("card", 1), a.Recalled("card", 2, signed=False))))
    one, two = (h.sheet for h in s.e.holdings.values())
    assert [signature_words(s.e, s.held(x))
            for x in (one, two)] == ["signature not known", "not signed"]
    assert (edition_figures(s.register, P).old.signed, unsigned_sheets(s.e)) == (0, (two,))
    why = "Nobody has recorded whether 1/30 is signed"
    assert s.no(a.Lower(P, 20, "worn")).why == why
    assert s.no(a.TakeNumberBack(P, one)).why == why
    assert warned(s, a.HandOut(P, one, "sold")) == (why,)
    assert NOT_SIGNED in can_be_wrong(s.register, P, one)
    s.do(a.Correct(P, one, a.AS_IT_IS, "I looked", signed=False))
    assert signature_words(s.e, s.held(one)) == "not signed"
    s.do(a.Lower(P, 20, "worn"), sign(one))
    assert signature_words(s.e, s.held(one)) == "signed"
