"""Sentences offered for a line of text: the arrows bring one in, and nothing typed is lost.

Pure: which text stands in the line after an arrow, and which come before and behind it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Offered:
    """What the arrows go through: what the printer typed, then the sentences.

    Attributes:
        phrases: The sentences offered.
        own: Texts typed, the oldest first; one begun from a sentence too.
        at: The place of the text in the line, among `own` and behind them `phrases`.
    """

    phrases: tuple[str, ...] = ()
    own: tuple[str, ...] = ("",)
    at: int = 0

    @property
    def chosen(self) -> int | None:
        """Which sentence stands in the line, from 0; None: a text of the printer's own."""
        return self.at - len(self.own) if self.at >= len(self.own) else None

    def step(self, by: int, text: str) -> tuple[Offered, str]:
        """Go to the next text (1) or the one before (-1); at either end it stays.

        Args:
            by: 1 or -1.
            text: What stands in the line now. It is kept, and the arrows come back to it.
        """
        kept = self._keep(text)
        texts = (*kept.own, *kept.phrases)
        at = min(max(kept.at + by, 0), len(texts) - 1)
        return replace(kept, at=at), texts[at]

    def _keep(self, text: str) -> Offered:
        if text == (*self.own, *self.phrases)[self.at]:
            return self
        if self.at < len(self.own):
            return replace(self, own=(*self.own[:self.at], text, *self.own[self.at + 1:]))
        return replace(self, own=(*self.own, text), at=len(self.own))
