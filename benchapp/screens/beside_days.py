"""Two sessions of one print beside each other: how many, the hours, steps, tags, settings."""

from __future__ import annotations

from collections.abc import Sequence

from benchapp.reports import comparison as beside
from benchapp.reports.comparison import ComparedLine
from benchapp.safe_text import SafeText
from benchapp.screens.beside_base import BesideBase


class BesideDaysScreen(BesideBase):
    """A session beside the one before it on the same print, or beside another."""

    OWN = (("← →", "another session"),)

    def __init__(self, session: str | None = None) -> None:
        """Show that session; None: the one on the Bench, else the last opened."""
        super().__init__(session)
        self._shown: list[str] = []

    def begin(self) -> None:
        """This one, and the one before it."""
        ids = [r.id for r in self._days]
        if self._session not in ids:
            return
        at = ids.index(self._session)
        self._shown = [ids[at]]
        if len(ids) > 1:
            self._shown.append(ids[at - 1] if at else ids[1])
            self._in_hand = 1

    def named(self) -> str:
        """Which print."""
        r = self.read(self._shown[0]) if self._shown else None
        return "Two sessions" if r is None else f"Two sessions · {r.print}"

    def heads(self) -> Sequence[tuple[str, str]]:
        """Name of each, and whether it is closed."""
        names = {r.id: r for r in self._days}
        return [(names[x].name, "closed" if names[x].closed else "still open")
                for x in self._shown]

    def lines(self) -> Sequence[ComparedLine]:
        """Everything told of both."""
        return beside.compare_sessions([self.read(x) for x in self._shown])

    def hint(self) -> str:
        """That there is nothing to hold it against."""
        if not self._shown:
            return "No session has been opened yet."
        return "" if len(self._shown) > 1 else "This print has only this session."

    def columns(self) -> int:
        """As many as there are."""
        return max(1, len(self._shown))

    def move(self, by: int) -> None:
        """The next session of the print in the column in hand; never the one beside it."""
        ids = [r.id for r in self._days]
        if len(self._shown) < 2:
            return
        at = ids.index(self._shown[self._in_hand]) + by
        if 0 <= at < len(ids) and ids[at] in self._shown:
            at += by
        if not 0 <= at < len(ids):
            self.desk.say(SafeText("No later session of this print" if by > 0
                                else "No earlier session of this print"))
            return
        self._shown[self._in_hand] = ids[at]
