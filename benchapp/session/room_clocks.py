"""Clocks of the book, not of a session: packs that no open session looks after, and timers.

They call like those of a session, wherever one is in the program; what happened to them is
written in their own streams, so that it outlives every session and every restart. Pure.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from benchapp.decision import Refusal
from benchapp.edition import packs as damp
from benchapp.edition.packs import Pack
from benchapp.events.call import SessionSeen
from benchapp.events.entry import Draft, Moment
from benchapp.events.pack import PackAnswered, PackCalled, PackDue, PackSeen
from benchapp.events.timer import (
    ClockAnswered,
    ClockCalled,
    ClockDue,
    ClockSeen,
    ClockStarted,
    ClockStopped,
)
from benchapp.session.context import wrong_time
from benchapp.session.next_steps import soaking_packs
from benchapp.session.state import Call, StudioState

#: Stands for the id of a session where a call belongs to none.
ROOM: Final = "room"
_EXAMPLE: Final = "write: varnish 5 min"


def unmarked_moments(room: StudioState, alive: Moment | None, now: Moment) -> tuple[Moment, ...]:
    """The moments to be marked after the machine was started anew; none: it was not.

    Args:
        room: As the book has it.
        alive: When the program was last known to be alive; None: never.
        now: The clocks.
    """
    last = room.last
    if last is None or last.boot_id == now.boot_id:
        return ()
    before = (alive is not None and alive.boot_id == last.boot_id
              and alive.boot_ns > last.boot_ns)
    return (alive, now) if before and alive is not None else (now,)


def mark_seen(room: StudioState) -> tuple[Draft, ...]:
    """That the program was alive, for all that is counted: sessions, packs and timers.

    Written at the moment it was last alive, and again when it comes back: what was measured
    inside one boot is then never lost, whatever the clock on the wall says after it.
    """
    return (*(Draft.of(f"session/{s.id}", SessionSeen()) for s in room.open_sessions),
            *(Draft.of(f"pack/{p.id}", PackSeen(pack=p.id)) for p in room.packs.values()
              if p.there and not room.guest(p.id.rpartition(".")[0])),
            *(Draft.of(f"clock/{c.id}", ClockSeen(clock=c.id)) for c in room.timers.values()))


@dataclass(frozen=True, slots=True)
class RoomClock:
    """One clock of the room that will call, or calls.

    Attributes:
        call: The call's id, unlike that of any other clock.
        of: What it is the clock of: a pack in the water, or a timer.
        id: The id of that.
        since_t / due_t: Room times at which it was started and runs out.
        name: What the printer calls it; empty for a pack.
    """

    call: str
    of: Literal["pack", "clock"]
    id: str
    since_t: int
    due_t: int
    name: str = ""

    @property
    def stream(self) -> str:
        """The stream of the pack or the timer."""
        return f"{self.of}/{self.id}"

    @property
    def clean(self) -> bool:
        """Whether answering it needs clean hands."""
        return self.of == "pack"

    def due(self) -> PackDue | ClockDue:
        """That it ran out."""
        return PackDue(pack=self.id) if self.of == "pack" else ClockDue(clock=self.id)

    def called(self) -> PackCalled | ClockCalled:
        """That it sounded or flashed."""
        return PackCalled(pack=self.id) if self.of == "pack" else ClockCalled(clock=self.id)

    def answered(self, by: str) -> PackAnswered | ClockAnswered:
        """That the session `by` answered it."""
        if self.of == "pack":
            return PackAnswered(pack=self.id, by=by)
        return ClockAnswered(clock=self.id, by=by)


def unattended_packs(room: StudioState, t: int) -> tuple[Pack, ...]:
    """The packs in the water that no open session looks after, in the order damped."""
    cared = {p.id for s in room.open_sessions for p in soaking_packs(room, s, t)}
    return tuple(p for p in damp.in_water(room.packs, t) if p.id not in cared and p.usable(t))


def running_clocks(room: StudioState, t: int) -> Iterator[RoomClock]:
    """The clocks of the room, those of paper in the water first."""
    for pack in unattended_packs(room, t):
        if pack.soaked_t is not None:
            yield RoomClock(f"soak {pack.id}", "pack", pack.id, pack.put_in_t, pack.soaked_t)
    for timer in room.timers.values():
        yield RoomClock(f"clock {timer.id}", "clock", timer.id, timer.started_t,
                        timer.started_t + timer.ms, timer.name)


def live_room_calls(room: StudioState, t: int) -> Iterator[tuple[RoomClock, Call]]:
    """The clocks of the room that ran out, each with its call."""
    for clock in running_clocks(room, t):
        call = room.calls.get(clock.call)
        if call is not None:
            yield clock, call


def start_timer(timer: str, name: str, ms: int) -> tuple[Draft, ...] | Refusal:
    """A timer starts now, for no session.

    Args:
        timer: Its id, unique in the book.
        name: What for.
        ms: How long.
    """
    wrong = wrong_time(ms, _EXAMPLE)
    if wrong is not None:
        return wrong
    return (Draft.of(f"clock/{timer}", ClockStarted(
        clock=timer, name=name.strip() or "clock", ms=ms)),)


def end_timer(room: StudioState, timer: str, t: int) -> tuple[Draft, ...] | Refusal:
    """A timer is answered; one that has not run out yet is stopped."""
    known = room.timers.get(timer)
    if known is None:
        return Refusal("That clock does not run", "nothing was changed")
    stream = f"clock/{timer}"
    if t < known.started_t + known.ms:
        return (Draft.of(stream, ClockStopped(clock=timer)),)
    return (Draft.of(stream, ClockAnswered(clock=timer, by=room.bench)),)
