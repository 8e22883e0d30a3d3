"""Is a value drifting over an edition or over a plate's life, and when is it no longer good?

Asked after every impression from the eighth, at p < .004 of Mann-Kendall. Looking again after
each makes false alarms likelier: of 4,000 simulated stable editions this finds a direction in 1.5
of 100 of thirty impressions and in 3.3 of sixty with grades, in 2.2 and 4.2 with fine readings
(p < .01 in 7 and 12). Several readings of a print share the chance: p is then divided by their
number. A chart with limits drawn from the first ten finds something in one of four.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Any, Final

from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.figures import rounded_text
from benchapp.reckon.trend_change import SeriesStep, change_point, changing_since
from benchapp.reckon.trend_line import Meeting, fit_line, meet_tolerance
from benchapp.reckon.trend_rank import Kendall, Slope, mann_kendall, theil_sen

#: The first impression after which a direction is spoken of, and how sure it must be.
FROM: Final = 8
SURE: Final = 0.004
#: How sure a direction must be that is asked about once: for a line to the tolerance.
SURE_ONCE: Final = 0.01
#: A projection needs so many readings, and reaches so many times as far as the last of them.
LINE_FROM: Final = 6
FARTHEST: Final = 2
#: A step is mentioned at this p.
_STEP_SURE: Final = 0.01
#: With less than half a grade from first to last nothing has moved that an eye would see.
FLAT: Final = 0.5
_FORMULA: Final = "Mann-Kendall's S, Theil-Sen's slope, least squares with Fieller's interval"
_SOURCE: Final = "Mann 1945, Kendall; Sen 1968; Fieller 1954"


@dataclass(frozen=True, slots=True)
class Point:
    """One value and the number it stands at: of the impression, in a session or in a life."""

    n: int
    value: float


@dataclass(frozen=True, slots=True)
class Reach:
    """When the tolerance is met, or why that is not said.

    Attributes:
        meeting: Where, and its 80 % interval; None where it is not said.
        why: Why not, in plain words; empty where it is.
    """

    meeting: Meeting | None
    why: str = ""


def tolerance_reach(points: Sequence[Point], tolerance: float) -> Reach:
    """Near which number the straight line through the values meets `tolerance`.

    Said only with six values, a direction that is sure, and not beyond twice the last number.
    """
    if len(points) < LINE_FROM:
        return Reach(None, f"too few readings ({len(points)} of {LINE_FROM})")
    if mann_kendall([p.value for p in points]).p >= SURE_ONCE:
        return Reach(None, "no clear trend")
    found = fit_line([p.n for p in points], [p.value for p in points])
    meeting = meet_tolerance(found, tolerance)
    last = points[-1].n
    if meeting is None:
        return Reach(None, "the slope is too unsure to say when")
    if meeting.at > FARTHEST * last:
        return Reach(None, f"not before impression {FARTHEST * last}, and it does not look further")
    if meeting.at < points[0].n:
        return Reach(None, "it was past that from the first on")
    return Reach(meeting)


def reading_trend(
    name: str,
    points: Sequence[Point],
    *,
    unit: str = "",
    tolerance: float | None = None,
    life: int | None = None,
    flat: float = FLAT,
    where: str = "",
    readings: int = 1,
) -> Answer:
    """Whether `name` rises, falls or stays, from its values in pulling order.

    Args:
        name: What was read: `tone`.
        points: In rising order of their numbers.
        unit: Of the values.
        tolerance: The value that is no longer good enough, where there is one.
        life: How many impressions the recipe expects of the plate, where it says so.
        flat: The change from first to last that nobody would see.
        where: Over what: `this session`.
        readings: How many readings of the same print are asked about.

    Raises:
        ReckonError: The numbers do not rise.
    """
    if any(a.n >= b.n for a, b in pairwise(points)):
        raise ReckonError("readings", "their numbers are not in rising order", "give each "
                                                                               "impression once")
    values = [p.value for p in points]
    if len(points) < FROM:
        return _answer(name, points, unit, _few(name, len(points)), {"direction": "too few"}, where)
    rank = mann_kendall(values)
    slope = theil_sen([p.n for p in points], values)
    figures: dict[str, Any] = {
        "s": rank.s, "p": rank.p, "exact": rank.exact, "slope": slope.slope,
        "slope_low": slope.low, "slope_high": slope.high}
    if rank.p * readings >= SURE:
        words, direction = _still(name, points, slope, unit, flat)
        return _answer(name, points, unit, words, {"direction": direction, **figures}, where)
    return _moving(name, points, unit, rank, slope, tolerance, life, figures, where)


def _few(name: str, n: int) -> str:
    if n == 0:
        return f"No impression has {name} on it yet"
    return f"{n} impression{'s' if n > 1 else ''} with {name}: too few to tell"


def _still(name: str, points: Sequence[Point], slope: Slope, unit: str,
           flat: float) -> tuple[str, str]:
    span = points[-1].n - points[0].n
    most = max(abs(slope.low), abs(slope.high)) * span
    values = {p.value for p in points}
    if len(values) == 1:
        return (f"{_first(name)} is flat: {_value(points[0].value, unit)} on all "
                f"{len(points)} impressions", "flat")
    if most < flat:
        return f"{_first(name)} is flat over {len(points)} impressions", "flat"
    return f"{_first(name)} shows no clear trend over {len(points)} impressions", "no clear trend"


def _moving(name: str, points: Sequence[Point], unit: str, rank: Kendall, slope: Slope,
            tolerance: float | None, life: int | None, figures: dict[str, Any],
            where: str) -> Answer:
    direction = "falling" if rank.s < 0 else "rising"
    values = [p.value for p in points]
    at = changing_since([p.n for p in points], values)
    step = change_point(values)
    begun = points[at].n
    figures |= {"direction": direction, "since": begun if at else points[0].n}
    sentence = f"{_first(name)} is {direction}"
    if at:
        sentence += f" since about impression {begun}"
    sentence += f", by about {_rate(slope, unit)} an impression"
    notes = []
    if step is not None and step.p < _STEP_SURE:
        figures |= _step(step, points)
        notes.append(f"The largest step is after impression {points[step.after - 1].n}: "
                     f"{rounded_text(step.before_mean, 2)} before, "
                     f"{rounded_text(step.after_mean, 2)} after")
    inputs: list[Input] = []
    if tolerance is not None:
        inputs.append(Input("tolerance", rounded_text(tolerance, 2), unit, Origin.GIVEN))
        found = tolerance_reach(points, tolerance)
        figures |= _reached(found, tolerance)
        sentence, notes = _with_reach(sentence, notes, found, tolerance, unit, points[-1].n)
    if life is not None:
        figures["life"] = life
        inputs.append(Input("expected life", life, "impressions", Origin.RECIPE))
    return _answer(name, points, unit, sentence, figures, where, inputs, notes)


def _with_reach(sentence: str, notes: list[str], found: Reach, tolerance: float, unit: str,
                last: int) -> tuple[str, list[str]]:
    value = _value(tolerance, unit)
    if found.meeting is None:
        return sentence, [*notes, f"When it reaches {value}: {found.why}"]
    m = found.meeting
    high = f"{round(m.high)}" if m.high <= FARTHEST * last else f"beyond {FARTHEST * last}"
    interval = f"(80 %: {max(1, round(m.low))} to {high})"
    verb = "reaches" if m.at > last else "reached"
    return f"{sentence}; it {verb} {value} near impression {max(1, round(m.at))} {interval}", notes


def _reached(found: Reach, tolerance: float) -> dict[str, Any]:
    m = found.meeting
    return {"tolerance": tolerance, "reaches": None if m is None else m.at,
            "reaches_low": None if m is None else m.low,
            "reaches_high": None if m is None else m.high, "not_said": found.why or None}


def _step(step: SeriesStep, points: Sequence[Point]) -> dict[str, Any]:
    return {"step_after": points[step.after - 1].n, "step_before_mean": step.before_mean,
            "step_after_mean": step.after_mean, "step_p": step.p}


def _rate(slope: Slope, unit: str) -> str:
    low, high = sorted((abs(slope.low), abs(slope.high)))
    if slope.low <= 0 <= slope.high:
        low = 0.0
    return f"{_value(abs(slope.slope), unit)} ({rounded_text(low, 3)} to {rounded_text(high, 3)})"


def _value(value: float, unit: str) -> str:
    shown = rounded_text(value, 3)
    return shown if not unit or unit.startswith("grade") else f"{shown} {unit}"


def _first(name: str) -> str:
    return name[:1].upper() + name[1:]


def _answer(name: str, points: Sequence[Point], unit: str, sentence: str,
            figures: dict[str, Any], where: str, inputs: Sequence[Input] = (),
            notes: Sequence[str] = ()) -> Answer:
    count = Input(f"{name} on", len(points), "impressions", Origin.LEARNT, where)
    return Answer(
        sentence=sentence,
        figures={"name": name, "unit": unit or None, "n": len(points), **figures},
        inputs=(count, *inputs), notes=tuple(notes), formula=_FORMULA, source=_SOURCE)


def quiet_line(answer: Answer) -> str | None:
    """The one line for the bench, without the rate: only where something was found."""
    if answer.figures["direction"] not in ("falling", "rising"):
        return None
    head, _, rest = answer.sentence.rpartition(", by about ")
    after = rest.partition(" an impression")[2].replace("; it ", "; ", 1)
    return head + after.replace(" near impression ", " near ", 1)


def parse_figure(value: object) -> float | None:
    """A reading's figure as a number; None where it is none."""
    if isinstance(value, bool) or not isinstance(value, (int, float, Fraction)):
        return None
    return float(value)
