"""The waiting parent in a real pseudo-terminal: what it mends, says, and never leaves behind."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

if sys.platform.startswith("win"):  # pragma: no cover
    pytest.skip("there are no pseudo-terminals here", allow_module_level=True)

import fcntl
import termios

import pexpect
import pyte

from benchapp.calls.guard import run_guarded

APP = Path(__file__).with_name("guard_app.py")
ROOT = APP.parents[2]
LINE = "Go on with: benchapp resume 2026-05-03"

Start = Callable[[str], pexpect.spawn]


@pytest.fixture
def lock(tmp_path: Path) -> Path:
    """A file the screen holds a lock on, as it does on the book."""
    return tmp_path / "lock"


@pytest.fixture
def start(lock: Path) -> Iterator[Start]:
    """Starts the small screen under the guard; all of it is ended afterwards."""
    started: list[pexpect.spawn] = []

    def begin(how: str) -> pexpect.spawn:
        env = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm-256color"}
        child = pexpect.spawn(
            sys.executable, [str(APP), how, str(lock)], env=env, dimensions=(24, 80),
            timeout=15, encoding="utf-8",
        )  # fmt: skip
        child.delaybeforesend = None
        started.append(child)
        return child

    yield begin
    for child in started:
        if not child.closed:
            child.close(force=True)


def screen_pid(child: pexpect.spawn) -> int:
    """The number of the process that has the screen, once it has taken the terminal."""
    child.expect(r"<(\d+)>")
    return int(child.match[1])


def alive(pid: int) -> bool:
    """Whether a process is there and not merely waiting to be counted."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except FileNotFoundError:
        return False


def gone_within(pid: int, seconds: float) -> bool:
    """Whether a process ends in that time."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        if not alive(pid):
            return True
        time.sleep(0.02)
    return False


def is_free(lock: Path) -> bool:
    """Whether nobody holds the lock."""
    with lock.open("w") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
    return True


def is_sane(child: pexpect.spawn) -> bool:
    """Whether the terminal echoes, gives lines and turns Ctrl+C into a signal."""
    flags = termios.tcgetattr(child.child_fd)[3]
    wanted = termios.ECHO | termios.ICANON | termios.ISIG
    return flags & wanted == wanted


MENDS = ("\x1b[?1049l", "\x1b[?25h", "\x1b[?1003l", "\x1b[?1006l", "\x1b[?1004l", "\x1b[?2004l",
         "\x1b[<u", "\x1b[?7h", "\x1b[?2026l")  # fmt: skip


def test_a_killed_screen_leaves_a_sane_terminal_and_one_line(start: Start, lock: Path) -> None:
    """After kill -9: every mode taken is given back, the settings too, and the line says how on."""
    child = start("stay")
    pid = screen_pid(child)
    assert not is_sane(child)
    os.kill(pid, signal.SIGKILL)
    child.expect_exact("<code 137>")
    written = str(child.before)
    assert [m for m in MENDS if m not in written] == []
    assert written.index("\x1b[<u") < written.index("\x1b[?1049l")
    assert written.count(LINE) == 1
    assert "SIGKILL" in written
    assert is_sane(child)
    assert is_free(lock)


def test_the_line_stands_on_the_ordinary_screen(start: Start) -> None:
    """What a terminal shows in the end is the line, the cursor visible below it."""
    child = start("stay")
    os.kill(screen_pid(child), signal.SIGKILL)
    child.expect(pexpect.EOF)
    shown = pyte.Screen(80, 24)
    pyte.Stream(shown).feed(child.before)
    text = "".join(shown.display)
    assert LINE in text
    assert not shown.cursor.hidden


def test_keys_pressed_meanwhile_do_not_reach_the_shell(start: Start) -> None:
    """What was typed for the screen is thrown away when the terminal is given back."""
    child = start("stay")
    pid = screen_pid(child)
    child.send("rm -r prints\r")
    time.sleep(0.05)  # the line takes a moment from one end to the other
    os.kill(pid, signal.SIGKILL)
    child.expect_exact("<waiting 0><code 137>")


def test_a_crash_is_shown_after_the_alternate_screen_is_left(start: Start) -> None:
    """What broke stands readable on the ordinary screen, made harmless, then the line."""
    child = start("crash")
    child.expect_exact("<code 1>")
    written = str(child.before)
    after = written[written.index("\x1b[?1049l"):]
    assert "ValueError: the roller is stuck" in after
    assert "\x1b[31m" not in after
    assert LINE in after
    assert is_sane(child)


def test_a_screen_that_ends_by_itself_is_left_alone(start: Start) -> None:
    """Its code comes through, nothing is mended and nothing said."""
    child = start("well")
    child.expect_exact("<code 3>")
    assert "<done>" in str(child.before)
    assert "\x1b" not in str(child.before)
    assert "Go on with" not in str(child.before)


def test_a_signal_to_the_parent_is_handed_on(start: Start, lock: Path) -> None:
    """TERM to the parent ends the screen its own kind way, and the line is said."""
    child = start("kind")
    pid = screen_pid(child)
    os.kill(child.pid, signal.SIGTERM)
    child.expect_exact("<code 143>")
    assert LINE in str(child.before)
    assert gone_within(pid, 1)
    assert is_free(lock)


def test_a_signal_that_comes_at_once_is_handed_on_too(start: Start, lock: Path) -> None:
    """TERM to a parent that has only just parted waits until it can be handed on."""
    child = start("early")
    child.expect_exact("<code 143>")
    assert LINE in str(child.before)
    assert is_free(lock)


@pytest.mark.parametrize("number", [signal.SIGHUP, signal.SIGINT])
def test_every_wish_to_end_reaches_the_screen(start: Start, number: signal.Signals) -> None:
    """HUP and INT to the parent alone end the screen too, and the terminal is given back."""
    child = start("stay")
    pid = screen_pid(child)
    os.kill(child.pid, number)
    child.expect(r"<code 1\d\d>")
    assert LINE in str(child.before)
    assert is_sane(child)
    assert gone_within(pid, 1)


@pytest.mark.parametrize("how", ["stay", "kind"])
def test_the_screen_ends_when_its_parent_is_gone(start: Start, lock: Path, how: str) -> None:
    """After kill -9 of the parent the child ends within a second, and holds no lock."""
    child = start(how)
    pid = screen_pid(child)
    os.kill(child.pid, signal.SIGKILL)
    assert gone_within(pid, 1)
    assert is_free(lock)


@pytest.fixture
def real_screen() -> Iterator[tuple[pexpect.spawn, int]]:
    """A real app under the guard, ready for keys, and the number of its process."""
    env = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm-256color"}
    child = pexpect.spawn(
        sys.executable, [str(APP.with_name("guarded_screen.py"))], env=env, dimensions=(24, 80),
        timeout=15, encoding="utf-8",
    )  # fmt: skip
    child.expect_exact("ready")
    yield child, next(p for p in children(child.pid))
    if not child.closed:
        child.close(force=True)


def children(pid: int) -> list[int]:
    """The processes a process started, by their numbers."""
    return [int(n) for n in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]


def modes_left(written: str) -> set[str]:
    """The terminal modes that were taken and not given back, by replaying what was written."""
    on: set[str] = set()
    for number, what in re.findall(r"\x1b\[\?(\d+)([hl])", written):
        (on.add if what == "h" else on.discard)(number)
    return on - {"7", "25"}  # long lines wrap and the cursor shows, as before


@pytest.mark.skipif(sys.platform != "linux", reason="reads /proc")
@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGSEGV, signal.SIGTERM])
def test_a_real_screen_gives_everything_back(real_screen, number) -> None:
    """Killed, crashed in C or asked to end: no mode is left, and the line is there once."""
    child, pid = real_screen
    os.kill(pid, number)
    child.expect(r"<code (\d+)><textual False>")
    assert int(child.match[1]) == 128 + number
    assert modes_left(str(child.before)) == set()
    assert str(child.before).count(LINE) == 1
    assert is_sane(child)


@pytest.mark.skipif(sys.platform != "linux", reason="reads /proc")
def test_a_real_screen_gives_the_terminal_back_when_its_parent_is_gone(real_screen) -> None:
    """Nobody is left to mend, so the child ends its own kind way."""
    child, pid = real_screen
    os.kill(child.pid, signal.SIGKILL)
    assert gone_within(pid, 4)
    child.expect(pexpect.EOF)
    assert modes_left(str(child.before)) == set()


@pytest.mark.full
def test_a_deaf_screen_ends_when_its_parent_is_gone(start: Start, lock: Path) -> None:
    """One that takes no TERM is ended the hard way a few seconds after its parent."""
    child = start("deaf")
    pid = screen_pid(child)
    os.kill(child.pid, signal.SIGKILL)
    assert gone_within(pid, 6)
    assert is_free(lock)


@pytest.mark.full
def test_a_deaf_screen_is_ended_in_the_end(start: Start) -> None:
    """One that takes no TERM is killed ten seconds after it, and the terminal given back."""
    child = start("deaf")
    screen_pid(child)
    os.kill(child.pid, signal.SIGTERM)
    child.expect_exact("<code 137>", timeout=15)
    assert is_sane(child)


def test_a_new_size_reaches_the_screen(start: Start) -> None:
    """The terminal tells both of a new size; the parent is not ended by it."""
    child = start("resized")
    pid = screen_pid(child)
    child.setwinsize(40, 120)
    child.expect_exact("<resized>")
    assert alive(pid)
    assert child.isalive()


def state_of(pid: int) -> str:
    """The state letter of a process, `T` for stopped."""
    return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0]


def comes_to(pid: int, states: str) -> bool:
    """Whether a process comes to one of these states within two seconds."""
    until = time.monotonic() + 2
    while time.monotonic() < until:
        if state_of(pid) in states:
            return True
        time.sleep(0.02)
    return False


@pytest.mark.skipif(sys.platform != "linux", reason="reads /proc")
def test_a_stop_stops_both_and_going_on_wakes_both(start: Start) -> None:
    """TSTP to the parent stops screen and parent, CONT to the parent wakes both."""
    # A session leader's group is orphaned and can't be stopped: a shell stands above it.
    code = ("import subprocess, sys; sys.exit(subprocess.Popen([sys.executable, *sys.argv[1:]])"
            ".wait())")  # fmt: skip
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    shell = pexpect.spawn(sys.executable, ["-c", code, str(APP), "stay", os.devnull], env=env,
                          timeout=15, encoding="utf-8")  # fmt: skip
    pid = screen_pid(shell)
    parent = int(Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[1])
    try:
        os.kill(parent, signal.SIGTSTP)
        assert comes_to(parent, "T")
        os.kill(parent, signal.SIGCONT)
        assert comes_to(parent, "S")
        assert comes_to(pid, "S")
    finally:
        os.kill(pid, signal.SIGKILL)
        shell.expect_exact("<code 137>")
        shell.close(force=True)


def test_without_a_terminal_there_is_one_process() -> None:
    """In a pipe the screen's code just runs, in the process that asked."""
    code = "import os; from benchapp.calls.guard import run_guarded; print(os.getpid(), " \
           "run_guarded(lambda: print(os.getpid()) or 7))"  # fmt: skip
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True,
                          cwd=ROOT, stdin=subprocess.DEVNULL)  # fmt: skip
    inner, outer = done.stdout.splitlines()
    assert outer == f"{inner} 7"


def test_a_process_with_threads_is_not_divided(monkeypatch: pytest.MonkeyPatch) -> None:
    """Called too late, it says so instead of forking half a program."""
    monkeypatch.setattr("benchapp.calls.guard.os.isatty", lambda fd: True)
    done = threading.Event()
    other = threading.Thread(target=done.wait)
    other.start()
    try:
        with pytest.raises(RuntimeError, match="guard it first"):
            run_guarded(lambda: 0)
    finally:
        done.set()
        other.join()
