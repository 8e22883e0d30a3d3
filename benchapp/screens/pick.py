"""One of a few answers, by its key.

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

from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.laid_over import LaidOver, Menu
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Row, Rows

#: How a card that asks lies over a screen; `name` is that of its class.
CARD: Final = """
{name} {{ align: center middle; background: $background; }}
{name} #card {{ width: 90%; max-width: 92; height: auto; max-height: 100%; background: $surface;
    border: round $quiet; padding: 0 1; }}
{name} #title {{ text-style: bold; color: $wash; }}
{name} #about {{ color: $quiet; }}
{name} #about.low {{ display: none; }}
{name} KeyLine {{ dock: none; background: $surface; padding: 0; margin: 1 0 0 0; }}
"""


class Pick(Menu[int | None]):
    """One of a few answers, by its key or with the arrows; None where it was left.

    Where other answers stand another time, each has to bring a key that stays its own.
    """

    DEFAULT_CSS = CARD.format(name="Pick") + """
    Pick Rows { margin: 1 0 0 0; height: auto; max-height: 14; background: $surface; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "give_up", "back", show=False)]

    def __init__(self, title: SafeText, answers: Sequence[SafeText],
                 about: SafeText = SafeText(""), *,  # noqa: B008 - immutable
                 later: str = "leave it for now", by_number: bool = False,
                 keys: Sequence[str] | None = None) -> None:
        """Ask.

        Args:
            title: What is asked.
            answers: The answers.
            about: What may help to answer it.
            later: What escape means.
            by_number: Only a key answers, so that no tread of the switch can.
            keys: Each answer's key, empty for one that is only in the list; None: the first
                nine have numbers, in an order that is always the same.
        """
        super().__init__()
        self._keys = tuple("123456789"[i : i + 1] for i in range(len(answers))) if (
            keys is None) else tuple(keys)
        self._title, self._answers, self._about, self._later = title, answers, about, later
        self._by_number = by_number

    def compose(self) -> ComposeResult:
        """The question and its answers."""
        with Vertical(id="card"):
            yield Para(self._title, id="title")
            if self._about:
                yield Para(self._about, id="about")
            yield Rows([
                Row(((sanitize(f"{key or ' '}  "), "mark"), (answer, "text")),
                    id=None if self._by_number else str(i))
                for i, (key, answer) in enumerate(zip(self._keys, self._answers, strict=True))],
                unchosen=True)
            chosen = () if self._by_number else (("↓ enter", "choose"),)
            yield KeyLine((*self._key_words(), *chosen, ("escape", self._later)))

    def _key_words(self) -> tuple[tuple[str, str], ...]:
        keys = "".join(self._keys)
        if not keys:
            return ()
        run = keys.removesuffix("0")  # one that stays its own, behind however many
        row = run if len(run) == 1 else f"1-{len(run)}"
        row += " 0" if run != keys else ""
        return ((row if run and "123456789".startswith(run) else "its key", "answer"),)

    def on_key(self, event: events.Key) -> None:
        """A key answers."""
        known = bool(event.character) and event.character in self._keys
        if self.is_stray(event, answers=known):
            event.stop()
            self.say_stray(self._title, event)
        elif known and event.character:
            event.stop()
            self.dismiss(self._keys.index(event.character))

    def on_rows_taken(self, event: Rows.Taken) -> None:
        """Enter answers with the one chosen."""
        event.stop()
        self.dismiss(int(event.row_id))

    def action_give_up(self) -> None:
        """Leave it."""
        self.dismiss(None)


class ToldLines(LaidOver[None]):
    """Lines to be read, and nothing to answer."""

    DEFAULT_CSS = CARD.format(name="ToldLines") + """
    ToldLines Rows { margin: 1 0 0 0; height: auto; max-height: 17; background: $surface; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss", "back", show=False)]

    def __init__(self, title: SafeText, rows: Sequence[Row]) -> None:
        """Show lines under a title."""
        super().__init__()
        self._title, self._rows = title, tuple(rows)

    def compose(self) -> ComposeResult:
        """Title, lines, the way back."""
        with Vertical(id="card"):
            yield Para(self._title, id="title")
            yield Rows(self._rows)
            yield KeyLine((("escape", "back"),))
