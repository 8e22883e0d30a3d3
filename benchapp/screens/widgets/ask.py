"""One line of typed text, asked for at the foot of whatever screen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Input

from benchapp.screens.laid_over import LaidOver
from benchapp.screens.widgets.offered import Offered
from benchapp.screens.widgets.plain_text import Line, Para
from benchapp.shown import Shown, clip, refuse, visible

_FOOT: Final = Shown("enter  take it   esc  leave it as it was")
_FILLED: Final = Shown("enter  take it   type  replace it   →  change it   esc  leave it as it was")
_OPEN: Final = Shown("A text is being written: enter takes it, esc leaves it")
_LONGEST: Final = 500
"""Characters; what is longer belongs into several notes."""


class _Text(Input):
    """An input that takes no control characters, not even pasted ones."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q,ctrl+c", "screen.leave", "Leave", show=False, priority=True)
    ]

    def _on_paste(self, event: events.Paste) -> None:
        wrong = refuse(event.text, newlines=True)
        if wrong is None:
            super()._on_paste(event)
        elif isinstance(self.screen, Ask):
            self.screen.tell(visible(f"Not pasted: {wrong}"))
        event.prevent_default()
        event.stop()


class Ask(LaidOver[str | None]):
    """Gives the text typed, or None where it was left."""

    DEFAULT_CSS = """
    Ask { align: center bottom; background: $background 0%; }
    Ask > Vertical {
        width: 100%; height: auto; background: $panel; color: $foreground; padding: 0 1;
        border-top: heavy $wash;
    }
    Ask .title { text-style: bold; }
    Ask .hint, Ask .foot, Ask .offered { color: $quiet; }
    Ask .foot.wrong { color: $fault; text-style: bold; }
    Ask Input, Ask Input:focus {
        border: none; height: 1; padding: 0 1; margin: 1 0; background: $background;
        color: $foreground;
    }
    """

    def __init__(self, title: Shown, *, hint: Shown = Shown(""), value: str = "",  # noqa: B008
                 check: Callable[[str], str | None] | None = None, empty: bool = False,
                 do: Callable[[str], str | None] | None = None,
                 phrases: Sequence[str] = ()) -> None:
        """Make the question.

        Args:
            title: What is asked.
            hint: An example of an answer.
            value: What stands there already; typing replaces it.
            check: Says what is wrong with an answer, or None.
            empty: Whether nothing is an answer, given as the empty text; else it is left.
            do: Does what is asked for with an answer and says why it could not, or None. Where
                it could not, the line stays open with the text in it.
            phrases: Sentences the up and down keys bring into the line.
        """
        super().__init__()
        self._do = do
        self._asked, self._hint, self._check, self._empty = title, hint, check, empty
        # A value from an old book may hold what no screen may show.
        self._value = visible(value)
        self._offered = Offered(tuple(visible(x) for x in phrases), (self._value,))

    def compose(self) -> ComposeResult:
        """The question, the line to write on, how to leave."""
        with Vertical():
            yield Line(self._asked, classes="title")
            if self._hint:
                yield Line(self._hint, classes="hint")
            if self._offered.phrases:
                yield Para(self._offer(), classes="offered")
            # What stands there already is selected, so that the first letter typed replaces it.
            text = _Text(self._value, max_length=_LONGEST, select_on_focus=True)
            text.cursor_blink = False
            yield text
            yield Line(_FILLED if self._value else _FOOT, classes="foot")

    def on_key(self, event: events.Key) -> None:
        """Escape leaves; a key of the switch that is no text is not lost silently."""
        if event.key == "escape":
            event.stop()
            self.dismiss(None)
        elif event.key in ("up", "down") and self._offered.phrases:
            event.stop()
            self._bring(1 if event.key == "down" else -1)
        elif event.key in _switch_keys(self) and not event.is_printable and not self._moves(event):
            event.stop()
            self.tell(_OPEN)

    def _moves(self, event: events.Key) -> bool:
        """Whether a key moves within the text that stands here, and so is no lost tread."""
        text = self.query_one(_Text)
        return event.key == "right" and (
            text.cursor_position < len(text.value) or not text.selection.is_empty)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Give the text, unless something is wrong with it."""
        event.stop()
        text = event.value.strip()
        if not text and not self._empty:
            self.dismiss(None)
            return
        wrong = (refuse(text) or (self._check(text) if self._check is not None else None)
                 or (self._do(text) if self._do is not None else None))
        if wrong is None:
            self.dismiss(text)
        else:
            self.tell(visible(wrong))

    # -- sentences offered ------------------------------------------------------------------

    def _bring(self, by: int) -> None:
        line = self.query_one(_Text)
        self._offered, line.value = self._offered.step(by, line.value)
        line.cursor_position = len(line.value)
        self.query_one(".offered", Para).set(self._offer())

    def _offer(self) -> Shown:
        """The sentences, as many as fit; the one in the line has a sign."""
        across, rows = self.app.size.width - 6, max(1, self.app.size.height - 10)
        chosen, phrases = self._offered.chosen, self._offered.phrases
        top = max(0, min((chosen or 0) - rows + 1, len(phrases) - rows))
        lines = [f"{'▸' if i == chosen else '↓' if chosen is None and i == 0 else ' '} "
                 f"{clip(visible(text), across)}"
                 for i, text in enumerate(phrases)][top:top + rows]
        return Shown("\n".join(lines))

    def action_leave(self) -> None:
        """Leave the text, not the app."""
        self.dismiss(None)

    def tell(self, words: Shown) -> None:
        """Say what is wrong, where it is read."""
        line = self.query_one(".foot", Line)
        line.set_class(True, "wrong")
        line.set(words)


def _switch_keys(screen: Ask) -> frozenset[str]:
    """The keys that are a tread, in an app that has a switch."""
    switch = getattr(screen.app, "switch", None)
    return getattr(switch, "keys", frozenset()) - {"enter"}
