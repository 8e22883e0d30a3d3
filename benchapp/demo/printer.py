"""A simulated printer: whole days at the bench, through the same door as screens and words.

It knows no file and reads no clock but the one it is given: it moves that clock
itself. Given the same workshop, days and `random.Random`, it does the same things
at the same moments.
"""

from __future__ import annotations

import math
import random
from typing import Final

from benchapp.clock import FakeClock
from benchapp.demo.day import SimulatedDay
from benchapp.demo.eye import Eye
from benchapp.demo.moments import Moments
from benchapp.events.entry import Moment
from benchapp.recipe.model import Step
from benchapp.service.outcome import Outcome
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.compiled_recipe import DAMP_IN
from benchapp.session.context import worked_ms
from benchapp.session.names import shape_of
from benchapp.session.room_facts import LEFT_OVER
from benchapp.session.state import Session, TaskKey
from benchapp.views.bench import call_views
from benchapp.views.clocks import clock_views

SECOND: Final = 1_000
MINUTE: Final = 60_000
#: Where a recipe gives a step no time.
UNKNOWN_MS: Final = 3 * MINUTE
#: No day has so many steps: a printer who takes more goes round in a circle.
MOST_STEPS: Final = 3_000
#: A step is asked about five minutes over its high time.
FORGOTTEN_MS: Final = (6 * MINUTE, 15 * MINUTE)


class PrinterError(RuntimeError):
    """The workshop refused what the printer was sure would go, or a day came to no end."""


class Printer:
    """Prints through a workshop, moving its clock by as much as each thing takes.

    Attributes:
        day: What will happen today; may be changed between days.
        left: Whether the printer went home and left the session open.
        said: Everything done that was not refused, in order: (when, action).
    """

    def __init__(self, workshop: SessionService, clock: FakeClock, rng: random.Random,
                 day: SimulatedDay | None = None) -> None:
        """`clock` must be the workshop's own: it is moved from here."""
        self.workshop = workshop
        self.clock = clock
        self.rng = rng
        self.eye = Eye(rng)
        self.day = day or SimulatedDay()
        self.left = False
        self.said: list[tuple[Moment, a.Action]] = []
        self._moments = Moments(self)

    @property
    def session(self) -> Session:
        """The session on the Bench.

        Raises:
            PrinterError: There is none.
        """
        session = self.workshop.room.session
        if session is None:
            raise PrinterError("No session is on the Bench")
        return session

    # -- whole days -----------------------------------------------------------------------

    def print_day(self, recipe: str, text: str) -> str:
        """Open a session on this recipe text and work until it closes or is left open.

        Returns:
            The session's id.

        Raises:
            RecipeError: The text is no recipe.
            PrinterError: The day came to no end.
        """
        self.open(recipe, text)
        self.work()
        return self.session.id

    def open(self, recipe: str, text: str) -> None:
        """Open a session on this recipe text."""
        self._moments = Moments(self)
        self.left = False
        self._went(self.workshop.open_session(recipe, text, self.day.wanted), "open")

    def come_back(self, session: str) -> None:
        """Come back to a session left open, in a workshop that has just been opened.

        Raises:
            PrinterError: The book has no such session, or it cannot be gone on with here.
        """
        row = next((r for r in self.workshop.book.sessions() if r.id == session), None)
        if row is None:
            raise PrinterError(f"There is no session {session}")
        self.left = False
        self._went(self.workshop.resume_session(row), "resume")
        if self.session.paused_t is not None:
            self.do(a.GoOn())

    def work(self) -> None:
        """Go on until the session closes or is left open."""
        for _ in range(MOST_STEPS):
            if self.left or self.session.closed is not None:
                self.workshop.tick()
                return
            self._once()
        raise PrinterError(f"It has not ended after {MOST_STEPS} steps")

    def damp_for_tomorrow(self, text: str, sheets: int) -> None:
        """Damp a pack of that recipe's paper, for no session yet.

        Args:
            text: The recipe.
            sheets: How many sheets.

        Raises:
            PrinterError: The recipe damps no paper.
        """
        self._went(self.workshop.damp_pack(shape_of(text).recipe, sheets), "damped")

    def morning_after(self, judge: int = 0) -> None:
        """What is said the next day of a closed session: the can, and sheets left unjudged.

        Args:
            judge: How many of the unjudged sheets are judged now.
        """
        s = self.session
        if any(fact is not None and "can" in fact.split()
               for facts in s.musts.values() for fact in facts):
            self.do(a.CanEmptied())
        for sheet in [i for i in s.impressions if i.pulled and i.verdict is None][:judge]:
            self.spend(20 * SECOND, 90 * SECOND)
            self.do(a.Judge(self.eye.by_tags(sheet), impression=sheet.ordinal))

    # -- doing, and letting time pass ----------------------------------------------------------

    def do(self, action: a.Action, *, typed: bool = False) -> Outcome:
        """Do what the printer is sure of.

        Args:
            action: What.
            typed: As typed words: past the hands gate.

        Raises:
            PrinterError: It was refused.
        """
        outcome = self.workshop.do(action, gated=not typed)
        self._went(outcome, action)
        self.said.append((self.clock.now(), action))
        return outcome

    def _went(self, outcome: Outcome, what: object) -> None:
        if outcome.refusal is not None:
            raise PrinterError(f"{what}: {outcome.refusal}")

    def spend(self, low_ms: int, high_ms: int) -> None:
        """Let a moment pass that nothing rings in."""
        self.clock.advance(self.rng.randrange(low_ms, high_ms, 100))

    def let_pass(self, ms: int) -> None:
        """Let time pass, answering what calls meanwhile."""
        until = self.clock.now().boot_ns + ms * 1_000_000
        while (left := (until - self.clock.now().boot_ns) // 1_000_000) > 0:
            bell = self._next_bell()
            self.clock.advance(left if bell is None else min(left, bell))
            if bell is not None and bell <= left:
                self.workshop.do(a.Tick())
                self._answer()

    def _next_bell(self) -> int | None:
        """Milliseconds until the next clock in the room runs out, or None."""
        room = self.workshop.room
        t = room.t_at(self.clock.now())
        bells = [c.count.ms for c in clock_views(room, t) if c.count.down and c.count.ms > 0]
        s = self.session
        step = None if s.hand is None else s.shape.by_id.get(s.hand.step)
        if s.hand is not None and step is not None and step.calls and step.time:
            bells.append(step.time.usual.ms - step.calls.ms - worked_ms(s, s.work[s.hand], t))
        return min((b for b in bells if b > 0), default=None)

    def _answer(self) -> None:
        """Answer what calls: one tread a call, some seconds after it began."""
        while self._calling():
            self.spend(3 * SECOND, 15 * SECOND)
            self.do(a.GoOn())

    def _calling(self) -> bool:
        s = self.session
        if s.paused_t is not None or not any(c.called and not c.answered
                                             for c in s.calls.values()):
            return False
        room = self.workshop.room
        t = room.t_at(self.clock.now())
        return any(c.calling and c.by_tread for c in call_views(room, t))

    # -- one step after the other -----------------------------------------------------------

    def _once(self) -> None:
        self._answer()
        key = self.session.hand
        if key is None:
            self._wait()
            return
        step = self.session.shape.by_id[key.step]
        takes = self._takes(key, step)
        if self.workshop.room.clean:
            self._moments.at(key, step)
            if self.left or self.session.hand != key:
                return
        self.let_pass(takes)
        self._answer()
        if self.session.hand == key:
            self._end(step)

    def _wait(self) -> None:
        """Nothing for the hands: until a clock runs out, or on by a tread."""
        if self.session.closed is not None:
            return
        bell = self._next_bell()
        if bell is None:
            self.do(a.GoOn())
            return
        self.clock.advance(bell)
        self.workshop.do(a.Tick())

    def _end(self, step: Step) -> None:
        self.do(a.Must(self._fact(step)) if step.must else a.GoOn())

    def _fact(self, step: Step) -> str | None:
        """What the printer answers where a fact is asked."""
        for words, fact in self.day.facts.items():
            if words in step.do:
                return fact
        if set(step.must) == LEFT_OVER:
            room = self.workshop.room
            t = room.t_at(self.clock.now())
            name = self.session.shape.paper_name
            left = any(p.usable(t) for p in room.packs.values() if p.paper == name)
            return "dried" if left else "none"
        return step.must[0]

    def _takes(self, key: TaskKey, step: Step) -> int:
        """How long the printer is at it: log-normal about the usual time, seldom off the span."""
        if step.time is None:
            return UNKNOWN_MS
        low, usual, high = step.time.low.ms, step.time.usual.ms, step.time.high.ms
        drawn = usual * math.exp(self.rng.gauss(0, 0.17)) * self.day.pace * self._settling(key)
        ms = min(high * 1.1, max(low * 0.9, drawn))
        if self._forgotten(key, step):
            ms = high + self.rng.uniform(*FORGOTTEN_MS)
        return round(ms / 100) * 100

    def _settling(self, key: TaskKey) -> float:
        """The first impression of a day is slow, the third as usual, the late ones slow again."""
        if key.impression is None or key.step == DAMP_IN:
            return 1.0
        return {1: 1.2, 2: 1.08}.get(key.impression, 1.0 + 0.01 * max(0, key.impression - 6))

    def _forgotten(self, key: TaskKey, step: Step) -> bool:
        """Whether no tread comes when it should."""
        n = key.impression
        if n is None or step.id not in self.session.shape.place_of:
            return False
        forgets = n in self.day.forgets and step.hands == "inky"
        return forgets or (n in self.day.away and step.id == self.session.shape.lift)
