"""When a picture was taken: as its camera has it, or its file. Pure."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from typing import Final, Literal

_CAMERA: Final = re.compile(
    r"(\d{4}):(\d\d):(\d\d)[ T](\d\d):(\d\d):(\d\d)", re.ASCII)
_OFFSET: Final = re.compile(r"([+-])(\d\d):(\d\d)", re.ASCII)

TakenBy = Literal["camera", "file"]


@dataclass(frozen=True, slots=True)
class TakenTime:
    """When a picture was taken.

    Attributes:
        at: The moment; without a zone where a camera says only what its clock showed.
        by: Who says so: `camera`, the EXIF inside; `file`, when the file was written last.
    """

    at: datetime
    by: TakenBy

    @property
    def text(self) -> str:
        """As it is stored: `2026-05-03T14:05:10`, with `+02:00` where that is known."""
        return self.at.isoformat(timespec="seconds")


def read_taken_time(taken: str, offset: str) -> TakenTime | None:
    """The time that EXIF says; None: it is no time.

    Args:
        taken: `2026:05:03 14:05:10`.
        offset: `+02:00`; anything else is not known.
    """
    found = _CAMERA.fullmatch(taken)
    if found is None:
        return None
    try:
        year, month, day, *rest = found.groups()
        at = datetime.fromisoformat(f"{year}-{month}-{day}T{':'.join(rest)}")
    except ValueError:
        return None
    zone = _OFFSET.fullmatch(offset)
    if zone is not None:
        apart = timedelta(hours=int(zone[2]), minutes=int(zone[3]))
        if apart < timedelta(hours=24):
            at = at.replace(tzinfo=timezone(-apart if zone[1] == "-" else apart))
    return TakenTime(at, "camera")
