"""Passing messages: each takes rows of its own, lies over nothing, and is said once.

The framework's toasts lie over the foot of the screen, where the keys are. A message here
pushes the screen down for its few seconds; a screen with a line for messages shows it there.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final, Protocol, runtime_checkable

from textual.app import App
from textual.notifications import SeverityLevel
from textual.screen import Screen

from benchapp.safe_text import SafeText, cell_width
from benchapp.screens.widgets.plain_text import Para

#: How long a message can be read, seconds.
STANDS_S: Final = 6.0
#: Of more at one time the latest are shown.
_MOST: Final = 3


@runtime_checkable
class TakesMessages(Protocol):
    """A screen with a line for messages."""

    def message(self, text: SafeText, *, wrong: bool = False) -> None:
        """Show one, in place of the one before."""


@dataclass(frozen=True, slots=True)
class Notice:
    """One message."""

    text: SafeText
    wrong: bool


class NoticeBar(Para):
    """The messages, at the top of a screen."""

    DEFAULT_CSS = """
    NoticeBar { background: $panel; color: $foreground; padding: 0 1; max-height: 4; }
    NoticeBar.wrong { color: $fault; text-style: bold; }
    """


class Notices:
    """The messages of an app."""

    def __init__(self, app: App[Any]) -> None:
        """None yet."""
        self._app = app
        self._now: list[Notice] = []
        self._handed: Notice | None = None

    def add(self, text: SafeText, severity: SeverityLevel, stands_s: float | None) -> None:
        """Show a message for its time; one that is shown already is not said twice."""
        notice = Notice(text, severity != "information")
        if notice not in self._now:
            self._now.append(notice)
            self._app.set_timer(stands_s or STANDS_S, lambda: self._drop(notice))
        self._handed = None
        self.show()

    def drop(self, text: SafeText) -> None:
        """Put a message away that is not so any more."""
        for notice in [n for n in self._now if n.text == text]:
            self._drop(notice)

    def clear(self) -> None:
        """Put all away."""
        self._now.clear()
        self.show()

    def _drop(self, notice: Notice) -> None:
        if notice in self._now:
            self._now.remove(notice)
            self.show()

    def show(self) -> None:
        """Have them on the screen on top, and on no other."""
        for screen in self._app.screen_stack:
            shown = self._now[-_MOST:] if screen is self._app.screen else []
            if shown and isinstance(screen, TakesMessages):
                self._hand(screen)
                shown = [n for n in shown if not _fits(n, screen)]
            _bar(screen, shown)

    def _hand(self, screen: TakesMessages) -> None:
        """A screen with its own line gets the latest, once."""
        latest = self._now[-1]
        if latest != self._handed and _fits(latest, screen):
            self._handed = latest
            screen.message(latest.text, wrong=latest.wrong)


def _fits(notice: Notice, screen: object) -> bool:
    """Whether it can be read whole on one line of that screen."""
    return isinstance(screen, Screen) and cell_width(notice.text) <= screen.size.width - 2


def _bar(screen: Screen[Any], notices: list[Notice]) -> None:
    bar = next((w for w in screen.children if isinstance(w, NoticeBar)), None)
    if not notices:
        if bar is not None:
            bar.remove()
        return
    if bar is None:
        if not screen.is_mounted:
            return
        bar = NoticeBar()
        screen.mount(bar, before=0)
    bar.set_class(any(n.wrong for n in notices), "wrong")
    bar.set(SafeText("\n".join(n.text for n in notices)))
