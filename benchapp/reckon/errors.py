"""The one error of this room: which figure will not do, why, and what would be possible."""

from __future__ import annotations


class ReckonError(ValueError):
    """A question has no answer as it is asked.

    Attributes:
        figure: Which figure of the question, by the name the printer gave it.
        wrong: What is wrong, without a full stop.
        mend: What would be possible or what to write instead, without a full stop.
    """

    def __init__(self, figure: str, wrong: str, mend: str) -> None:
        super().__init__(f"{figure}: {wrong}; {mend}")
        self.figure = figure
        self.wrong = wrong
        self.mend = mend
