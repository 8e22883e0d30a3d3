"""The quiet gate: no false tread from a held key, no missed one from a foot."""

from __future__ import annotations

from itertools import accumulate, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.screens.gate import QUIET_MS, Gate, quiet_for


def accepted(gate: Gate, times: list[int]) -> list[int]:
    """Run the events through the gate and keep those that counted."""
    taken = []
    for time in times:
        gate, counts = gate.event(time)
        if counts:
            taken.append(time)
    return taken


GAPS = st.lists(st.integers(0, 3000), max_size=60)


@st.composite
def treads(draw: st.DrawFn) -> tuple[list[int], list[int]]:
    """Presses as a foot makes them: each bounces and may be held for long.

    Returns:
        The moments of the true presses, and of all events of the switch.
    """
    delay = draw(st.integers(150, 660))
    presses: list[int] = []
    events: list[int] = []
    now = 0
    for _ in range(draw(st.integers(1, 12))):
        presses.append(now)
        bounces = draw(st.lists(st.integers(1, 25), max_size=3))
        events += [now, *accumulate(bounces, initial=now)]
        if draw(st.booleans()):
            count, rate = draw(st.integers(1, 80)), draw(st.integers(20, 120))
            events += [now + delay + rate * index for index in range(count)]
        now = max(events) + draw(st.integers(QUIET_MS, 5000))
    return presses, sorted(events)


@given(treads())
def test_each_press_counts_once(case: tuple[list[int], list[int]]) -> None:
    """Bounce and repeat add no tread and hide none that follows a silence."""
    presses, events = case
    assert accepted(Gate(), events) == presses


@pytest.mark.full
@settings(max_examples=5000)
@given(treads())
def test_each_press_counts_once_many_times(case: tuple[list[int], list[int]]) -> None:
    """The same, over thousands of evenings at the press."""
    presses, events = case
    assert accepted(Gate(), events) == presses


@given(GAPS, st.integers(1, 2000))
def test_silence_is_kept_before_every_tread(gaps: list[int], quiet: int) -> None:
    """An event counts exactly if it is the first or follows a long enough silence."""
    times = list(accumulate(gaps))
    wanted = times[:1] + [b for a, b in pairwise(times) if b - a >= quiet]
    assert accepted(Gate(quiet), times) == wanted


@given(GAPS)
def test_no_quiet_takes_every_event(gaps: list[int]) -> None:
    """With the gate off, as for a script, each event is a tread."""
    times = list(accumulate(gaps))
    assert accepted(Gate(0), times) == times


def test_a_foot_at_rest_never_advances_the_day() -> None:
    """A key held for ten minutes is one tread."""
    held = [0, *(500 + 33 * index for index in range(18_000))]
    assert accepted(Gate(), held) == [0]


def test_presses_a_second_and_a_half_apart_all_count() -> None:
    """A printer who treads twice on purpose is heard twice."""
    assert accepted(Gate(), [0, 1500, 3000]) == [0, 1500, 3000]


def test_a_clock_that_steps_back_never_opens_the_gate() -> None:
    """An event stamped earlier than the last does not count and shortens nothing."""
    assert accepted(Gate(), [1000, 200, 1740, 2491]) == [1000, 2491]


@pytest.mark.parametrize(("delay", "quiet"), [(250, 750), (500, 750), (660, 858), (1000, 1300)])
def test_quiet_follows_the_measured_repeat(delay: float, quiet: int) -> None:
    """A slow key repeat asks for a longer silence, a quick one for no less."""
    assert quiet_for(delay) == quiet
