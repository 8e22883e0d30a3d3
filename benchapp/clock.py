"""The only reader of time, and the two clocks that stand in for it.

Everything else gets a `Moment` as an argument. `FakeClock` is for tests,
`FastClock` for rehearsals.

Decisions, numbered as in DEVELOPERS.md:

3. **Every reading of time takes all clocks.** Wall time jumps and the monotonic clock of Linux
   stands still in sleep, so a count uses the boot clock inside one boot and wall time, marked ≈,
   across boots. Price: five fields an entry.
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace
from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path
from typing import Final, Protocol

from benchapp.events.entry import Moment

_NS_IN_MS: Final = 1_000_000
_BOOT_ID_FILE: Final = Path("/proc/sys/kernel/random/boot_id")


class Clock(Protocol):
    """Whatever reads every clock of the machine at once."""

    def now(self) -> Moment:
        """All clocks, read together."""
        ...


def _boot_ns() -> int:
    """A clock that goes on while the machine sleeps.

    Linux has one of its own. The plain monotonic clock of Windows counts sleep;
    so does CLOCK_MONOTONIC of macOS, where time.monotonic() does not.
    """
    if sys.platform == "linux":
        return time.clock_gettime_ns(time.CLOCK_BOOTTIME)
    elif sys.platform == "darwin":
        return time.clock_gettime_ns(time.CLOCK_MONOTONIC)
    else:
        return time.monotonic_ns()


def _awake_ns() -> int:
    """A clock that stands still while the machine sleeps, where there is one."""
    if sys.platform == "darwin":
        return time.clock_gettime_ns(time.CLOCK_UPTIME_RAW)
    else:
        return time.monotonic_ns()


def _boot_id() -> str:
    """A name for this boot, the same for every program until the machine restarts.

    Where the system has none, the moment of the boot to the nearest 10 s stands in
    for it. A wrong guess only costs exactness: times across boots are marked so.
    """
    try:
        return _BOOT_ID_FILE.read_text(encoding="ascii").strip()
    except (OSError, UnicodeDecodeError):
        booted_s = (time.time_ns() - _boot_ns()) // (10**9)
        return f"booted-{(booted_s + 5) // 10 * 10}"


def _offset_min(wall_ms: int) -> int:
    local = datetime.fromtimestamp(wall_ms // 1000, tz=UTC).astimezone()
    offset = local.utcoffset()
    return 0 if offset is None else round(offset.total_seconds() / 60)


class SystemClock:
    """The machine's own clocks."""

    def __init__(self) -> None:
        self._boot_id = _boot_id()

    def now(self) -> Moment:
        """All clocks, read together (within microseconds)."""
        wall_ms = time.time_ns() // _NS_IN_MS
        return Moment(wall_ms, _offset_min(wall_ms), _boot_ns(), self._boot_id, _awake_ns())


class FakeClock:
    """A clock that goes only when told to, each of its three clocks by itself."""

    def __init__(
        self,
        wall_ms: int = 1_777_795_200_000,  # 2026-05-03 08:00 UTC
        offset_min: int = 120,
        boot_ns: int = 0,
        boot_id: str = "boot-1",
        mono_ns: int = 0,
    ) -> None:
        self._at = Moment(wall_ms, offset_min, boot_ns, boot_id, mono_ns)
        self._boots = 1

    def now(self) -> Moment:
        """The moment last set."""
        return self._at

    def advance(self, ms: int) -> Moment:
        """Let `ms` pass, the machine awake; returns the moment reached."""
        at = self._at
        self._at = replace(
            at,
            wall_ms=at.wall_ms + ms,
            boot_ns=at.boot_ns + ms * _NS_IN_MS,
            mono_ns=at.mono_ns + ms * _NS_IN_MS,
        )
        return self._at

    def sleep(self, ms: int) -> Moment:
        """Let `ms` pass with the machine asleep: its monotonic clock stands still."""
        at = self._at
        self._at = replace(at, wall_ms=at.wall_ms + ms, boot_ns=at.boot_ns + ms * _NS_IN_MS)
        return self._at

    def step_wall(self, ms: int) -> Moment:
        """Set the wall clock forward (or back, below 0) by `ms`; no time passes."""
        self._at = replace(self._at, wall_ms=self._at.wall_ms + ms)
        return self._at

    def travel(self, offset_min: int) -> Moment:
        """Change the local offset, as for summer time or a journey; no time passes."""
        self._at = replace(self._at, offset_min=offset_min)
        return self._at

    def reboot(self, off_ms: int = 0) -> Moment:
        """Switch the machine off for `ms` and on again: a new boot, its clocks at 0."""
        self._boots += 1
        self._at = replace(
            self._at,
            wall_ms=self._at.wall_ms + off_ms,
            boot_ns=0,
            boot_id=f"boot-{self._boots}",
            mono_ns=0,
        )
        return self._at


class FastClock:
    """A day that runs `speed` times as fast as the clock it rests on.

    Args:
        speed: How many seconds pass here in one second of `base`.
        start: The moment it shows first.
        base: The clock that is really going; its boot clock is what is sped up.
    """

    def __init__(self, speed: Fraction | int, start: Moment, base: Clock) -> None:
        if speed <= 0:
            raise ValueError("a clock runs forward: give a speed above 0")
        self._speed = Fraction(speed)
        self._start = start
        self._base = base
        self._from_ns = base.now().boot_ns

    def now(self) -> Moment:
        """The moment the day has got to."""
        passed_ns = int((self._base.now().boot_ns - self._from_ns) * self._speed)
        start = self._start
        return replace(
            start,
            wall_ms=start.wall_ms + passed_ns // _NS_IN_MS,
            boot_ns=start.boot_ns + passed_ns,
            mono_ns=start.mono_ns + passed_ns,
        )
