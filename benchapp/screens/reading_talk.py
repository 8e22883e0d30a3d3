"""How a reading is asked for at the Bench: of what, of which sheet or the day, and its figure."""

from __future__ import annotations

import re
from typing import Final

from benchapp.history.stats import weighing_names
from benchapp.screens.talk import Talk
from benchapp.session import actions as a
from benchapp.session.annotate import NO_SHEET, last_pulled, needs_sheet, reading_about
from benchapp.session.values import OWN_GRADE, about_day

GRADE: Final = re.compile(r"grade (\d+)-(\d+)")


def ask_reading(talk: Talk) -> None:
    """A named value, a grade, or a weighing of the day; each says what it is about."""
    recipe = talk.s.recipe
    own: list[tuple[str, str | None]] = [(r.name, r.unit) for r in recipe.readings]
    readings = [*(own or [(OWN_GRADE.name, OWN_GRADE.unit)]),
                *((name, "g") for name in weighing_names(recipe) if name not in dict(own))]
    if len(readings) == 1:
        _ask_value(talk, readings[0])
    else:
        talk.pick("Reading of what", [
            (f"{name} {_about(talk, name)[1]}{f' ({unit})' if unit else ''}", (name, unit))
            for name, unit in readings], lambda reading: _ask_value(talk, reading))


def _about(talk: Talk, name: str) -> tuple[int | None, str]:
    """The sheet a reading would be filed under, and how that is said."""
    meant = reading_about(talk.s, name)
    if meant is not None:
        return meant.ordinal, f"of {meant.mark or 'the sheet in hand'}"
    if needs_sheet(talk.s, name):
        return None, "of a sheet"
    day = about_day(talk.s.recipe, name) or last_pulled(talk.s) is None
    return None, "of the day" if day else "of the session"


def _ask_value(talk: Talk, reading: tuple[str, str | None]) -> None:
    name, unit = reading
    ordinal, of = _about(talk, name)
    if ordinal is None and needs_sheet(talk.s, name):
        talk.refuse(NO_SHEET)
        return
    grade = GRADE.fullmatch(unit or "")
    if grade is not None and grade[1] == "1":
        talk.pick(f"{name} {of}, {unit}",
                  [(str(n), str(n)) for n in range(1, int(grade[2]) + 1)],
                  lambda value: talk.do(a.TakeReading(name, value, unit, ordinal)))
    else:
        talk.ask(f"{name} {of}{f', in {unit}' if unit else ''}",
                 lambda value: a.TakeReading(name, value, unit, ordinal))
