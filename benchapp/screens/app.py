"""The app with all its screens: Studio, Bench, and what lies on top of them.

It owns the one timer: four times a second it lets time pass in the workshop and
has every screen that can be seen look again. It decides nothing: what an action
does is the workshop's, what a screen shows is a view's.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping, MutableMapping
from pathlib import Path
from typing import Any, ClassVar, Final, Protocol, runtime_checkable

from textual import events
from textual.binding import Binding, BindingType
from textual.screen import ModalScreen, Screen
from textual.widgets import Input

from benchapp.book import BookError, Unwritable
from benchapp.decision import Refusal
from benchapp.drying.stacks import Boards
from benchapp.events.entry import Moment
from benchapp.reports.leaving import leaving_lines
from benchapp.reports.unsaved import NOT_ON_DISK
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens import yesterday
from benchapp.screens.after_menu import AfterMenu
from benchapp.screens.answering import answer_first, calling_now
from benchapp.screens.desk import Desk
from benchapp.screens.drafts import Drafts
from benchapp.screens.hearing import LAYERS, Hearing
from benchapp.screens.hush import Hush
from benchapp.screens.listening import Listening
from benchapp.screens.opening import Opening, begins_with
from benchapp.screens.registry import ALONE, MAIN, SCREENS
from benchapp.screens.sounding import Sounding
from benchapp.screens.switch import Heard, PedalSwitch
from benchapp.screens.theme import DAYLIGHT, LAMPLIGHT
from benchapp.screens.unsaved_talk import ask_unsaved
from benchapp.screens.widgets.ask import Ask
from benchapp.screens.widgets.banners import show_banners
from benchapp.screens.widgets.call_bar import ANSWER_KEY, show_calls
from benchapp.screens.widgets.rows import Rows
from benchapp.service.editions import hours_of
from benchapp.service.outcome import Outcome
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.settings import Preferences

LOOKS_A_SECOND: Final = 4
"""How often the clocks are read; nothing is counted by it."""

#: How long what is to be known about the book's file can be read, seconds.
_NOTICE_S: Final = 60.0
_INKY: Final = "Hands are inky: wash first."
_ALL_KEPT: Final = "Everything is in the book."
_NOT_KEPT: Final = "Not everything is on disk yet."
_LISTENS: Final = SafeText("The pedal works; that press only woke it. The next one goes on.")
_OPEN: Final = SafeText("Close what is open here first; then the pedal goes on")


@runtime_checkable
class Follows(Protocol):
    """A screen that looks again when time has passed or something was done."""

    def follow(self) -> None:
        """Show how things stand now."""


@runtime_checkable
class TellsBelow(Protocol):
    """A screen with a line of its own for what a key did."""

    def message(self, words: SafeText, *, wrong: bool = False) -> None:
        """Show a line."""


class Benchapp(Desk):
    """The screens over one workshop.

    Attributes:
        hearing: What is heard of calls, and seen with every sound.
    """

    CSS = LAYERS
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(ANSWER_KEY, "answer_call", show=False, priority=True)]

    def __init__(
        self,
        workshop: SessionService,
        *,
        settings: Preferences | None = None,
        start: str = "studio",
        home: Path | None = None,
        rehearsal: bool = False,
        asking: bool = True,
        opening: Opening | Mapping[str, Any] | None = None,
        environ: MutableMapping[str, str] | None = None,
        sounding: Sounding | None = None,
        open_file: Callable[[Path], bool] | None = None,
    ) -> None:
        """Make the app.

        Args:
            workshop: With the session to be shown on the Bench, if `start` is there.
            settings: Preferences; the defaults if None.
            start: `studio`, `bench`, one of `ALONE`, or a screen over the Studio.
            home: The printer's folder.
            rehearsal: Whether the book is thrown away afterwards.
            asking: Whether what earlier days left is asked first thing, before the Studio.
            opening: What a screen over the Studio is about; of `set-up`, what is opened.
            environ: The environment variables; those of the process if None.
            sounding: What makes calls heard; None: nothing does.
            open_file: Opens a file in the system's viewer; None: there is none.
        """
        self.settings = settings or Preferences()
        super().__init__(light=self.settings.theme == "light", environ=environ)
        self.switch = switch_of(self.settings)
        self.hearing = Hearing(self, sounding)
        self.aloud: Callable[[SafeText], None] = self.hearing.say
        self.workshop = workshop
        workshop.hours = hours_of(self.settings)
        self.home = home
        self.open_file = open_file or (lambda _: False)
        self.rehearsal = rehearsal
        self.asking = asking and not rehearsal
        self.fault = ""
        self._told: tuple[str, ...] = ()
        self.taken_over = 0
        self._start = start
        self._opening = opening
        self._after_menu = AfterMenu()
        self._hush = Hush()
        self.drafts = Drafts()
        #: When the last key or click came, milliseconds on the keys' own clock.
        self.input_ms = 0.0
        # From the start, so that a sleep in its first quarter of a second is one too.
        self._listening = Listening().looked(self.now())

    def on_mount(self) -> None:
        """Open the first screen and begin to follow the clocks."""
        alone = self._start in ALONE
        self.go(self._start if self._start in MAIN else "studio")
        if alone:
            self.push_screen(SCREENS[self._start].make(), lambda _: self.exit())
        elif self._start not in MAIN:
            self.over(self._start, **begins_with(self._opening))
        yesterday.first_thing(self)
        self.set_interval(1 / LOOKS_A_SECOND, self._time_passed)

    # -- where we are ---------------------------------------------------------------------

    def go(self, name: str, **about: Any) -> None:
        """Have a main screen take over; whatever lay open is put away."""
        while len(self.screen_stack) > 2:
            self.pop_screen()
        screen = SCREENS[name].make(**about)
        if len(self.screen_stack) == 2:
            self.switch_screen(screen)
        else:
            self.push_screen(screen)

    def over(self, name: str, **about: Any) -> None:
        """Lay a screen on top; it goes away by `dismiss`, or Escape where it says so."""
        self.push_screen(SCREENS[name].make(**about))

    def leave_bench(self) -> None:
        """Back to the Studio; the session stays open."""
        self.workshop.leave_bench()
        self.go("studio")

    def prefer(self, settings: Preferences) -> None:
        """Go by other preferences from now on."""
        heard = "sound", "voice", "player"
        other = any(getattr(settings, x) != getattr(self.settings, x) for x in heard)
        self.settings = settings
        self.workshop.hours = hours_of(settings)
        self.switch = switch_of(settings)
        self.theme = (DAYLIGHT if settings.theme == "light" else LAMPLIGHT).name
        self.report_mouse(on=settings.mouse == "on")
        if other:
            self.hearing.prefer(settings)

    # -- keys and the mouse ---------------------------------------------------------------

    async def on_event(self, event: events.Event) -> None:
        """Have no key that was meant for a menu reach what lay below it, and no sleeve work."""
        if isinstance(event, events.InputEvent) and not self.takes_input:
            return
        if isinstance(event, events.MouseEvent) and self._mouse_is_off():
            return
        if isinstance(event, events.InputEvent) and not event.is_forwarded:
            self.input_ms = event.time * 1000
        if isinstance(event, events.Key) and not event.is_forwarded:
            t_ms = event.time * 1000
            if self._late_for_menu(event.key, t_ms) or self._hushed(event):
                self.switch, _ = self.switch.press(event.key, t_ms)  # held on, it is no tread
                return
            self._after_menu = self._after_menu.key(t_ms)
        await super().on_event(event)

    @property
    def writing(self) -> bool:
        """Whether a text line, a menu or a card is open: what it asks may need clean hands."""
        stack = self.screen_stack
        return any(isinstance(screen, ModalScreen) for screen in stack) or (
            bool(stack) and isinstance(stack[-1].focused, Input))

    def line_put_away(self, event: events.Key, words: SafeText) -> None:
        """A press of the switch put a line away: say so; letters do nothing until it is quiet."""
        self._hush = self._hush.begun(event.time * 1000)
        below = self.screen_stack[-2]
        if isinstance(below, TellsBelow):
            below.message(words)
        else:
            self.say(words)

    def _hushed(self, event: events.Key) -> bool:
        """Whether a letter or digit comes too soon after a line was put away."""
        if not event.is_printable:
            return False
        self._hush, hushed = self._hush.key(event.time * 1000)
        return hushed

    def menu_closed(self) -> None:
        """A menu closed, by the last key that came."""
        self._after_menu = self._after_menu.closed()

    def _late_for_menu(self, key: str, t_ms: float) -> bool:
        """Whether a key comes too soon after a menu; in a text it is text."""
        return (self.settings.gate.ms > 0 and key not in ("ctrl+c", "ctrl+q")
                and self._after_menu.too_soon(t_ms) and not isinstance(self.screen, Ask))

    def _mouse_is_off(self) -> bool:
        """On the Bench, and wherever hands are inky."""
        room = self.workshop.room
        return not self.screen_stack or getattr(self.screen, "IGNORES_MOUSE", False) or (
            room.session is not None and not room.clean)

    # -- the switch -----------------------------------------------------------------------

    def hear(self, event: events.Key) -> Heard:
        """Say what a key is to the switch: one of its pedals, too soon, or another key.

        Every screen asks this once for each key it gets, so that a pedal held
        down over the change of a screen stays one tread. A tread that only showed
        that it is heard counts as too soon.
        """
        self.switch, heard = self.switch.press(event.key, event.time * 1000)
        if heard in ("another key", "too soon"):
            return heard
        self._listening, only_showed = self._listening.tread(self.now())
        if not only_showed:
            return heard
        self.look_again()
        self.say(_LISTENS)
        self.aloud(_LISTENS)
        return "too soon"

    def on_key(self, event: events.Key) -> None:
        """A tread that came to nothing because something lies open is not lost silently.

        It comes here before the bindings, so what has the focus stands as it was.
        """
        if self.screen.is_modal and event.key in self.switch.keys and not self._used(event.key):
            self.say(_OPEN, severity="warning")

    def _used(self, key: str) -> bool:
        """Whether what has the focus does something with a key; a text says it for itself."""
        if isinstance(self.focused, Rows):
            return self.focused.uses(key)
        return isinstance(self.focused, Input)

    # -- what is done ---------------------------------------------------------------------

    def now(self) -> Moment:
        """The clocks now."""
        return self.workshop.now()

    def do(
        self, action: a.Action, *, session: str | None = None, gated: bool = False
    ) -> Outcome:
        """Do it through the workshop. What is wrong with the book comes as a refusal."""
        try:
            outcome = self.workshop.do(action, session=session, gated=gated)
        except BookError as error:
            self.fault = str(error)
            outcome = Outcome(refusal=Refusal("It was not recorded", "mend the fault shown above"))
        except Unwritable as error:
            outcome = Outcome(refusal=Refusal("The book cannot keep that text", str(error)))
        else:
            self.fault = self.workshop.book.banner
        self.look_again()
        if gated:
            self.hearing.answer(action, outcome)
        return outcome

    def _time_passed(self) -> None:
        if not self.screen_stack:  # a last tick while the app ends: nothing shows or waits any more
            return
        self._listening = self._listening.looked(self.now())
        try:
            self.workshop.tick(writing=self.writing)
        except BookError as error:
            self.fault = str(error)
        else:
            self.fault = self.workshop.book.banner
        self._tell_notice()
        self.look_again()

    def _tell_notice(self) -> None:
        """Say what is to be known about the book's file, each once, and as long as it is so."""
        lines = tuple(filter(None, self.workshop.book.notice.split("\n")))
        for line in self._told:
            if line not in lines:
                self.notices.drop(sanitize(line))
        for line in lines:
            if line not in self._told:
                self.notices.add(sanitize(line), "warning", _NOTICE_S)
        self._told = lines

    def look_again(self) -> None:
        """Have every screen that can be seen show how things stand now, and the calls told."""
        self.hearing.follow()
        self.notices.show()
        calling = calling_now(self)
        for screen in self._seen():
            show_banners(screen, self.fault, away=self._listening.away)
            own = screen is not self.screen or getattr(screen, "SHOWS_CALLS", False)
            show_calls(screen, () if own else calling)
            if isinstance(screen, Follows):
                screen.follow()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The key that answers a call is any other key while nothing calls."""
        if action == "answer_call":
            return ANSWER_KEY not in self.switch.keys and bool(calling_now(self))
        return super().check_action(action, parameters)

    def action_answer_call(self) -> None:
        """Answer what calls, wherever one is; what is open stays open."""
        self.hearing.put_out()  # what was done must not be hidden by what called for it
        answer_first(self)

    def _seen(self) -> list[Screen[Any]]:
        """The screen on top, and those that show beside it, from the top down."""
        seen: list[Screen[Any]] = []
        for screen in reversed(self.screen_stack[1:]):
            seen.append(screen)
            if not screen.is_modal:
                break
        return [screen for screen in seen if screen.is_mounted]

    # -- what the terminal says ------------------------------------------------------------

    def on_app_blur(self, event: events.AppBlur) -> None:
        """The pedal types into another window now: say so, large."""
        self._listening = self._listening.focus(away=True)
        self.look_again()
        self.hearing.away(gone=True)

    def on_app_focus(self, event: events.AppFocus) -> None:
        """Keys come here again."""
        self._listening = self._listening.focus(away=False)
        self.look_again()
        self.hearing.away(gone=False)

    def why_stay(self) -> SafeText | None:
        """With inky hands nobody leaves by a stray key."""
        room = self.workshop.room
        if room.session is None or room.clean:
            return None
        return SafeText(f"{_INKY} {_ALL_KEPT if self.may_be_cut_off else _NOT_KEPT}")

    def how_to_leave(self) -> SafeText:
        """Likewise, and true while entries are only in memory."""
        if self.may_be_cut_off:
            return super().how_to_leave()
        return SafeText(f"Ctrl+Q asks before it leaves. {_NOT_KEPT}")

    def action_leave(self) -> None:
        """Leave; first asked while entries are only in memory."""
        if self.why_stay() is not None or not ask_unsaved(self):
            super().action_leave()

    def done(self, words: str) -> SafeText:
        """What was done, in words; says so as long as it is on no disk."""
        return sanitize(words + ("" if self.may_be_cut_off or not words else NOT_ON_DISK))

    @property
    def may_be_cut_off(self) -> bool:
        """Whether all that was acknowledged is on a disk."""
        return not self.workshop.book.unsaved

    def before_leaving(self) -> None:
        """Mark when the program was left: time after that is nobody's work."""
        self.workshop.leave()


def switch_of(settings: Preferences) -> PedalSwitch:
    """The switch as the printer prefers it."""
    return PedalSwitch.of(settings.treads, settings.gate.ms, back=settings.back_keys,
                          again=settings.again_keys)


def show_screens(
    *,
    home: Path | None,
    workshop: SessionService,
    start: str = "studio",
    rehearsal: bool = False,
    lasting: bool = True,
    opening: Opening | Mapping[str, Any] | None = None,
    settings: Preferences | None = None,
    sounding: Sounding | None = None,
    open_file: Callable[[Path], bool] | None = None,
) -> int:
    """Show the screens until left; then say what is due when, and how to come back.

    Args:
        home: The printer's folder.
        workshop: Over the open book.
        start: `studio`, `bench`, or a screen over the Studio.
        rehearsal: Whether it is a rehearsal: nothing of it is kept.
        lasting: Whether the book is there afterwards, so that one can come back; whoever
            looks round in one that is not is asked nothing first.
        opening: What a screen over the Studio is about; of `set-up`, what is opened.
        settings: Preferences; the defaults if None.
        sounding: What makes calls heard; None: nothing does.
        open_file: Opens a file in the system's viewer; None: there is none.

    Returns:
        The exit code: 0, or 128 and the signal that ended it.

    Raises:
        BaseException: What went wrong in the screens; the terminal is given back by then.
    """
    app = Benchapp(workshop, home=home, start=start, rehearsal=rehearsal, asking=lasting,
                   opening=opening, settings=settings, sounding=sounding, open_file=open_file)
    try:
        app.start(mouse=app.settings.mouse == "on")
    finally:
        app.hearing.stop()
    if app.broke is not None:
        raise app.broke
    # Ended by a signal, the parent that waits for it says how to go on.
    if lasting and not rehearsal and app.stopped_by is None:
        for line in farewell_lines(workshop):
            sys.stdout.write(f"{line}\n")
    return app.return_code or 0


def farewell_lines(workshop: SessionService) -> list[SafeText]:
    """What is due when while the program is closed, and how to come back to open sessions."""
    try:
        boards = workshop.stacks()
    except BookError:  # it was said already; the open sessions are known all the same
        boards = Boards()
    return [*map(sanitize, leaving_lines(workshop.room, boards, workshop.now(), workshop.hours))]
