"""Screens laid over another: they go away once, however many keys were typed ahead."""

from __future__ import annotations

from typing import Protocol, TypeVar, runtime_checkable

from textual.await_complete import AwaitComplete
from textual.screen import ModalScreen, Screen

Result = TypeVar("Result")


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
    """A modal screen that goes away once."""


@runtime_checkable
class ClosesMenus(Protocol):
    """An app that is told when a menu closed: keys meant for it reach nothing below."""

    def menu_closed(self) -> None:
        """A menu closed just now."""


class Menu(LaidOver[Result]):
    """A modal screen whose keys are answers, one of which may come too late."""

    def dismiss(self, result: Result | None = None) -> AwaitComplete:
        """Go away, and have the app know."""
        gone = self.app.screen is self
        closing = super().dismiss(result)
        if gone and isinstance(self.app, ClosesMenus):
            self.app.menu_closed()
        return closing
