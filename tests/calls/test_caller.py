"""The caller's thread: it keeps time by the boot clock alone, whoever hands it plans."""

from __future__ import annotations

import contextlib
import os
import threading
from collections.abc import Iterator
from dataclasses import replace

import pytest

from benchapp.calls.caller import LONGEST_WAIT_S, Caller
from benchapp.calls.pieces import Phrase, Piece, Tone, Trouble
from benchapp.calls.players import PlayedPiece, RecordingPlayer
from benchapp.calls.ringer import Rang
from benchapp.calls.schedule import Deadline, Plan
from benchapp.clock import FakeClock
from tests.calls.support import Hand, real_ms, until

ETCH = Deadline("etch", 10_000, phrase="Etch is over")


class Waits:
    """A wait that hands the thread its turns one by one, and keeps what it asked for."""

    def __init__(self) -> None:
        self.asked: list[float | None] = []
        self._turn, self._idle = threading.Semaphore(0), threading.Semaphore(0)

    def __call__(self, wake: threading.Event, seconds: float | None) -> None:
        """Called by the thread: it rests until the test lets it go on."""
        self.asked.append(seconds)
        self._idle.release()
        self._turn.acquire(timeout=20)

    def resting(self) -> None:
        """Wait until the thread rests."""
        assert self._idle.acquire(timeout=20)

    def again(self) -> None:
        """Let it take one turn and rest again."""
        self._turn.release()
        self.resting()

    def free(self) -> None:
        """Let it run to its end."""
        for _ in range(50):
            self._turn.release()


class Bench:
    """A caller whose time and turns are the test's."""

    def __init__(self, player: object = None) -> None:
        self.clock, self.waits = FakeClock(boot_ns=0), Waits()
        self.player = RecordingPlayer(self.now)
        self.caller = Caller(player or self.player, self.now, wait=self.waits)  # type: ignore[arg-type]
        self.caller.start()
        self.waits.resting()

    def now(self) -> int:
        """The boot clock, ms."""
        return self.clock.now().boot_ns // 1_000_000

    def end(self) -> None:
        """Stop the thread."""
        self.waits.free()
        self.caller.stop()


@pytest.fixture
def bench() -> Iterator[Bench]:
    """A caller that is ended afterwards."""
    made = Bench()
    yield made
    made.end()


def test_it_waits_for_ever_with_nothing_planned_and_never_long_with_something(bench):
    """A wait stands still in sleep, so none is longer than a second while something is to come."""
    assert bench.waits.asked == [None]
    bench.caller.plan(Plan((ETCH,)))
    bench.waits.again()
    assert bench.waits.asked[-1] == LONGEST_WAIT_S == 1.0


def test_a_call_sounds_in_the_turn_in_which_it_is_due(bench):
    """Not one before; and it is reported."""
    bench.caller.plan(Plan((ETCH,)))
    bench.clock.advance(9_600)
    bench.waits.again()
    assert bench.player.played == []
    assert bench.waits.asked[-1] == pytest.approx(0.4)
    bench.clock.advance(400)
    bench.waits.again()
    assert bench.player.played[0] == (10_000, Tone("end"))
    (rang,) = bench.caller.reports()
    assert isinstance(rang, Rang)
    assert bench.caller.reports() == ()


@pytest.mark.parametrize("by", [-48 * 3_600_000, 48 * 3_600_000])
def test_a_stepped_wall_clock_moves_nothing(bench, by):
    """Two days forward or back: the call comes at its own moment."""
    bench.caller.plan(Plan((ETCH,)))
    bench.clock.step_wall(by)
    bench.waits.again()
    assert bench.player.played == []
    bench.clock.advance(10_000)
    bench.waits.again()
    assert [t for t, _ in bench.player.played][:1] == [10_000]


def test_after_a_closed_lid_it_sounds_in_the_first_turn(bench):
    """The boot clock went on in sleep; what was missed comes once, with how late it is."""
    bench.caller.plan(Plan((ETCH,)))
    bench.waits.again()
    bench.clock.sleep(310_000)
    for _ in range(4):
        bench.waits.again()
    assert bench.player.phrases == ["Etch is over, 5 minutes late"]


def test_the_same_plan_again_sounds_nothing_twice(bench):
    """A screen hands over its plan as often as it likes."""
    bench.clock.advance(10_000)
    for _ in range(5):
        bench.caller.plan(Plan((replace(ETCH),)))
        bench.waits.again()
    assert len(bench.player.tones) == 1


def test_words_are_said_and_bad_ones_reported(bench):
    """Control characters never reach a player."""
    bench.caller.say("taken back: ink goes on")
    bench.caller.say("\x1b[2J")
    bench.caller.tone("confirm")
    for _ in range(4):
        bench.waits.again()
    assert [p for _, p in bench.player.played] == [Phrase("taken back: ink goes on"),
                                                   Tone("confirm")]  # fmt: skip
    assert [r.why for r in bench.caller.reports() if isinstance(r, Trouble)] == ["refused"]


class Broken:
    """A player with a fault of ours in it, for two sounds."""

    def __init__(self) -> None:
        self.left = 2
        self.pieces: list[Piece] = []

    def start(self, piece: Piece) -> PlayedPiece:
        """Fail twice."""
        if self.left:
            self.left -= 1
            raise ZeroDivisionError
        self.pieces.append(piece)
        return PlayedPiece()

    def troubles(self) -> tuple[Trouble, ...]:
        """None it knows of."""
        return ()


def test_a_fault_costs_one_sound_and_not_the_day():
    """The thread lives, says so, and the next sounding of the call is heard."""
    broken = Broken()
    bench = Bench(broken)
    bench.clock.advance(10_000)
    bench.caller.plan(Plan((ETCH,)))
    for _ in range(12):
        bench.clock.advance(30_000)
        bench.waits.again()
    assert Tone("end") in broken.pieces
    assert any(isinstance(r, Trouble) and "ZeroDivisionError" in r.text
               for r in bench.caller.reports())  # fmt: skip
    bench.end()


def test_stopping_silences_and_ends_the_thread():
    """Also in the middle of words, and also before anything was planned."""
    player = RecordingPlayer(real_ms, lambda piece: 60_000)
    caller = Caller(player, real_ms)
    caller.start()
    caller.say("a long speech")
    assert until(lambda: player.played)
    caller.stop()
    assert player.stopped == [Phrase("a long speech")]
    idle = Caller(player, real_ms)
    idle.start()
    idle.stop()
    assert not [t for t in threading.enumerate() if t.name == "caller"]


def test_a_rehearsal_at_sixty_times_the_pace_waits_a_sixtieth():
    """The clock runs faster than the world, so the thread's rest is shorter."""
    clock, waits = Hand(), Waits()
    caller = Caller(RecordingPlayer(clock), clock, wait=waits, pace=60)
    caller.start()
    waits.resting()
    caller.plan(Plan((replace(ETCH, due_ms=30_000),)))
    waits.again()
    assert waits.asked[-1] == pytest.approx(0.5)
    waits.free()
    caller.stop()


def test_a_screen_that_hangs_in_its_terminal_does_not_silence_it():
    """The thread that draws is stuck in a full pipe when the call falls due; it is heard."""
    read, write = os.pipe()
    os.set_blocking(write, False)
    while True:
        try:
            os.write(write, bytes(65_536))
        except BlockingIOError:
            break
    os.set_blocking(write, True)
    screen = threading.Thread(target=os.write, args=(write, bytes(65_536)), daemon=True)
    player = RecordingPlayer(real_ms)
    caller = Caller(player, real_ms)
    caller.start()
    due = real_ms() + 150
    caller.plan(Plan((replace(ETCH, due_ms=due),)))
    screen.start()
    assert until(lambda: player.tones)
    assert screen.is_alive()
    assert player.tones[0][0] >= due
    os.set_blocking(read, False)
    while screen.is_alive():
        with contextlib.suppress(BlockingIOError):
            os.read(read, 1_000_000)
    caller.stop()
    os.close(read)
    os.close(write)
