"""Clocks and moments: what is exact, what is not, and that nothing runs back."""

from __future__ import annotations

import sys
import time
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.clock import FakeClock, FastClock, SystemClock
from benchapp.events.entry import Moment
from benchapp.events.moments import elapsed_ms, iso_text, local_time, slept_ms, stepped_ms

HOUR = 3_600_000
MOMENTS = st.builds(
    Moment,
    wall_ms=st.integers(0, 4_000_000_000_000),
    offset_min=st.integers(-720, 840),
    boot_ns=st.integers(0, 10**16),
    boot_id=st.sampled_from(["a", "b"]),
    mono_ns=st.integers(0, 10**16),
)


def test_time_in_one_boot_is_exact_through_sleep_and_a_set_clock():
    """Ten minutes awake, an hour asleep and a wall clock set back: 70 min, exactly."""
    clock = FakeClock()
    before = clock.now()
    clock.advance(600_000)
    clock.sleep(HOUR)
    clock.step_wall(-5 * HOUR)
    assert elapsed_ms(before, clock.now()) == (600_000 + HOUR, True)


def test_time_across_a_reboot_goes_by_the_wall_and_is_not_exact():
    """Off for an hour: the wall clock says an hour, and it is marked as not exact."""
    clock = FakeClock()
    before = clock.now()
    clock.reboot(off_ms=HOUR)
    assert elapsed_ms(before, clock.now()) == (HOUR, False)
    clock.step_wall(-2 * HOUR)
    assert elapsed_ms(before, clock.now()) == (0, False)


def test_a_step_and_a_sleep_are_told_apart():
    """The wall clock set forward is a step; the boot clock ahead of the other is a sleep."""
    clock = FakeClock()
    before = clock.now()
    clock.advance(1_000)
    clock.step_wall(90_000)
    assert (stepped_ms(before, clock.now()), slept_ms(before, clock.now())) == (90_000, 0)
    clock.sleep(5_000)
    assert (stepped_ms(before, clock.now()), slept_ms(before, clock.now())) == (90_000, 5_000)
    clock.reboot(HOUR)
    assert (stepped_ms(before, clock.now()), slept_ms(before, clock.now())) == (0, 0)


@given(MOMENTS, MOMENTS)
def test_elapsed_never_runs_backwards(a, b):
    """Whatever two moments are compared, the time between is never below nothing."""
    ms, exact = elapsed_ms(a, b)
    assert ms >= 0
    assert exact == (a.boot_id == b.boot_id)


@given(MOMENTS)
def test_local_time_keeps_the_offset_of_its_moment(moment):
    """A moment reads with the offset it was taken at, to the millisecond."""
    there = local_time(moment)
    assert there.utcoffset().total_seconds() == moment.offset_min * 60
    assert round(Fraction(there.timestamp()) * 1000) == moment.wall_ms
    assert iso_text(moment) == there.isoformat(timespec="milliseconds")


def test_a_moment_as_iso_text():
    """1 h after midnight UTC of 3 May 2026, read in Central European summer time."""
    assert iso_text(Moment(1_777_770_000_000, 120, 0, "a", 0)) == "2026-05-03T03:00:00.000+02:00"


def test_the_system_clock_goes_forward_and_knows_its_boot():
    """Two readings of the machine's clocks: the second is not before the first."""
    clock = SystemClock()
    first, second = clock.now(), clock.now()
    assert second.boot_ns >= first.boot_ns
    assert second.mono_ns >= first.mono_ns
    assert first.boot_id == second.boot_id == SystemClock().now().boot_id
    assert first.boot_id
    assert abs(first.wall_ms - time.time_ns() // 1_000_000) < 60_000


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no tzset")
def test_the_system_clock_tells_the_offset_of_the_place(monkeypatch):
    """In India the wall is 5 h 30 min ahead of UTC."""
    monkeypatch.setenv("TZ", "IST-5:30")
    time.tzset()
    try:
        assert SystemClock().now().offset_min == 330
    finally:
        monkeypatch.undo()
        time.tzset()


def test_a_fast_clock_runs_a_day_in_minutes():
    """At sixty-fold speed a second of the machine is a minute of the day."""
    base, start = FakeClock(), FakeClock(wall_ms=0).now()
    fast = FastClock(60, start, base)
    assert fast.now() == start
    base.advance(1_000)
    assert elapsed_ms(start, fast.now()) == (60_000, True)
    assert fast.now().wall_ms == 60_000
    base.step_wall(-HOUR)
    assert elapsed_ms(start, fast.now()) == (60_000, True)


def test_a_fast_clock_takes_any_speed_above_nothing():
    """Speeds may be fractions; a clock that stands or runs back is refused."""
    base = FakeClock()
    fast = FastClock(Fraction(5, 2), base.now(), base)
    base.advance(1_000)
    assert elapsed_ms(FakeClock().now(), fast.now())[0] == 2_500
    for speed in (0, -1):
        with pytest.raises(ValueError, match="above 0"):
            FastClock(speed, base.now(), base)
