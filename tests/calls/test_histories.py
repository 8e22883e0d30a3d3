"""Days of calls, generated: never lost, never answered by itself, never at inky hands for nothing.

A small model of a bench (clocks, hands, answers) stands beside the ringer. The ringer
sees only plans; it is stopped like by SIGSTOP, its machine sleeps and restarts, and the
wall clock is set to another day.
"""

from __future__ import annotations

from dataclasses import replace

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from benchapp.calls.players import RecordingPlayer
from benchapp.calls.ringer import LOOK_MS, PATIENCE_MS, Rang, Ringer
from benchapp.calls.schedule import LAST_GAP_MS, Deadline, Plan
from benchapp.clock import FakeClock

MIN = 60_000
H48_MS = 48 * 60 * MIN


class Day(RuleBasedStateMachine):
    """One day's calls."""

    def __init__(self) -> None:
        super().__init__()
        self.clock = FakeClock(boot_ns=10**15)
        self.made = 0
        self.live: dict[str, Deadline] = {}
        self.hands = "clean"
        self.wash: int | None = None
        self.answered: set[str] = set()
        self.begun: dict[str, int] = {}

    @initialize()
    def start(self) -> None:
        """The program starts; what sounded before it is not remembered."""
        self.ringer = Ringer(RecordingPlayer(self.now, lambda p: 700))

    def now(self) -> int:
        """The boot clock, ms."""
        return self.clock.now().boot_ns // 1_000_000

    def plan(self) -> Plan:
        """What the screen would hand over."""
        return Plan(tuple(self.live.values()), self.hands, self.wash)

    def may_sound(self, d: Deadline) -> bool:
        """The rule of hands and mutes, said again in plain words."""
        if d.answered or self.now() < d.due_ms:
            return False
        if d.muted and (d.muted_until_ms is None or self.now() < d.muted_until_ms):
            return False
        if not d.clean or self.hands != "inky":
            return True
        return d.spoils_ms is not None and (self.wash is None or d.spoils_ms < self.wash)

    def turn(self) -> int | None:
        """One turn of the ringer, and what it sounded held against the rules."""
        rest = self.ringer.turn(self.now(), self.plan())
        while self.ringer.reports:
            report = self.ringer.reports.popleft()
            assert isinstance(report, Rang)
            for name, due_ms in report.sound.calls:
                assert self.live[name].due_ms == due_ms
                assert self.may_sound(self.live[name]), "it sounded against the rules"
                assert name not in self.answered, "an answered call sounded"
                self.begun[name] = report.at_ms
            for name, due_ms in report.sound.foretold:
                assert self.hands == "washing"
                assert due_ms > report.at_ms
                assert self.live[name].clean
        return rest

    @rule(in_ms=st.integers(1, 40 * MIN), clean=st.booleans(),
          spoils=st.none() | st.integers(0, 30 * MIN),
          kind=st.sampled_from(["end", "caution"]))  # fmt: skip
    def begin_a_clock(self, in_ms, clean, spoils, kind) -> None:
        """A wait or a soak begins."""
        self.made += 1
        due = self.now() + in_ms
        name = f"clock {self.made}"
        self.live[name] = Deadline(name, due, kind, name, clean=clean,
                                   spoils_ms=None if spoils is None else due + spoils)  # fmt: skip

    @rule(ms=st.integers(0, 20 * MIN))
    def work_on(self, ms) -> None:
        """Time passes and the ringer turns whenever it wants to."""
        end = self.now() + ms
        while (rest := self.turn()) is not None and self.now() + rest <= end:
            self.clock.advance(max(1, rest))
        if self.now() < end:
            self.clock.advance(end - self.now())
        self.turn()

    @rule(ms=st.integers(1, 180 * MIN))
    def be_stopped(self, ms) -> None:
        """The process stands still, as by SIGSTOP."""
        self.clock.advance(ms)

    @rule(ms=st.integers(1, 600 * MIN))
    def close_the_lid(self, ms) -> None:
        """The machine sleeps."""
        self.clock.sleep(ms)

    @rule(ms=st.sampled_from([-H48_MS, -1000, 1000, H48_MS]))
    def step_the_wall_clock(self, ms) -> None:
        """Somebody sets the clock."""
        self.clock.step_wall(ms)

    @rule()
    def restart_the_program(self) -> None:
        """The ringer's memory is gone; the plan comes from the book."""
        self.start()
        self.begun.clear()

    @rule(off_ms=st.integers(0, 600 * MIN))
    def restart_the_machine(self, off_ms) -> None:
        """A new boot: every deadline is moved to its clock by the wall's difference."""
        before = self.now()
        self.clock.reboot(off_ms)
        by = self.now() - before - off_ms
        moved = {
            name: replace(
                d, due_ms=d.due_ms + by, about=True,
                spoils_ms=None if d.spoils_ms is None else d.spoils_ms + by,
                muted_until_ms=None if d.muted_until_ms is None else d.muted_until_ms + by,
            )
            for name, d in self.live.items()
        }  # fmt: skip
        self.live = moved
        self.wash = None if self.wash is None else self.wash + by
        self.restart_the_program()

    @rule(which=st.integers(0, 50))
    def answer(self, which) -> None:
        """The printer answers one that is due."""
        due = [n for n, d in self.live.items() if not d.answered and d.due_ms <= self.now()]
        if due:
            name = due[which % len(due)]
            self.live[name] = replace(self.live[name], answered=True)
            self.answered.add(name)

    @rule(which=st.integers(0, 50), ms=st.none() | st.integers(1, 60 * MIN))
    def mute(self, which, ms) -> None:
        """The printer mutes one clock, for good or for a time."""
        if self.live:
            name = list(self.live)[which % len(self.live)]
            until = None if ms is None else self.now() + ms
            self.live[name] = replace(self.live[name], muted=True, muted_until_ms=until)

    @rule(hands=st.sampled_from(["inky", "washing", "clean"]),
          wash=st.none() | st.integers(1, 60 * MIN))  # fmt: skip
    def change_hands(self, hands, wash) -> None:
        """Hands get inky, are washed, are clean."""
        self.hands, self.wash = hands, None if wash is None else self.now() + wash

    @rule(which=st.integers(0, 50), by=st.integers(1, 30 * MIN))
    def put_off(self, which, by) -> None:
        """A clock is given more time; then it is a new call."""
        going = [n for n, d in self.live.items() if not d.answered]
        if going:
            name = going[which % len(going)]
            self.live[name] = replace(self.live[name], due_ms=self.now() + by, muted=False,
                                      muted_until_ms=None)  # fmt: skip
            self.begun.pop(name, None)

    @invariant()
    def nothing_is_lost(self) -> None:
        """Whatever may sound does so once what sounds is over, and again within the gaps."""
        wanted = [name for name, d in self.live.items() if self.may_sound(d)]
        until = self.now() + PATIENCE_MS
        while (rest := self.turn()) is not None and rest <= LOOK_MS and self.now() < until:
            self.clock.advance(max(1, rest))
        for name in wanted:
            assert name in self.begun, "a call that is due was never heard"
            assert self.now() - self.begun[name] <= LAST_GAP_MS + 2 * PATIENCE_MS

    @invariant()
    def nothing_is_answered_by_itself(self) -> None:
        """Only the printer's answers are answers."""
        assert {n for n, d in self.live.items() if d.answered} == self.answered


TestDay = Day.TestCase
#: A history costs some 25 ms, so the full tier's count is kept within half a minute.
TestDay.settings = settings(max_examples=min(1200, settings().max_examples),
                            stateful_step_count=30)  # fmt: skip
