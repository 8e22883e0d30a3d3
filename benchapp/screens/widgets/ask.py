"""One line of typed text, asked for at the foot of whatever screen.

The switch stays what it is while a line is open. A key of it that types nothing treads.
One that types is text, until the line was left alone for ten seconds: then its next press
puts the line away as a draft, and does nothing else. With a helper in the line stays.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar, Final

from textual import events
from textual._time import get_time
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Input

from benchapp.safe_text import SafeText, clip_text, sanitize, why_refused
from benchapp.screens.desk import Desk
from benchapp.screens.laid_over import LaidOver
from benchapp.screens.widgets.offered import Offered
from benchapp.screens.widgets.plain_text import Line, Para
from benchapp.views.inky_next import inky_next

_FOOT: Final = SafeText("enter  keep it   esc  leave it as it was")
_FILLED: Final = SafeText(
    "enter  keep it   type  replace it   →  change it   esc  leave it as it was")
_OPEN: Final = SafeText("You are writing: enter keeps the text, esc leaves it")
_DRAFT: Final = SafeText("Your draft is back: enter keeps it, esc throws it away")
_ALONE: Final = SafeText(
    "The pedal, or enter, now saves this as a draft; type to go on")
_ALONE_MS: Final = 10_000
"""A line nobody touched for so long is put away by the next press of the switch."""
_LONGEST: Final = 500
"""Characters; what is longer belongs into several notes."""

#: Keys that write, move and take in a text; those that scroll do nothing in one line.
_EDITING: Final = frozenset(key for binding in Input.BINDINGS if isinstance(binding, Binding)
                            for key in binding.key.split(","))


class _Text(Input):
    """An input that takes no control characters, not even pasted ones."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q,ctrl+c", "screen.leave", "Leave", show=False, priority=True)
    ]

    def on_key(self, event: events.Key) -> None:
        """The switch comes first; what is text comes after it."""
        if isinstance(self.screen, Ask) and self.screen.is_for_the_switch(event):
            event.stop()
            event.prevent_default()

    def _on_paste(self, event: events.Paste) -> None:
        wrong = why_refused(event.text, newlines=True)
        if wrong is None:
            super()._on_paste(event)
        elif isinstance(self.screen, Ask):
            self.screen.tell(sanitize(f"Not pasted: {wrong}"))
        if isinstance(self.screen, Ask):
            self.screen.touched(event)
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
    Ask .waits { color: $count; text-style: bold; display: none; }
    Ask .foot.wrong { color: $fault; text-style: bold; }
    Ask Input, Ask Input:focus {
        border: none; height: 1; padding: 0 1; margin: 1 0; background: $background;
        color: $foreground;
    }
    """

    def __init__(self, title: SafeText, *, hint: SafeText = SafeText(""), value: str = "",  # noqa: B008
                 check: Callable[[str], str | None] | None = None, empty: bool = False,
                 do: Callable[[str], str | None] | None = None,
                 phrases: Sequence[str] = (), choices: Sequence[SafeText] = (),
                 draft: str = "") -> None:
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
            choices: What goes with the answer, one of them; the up and down keys choose. They
                are not offered beside `phrases`.
            draft: How a draft of it is told from others, where the title may change.
        """
        super().__init__()
        self._line: str = draft or title
        self._draft: str | None = None
        self._touched_ms = 0.0
        self._waits = Para(classes="waits")
        self._do = do
        self._asked, self._hint, self._check, self._empty = title, hint, check, empty
        # A value from an old book may hold what no screen may show.
        self._value = sanitize(value)
        self._offered = Offered(tuple(sanitize(x) for x in phrases), (self._value,))
        self._choices = tuple(choices)
        #: Which of the choices goes with the answer, from 0.
        self.choice = 0

    def compose(self) -> ComposeResult:
        """The question, the line to write on, how to leave."""
        if (desk := self._desk) is not None:
            self._touched_ms = desk.input_ms
            self._draft = desk.drafts.take(desk.workshop.room.bench, self._line)
        with Vertical():
            yield Line(self._asked, classes="title")
            if self._hint:
                yield Line(self._hint, classes="hint")
            yield self._waits
            if self._offered.phrases or self._choices:
                yield Para(self._offer(), classes="offered")
            # What stands there already is selected, so that the first letter typed replaces
            # it; a draft is gone on with.
            text = _Text(self._value if self._draft is None else self._draft,
                         max_length=_LONGEST, select_on_focus=self._draft is None)
            text.cursor_blink = False
            yield text
            yield Line(self._foot(), classes="foot")

    @property
    def _desk(self) -> Desk | None:
        """The app, where it has a book and a switch."""
        return self.app if isinstance(self.app, Desk) else None

    # -- the switch ------------------------------------------------------------------------

    def is_for_the_switch(self, event: events.Key) -> bool:
        """Whether a key is the switch's and not the text's; what it does is done here."""
        desk, text = self._desk, self.query_one(_Text)
        if desk is None or event.key not in desk.switch.keys:
            self.touched(event)
            return False
        if not self._uses(event):
            self._trodden(desk, event)
            return True
        desk.switch, _ = desk.switch.press(event.key, event.time * 1000)  # held on, it is no tread
        if self._alone(desk, event.time * 1000):
            self._put_away(desk, event, text.value)
            return True
        if event.key != "right" or self._moves(event):
            self.touched(event)
        return False

    def _uses(self, event: events.Key) -> bool:
        """Whether a key does something with the text: writes, moves, takes or leaves it."""
        return (event.is_printable or event.key == "escape" or event.key in _EDITING
                or (event.key in ("up", "down") and bool(self._offered.phrases or self._choices)))

    def touched(self, event: events.Event) -> None:
        """Something was done to the text."""
        self._touched_ms = event.time * 1000

    def _alone(self, desk: Desk, t_ms: float) -> bool:
        """Whether nobody touched the line for long, with the switch under a foot."""
        room = desk.workshop.room
        return (room.session is not None and room.helper is None
                and t_ms - self._touched_ms >= _ALONE_MS)

    def _trodden(self, desk: Desk, event: events.Key) -> None:
        """A pedal that types nothing: to the Bench with it, where that lies below."""
        take = getattr(desk.screen_stack[-2], "take_key", None)
        session = desk.workshop.room.session
        if take is None or session is None or session.closed is not None:
            self.tell(_OPEN)
        else:
            take(event)

    def _put_away(self, desk: Desk, event: events.Key, text: str) -> None:
        """Away with the line: what stood there is kept, and nothing else is done."""
        if not text.strip() or (text == self._value and self._draft is None):
            words = sanitize(f"You typed nothing, so the line is closed: {self._asked}")
        else:
            desk.drafts.keep(desk.workshop.room.bench, self._line, text)
            words = sanitize(f"Saved as a draft; open the line again to go on: {self._asked}")
        desk.line_put_away(event, words)
        self.dismiss(None)

    def follow(self) -> None:
        """Say what waits for this line, and what the pedal would do with it."""
        desk = self._desk
        if desk is None or not self.is_mounted:
            return
        waiting = inky_next(desk.workshop.room, desk.now())
        said = [] if waiting is None else [sanitize(f"{waiting} waits until this line is closed")]
        if self._alone(desk, get_time() * 1000):
            said.append(_ALONE)
        self._waits.set(SafeText("\n".join(said)))
        self._waits.display = bool(said)

    def _foot(self) -> SafeText:
        """What the keys do, as long as nothing else is to be said."""
        return _DRAFT if self._draft is not None else _FILLED if self._value else _FOOT

    # -- keys of the text ------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Escape leaves; a key of the switch that is no text is not lost silently."""
        if event.key == "escape":
            event.stop()
            self.dismiss(None)
        elif event.key in ("up", "down") and self._offered.phrases:
            event.stop()
            self._bring(1 if event.key == "down" else -1)
        elif event.key in ("up", "down") and self._choices:
            event.stop()
            by = 1 if event.key == "down" else -1
            self.choice = min(max(self.choice + by, 0), len(self._choices) - 1)
            self.query_one(".offered", Para).set(self._offer())
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
        wrong = (why_refused(text) or (self._check(text) if self._check is not None else None)
                 or (self._do(text) if self._do is not None else None))
        if wrong is None:
            self.dismiss(text)
        else:
            self.tell(sanitize(wrong))

    # -- sentences offered ------------------------------------------------------------------

    def _bring(self, by: int) -> None:
        line = self.query_one(_Text)
        self._offered, line.value = self._offered.step(by, line.value)
        line.cursor_position = len(line.value)
        self.query_one(".offered", Para).set(self._offer())

    def _offer(self) -> SafeText:
        """The sentences, as many as fit, or the choices; the one that counts has a sign."""
        if self._choices:
            signs = (("↑", "▸", "↓")[(i > self.choice) - (i < self.choice) + 1]
                     for i in range(len(self._choices)))
            return SafeText("\n".join(f"{sign} {text}" for sign, text in zip(
                signs, self._choices, strict=True)))
        across, rows = self.app.size.width - 6, max(1, self.app.size.height - 10)
        chosen, phrases = self._offered.chosen, self._offered.phrases
        top = max(0, min((chosen or 0) - rows + 1, len(phrases) - rows))
        lines = [f"{'▸' if i == chosen else '↓' if chosen is None and i == 0 else ' '} "
                 f"{clip_text(sanitize(text), across)}"
                 for i, text in enumerate(phrases)][top:top + rows]
        return SafeText("\n".join(lines))

    def action_leave(self) -> None:
        """Leave the text, not the app."""
        self.dismiss(None)

    def tell(self, words: SafeText) -> None:
        """Say what is wrong, where it is read."""
        line = self.query_one(".foot", Line)
        line.set_class(True, "wrong")
        line.set(words)


def _switch_keys(screen: Ask) -> frozenset[str]:
    """The keys that are a tread, in an app that has a switch."""
    switch = getattr(screen.app, "switch", None)
    return getattr(switch, "keys", frozenset()) - {"enter"}
