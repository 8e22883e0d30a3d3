"""Biting in stages: times in all to single bites, and what is stopped out between them.

Each tone or line has a time in all. The plate goes in for the shortest, comes out, what has had
enough is stopped out, and it goes in for the difference: 3, 6, 10, 20 and 30 min in all (Lalanne
1880, the trial plate of his introduction, section 9) are bites of 3, 3, 4, 10 and 10 min.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from benchapp.quantities import Duration, join_words
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError

_DAY_MIN: Final = 24 * 60
_MOST: Final = 40
_MINUTE_MS: Final = 60_000
_NOTES: Final = (
    "Out of the bath, rinse and dry before you stop out, and let the varnish dry: 5 to 15 min each "
    "time (common practice)",
    "Back and bevels are stopped out before the first bite (common practice)",
    "Call each end before the time and look: over-biting cannot be undone (common practice)",
)


@dataclass(frozen=True, slots=True)
class Area:
    """A part of the plate and how long it is bitten in all; not at all: 0."""

    name: str
    in_all: Duration


@dataclass(frozen=True, slots=True)
class Bite:
    """One time in the bath.

    Attributes:
        long_ms: How long, in milliseconds.
        in_all_ms: How long what is still open has then been bitten.
        stopped: What is stopped out after it; after the last nothing is.
    """

    long_ms: int
    in_all_ms: int
    stopped: tuple[str, ...]


def bites_of(areas: Sequence[Area]) -> tuple[tuple[str, ...], tuple[Bite, ...]]:
    """What is stopped out before the first bite, and the bites.

    Raises:
        ReckonError: Nothing is bitten, or a name stands twice.
    """
    names = [area.name for area in areas]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise ReckonError("area", f"{twice} is given twice", "give each area once")
    if len(areas) > _MOST:
        raise ReckonError("area", f"{len(areas)} areas are too many", f"give up to {_MOST}")
    ends = sorted({area.in_all.ms for area in areas} - {0})
    if not ends:
        raise ReckonError("area", "nothing is bitten", 'give such as --area "sky: 3 min"')
    found, before = [], 0
    for end in ends:
        done = tuple(area.name for area in areas if area.in_all.ms == end)
        found.append(Bite(end - before, end, done if end != ends[-1] else ()))
        before = end
    return tuple(area.name for area in areas if not area.in_all.ms), tuple(found)


def bite_stages(areas: Sequence[Area], *, stop_out: Duration | None = None,
                from_minute: int | None = None, rests_on: Sequence[Input] = (),
                more_notes: Sequence[str] = ()) -> Answer:
    """The bites, and with the time a stopping-out takes, when the plate goes in and comes out.

    Args:
        areas: In any order.
        stop_out: From out of the bath until it goes in again; None: no clock is laid out.
        from_minute: When the plate first goes in, in minutes after midnight; None: from 0:00 on.
        rests_on: What the times rest on where they are not given, such as a strip.
        more_notes: What is to be known of those.

    Raises:
        ReckonError: Nothing is bitten, or a clock is asked for without the time of a stopping-out.
    """
    untouched, bites = bites_of(areas)
    if from_minute is not None and stop_out is None:
        raise ReckonError("from", "without --stop-out there is no clock", "give --stop-out 10 min")
    longs = ", ".join(str(Duration(bite.long_ms)) for bite in bites)
    one = len(bites) == 1
    whole = bites[-1].in_all_ms + (0 if stop_out is None else stop_out.ms * (len(bites) - 1))
    told = f"{'1 bite' if one else f'{len(bites)} bites'}: {longs}"
    figures: dict[str, object] = {
        "bites_ms": [bite.long_ms for bite in bites],
        "in_all_ms": [bite.in_all_ms for bite in bites],
        "stopped_out": [list(bite.stopped) for bite in bites],
        "stopped_out_first": list(untouched)}
    if stop_out is not None:
        figures["whole_ms"] = whole
        told += f"; {Duration(whole)} with stopping out"
    return Answer(
        sentence=told, figures=figures,
        inputs=(*(Input(area.name, area.in_all, "in all", Origin.GIVEN) for area in areas
                  if not rests_on),
                *rests_on,
                *([Input("stopping out", stop_out, "", Origin.GIVEN)] if stop_out else [])),
        notes=(*more_notes, *_NOTES),
        formula="each bite = its time in all − the time in all before it",
        source="arithmetic; stages after Lalanne, A Treatise on Etching, 1880, introduction, 9",
        body=tuple(_rows(untouched, bites, stop_out, from_minute)))


def _rows(untouched: tuple[str, ...], bites: Sequence[Bite], stop_out: Duration | None,
          from_minute: int | None) -> list[str]:
    rows = [f"first    stop out {join_words(untouched)}"] if untouched else []
    at = 0
    for number, bite in enumerate(bites, 1):
        clock = ""
        if stop_out is not None:
            clock = f"  in {_clock(at, from_minute)}, out {_clock(at + bite.long_ms, from_minute)}"
            at += bite.long_ms + stop_out.ms
        then = f"; then stop out {join_words(bite.stopped)}" if bite.stopped else ""
        rows.append(f"bite {number:<3} {Duration(bite.long_ms)}, in all "
                    f"{Duration(bite.in_all_ms)}{clock}{then}")
    return rows


def _clock(at_ms: int, from_minute: int | None) -> str:
    """A time of day, or minutes and seconds since the first bite began."""
    if from_minute is None:
        hours, rest = divmod(at_ms // 1000, 3600)
        return f"{hours}:{rest // 60:02}:{rest % 60:02}"
    day, minute = divmod(from_minute + at_ms // _MINUTE_MS, _DAY_MIN)
    seconds = at_ms % _MINUTE_MS // 1000
    later = f" {day} day later" if day else ""
    return f"{minute // 60:02}:{minute % 60:02}" + (f":{seconds:02}" if seconds else "") + later
