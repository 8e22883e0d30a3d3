"""How one reading goes over a session or over a plate's life: the answer, its values, its chart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from benchapp.history.drift import GRADE_LIMIT
from benchapp.reckon.answer import Answer
from benchapp.reckon.trend import Point
from benchapp.reports.charts import Chart, ChartLevel
from benchapp.reports.json_form import FLAT, Numbered
from benchapp.reports.limits import ReadingLimits, chart_limits

GRADES: Final = "grade 1-5"
#: The fields of an answer about a reading: name, type, meaning, unit. Which of them are there
#: depends on how much could be said.
FIGURES: Final = (
    ("sentence", "text", "the answer in words", ""),
    ("name", "text", "what was read", ""),
    ("unit", "text or null", "its unit", ""),
    ("n", "whole number", "how many sheets have it", ""),
    ("direction", "text", "falling, rising, flat, no clear trend or too few", ""),
    ("s", "whole number", "Mann-Kendall's S, from eight readings on", ""),
    ("p", "number", "how often chance alone gives as much, 0 to 1", ""),
    ("exact", "true or false", "whether p is exact and not an approximation", ""),
    ("slope", "number", "the change from impression to impression", "the reading's unit"),
    ("slope_low", "number", "the low end of its interval", "the reading's unit"),
    ("slope_high", "number", "the high end of its interval", "the reading's unit"),
    ("since", "whole number", "the impression it moves from, where it moves", ""),
    ("step_after", "whole number", "the impression before the largest step, if there is one", ""),
    ("step_before_mean", "number", "the mean before that step", "the reading's unit"),
    ("step_after_mean", "number", "the mean after that step", "the reading's unit"),
    ("step_p", "number", "how often chance alone gives such a step, 0 to 1", ""),
    ("tolerance", "number", "the value no longer good, where it moves", "the reading's unit"),
    ("reaches", "number or null", "the impression near which it is met", ""),
    ("reaches_low", "number or null", "the low end of its 80 % interval", ""),
    ("reaches_high", "number or null", "the high end of its 80 % interval", ""),
    ("not_said", "text or null", "why it gives no impression where the tolerance is met", ""),
    ("life", "whole number", "impressions the recipe expects of the plate, where it moves", ""),
    ("inputs", "list of object", "the figures the answer rests on", ""),
    ("inputs[].name", "text", "what the figure is", ""),
    ("inputs[].value", "text or number", "the figure", "as in unit"),
    ("inputs[].unit", "text", "its unit; empty: none", ""),
    ("inputs[].source", "text", "where it comes from", ""),
    ("inputs[].detail", "text", "the text or sessions meant; only where there is one", ""),
    ("notes", "list of text", "cautions, a sentence each", ""),
    ("formula", "text", "how it was reckoned", ""),
    ("source", "text", "where the formula comes from", ""),
)
#: A chart is not drawn of fewer readings: the row of them says it all.
DRAWN_FROM: Final = 4


@dataclass(frozen=True, slots=True)
class ReadingDrift:
    """One reading over all sheets that are meant to be alike."""

    answer: Annotated[Answer, FLAT, "whether it moves, and what that rests on"]
    values: Annotated[tuple[Numbered, ...], "each reading: [impression, value]"]
    limits: Annotated[ReadingLimits | None,
                      "an instrument's usual scatter; null for grades and few readings"]

    @property
    def name(self) -> str:
        """What was read."""
        return str(self.answer.figures["name"])

    @property
    def unit(self) -> str | None:
        """Its unit."""
        unit = self.answer.figures["unit"]
        return None if unit is None else str(unit)

    @property
    def sentence(self) -> str:
        """The answer in words."""
        return self.answer.sentence

    @property
    def moves(self) -> bool:
        """Whether it surely rises or falls."""
        return self.answer.figures["direction"] in ("falling", "rising")

    @property
    def expected_life(self) -> int | None:
        """How many impressions the recipe expects of the plate, where the answer rests on it."""
        life = self.answer.figures.get("life")
        return None if life is None else int(life)


def read_drift(answer: Answer, points: Sequence[Point], changed: Sequence[int]) -> ReadingDrift:
    """The answer with what it is about.

    Args:
        answer: From `reckon.trend.reading_trend`.
        points: The readings it is about, the numbers rising.
        changed: After which impressions a setting or the plate was changed.
    """
    values = tuple((p.n, p.value) for p in points)
    name, unit = str(answer.figures["name"]), answer.figures["unit"]
    return ReadingDrift(answer, values, chart_limits(name, unit, values, changed))


def drift_chart(drift: ReadingDrift) -> Chart:
    """The chart of one reading of a life or a review, ready to be drawn."""
    grade = drift.unit == GRADES
    return Chart(drift.name, tuple((float(x), float(y)) for x, y in drift.values),
                 y_name=drift.unit or "",
                 limits=(ChartLevel("no longer good", GRADE_LIMIT),) if grade else (),
                 low=1 if grade else None, high=5 if grade else None)
