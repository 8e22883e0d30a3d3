"""What cards, talks and lists may ask of the app: the screens below it know this, not the app."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from textual import events

from benchapp.events.entry import Moment
from benchapp.safe_text import SafeText
from benchapp.screens.app_base import Base
from benchapp.screens.drafts import Drafts
from benchapp.screens.switch import Heard, PedalSwitch
from benchapp.service.outcome import Outcome
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.settings import Preferences


class Desk(Base[int]):
    """An app with a book at work. `Benchapp` is the one there is.

    Attributes:
        workshop: The book at work; every action goes through `do`.
        settings: The printer's preferences.
        switch: The switch with its gate, one for all screens.
        drafts: Texts that were put away unfinished.
        aloud: Says a text aloud, where something speaks.
        open_file: Opens a file in the system's viewer; whether one was started.
        home: The printer's folder, where recipes are looked for; None in rehearsals.
        rehearsal: Whether nothing is kept: said on the Bench.
        asking: Whether what earlier days left is asked first thing, before the Studio.
        taken_over: How often a session took over a plan; each time its promise is made anew.
        fault: What is wrong with the book, or empty; stands on every screen until mended.
        input_ms: When the last key or click came, milliseconds on the keys' own clock.
    """

    workshop: SessionService
    settings: Preferences
    switch: PedalSwitch
    drafts: Drafts
    aloud: Callable[[SafeText], None]
    open_file: Callable[[Path], bool]
    home: Path | None
    rehearsal: bool
    asking: bool
    taken_over: int
    fault: str
    input_ms: float

    def go(self, name: str, **about: Any) -> None:
        """Have a main screen take over; whatever lay open is put away."""
        raise NotImplementedError

    def over(self, name: str, **about: Any) -> None:
        """Lay a screen on top; it goes away by `dismiss`, or Escape where it says so."""
        raise NotImplementedError

    def leave_bench(self) -> None:
        """Back to the Studio; the session stays open."""
        raise NotImplementedError

    def prefer(self, settings: Preferences) -> None:
        """Go by other preferences from now on."""
        raise NotImplementedError

    def hear(self, event: events.Key) -> Heard:
        """Say what a key is to the switch: one of its pedals, too soon, or another key."""
        raise NotImplementedError

    def now(self) -> Moment:
        """The clocks now."""
        raise NotImplementedError

    def do(
        self, action: a.Action, *, session: str | None = None, gated: bool = False
    ) -> Outcome:
        """Do it through the workshop. What is wrong with the book comes as a refusal."""
        raise NotImplementedError

    def done(self, words: str) -> SafeText:
        """What was done, in words; says so as long as it is on no disk."""
        raise NotImplementedError

    def look_again(self) -> None:
        """Have every screen that can be seen show how things stand now, and the calls told."""
        raise NotImplementedError

    def line_put_away(self, event: events.Key, words: SafeText) -> None:
        """A press of the switch put a line away: say so; letters do nothing until it is quiet."""
        raise NotImplementedError
