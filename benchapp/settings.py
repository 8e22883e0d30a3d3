"""The printer's preferences: one commented file in the home, read as strictly as a recipe.

There need be no such file: then everything stands as it is here.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Final, Literal

from benchapp.files import preferences_file, read_bytes, write_new
from benchapp.quantities import (
    Duration,
    Length,
    QuantityError,
    quoted,
    read_duration,
    read_length,
)
from benchapp.recipe.document import scan
from benchapp.recipe.fields import Fields, Ledger
from benchapp.recipe.problems import RecipeError

#: Keys that pedals, presenters and keyboards send for "go on".
TREADS: Final = (
    "space", "enter", "pagedown", "right", "down", "f5", *(f"f{n}" for n in range(13, 25)),
)  # fmt: skip
_KEY: Final = re.compile(r"[a-z0-9_]+(\+[a-z0-9_]+){0,4}")
_KEY_AT_MOST: Final = 40
_GATE_AT_MOST_MS: Final = 10_000
_ROW_AT_MOST_MM: Final = 100


@dataclass(frozen=True, slots=True)
class Preferences:
    """What the printer prefers.

    Attributes:
        gate: Silence the switch must keep before its next press counts; 0 ms takes all.
        treads: The keys that are the switch, by their names on the screen.
        row_height: How high one row of the terminal is, for how far numerals carry.
        theme: Light signs on dark, or dark on light.
        studio: The name on papers, or None.
    """

    gate: Duration = Duration(750, "ms")
    treads: tuple[str, ...] = TREADS
    row_height: Length = Length(Fraction(5))
    theme: Literal["dark", "light"] = "dark"
    studio: str | None = None


STARTER: Final = """\
# Preferences of this studio. A line taken out stands as the program has it.

# studio: the name that papers bear

# Silence the switch must keep before its next press counts. A key held down looks
# like many presses: give more if one press goes two steps. 0 ms takes every press.
gate: 750 ms

# The keys that are the switch.
treads: [space, enter, pagedown, right, down, f5,
  f13, f14, f15, f16, f17, f18, f19, f20, f21, f22, f23, f24]

# One row of your terminal, measured on the glass: how far the numerals carry.
row height: 5 mm

# dark or light
theme: dark
"""


def read_preferences(text: str | bytes) -> Preferences:
    """The preferences a file holds; what it leaves out stands as it is by default.

    Raises:
        RecipeError: With all problems, each with its line and column.
    """
    document = scan(text)
    ledger = Ledger(document.problems)
    if document.root is None or not document.whole:
        if ledger.problems:
            raise RecipeError(ledger.problems)
        return Preferences()
    fields = Fields(document.root, "this file", ledger, "gate: 750 ms")
    found = _taken(fields)
    fields.finish()
    if ledger.problems:
        raise RecipeError(ledger.problems)
    return found


def _taken(fields: Fields) -> Preferences:
    usual = Preferences()
    gate = fields.read("gate", _at_most(read_duration, Duration(_GATE_AT_MOST_MS, "s")), "750 ms")
    row = fields.read("row height", _row_height, "5 mm")
    theme = fields.choice("theme", ("dark", "light"))
    return Preferences(
        gate=gate or usual.gate,
        treads=_treads(fields) or usual.treads,
        row_height=row or usual.row_height,
        theme="light" if theme == "light" else "dark",
        studio=fields.text("studio"),
    )


def _at_most(reader: Callable[[str], Duration], most: Duration) -> Callable[[str], Duration]:
    def read(text: str) -> Duration:
        found = reader(text)
        if found > most:
            raise QuantityError(f"{quoted(text)} is too long", f"write at most {most}")
        return found

    return read


def _row_height(text: str) -> Length:
    found = read_length(text)
    if not 0 < found.mm <= _ROW_AT_MOST_MM:
        raise QuantityError(f"{quoted(text)} is no height of a row", "measure one, such as 5 mm")
    return found


def _treads(fields: Fields) -> tuple[str, ...]:
    keys = fields.texts("treads", "space")
    for key in keys:
        if len(key) > _KEY_AT_MOST or not _KEY.fullmatch(key):
            fields.ledger.add(
                fields.node_of("treads"),
                f"treads: {quoted(key)} is no name of a key",
                "write small letters and digits, such as space, f13 or shift+f1",
            )
    return keys


def load(path: Path | None = None) -> Preferences:
    """The preferences in the home (or at `path`); the defaults where there is no file.

    Raises:
        RecipeError: The file has problems.
        FileProblem: It is there and cannot be read.
    """
    path = path or preferences_file()
    if not path.exists():
        return Preferences()
    return read_preferences(read_bytes(path))


def write_starter(path: Path | None = None) -> Path:
    """Write the commented file with everything as it is by default; gives its place.

    Raises:
        AlreadyThere: There is one.
        FileProblem: The system refuses.
    """
    path = path or preferences_file()
    write_new(path, STARTER)
    return path
