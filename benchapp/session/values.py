"""What a named value of the bench teaches, whether a text can be read so, and what it is about.

A screw is read in turns, a thickness as a length, a weighing as a mass; what cannot be read
would teach nothing, and an older figure would stand in for it unseen. So it is refused while it
can still be mended. Warmth may also be told in words, and any other value is free text. A
decimal comma is read where one quantity is meant, and recorded as a point; in free text it could
part a list, so a quantity with one is refused there. Pure.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

from benchapp.quantities import (
    Length,
    Mass,
    QuantityError,
    metric_text,
    number_text,
    point_for_comma,
    quote_text,
    read_humidity,
    read_length,
    read_mass,
    read_number,
    read_temperature,
    read_turns,
)
from benchapp.recipe.model import ReadingSpec, Recipe
from benchapp.session.press_settings import setting_name
from benchapp.session.state import NOT_KNOWN
from benchapp.session.weighing import is_weighing

Reader = Callable[[str], object]

_GRADE: Final = re.compile(r"grade (\d+)-(\d+)")
_WARMTH: Final = re.compile(r"\b(room|hot ?plate|heat|warmth|temperature|bath)$", re.IGNORECASE)
_HUMIDITY: Final = re.compile(r"\bhumidity$", re.IGNORECASE)
_OF_DAY: Final = re.compile(r"\b(room|humidity)\b", re.IGNORECASE)
_FIGURE: Final = re.compile(r"[-+\u2212]?[0-9][0-9.,/ ]*")
#: A figure and what follows it, if anything does.
_LEADS: Final = re.compile(r"([-+\u2212]?[0-9][0-9.,/ ]*)(.*)", re.DOTALL)
#: `19 °C, 60 %`: a comma with a blank behind it parts two values.
_PARTS: Final = re.compile(r",\s+|;|·|\band\b")
#: What stands behind a figure that is meant as a warmth or a humidity; other words are words.
_UNIT: Final = re.compile(r"(?:°.*|[CFK]|deg\w*|%.*|celsius|fahrenheit)", re.IGNORECASE)
_COMMA: Final = re.compile(r"(?<![0-9.,])[0-9]+,[0-9]+(?![0-9.,])")
#: The same with a unit behind it: a quantity, in whatever value it stands.
_COMMA_UNIT: Final = re.compile(
    _COMMA.pattern + r"\s*(?:mm|cm|in|g|kg|g/m2|g/m²|gsm|%|turns?|°C|°F|C|F|min|h|s)(?!\w)")
_BARE: Final = frozenset({"blankets", "paper"})


# -- settings -------------------------------------------------------------------------------


def wrong_setting(recipe: Recipe, name: str, value: str) -> QuantityError | None:
    """What is wrong with a setting's value, or None; words are free where nothing is reckoned.

    Args:
        recipe: The session's: it says what the screws are called.
        name: The setting's name.
        value: What was written, without outer blanks.
    """
    word = name.strip().casefold()
    if value.casefold() == NOT_KNOWN:
        return None
    read = _reader(recipe, word)
    if read is not None:
        return _wrong(read, value)
    if _WARMTH.search(word) or _HUMIDITY.search(word):
        return _wrong_climate(word, value)
    if word in _BARE and _FIGURE.fullmatch(value):
        return QuantityError(f"{quote_text(value)} has no unit",
                             f"write {value} mm, or in words what it is")
    return _wrong_comma(value, _COMMA if word in _BARE else _COMMA_UNIT)


def recorded_setting(recipe: Recipe, name: str, value: str) -> str:
    """A setting's value as it is recorded: with a decimal point, inches and ounces metric.

    Only where one quantity or the room's warmth is meant; words stay as they were written, since
    a comma among them may part a list. What cannot be read stays too, to be refused.
    """
    word = name.strip().casefold()
    read = _reader(recipe, word)
    if read is None:
        climate = _WARMTH.search(word) or _HUMIDITY.search(word)
        return point_for_comma(value) if climate else value
    pointed = point_for_comma(value)
    try:
        found = read(pointed)
    except QuantityError:
        return pointed
    imperial = isinstance(found, Length | Mass) and metric_text(found) != str(found)
    return metric_text(found) if imperial and isinstance(found, Length | Mass) else pointed


def setting_text(recipe: Recipe, name: str, value: str) -> str:
    """A setting's value as papers show it: a quantity in its one spelling, words as they are."""
    read = _reader(recipe, name.strip().casefold())
    if read is None or _wrong(read, value) is not None:
        return value
    figure, _, unit = str(read(value)).rpartition(" ")
    return f"{number_text(read_number(figure))} {unit}"


def _reader(recipe: Recipe, word: str) -> Reader | None:
    """How a value is read that the day's arithmetic learns from."""
    screws = {setting_name(recipe, press, side).casefold()
              for press in recipe.presses for side, _ in press.sides}
    if word in screws:
        return read_turns
    if word.endswith(" thickness"):
        return read_length
    return read_mass if is_weighing(word) else None


def _wrong(read: Reader, value: str) -> QuantityError | None:
    try:
        read(value)
    except QuantityError as error:
        return error
    return None


def _wrong_climate(word: str, value: str) -> QuantityError | None:
    """Figures of a room or a hot plate need their unit; words of them are free."""
    for part in _PARTS.split(value):
        figure = _LEADS.fullmatch(part.strip())
        if figure is None or (figure[2] and not _UNIT.fullmatch(figure[2].strip())):
            continue
        damp = "%" in figure[2] or (_HUMIDITY.search(word) and not figure[2])
        wrong = _wrong(read_humidity if damp else read_temperature, part.strip())
        if wrong is not None:
            return wrong
    return _wrong_comma(value, _COMMA)


def _wrong_comma(value: str, pattern: re.Pattern[str]) -> QuantityError | None:
    found = pattern.search(value)
    figure = None if found is None else _COMMA.search(found[0])
    return None if figure is None else _wrong(read_number, figure[0])


# -- readings -------------------------------------------------------------------------------


#: The grade there is in every recipe, whether or not it names readings of its own.
OWN_GRADE: Final = ReadingSpec("grade", "grade 1-5")


def known_reading(recipe: Recipe, name: str) -> ReadingSpec | None:
    """The reading the recipe names so, or the grade every recipe has; else None."""
    named = next((r for r in recipe.readings if r.name == name), None)
    return OWN_GRADE if named is None and name.strip().casefold() == OWN_GRADE.name else named


def recorded_reading(recipe: Recipe, name: str, value: str, unit: str | None
                     ) -> tuple[str, str | None]:
    """A reading's figure and unit as they are recorded: with a decimal point, metric.

    Inches, ounces and pounds are changed where the recipe reads mm or g, and in a weighing.
    """
    value = point_for_comma(value)
    known = known_reading(recipe, name)
    meant = "g" if known is None and is_weighing(name) else None if known is None else known.unit
    reads: Callable[[str], Length | Mass] | None = (
        read_length if meant == "mm" else read_mass if meant == "g" else None)
    if unit is None or unit == meant or reads is None:
        return value, unit
    try:
        found = reads(f"{value} {unit}")
    except QuantityError:
        return value, unit
    figure, _, metric = metric_text(found).rpartition(" ")
    return (figure, metric) if metric == meant else (value, unit)


def wrong_reading(recipe: Recipe, name: str, value: str, unit: str | None
                  ) -> QuantityError | None:
    """What is wrong with what was read, or None: a plain figure, in the unit that is meant.

    Args:
        recipe: The session's.
        name: What was read.
        value: The figure, as typed.
        unit: The unit typed; None: the recipe's, where it has one.
    """
    wrong = _wrong_figure(name, value)
    if wrong is not None:
        return wrong
    known = known_reading(recipe, name)
    meant = None if known is None else known.unit
    if meant is not None and unit not in (None, meant):
        return QuantityError(f"{name} is read in {meant}, not in {unit}",
                             f"write the figure in {meant}")
    if meant is not None:
        return _wrong_grade(meant, value)
    return _wrong_unit(name, f"{value} {unit or ''}".strip())


def _wrong_figure(name: str, value: str) -> QuantityError | None:
    """A figure that is no number at all, or one written in a way no quantity is."""
    bare = value.strip().lstrip("+-\u2212")
    if not bare[:1].isdigit() or not bare.isascii():
        return QuantityError(f"{value} is not a number", f"write: reading {name} 3")
    return _wrong(lambda text: read_number(text, fractions=False), bare)


def _wrong_grade(unit: str, value: str) -> QuantityError | None:
    grade = _GRADE.fullmatch(unit)
    if grade and not (value.isdigit() and int(grade[1]) <= int(value) <= int(grade[2])):
        return QuantityError(f"{value} is not a {unit}", f"write a whole {unit}")
    return None


def _wrong_unit(name: str, said: str) -> QuantityError | None:
    """A weighing, a room: without its unit it could be either of two."""
    word = name.strip().casefold()
    if is_weighing(word):
        return _wrong(read_mass, said)
    if _WARMTH.search(word) or _HUMIDITY.search(word):
        return _wrong_climate(word, said)
    return None


def is_grade(unit: str | None) -> bool:
    """Whether what is read in that unit is a judgement, on a scale."""
    return unit is not None and _GRADE.fullmatch(unit) is not None


def about_day(recipe: Recipe, name: str) -> bool:
    """Whether a reading is about the day and no sheet: the room, a weighing, a step before.

    Args:
        recipe: The session's; where it says at which step it is read, that decides.
        name: What is read, or set.
    """
    known = known_reading(recipe, name)
    if known is not None and known.at is not None:
        if any(step.do == known.at for step in recipe.each):
            return False
        if any(step.do == known.at for step in recipe.steps):
            return True
    if known is not None and is_grade(known.unit):
        return False
    return is_weighing(name) or _OF_DAY.search(name) is not None
