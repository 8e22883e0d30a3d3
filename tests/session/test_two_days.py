"""Days of two sessions with two plates each, made at random: one press, one pair of hands."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from itertools import pairwise
from random import Random

import pytest

from benchapp.events.entry import Entry
from benchapp.events.streams import stream_family
from benchapp.recipe.hazards import is_press_off
from benchapp.session import actions as a
from benchapp.session.coming import coming_inky
from benchapp.session.names import session_id, step_of
from benchapp.session.state import NOT_KNOWN, Session, TaskKey
from tests.session.support import (
    MIN,
    PLATE_CLEAN,
    RAGS,
    SHEETS,
    SOAK,
    WARM,
    Bench,
    hold_damp_sheets,
    recipe,
)

SIDE = "handle side"
EACH = (
    WARM.replace("Warm", "Warm tone").replace("hands", "plate: tone, hands"),
    "{do: Ink tone, hands: inky, plate: tone, time: 8 min}",
    "{do: Ink key, hands: inky, plate: key, time: 8 min}",
    "{do: Pull tone, hands: clean, at: press, pulls: tone, uses: sheet, time: 4 min}",
    "{do: Pull key, hands: clean, at: press, pulls: key, time: 90 s, within: 2 min}",
    "{do: Lift, hands: clean, time: 3 min, asks: [verdict]}")
OFF = "{do: 'Pressure off, blankets hung', hands: clean, time: 5 min}"
HEAT = "{do: Hot plate off, hands: clean, time: 1 min, must: [turned off, left on]}"
#: Two prints: other figures for the same screws, and only one of them on damp paper.
PRINTS = tuple(
    recipe(each=EACH, plates=("tone", "key"), after=(HEAT, PLATE_CLEAN, OFF, SHEETS, RAGS),
           damp=damp, extra=f"press: {{pitch: 2 mm, {SIDE}: {turns}}}\n"
           ).replace("Slack Water", title)
    for title, damp, turns in (("Heron Wall", SOAK, "3.5 turns"), ("Two Gates", None, "3 turns")))
#: Words of entries that nobody's tread or word made.
BY_ITSELF = ("time passed", "sounded", "resume session")
Work = tuple[str, str, object, object]


@dataclass
class Tally:
    """What was done at the one press and by the one pair of hands, told by the entries alone.

    Attributes:
        screw: How the screw is set, as far as any pull or word said; None: nobody knows.
        said: How each session has it.
        word: What was done last by hand; after *back* the next look at the time begins what is due.
    """

    bench: Bench
    screw: str | None = None
    said: dict[str, str] = field(default_factory=dict)
    begun: dict[Work, Entry] = field(default_factory=dict)
    hands: list[tuple[int, int, str]] = field(default_factory=list)
    word: str = ""

    def take(self) -> None:
        """Hold every entry that was not taken back against those before it."""
        room = self.bench.room
        told = [e for e in room.journal
                if stream_family(e.stream) == "session" and e.action not in room.void]
        waits = {e.action for e in told if e.kind == "step finished"
                 and e.body["how"] == "ended itself"}
        for e in told:
            self.word = self.word if e.word in BY_ITSELF else e.word
            s = room.sessions[session_id(e.stream)]
            if e.kind in ("setting changed", "setting found") and e.body["name"] == SIDE:
                self.said[s.id] = e.body["value"] or NOT_KNOWN
                self.screw = e.body["value"]
            elif e.kind == "pulled":
                self._pulled(s)
            elif e.kind in ("step started", "step finished", "step put off"):
                self._worked(s, e, of_wait=e.action in waits)

    def _pulled(self, s: Session) -> None:
        """The record of a pull says how the screw is set, or that it is not known."""
        said = self.said.get(s.id, NOT_KNOWN)
        if said == NOT_KNOWN:
            self.screw = None  # it may have been set as the recipe has it, or not
            return
        assert said == self.screw, f"{s.id}: the record has {said}, set is {self.screw}"

    def _worked(self, s: Session, e: Entry, *, of_wait: bool) -> None:
        """Hands work begins and ends by a tread or a word, or begins as a wait ends."""
        b = e.body
        work = s.id, b["step"], b["impression"], b["pack"]
        step = step_of(s, TaskKey(b["step"], b["impression"], b["pack"]))
        assert step is not None
        if step.hands == "free":
            return
        if e.kind == "step started":
            assert (e.word not in BY_ITSELF or of_wait or self.word == "back"
                    or step.id == s.shape.sheet_step), (
                f"{step.do} began by {e.word}")
            self.begun[work] = e
            return
        began = self.begun.pop(work, None)
        if e.kind == "step finished" and b["how"] == "done" and b["taken"]:
            assert e.word not in BY_ITSELF, f"{step.do} ended by {e.word}"
            assert began is not None, f"{step.do} was done and never begun"
            self.hands.append((began.at.boot_ns, e.at.boot_ns, f"{s.id} {step.do}"))
        if is_press_off(step) and b.get("how") in ("done", "passed", "out of reach"):
            self.screw = None


def act(rng: Random, b: Bench) -> a.Action:
    """What the printer does next: mostly the pedal, now and then a word that fits or does not."""
    s, sheets = b.s, [i.ordinal for i in b.s.impressions]
    if rng.random() < .66:
        return a.GoOn()
    coming = coming_inky(b.room, s, b.now)
    later = rng.choice(coming) if coming else None
    others = [o.id for o in b.room.open_sessions if o.id != s.id]
    words: list[a.Action] = [
        *(a.SwitchSession(x) for x in others for _ in range(3)),
        *(a.Set(SIDE, f"{x} turns") for x in ("2.875", "3.25")),
        a.SetAsBefore(), a.TakeBack(), a.Tick(), a.Pause(), a.Resume(), a.Ghost(), a.End(),
        a.Helper(joins=b.room.helper is None, name="Ida"), a.Judge(rng.choice(["keep", "spoiled"])),
        a.SpoilTry(sheets[-1] if sheets else 1, "hair", lost=rng.random() < .3),
        a.SkipStep("not today"), a.SkipStep("inked already", later), a.Note("even"), a.LookAgain(),
        a.Redo(f"each.{rng.randint(2, 4)}"), a.Here(f"each.{rng.randint(3, 6)}"), a.AnswerCall(),
        a.Choose(TaskKey(f"each.{rng.randint(1, 6)}", sheets[-1] if sheets else 1)), a.SheetsOut(),
        a.MoveSheet(rng.choice(["out", "back", "dried"])), a.Enough(), a.OneMore(),
        *(a.LeaveStep(x, later) for x in others)]
    return rng.choice(words)


def day(seed: int) -> Bench:
    """One day, until both sessions are closed or the printer has had enough of it."""
    rng = Random(seed)
    prints = rng.sample(PRINTS, 2)
    b = Bench(prints[0], rng.choice([1, 2]))
    second = rng.randint(1, 12)
    for n in range(90):
        if n == second:
            b.shop.open_session("two-gates", prints[1], 1)
        if all(s.closed is not None for s in b.room.sessions.values()):
            break
        if b.s.closed is not None:
            left = next(iter(b.room.open_sessions), None)
            if left is None:
                break
            b.do(a.SwitchSession(left.id))
        b.clock.advance(rng.choice([3_000, MIN, 3 * MIN, 9 * MIN]))
        b.shop.tick()
        refusal = b.do(act(rng, b)).refusal
        if refusal is not None and refusal.must:
            b.do(a.Must(rng.choice([None, *step_facts(b.s)])))
        hold(b)
    return b


def step_facts(s: Session) -> tuple[str, ...]:
    """The answers of the fact in hand."""
    step = None if s.hand is None else s.shape.by_id.get(s.hand.step)
    return () if step is None else step.must


def hold(b: Bench) -> None:
    """Each sheet is in one place."""
    hold_damp_sheets(b.room)
    lying = Counter(x.mark for stack in b.shop.stacks().stacks.values() for x in stack.sheets)
    assert not lying or max(lying.values()) == 1, lying
    there = {i.mark for s in b.room.sessions.values() for i in s.impressions
             if i.laid and i.verdict != "spoiled"}
    assert set(lying) == there, (lying, there)


def hands_apart(tally: Tally) -> None:
    """One pair of hands does one thing at a time, in whatever session."""
    done = sorted(tally.hands)
    for (_, ended, one), (began, _, other) in pairwise(done):
        assert began >= ended, f"{one} and {other} at once"


@pytest.mark.parametrize("seeds", [
    range(10), *(pytest.param(range(n, n + 250), marks=pytest.mark.full)
                 for n in range(1_000, 3_000, 250))], ids=lambda x: f"{x.start}-{x.stop}")
def test_one_press_one_pair_of_hands_and_each_sheet_in_one_place(seeds: range) -> None:
    """Whatever is done, and in whichever session."""
    pulled = shared = 0
    for seed in seeds:
        try:
            b = day(seed)
            tally = Tally(b)
            tally.take()
            hands_apart(tally)
        except AssertionError as error:
            raise AssertionError(f"seed {seed}: {error}") from error
        sheets = [sum(i.pulled for i in s.impressions) for s in b.room.sessions.values()]
        pulled += sum(sheets)
        shared += all(sheets) and len(sheets) == 2
    assert pulled > len(seeds)
    assert shared > len(seeds) // 5
