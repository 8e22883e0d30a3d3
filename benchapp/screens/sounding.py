"""Where the room meets the caller: plans out of the room, entries and flashes out of what rang.

The caller's thread keeps the deadlines; this only hands it plans and gathers what it
reports. What is spoken besides is said here too: the step a tread begins, ink that lies.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Final

from benchapp import files
from benchapp.calls.awake import Awake, keep_awake
from benchapp.calls.caller import Caller
from benchapp.calls.found import find_players, prefer_players
from benchapp.calls.phrases import make_speakable
from benchapp.calls.pieces import Player, Trouble
from benchapp.calls.players import BellPlayer
from benchapp.calls.ringer import Rang
from benchapp.calls.schedule import Deadline, Plan
from benchapp.calls.system import SystemPlayer, system_player
from benchapp.calls.tones import Kind, Level
from benchapp.clock import Clock, SystemClock
from benchapp.drying.calls import BoardCall
from benchapp.drying.stacks import wall_time
from benchapp.events.entry import Moment
from benchapp.session.calls import SHEETS_OUT, Calling, foresee_calls
from benchapp.session.calls import CallClock as CallClock
from benchapp.session.ink_lying import to_say
from benchapp.session.state import Session, StudioState
from benchapp.settings import Preferences

MakePlayer = Callable[[Preferences], Player]
"""Gives the player for a choice of sound; a new one when the choice changes."""

_LEVELS: Final[dict[str, Level | None]] = {
    "ask": "loud", "on": "loud", "soft": "soft", "off": None,
}  # fmt: skip
AWAY: Final = "Not listening. The pedal types into another window"
BACK: Final = "Listening again"
SAME_MS: Final = 2_000
#: Where the id of a session stands, for calls that belong to none.
BOARDS: Final = "boards"
#: Behind everything a session calls for.
_LEAST: Final = 9
#: The caller is begun for the boards alone when one of their calls is so near.
_SOON_MS: Final = 60_000


def boot_ms(clock: Clock) -> Callable[[], int]:
    """Read the boot clock of `clock`, milliseconds."""
    return lambda: clock.now().boot_ns // 1_000_000


def player_for(settings: Preferences, bell: Callable[[str], object] | None = None) -> Player:
    """What this machine has, by the printer's choice; `bell` rings the terminal's own way else."""
    found = prefer_players(find_players(), settings.player, speech=settings.voice == "on")
    real = boot_ms(SystemClock())
    return system_player(found, _LEVELS[settings.sound], files.state_folder() / "sounds",
                         BellPlayer(bell or ring_bell), real)


def ring_bell(text: str) -> None:
    """Send the bell to the terminal, past whatever is still to be drawn.

    Raises:
        OSError: The terminal is gone.
    """
    stream = sys.__stdout__ if sys.platform == "win32" else sys.__stderr__
    if stream is not None:
        os.write(stream.fileno(), text.encode("ascii"))


# -- plans ------------------------------------------------------------------------------


def plan_of(room: StudioState, now: Moment) -> Plan:
    """What may sound, on the boot clock. Empty before anything was written in this boot."""
    anchor = room.anchor
    if anchor is None or anchor.boot_id != now.boot_id:
        return Plan()
    # From the anchor, not from now: the same clock then has the same moment at every look.
    shift = anchor.boot_ns // 1_000_000 - room.anchor_t
    return to_plan(foresee_calls(room, room.t_at(now)), shift)


def to_plan(calling: Calling, shift_ms: int) -> Plan:
    """The same as deadlines of the caller, each moment moved by `shift_ms`."""
    wash = calling.next_wash_t
    return Plan(tuple(_deadline(c, calling, shift_ms) for c in calling.clocks), calling.hands,
                None if wash is None else wash + shift_ms)


def with_boards(plan: Plan, boards: Iterable[BoardCall], now: Moment) -> Plan:
    """The plan with what the boards call for: gently, and only where hands are clean."""
    boot, there = now.boot_ns // 1_000_000, wall_time(now)
    return replace(plan, deadlines=(*plan.deadlines, *(Deadline(
        id=f"{BOARDS} {c.id}", due_ms=boot + (c.at - there) // timedelta(milliseconds=1),
        phrase=make_speakable(c.words), harm=_LEAST, clean=True, gentle=True) for c in boards)))


def _deadline(clock: CallClock, calling: Calling, shift_ms: int) -> Deadline:
    """One clock. The cautioning sound is for what would be spoilt before the next wash."""
    wash, spoils = calling.next_wash_t, clock.spoils_t
    spoilt = spoils is not None and calling.hands == "inky" and (wash is None or spoils < wash)

    def at(t: int | None) -> int | None:
        return None if t is None else t + shift_ms

    return Deadline(
        id=f"{clock.session} {clock.call}", due_ms=clock.due_t + shift_ms,
        kind="caution" if spoilt and clock.clean else "end", phrase=make_speakable(clock.phrase),
        harm=clock.harm, clean=clock.clean, spoils_ms=at(clock.spoils_t),
        answered=clock.answered, muted=clock.muted, muted_until_ms=at(clock.muted_until_t),
        about=not clock.exact, gentle=clock.gentle)


def calls_in(rang: Rang) -> dict[str, tuple[str, ...]]:
    """The calls that sounded, by their session."""
    found: dict[str, tuple[str, ...]] = {}
    for id_, _ in rang.sound.calls:
        session, _, call = id_.partition(" ")
        found[session] = (*found.get(session, ()), call)
    return found


def _near(boards: Sequence[BoardCall], now: Moment) -> bool:
    until = wall_time(now) + timedelta(milliseconds=_SOON_MS)
    return any(c.at <= until for c in boards)


def likely_phrases(s: Session) -> tuple[str, ...]:
    """What a session will say most likely, to be rendered when it opens."""
    steps = s.shape.by_id.values()
    ends = [f"{x.say or x.do}: time is up" for x in steps if x.hands == "free"
            and not x.ends_itself and x.time is not None]
    said = [s.shape.spoken.get(x.id) or x.say or x.do for x in steps if x.hands != "free"]
    back = [f"Undone: {x.do} goes on" for x in steps if x.hands == "inky"]
    return tuple(make_speakable(x) for x in (SHEETS_OUT, *ends, *said, *back, AWAY, BACK))


# -- the caller at work -----------------------------------------------------------------


class Sounding:
    """The caller of one run of the program; silent until a session is on the Bench."""

    def __init__(
        self, clock: Clock, settings: Preferences, make: MakePlayer, *,
        hold: Callable[[], Awake] | None = None, pace: float = 1.0,
        first_time: Callable[[str], bool] = lambda text: True,
    ) -> None:
        """Make it; nothing sounds yet.

        Args:
            clock: The clock of the workshop.
            settings: With the printer's choice of sound.
            make: Makes the player.
            hold: Asks the system to keep the screen lit; nothing is asked if None.
            pace: How many times as fast as the world the clock runs.
            first_time: Says whether the printer was never told a text, and remembers it.
        """
        self._first_time = first_time
        self._boot_ms, self._settings, self._make = boot_ms(clock), settings, make
        self._hold, self._pace = hold, pace
        self._player: Player | None = None
        self._caller: Caller | None = None
        self._awake: Awake | None = None
        self._told_dark = False
        self._plan = Plan()
        self._prepared: set[str] = set()
        self._said: set[object] = set()
        self._last: tuple[str, int] | None = None

    def choose(self, settings: Preferences) -> None:
        """Go on by another choice of sound."""
        self._settings = settings
        self._prepared.clear()
        if self._caller is not None:
            self._caller.stop()
            self._caller = None
            self._start().plan(self._plan)

    def follow(self, room: StudioState, now: Moment,
               boards: Sequence[BoardCall] = ()) -> tuple[Rang | Trouble, ...]:
        """Hand over what will call now; gives what sounded and what went wrong since.

        The first session on the Bench starts the caller, a call of the boards that is near,
        or any other clock that runs; it goes on in the Studio.
        """
        working = room.session is not None and room.session.closed is None
        plan = plan_of(room, now)
        if self._caller is None and not (working or plan.deadlines or _near(boards, now)):
            return ()
        caller = self._caller or self._start()
        waits = any(not (d.answered or d.gentle) for d in plan.deadlines)
        self._keep_lit(open_=bool(room.open_sessions) or waits)
        self._prepare(room.session)
        plan = self._plan = with_boards(plan, boards, now)
        caller.plan(plan)  # each time: so a clock that jumped is seen by the thread at once too
        if plan.hands != "inky":
            self._speak_of_ink(room, now)
        return (*caller.reports(), *self._dark())

    def say(self, words: str, kind: Kind | None = None) -> None:
        """Say something now, in place of what was said of an earlier key.

        The same words twice within two seconds are one saying: who did a thing and who
        shows it may both have it said.
        """
        if self._caller is None:
            return
        text, now = make_speakable(words), self._boot_ms()
        last, self._last = self._last, (text.casefold(), now)
        if last is None or last[0] != text.casefold() or now - last[1] >= SAME_MS:
            self._caller.say(text, kind=kind, instead=True)

    def stop(self) -> None:
        """Fall silent, and let the screen go dark."""
        if self._caller is not None:
            self._caller.stop()
            self._caller = None
        if self._awake is not None:
            self._awake.let_go()
            self._awake = None

    def _start(self) -> Caller:
        self._player = self._make(self._settings)
        self._caller = Caller(self._player, self._boot_ms, pace=self._pace)
        self._caller.start()
        return self._caller

    def _prepare(self, s: Session | None) -> None:
        if s is not None and s.id not in self._prepared:
            self._prepared.add(s.id)
            if isinstance(self._player, SystemPlayer):
                self._player.prepare(likely_phrases(s))

    def _speak_of_ink(self, room: StudioState, now: Moment) -> None:
        """Once each: hands can act now."""
        for word in to_say(room, room.t_at(now)):
            if word.about not in self._said and self._caller is not None:
                self._said.add(word.about)
                self._caller.say(make_speakable(word.text), kind="caution")

    def _keep_lit(self, *, open_: bool) -> None:
        if open_ and self._awake is None and self._hold is not None:
            self._awake = self._hold()
        elif not open_ and self._awake is not None:
            self._awake.let_go()
            self._awake = None

    def _dark(self) -> tuple[Trouble, ...]:
        """That the screen may go dark: once, and not at the next start again."""
        trouble = None if self._awake is None else self._awake.trouble()
        if trouble is None or self._told_dark:
            return ()
        self._told_dark = True
        return (trouble,) if self._first_time(trouble.text) else ()


def on_this_machine(clock: Clock, settings: Preferences, *, pace: float = 1.0) -> Sounding:
    """The calls as this machine makes them, its screen kept lit."""
    return Sounding(clock, settings, player_for, pace=pace, first_time=files.is_first_time,
                    hold=lambda: keep_awake(boot_ms(SystemClock())))
