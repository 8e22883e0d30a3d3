"""Take-back: the last action with all it caused, and only what the printer did."""

from __future__ import annotations

from dataclasses import replace

from benchapp.clock import FakeClock
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.context import worked_ms
from tests.session.support import DAMP, DAY, INK, LIFT, MIN, PULL, SETTLE, WARM, Bench, recipe


def bare(b: Bench):
    """The session without the clocks and the list of what can be taken back."""
    return replace(b.s, actions=())


def test_a_tread_taken_back_reopens_the_step_with_its_old_start():
    """Seven minutes of ink, a tread too many, one minute on: eight minutes in all."""
    b = Bench()
    b.work("Ink", 7)
    assert b.hand == "Wash and dry hands"
    assert b.back() == ["taken back"]
    assert b.hand == "Ink"
    assert b.hands == "inky"
    b.work("Ink", 1)
    work = b.ended("Ink")[0]
    assert (work.finished_t - work.started_t, work.attempt) == (8 * MIN, 1)
    assert len(b.ended("Ink")) == 1


def test_a_step_reopened_after_the_hands_were_elsewhere_has_no_time():
    """Its old start stays; the two hours between were worked for the other session."""
    b = Bench(recipe(each=(INK, PULL, LIFT)))
    first = b.s.id
    b.say(a.Helper(joins=True))
    b.work("Ink", 5)
    b.open()
    b.work("Ink", 120)
    b.say(a.SwitchSession(first))
    b.back()
    b.work("Ink", 1)
    assert [(w.started_t, w.taken) for w in b.ended("Ink")] == [(0, False)]


def test_a_wash_taken_back_makes_hands_inky_again():
    """What was washed by mistake was never washed."""
    b = Bench()
    b.works(["Ink", "Wash and dry hands"])
    assert b.hands == "clean"
    b.back()
    assert (b.hand, b.hands) == ("Wash and dry hands", "inky")


def test_a_pull_taken_back_gives_its_number_and_mark_back():
    """The next pull has them."""
    b = Bench()
    b.works(["Ink", "Wash and dry hands", "Pull"])
    assert [(i.number, i.mark) for i in b.sheets] == [(1, "D1")]
    b.back()
    assert (b.hand, b.sheets) == ("Pull", ())
    b.tread()
    assert [(i.number, i.mark) for i in b.sheets] == [(1, "D1")]


def test_every_treads_of_a_day_can_be_taken_back_one_after_the_other():
    """Back to the opening, through every state there was."""
    b = Bench(DAY, wanted=1)
    states = [bare(b)]
    for _ in range(12):
        b.tread()
        states.append(bare(b))
    for state in reversed(states[:-1]):
        b.back()
        assert bare(b) == state
    assert b.refused(a.TakeBack()).why == "There is nothing left to undo"


def test_words_are_taken_back_like_treads():
    """A note, a verdict, a setting, a number wanted: each whole."""
    b = Bench(DAY, wanted=3)
    b.until("Lift")
    start = bare(b)
    for action in (a.Note("hair"), a.Judge("spoiled"), a.Set("screws", "3 turns"), a.SetWanted(9),
                   a.Tag("lint"), a.SayFor("TP"), a.StartClock(MIN, "x"), a.Enough(), a.OneMore(),
                   a.Helper(joins=True), a.Pause(), a.LookAgain(), a.LeftOff("at the lift"),
                   a.TakeReading("tone", "3"), a.GiveMark("Q9"), a.Ghost(),
                   a.ReworkPlate(None, "II", "burnished"), a.CanEmptied()):
        b.say(action)
        assert bare(b) != start, action
        b.back()
        assert bare(b) == start, action
        assert b.room.helper is None


def test_what_time_did_stays():
    """A wait ended itself meanwhile: the step taken back is reopened, the wait is over."""
    b = Bench(recipe(each=(WARM, INK, PULL, LIFT)))
    b.say(a.Note("cold morning"))
    b.advance(2)
    assert b.hand == "Ink"
    b.back()
    assert b.s.impressions[0].notes == ()
    assert (b.hand, [w.how for w in b.ended("Warm")]) == ("Ink", ["ended itself"])


def test_a_lift_taken_back_after_time_laid_the_sheet_brings_it_back_from_the_boards():
    """It is under no boards while its lift is in hand."""
    b = Bench(recipe(each=(INK, PULL, LIFT, "{do: Blot, hands: free, time: 2 min, ends: itself}")))
    b.works(["Ink", "Wash and dry hands", "Pull", "Lift"])
    b.advance(2)
    assert b.sheets[0].laid is True
    b.back()
    assert (b.hand, b.sheets[0].laid) == ("Lift", False)
    b.tread()
    b.advance(2)
    assert b.sheets[0].laid is True


def test_a_take_back_is_not_taken_back():
    """The action before is: so two of them undo two treads."""
    b = Bench(DAY)
    b.works(["Screws", "Ink"])
    b.back()
    b.back()
    assert b.hand == "Screws"


def test_a_pack_and_what_was_done_to_it_is_taken_back():
    """Put in, extended, out, one sheet out: each undone in its turn."""
    b = Bench(DAMP, wanted=2)
    b.work("Sheets into the water")
    b.say(a.Extend(MIN))
    assert b.packs[0].soak_ms == 31 * MIN
    b.back()
    assert b.packs[0].soak_ms == 30 * MIN
    b.say(a.SheetsOut())
    b.say(a.MoveSheet("out"))
    b.back()
    assert (b.packs[0].taken, b.packs[0].open) == (0, ())
    b.back()
    assert b.packs[0].where(b.t) == "in the water"
    b.back()
    assert (b.packs, b.hand) == ([], "Sheets into the water")


def test_a_take_back_is_refused_when_a_sheet_of_that_pack_was_taken_elsewhere():
    """Another session prints from the pack: what put it in cannot be undone."""
    b = Bench(DAMP, wanted=2)
    first = b.s.id
    b.work("Sheets into the water")
    b.open(DAMP, wanted=2)
    b.say(a.SheetsOut())
    b.say(a.MoveSheet("out"))
    b.say(a.SwitchSession(first))
    refusal = b.refused(a.TakeBack())
    assert str(refusal) == (
        "Another session has taken a sheet of that pack since; say sheet back there first")
    assert len(b.packs) == 1


def test_a_take_back_reaches_over_a_resume():
    """The program was away; the last tread before can still be taken back."""
    b = Bench(DAY)
    b.works(["Screws", "Ink"])
    b.clock.advance(30 * MIN)
    shop = SessionService(b.book, b.clock)
    shop.resume_session(shop.book.sessions()[0])
    assert shop.room.session.hand.step == "wash"
    assert shop.do(a.TakeBack()).refusal is None
    hand = shop.room.session.hand
    assert hand.step == "each.1"
    assert shop.room.session.work[hand].started.wall_ms == FakeClock().now().wall_ms


def test_a_switch_and_an_opening_are_no_ones_to_take_back():
    """Who stands at the Bench is changed by switching back."""
    b = Bench(DAY)
    first = b.s.id
    b.tread()
    b.say(a.Helper(joins=True))
    b.open(DAY)
    assert b.refused(a.TakeBack()).why == "There is nothing left to undo"
    b.say(a.SwitchSession(first))
    b.back()
    assert b.room.helper is None


def test_what_was_taken_back_never_counted():
    """Numbers, counts and history are as if it had never been; the journal keeps both."""
    b = Bench(recipe(each=(INK, SETTLE, PULL, LIFT)), wanted=1)
    b.work("Ink")
    entries = len(b.entries())
    b.back()
    assert len(b.entries()) == entries + 1
    assert b.ended("Ink") == []
    assert b.entries("taken back")[0].body["action"] == b.entries("step finished")[0].id


def test_the_note_of_a_closed_session_stays_when_nothing_can_be_taken_back():
    """Closed, a correction is said in words."""
    b = Bench(wanted=1)
    b.to_close()
    b.say(a.Judge("keep"))
    assert b.refused(a.TakeBack()).why == "The session is closed"


def test_going_on_after_a_pause_taken_back_leaves_the_pause_unbroken():
    """What was counted since belongs to the pause again; the count stands where it began."""
    b = Bench()
    b.go()
    b.advance(2)
    b.say(a.Pause())
    b.advance(5)
    b.say(a.Resume())
    b.advance(3)
    key = b.s.hand
    assert worked_ms(b.s, b.s.work[key], b.t) == 5 * MIN
    b.back()
    assert worked_ms(b.s, b.s.work[key], b.t) == 2 * MIN
    b.say(a.Resume())
    assert b.s.work[key].paused_ms == 8 * MIN
