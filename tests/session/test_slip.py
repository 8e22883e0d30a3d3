"""A tread that came too early is taken back by the next one, and only then."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import example, given
from hypothesis import strategies as st

from benchapp.session import actions as a
from benchapp.session.slip import slipped_task
from benchapp.session.state import StudioState, TaskKey
from tests.session.support import DAY, MIN, Bench


def test_a_tread_before_the_low_time_is_a_slip_for_four_seconds():
    """Three seconds later it can be taken back by a tread; five seconds later not."""
    b = Bench(DAY)
    b.tread()
    b.clock.advance(3_000)
    assert slipped_task(b.room, b.now) == TaskKey("before.1")
    b.clock.advance(2_000)
    assert slipped_task(b.room, b.now) is None


def test_a_tread_after_the_low_time_is_none():
    """A step that took its time was ended on purpose: the next tread goes on."""
    b = Bench(DAY)
    b.advance(90)
    b.tread()
    assert slipped_task(b.room, b.now) is None


def test_once_taken_back_the_next_tread_goes_on():
    """The tread after a take-back is a tread: two slips are not undone in a row."""
    b = Bench(DAY)
    b.tread()
    b.say(a.TakeBack())
    assert slipped_task(b.room, b.now) is None
    b.tread()
    assert slipped_task(b.room, b.now) == TaskKey("before.1")


def test_time_between_does_not_hide_a_slip_and_words_do():
    """A clock that runs out in between changes nothing; a note in between does."""
    b = Bench(DAY)
    b.tread()
    b.say(a.Tick())
    assert slipped_task(b.room, b.now) == TaskKey("before.1")
    b.say(a.Note("x"))
    assert slipped_task(b.room, b.now) is None


def test_the_answer_to_a_call_is_never_a_slip():
    """It ended no hands step."""
    b = Bench(DAY)
    b.say(a.StartClock(MIN, "varnish"))
    b.advance(2)
    b.tread()
    assert slipped_task(b.room, b.now) is None


# -- on generated histories -----------------------------------------------------------------

ACTS: st.SearchStrategy[a.Action | None] = st.sampled_from([
    *[a.GoOn()] * 8, None, a.Tick(), a.TakeBack(), a.LookAgain(), a.Pause(), a.Note("x"),
    a.StartClock(2 * MIN, "varnish"),
])  # fmt: skip
WAITS = st.sampled_from([0, 900, 3_999, 4_000, 4_001, 30_000, 3 * MIN, 20 * MIN])


def outside_time(room: StudioState) -> dict[str, object]:
    """The room but for the clocks, what fell due by them, the journal and what can be taken back.

    A clock that runs out between a slip and its taking back stays run out.
    """
    return {"sessions": {k: replace(s, actions=(), calls={}) for k, s in room.sessions.items()},
            "packs": room.packs, "inky": room.inky}


def too_early(b: Bench, t: int) -> TaskKey | None:
    """The step in hand that a tread at `t` would end before its low time, told from before."""
    s = b.s
    if s.hand is None or s.paused_t is not None or any(c.calling for c in b.view.calls):
        return None
    step, work = s.shape.by_id[s.hand.step], s.work[s.hand]
    worked = t - work.started_t - work.paused_ms
    return s.hand if step.time is not None and worked < step.time.low.ms else None


def history(moves: list[tuple[int, a.Action | None]]) -> tuple[int, int]:
    """Play them; every tread is a slip exactly where it must be. How many were, and how many not.

    `None` is a tread as the Bench has it: it takes a slip back, or goes on.
    """
    b = Bench(DAY, 3)
    slips = plain = 0
    expected: tuple[TaskKey, int, dict[str, object]] | None = None
    for wait, action in moves:
        b.clock.advance(wait)
        t = b.room.t_at(b.now)
        found = slipped_task(b.room, b.now)
        due = expected is not None and t - expected[1] <= 4_000
        assert found == (expected[0] if due and expected is not None else None)
        tread = action is None or isinstance(action, a.GoOn)
        if action is None and found is not None and expected is not None:
            b.say(a.TakeBack())
            assert outside_time(b.room) == expected[2]
            assert slipped_task(b.room, b.now) is None
            slips, expected = slips + 1, None
            continue
        before, ending = b.room, too_early(b, t)
        done = b.shop.do(a.GoOn() if tread else action or a.Tick())
        plain += tread
        if isinstance(action, a.Tick) or not done.entries:
            continue  # time, and what was refused, change nothing
        ended = tread and any(e.kind == "step finished" and e.body["how"] == "done"
                              and e.body["taken"] for e in done.entries)
        expected = (ending, t, outside_time(before)) if ended and ending is not None else None
    return slips, plain


@example([(0, a.StartClock(2 * MIN, "varnish")), (3 * MIN, a.GoOn()), (0, a.Tick()), (0, None)])
@given(st.lists(st.tuples(WAITS, ACTS), max_size=40))
def test_a_slip_is_just_what_the_rule_says_on_any_history(
    moves: list[tuple[int, a.Action | None]]
) -> None:
    """Before its low time, the last thing done, within four seconds; taken back it never was."""
    history(moves)


@given(st.lists(st.sampled_from([4_001, 6_000, 30_000, 9 * MIN]), min_size=4, max_size=40))
def test_treads_more_than_four_seconds_apart_always_go_on(waits: list[int]) -> None:
    """However far behind the printer is, nothing is taken back while catching up."""
    assert history([(wait, None) for wait in waits])[0] == 0


def test_the_histories_do_slip() -> None:
    """Treads in quick succession: every second one is taken back, so nothing gets ahead."""
    assert history([(900, None)] * 12)[0] > 3
