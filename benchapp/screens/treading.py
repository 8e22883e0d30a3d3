"""Screens, beside the Bench, on which the pedal does something: the switch hears each key first."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import events

if TYPE_CHECKING:
    from benchapp.screens.desk import Desk


class HearsTread:
    """A screen whose bound keys work where the switch has no use for them.

    A key may be bound and be the pedal's at once, so no binding can say this: what is heard
    depends on the presses before it.
    """

    #: Keys that are never the pedal's here: they move, whatever pedal sends them.
    NO_PEDAL: ClassVar[frozenset[str]] = frozenset()

    if TYPE_CHECKING:  # the screen has it

        @property
        def desk(self) -> Desk: ...

    def take_tread(self) -> None:
        """Do what the pedal means here."""
        raise NotImplementedError

    def on_key(self, event: events.Key) -> None:
        """A tread does what it means here; one that comes too soon does nothing."""
        if event.key in self.NO_PEDAL:
            return
        heard = self.desk.hear(event)
        if heard != "another key":
            event.stop()
            event.prevent_default()
            if heard == "tread":
                self.take_tread()
