"""Asking one thing: a line of text, or one of a few answers by its number.

Both are modal: while they stand, no key reaches what is below, and escape
leaves everything as it was.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input

from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Row, Rows
from benchapp.shown import Shown, refuse, visible

#: The longest text a line takes; what is longer belongs into several notes.
LONGEST: Final = 500

_CARD: Final = """
{name} {{ align: center middle; background: $background; }}
{name} #card {{ width: 72; max-width: 100%; height: auto; max-height: 100%; background: $surface;
    border: round $quiet; padding: 0 1; }}
{name} #title {{ text-style: bold; color: $wash; }}
{name} #about {{ color: $quiet; }}
{name} #wrong {{ color: $fault; }}
{name} KeyLine {{ dock: none; background: $surface; padding: 0; margin: 1 0 0 0; }}
"""


class Ask(ModalScreen[str | None]):
    """One line of text; None where it was left."""

    DEFAULT_CSS = _CARD.format(name="Ask") + """
    Ask Input { background: $panel; color: $foreground; border: none; height: 1; padding: 0 1;
        margin: 1 0 0 0; }
    Ask Input:focus { border: none; background: $panel; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "give_up", show=False)]

    def __init__(self, title: Shown, about: Shown = Shown(""), *,  # noqa: B008 - immutable
                 value: str = "", check: Callable[[str], str | None] | None = None,
                 empty: bool = False) -> None:
        """Ask.

        Args:
            title: What is asked.
            about: What may help to answer it.
            value: What stands in the line at first.
            check: Says why a text is not taken, or None.
            empty: Whether an empty line is an answer.
        """
        super().__init__()
        self._title, self._about, self._value = title, about, value
        self._check, self._empty = check, empty

    def compose(self) -> ComposeResult:
        """The question, its line, and what is wrong with what was typed."""
        with Vertical(id="card"):
            yield Para(self._title, id="title")
            if self._about:
                yield Para(self._about, id="about")
            yield Input(self._value, max_length=LONGEST, select_on_focus=False)
            yield Para(id="wrong")
            yield KeyLine((("enter", "take it"), ("escape", "leave it as it was")))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the line, or say why not."""
        event.stop()
        text = event.value.strip()
        if not text and not self._empty:
            self.dismiss(None)
            return
        wrong = refuse(text) or (self._check(text) if self._check is not None else None)
        if wrong is None:
            self.dismiss(text)
        else:
            self.query_one("#wrong", Para).set(visible(wrong))

    def action_give_up(self) -> None:
        """Leave it."""
        self.dismiss(None)


class Pick(ModalScreen[int | None]):
    """One of a few answers, by its number or with the arrows; None where it was left."""

    DEFAULT_CSS = _CARD.format(name="Pick") + """
    Pick Rows { margin: 1 0 0 0; height: auto; max-height: 14; background: $surface; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "give_up", show=False)]

    def __init__(self, title: Shown, answers: Sequence[Shown],
                 about: Shown = Shown(""), *,  # noqa: B008 - immutable
                 later: str = "leave it for now") -> None:
        """Ask.

        Args:
            title: What is asked.
            answers: The answers; the first nine have numbers.
            about: What may help to answer it.
            later: What escape means.
        """
        super().__init__()
        self._title, self._answers, self._about, self._later = title, answers, about, later

    def compose(self) -> ComposeResult:
        """The question and its answers."""
        with Vertical(id="card"):
            yield Para(self._title, id="title")
            if self._about:
                yield Para(self._about, id="about")
            yield Rows([
                Row(((visible(f"{i + 1}  " if i < 9 else "   "), "mark"), (answer, "text")),
                    id=str(i)) for i, answer in enumerate(self._answers)])
            yield KeyLine((("1-9", "answer") if len(self._answers) > 1 else ("1", "answer"),
                           ("enter", "the one chosen"), ("escape", self._later)))

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
