"""Skip, redo, I am here, spoil before the pull, end as it is."""

from __future__ import annotations

import pytest

from benchapp.session import actions as a
from benchapp.session.annotate import judged_now
from benchapp.session.state import TaskKey
from tests.session.support import (
    DAY,
    INK,
    LIFT,
    MIN,
    PULL,
    RAGS,
    TWO,
    WARM,
    WIPE,
    Bench,
    recipe,
)

LONG = recipe(each=(INK, WIPE, PULL, LIFT, "{do: Boards, hands: clean}"), after=[RAGS])


# -- skip -------------------------------------------------------------------------------------


def test_a_step_is_skipped_with_the_reason_why():
    """Its time is not taken, and the reason is in the book."""
    b = Bench(LONG)
    b.tread()
    b.say(a.SkipStep("tone wanted"))
    assert b.hand == "Wash and dry hands"
    assert [(w.how, w.why, w.taken) for w in b.ended("Wipe")] == [("skipped", "tone wanted", False)]


def test_what_is_not_skipped():
    """No reason, a pull, a step that asks a fact."""
    b = Bench(LONG, wanted=1)
    assert b.refused(a.SkipStep("  ")).why == "A skipped step needs a reason"
    b.until("Pull")
    assert str(b.refused(a.SkipStep("no"))) == (
        "You cannot skip a pull; say end after an earlier pull, or spoiled before the first")
    b.until("Rags")
    refusal = b.refused(a.SkipStep("later"))
    assert (refusal.why, refusal.must) == ("Rags must be answered", ("in the can", "hung open"))


def test_a_wait_is_not_skipped_but_cut_short():
    """No hands step is in progress."""
    b = Bench(recipe(each=(INK, "{do: Settle, hands: free, time: 6 min}", PULL, LIFT)))
    b.work("Ink")
    assert b.refused(a.SkipStep("no time")).why == "No step is in progress"


# -- redo -------------------------------------------------------------------------------------


def test_redo_makes_a_step_and_those_after_it_due_again():
    """Before the pull: inked again, wiped again, both as attempt 2."""
    b = Bench(LONG)
    b.work("Ink", 5)
    b.work("Wipe", 9)
    b.say(a.Redo("each.1"))
    assert (b.hand, b.s.work[TaskKey("each.1", 1)].attempt) == ("Ink", 2)
    b.work("Ink", 4)
    b.work("Wipe", 6)
    assert [(w.attempt, w.finished_t - w.started_t) for w in b.ended("Ink")] == [
        (1, 5 * MIN), (2, 4 * MIN)]
    assert [(w.attempt, w.finished_t - w.started_t) for w in b.ended("Wipe")] == [
        (1, 9 * MIN), (2, 6 * MIN)]


def test_redo_of_the_step_after_does_not_touch_the_one_before():
    """Wiped again; inked once."""
    b = Bench(LONG)
    b.works(["Ink", "Wipe"])
    b.say(a.Redo("each.2"))
    assert b.hand == "Wipe"
    assert len(b.ended("Ink")) == 1


def test_a_wash_in_progress_is_dropped_by_a_redo():
    """Hands are inky still, and it is washed after the step done again."""
    b = Bench(LONG)
    b.works(["Ink", "Wipe"])
    assert b.hand == "Wash and dry hands"
    b.say(a.Redo("each.2"))
    assert [w.how for w in b.ended("Wash and dry hands")] == ["dropped"]
    assert b.hands == "inky"


def test_once_pulled_only_a_step_after_the_pull_is_done_again():
    """The lift, yes; the pull and the wiping, no."""
    b = Bench(LONG)
    b.until("Boards")
    for step in ("each.1", "each.2", "each.3"):
        assert b.refused(a.Redo(step)).why == "D1 is pulled already"
    b.say(a.Redo("each.4"))
    assert (b.hand, b.s.work[TaskKey("each.4", 1)].attempt) == ("Lift", 2)


def test_what_is_not_done_is_not_done_again():
    """A step to come, one of another section, one that is none."""
    b = Bench(LONG)
    for step in ("each.1", "each.3", "after.1", "wash", "nothing"):
        assert b.refused(a.Redo(step)).why == "That step is not done yet for this impression"


# -- I am here --------------------------------------------------------------------------------


def test_here_passes_what_lies_between_its_time_not_taken():
    """Two treads forgotten: ink and wipe are passed, the pull is in hand after the wash."""
    b = Bench(LONG)
    b.advance(20)
    b.say(a.Here("each.3"))
    assert [(w.how, w.taken) for w in b.ended("Ink") + b.ended("Wipe")] == [
        ("passed", False), ("passed", False)]
    assert b.hand == "Wash and dry hands"
    b.tread()
    assert b.hand == "Pull"


def test_here_at_the_wash_takes_the_wash_as_done():
    """It is offered there: who types has washed."""
    b = Bench(LONG)
    b.works(["Ink", "Wipe"])
    b.say(a.Here("each.4"))
    assert (b.hand, b.hands) == ("Lift", "clean")
    assert [(w.how, w.taken) for w in b.ended("Wash and dry hands")] == [("passed", False)]


def test_a_pull_passed_over_gives_number_and_mark_its_time_null():
    """The sheet exists; when it went through the press nobody said."""
    b = Bench(LONG)
    b.works(["Ink", "Wipe"])
    b.say(a.Here("each.4"))
    assert [(i.number, i.mark, i.pulls[0].at) for i in b.sheets] == [(1, "D1", None)]
    assert b.entries("pulled")[0].body["at_press"] is False


def test_a_must_is_never_passed():
    """It has to be answered first, with its facts."""
    b = Bench(recipe(after=[RAGS, "{do: Sweep, hands: clean}"]), wanted=1)
    b.until("Rags")
    refusal = b.refused(a.Here("after.2"))
    assert (refusal.why, refusal.must) == ("Rags must be answered first",
                                           ("in the can", "hung open"))


@pytest.mark.parametrize(("step", "why"), [
    ("each.1", "Ink is begun or done already"), ("after.1", "That step is not next"),
    ("nothing", "That step is not next"), ("wash", "That step is not next")])
def test_here_goes_only_forward_in_what_is_in_hand(step, why):
    """Not back, not to another section, not to what is no step."""
    assert Bench(LONG).refused(a.Here(step)).why == why


# -- spoiled before the pull, ended as it is ----------------------------------------------------


def test_spoiled_before_its_pull_the_try_ends_and_has_no_number():
    """The next sheet is begun, and is number 1."""
    b = Bench(LONG)
    b.works(["Ink"])
    b.say(a.Judge("spoiled"))
    assert b.s.impressions[0].ended == "spoiled before the pull"
    assert b.hand == "Ink"
    assert b.s.hand == TaskKey("each.1", 2)
    b.until("Lift")
    assert [(i.ordinal, i.number, i.mark) for i in b.sheets] == [(2, 1, "D1")]


def test_spoiled_is_about_this_try_from_its_first_inky_step_on():
    """While the plate warms it is about the sheet before; what it is about is told alike."""
    b = Bench(recipe(each=(WARM, INK, PULL, LIFT)))
    b.until("Lift")
    b.tread()
    assert b.s.running(TaskKey("each.1", 2))
    assert judged_now(b.s, "spoiled") == "D1"
    b.say(a.Judge("spoiled"))
    assert [(i.verdict, i.ended) for i in b.s.impressions] == [("spoiled", None), (None, None)]
    b.until("Ink")
    assert judged_now(b.s, "spoiled") == "this try"
    b.say(a.Judge("spoiled"))
    assert [(i.verdict, i.ended) for i in b.s.impressions[:2]] == [
        ("spoiled", None), (None, "spoiled before the pull")]


def test_a_plate_laid_aside_half_inked_is_a_try_all_the_same():
    """Another session is opened over it, which lays the inking aside."""
    b = Bench(recipe(each=(INK, PULL, LIFT)))
    b.until("Lift")
    b.tread()
    first = b.s.id
    assert b.hand == "Ink"
    b.shop.open_session("other", DAY, typed=True)
    b.say(a.Judge("spoiled"), first)
    s = b.room.sessions[first]
    assert [(i.verdict, i.ended) for i in s.impressions[:2]] == [
        (None, None), (None, "spoiled before the pull")]


def test_ended_after_an_earlier_pull_it_is_a_progressive_and_does_not_count():
    """Of two plates only the tone: what is left of its steps goes on, the other pull does not."""
    b = Bench(TWO, wanted=1)
    b.say(a.SayFor("edition"))
    b.until("Pull key")
    b.say(a.End())
    assert b.hand == "Lift"
    b.tread()
    imp = b.sheets[0]
    assert (imp.ended, imp.laid, len(imp.pulls), imp.purpose) == ("progressive", True, 1, "edition")
    assert b.view.counting == 0
    assert b.hand == "Ink tone"


def test_a_progressive_is_no_warm_up_by_rule():
    """The first of the day as any other; where the printer said warm-up, it stays one."""
    for said, purpose in ((None, ("edition", "rule")), ("warm-up", ("warm-up", "printer"))):
        b = Bench(TWO, wanted=1)
        b.until("Pull key")
        assert (b.sheets[0].purpose, b.sheets[0].purpose_by) == ("warm-up", "rule")
        if said is not None:
            b.say(a.SayFor(said))
        b.say(a.End())
        assert (b.sheets[0].ended, b.sheets[0].purpose, b.sheets[0].purpose_by) == (
            "progressive", *purpose)


def test_a_spoiled_sheet_is_no_progressive_whichever_is_said_first():
    """And is one after all when it is judged anew; each time the book says so."""
    b = Bench(TWO, wanted=1)
    b.until("Pull key")
    b.say(a.Judge("spoiled"))
    b.say(a.End())
    assert b.sheets[0].ended == "spoiled before the last pull"
    b.say(a.Judge("doubtful", 1))
    assert b.sheets[0].ended == "progressive"
    b.say(a.Judge("spoiled", 1))
    assert b.sheets[0].ended == "spoiled before the last pull"
    assert [e.body["how"] for e in b.entries("impression ended")] == [
        "spoiled before the last pull", "progressive", "spoiled before the last pull"]
    b.back()
    assert b.sheets[0].ended == "progressive"


def test_a_spoiled_sheet_is_set_aside_and_laid_when_it_is_judged_anew():
    """Not laid to dry, with its steps over; a step of it is not done again."""
    b = Bench(LONG)
    b.until("Lift")
    b.say(a.Judge("spoiled"))
    b.until("Ink")
    assert [e.kind for e in b.entries() if e.kind in ("laid to dry", "set aside")] == ["set aside"]
    assert (b.sheets[0].laid, b.sheets[0].aside, b.s.hand) == (False, True, TaskKey("each.1", 2))
    assert str(b.refused(a.Redo("each.4"))).startswith("That step is not done yet for")
    b.say(a.Judge("keep"))
    assert (b.sheets[0].laid, b.sheets[0].aside) == (True, False)


def test_what_has_no_pull_or_its_last_is_not_ended():
    """Both are refused with what to say instead."""
    b = Bench(TWO, wanted=1)
    assert str(b.refused(a.End())) == (
        "The impression in hand has no pull yet; say spoiled to give this try up")
    b.until("Lift")
    assert b.refused(a.End()).why == "D1 has had its last pull"


def test_moves_of_a_session_that_is_not_on_the_bench_are_refused():
    """Hands are at the Bench; only words can be said of another."""
    b = Bench(DAY)
    first = b.s.id
    b.open(DAY)
    for action in (a.GoOn(), a.TakeBack(), a.SkipStep("x"), a.Redo("each.1"), a.Here("each.2"),
                   a.Choose(TaskKey("each.1")), a.End(), a.LeaveStep(b.s.id)):
        assert str(b.refused(action, first)) == (
            "That session is not on the Bench; switch to it first")
    assert b.say(a.Note("wet floor", to="session"), first) == ["noted"]
