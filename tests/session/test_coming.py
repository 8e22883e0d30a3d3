"""Skip, left to and next of an inky step that comes, said from the clean moment before it."""

from __future__ import annotations

import random

import pytest

from benchapp.session import actions as a
from benchapp.session.coming import back_cleans, coming_inky
from benchapp.session.fold import replay_entries
from benchapp.session.step_control import choosable_tasks, choosable_then
from tests.session.support import (
    DAY,
    INK,
    LIFT,
    PLATE_CLEAN,
    PULL,
    RAGS,
    SCREWS,
    TWO,
    TWO_EACH,
    WARM,
    WIPE,
    Bench,
    recipe,
)

REWORK = "{do: Rework, hands: inky, time: 15/40/90 min, plate: key}"
PROOFS = recipe(each=(WARM, INK, PULL, LIFT, REWORK), after=[RAGS],
                extra="proofing: {for: SP, state: II}\n")
SLAB = "{do: Slab, hands: inky, time: 5 min}"
HEAT_OFF = "{do: Hot plate off, hands: clean, must: [off, left on]}"
EVENING = recipe(before=[SCREWS], after=[HEAT_OFF, PLATE_CLEAN, SLAB, RAGS])
#: One plate is inked and pulled, then the other: wet on wet, one after the other.
IN_TURN = recipe(plates=("tone", "key"), each=(
    "{do: Ink tone, hands: inky, plate: tone}", "{do: Pull tone, hands: clean, pulls: tone}",
    "{do: Ink key, hands: inky, plate: key}", "{do: Pull key, hands: clean, pulls: key}", LIFT))


def coming(b: Bench) -> list[str]:
    """The words of what can be said of beforehand."""
    return [b.s.shape.by_id[k.step].do for k in coming_inky(b.room, b.s, b.now)]


def hows(b: Bench, do: str) -> list[tuple[str, str | None, bool]]:
    """How every attempt at a step ended, why, and whether its time was taken."""
    return [(w.how, w.why, w.taken) for w in b.ended(do)]


def test_what_comes_is_the_inky_work_up_to_the_wash_seen_from_a_clean_moment_alone():
    """Through waits, into the next sheet; nothing with inky hands or before a clean step."""
    b = Bench(recipe(each=(WARM, INK, WIPE, PULL, LIFT)))
    b.advance(1)
    assert (b.hand, coming(b)) == (None, ["Ink", "Wipe"])
    b.advance(1)
    assert (b.hand, coming(b)) == ("Ink", [])
    b.until("Pull")
    assert coming(b) == []
    b.tread()
    assert (b.hand, coming(b)) == ("Lift", ["Ink", "Wipe"])
    b.say(a.Pause())
    assert coming(b) == []


def test_the_last_rework_is_skipped_from_the_look_before_it_and_hands_stay_clean():
    """Enough, skip the rework, go on: no rework in the book, no wash before the clean step."""
    b = Bench(PROOFS)
    b.until("Lift")
    b.say(a.Enough())
    assert coming(b) == ["Rework"]
    assert b.say(a.SkipStep("last proof", b.key("Rework", 1))) == ["skip said"]
    assert (b.hand, b.view.next) == ("Lift", "Rags")
    b.tread()
    assert (b.hand, b.hands) == ("Rags", "clean")
    assert hows(b, "Rework") == [("skipped", "last proof", False)]
    assert [e for e in b.entries("step started") if e.body["step"] == b.id_of("Rework")] == []


def test_a_step_of_a_sheet_not_begun_is_skipped_and_nothing_begins_early():
    """Said at the lift: the warming begins with the next sheet, as it always does."""
    b = Bench(PROOFS)
    b.until("Lift")
    b.say(a.SkipStep("no rework", b.key("Rework", 1)))
    assert coming(b) == ["Ink"]
    b.say(a.SkipStep("a blind proof", b.key("Ink", 2)))
    assert len(b.s.impressions) == 1
    b.tread()
    assert (b.hand, b.waits) == (None, ["Warm"])
    b.advance(2)
    assert (b.hand, b.hands) == ("Pull", "clean")
    assert hows(b, "Ink")[1:] == [("skipped", "a blind proof", False)]


def test_a_progressive_after_one_plate_needs_no_time_for_work_nobody_did():
    """The key is not inked: its pull is left out, the tone alone is on the sheet."""
    b = Bench(IN_TURN)
    b.until("Pull tone")
    b.say(a.SkipStep("progressive", b.key("Ink key", 1)))
    b.tread()
    assert (b.hand, b.hands) == ("Pull key", "clean")
    b.say(a.End())
    assert b.hand == "Lift"
    assert [p.plates for p in b.sheets[0].pulls] == [("tone",)]
    assert hows(b, "Ink key") == [("skipped", "progressive", False)]


def test_of_two_plates_inked_one_after_the_other_the_second_is_skipped_before_the_first():
    """Hands are not clean between them: so both are named at the clean moment before."""
    b = Bench(TWO)
    b.until("Lift")
    assert coming(b) == ["Ink tone", "Ink key"]
    b.say(a.SkipStep("progressive", b.key("Ink key", 2)))
    b.works(["Lift", "Ink tone", "Wash and dry hands", "Pull tone"])
    b.say(a.End())
    assert (b.hand, b.sheets[1].ended) == ("Lift", "progressive")


def test_the_slab_is_left_to_the_other_session_from_the_clean_moment_before_the_plate():
    """Its turn comes behind the plate's; then it is left, and is the other's."""
    b = Bench(recipe(before=[SCREWS]), wanted=1)
    other = b.s.id
    b.open(EVENING, wanted=1)
    b.until("Hot plate off")
    assert coming(b) == ["Plate clean", "Slab"]
    assert b.say(a.LeaveStep(other, b.key("Slab"))) == ["leave said"]
    b.say(a.Must("off"))
    b.works(["Plate clean", "Wash and dry hands"])
    assert b.hand == "Rags"
    assert hows(b, "Slab") == [("left", None, False)]
    assert [x.do for x in b.room.sessions[other].inherited] == ["Slab"]


def test_what_was_to_be_left_is_due_where_the_other_session_is_closed_by_then():
    """Nobody is left to do it there."""
    b = Bench(DAY, wanted=1)
    other = b.s.id
    b.open(EVENING, wanted=1)
    b.until("Hot plate off")
    b.say(a.LeaveStep(other, b.key("Slab")))
    b.say(a.SwitchSession(other, typed=True))
    b.say(a.Discard())
    b.say(a.SwitchSession(next(s.id for s in b.room.open_sessions), typed=True))
    b.until("Slab")
    assert b.room.sessions[other].inherited == ()


def test_the_other_plate_is_inked_first_where_that_was_chosen_before():
    """The step in hand is done first, and the one put later comes after."""
    b = Bench(TWO)
    b.until("Lift")
    then = choosable_then(b.room, b.s, b.now)
    assert b.key("Ink key", 2) in then
    assert b.key("Ink tone", 2) not in then
    b.say(a.Choose(b.key("Ink key", 2), then=True))
    assert b.view.next == "Ink key"
    b.works(["Lift", "Ink key", "Ink tone", "Wash and dry hands", "Pull tone"])


def test_what_was_said_of_a_step_that_comes_is_taken_back_like_anything_said():
    """Skipped no more, left no more, in its place again."""
    b = Bench(recipe(before=[SCREWS]), wanted=1)
    other = b.s.id
    b.open(EVENING, wanted=1)
    b.until("Hot plate off")
    for action in (a.SkipStep("tomorrow", b.key("Plate clean")),
                   a.LeaveStep(other, b.key("Slab"))):
        b.say(action)
        b.back()
    assert (dict(b.s.to_skip), dict(b.s.to_leave)) == ({}, {})
    b.say(a.Must("off"))
    b.works(["Plate clean", "Slab"])


def test_what_was_said_of_a_step_that_comes_is_changed_however_much_was_said_since():
    """Not skipped after all, not left after all; of another step nothing was said."""
    b = Bench(DAY, wanted=1)
    other = b.s.id
    b.open(EVENING, wanted=1)
    b.until("Hot plate off")
    b.say(a.SkipStep("tomorrow", b.key("Plate clean")))
    b.say(a.LeaveStep(other, b.key("Slab")))
    b.say(a.Note("cold in here", to="session"))
    assert b.say(a.SkipStep("", b.key("Plate clean"), off=True)) == ["skip said"]
    assert b.say(a.LeaveStep("", b.key("Slab"), off=True)) == ["leave said"]
    assert b.refused(a.SkipStep("", b.key("Slab"),
                                off=True)).why == "That step is not marked to skip or to leave"
    b.say(a.Must("off"))
    b.works(["Plate clean", "Slab"])


def test_only_what_comes_before_the_wash_can_be_named():
    """Not a clean step, not one behind it, not of a sheet far off, nor with inky hands."""
    b = Bench(EVENING, wanted=1)
    other = b.s.id
    b.open(EVENING, wanted=1)
    b.until("Lift")
    mend = "name the one in hand, or an inky one that comes before the wash"
    for key in (b.key("Plate clean"), b.key("Rags"), b.key("Ink", 9)):
        assert str(b.refused(a.SkipStep("x", key))) == f"That step is not next; {mend}"
    assert b.refused(a.LeaveStep(other, b.key("Slab"))).why == "That step is not next"
    assert b.refused(a.Choose(b.key("Rags"), then=True)).why == "That step cannot begin then"
    b.until("Plate clean")
    assert b.refused(a.SkipStep("x", b.key("Slab"))).why == "That step is not next"


def test_a_step_to_be_skipped_is_skipped_also_where_the_printer_says_i_am_here():
    """What was passed is done; what was to be skipped is not."""
    b = Bench(recipe(each=(INK, WIPE, PULL, LIFT)))
    b.until("Lift")
    b.say(a.SkipStep("tone wanted", b.key("Wipe", 2)))
    b.works(["Lift"])
    b.say(a.Here(b.id_of("Pull")))
    assert [how for how, _, _ in hows(b, "Ink") + hows(b, "Wipe")] == [
        "done", "passed", "done", "skipped"]


def test_a_tread_into_inky_work_taken_back_brings_the_clean_moment_back():
    """At the lift, and in the wait that was cut short: hands are as they were."""
    b = Bench(PROOFS)
    b.until("Lift")
    b.tread()
    assert (b.hand, b.hands) == ("Rework", "inky")
    b.advance(4)
    b.back()
    assert (b.hand, b.hands, coming(b)) == ("Lift", "clean", ["Rework", "Ink"])
    b.say(a.SkipStep("nothing to rework", b.key("Rework", 1)))
    b.tread()
    assert (b.hand, b.waits) == (None, ["Warm"])
    b.tread()
    assert (b.hand, b.hands) == ("Ink", "inky")
    b.back()
    assert (b.hand, b.hands, b.waits) == (None, "clean", ["Warm"])
    assert len(b.ended("Lift")) == 1


def test_inky_work_begun_by_the_end_of_a_wait_waits_for_the_pedal_once_taken_back():
    """The sheet stays under the boards and the lift as long as it was; a tread begins it anew."""
    b = Bench(recipe(each=(WARM, INK, WIPE, PULL, LIFT)))
    b.until("Lift")
    b.work("Lift", 3)
    b.advance(2)
    assert (b.hand, b.hands) == ("Ink", "inky")
    b.advance(1)
    assert b.back() == ["step put off"]
    assert (b.hand, b.hands, b.sheets[0].laid) == (None, "clean", True)
    assert (b.view.now.do, b.view.next, coming(b)) == ("Ink: not begun", "Ink", ["Ink", "Wipe"])
    b.advance(5)
    assert (b.hand, b.hands) == (None, "clean")
    b.tread()
    b.work("Ink", 4)
    work = b.ended("Ink")[-1]
    assert (work.attempt, work.finished_t - work.started_t) == (1, 4 * 60_000)
    b.back()
    b.back()
    assert (b.hand, b.hands) == (None, "clean")
    b.say(a.SkipStep("no ink", b.key("Ink", 2)))
    assert b.hand == "Wipe"


def test_a_day_that_opens_with_inky_work_can_be_begun_with_clean_hands():
    """Nobody trod for it: taken back, it waits for the pedal, and can be skipped."""
    b = Bench(recipe(each=(INK, WIPE, PULL, LIFT)))
    assert (b.hand, b.hands) == ("Ink", "inky")
    assert back_cleans(b.room, b.s)
    assert b.back() == ["step put off"]
    assert (b.hand, b.hands, coming(b)) == (None, "clean", ["Ink", "Wipe"])
    assert b.refused(a.TakeBack()).why == "There is nothing left to undo"
    b.tread()
    b.tread()
    assert (b.hand, back_cleans(b.room, b.s)) == ("Wipe", False)


def test_what_may_be_done_is_what_can_be_chosen_now():
    """Not the bath while the rework is in hand, nor that of a try that was given up."""
    bite = "{do: Bite, hands: free, time: 6 min, optional: true, plate: key}"
    b = Bench(recipe(each=(INK, PULL, LIFT, REWORK, bite)))
    seen = []
    for _ in range(12):
        seen.append((b.hand, b.view.offered))
        for do in b.view.offered:
            assert do in {b.s.shape.by_id[k.step].do for k in choosable_tasks(b.room, b.s, b.t)}
        b.tread()
    assert ("Rework", ()) in seen
    assert any("Bite" in offered for _, offered in seen)
    b.until("Ink")
    b.say(a.Pause())
    assert b.view.offered == ()


@pytest.mark.full
@pytest.mark.parametrize("seed", range(60))
def test_a_day_in_which_much_is_said_of_what_comes_ends_and_reads_back_the_same(seed: int):
    """Skipped, left, put later and taken back by chance, in one session or two: nothing stops."""
    chance = random.Random(seed)
    b = Bench(chance.choice([EVENING, PROOFS, IN_TURN, TWO]), wanted=chance.choice([1, 2, 3]))
    if chance.random() < 0.5:
        b.shop.open_session("other", EVENING, 1, typed=True)
    for _ in range(600):
        if not b.room.open_sessions:
            break
        if b.s.closed is not None:
            b.say(a.SwitchSession(b.room.open_sessions[0].id, typed=True))
            continue
        b.advance(chance.choice([0, 1, 5, 40]))
        keys, turn = coming_inky(b.room, b.s, b.now), chance.random()
        others = [s.id for s in b.room.open_sessions if s.id != b.s.id]
        if keys and turn < 0.2:
            b.do(a.SkipStep("by chance", chance.choice(keys)))
        elif keys and others and turn < 0.3:
            b.do(a.LeaveStep(others[0], chance.choice(keys)))
        elif keys and turn < 0.4:
            b.do(a.Choose(chance.choice(keys), then=True))
        elif turn < 0.45:
            b.do(a.TakeBack())
        elif b.do(a.GoOn()).refusal is not None and b.s.closed is None:
            b.do(a.Must(None))
    assert not b.room.open_sessions
    assert replay_entries(b.room.journal, b.room.bench, b.room.origin) == b.room


@pytest.mark.parametrize("given_up", [True, False])
def test_what_was_chosen_to_come_next_goes_with_its_sheet(given_up: bool):
    """A try given up, or enough said before its sheet: nobody turns hands inky for it any more."""
    dust = tuple(f"{{do: Dust {x}, hands: clean, plate: {x}}}" for x in ("tone", "key"))
    b = Bench(TWO if not given_up else recipe(each=(
        *dust, "{do: Ink tone, hands: inky, plate: tone}", "{do: Ink key, hands: inky, plate: key}",
        "{do: Pull, hands: clean, pulls: [tone, key]}", LIFT), plates=("tone", "key")))
    b.until("Dust key" if given_up else "Lift")
    begun = len(b.s.impressions)
    b.say(a.Choose(b.key("Ink key", 1 if given_up else 2), then=True))
    b.say(a.Enough())
    if given_up:
        b.say(a.SpoilTry(1))
    else:
        b.tread()
    assert (b.hands, b.s.closed is not None, len(b.s.impressions)) == ("clean", True, begun)


def test_what_was_chosen_is_due_again_where_its_sheet_is_wanted_after_all():
    """Enough, then one more: the choice was never taken back."""
    b = Bench(recipe(each=TWO_EACH, plates=("tone", "key"), after=[RAGS]))
    b.until("Lift")
    b.say(a.Choose(b.key("Ink key", 2), then=True))
    b.say(a.Enough())
    b.say(a.OneMore())
    b.tread()
    assert b.hand == "Ink key"


def test_time_alone_begins_no_other_inky_step_where_one_was_put_back() -> None:
    """Hands would have turned inky at the end of a wait, with nobody at the Bench."""
    b = Bench(recipe(each=(
        "{do: Warm, hands: free, plate: tone, at: hot plate, time: 9 min, ends: itself}",
        "{do: Ink tone, hands: inky, plate: tone, time: 8 min}",
        "{do: Ink key, hands: inky, plate: key, time: 8 min}",
        "{do: Pull, hands: clean, at: press, pulls: [tone, key], uses: sheet, time: 4 min}", LIFT),
        plates=("tone", "key")))
    assert b.hand == "Ink key"
    b.say(a.TakeBack())
    assert (b.hand, b.room.inky) == (None, False)
    b.advance(30)
    assert (b.hand, b.room.inky) == (None, False)
    b.tread()
    assert b.hand == "Ink tone"
