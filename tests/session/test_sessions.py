"""Several sessions open at once: one printer's hands, one room, steps left from one to another."""

from __future__ import annotations

from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.state import TaskKey
from tests.session.support import (
    DAY,
    INK,
    LIFT,
    MIN,
    ONE,
    PLATE_CLEAN,
    PULL,
    RAGS,
    SCREWS,
    SETTLE,
    Bench,
    recipe,
)

LAST = recipe(after=[RAGS])
LAST_TWO = recipe(after=["{do: Slab, hands: clean}", "{do: Blotters, hands: clean}"])


def two(first: str = DAY, second: str = DAY, wanted: int | None = 1) -> tuple[Bench, str, str]:
    """Two sessions open, the second on the Bench; the bench and both ids."""
    b = Bench(first, wanted)
    one = b.s.id
    if not b.room.clean:
        b.say(a.Helper(joins=True))
    b.open(second, wanted)
    return b, one, b.s.id


def test_a_second_session_of_a_day_has_its_own_name_and_letters():
    """The date with a b, and the next letter for its sheets."""
    b, one, other = two()
    assert [(s.name, s.letters) for s in b.room.open_sessions] == [
        ("2026-05-03", "D"), ("2026-05-03b", "E")]
    assert b.view.others == ("2026-05-03",)
    assert one != other


def test_opening_another_puts_off_the_step_in_hand():
    """It is due again where it was, as the same attempt."""
    b = Bench(DAY)
    one = b.s.id
    b.advance(5)
    b.open(DAY)
    assert b.room.sessions[one].hand is None
    assert b.hand == "Screws"
    b.say(a.SwitchSession(one))
    assert (b.s.id, b.s.hand,
            b.s.work[TaskKey("before.1")].attempt) == (one, TaskKey("before.1"), 1)


def test_opening_and_switching_need_clean_hands_or_a_helper():
    """Refused while inky; with a helper in both work."""
    b, one, other = two()
    b.work("Screws")
    assert b.hands == "inky"
    refused = b.refused(a.SwitchSession(one))
    assert str(refused) == "Hands are inky; wash before the Bench is changed"
    out = b.shop.open_session("slack-water", DAY)
    assert str(out.refusal) == "Hands are inky; wash before another session is opened"
    b.say(a.Helper(joins=True))
    b.say(a.SwitchSession(one))
    assert b.s.id == one
    assert other in b.room.sessions


def test_from_a_session_closed_with_inky_hands_another_is_reached():
    """Nothing there is left to wash for: the wash comes before the next clean step."""
    b, one, _ = two(LAST, recipe(after=["{do: Slab, hands: inky}"]))
    b.say(a.Helper(joins=False))
    b.to_close()
    assert b.hands == "inky"
    assert b.shop.do(a.SwitchSession(one), gated=True).refusal is None
    b.work("Ink")
    assert b.hand == "Wash and dry hands"


def test_only_an_open_session_comes_to_the_bench():
    """One that is closed or none is refused."""
    b = Bench(wanted=1)
    closed = b.s.id
    b.to_close()
    b.open(DAY)
    for to in (closed, "nowhere"):
        assert b.refused(a.SwitchSession(to)).why == "That session is not open"


def test_one_pair_of_hands_never_has_two_steps():
    """Whoever leaves the Bench by way of the Studio, or after the machine died."""
    b = Bench(DAY)
    one = b.s.id
    b.shop.leave_bench()
    b.open(DAY)
    assert [s.hand is not None for s in b.room.open_sessions] == [False, True]
    shop = SessionService(b.book, b.clock)
    row = next(r for r in b.book.sessions() if r.id == one)
    assert shop.resume_session(row).refusal is None
    assert {s.id: s.hand for s in shop.room.open_sessions} == {
        one: TaskKey("before.1"), b.s.id: None}


def test_clocks_of_all_open_sessions_run_and_call():
    """A wait of the one off the Bench ends itself, is shown and called with its session's name."""
    b = Bench(recipe(each=(INK, SETTLE, PULL, LIFT)))
    b.work("Ink")
    b.say(a.Helper(joins=True))
    b.open(DAY)
    assert [(c.name, c.session) for c in b.view.clocks] == [("Settle", "2026-05-03")]
    b.advance(6)
    assert [(c.text, c.session, c.calling) for c in b.view.calls] == [
        ("Settle", "2026-05-03", True)]


def test_what_time_does_off_the_bench_begins_no_step_for_the_hands():
    """The wait of the other session ends itself; its next step waits for the printer."""
    b = Bench(recipe(each=("{do: Warm, hands: free, time: 2 min, ends: itself}", INK, PULL, LIFT)))
    one = b.s.id
    b.open(DAY)
    b.advance(5)
    other = b.room.sessions[one]
    assert [w.how for w in other.history] == ["ended itself"]
    assert (other.hand, b.hand) == (None, "Screws")


def test_a_place_taken_in_another_session_is_said():
    """The press, by the step in hand there before it was put off, or a wait that runs."""
    b = Bench(recipe(each=(INK, "{do: Press on, hands: free, at: press, time: 30 min}", PULL,
                           LIFT)))
    b.work("Ink")
    b.say(a.Helper(joins=True))
    b.open(recipe(before=[SCREWS.replace("time", "at: press, time")]))
    assert b.view.warnings == ("press is taken: Press on (2026-05-03)",)


def test_hands_are_the_rooms():
    """Ink from one session is on the hands in the other, until a wash in either."""
    b, one, _ = two(LAST, LAST)
    assert b.hand == "Ink"
    b.say(a.SwitchSession(one))
    b.say(a.Helper(joins=False))
    assert (b.hand, b.hands) == ("Ink", "inky")
    b.work("Ink")
    assert b.hand == "Wash and dry hands"
    b.tread()
    assert b.hands == "clean"


def test_sheets_of_two_sessions_never_bear_one_mark():
    """Each has its letters; a mark of the other is not given."""
    b, one, _ = two(DAY, DAY)
    b.until("Lift")
    assert b.sheets[0].mark == "E1"
    b.say(a.SwitchSession(one))
    b.until("Lift")
    assert b.sheets[0].mark == "D1"
    assert b.refused(a.GiveMark("E1")).why == "E1 is on another sheet"


def test_a_step_left_keeps_its_lines_its_care_and_its_print():
    """It comes before the other session lets the press off."""
    slab = ("{do: Slab, hands: clean, short: Slab, lines: [skin paper, lids down], "
            "care: Ink is not for bare skin; gloves as its data sheet says.}")
    first = recipe(after=[PLATE_CLEAN, "{do: Pressure off, hands: clean}"])
    b, one, other = two(first.replace("Slack Water", "Two Gates"), recipe(after=[slab]))
    b.until("Slab")
    assert b.say(a.LeaveStep(one)) == ["step left", "step taken over", "step finished", "closed"]
    b.say(a.SwitchSession(one))
    b.until("Plate clean")
    b.tread()
    assert b.s.hand == TaskKey(f"{other} after.1")
    now = b.view.now
    assert (now.do, now.lines, now.short) == (
        "Slab (Slack Water)", ("skin paper", "lids down"), "Slab")
    assert [care.name for care in now.cares] == ["INK"]
    b.tread()
    assert b.hand == "Pressure off"


def test_only_a_step_after_printing_is_left_and_only_to_an_open_session():
    """Refused with what to do."""
    b, one, _ = two(ONE, LAST)
    assert str(b.refused(a.LeaveStep(one))) == (
        "You can leave only a closing step to another session; finish it here")
    b.until("Rags")
    for to in (b.s.id, "nowhere"):
        assert b.refused(a.LeaveStep(to)).why == "That session is not open"


def test_a_step_left_is_taken_back_by_the_one_that_left_it_only():
    """The other's take-back is of its own last action."""
    b, one, other = two(LAST, LAST_TWO)
    b.until("Slab")
    b.say(a.LeaveStep(one))
    assert b.hand == "Blotters"
    b.say(a.SwitchSession(one))
    b.back()  # of the first session's own: its helper
    assert b.s.inherited != ()
    b.say(a.Helper(joins=True))
    b.say(a.SwitchSession(other))
    b.back()
    assert b.room.sessions[one].inherited == ()
    assert b.hand in ("Slab", "Blotters")
    assert not b.s.done(TaskKey("after.1"))


def test_a_session_is_continued_only_in_the_book_that_opened_it():
    """Another book's session can be read and judged here, no more."""
    b = Bench(DAY)
    row = b.book.sessions()[0]
    foreign = Bench(DAY)
    out = foreign.shop.resume_session(row)
    assert str(out.refusal) == (
        "2026-05-03 was opened in another book; continue it there; here you can read and "
        "judge it")


def test_nothing_is_on_the_bench_in_an_empty_room():
    """Going on says so; time passes without a word."""
    b = Bench(wanted=1)
    b.to_close()
    b.shop.leave_bench()
    assert str(b.refused(a.GoOn())) == (
        "No session is on the Bench; open one with run, or resume one")
    b.clock.advance(MIN)
    assert b.shop.tick().entries == ()


def test_a_helper_who_joined_in_one_session_is_in_the_record_of_the_other():
    """Once it is worked on while they are in, and once a visit; by name where it was said."""
    b, one, other = two()
    assert b.room.sessions[other].helpers == ()
    b.say(a.Helper(joins=True, name="Ida"))
    b.say(a.SwitchSession(one))
    b.say(a.SwitchSession(other))
    b.say(a.SwitchSession(one))
    b.open(DAY)
    third = b.s.id
    assert {s: b.room.sessions[s].helpers for s in (one, other, third)} == {
        one: ("Ida",), other: ("Ida",), third: ("Ida",)}
    b.say(a.Helper(joins=False))
    b.say(a.SwitchSession(other))
    b.say(a.Helper(joins=True))
    b.say(a.SwitchSession(one))
    assert b.room.sessions[one].helpers == ("Ida", None)
    row = next(r for r in b.book.sessions() if r.id == third)
    shop = SessionService(b.book, b.clock)
    assert shop.resume_session(row).ok
    assert shop.room.sessions[third].helpers == ("Ida", None)
