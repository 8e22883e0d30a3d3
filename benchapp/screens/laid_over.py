"""Screens laid over another: they go away once, however many keys were typed ahead."""

from __future__ import annotations

from typing import TypeVar

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
