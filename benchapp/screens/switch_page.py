"""The switch: what the pedals send is learnt here, kept in the preferences, and practised.

While it listens or practises every key goes to that; a silence ends it, since any key
may be a pedal's. Nothing here touches the book.
"""

from __future__ import annotations

from collections import Counter
from typing import ClassVar, Final, Literal

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Center
from textual.timer import Timer

from benchapp import settings as preferences
from benchapp.files import FileProblem
from benchapp.recipe.edits import Value
from benchapp.recipe.problems import RecipeError
from benchapp.safe_text import SafeText
from benchapp.screens.learning import Sent, learn_pedal, pedal_signal
from benchapp.screens.page_base import PageBase, PageHead
from benchapp.screens.switch import Heard, Pedal
from benchapp.screens.switch_rows import (
    PEDALS,
    found_rows,
    listening_rows,
    practice_rows,
    set_rows,
)
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.numerals import Numerals
from benchapp.screens.widgets.rows import Row, Rows, wrap_rows

Mode = Literal["menu", "listening", "practising"]

_KEYS: Final = (("t", "learn pedal"), ("b", "learn undo pedal"), ("l", "learn look-again pedal"),
                ("p", "practise"), ("n", "no other pedals"), ("escape", "back"),
                ("question_mark", "help"))
_NEVER: Final = ("ctrl+c", "ctrl+q")
_BY_KEY: Final[dict[str, Pedal]] = dict(zip("tbl", PEDALS, strict=True))


class SwitchScreen(PageBase):
    """Learn, practise, keep."""

    CSS = """
    SwitchScreen Rows { padding: 0 1; }
    SwitchScreen #large { height: auto; }
    SwitchScreen #large Numerals { color: $count; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        *(Binding(key, f"learn('{_BY_KEY[key]}')", words, show=False)
          for key, words in _KEYS[:3]),
        Binding("p", "practise", "practise", show=False),
        Binding("k", "keep", "keep", show=False),
        Binding("n", "one_pedal", "no other pedals", show=False),
    ]

    def __init__(self, first_s: float = 15, silence_s: float = 2, rest_s: float = 8) -> None:
        """Make the screen.

        Args:
            first_s: How long the first press may take to come.
            silence_s: How long nothing comes before a pedal has been let go.
            rest_s: How long nothing comes before practice is over.
        """
        super().__init__()
        self._first_s, self._silence_s, self._rest_s = first_s, silence_s, rest_s
        self._mode: Mode = "menu"
        self._pedal: Pedal = "tread"
        self._events: list[tuple[str, float]] = []
        self._found: Sent | None = None
        self._said = ""
        self._counts: Counter[Heard] = Counter()
        self._last: Heard | None = None
        self._timer: Timer | None = None

    def compose(self) -> ComposeResult:
        """How it is set, what goes on, the count of practice, the keys."""
        yield PageHead()
        yield KeyLine()
        yield Rows().unfocusable()
        with Center(id="large"):
            yield Numerals(height=5)

    def on_mount(self) -> None:
        """Show how it is set."""
        self.query_one(PageHead).set(SafeText("Switch"))
        self._show()

    def on_resize(self) -> None:
        """Break the lines for the room there is."""
        self._show()

    # -- keys ------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """While it listens or practises every key is the pedal's."""
        if self._mode == "menu" or event.key in _NEVER:
            return
        event.stop()
        event.prevent_default()
        if self._mode == "listening":
            self._events.append((event.key, event.time * 1000))
            self._after(self._silence_s)
        else:
            self._practised(event)
        self._show()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The keys of the menu do nothing while any key may be a pedal's."""
        return self._mode == "menu" or action not in ("learn", "practise", "keep", "one_pedal",
                                                      "back", "help", "search")

    def action_learn(self, pedal: Pedal) -> None:
        """Listen to one pedal."""
        self._mode, self._pedal, self._events, self._found = "listening", pedal, [], None
        self._said, self._counts = "", Counter()
        self._after(self._first_s)
        self._show()

    def action_practise(self) -> None:
        """Try it, as set."""
        self._mode, self._found, self._said = "practising", None, ""
        self._counts, self._last = Counter(), None
        self._after(self._rest_s)
        self._show()

    def _practised(self, event: events.Key) -> None:
        self.desk.switch, self._last = self.desk.switch.press(event.key, event.time * 1000)
        self._counts[self._last] += 1
        self._after(self._rest_s)

    def _after(self, seconds: float) -> None:
        """So long without a key ends what goes on."""
        if self._timer is not None:
            self._timer.stop()
        self._timer = self.set_timer(seconds, self._silence)

    def _silence(self) -> None:
        if self._mode == "listening":
            self._found = pedal_signal(self._events)
        self._mode = "menu"
        self._show()

    # -- keeping ---------------------------------------------------------------------------

    def action_keep(self) -> None:
        """Write what was learnt into the preferences."""
        if self._found is None:
            return
        changes = learn_pedal(self.desk.settings, self._pedal, self._found)
        if isinstance(changes, str):
            self._said = changes
        else:
            self._keep(changes)
        self._found = None
        self._show()

    def action_one_pedal(self) -> None:
        """Forget the other pedals of a set."""
        self._counts = Counter()
        self._keep({"take back keys": [], "look again keys": []})
        self._show()

    def _keep(self, changes: dict[str, Value]) -> None:
        try:
            self.desk.prefer(preferences.save_preferences(changes))
        except (FileProblem, RecipeError) as error:
            self._said = str(error)
        else:
            self._said = "Saved in the preferences; it counts from now on."

    # -- what is shown -----------------------------------------------------------------------

    def _show(self) -> None:
        if not self.is_mounted:
            return
        across = max(20, self.size.width - 5)
        rows = [*set_rows(self.desk.settings, across), Row(), *self._now(across)]
        self.query_one(Rows).set_rows(rows)
        practising = self._mode == "practising"
        large = self.query_one("#large")
        if large.display != practising:
            large.display = practising
        if practising:
            self.query_one(Numerals).set(str(self._counts["tread"]))
        keys = _KEYS if self._found is None else (("k", "keep it"), *_KEYS)
        silence: tuple[tuple[str, str], ...] = ()
        if self._mode == "listening":
            silence = (("…", f"let go for {self._silence_s:g} s to end"),)
        elif practising:
            silence = (("…", f"no key for {self._rest_s:g} s ends it"),)
        self.query_one(KeyLine).set(silence or keys)

    def _now(self, across: int) -> list[Row]:
        if self._mode == "listening":
            return listening_rows(self._pedal, pedal_signal(self._events), across)
        if self._mode == "practising" or self._counts:
            return practice_rows(self._counts, self._last, across)
        said = wrap_rows(self._said, across, "good") if self._said else []
        if self._found is not None:
            return [*found_rows(self._pedal, self._found, across), *said]
        return [*said, *wrap_rows(
            "benchapp learns a pedal while you hold it: which keys it sends, and how fast they "
            "repeat. In sets of two or three, one pedal undoes and one marks a sheet to look at "
            "again. You can teach several switches, one after another.", across,
            "quiet")]
