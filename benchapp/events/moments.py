"""What can be said of moments: how long between two, and how one reads to people.

Pure: a moment comes in as an argument. It knows what an entry is, and no room.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone

from benchapp.events.entry import Moment


def elapsed_ms(a: Moment, b: Moment) -> tuple[int, bool]:
    """Milliseconds from `a` to `b`, and whether that is exact.

    Inside one boot the boot clock is compared, which goes on in sleep and never
    jumps: exact. Across boots only wall time is left, which may have been set in
    between: not exact (shown with ≈). Never below 0, so that no count runs back.
    """
    if a.boot_id == b.boot_id:
        return max((b.boot_ns - a.boot_ns) // 1_000_000, 0), True
    return max(b.wall_ms - a.wall_ms, 0), False


def stepped_ms(a: Moment, b: Moment) -> int:
    """How far wall time jumped between two moments of one boot; 0 across boots.

    Above 0: it was set forward. It is what the wall clock did beyond the boot clock.
    """
    if a.boot_id != b.boot_id:
        return 0
    return (b.wall_ms - a.wall_ms) - (b.boot_ns - a.boot_ns) // 1_000_000


def slept_ms(a: Moment, b: Moment) -> int:
    """How long the machine slept between two moments of one boot; 0 across boots."""
    if a.boot_id != b.boot_id:
        return 0
    return max((b.boot_ns - a.boot_ns) - (b.mono_ns - a.mono_ns), 0) // 1_000_000


def moment_before(moment: Moment, ms: int) -> Moment:
    """The moment `ms` milliseconds before `moment`, if no clock was set and nothing slept since."""
    return replace(moment, wall_ms=moment.wall_ms - ms, boot_ns=moment.boot_ns - ms * 1_000_000,
                   mono_ns=moment.mono_ns - ms * 1_000_000)


def local_time(moment: Moment) -> datetime:
    """The wall time of `moment` as it stood on the wall: with the offset of that moment."""
    zone = timezone(timedelta(minutes=moment.offset_min))
    # Added as a timedelta: fromtimestamp() takes a float, and rounds.
    epoch = datetime(1970, 1, 1, tzinfo=UTC)
    return (epoch + timedelta(milliseconds=moment.wall_ms)).astimezone(zone)


def iso_text(moment: Moment) -> str:
    """ISO 8601 with milliseconds and offset: `2026-05-03T09:15:00.000+02:00`."""
    return local_time(moment).isoformat(timespec="milliseconds")
