"""The boards call gently: at their hour, once more when it is late, never in the silent hours."""

from __future__ import annotations

from datetime import datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.drying import actions as b
from benchapp.drying.calls import after_silent_hours, board_calls
from benchapp.drying.dryness import DryStep, Hours
from benchapp.drying.stacks import wall_time
from tests.drying.test_stacks import DAY_MS, HOUR, MIN, Rack, S

NEVER_SILENT = Hours(silent_from=time(0), silent_until=time(0))


def calls(rack: Rack, hours: Hours | None = None) -> list[tuple[str, str]]:
    """What calls and will call: the hour and the words."""
    found = board_calls(rack.boards.up, wall_time(rack.clock.now()), hours or Hours())
    return [(f"{c.at:%d %H:%M}", c.words) for c in found]


def test_a_change_calls_at_its_hour_and_once_more_when_it_is_late() -> None:
    """Laid at ten: the evening of the day, then mornings; done, it calls no more."""
    rack = Rack()
    rack.lay("K1")
    assert calls(rack)[:2] == [("03 18:00", "Under boards: Change blotters. Slack Water, 3 May"),
                               ("04 09:00", "Under boards: Change blotters and tissue. "
                                            "Slack Water, 3 May")]
    before = board_calls(rack.boards.up, wall_time(rack.clock.now()))[0]
    rack.clock.advance(8 * HOUR + 5 * MIN)
    due = board_calls(rack.boards.up, wall_time(rack.clock.now()))[0]
    assert due.id == before.id  # it sounds at its hour, and is the same one after
    rack.clock.advance(56 * MIN)
    late = board_calls(rack.boards.up, wall_time(rack.clock.now()))[0]
    assert late.id != due.id
    assert late.words == "Under boards, late: Change blotters. Slack Water, 3 May"
    rack.do(b.Changed(S))
    assert calls(rack)[0][0] == "04 09:00"


def test_who_comes_back_after_a_week_is_called_once() -> None:
    """Four changes were missed: one call, for all of them."""
    rack = Rack()
    rack.lay("K1")
    rack.clock.advance(7 * DAY_MS)
    now = wall_time(rack.clock.now())
    gone = [c for c in board_calls(rack.boards.up, now) if c.at <= now]
    assert [c.words for c in gone] == ["Under boards, late: 2 things to do. Slack Water, 3 May"]


def test_stacks_that_want_something_at_one_hour_call_together() -> None:
    """Three are counted, two are named."""
    rack = Rack()
    rack.lay("K1")
    for n in (2, 3):
        rack.do(b.Begin(f"stack {n}@home", f"Print {n}", (DryStep("Turn", after_ms=4 * HOUR),)),
                b.Lay(f"stack {n}@home", ((f"M{n}", f"M{n}"),)))
    assert calls(rack)[0] == ("03 18:00", "Under boards: 2 things to do. 3 stacks")
    rack.do(b.TakeDown(S))
    assert calls(rack)[0] == ("03 18:00", "Under boards: Turn. Print 2, Print 3")


def test_nothing_calls_in_the_silent_hours() -> None:
    """What was due in the evening waits for eight o'clock, and is the same call then."""
    rack = Rack()
    rack.lay("K1")
    rack.clock.advance(12 * HOUR)  # 22:00
    (first, *_) = board_calls(rack.boards.up, wall_time(rack.clock.now()))
    assert first.at == datetime.fromisoformat("2026-05-04T08:00")
    rack.clock.advance(10 * HOUR)
    now = wall_time(rack.clock.now())
    (again, *_) = board_calls(rack.boards.up, now)
    assert (again.id, again.at) == (first.id, now)
    assert calls(rack, NEVER_SILENT)[0][0] == "04 08:00"
    early = Hours(morning=time(6))
    assert calls(rack, early)[0][0] == "04 08:00"


def test_where_no_hour_is_silent_it_calls_at_once() -> None:
    """A studio without neighbours."""
    rack = Rack()
    rack.lay("K1")
    rack.clock.advance(12 * HOUR)
    assert calls(rack, NEVER_SILENT)[0][0] == "03 22:00"


@given(st.datetimes(max_value=datetime.fromisoformat("9000-01-01")), st.times(), st.times())
def test_what_is_aloud_is_never_silent_and_never_sooner(
    at: datetime, begin: time, end: time
) -> None:
    """For every moment and every span of silence; and it waits a day at most."""
    hours = Hours(silent_from=begin, silent_until=end)
    found = after_silent_hours(at, hours)
    assert at <= found < at + timedelta(days=1)
    assert not hours.silent(found)


@pytest.mark.parametrize("taken", ["lifted", "down"])
def test_an_empty_stack_calls_for_nothing(taken: str) -> None:
    """Its sheets lifted, or the boards taken down."""
    rack = Rack()
    rack.lay("K1")
    rack.do(b.Lift(S, "K1") if taken == "lifted" else b.TakeDown(S))
    assert board_calls(rack.boards.stacks.values(), wall_time(rack.clock.now())) == ()
