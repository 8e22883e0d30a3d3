"""What comes next: lowest sheet first, plates held and freed, and limits that only warn."""

from __future__ import annotations

from benchapp.session import actions as a
from benchapp.session.state import TaskKey
from benchapp.session.step_control import choosable_tasks
from tests.session.support import (
    DAY,
    INK,
    LIFT,
    MIN,
    PULL,
    TWO,
    TWO_EACH,
    WIPE,
    Bench,
    recipe,
)


def test_two_plates_are_inked_washed_once_and_pulled_on_one_sheet():
    """Both pulls belong to one impression with one number and one mark."""
    b = Bench(TWO, wanted=1)
    b.works(["Ink tone", "Ink key", "Wash and dry hands", "Pull tone"])
    assert [(i.number, i.mark, len(i.pulls)) for i in b.sheets] == [(1, "D1", 1)]
    assert b.view.counting == 0
    b.work("Pull key")
    assert [p.plates for p in b.sheets[0].pulls] == [("tone",), ("key",)]
    assert [(i.number, i.mark) for i in b.sheets] == [(1, "D1")]
    b.work("Lift")
    assert b.hand == "Ink tone"


def test_two_plates_pulled_together_are_one_pull():
    """`pulls: [a, b]` is one pass of the press."""
    b = Bench(recipe(plates=("tone", "key"), each=(
        INK, "{do: Pull, hands: clean, pulls: [tone, key]}", LIFT)), wanted=1)
    b.works(["Ink", "Wash and dry hands", "Pull"])
    assert [p.plates for p in b.sheets[0].pulls] == [("tone", "key")]


def test_a_plate_pulled_twice_is_two_pulls_of_one_sheet():
    """The second gives no new number."""
    b = Bench(recipe(each=(INK, PULL, "{do: Again, hands: clean, pulls: key}", LIFT)), wanted=1)
    b.works(["Ink", "Wash and dry hands", "Pull", "Again"])
    assert [(i.number, len(i.pulls)) for i in b.sheets] == [(1, 2)]


def test_the_next_sheet_waits_for_its_plate_and_for_nothing_else():
    """Once lifted the plate is free: inked again though this sheet still has to go to boards."""
    b = Bench(recipe(each=(INK, PULL, LIFT, "{do: Boards, hands: clean}")))
    b.until("Lift")
    assert TaskKey("each.1", 2) not in choosable_tasks(b.room, b.s, b.t)
    b.tread()
    assert b.hand == "Boards"
    assert TaskKey("each.1", 2) in choosable_tasks(b.room, b.s, b.t)
    b.say(a.Choose(TaskKey("each.1", 2)))
    assert (b.hand, b.s.hand) == ("Ink", TaskKey("each.1", 2))
    assert [i.ordinal for i in b.s.impressions] == [1, 2]
    b.say(a.Note("inked early"))
    assert [i.notes for i in b.s.impressions] == [(), ("inked early",)]
    b.tread()
    assert b.s.hand == TaskKey("wash", 1)
    b.tread()
    assert b.s.hand == TaskKey("each.4", 1)


def test_the_lowest_sheet_comes_first():
    """With two in hand, work on the earlier goes before work on the later."""
    b = Bench(recipe(each=(INK, PULL, LIFT, "{do: Boards, hands: clean}")))
    b.until("Boards")
    b.say(a.Choose(TaskKey("each.1", 2)))
    b.works(["Ink", "Wash and dry hands"])
    assert b.s.hand == TaskKey("each.4", 1)
    b.tread()
    assert b.s.hand == TaskKey("each.2", 2)


def test_no_next_sheet_is_begun_by_itself_while_hands_work_is_left():
    """Boards of this sheet come before the ink of the next."""
    b = Bench(recipe(each=(INK, PULL, LIFT, "{do: Boards, hands: clean}")))
    b.works(["Ink", "Wash and dry hands", "Pull", "Lift"])
    assert b.hand == "Boards"
    assert len(b.s.impressions) == 1


def test_steps_of_different_plates_may_be_chosen_in_any_order():
    """Both plates' first steps are free at the start; a step whose own is not done is refused."""
    b = Bench(TWO)
    b.say(a.Choose(b.key("Ink key", 1)))
    assert b.hand == "Ink key"
    assert b.ended("Ink tone") == []
    refusal = b.refused(a.Choose(b.key("Pull tone", 1)))
    assert str(refusal) == "That step cannot begin yet; do the step before it first"
    b.tread()
    assert b.hand == "Ink tone"


def test_an_optional_step_is_offered_until_its_own_plate_is_pulled():
    """Dusting the key plate after the tone's pull is of use; after its own it is too late."""
    b = Bench(recipe(plates=("tone", "key"), each=(
        "{do: Ink tone, hands: inky, plate: tone}", "{do: Dust tone, hands: clean, plate: tone, "
        "optional: true}", "{do: Ink key, hands: inky, plate: key}",
        "{do: Dust key, hands: clean, plate: key, optional: true}",
        "{do: Pull tone, hands: clean, pulls: tone}", "{do: Pull key, hands: clean, pulls: key}",
        "{do: Lift, hands: clean, asks: [verdict]}")))
    offered = {}
    for _ in range(6):
        now = choosable_tasks(b.room, b.s, b.t)
        offered[b.hand] = [do for do in ("Dust tone", "Dust key") if b.key(do, 1) in now]
        b.tread()
    assert offered == {
        "Ink tone": [], "Ink key": ["Dust tone"], "Wash and dry hands": ["Dust tone", "Dust key"],
        "Pull tone": ["Dust tone", "Dust key"], "Pull key": ["Dust key"], "Lift": []}


def test_choosing_what_is_in_hand_or_made_up_is_refused():
    """With the reason."""
    b = Bench(TWO)
    assert b.refused(a.Choose(b.key("Ink tone", 1))).why == "Ink tone is in hand already"
    for key in (TaskKey("nowhere"), TaskKey("each.1", 9), TaskKey("wash"),
                TaskKey("damp.out", pack="p")):
        assert b.refused(a.Choose(key)).why == "That step cannot begin yet"


def test_what_was_laid_aside_is_due_again():
    """The chosen step done, the first comes back as its first attempt."""
    b = Bench(TWO)
    b.say(a.Choose(b.key("Ink key", 1)))
    b.tread()
    assert (b.hand, b.s.work[b.key("Ink tone", 1)].attempt) == ("Ink tone", 1)


def test_a_limit_that_runs_out_is_warned_about_and_never_refused():
    """An inked plate left 17 min: common practice says 15."""
    b = Bench(recipe(each=(INK, WIPE, PULL, LIFT)))
    b.works(["Ink", "Wipe"])
    b.advance(15)
    assert b.view.warnings == ()
    b.advance(2)
    assert b.view.warnings == ("The ink on key has waited 17 min, limit 15",)
    b.tread()
    assert b.hand == "Pull"


def test_two_plates_may_wait_forty_minutes():
    """The limit from step to step of a plate with two or more."""
    b = Bench(TWO)
    b.work("Ink tone")
    b.advance(40)
    assert b.view.warnings == ()
    b.advance(1)
    assert b.view.warnings == ("The ink on tone has waited 41 min, limit 40",)


def test_a_limit_of_the_recipe_stands_in_place_of_common_practice():
    """`within: 8 min` on the pull."""
    b = Bench(recipe(each=(INK, PULL.replace("pulls", "within: 8 min, pulls"), LIFT)))
    b.work("Ink")
    b.advance(9)
    assert b.view.warnings == ("The ink on key has waited 9 min, limit 8",)


def test_a_step_begun_is_no_longer_late():
    """The warning is about what has yet to begin."""
    b = Bench(recipe(each=(INK, PULL.replace("pulls", "within: 8 min, pulls"), LIFT)))
    b.work("Ink")
    b.work("Wash and dry hands", 9)
    assert (b.hand, b.view.warnings) == ("Pull", ())


def test_a_sheet_is_laid_to_dry_when_its_last_step_ends():
    """A last wait counts: it joins the stack when the boards' time is up."""
    b = Bench(recipe(each=(INK, PULL, LIFT, "{do: Blot, hands: free, time: 2 min, ends: itself}")))
    b.works(["Ink", "Wash and dry hands", "Pull", "Lift"])
    assert b.sheets[0].laid is False
    assert "laid to dry" in b.advance(2)
    assert b.sheets[0].laid is True


def test_a_step_before_printing_with_a_wait_holds_printing_back():
    """Nothing is inked until the work before is done."""
    b = Bench(recipe(before=["{do: Heat, hands: free, time: 10 min}", "{do: Felts, hands: clean}"]))
    assert (b.hand, b.waits) == (None, ["Heat"])
    b.advance(10)
    b.tread()
    assert b.hand == "Felts"
    b.tread()
    assert b.hand == "Ink"


def test_durations_are_those_of_the_clock():
    """Started and finished to the millisecond."""
    b = Bench(DAY)
    b.work("Screws", 17.25)
    work = b.ended("Screws")[0]
    assert work.finished_t - work.started_t == 17.25 * MIN
    assert (work.started.wall_ms, work.finished.wall_ms) == (
        1_777_795_200_000, 1_777_795_200_000 + 17.25 * MIN)


def test_no_plate_goes_through_before_every_plate_of_the_sheet_is_inked():
    """The key plate warms longer than the tone is inked: the pull of the tone waits for it."""
    b = Bench(recipe(each=(
        "{do: Ink tone, hands: inky, plate: tone, time: 5 min}",
        "{do: Warm key, hands: free, plate: key, time: 20 min}",
        "{do: Ink key, hands: inky, plate: key, time: 5 min}",
        *TWO_EACH[2:]), plates=("tone", "key")))
    b.work("Ink tone", 5)
    assert b.hand is None
    assert [c.name for c in b.view.clocks] == ["Warm key"]
    assert b.view.next == "Ink key (ends Warm key 15 min early)"
    b.tread()
    assert b.hand == "Ink key"


def test_a_pull_may_be_chosen_before_the_other_plate_is_inked():
    """The printer decides: its own plate is ready."""
    b = Bench(TWO)
    b.work("Ink tone", 5)
    b.say(a.Choose(b.key("Pull tone", 1)))
    b.works(["Wash and dry hands"])
    assert b.hand == "Pull tone"
