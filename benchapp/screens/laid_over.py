"""Screens laid over another: they go away once, however many keys were typed ahead."""

from __future__ import annotations

from typing import Final, Protocol, TypeVar, runtime_checkable

from textual import events
from textual.await_complete import AwaitComplete
from textual.screen import ModalScreen, Screen

from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.after_menu import AFTER_MS
from benchapp.screens.hush import Hush
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Rows

Result = TypeVar("Result")
#: Rows of a screen below which what helps to answer gives way to the answers.
_LOW: Final = 16
#: Lines of a list on a card: more are scrolled to.
_MOST: Final = 15


class GoesOnce(Screen[Result]):
    """A screen that is put away by the first key that says so; later ones find it gone.

    Keys typed before a screen is drawn reach it one after the other, and each would
    take a screen off the stack, the last one under it too.
    """

    def dismiss(self, result: Result | None = None) -> AwaitComplete:
        """Go away with `result`, if it is still the one on top."""
        if self.app.screen is not self or len(self.app.screen_stack) < 3:
            return AwaitComplete()
        return super().dismiss(result)


class LaidOver(GoesOnce[Result], ModalScreen[Result]):
    """A modal screen that goes away once; on a low screen its list gives way, never its keys."""

    def on_resize(self) -> None:
        """The list has the rows that the question and the keys leave."""
        self.call_after_refresh(self._fit_list)

    def _fit_list(self) -> None:
        cards, lists = self.query("#card"), self.query(Rows)
        if not cards or not lists or not self.is_mounted:
            return
        low = self.size.height < _LOW
        for about in self.query("#about"):
            about.set_class(low, "low")
        card, rows = cards.first(), lists.first()
        others = sum(x.outer_size.height + x.styles.margin.height for x in card.children
                     if x is not rows and x.display and not (low and x.id == "about"))
        rest = self.size.height - others - card.styles.gutter.height - rows.styles.margin.height
        rows.styles.max_height = max(2, min(rest, _MOST))


@runtime_checkable
class ClosesMenus(Protocol):
    """An app that is told when a menu closed: keys meant for it reach nothing below."""

    def menu_closed(self) -> None:
        """A menu closed just now."""


class Menu(LaidOver[Result]):
    """A modal screen whose keys are answers, one of which may come too late.

    A key that is none of them begins a text somebody types, such as `8,4`: the next ones
    answer nothing until the keys were silent for half a second.
    """

    _hush = Hush(silence_ms=AFTER_MS)

    def is_stray(self, event: events.Key, *, answers: bool) -> bool:
        """Whether a key answers nothing here, nor those typed right after it.

        Args:
            event: The key.
            answers: Whether it is one of the menu's own.
        """
        if not event.is_printable:
            return False
        self._hush, hushed = self._hush.key(event.time * 1000)
        if not answers:
            self._hush = self._hush.begun(event.time * 1000)
        return hushed or not answers

    def say_stray(self, title: SafeText, event: events.Key) -> None:
        """Say beside what is asked that a key answers nothing."""
        self.query_one("#title", Para).set(sanitize(f"{title}: {event.character} is not an answer"))

    def dismiss(self, result: Result | None = None) -> AwaitComplete:
        """Go away, and have the app know."""
        gone = self.app.screen is self
        closing = super().dismiss(result)
        if gone and isinstance(self.app, ClosesMenus):
            self.app.menu_closed()
        return closing
