"""The one error of this room: what is wrong with a quantity, and what to write."""

from __future__ import annotations

#: Longer texts are cut when an error quotes them.
_QUOTED_AT_MOST = 40


class QuantityError(ValueError):
    """A text is no quantity of the kind asked for.

    Attributes:
        wrong: What is wrong, without a full stop.
        mend: What to write instead, without a full stop.
    """

    def __init__(self, wrong: str, mend: str) -> None:
        super().__init__(f"{wrong}; {mend}")
        self.wrong = wrong
        self.mend = mend


def quote_text(text: str) -> str:
    """`text` in quotes for a message: short, on one line, nothing invisible in it."""
    cut = text if len(text) <= _QUOTED_AT_MOST else text[: _QUOTED_AT_MOST - 1] + "…"
    return '"' + "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in cut) + '"'
