"""Days of calls through the whole stack: decider, book, plan and ringer, however time behaves.

The printer treads, mutes and starts clocks; the screen stands still (the ringer goes on
by the last plan), the program stops like by SIGSTOP and starts anew, the machine sleeps
and restarts, and its wall clock is set to another day. Held after every move: no call is
lost, none is answered by itself, and inky hands hear nothing they can't act on.
"""

from __future__ import annotations

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule

from benchapp.book import Book
from benchapp.calls.players import RecordingPlayer
from benchapp.calls.ringer import PATIENCE_MS, Rang, Ringer
from benchapp.calls.schedule import LAST_GAP_MS, Plan
from benchapp.clock import FakeClock
from benchapp.screens.sounding import calls_in, plan_of
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.calls import CallClock, foresee_calls
from tests.session.support import LIFT, MIN, PULL, RAGS, SETTLE, WIPE, recipe

H48_MS = 48 * 60 * MIN
DAYS = (
    recipe(plates=("tone", "key"), each=(
        "{do: Ink tone, hands: inky, plate: tone, time: 5 min}",
        "{do: Settle, hands: free, plate: tone, time: 6 min}",
        "{do: Ink key, hands: inky, plate: key, time: 26 min, calls: 2 min}",
        "{do: Pull tone, hands: clean, pulls: tone, within: 8 min, time: 4 min}",
        "{do: Pull key, hands: clean, pulls: key}", LIFT)),
    recipe(before=["{do: Screws, hands: clean}"], after=[RAGS],
           each=("{do: Ink, hands: inky, time: 5 min}", SETTLE, WIPE, PULL, LIFT),
           damp="{method: soak, soak: 30 min, pack: 2}"),
)  # fmt: skip
#: Words of entries that come about without the printer.
BY_ITSELF = {"time passed", "sounded", "resume session"}


class Days(RuleBasedStateMachine):
    """One session, from its opening on."""

    @initialize(day=st.sampled_from(DAYS))
    def start(self, day: str) -> None:
        """The program starts, and the session opens."""
        self.clock = FakeClock(boot_ns=10**15)
        self.book = Book.in_memory()
        self.shop = SessionService(self.book, self.clock)
        self.shop.open_session("day", day, 3)
        self.sid = str(self.shop.room.bench)
        self.seen = 0
        self.plan = Plan()
        self.begin()
        self.look()

    def begin(self) -> None:
        """A caller that remembers nothing."""
        self.ringer = Ringer(RecordingPlayer(self.now, lambda piece: 700))
        self.last: dict[tuple[str, int], int] = {}

    def now(self) -> int:
        """The boot clock, ms."""
        return self.clock.now().boot_ns // 1_000_000

    @property
    def open(self) -> bool:
        """Whether the session goes on."""
        return self.shop.room.sessions[self.sid].closed is None

    # -- what the program does -------------------------------------------------------------

    def look(self) -> None:
        """Time is let pass, the plan handed over, and what rang written down."""
        self.shop.tick()
        self.plan = plan_of(self.shop.room, self.clock.now())
        self.ring()
        self.answers()
        self.nothing_lost()

    def ring(self) -> None:
        """A turn of the ringer by the plan it has; each sound held against the plan."""
        for _ in range(3):
            self.ringer.turn(self.now(), self.plan)
            self.clock.advance(PATIENCE_MS // 2)
        rung: dict[str, tuple[str, ...]] = {}
        while self.ringer.reports:
            report = self.ringer.reports.popleft()
            assert isinstance(report, Rang)
            held = {d.key: d for d in self.plan.deadlines}
            for key in report.sound.calls:
                d = held[key]
                self.last[key] = report.at_ms
                assert d.due_ms <= report.at_ms
                assert not d.answered
                spoils = d.spoils_ms is not None and (
                    self.plan.next_wash_ms is None or d.spoils_ms < self.plan.next_wash_ms)
                assert not (d.clean and self.plan.hands == "inky") or spoils
            for session, calls in calls_in(report).items():
                rung[session] = (*rung.get(session, ()), *calls)
        for session, calls in rung.items():
            if session in self.shop.room.sessions:
                self.shop.do(a.Sounded(calls), session=session)

    def answers(self) -> None:
        """No call was answered by time, by a sound, or by coming back."""
        entries = self.book.entries()
        for entry in entries[self.seen:]:
            assert not (entry.kind == "answered" and entry.word in BY_ITSELF)
        self.seen = len(entries)

    def nothing_lost(self) -> None:
        """What is over, unanswered and may sound has sounded, not longer ago than its gap."""
        calling = foresee_calls(self.shop.room, self.shop.room.t_at(self.clock.now()))
        held = {d.id: d for d in self.plan.deadlines}
        for c in calling.clocks:
            d = held.get(f"{c.session} {c.call}")
            if d is None or c.answered or d.due_ms > self.now() - 2 * PATIENCE_MS:
                continue
            if self.silent(c):
                continue
            assert d.key in self.last, f"{c.phrase} never sounded"
            assert self.now() - self.last[d.key] <= LAST_GAP_MS + 4 * PATIENCE_MS

    def silent(self, c: CallClock) -> bool:
        """Whether hands or a mute keep it silent, now or a moment ago."""
        t = self.shop.room.t_at(self.clock.now())
        if c.muted or (c.muted_until_t is not None and t < c.muted_until_t + 4 * PATIENCE_MS):
            return True
        return c.clean and self.plan.hands == "inky"

    # -- what happens ------------------------------------------------------------------------

    @precondition(lambda self: self.open)
    @rule()
    def tread(self) -> None:
        """The printer goes on; a fact is not said."""
        out = self.shop.do(a.GoOn(), gated=True)
        if out.refusal is not None and out.refusal.must:
            self.shop.do(a.Must(None))
        self.look()

    @precondition(lambda self: self.open)
    @rule(minutes=st.sampled_from([1, 4, 12]))
    def clock_started(self, minutes: int) -> None:
        """A clock on the spot."""
        self.shop.do(a.StartClock(minutes * MIN, "varnish"))
        self.look()

    @precondition(lambda self: self.open)
    @rule(ms=st.none() | st.sampled_from([3 * MIN, 20 * MIN]))
    def mute(self, ms: int | None) -> None:
        """What calls is silenced, if anything does."""
        self.shop.do(a.Mute(ms=ms))
        self.look()

    @rule()
    def take_back(self) -> None:
        """The last action never was."""
        self.shop.do(a.TakeBack())
        self.look()

    @rule(minutes=st.integers(1, 20), looking=st.booleans())
    def time(self, minutes: int, looking: bool) -> None:
        """Minutes pass; where the screen stands still the ringer goes on alone."""
        for _ in range(minutes):
            self.clock.advance(MIN)
            if looking:
                self.look()
            else:
                self.ring()
        self.look()

    @rule(minutes=st.integers(1, 90), asleep=st.booleans())
    def stopped(self, minutes: int, asleep: bool) -> None:
        """SIGSTOP, or a closed lid: nothing runs, then all of it at once."""
        (self.clock.sleep if asleep else self.clock.advance)(minutes * MIN)
        self.ring()
        self.look()

    @rule(ms=st.sampled_from([-H48_MS, H48_MS, -3_600_000, 5_000]))
    def stepped(self, ms: int) -> None:
        """The wall clock is set to another time: no deadline moves."""
        before = {d.key for d in plan_of(self.shop.room, self.clock.now()).deadlines}
        self.clock.step_wall(ms)
        assert {d.key for d in plan_of(self.shop.room, self.clock.now()).deadlines} == before
        self.look()

    @rule(off=st.integers(0, 60), boot=st.booleans())
    def started_anew(self, off: int, boot: bool) -> None:
        """The program, or the machine, starts anew: what called is there again."""
        before = {c.call for c in foresee_calls(self.shop.room, self.shop.room.t).clocks}
        if boot:
            self.clock.reboot(off * MIN)
        else:
            self.clock.advance(off * MIN)
        self.shop = SessionService(self.book, self.clock)
        row = next(r for r in self.book.sessions() if r.id == self.sid)
        if row.closed:
            self.shop.look_at(self.sid)
        else:
            self.shop.resume_session(row)
        assert before <= {c.call for c in foresee_calls(self.shop.room, self.shop.room.t).clocks}
        self.begin()
        self.look()


TestDays = Days.TestCase
#: A history costs some 150 ms; the full tier has a thousand of them.
TestDays.settings = settings(max_examples=min(1000, settings().max_examples),
                             stateful_step_count=20)  # fmt: skip


def test_what_was_muted_over_the_wash_is_not_answered_by_coming_back() -> None:
    """The sheets' call is muted, the hands are washed, the mute ends while the program is away."""
    days = Days()
    days.start(day=next(d for d in DAYS if "soak: 30 min" in d and "Settle" in d))
    for _ in range(6):
        days.tread()
    days.started_anew(boot=False, off=30)
    days.mute(ms=3 * MIN)
    days.tread()
    days.started_anew(boot=False, off=3)
    days.teardown()
