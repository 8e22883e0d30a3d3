"""What is said aloud of what the switch did. Pure."""

from __future__ import annotations

from benchapp.decision import Refusal
from benchapp.events.entry import Moment
from benchapp.session import actions as a
from benchapp.session.state import StudioState
from benchapp.views.bench import NowView, bench_view

#: What inky hands do by switch and pedals; everything else is done looking at the screen.
BY_SWITCH = (a.GoOn, a.TakeBack, a.LookAgain, a.Pause, a.Resume)


def spoken_answer(action: a.Action, refusal: Refusal | None, room: StudioState,
                  now: Moment) -> str | None:
    """What is said after an action of the switch; None: nothing is said of it.

    Args:
        action: What was done.
        refusal: Why it was not done; None: it was.
        room: The room after it.
        now: The clocks.
    """
    if not isinstance(action, BY_SWITCH):
        return None
    if refusal is not None:
        return refusal.why
    seen = bench_view(room, now)
    if seen is None:
        return None
    if seen.paused_ms is not None:
        return "Paused"
    if isinstance(action, a.LookAgain):
        return "Marked to look again"
    if isinstance(action, a.TakeBack):
        on = " goes on" if seen.now.side != "none" else ""
        return f"Undone: {_words(seen.now)}{on}"
    return _words(seen.now)


def _words(now: NowView) -> str:
    """The step in hand, or the wait; of a wash and the paper the program's own words."""
    return now.say or now.do
