"""Calls and times of a session: its clocks, and what the machine's clocks did."""

from __future__ import annotations

from benchapp.events.event import BookEvent, event
from benchapp.events.field_types import Count, Milliseconds, Shift
from benchapp.events.session import WorkEvent


@event("session", "timed")
class BenchClockStarted(BookEvent):
    """A clock was started on the spot."""

    clock: str
    name: str
    ms: Milliseconds


@event("session", "due")
class CallDue(BookEvent):
    """A clock ran out; clean: answering it needs clean hands."""

    call: str
    clean: bool


@event("session", "called")
class CallMade(BookEvent):
    """It sounded or flashed."""

    call: str


@event("session", "answered")
class CallAnswered(BookEvent):
    """The printer answered it."""

    call: str


@event("session", "muted")
class CallMuted(BookEvent):
    """One clock, or all that run now, is silent."""

    call: str
    until_ms: Milliseconds | None


@event("session", "time questioned")
class TimeQuestioned(WorkEvent):
    """A step ran 5 min over its high time."""

    step: str
    impression: Count | None
    attempt: Count
    pack: str | None


@event("session", "time explained")
class TimeExplained(WorkEvent):
    """Took that long, away or forgot."""

    step: str
    impression: Count | None
    attempt: Count
    pack: str | None
    answer: str


@event("session", "clock stepped")
class WallClockStepped(BookEvent):
    """Wall time jumped against the boot clock."""

    by_ms: Shift


@event("session", "slept")
class MachineSlept(BookEvent):
    """The machine slept."""

    ms: Milliseconds


@event("session", "seen")
class SessionSeen(BookEvent):
    """The program was alive then: time until here was counted."""
