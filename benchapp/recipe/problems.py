"""What is wrong with a text, where, and what to write instead."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from benchapp.safe_text import sanitize

_LONGEST: Final = 400


def _shown(text: str) -> str:
    cut = text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"
    return sanitize(cut)


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing wrong (or worth a raised eyebrow) and how to mend it.

    Attributes:
        line: Line in the text, from 1.
        column: Column in that line, in characters, from 1.
        wrong: What is wrong.
        mend: What to write or do instead.
    """

    line: int
    column: int
    wrong: str
    mend: str

    def __post_init__(self) -> None:
        # A message quotes the text it is about, and that may be hostile or endless.
        object.__setattr__(self, "wrong", _shown(self.wrong))
        object.__setattr__(self, "mend", _shown(self.mend))

    def __str__(self) -> str:
        return f"{self.line}:{self.column}: {self.wrong}; {self.mend}"

    def at(self, file: str) -> str:
        """The same with the name of the file before it."""
        return f"{file}:{self}"


class RecipeError(Exception):
    """A text that cannot be taken as it stands. Carries every problem, in the order of the text."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(sorted(set(problems)))
        super().__init__("\n".join(map(str, self.problems)))
