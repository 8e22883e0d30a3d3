"""A test strip read into biting times: patches bitten for known times, and how dark each printed.

Readings in order of time are made to rise by pooling adjacent violators (Ayer, Brunk, Ewing, Reid &
Silverman 1955): a patch that reads lighter than one bitten shorter is a slip of reading, and both
take their mean. A monotone curve is laid through them (`pchip`), and read the other way: the time
for a tone. Nothing is said beyond the strip's own patches.

A strip is read to within 5 to 10 % (common practice), and holds for its own metal, ground,
mordant, strength and warmth.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise
from typing import Final

from benchapp.quantities import Duration, Temperature, number_text
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.figures import to_step
from benchapp.reckon.pchip import MonotoneCurve

#: Winter needs 4 to 5 times summer's time (Lalanne 1880, section 34). If the seasons are 20 °C
#: apart, ten degrees are worth the square root of 4.5.
TEN_DEGREES: Final = 4.5**0.5
_WARMTHS: Final = (Fraction(5), Fraction(40))
_LEAST_PATCHES: Final = 3
FORMULA: Final = "readings pooled so that they rise; monotone cubic curve; read the other way"
SOURCE: Final = ("Fritsch & Carlson 1980; Fritsch & Butland 1984; pooling: Ayer, Brunk, Ewing, "
                 "Reid & Silverman 1955")
_NOTES: Final = (
    "It holds for this metal, ground, mordant, strength and warmth; mordant slows with use "
    "(common practice)",
    "A strip is read to within 5 to 10 % (common practice)",
)


class Scale(StrEnum):
    """What a reading is: it falls or rises as a tone darkens."""

    REFLECTANCE = "reflectance"
    """Light thrown back, in percent: falls."""
    DENSITY = "density"
    """Optical density (ISO 5), or any figure that rises with darkness."""
    GRADE = "grade"
    """A grade by eye, higher is darker."""


@dataclass(frozen=True, slots=True)
class Patch:
    """One patch of a strip: how long it was bitten in all, and how it reads."""

    bitten: Duration
    reading: Fraction


class Strip:
    """A strip that can be asked for times.

    Raises:
        ReckonError: Too few patches, two of one time, or all of one tone.
    """

    def __init__(self, patches: Sequence[Patch], scale: Scale) -> None:
        self.patches = tuple(sorted(patches, key=lambda patch: patch.bitten.ms))
        self.scale = scale
        times = [patch.bitten.ms for patch in self.patches]
        if len(times) < _LEAST_PATCHES:
            raise ReckonError("patch", f"{len(times)} patches make no curve",
                              f"give at least {_LEAST_PATCHES}")
        twice = next((a for a, b in pairwise(times) if a == b), None)
        if twice is not None:
            raise ReckonError("patch", f"{Duration(twice)} is given twice", "give each time once")
        self._sign = -1 if scale is Scale.REFLECTANCE else 1
        dark = [float(self._sign * patch.reading) for patch in self.patches]
        self.pooled = pool(dark)
        if self.pooled[0] == self.pooled[-1]:
            raise ReckonError("patch", "the readings do not darken with time",
                              "check their order and what --reading says")
        self._curve = MonotoneCurve(times, self.pooled)

    def time_for(self, tone: Fraction) -> float:
        """Milliseconds until a tone is reached.

        Raises:
            ReckonError: It is lighter or darker than every patch: a guess is not given.
        """
        try:
            return self._curve.first_reaching(float(self._sign * tone))
        except ValueError:
            ends = (self._sign * Fraction(x).limit_denominator(10_000)
                    for x in (self.pooled[0], self.pooled[-1]))
            light, dark = (self.text(x) for x in ends)
            raise ReckonError("tone", f"{self.text(tone)} is not on the strip, so any time would "
                              "be a guess", f"ask for {light} to {dark}, or bite a longer strip"
                              ) from None

    def notes(self) -> tuple[str, ...]:
        """What is to be known of times read off it."""
        slips = sum(1 for patch, dark in zip(self.patches, self.pooled, strict=True)
                    if float(self._sign * patch.reading) != dark)
        if not slips:
            return _NOTES
        return (f"{slips} patches read out of order and were taken at their mean; look at them "
                "again", *_NOTES)

    def text(self, reading: Fraction) -> str:
        """A reading as it is said."""
        return f"{number_text(reading)} %" if self.scale is Scale.REFLECTANCE else number_text(
            reading)


def pool(values: Sequence[float]) -> list[float]:
    """The rising values nearest to these by least squares: pooled adjacent violators."""
    blocks: list[tuple[float, int]] = []
    for value in values:
        blocks.append((value, 1))
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            (last, n), (before, m) = blocks.pop(), blocks.pop()
            blocks.append(((before * m + last * n) / (m + n), m + n))
    return [mean for mean, count in blocks for _ in range(count)]


def warmth_factor(strip: Temperature, now: Temperature) -> float:
    """What a strip's times are multiplied with at another warmth: an estimate and no more.

    Raises:
        ReckonError: One of them is no warmth of a bath in use.
    """
    for figure, warmth in (("strip-warmth", strip), ("warmth", now)):
        if not _WARMTHS[0] <= warmth.c <= _WARMTHS[1]:
            raise ReckonError(figure, f"{warmth} is not the warmth of a bath in use",
                              "give 5 to 40 °C")
    return float(TEN_DEGREES ** (float(strip.c - now.c) / 10))


def strip_times(strip: Strip, tones: Sequence[Fraction], *,
                warmths: tuple[Temperature, Temperature] | None = None) -> Answer:
    """How long each tone takes.

    Args:
        strip: As it was read.
        tones: Readings wanted.
        warmths: Of the strip and of the bath now; None: the same.

    Raises:
        ReckonError: A tone is outside the strip, or there is none.
    """
    if not tones:
        raise ReckonError("tone", "no tone is asked for", "give --tone, such as --tone 50")
    times = [strip.time_for(tone) for tone in tones]
    said = "; ".join(f"{strip.text(tone)} after {Duration(shown_ms(ms))}"
                     for tone, ms in zip(tones, times, strict=True))
    found: dict[str, object] = {"times_ms": [round(ms) for ms in times], "tones": list(tones)}
    notes = list(strip.notes())
    if warmths is not None:
        factor = warmth_factor(*warmths)
        found["estimate_ms"] = [round(ms * factor) for ms in times]
        notes.insert(0, estimate_note(factor, *warmths))
    return Answer(
        sentence=f"On this strip {said}", figures=found,
        inputs=tuple(Input(f"bitten {patch.bitten}", strip.text(patch.reading), "", Origin.GIVEN)
                     for patch in strip.patches),
        notes=tuple(notes), formula=FORMULA, source=SOURCE)


def estimate_note(factor: float, strip: Temperature, now: Temperature) -> str:
    """What another warmth may do, marked as the estimate it is."""
    percent = round(abs(factor - 1) * 100)
    how = "the same" if not percent else f"{percent} % {'longer' if factor > 1 else 'shorter'}"
    return (f"Estimate: at {now} instead of {strip} perhaps {how} (Lalanne 1880, winter against "
            "summer, taken as 20 °C apart); bite a new strip first")


def shown_ms(ms: float) -> int:
    """A time as finely as a strip tells it: to 1 s below 1 min, 5 s below 10 min, 30 s beyond."""
    return int(to_step(ms, 1000 if ms < 60_000 else 5000 if ms < 600_000 else 30_000))
