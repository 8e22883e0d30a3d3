"""Words about sheets: notes, tags, verdicts, readings and marks, and which sheet they mean."""

from __future__ import annotations

from benchapp.session import actions as a
from benchapp.session.annotate import judged_now
from tests.session.support import SHEETS, Bench, recipe

GRADED = recipe(extra="readings: [{name: tone, unit: grade 1-5, at: Lift}, "
                      "{name: room, unit: degC}]\n")


def test_a_note_goes_to_the_sheet_in_hand_also_before_its_pull():
    """Begun is enough."""
    b = Bench()
    b.say(a.Note("ink stiff"))
    assert [i.notes for i in b.s.impressions] == [("ink stiff",)]
    assert b.s.notes == ()


def test_a_note_goes_to_the_last_pulled_where_none_is_in_hand():
    """In the steps after printing."""
    b = Bench(recipe(after=["{do: Slab, hands: clean}"]), wanted=1)
    b.until("Slab")
    b.say(a.Note("a hair"))
    assert b.sheets[-1].notes == ("a hair",)


def test_a_note_goes_to_the_session_where_there_is_no_sheet_or_it_is_named():
    """Before the first sheet, and by the word `session`."""
    b = Bench(recipe(before=["{do: Screws, hands: clean}"]))
    b.say(a.Note("cold"))
    b.tread()
    b.say(a.Note("warmer", to="session"))
    assert b.s.notes == ("cold", "warmer")
    assert b.refused(a.Note(" ")).why == "The note is empty"
    assert b.refused(a.Note("x", impression=7)).why == "There is no such sheet here"


def test_a_verdict_is_of_the_sheet_in_hand_once_pulled_else_the_last_pulled():
    """And none before there is one."""
    b = Bench()
    assert str(b.refused(a.Judge("keep"))) == (
        "No sheet has been pulled yet; pull one first, or name a sheet by its mark")
    b.until("Lift")
    b.say(a.Judge("keep"))
    b.tread()
    b.say(a.Judge("doubtful"))
    assert [i.verdict for i in b.s.impressions] == ["doubtful", None]


def test_whom_a_verdict_would_be_about_is_told_where_it_is_not_the_sheet_in_hand():
    """What is told is what is then done, at every step of two sheets."""
    told = set()
    b = Bench(wanted=9)
    while len(b.sheets) < 3:
        for verdict in ("keep", "spoiled"):
            whom, before = judged_now(b.s, verdict), {i.ordinal: i for i in b.s.impressions}
            told.add(whom)
            b.say(a.Judge(verdict)) if whom or b.sheets else b.refused(a.Judge(verdict))
            changed = [i for i in b.s.impressions if i.verdict != before.get(i.ordinal, i).verdict]
            if whom == "this try":
                assert any(i.ended for i in b.s.impressions if not i.pulled)
            elif changed:
                assert [i.mark for i in changed] == [whom or b.sheets[-1].mark]
            if whom or b.sheets:
                b.say(a.TakeBack())
        b.tread()
    assert told == {"", "this try", "D1", "D2"}


def test_at_the_end_of_the_day_a_verdict_names_its_sheet():
    """Nothing is in hand then: the last sheet, which may lie under the boards."""
    b = Bench(recipe(after=(SHEETS,)), wanted=1)
    b.until("Left-over damp sheets")
    assert judged_now(b.s, "keep") == judged_now(b.s, "spoiled") == b.sheets[-1].mark
    b.say(a.Judge("spoiled"))
    assert b.sheets[-1].verdict == "spoiled"


def test_what_nobody_said_is_not_judged():
    """Gone through with treads alone, no sheet has a verdict."""
    b = Bench(wanted=1)
    b.to_close()
    assert [i.verdict for i in b.sheets] == [None, None, None]
    assert b.entries("judged") == []


def test_a_tag_is_put_on_once_and_taken_off_only_where_it_is():
    """Both refusals name the sheet."""
    b = Bench()
    b.until("Lift")
    b.say(a.Tag("salty"))
    assert b.refused(a.Tag("salty")).why == "D1 has the tag salty already"
    assert str(b.refused(a.Tag("lint", off=True))) == "D1 has no tag lint; its tags: salty"
    b.say(a.Tag("salty", off=True))
    assert b.sheets[0].tags == ()
    assert b.refused(a.Tag(" ")).why == "The tag is empty"


def test_words_about_a_sheet_that_is_none_touch_no_other():
    """A tag, a reading, a verdict, a note, a for, a mark of sheet 9."""
    b = Bench()
    b.until("Lift")
    for action in (a.Tag("lint", 9), a.TakeReading("tone", "3", impression=9), a.Judge("keep", 9),
                   a.SayFor("TP", impression=9), a.GiveMark("K1", 9), a.LookAgain(9)):
        assert b.refused(action).why == "No sheet has been pulled yet", action


def test_a_reading_has_its_recipes_unit_and_only_its_grades():
    """A figure; the last one taken stands."""
    b = Bench(GRADED)
    b.until("Lift")
    b.say(a.TakeReading("tone", "3"))
    b.say(a.TakeReading("tone", "4"))
    assert [(r.name, r.value, r.unit) for r in b.sheets[0].readings] == [
        ("tone", "4", "grade 1-5")]
    assert str(b.refused(a.TakeReading("tone", "6"))) == (
        "6 is not a grade 1-5; write a whole grade 1-5")
    assert b.refused(a.TakeReading("tone", "dark")).why == "dark is not a number"
    assert b.refused(a.TakeReading("room", "21", "K")).why == "room is read in degC, not in K"
    assert b.refused(a.TakeReading(" ", "3")).why == "The reading has no name"


def test_a_reading_before_any_sheet_is_a_setting():
    """The room's warmth, in force from the first pull."""
    b = Bench(GRADED)
    b.say(a.TakeReading("room", "21"))
    assert [(x.name, x.value, x.since) for x in b.s.settings] == [("room", "21 degC", 1)]


def test_a_mark_already_on_the_sheet_may_be_given_once():
    """In its one spelling; never that of another sheet, here or elsewhere in the book."""
    b = Bench()
    b.until("Lift")
    b.tread()
    b.until("Lift")
    b.say(a.GiveMark("k 07"))
    assert [i.mark for i in b.sheets] == ["D1", "K7"]
    assert b.refused(a.GiveMark("k7", 1)).why == "K7 is on another sheet"
    assert b.refused(a.GiveMark("K7")).why == "The sheet has the mark K7 already"
    assert b.refused(a.GiveMark(" ")).why == "The mark is empty"
    assert b.refused(a.GiveMark("C3", taken_by="sheet 3 of 2026-04-30")).why == (
        "C3 is sheet 3 of 2026-04-30")


def test_a_mark_given_ahead_is_not_given_again_to_the_sheet_it_would_have_been():
    """D3 pencilled on the second sheet: the third is D3b."""
    b = Bench()
    b.until("Lift")
    b.tread()
    b.until("Lift")
    b.say(a.GiveMark("D3"))
    b.tread()
    b.until("Lift")
    assert [(i.number, i.mark) for i in b.sheets] == [(1, "D1"), (2, "D3"), (3, "D3b")]


def test_look_again_marks_the_sheet_in_hand_once():
    """Also while inky, before its pull."""
    b = Bench()
    b.say(a.LookAgain())
    assert b.s.impressions[0].look_again is True
    assert b.refused(a.LookAgain()).why == (
        "The sheet in hand is already marked to look at again")


def test_a_closed_session_takes_judgements_and_corrections():
    """For days after; nothing else."""
    b = Bench(GRADED, wanted=1)
    b.to_close()
    for action in (a.Judge("keep", 1), a.Tag("lint", 2), a.Note("dried well"), a.SayFor("TP", None,
                   3), a.TakeReading("tone", "2", impression=1), a.GiveMark("Q1", 1),
                   a.LookAgain(2), a.LeftOff("sort on Friday"), a.ReworkPlate(None, "II")):
        b.say(action)
    for action in (a.GoOn(), a.Enough(), a.OneMore(), a.Pause(), a.Set("x", "y"), a.End()):
        assert str(b.refused(action)) == (
            "The session is closed; you can still judge its sheets and write notes; read it back "
            "with `benchapp review 2026-05-03`, sort its sheets with `benchapp sort 2026-05-03`")


def test_the_sentence_left_off_with_is_kept():
    """Shown first at resume; an empty one is refused."""
    b = Bench()
    b.say(a.LeftOff("second pack resting, plate wiped"))
    assert b.view.left_off == "second pack resting, plate wiped"
    assert b.refused(a.LeftOff("")).why == "The sentence is empty"
