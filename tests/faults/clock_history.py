"""A day with soaks, waits and clocks running, while the machine's clocks do whatever clocks do.

Beside the program runs a model of nothing but sums: for each thing that is counted, what was
measured inside boots since it began, and what the clock on the wall says of the times between.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Final

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.events.entry import Moment
from benchapp.recipe.reader import read_recipe
from benchapp.reports.json_form import json_values
from benchapp.reports.reading import read_back
from benchapp.reports.review_blocks import review_text
from benchapp.screens.studio_rows import place_rows
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.fold import replay_entries
from benchapp.session.state import StudioState
from benchapp.views.bench import bench_view
from benchapp.views.clocks import clock_views
from benchapp.views.status import count_text
from benchapp.views.studio import studio_view
from tests.session.support import HOUR, LIFT, MIN, PULL, RAGS, SCREWS, SETTLE, SOAK, WIPE, recipe

H48: Final = 48 * HOUR
DAY: Final = recipe(
    before=[SCREWS], after=[RAGS], damp=SOAK,
    each=("{do: Ink, hands: inky, time: 5 min}", SETTLE, WIPE,
          "{do: Stand, hands: free, time: 40 min}", PULL, LIFT))
#: Shortly before summer time begins, and ends, in the middle of Europe; and the first of 1970.
_BEGINNINGS: Final = (
    (1_777_795_200_000, 120), (1_774_742_400_000, 60), (1_792_886_400_000, 120), (60_000, 0))
#: Offsets of the zones one travels to, in minutes.
_ZONES: Final = (-720, -570, -60, 0, 60, 120, 345, 765, 840)
#: Fields of a review that may be below 0: a difference, and what the wall clock did.
_SIGNED: Final = ("over_usual_seconds", "jumps")


@dataclass(frozen=True, slots=True)
class Since:
    """What the model had summed when a count began: measured, and by the wall between boots."""

    started_t: int
    measured_ns: int
    by_wall_ms: int
    boots: int


class History:
    """One day; `go` does one thing and holds all that must be so after it."""

    def __init__(self, seed: int) -> None:
        self.dice = random.Random(seed)
        wall_ms, offset = self.dice.choice(_BEGINNINGS)
        self.clock = FakeClock(wall_ms, offset, self.dice.choice((0, 10**15)))
        self.book = Book.in_memory("x")
        self.shop = SessionService(self.book, self.clock)
        self.boots = 1
        self._ended_ns = self._by_wall_ms = 0
        self._from_ns = self.clock.now().boot_ns
        self._running: dict[object, int] = {}
        self._began: dict[tuple[object, int], Since | None] = {}
        self._took_back = False
        assert self.shop.open_session("day", DAY, self.dice.choice((1, 2, None))).ok
        self.hold()

    # -- the model --------------------------------------------------------------------------

    @property
    def measured_ns(self) -> int:
        """What was measured so far: in the boots before, as far as anybody saw, and in this one."""
        return self._ended_ns + self.clock.now().boot_ns - self._from_ns

    def _witness(self) -> Moment:
        """The last moment of this boot that is on the disk."""
        seen = [m for m in (self.shop.room.last, self.book.last_heartbeat())
                if m is not None and m.boot_id == self.clock.now().boot_id]
        return max(seen, key=lambda m: m.boot_ns)

    def counts(self) -> Iterator[tuple[object, int]]:
        """Everything that is counted in the room: its name, and the room time it began at."""
        room = self.shop.room
        for pack in room.packs.values():
            if pack.out_t is None:
                yield ("pack", pack.id), pack.put_in_t
        for timer in room.timers.values():
            yield ("timer", timer.id), timer.started_t
        for s in room.open_sessions:
            yield from ((("clock", x.id), x.started_t) for x in s.timed.values())
            yield from ((("work", key, work.attempt), work.started_t) for key, work in s.live)

    # -- what can happen ---------------------------------------------------------------------

    def go(self) -> None:
        """One thing happens."""
        self._took_back = False
        weights, things = zip(*_THINGS, strict=True)
        self.dice.choices(things, weights)[0](self)
        self.hold()

    def work(self) -> None:
        """The printer goes on, or says something."""
        do = self.dice.choice((a.GoOn(), a.GoOn(), a.GoOn(), a.Must(None), a.Pause(), a.Resume(),
                               a.Judge("keep"), a.StartClock(self.dice.randint(1, 90) * MIN, "x"),
                               a.Note("a note"), a.TakeBack(), a.DampPack(3), a.SheetsOut(),
                               a.Explain("took"), a.Explain("away")))
        self._took_back = self.shop.do(do).ok and isinstance(do, a.TakeBack)

    def wait(self) -> None:
        """Time passes, and the program looks at it every minute or so."""
        for _ in range(self.dice.randint(1, 4)):
            self.clock.advance(self.dice.choice((1, 59_999, MIN, MIN, 5 * MIN, 20 * MIN)))
            self.shop.tick()

    def sleep(self) -> None:
        """The lid is shut for a while."""
        self.clock.sleep(self.dice.choice((1_000, 10 * MIN, 9 * HOUR)))

    def set_wall(self) -> None:
        """Somebody sets the clock, by up to two days."""
        now = self.clock.now().wall_ms
        self.clock.step_wall(max(-now, self.dice.choice((
            -H48, H48, self.dice.randint(-H48, H48), self.dice.randint(-5 * MIN, 5 * MIN)))))

    def travel(self) -> None:
        """Summer time begins or ends, or the machine is in another zone."""
        offset = self.clock.now().offset_min
        self.clock.travel(self.dice.choice((min(offset + 60, 840), max(offset - 60, -720),
                                            self.dice.choice(_ZONES))))

    def start_again(self) -> None:
        """The program dies and is started again in the same boot."""
        self._come_back()

    def reboot(self) -> None:
        """The machine is off; the wall is right, behind or ahead when it is on again."""
        seen = self._witness()
        self._ended_ns += seen.boot_ns - self._from_ns
        now = self.clock.now().wall_ms
        self.clock.reboot(max(-now, self.dice.choice((
            0, 3 * MIN, 9 * HOUR, -H48, H48, self.dice.randint(-H48, H48)))))
        self._by_wall_ms += max(0, self.clock.now().wall_ms - seen.wall_ms)
        self.boots += 1
        self._from_ns = self.clock.now().boot_ns
        self._come_back()

    def other_clock(self) -> None:
        """A timer, or a pack of paper, for no session."""
        if self.dice.random() < .5:
            self.shop.start_timer("varnish", self.dice.randint(1, 200) * MIN)
        else:
            self.shop.damp_pack(read_recipe(DAY), self.dice.choice((None, 2)))

    def _come_back(self) -> None:
        """The room folded anew is the room there was, before and after what coming back writes."""
        before = self.shop.room
        again = SessionService(self.book, self.clock)
        assert told(replay_entries(again.room.journal, origin="x")) == told(again.room)
        if again.room.journal == before.journal:
            assert told(again.room) == told(before)
        self.shop = again
        for row in self.book.sessions():
            if not row.closed:
                self.shop.resume_session(row)

    # -- what must hold ----------------------------------------------------------------------

    def hold(self) -> None:
        """Nothing measured is dropped, nothing begins anew, nothing is shown that is not so."""
        room, now = self.shop.room, self.clock.now()
        t = room.t_at(now)
        running = dict(self.counts())
        for name, started_t in running.items():
            if not self._took_back:
                assert self._running.get(name, started_t) == started_t, name
            since = self._began.setdefault((name, started_t), self._since(room, t, started_t))
            if since is not None:
                self._hold_count(room, t, since)
        self._running = running
        for clock in clock_views(room, t):
            words = count_text(clock.count)
            assert "-" not in words, words
            assert words.startswith("≈ ") is not clock.count.exact, words
        assert place_rows(studio_view(room, now, "x"), now, ())
        bench = bench_view(room, now)
        if bench is not None and bench.now.count is not None:
            assert "-" not in count_text(bench.now.count)

    def _since(self, room: StudioState, t: int, started_t: int) -> Since | None:
        """The sums when what is seen first now began; None: in another boot, before a take-back."""
        if started_t < room.anchor_t:
            return None
        return Since(started_t, self.measured_ns - (t - started_t) * 1_000_000, self._by_wall_ms,
                     self.boots)

    def _hold_count(self, room: StudioState, t: int, since: Since) -> None:
        measured = (self.measured_ns - since.measured_ns) // 1_000_000
        by_wall = self._by_wall_ms - since.by_wall_ms
        counted = t - since.started_t
        assert measured - self.boots <= counted <= measured + by_wall + self.boots
        assert room.exact(since.started_t, t) is (self.boots == since.boots)
        unsure = room.unsure_ms(since.started_t, t)
        if unsure is not None:
            assert abs(counted - unsure - measured) <= self.boots

    def end(self) -> None:
        """The entries keep their order; the review's lengths are none below 0, and add up."""
        entries = self.book.entries()
        assert [e.id for e in entries] == [f"x:{n}" for n in range(1, len(entries) + 1)]
        for one, other in pairwise(entries):
            assert one.at.boot_id != other.at.boot_id or one.at.boot_ns <= other.at.boot_ns
        assert self.book.verify() == []
        for row in self.book.sessions():
            found = read_back(self.book, row)
            assert review_text(found, "plain")
            hold_review(json_values(found))
        self.book.close()


_THINGS: Final[tuple[tuple[int, Callable[[History], None]], ...]] = (
    (8, History.work), (6, History.wait), (2, History.sleep), (3, History.set_wall),
    (3, History.travel), (2, History.start_again), (3, History.reboot), (1, History.other_clock))


def told(room: StudioState) -> dict[str, Any]:
    """The room but for what is chosen at the edge."""
    return {"sessions": room.sessions, "packs": room.packs, "timers": room.timers,
            "calls": room.calls, "t": room.t, "off": room.off, "inky": room.inky}


def hold_review(found: dict[str, Any]) -> None:
    """No length is below 0; the day is what it is made of; a step is the sum of its times."""
    for path, value in _lengths(found):
        assert value >= 0, path
    h = found["hours"]
    parts = sum(h[f"{x}_seconds"] for x in ("hands", "waiting", "idle", "paused"))
    assert abs(parts - h["day_seconds"]) < .01, h
    for step in found["by_step"]:
        times = [x["seconds"] for x in found["steps"] if x["id"] == step["id"] and x["taken"]]
        assert len(times) == step["times"]
        assert abs(sum(times) - step["total_seconds"]) < .01


def _lengths(value: object, path: str = "") -> Iterator[tuple[str, float]]:
    """Every length of a review, by its path."""
    if isinstance(value, dict):
        for name, inner in value.items():
            if name in _SIGNED:
                continue
            if name.endswith("seconds") and isinstance(inner, (int, float)):
                yield f"{path}.{name}", inner
            else:
                yield from _lengths(inner, f"{path}.{name}")
    elif isinstance(value, list):
        for n, inner in enumerate(value):
            yield from _lengths(inner, f"{path}.{n}")
