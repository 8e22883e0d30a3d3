"""What the simulated printer says and does at clean moments of a day, each thing once."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Final, Protocol

from benchapp.clock import FakeClock
from benchapp.demo.day import SimulatedDay
from benchapp.demo.eye import Eye, Seen
from benchapp.edition import packs as damp
from benchapp.recipe.model import Step
from benchapp.service.outcome import Outcome
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.coming import coming_inky
from benchapp.session.compiled_recipe import DAMP_OUT
from benchapp.session.state import Impression, Session, TaskKey

_SECOND: Final = 1_000
_MINUTE: Final = 60_000


class AtPress(Protocol):
    """Who is at the press, as far as clean moments need them."""

    workshop: SessionService
    clock: FakeClock
    rng: random.Random
    eye: Eye
    day: SimulatedDay
    left: bool

    @property
    def session(self) -> Session:
        """The session on the Bench."""

    def do(self, action: a.Action, *, typed: bool = False) -> Outcome:
        """Do it; what is refused is an error."""

    def spend(self, low_ms: int, high_ms: int) -> None:
        """Let so much time go by, by chance between two bounds."""

    def let_pass(self, ms: int) -> None:
        """Let that time go by."""


class Moments:
    """The clean moments of one session."""

    def __init__(self, printer: AtPress) -> None:
        self._p = printer
        self._had: set[tuple[str, object]] = set()

    def at(self, key: TaskKey, step: Step) -> None:
        """Hands are clean and this step has just been begun: say what is to be said.

        Stops at once where a word moved the bench on to another step.
        """
        for moment in self._of(key, step):
            moment(key, step)
            if self._p.left or self._p.session.hand != key:
                return

    def _of(self, key: TaskKey, step: Step) -> list[Callable[[TaskKey, Step], None]]:
        shape = self._p.session.shape
        out: list[Callable[[TaskKey, Step], None]] = [self._set_up, self._explain]
        if step.hands != "clean":
            return out
        out.append(self._readings)
        if key.step == DAMP_OUT:
            out.append(self._extend)
        if step.pulls:
            out += [self._control, self._rework, self._press, self._help, self._mishaps]
        if step.must:
            out += [self._inks, self._leave_off]
        if key.step == shape.lift:
            out += [self._look, self._say, self._go_on_or_not, self._breaks]
        return out

    def _once(self, what: str, about: object = None) -> bool:
        """True the first time."""
        if (what, about) in self._had:
            return False
        self._had.add((what, about))
        return True

    # -- at any clean moment --------------------------------------------------------------

    def _set_up(self, key: TaskKey, step: Step) -> None:
        p = self._p
        if not self._once("set up") or p.session.impressions:
            return
        for name, value in p.day.settings.items():
            p.spend(2 * _SECOND, 8 * _SECOND)
            p.do(a.Set(name, value))
        if p.day.state is not None:
            for plate in p.session.recipe.plates:
                p.do(a.ReworkPlate(plate.name, p.day.state))

    def _explain(self, key: TaskKey, step: Step) -> None:
        p = self._p
        for work in [w for w in p.session.history if w.question == "asked"]:
            p.spend(2 * _SECOND, 6 * _SECOND)
            if work.key.impression in p.day.forgets:
                p.do(a.Explain("forgot", work.key))
            else:
                away = work.key.impression in p.day.away
                p.do(a.Explain("away" if away else "took", work.key))

    def _readings(self, key: TaskKey, step: Step) -> None:
        p = self._p
        if not self._once("read", key):
            return
        for reading in p.session.recipe.readings:
            if reading.at == step.do and p.rng.random() < 0.93:
                p.spend(2 * _SECOND, 9 * _SECOND)
                p.do(a.TakeReading(reading.name, p.eye.read(reading, self._wear())))

    def _wear(self) -> float:
        day = self._p.day
        pulls = sum(len(i.pulls) for i in self._p.session.impressions)
        return min(1.0, day.wear + day.wear_a_pull * pulls)

    def _extend(self, key: TaskKey, step: Step) -> None:
        p = self._p
        t = p.workshop.room.t_at(p.clock.now())
        if p.day.extends and damp.in_water(p.workshop.room.packs, t) and self._once("extend"):
            p.do(a.Extend(5 * _MINUTE))

    def _inks(self, key: TaskKey, step: Step) -> None:
        """The tins go on the scale when printing is over, to half a gram."""
        p = self._p
        if not p.day.inks or not self._once("inks"):
            return
        pulls = sum(i.purpose != "ghost" for i in p.session.impressions if i.pulled)
        for name, grams in p.day.inks.items():
            p.spend(20 * _SECOND, 50 * _SECOND)
            p.do(a.TakeReading(name, f"{round(grams * pulls * 2) / 2:g}", "g"))

    # -- at the press -----------------------------------------------------------------------

    def _control(self, key: TaskKey, step: Step) -> None:
        """One sheet of the first pack, on the scale before it is laid."""
        p = self._p
        if p.day.control is not None and self._once("control"):
            p.spend(10 * _SECOND, 30 * _SECOND)
            p.do(a.TakeReading("control sheet", f"{p.day.control:g}", "g"))

    def _rework(self, key: TaskKey, step: Step) -> None:
        """Said at the next clean moment after the plate was reworked: before its next pull."""
        p = self._p
        for work in p.day.reworks:
            if work.after == (key.impression or 0) - 1 and self._once("rework", work.after):
                p.spend(5 * _SECOND, 20 * _SECOND)
                p.do(a.ReworkPlate(p.session.recipe.plates[0].name, work.state, work.what))

    def _press(self, key: TaskKey, step: Step) -> None:
        p = self._p
        for since, name, value in p.day.changes:
            if since == key.impression and self._once("change", (since, name)):
                p.do(a.Set(name, value))
        imp = p.session.impression(key.impression)
        if p.day.purpose is not None and imp is not None and not imp.ghost and not imp.pulled:
            p.do(a.SayFor(p.day.purpose))

    def _help(self, key: TaskKey, step: Step) -> None:
        p = self._p
        who, n = p.day.helper, key.impression or 0
        if who is None:
            return
        if n >= who.since and self._once("helper in"):
            p.do(a.Helper(True, who.name))
        elif n >= who.until and self._once("helper out") and p.workshop.room.helper is not None:
            p.do(a.Helper(False))

    def _mishaps(self, key: TaskKey, step: Step) -> None:
        """At the press, before the pull: what goes wrong."""
        p, n = self._p, key.impression
        imp = p.session.impression(n)
        if imp is None:
            return
        if imp.pulled:
            if n in p.day.progressives and self._once("progressive", n):
                p.do(a.End())
        elif n in p.day.spoils and self._once("spoiled", n):
            p.do(a.SpoilTry(imp.ordinal, "Sheet stuck to the plate before it was straight.",
                            lost=any(imp.sheets)))
        elif n in p.day.redoes and self._once("redo", n):
            self._again(key)
        elif n in p.day.takes_back and self._once("too early", n):
            p.spend(10 * _SECOND, 30 * _SECOND)
            p.do(a.GoOn())
            p.spend(4 * _SECOND, 12 * _SECOND)
            p.do(a.TakeBack())

    def _again(self, key: TaskKey) -> None:
        """The inky step before the pull is done again: an edge was missed."""
        p = self._p
        shape = p.session.shape
        inky = [x for x in p.session.recipe.each[: shape.place_of[key.step]]
                if x.hands == "inky" and p.session.done(TaskKey(x.id, key.impression))]
        if inky:
            p.spend(5 * _SECOND, 20 * _SECOND)
            p.do(a.Redo(inky[-1].id))

    # -- at the lift --------------------------------------------------------------------------

    def _sheet(self, key: TaskKey) -> Impression | None:
        imp = self._p.session.impression(key.impression)
        return imp if imp is not None and imp.pulled else None

    def _look(self, key: TaskKey, step: Step) -> None:
        """Verdict, tags and a note, in the order a printer thinks of them."""
        p, imp = self._p, self._sheet(key)
        if imp is None or not self._once("look", key.impression):
            return
        p.spend(15 * _SECOND, 40 * _SECOND)
        seen = p.eye.look(p.session.recipe, imp, self._wear(), judged=p.day.judged)
        if key.impression in p.day.says:
            seen = Seen("keep")  # what is said of it is said below, and it is liked
        if seen.verdict is not None:
            p.do(a.Judge(seen.verdict))
        for tag in seen.tags:
            p.spend(2 * _SECOND, 6 * _SECOND)
            p.do(a.Tag(tag))
        if seen.note is not None:
            p.spend(8 * _SECOND, 30 * _SECOND)
            p.do(a.Note(seen.note))

    def _say(self, key: TaskKey, step: Step) -> None:
        """What this day has in store for this very sheet."""
        p, n = self._p, key.impression or 0
        if n in p.day.says and self._once("say", n):
            p.do(a.Note(p.day.says[n]))
        if n in p.day.looks_again and self._once("look again", n):
            p.do(a.LookAgain())
        if p.day.clock is not None and self._once("clock"):
            minutes, name = p.day.clock
            p.do(a.StartClock(minutes * _MINUTE, name))
        imp = p.session.impression(n)
        if n in p.day.ghosts and imp is not None and not imp.ghost and self._once("ghost", n):
            p.do(a.Ghost())

    def _go_on_or_not(self, key: TaskKey, step: Step) -> None:
        p, n = self._p, key.impression or 0
        if p.day.one_more == n and self._once("one more"):
            p.do(a.OneMore())
        if p.day.enough_at is not None and n >= p.day.enough_at and self._once("enough"):
            p.do(a.Enough())
            self._leave_out(key, "last proof of the day, the plate stays as it is")
        elif n not in {work.after for work in p.day.reworks} and self._once("same state", n):
            self._leave_out(key, "one more proof of this state first")

    def _leave_out(self, key: TaskKey, why: str) -> None:
        """The inky steps on this sheet's plate that come are skipped, before hands are inky."""
        p = self._p
        for after in coming_inky(p.workshop.room, p.session, p.clock.now()):
            if after.impression == key.impression:
                p.spend(5 * _SECOND, 20 * _SECOND)
                p.do(a.SkipStep(why, after))

    def _leave_off(self, key: TaskKey, step: Step) -> None:
        p = self._p
        if p.day.left_off is not None and self._once("left off"):
            p.spend(30 * _SECOND, 90 * _SECOND)
            p.do(a.LeftOff(p.day.left_off))

    def _breaks(self, key: TaskKey, step: Step) -> None:
        p, n = self._p, key.impression or 0
        if p.day.leaves_at is not None and n >= p.day.leaves_at and self._once("leaves"):
            self._leave_off(key, step)
            p.do(a.Pause())
            p.left = True
        elif p.day.lunch_at is not None and n >= p.day.lunch_at and self._once("lunch"):
            p.do(a.Pause())
            p.let_pass(p.rng.randrange(26 * _MINUTE, 48 * _MINUTE, 100))
            p.do(a.GoOn())
