"""One of a few answers, by its number.

It is modal: while it stands no key reaches what is below, and escape leaves
everything as it was.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from benchapp.screens.laid_over import LaidOver
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Row, Rows
from benchapp.shown import Shown, visible

#: How a card that asks lies over a screen; `name` is that of its class.
CARD: Final = """
{name} {{ align: center middle; background: $background; }}
{name} #card {{ width: 90%; max-width: 92; height: auto; max-height: 100%; background: $surface;
    border: round $quiet; padding: 0 1; }}
{name} #title {{ text-style: bold; color: $wash; }}
{name} #about {{ color: $quiet; }}
{name} KeyLine {{ dock: none; background: $surface; padding: 0; margin: 1 0 0 0; }}
"""


class Pick(LaidOver[int | None]):
    """One of a few answers, by its number or with the arrows; None where it was left."""

    DEFAULT_CSS = CARD.format(name="Pick") + """
    Pick Rows { margin: 1 0 0 0; height: auto; max-height: 14; background: $surface; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "give_up", show=False)]

    def __init__(self, title: Shown, answers: Sequence[Shown],
                 about: Shown = Shown(""), *,  # noqa: B008 - immutable
                 later: str = "leave it for now", by_number: bool = False) -> None:
        """Ask.

        Args:
            title: What is asked.
            answers: The answers; the first nine have numbers.
            about: What may help to answer it.
            later: What escape means.
            by_number: Only a number answers, so that no tread of the switch can.
        """
        super().__init__()
        self._title, self._answers, self._about, self._later = title, answers, about, later
        self._by_number = by_number

    def compose(self) -> ComposeResult:
        """The question and its answers."""
        with Vertical(id="card"):
            yield Para(self._title, id="title")
            if self._about:
                yield Para(self._about, id="about")
            yield Rows([
                Row(((visible(f"{i + 1}  " if i < 9 else "   "), "mark"), (answer, "text")),
                    id=None if self._by_number else str(i))
                for i, answer in enumerate(self._answers)], unchosen=True)
            numbers = f"1-{min(9, len(self._answers))}" if len(self._answers) > 1 else "1"
            chosen = () if self._by_number else (("↓ enter", "choose"),)
            yield KeyLine(((numbers, "answer"), *chosen, ("escape", self._later)))

    def on_key(self, event: events.Key) -> None:
        """A number answers."""
        if event.character and event.character in "123456789":
            event.stop()
            place = int(event.character) - 1
            if place < len(self._answers):
                self.dismiss(place)

    def on_rows_taken(self, event: Rows.Taken) -> None:
        """Enter answers with the one chosen."""
        event.stop()
        self.dismiss(int(event.row_id))

    def action_give_up(self) -> None:
        """Leave it."""
        self.dismiss(None)


class Told(LaidOver[None]):
    """Lines to be read, and nothing to answer."""

    DEFAULT_CSS = CARD.format(name="Told") + """
    Told Rows { margin: 1 0 0 0; height: auto; max-height: 17; background: $surface; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss", show=False), Binding("q", "dismiss", show=False)]

    def __init__(self, title: Shown, rows: Sequence[Row]) -> None:
        """Show lines under a title."""
        super().__init__()
        self._title, self._rows = title, tuple(rows)

    def compose(self) -> ComposeResult:
        """Title, lines, the way back."""
        with Vertical(id="card"):
            yield Para(self._title, id="title")
            yield Rows(self._rows)
            yield KeyLine((("escape", "back"),))
