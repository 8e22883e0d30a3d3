"""No, and why: which rule of the edition stands in the way, and what can be done instead."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

#: What to write where a sheet is to be named.
HOW_TO_NAME: Final = ("name it by its mark (K7), its number (12/40, AP II), or session and pull "
                      "(last:3)")


@dataclass(frozen=True, slots=True)
class EditionRefusal:
    """An action that is not done.

    Attributes:
        rule: The rule in one word, the same for every refusal it causes.
        why: What is wrong, with who has the number where one is taken.
        mend: What can be done instead.
    """

    rule: str
    why: str
    mend: str = ""

    def __str__(self) -> str:
        return f"{self.why}; {self.mend}" if self.mend else self.why
