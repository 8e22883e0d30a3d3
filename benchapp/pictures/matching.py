"""Which sheet a picture shows, by when it was taken. Pure.

A sheet is photographed when it is lifted, or later when it is looked at. So the sheet proposed is
the one last pulled or looked at then. The limits are common practice, no source.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from benchapp.pictures.taken import TakenTime

#: So long after it was pulled or looked at a picture is likely to be of that sheet.
SURE_WITHIN: Final = timedelta(minutes=20)
#: A picture so long after is not proposed for any sheet: the day was over.
_AT_MOST: Final = timedelta(hours=6)
#: Another sheet comes so soon that the camera need only be this much off.
_NEXT_IS_NEAR: Final = timedelta(minutes=1)
#: Clocks are off by whole hours most often: another time zone, or summer time.
_SHIFTS: Final = tuple(timedelta(hours=h) for h in sorted(range(-14, 15), key=abs))


@dataclass(frozen=True, slots=True)
class SheetMoment:
    """A sheet was pulled, or looked at.

    Attributes:
        at: When, with the zone of the studio.
        sheet: Its id.
        what: `pulled` or `looked at`.
    """

    at: datetime
    sheet: str
    what: str


@dataclass(frozen=True, slots=True)
class PictureProposal:
    """The sheet that a picture seems to show.

    Attributes:
        moment: What was last done before it; None: nothing near it.
        after: How long after that it was taken.
        sure: Nothing speaks against it; where False the printer is asked.
    """

    moment: SheetMoment | None
    after: timedelta = timedelta(0)
    sure: bool = False


def propose_sheets(pictures: Iterable[TakenTime], moments: Iterable[SheetMoment], *,
                   shift: timedelta | None = None) -> tuple[PictureProposal, ...]:
    """For each picture the sheet it seems to show.

    Args:
        pictures: When they were taken.
        moments: When sheets were pulled and looked at, in any order.
        shift: What has to be added to the times of the camera; None: nobody has said that its
            clock is right, so no picture without a zone is sure.
    """
    ordered = _Moments(moments)
    return tuple(_propose(t, ordered, shift) for t in pictures)


def guess_shift(pictures: Iterable[TakenTime], moments: Iterable[SheetMoment]) -> timedelta:
    """By how much the camera's clock seems to be off: what to add to its times.

    Of whole hours the one by which most pictures come soon after a sheet, the smallest of equals.
    Only times without a zone count: a camera that knows its zone was set by a network.
    """
    ordered = _Moments(moments)
    times = [t for t in pictures if not has_zone(t)]

    def soon(shift: timedelta) -> int:
        return sum(p.moment is not None and p.after <= SURE_WITHIN
                   for p in (_propose(t, ordered, shift) for t in times))

    return max(_SHIFTS, key=soon) if times else timedelta(0)


def has_zone(taken: TakenTime) -> bool:
    """Whether its time needs no clock to be asked about."""
    return taken.at.tzinfo is not None


class _Moments:
    """Moments in order, by the true time and by what a clock in the studio showed."""

    def __init__(self, moments: Iterable[SheetMoment]) -> None:
        known = list(moments)
        self.by_time = sorted(known, key=lambda m: m.at)
        self.times = [m.at for m in self.by_time]
        self.by_clock = sorted(known, key=lambda m: m.at.replace(tzinfo=None))
        self.clocks = [m.at.replace(tzinfo=None) for m in self.by_clock]

    def of(self, at: datetime) -> tuple[Sequence[SheetMoment], Sequence[datetime]]:
        """Those to compare with a time, with or without a zone."""
        return (self.by_clock, self.clocks) if at.tzinfo is None else (self.by_time, self.times)


def _propose(taken: TakenTime, ordered: _Moments, shift: timedelta | None) -> PictureProposal:
    at, known = taken.at, True
    if not has_zone(taken):
        known = shift is not None
        try:
            at += shift or timedelta(0)
        except OverflowError:
            return PictureProposal(None)
    moments, times = ordered.of(at)
    n = bisect_right(times, at)
    if not n or at - times[n - 1] > _AT_MOST:
        return PictureProposal(None)
    last, after = moments[n - 1], at - times[n - 1]
    rivals = any(abs(times[i] - at) <= _NEXT_IS_NEAR and moments[i].sheet != last.sheet
                 for i in (n - 2, n) if 0 <= i < len(times))
    sure = known and taken.by == "camera" and after <= SURE_WITHIN and not rivals
    return PictureProposal(last, after, sure)
