"""No, and why: which rule of the edition stands in the way, and what can be done instead."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Refusal:
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
