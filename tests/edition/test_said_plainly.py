"""What is said of an edition: which rule a refusal names, what to do, what clashes are called."""

from __future__ import annotations

from datetime import date

import pytest

from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.corrections import not_kind
from benchapp.edition.decide import reason_to_keep_pull
from benchapp.edition.ending import is_of_edition
from benchapp.edition.holding import SheetLabel
from benchapp.edition.numbers import used_up
from benchapp.edition.packs import apply_pack_event as damp
from benchapp.edition.packs import of_paper
from benchapp.edition.state import Cap
from benchapp.edition.validators import check_count
from benchapp.edition.view import not_back, propose_numbers
from benchapp.events.pack import PackOut, PackPutIn, PackReadySaid
from tests.edition.support import (
    DAY,
    P,
    Studio,
    declared,
    number,
    sheet,
    sign,
    studio,
    texts,
    warned,
)
from tests.edition.test_apart import meet


def plain(refusal: Refusal) -> tuple[str, str]:
    """Its rule, and all of its words."""
    return refusal.rule, str(refusal)


# -- refusals -------------------------------------------------------------------------------


@pytest.mark.parametrize(("action", "rule", "said"), [
    (a.GiveNumbers(P, ()), "sheet", "No sheet is named; name"),
    (a.Recall(P, ()), "nothing", "No sheet is named; name a number or a proof"),
    (a.Recall(P, (a.Recalled("ledger", 1, place="sold", due="2026-06-01"),)), "due",
     "Only a sheet with a gallery is due back; leave the day out"),
    (a.Recall(P, (a.Recalled("ledger", 4, "AP", of=3),)), "cap",
     "AP IV/III is more than the 3 you declared"),
    (a.Recall(P, (a.Recalled("ledger", 1, "draft"),)), "kind",
     "draft is not a kind of sheet; write edition, "),
    (declared(None), "size",
     "The size of the edition is missing; say how many, or that it is open"),
    (a.NameStandard(P, None), "already", "No standard is named; there is nothing to do"),
    (a.VoidNumber(P, 31, "torn"), "size",
     "31 is not between 1 and 30; name a number in that range"),
    (a.Correct(P, "K1", None, "a slip", destroyed=True), "destroyed",
     "K1 is not recorded as destroyed; record that it was destroyed"),
    (a.CorrectPlace(P, "K1", {"place": "attic"}, "a slip"), "place",
     "attic is not a place; write "),
], ids=["numbers", "paper", "due", "cap", "kind", "size", "standard", "void", "whole", "place"])
def test_a_refusal_says_what_is_wrong_and_what_to_do(
    action: a.Action, rule: str, said: str
) -> None:
    """In the words a printer reads, with the rule that screens look at."""
    s = studio()
    s.do(number("K1", 1), a.Put(P, "K1", "drawer"))
    found, words = plain(s.no(action))
    assert (found, words[:len(said)]) == (rule, said)


@pytest.mark.parametrize(("action", "rule", "said"), [
    (a.Recall(P, (a.Recalled("ledger", 1, place="attic"),)), "place",
     "attic is not a place; write "),
    (a.Recall(P, (a.Recalled("ledger", 1, place="sold", destroyed="burnt"),)), "destroyed",
     "A destroyed sheet is not sold; leave one of the two out"),
    (a.Recall(P, (a.Recalled("ledger", None),)), "number",
     "The number is missing; write its number of the edition"),
    (a.Recall(P, (a.Recalled("ledger", 5, of=40),)), "total",
     "5/40 has another total: the edition is 30; look at the paper again"),
    (a.Recall(P, (a.Recalled("ledger", 1, "AP", of=9),)), "total",
     "1/9 has another total: AP is of 3; look at the paper again"),
    (a.Sign(P, ()), "sheet", "No sheet is named; name"),
    (sign("K2"), "signed", "K2 is signed already; leave it out"),
    (a.GiveProof(P, "K4", "edition"), "kind",
     "A number of the edition is not a proof; number the sheet"),
    (a.GiveProof(P, "K4", "TP"), "kind", "You set TP at the press; say what the pull was for"),
    (a.GiveProof(P, "K4", "AP", 0), "count", "0 is not a number of a proof; from 1 to 9999"),
    (a.HandOut(P, "K2", "drawer"), "place",
     "drawer is not out of the studio; write gallery, given, sold"),
    (a.HandOut(P, "K2", "sold", due="2026-06-01"), "due",
     "A sheet that was sold is not due back; leave terms and day out"),
    (a.Put(P, "K2", "sold"), "place", "sold is not in the studio; write "),
    (declared(30, caps={"draft": Cap(2)}), "kind", "draft is not a kind of proof; write "),
    (declared(30, caps={"AP": Cap(10_000)}), "count",
     "AP: 10000 is not a number of proofs; write 0 to 9999"),
    (declared(30, caps={"BAT": Cap(2)}), "single",
     "BAT: there is only one in an edition; write 1"),
    (a.VoidNumber(P, 3, "torn"), "void",
     "3/30 is void already: K3 was destroyed (fell in the bath); there is nothing to do"),
    (a.VoidNumber(P, 9, "again"), "void", "9/30 is void already: torn; there is nothing to do"),
    (a.UnvoidNumber(P, 8, "a slip"), "void", "8/30 is not void; there is nothing to correct"),
    (a.UnvoidNumber(P, 3, "a slip"), "destroyed",
     "3/30 is K3, which was destroyed; if it is whole: "),
    (a.TellPlate(P, "key"), "nothing",
     "You gave nothing about the plate key; give its state, or how many it gave before"),
    (a.TellPlate(P, "key", before=-1), "count", "-1 is not a number of impressions; from 0 to "),
    (a.SharePlates(P, ("key",)), "sibling",
     "This edition has no other edition beside it; say which with --beside PRINT"),
    (a.NameStandard(P, "K5"), "already",
     "K5 is the BAT: you compare sheets with it; there is nothing to do"),
    (a.Correct(P, "K1", SheetLabel("edition", 10_000, None), "a slip"), "count",
     "10000 is not a number that is written on a sheet; from 1 to 9999"),
    (a.Correct(P, "K1", SheetLabel("edition", 31, 30), "a slip"), "count",
     "31 is more than 30; look at it again"),
    (a.Correct(P, "K1", SheetLabel("edition", None, None), "a slip"), "number",
     "The number written on it is missing; add it"),
    (a.CorrectWords(P, "K2", {"whose": "Wren"}, "a slip"), "kind",
     "K2 is not recorded as a proof; keep it as one first"),
    (a.CorrectPlace(P, "K2", {"place": "gallery", "day": "2026-05-03", "due": "2026-05-01"},
                    "a slip"), "day", "Due back on "),
    (a.CutEdition(P, None, "enough"), "cut",
     "The edition was not cut short; there is nothing to do"),
])
def test_every_refusal_says_what_to_do(action: a.Action, rule: str, said: str) -> None:
    """Of an edition where a sheet is signed, one destroyed, a number void and one the BAT."""
    s = studio()
    s.do(number("K1", 1), number("K2", 2), number("K3", 3), sign("K2"),
         a.Destroy(P, "K3", "fell in the bath"), a.VoidNumber(P, 9, "torn"),
         a.GiveProof(P, "K5", "BAT", by="Wren Halloran"), a.Put(P, "K2", "drawer"))
    found, words = plain(s.no(action))
    assert (found, words[:len(said)]) == (rule, said)


def test_what_is_lost_comes_back_before_it_goes_out() -> None:
    """It is said that it is lost, and what to record first."""
    s = studio()
    s.do(number("K1", 1), sign("K1"), a.Put(P, "K1", "lost"))
    assert plain(s.no(a.HandOut(P, "K1", "sold"))) == (
        "place", "K1 is lost; record that it came back first")


def test_an_edition_goes_down_to_the_numbers_there_are_and_no_lower() -> None:
    """Before the first signature as a short edition, after it by cutting it short."""
    s = studio()
    s.do(number("K1", 4))
    rule, said = plain(s.no(a.Lower(P, 3, "the plate failed")))
    assert (rule, said.startswith("The numbers already take 4")) == ("size", True)
    s.do(sign("K1"))
    rule, said = plain(s.no(a.CutEdition(P, 3, "the plate failed")))
    assert (rule, "The numbers go up to 4 already" in said) == ("size", True)


@pytest.mark.parametrize(("kind", "said"), [
    ("AP", "it is not an AP"), ("HC", "it is not an HC"), ("PP", "it is not a PP"),
    ("BAT", "it is not the BAT")])
def test_a_kind_that_is_wrong_has_its_article(kind: str, said: str) -> None:
    """As it is read aloud."""
    assert not_kind(kind).text == said


def test_a_count_begins_at_one() -> None:
    """One impression is an edition; none is not."""
    assert check_count(1, "impressions") is None
    assert str(check_count(0, "impressions")) == (
        "0 impressions: not between 1 and 9999; write a whole number")


# -- numbers --------------------------------------------------------------------------------


def test_a_sitting_goes_on_to_the_last_number_of_the_edition() -> None:
    """And passes by one that is void; beyond the last there is none to propose."""
    s = studio(5, size=4)
    s.do(a.VoidNumber(P, 2, "torn"))
    assert propose_numbers(s.register, P,
                           ["K1", "K2", "K3", "K4"]) == (("K1", 1), ("K2", 3), ("K3", 4))


def test_numbers_left_out_below_are_told() -> None:
    """Before a sitting that would go on above them."""
    s = studio()
    s.do(number("K1", 1), number("K2", 4), number("K3", 5))
    assert "Still free below: 2, 3" in warned(s, number("K4"))


def test_numbers_used_up_are_those_within_the_size() -> None:
    """A void number beyond a smaller size takes none of it."""
    s = studio()
    s.do(number("K1", 1), a.VoidNumber(P, 9, "torn"))
    assert (used_up(s.e), used_up(s.e, 5), used_up(s.e, 9)) == (2, 1, 2)


def test_a_sheet_that_was_only_signed_or_put_somewhere_keeps_its_pull() -> None:
    """Its pull is not taken back under it."""
    s = Studio(sheet("K1", purpose="TP"), sheet("K2"), sheet("K3"))
    s.do(declared(), sign("K1"), a.Put(P, "K2", "drawer"))
    held = "it is in the register of Slack Water"
    assert [reason_to_keep_pull(s.register, x) for x in ("K1", "K2", "K3")] == [held, held, None]


# -- days -----------------------------------------------------------------------------------


def test_a_day_on_a_cancelled_plate_is_none_of_the_edition() -> None:
    """By its sheets; of a day without a sheet its opening counts."""
    s = studio(1)
    opened = s.clock.now()
    before = s.register.sheets["K1"]
    s.do(a.CancelPlate(P, "scored"))
    late = s.clock.advance(60_000)
    after = sheet("K9", "2026-05-04", pulled_ms=late.wall_ms)
    s.pull(after)
    assert is_of_edition(s.register, P, [before, after], opened)
    assert not is_of_edition(s.register, P, [after], opened)
    assert is_of_edition(s.register, P, [], opened)
    assert not is_of_edition(s.register, P, [], late)


def test_a_sheet_put_somewhere_on_a_day_before_its_pull_is_refused() -> None:
    """And the day that was said is kept with the place."""
    s = studio(1)
    assert s.no(a.Put(P, "K1", "drawer", day="2026-05-02")).rule == "day"
    s.do(a.Put(P, "K1", "drawer", day=DAY))
    place = s.held("K1").place
    assert place is not None
    assert place.day == DAY
    s.do(a.Put(P, "K1", "boards"))
    assert "day" not in s.entries[-1].body


def test_what_is_not_back_is_listed_with_its_edition_the_longest_first() -> None:
    """Which edition it is of, which sheet, and what stands on it."""
    s = studio()
    for sheet_, n, due in (("K1", 1, "2026-05-20"), ("K2", 2, "2026-05-10")):
        s.do(number(sheet_, n), sign(sheet_),
             a.HandOut(P, sheet_, "gallery", due=due))
    found = not_back(s.register, date(2026, 5, 30))
    assert [(x.print, x.sheet, x.text) for x in found] == [
        (P, "K2", "2/30"), (P, "K1", "1/30")]


def test_a_pack_out_of_the_water_comes_before_one_still_in_it() -> None:
    """How it was damped stays with it, and that it was called once it is ready."""
    s = Studio()
    at = s.clock.now()
    packs: dict[str, object] = {}
    for id_ in ("p1", "p2"):
        packs = damp(packs, PackPutIn(
            pack=id_, paper="cotton", sheets=4, method="spray", soak_ms=None, rest_ms=60_000,
            keeps_ms=None, by=None), at, 0)
    packs = damp(packs, PackOut(pack="p2", by=None), at, 0)
    assert packs["p2"].method == "spray"
    assert [p.id for p in of_paper(packs, "cotton", 60_000)] == ["p2", "p1"]
    said = damp(packs, PackReadySaid(pack="p2", by=None), at, 60_000)
    assert (packs["p2"].ready_said, said["p2"].ready_said) == (False, True)


# -- clashes --------------------------------------------------------------------------------


def test_one_sheet_in_two_editions_is_told_by_what_it_is_in_each() -> None:
    """With what to do, and where."""
    other = "other water"
    start = [declared(), a.Declare(other, "Other Water", "Wren Halloran", 9)]
    for both in meet(start, [number("K1", 3)], [a.GiveNumbers(other, (("K1", 5),))]):
        (clash,) = [c for c in unsettled_clashes(both.register, P)
                    if "Other" in c.text or other in c.text]
        assert clash.text == f"K1 is 3/30 here and 5/9 of {other}"
        assert clash.mend.endswith(
            "correct K1 not numbered, with --print and the edition it does not belong to")


def test_standards_named_differently_are_told_by_their_sheets() -> None:
    """No standard named by one book is the BAT."""
    begun = [declared(), a.NameStandard(P, "K1")]
    for both in meet(begun, [a.NameStandard(P, "K2")], [a.NameStandard(P, None)]):
        assert texts(both.register) == [
            "Books name different standards: the BAT and K2"]
