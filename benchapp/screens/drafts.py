"""Texts put away before they were taken, by the line they stood in. Kept while the program runs."""

from __future__ import annotations


class Drafts:
    """What stood in lines that the pedal put away."""

    def __init__(self) -> None:
        """None yet."""
        self._texts: dict[tuple[str | None, str], str] = {}

    def keep(self, session: str | None, line: str, text: str) -> None:
        """Keep a text for when that line is opened again; an empty one is no draft.

        Args:
            session: The session on the Bench, or None.
            line: What is asked there, as it is told from other lines.
            text: What stood there.
        """
        if text.strip():
            self._texts[session, line] = text

    def take(self, session: str | None, line: str) -> str | None:
        """The text that stood in that line, which is kept no longer; None: there is none."""
        return self._texts.pop((session, line), None)
