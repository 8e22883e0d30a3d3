"""What comes by itself in the plain lines: ends of waits and calls, when they happen."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pexpect
import pytest

from benchapp import plain
from benchapp.book import Book
from benchapp.calls.found import FoundPlayers
from benchapp.calls.players import RecordingPlayer
from benchapp.clock import FakeClock
from benchapp.commands.speaking import Speaking, no_voice
from benchapp.events.entry import Moment
from benchapp.reports.json_form import json_values
from benchapp.reports.review import review_session
from benchapp.screens.sounding import Sounding, boot_ms
from benchapp.service.sessions import SessionService
from benchapp.session.state import StudioState
from benchapp.settings import Preferences
from tests.calls.support import program, until
from tests.session.support import DAMP, INK, LIFT, MIN, PULL, SETTLE, SHEET_WAITS, WARM, recipe

ROOT = Path(__file__).parents[2]

class Lines:
    """Lines that come at their own pace, by a clock that goes on while they are waited for.

    Args:
        pauses: Each line, and how long after the one before it comes, ms.
        late: Nobody looks at the clock until the line is there, as when the machine was busy.
    """

    def __init__(self, clock: FakeClock, *pauses: tuple[int, str], late: bool = False) -> None:
        self.clock, self.left, self.late = clock, list(pauses), late
        self.answers: list[list[str]] = [[]]
        self.heard: list[str] = []

    def wait(self, ms: int) -> bool:
        if not self.left:
            return True
        ahead, line = self.left[0]
        passes = ahead if self.late else min(ms, 1_000, ahead)
        self.clock.advance(passes)
        self.left[0] = ahead - passes, line
        return passes == ahead

    def take(self) -> str | None:
        self.answers.append([])
        return self.left.pop(0)[1] if self.left else None

    def give(self, text: str) -> None:
        self.answers[-1].append(text)

    def follow(self, room: StudioState, now: Moment) -> tuple[str, ...]:
        return ()

    def say(self, words: Callable[[], str]) -> None:
        self.heard += [said] if (said := words()) else []

    @property
    def by_itself(self) -> list[str]:
        """What came by itself, in order, without its sign."""
        return [x[2:] for answer in self.answers for x in answer if x.startswith("* ")]


def day(text: str, *pauses: tuple[int, str], late: bool = False) -> tuple[Lines, dict]:
    """A day by these lines, and the day as the book has it."""
    clock, book = FakeClock(), Book.in_memory()
    lines = Lines(clock, *pauses, late=late)
    assert plain.run_plain(SessionService(book, clock), lines, "own", text, 2, lines) == 0
    assert book.verify() == []
    return lines, json_values(review_session(book.entries(), book.sessions()[0].id))


@pytest.mark.parametrize("late", [False, True])
def test_a_wait_that_ends_itself_is_said_and_written_when_it_ends(late: bool) -> None:
    """The line comes ten minutes later, and is an answer of its own; so does who looks late."""
    lines, found = day(recipe(each=(WARM, INK, PULL, LIFT)), (10 * MIN, ""), late=late)
    assert lines.by_itself == ["10:02 Warm: 2 min", "10:02 Now: Ink · inky · usual 5 min"]
    assert [x for x in lines.answers[1] if not x.startswith("* ")] == [
        "Ink: 8 min", "Now: Wash and dry hands · usual 1.5 min"]
    assert lines.heard[0] == "Warm: time is up. Ink"
    assert [(x["step"], x["seconds"]) for x in found["steps"]][:2] == [("Warm", 120), ("Ink", 480)]


@pytest.mark.parametrize("late", [False, True])
def test_a_wait_taken_back_when_it_was_over_ends_at_once(late: bool) -> None:
    """Cut short after a minute, and that undone at five."""
    lines, found = day(recipe(each=(WARM, INK, PULL, LIFT)), (MIN, ""), (4 * MIN, "back"),
                       (10 * MIN, "status"), late=late)
    assert lines.by_itself == ["10:05 Warm: 5 min", "10:05 Now: Ink · inky · usual 5 min"]
    assert found["steps"][0]["seconds"] == 300


def test_calls_are_said_when_they_happen_and_once() -> None:
    """A wait that calls and a clock of the printer's; the wait lasts until it is answered."""
    lines, found = day(recipe(each=(INK, SETTLE, PULL, LIFT)), (0, "time 8 min tea"), (0, ""),
                       (25 * MIN, ""), (0, ""))
    assert lines.by_itself == ["10:06 Calling: Settle", "10:08 Calling: tea"]
    assert found["steps"][1]["seconds"] == 25 * 60


def test_a_sheet_that_waits_for_its_second_plate_calls_and_warns_by_itself() -> None:
    """Two minutes after the first pull; the empty line ends the second pull, not the call alone."""
    lines, found = day(SHEET_WAITS, *((0, "") for _ in range(4)), (3 * MIN, ""), (0, ""))
    assert lines.by_itself == ["10:02 Calling: Sheet waits for key",
                               "10:02 Mind: Sheet waits for key: 3 min, limit 2"]
    assert [len(i["pulls"]) for i in found["impressions"]] == [2]
    assert [x["seconds"] for x in found["steps"] if x["step"] == "Pull key"] == [180]


def test_sheets_that_have_rested_are_said_once_and_the_step_that_waits_for_them_begins() -> None:
    """Soaked half an hour, rested a quarter: nothing is typed from then on."""
    lines, _ = day(DAMP, (0, ""), (0, ""), (0, ""), (0, ""), (31 * MIN, ""), (3 * MIN, ""),
                   (40 * MIN, "status"))
    assert lines.by_itself[:2] == ["10:15 Mind: The ink on key has waited 16 min, limit 15",
                                   "10:30 Calling: 4 sheets in the water"]
    rested = [x for x in lines.by_itself if x.endswith("The sheets have rested: they are ready")]
    assert rested == ["10:49 The sheets have rested: they are ready"]
    begun = lines.by_itself.index(rested[0]) + 1
    assert lines.by_itself[begun].startswith("10:49 Now: Pull")


def test_no_answer_begins_as_if_it_came_by_itself() -> None:
    """A step may be called anything."""
    lines, _ = day(recipe(each=("{do: '* 10:00 Ink', hands: inky}", PULL, LIFT)), (MIN, ""))
    assert " * 10:00 Ink: 1 min" in lines.answers[1]
    assert lines.by_itself == []


def test_the_session_ends_with_its_last_wait() -> None:
    """Then the lines end too, with nothing more typed."""
    lines, found = day(recipe(after=["{do: Cool, hands: free, time: 9 min, ends: itself}"]),
                       *((0, "") for _ in range(16)), (60 * MIN, "never taken"))
    assert found["state"] == "closed"
    assert lines.by_itself[0] == "10:09 Cool: 9 min"
    assert lines.left[0][1] == "never taken"
    assert len(lines.answers) == 17


# -- aloud --------------------------------------------------------------------------------


def test_a_call_is_spoken_and_a_step_as_it_begins() -> None:
    """By the thread of calls, which sounds a call until it is answered."""
    clock, book = FakeClock(), Book.in_memory()
    player = RecordingPlayer(boot_ms(clock))
    voice = Speaking(Sounding(clock, Preferences(sound="on", voice="on"), lambda settings: player))

    class Spoken(Lines):
        """Lines that come once what is wanted was heard."""

        wanted = iter(("Settle: time is up", "Wash and dry hands"))

        def take(self) -> str | None:
            line = super().take()
            if len(self.answers) > 2:
                phrase = next(self.wanted)
                assert until(lambda: phrase in player.phrases), player.phrases
            return line

        def follow(self, room: StudioState, now: Moment) -> tuple[str, ...]:
            return voice.follow(room, now)

        def say(self, words: Callable[[], str]) -> None:
            voice.say(words())

    lines = Spoken(clock, (0, ""), (7 * MIN, "answer"))
    try:
        plain.run_plain(SessionService(book, clock), lines, "own",
                        recipe(each=(INK, SETTLE, PULL, LIFT)),
                        2,
                        lines)
    finally:
        voice.stop()
    assert len(lines.answers) == 4


# -- the program itself -------------------------------------------------------------------

WAV = """import wave
if '-w' in sys.argv:
    w = wave.open(sys.argv[-1], 'wb')
    w.setnchannels(1); w.setsampwidth(2); w.setframerate(8000); w.writeframes(bytes(9)); w.close()
"""


@pytest.fixture
def started(home: Path, tmp_path: Path) -> tuple[list[str], dict[str, str], Path]:
    """The command on a recipe whose first wait is a second, its environment, what was spoken."""
    own = tmp_path / "own.yaml"
    own.write_text(recipe(each=("{do: Warm, hands: free, time: 1 s, ends: itself}",
                                INK, PULL, LIFT)), encoding="utf-8")
    spoken = tmp_path / "spoken"
    note = f"open({str(spoken)!r}, 'a').write(sys.stdin.read() + '\\n')\n"
    for name, code in (("espeak-ng", note + WAV), ("aplay", "pass")):
        program(tmp_path, name, code)
    env = {**os.environ, "PYTHONPATH": str(ROOT), "PATH": f"{tmp_path}:{os.environ['PATH']}"}
    for name in ("SSH_CONNECTION", "SSH_TTY"):
        env.pop(name, None)
    return [sys.executable, "-m", "benchapp", "run", str(own), "--plain"], env, spoken


def lasted_ms(home: Path) -> int:
    """How long the first wait lasted, as the book has it."""
    with Book.reading(home / "studio.book") as book:
        began = next(e for e in book.entries() if e.kind == "step started")
        ended = next(e for e in book.entries() if e.kind == "step finished")
        assert began.body["step"] == ended.body["step"] == "each.1"
        return (ended.at.boot_ns - began.at.boot_ns) // 1_000_000


@pytest.mark.skipif(sys.platform == "win32", reason="programs are made as scripts here")
def test_a_pipe_that_is_kept_open_has_the_end_of_a_wait_said_and_spoken(home, started) -> None:
    """Nothing is typed; the wait has its own length to the millisecond."""
    command, env, spoken = started
    with subprocess.Popen([*command, "--aloud"], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                          text=True, env=env, cwd=ROOT) as child:
        said = [child.stdout.readline() for _ in range(5)]
        assert [x[:2] == "* " for x in said] == [False, False, False, True, True]
        assert said[2].startswith("Next: Ink (ends Warm ")
        assert said[3][8:] == "Warm: 1 s\n"
        assert until(lambda: spoken.exists() and "Warm: time is up. Ink" in spoken.read_text())
        rest, _ = child.communicate("\nquit\n", timeout=30)
        assert rest.startswith("Ink: ")
        assert "stays open" in rest
    assert child.returncode == 0
    assert lasted_ms(home) == 1_000


@pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are of POSIX")
def test_a_terminal_has_the_end_of_a_wait_said(home, started) -> None:
    """Likewise; a line that was begun meanwhile is taken whole."""
    command, env, _ = started
    child = pexpect.spawn(command[0], command[1:], env=env, encoding="utf-8", timeout=30, cwd=ROOT)
    child.delaybeforesend = None
    try:
        child.expect("Wait: Warm")
        child.send("note one ")
        child.expect(r"\* \d\d:\d\d Warm: 1 s")
        child.send("line\nquit\n")
        child.expect("Note on the sheet in hand: one line")
        child.expect(pexpect.EOF)
    finally:
        child.close(force=True)
    assert lasted_ms(home) == 1_000


def test_a_machine_without_a_voice_says_so_and_a_screen_does_not_take_the_option(
        home, started) -> None:
    """The lines go on silently; the exit code of wrong use."""
    assert no_voice(FoundPlayers()) is not None
    assert no_voice(FoundPlayers(remote=True)) is not None
    command, env, _ = started
    done = subprocess.run([*command[:-1], "--aloud"], capture_output=True, env=env, cwd=ROOT,
                          text=True, timeout=60, check=False)
    assert done.returncode == 2
    assert "--aloud goes with --plain" in done.stderr
