"""What every app of ours is: its themes, its driver, how it is left.

Nothing here knows the trade. The framework's command palette is off and its
own quit keys are replaced, so that no stray key does what the screens did not
mean.
"""

from __future__ import annotations

import asyncio
import os
import signal
import sys
import threading
from collections.abc import MutableMapping
from contextlib import suppress
from types import FrameType
from typing import ClassVar, Final, TypeVar

from textual import events
from textual.app import App
from textual.binding import Binding, BindingType
from textual.notifications import SeverityLevel

from benchapp.calls.guard import must_end
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.driver import pick_driver
from benchapp.screens.notices import Notices
from benchapp.screens.theme import DAYLIGHT, LAMPLIGHT, STYLES, THEMES, colour_arguments

R = TypeVar("R")

_UNIX: Final = not sys.platform.startswith("win")
_DROPPED: Final = SafeText("Too many keys came at once. They did nothing; keys work again now.")
_HOW_TO_LEAVE: Final = SafeText("Ctrl+Q leaves; everything is in the book.")


class Base(App[R], inherit_bindings=False):
    """An app that is safe to hand text from people, and gives the terminal back.

    Attributes:
        stopped_by: The signal that ended it, or None.
        notices: The passing messages; they lie over nothing.
    """

    ENABLE_COMMAND_PALETTE = False
    ALLOW_SELECT = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "leave", "Leave", show=False, priority=True),
        Binding("ctrl+c", "how_to_leave", "How to leave", show=False, system=True),
    ]

    def __init__(
        self, *, light: bool = False, environ: MutableMapping[str, str] | None = None
    ) -> None:
        """Make the app; nothing is shown before `start`.

        Args:
            light: The light theme, for a bright room.
            environ: The environment variables; those of the process if None.
        """
        environ = os.environ if environ is None else environ
        if environ.get("NO_COLOR") == "":
            # An empty NO_COLOR asks for nothing, yet the framework obeys it.
            del environ["NO_COLOR"]
        driver = pick_driver(environ)
        super().__init__(driver_class=driver, **colour_arguments(environ))
        self._ours = driver is not None
        self.stopped_by: signal.Signals | None = None
        self._running_loop: asyncio.AbstractEventLoop | None = None
        self.notices = Notices(self)
        self.animation_level = "none"  # nothing moves but what counts
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = (DAYLIGHT if light else LAMPLIGHT).name
        self.stylesheet.add_source(
            STYLES, read_from=(__name__, "theme.STYLES"), is_default_css=False
        )

    def start(self, *, mouse: bool = False) -> R | None:
        """Take the terminal, run until left, give the terminal back.

        Args:
            mouse: Let the terminal report clicks and the wheel, where our driver asks for no
                more than that.
        """
        before = {}
        if _UNIX and threading.current_thread() is threading.main_thread():
            before = {number: signal.signal(number, self._be_stopped)
                      for number in (signal.SIGTERM, signal.SIGHUP)}
        try:
            return self.run(mouse=mouse and self._ours)
        finally:
            for number, handler in before.items():
                signal.signal(number, handler)

    def report_mouse(self, *, on: bool) -> None:
        """Have the terminal report the mouse from now on, or no more, where our driver is."""
        report = getattr(self._driver, "report_mouse", None)
        if report is not None:
            report(on=on)

    @property
    def broke(self) -> BaseException | None:
        """What in the program went wrong and ended it, or None; said by whoever started it."""
        return self._exception

    def _print_error_renderables(self) -> None:
        """Print no pages of our own source to a printer; developers still get them."""
        if "debug" in self.features:
            super()._print_error_renderables()

    def why_stay(self) -> SafeText | None:
        """Say why the app is not to be left now, or None; screens overrule it."""
        return None

    def before_leaving(self) -> None:
        """Do what is left to do before the app ends, by a key or a signal; apps overrule it."""

    def say(self, text: SafeText, *, severity: SeverityLevel = "information") -> None:
        """Show a passing message; what stands there already is not said twice."""
        self.notices.add(text, severity, None)

    def notify(
        self,
        message: str,
        *,
        title: str = "",
        severity: SeverityLevel = "information",
        timeout: float | None = None,
        markup: bool = False,
    ) -> None:
        """Show a passing message, whoever asks for it: no toast, and markup is never read."""
        text = f"{title}: {message}" if title else message
        self.notices.add(sanitize(text), severity, timeout)

    def clear_notifications(self) -> None:
        """Put the messages away."""
        self.notices.clear()

    def action_leave(self) -> None:
        """Leave, unless there is a reason to stay, which is then said."""
        reason = self.why_stay()
        if reason is None:
            self.leave_now()
        else:
            self.say(reason, severity="warning")

    def leave_now(self) -> None:
        """Leave, with nothing asked any more."""
        self.before_leaving()
        self.exit()

    @property
    def takes_input(self) -> bool:
        """Whether a screen is there to take a key: none is before the first, and at the end."""
        return bool(self.screen_stack) and not self._exit

    async def on_event(self, event: events.Event) -> None:
        """Drop what is typed while the app begins or ends."""
        if self.takes_input or not isinstance(event, events.InputEvent):
            await super().on_event(event)

    def keys_dropped(self) -> None:
        """Say that a flood of keys was dropped, now that it is over."""
        if self.takes_input:
            self.say(_DROPPED, severity="warning")

    async def action_quit(self) -> None:
        """The framework's way out, made the same as ours."""
        self.action_leave()

    def action_help_quit(self) -> None:
        """The framework's answer to Ctrl+C, made the same as ours."""
        self.action_how_to_leave()

    def action_how_to_leave(self) -> None:
        """Answer the key that people press to get out of a program."""
        self.say(self.why_stay() or self.how_to_leave())

    def how_to_leave(self) -> SafeText:
        """How the app is left, and what becomes of what was done."""
        return _HOW_TO_LEAVE

    def _on_mount(self) -> None:
        """From now on a signal ends it like a key, so that the terminal is given back."""
        self._running_loop = asyncio.get_running_loop()
        self._stop()

    def _be_stopped(self, number: int, frame: FrameType | None) -> None:
        """Stop soon. It comes between two instructions, also while the loop waits for a terminal.

        The loop's own handlers would wait with it.
        """
        self.stopped_by = signal.Signals(number)
        if self.may_be_cut_off:
            must_end(number)
        if self._running_loop is not None:
            with suppress(RuntimeError):  # the loop has ended: so has the app
                self._running_loop.call_soon_threadsafe(self._stop)

    @property
    def may_be_cut_off(self) -> bool:
        """Whether nothing is lost if the process ends at any moment; apps overrule it."""
        return True

    def _stop(self) -> None:
        """Leave, if a signal asked for it."""
        if self.stopped_by is not None:
            self.before_leaving()
            self.exit(return_code=128 + self.stopped_by)
