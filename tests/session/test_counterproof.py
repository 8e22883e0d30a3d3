"""A counterproof: a sheet pulled from a fresh impression, and in nothing one from the plate."""

from __future__ import annotations

import pytest

from benchapp.decision import Refusal
from benchapp.edition import actions as acts
from benchapp.edition.decide import as_if, decide_edition, with_sheets
from benchapp.edition.fold import replay_register
from benchapp.history.stats import learn_stats
from benchapp.reports.export_csv import IMPRESSIONS, impression_rows
from benchapp.reports.review import review_session
from benchapp.reports.review_blocks import review_text
from benchapp.session import actions as a
from benchapp.session.annotate import source_mark
from benchapp.session.counting import pull_purpose
from benchapp.session.edition_links import recipe_print_id, session_sheets, sheet_id
from benchapp.views.messages import describe_change
from benchapp.views.sheets import sheet_lines
from tests.session.support import DAMP, Bench
from tests.session.test_counting import pull
from tests.session.test_paper import printing


def with_three(text: str | None = None) -> Bench:
    """Three impressions, the third of which counts, and a fourth in hand."""
    b = Bench() if text is None else Bench(text, wanted=9)
    pull(b, 3)
    return b


def test_it_is_a_sheet_of_its_own_that_names_its_source():
    """Its mark is the next, and it is told in one line; the next pull gets the mark after it."""
    b = with_three()
    before = b.room
    entries = b.do(a.Counterproof()).entries
    assert describe_change(before, b.room, entries)[0] == "Counterproof D4 of D3"
    made = b.sheets[-1]
    assert (made.number, made.mark, made.purpose, made.laid) == (4, "D4", "counterproof", True)
    b.say(a.Counterproof())
    b.say(a.Counterproof(1))
    assert [source_mark(b.s, i) for i in b.sheets] == [None, None, None, "D3", "D3", "D1"]
    pull(b)
    assert [i.mark for i in b.sheets if i.pulls] == ["D1", "D2", "D3", "D7"]


def test_it_does_not_count_and_takes_nothing_of_the_plate():
    """Counting, warm-ups, what is wanted and what the days teach are as without it."""
    b, bare = with_three(), with_three()
    b.say(a.Counterproof())
    b.say(a.Judge("keep"))
    assert (b.view.pulled, bare.view.pulled) == (4, 3)
    assert (b.view.counting, bare.view.counting) == (1, 1)
    assert learn_stats([b.s]).record == learn_stats([bare.s]).record
    sheet = next(x for x in session_sheets(b.s) if x.purpose == "counterproof")
    assert sheet.plates == ()
    assert sheet.pulled_ms == b.now.wall_ms
    early = Bench()
    pull(early)
    early.say(a.Counterproof())
    assert pull_purpose(early.s, early.s.impressions[-2])[0] == "warm-up"


def test_its_damp_sheet_comes_from_the_pack_and_goes_back_with_it():
    """Taken back, its number is free again, and so is its sheet."""
    b = Bench(DAMP, wanted=6)
    printing(b)
    b.work("Pull")
    taken = b.packs[0].taken
    before = b.sheets
    b.say(a.Counterproof())
    assert (b.packs[0].taken, b.sheets[-1].sheets) == (taken + 1, (b.packs[0].id,))
    b.back()
    assert (b.packs[0].taken, b.sheets) == (taken, before)


def test_it_is_refused_only_where_it_cannot_be():
    """With nothing pulled, of a sheet not pulled yet, and with the day closed."""
    b = Bench()
    assert "no fresh impression" in str(b.refused(a.Counterproof()))
    b.tread()
    assert "no fresh impression" in str(b.refused(a.Counterproof(1)))
    done = Bench(wanted=1)
    done.to_close()
    assert "closed" in str(done.refused(a.Counterproof()))


def test_it_stays_what_it_is():
    """What it was pulled for is not said otherwise."""
    b = with_three()
    b.say(a.Counterproof())
    assert str(b.refused(a.SayFor("edition", impression=b.sheets[-1].ordinal))) == (
        "D4 is a counterproof, not pulled from the plate; name the sheet you mean by its mark")


@pytest.mark.parametrize("give", [
    lambda print_, sheet: acts.GiveNumbers(print_, ((sheet, None),)),
    lambda print_, sheet: acts.GiveProof(print_, sheet, "AP"),
    lambda print_, sheet: acts.GiveProof(print_, sheet, "BAT")])
def test_the_edition_never_numbers_it(give):
    """Neither among the edition nor among its proofs."""
    b = with_three()
    b.say(a.Counterproof())
    register = with_sheets(replay_register(b.book.entries(), ""), session_sheets(b.s))
    print_ = recipe_print_id(b.s.recipe)
    declared = decide_edition(register, acts.Declare(print_, "Slack Water", "Wren Halloran", 9,
                                                     "limited", {}), b.now)
    assert not isinstance(declared, Refusal)
    register = as_if(register, declared, b.now)
    sheet = sheet_id(b.s.id, b.sheets[-1].ordinal)
    refused = decide_edition(register, give(print_, sheet), b.now)
    assert str(refused).startswith(
        "D4 is a counterproof: it was pulled from a sheet, not from the plate")


def test_lists_and_papers_name_its_source():
    """Review, JSON, CSV and the list of sheets; a sheet from the plate names none."""
    b = with_three()
    b.say(a.Counterproof())
    review = review_session(b.book.entries(), b.s.id)
    assert [row.counterproof_of for row in review.impressions] == [None, None, None, "D3"]
    assert any("counterproof of D3" in line for line in review_text(review))
    ended = IMPRESSIONS.index("ended")
    assert [row[ended] for row in impression_rows(review)] == [None, None, None,
                                                               "counterproof of D3"]
    assert [(x.purpose, x.ended) for x in sheet_lines(b.s)][-1] == ("counterproof", "of D3")
