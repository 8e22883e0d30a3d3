"""What is spoken after the switch, and what is told of the clocks."""

from __future__ import annotations

from benchapp.session import actions as a
from benchapp.views.aloud import spoken_answer
from benchapp.views.messages import describe_change
from tests.session.support import DAY, Bench


def spoken(b: Bench, action: a.Action) -> str | None:
    """What is said after it."""
    return spoken_answer(action, b.do(action).refusal, b.room, b.clock.now())


def told(b: Bench, action: a.Action) -> tuple[str, ...]:
    """The lines of what it did."""
    before, out = b.room, b.do(action)
    assert out.refusal is None, str(out.refusal)
    return describe_change(before, b.room, out.entries)


def test_the_switch_is_answered_aloud() -> None:
    """The step in hand, what was undone, a pause, a mark to look again, or why it was not done."""
    b = Bench(DAY)
    assert spoken(b, a.GoOn()) == "Ink"
    assert spoken(b, a.TakeBack()) == "Undone: Screws goes on"
    assert spoken(b, a.Pause()) == "Paused"
    assert spoken(b, a.Resume()) == "Screws"
    refused = b.do(a.LookAgain()).refusal
    assert refused is not None
    assert spoken(b, a.LookAgain()) == refused.why
    b.until("Lift")
    assert spoken(b, a.LookAgain()) == "Marked to look again"


def test_what_is_done_at_the_screen_is_not_spoken() -> None:
    """Whatever it was."""
    b = Bench()
    assert spoken(b, a.Note("rain")) is None


def test_a_clock_that_is_set_and_a_machine_that_slept_are_told() -> None:
    """Which way, and by how much; counts go on by the other clock."""
    b = Bench()
    for ms, way, length in ((3_600_000, "forward", "1 h"), (-7_200_000, "back", "2 h")):
        b.clock.step_wall(ms)
        line, = told(b, a.Tick())
        assert f"set {way} by {length};" in line
    b.clock.sleep(600_000)
    assert told(b, a.Tick()) == ("The machine slept for 10 min",)
