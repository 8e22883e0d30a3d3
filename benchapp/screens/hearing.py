"""The calls as the screens have them: flashed, written down, and asked about once.

The app asks `follow` at every look. Without a `Sounding` nothing is heard, and nothing
asked: so it is under tests that do not ask for one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from benchapp import settings as preferences
from benchapp.book import BookError
from benchapp.calls.pieces import Trouble
from benchapp.calls.ringer import Rang
from benchapp.drying.calls import BoardCall, board_calls
from benchapp.drying.stacks import wall_time
from benchapp.events.entry import Moment
from benchapp.files import FileProblem
from benchapp.recipe.problems import RecipeError
from benchapp.reports.drying import stacks_in_use
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.desk import Desk
from benchapp.screens.pick import Pick
from benchapp.screens.registry import SCREENS
from benchapp.screens.sounding import AWAY, BACK, Sounding, calls_in
from benchapp.screens.widgets.flash import Flash, stands_ms
from benchapp.session import actions as a
from benchapp.session.room_clocks import ROOM
from benchapp.settings import Preferences
from benchapp.views.aloud import spoken_answer

if TYPE_CHECKING:
    from textual.timer import Timer

    from benchapp.service.outcome import Outcome

#: The screens' own layer for the bar that lies over them.
LAYERS: Final = "Screen { layers: default flash; }"
_CHOICES: Final = (("on", SafeText("on")), ("soft", SafeText("soft")),
                   ("off", SafeText("off: calls only flash")))  # fmt: skip
_ASKED: Final = SafeText("Should a clock sound when it calls across the room?")
_ABOUT: Final = SafeText(
    "You can change it in the preferences. To try sounds: benchapp calls")
_TRIED: Final = "Calls sound like this"


class Hearing:
    """What the app does about calls."""

    def __init__(self, desk: Desk, sounding: Sounding | None) -> None:
        """Nothing sounds yet; None: nothing ever does."""
        self._desk, self._sounding = desk, sounding
        self._asked = False
        self._hide: Timer | None = None
        self._board_calls: tuple[object, tuple[BoardCall, ...]] | None = None

    def follow(self) -> None:
        """Hand over how things stand, and show what sounded."""
        if self._sounding is None:
            return
        desk = self._desk
        now = desk.now()
        for report in self._sounding.follow(desk.workshop.room, now, self._boards(now)):
            if isinstance(report, Trouble):
                desk.notify(sanitize(report.text), severity="warning", timeout=10)
            else:
                self._rang(report)
        if not self._asked and self._may_ask():
            self._ask()

    def _boards(self, now: Moment) -> tuple[BoardCall, ...]:
        """What the boards call for, looked up once a minute and when something was written."""
        workshop = self._desk.workshop
        seen = now.wall_ms // 60_000, workshop.book.last_sequence(), workshop.hours
        if self._board_calls is None or self._board_calls[0] != seen:
            there = wall_time(now)
            try:
                stacks = stacks_in_use(workshop.stacks(), there)
            except BookError:
                stacks = ()  # what is wrong with the book stands on the screen already
            self._board_calls = seen, board_calls(stacks, there, workshop.hours)
        return self._board_calls[1]

    def answer(self, action: a.Action, outcome: Outcome) -> None:
        """Say what the switch did, after the tone that confirms a tread."""
        if self._sounding is None:
            return
        words = spoken_answer(action, outcome.refusal, self._desk.workshop.room, self._desk.now())
        if words is not None:
            self._sounding.say(words, kind="confirm")

    def say(self, words: SafeText) -> None:
        """Say something else aloud."""
        if self._sounding is not None:
            self._sounding.say(words)

    def away(self, *, gone: bool) -> None:
        """The keys go to another window now, or come here again."""
        if self._sounding is not None:
            self._sounding.say(AWAY if gone else BACK, kind="caution" if gone else "confirm")

    def choose(self, settings: Preferences) -> None:
        """Go on by another choice of sound, and let it be heard."""
        if self._sounding is not None:
            self._sounding.choose(settings)
            self._sounding.say(_TRIED, kind="end")

    def prefer(self, settings: preferences.Preferences) -> None:
        """Go on by another choice of sound or voice."""
        if self._sounding is not None:
            self._sounding.choose(settings)

    def stop(self) -> None:
        """Fall silent for good."""
        if self._sounding is not None:
            self._sounding.stop()

    # -- what sounded ---------------------------------------------------------------------

    def _rang(self, rang: Rang) -> None:
        """Write the calls down that sounded before time was looked at, and flash."""
        desk = self._desk
        for session, calls in calls_in(rang).items():
            if session == ROOM or session in desk.workshop.room.sessions:
                try:
                    desk.workshop.do(a.Sounded(calls), session=session)
                except BookError as error:
                    desk.fault = str(error)
        self._flash(rang)

    def _flash(self, rang: Rang) -> None:
        screen, kind = self._desk.screen, rang.sound.kind
        if not screen.is_mounted:
            return
        bar = next(iter(screen.query(Flash)), None)
        if bar is None:
            bar = Flash()
            screen.mount(bar)
        bar.show(kind, sanitize(rang.sound.phrase))
        if self._hide is not None:
            self._hide.stop()
        self._hide = self._desk.set_timer(stands_ms(kind) / 1000, self.put_out)

    def put_out(self) -> None:
        """Take the bar of the last call away: its time is over, or it was answered."""
        for screen in self._desk.screen_stack:
            for bar in screen.query(Flash):
                bar.display = False

    # -- asked once -----------------------------------------------------------------------

    def _may_ask(self) -> bool:
        """In the Studio, when nothing else stands over it and a day was printed: a fresh home
        is asked nothing, and calls sound until then."""
        desk = self._desk
        top = f"{type(desk.screen).__module__}.{type(desk.screen).__name__}"
        studio = SCREENS["studio"]
        return (desk.settings.sound == "ask" and desk.asking and desk.workshop.room.clean
                and top == f"{studio.module}.{studio.cls}" and desk.screen.is_mounted
                and desk.workshop.book.last_sequence() > 0)

    def _ask(self) -> None:
        self._asked = True
        self._desk.push_screen(
            Pick(_ASKED, [words for _, words in _CHOICES], _ABOUT, by_number=True), self._take)

    def _take(self, place: int | None) -> None:
        if place is None:
            return
        try:
            kept = preferences.save_preferences({"sound": _CHOICES[place][0]})
        except (FileProblem, RecipeError) as error:
            self._desk.say(sanitize(str(error)), severity="warning")
            return
        self._desk.settings = kept
        self.choose(kept)
