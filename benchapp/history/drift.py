"""Whether a reading moves over the session's sheets: its figures, and the Bench's one quiet line.

Pure. Asked anew at each look, reckoned once for the same figures: a session is looked at four
times a second and gets a reading a few times an hour.
"""

from __future__ import annotations

from functools import lru_cache
from math import isfinite
from typing import Final

from benchapp.reckon.answer import Answer
from benchapp.reckon.trend import FROM, Point, parse_figure, quiet_line, reading_trend
from benchapp.session.state import NOT_COUNTED, Session

#: Grade from which on an eye sees the difference to the standard.
GRADE_LIMIT: Final = 3
_GRADES: Final = "grade 1-5"


def drift_line(s: Session) -> str | None:
    """The surest direction found over the session's sheets, in a line; None where none was."""
    if not are_sheets_alike(s) or sum(bool(i.readings) for i in s.impressions) < FROM:
        return None
    found = [answer for answer in drift_answers(s) if quiet_line(answer) is not None]
    return quiet_line(min(found, key=lambda answer: answer.figures["p"])) if found else None


def are_sheets_alike(s: Session) -> bool:
    """Whether its sheets are meant to be alike: not while proofing, nor in a varied edition."""
    return not s.recipe.varied and s.recipe.proofing is None


def drift_answers(s: Session) -> list[Answer]:
    """How each reading moves, in the order first read; none where sheets are not to be alike."""
    if not are_sheets_alike(s):
        return []
    units = {r.name: r.unit for i in s.impressions for r in i.readings}
    life = s.recipe.plates[0].life if len(s.recipe.plates) == 1 else None
    found = {name: tuple(drift_readings(s, name)) for name in units}
    there = {name: points for name, points in found.items() if points}
    return [_answer(name, units[name] or "", points, life, len(there))
            for name, points in there.items()]


@lru_cache(maxsize=64)
def _answer(name: str, unit: str, points: tuple[Point, ...], life: int | None,
            readings: int) -> Answer:
    return reading_trend(name, points, unit=unit, life=life, where="this session",
                         readings=readings,
                         tolerance=GRADE_LIMIT if unit == _GRADES else None)


def drift_readings(s: Session, name: str) -> list[Point]:
    """The figures of a reading by number of the impression, the last where one was read again.

    Warm-ups and ghosts are left out.
    """
    found: dict[int, float] = {}
    for i in s.impressions:
        if i.number is None or i.purpose in NOT_COUNTED:
            continue
        for r in i.readings:
            if r.name == name and (value := parse_figure(reading_figure(r.value))) is not None:
                found[i.number] = value
    return [Point(n, found[n]) for n in sorted(found)]


def reading_figure(text: str) -> int | float | str:
    """A reading's figure as a number where it is one, and no larger than a number can be."""
    try:
        found = float(text)
        if not isfinite(found):
            return text
        return int(text) if text.lstrip("+-").isdigit() else found
    except ValueError:
        return text
