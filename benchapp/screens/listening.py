"""Whether the switch is known to be heard, or its next tread has to show it first. Pure.

While the terminal says that its keys go to another window, and after the machine
has slept, nobody knows what a tread was meant for: to go on, to wake the screen, or
to see whether anyone listens. So the first one shows that it arrives, and does no more.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from benchapp.events.entry import Moment
from benchapp.session.advance import JUMP_MS


@dataclass(frozen=True, slots=True)
class Listening:
    """What is known of the way from the pedal to here.

    Attributes:
        away: The terminal said that its keys go elsewhere.
        woken: The machine slept, and no tread has come since.
        last: The clocks when they were last looked at.
    """

    away: bool = False
    woken: bool = False
    last: Moment | None = None

    def looked(self, now: Moment) -> Listening:
        """The clocks stand at `now`; a boot clock that ran on alone means sleep."""
        slept = self.last is not None and self.last.boot_id == now.boot_id and (
            (now.boot_ns - self.last.boot_ns) - (now.mono_ns - self.last.mono_ns)
        ) // 1_000_000 > JUMP_MS
        return replace(self, last=now, woken=self.woken or slept)

    def focus(self, *, away: bool) -> Listening:
        """The terminal said where its keys go."""
        return replace(self, away=away)

    def tread(self, now: Moment) -> tuple[Listening, bool]:
        """A tread arrived: how things stand after it, and whether it only showed that."""
        seen = self.looked(now)
        return replace(seen, away=False, woken=False), seen.away or seen.woken
