"""The app in a real pseudo-terminal: bad bytes, signals, a terminal gone away."""

from __future__ import annotations

import asyncio
import contextlib
import itertools
import os
import signal
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

if sys.platform.startswith("win"):  # pragma: no cover
    pytest.skip("there are no pseudo-terminals here", allow_module_level=True)

import termios

import pexpect

from benchapp.screens.driver import pick_driver
from benchapp.screens.sturdy_driver import Outlet, SturdyDriver
from tests.screens.pty_app import Keys

APP = Path(__file__).with_name("pty_app.py")
ROOT = APP.parent.parent.parent
GIVEN_BACK = "\x1b[?1049l"


@pytest.fixture
def terminal() -> Iterator[pexpect.spawn]:
    """The app running in a pseudo-terminal of its own, ready for keys."""
    env = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm-256color"}
    # A byte is a character here, so that raw bytes can be sent.
    child = pexpect.spawn(
        sys.executable,
        [str(APP)],
        env=env,
        dimensions=(24, 80),
        timeout=10,
        encoding="latin-1",
    )
    child.delaybeforesend = None
    child.expect_exact("ready")
    yield child
    if not child.closed:
        child.close(force=True)


def leave(child: pexpect.spawn) -> str:
    """Wait for the end; what the app wrote last."""
    child.expect(pexpect.EOF)
    child.close()
    return str(child.before)


def test_bad_bytes_and_strays_never_end_the_app(terminal: pexpect.spawn) -> None:
    """After every kind of junk the app lives, took no key from it, and the next key works."""
    junk = [
        b"\x1b[M !!",
        b"\x1b[M\xff\xfe\xfd",
        b"\x1b[99;99;99x",
        b"\x1b]11;rgb:ffff/ffff/ffff\x1b\\",
        b"\x1b[?62;22c\x1b[8;24;80t",
    ]
    for number, stray in enumerate(junk, start=1):
        os.write(terminal.child_fd, stray + b"k")
        terminal.expect_exact(f"<{number}:k>")


def test_a_key_works_after_bad_input(terminal: pexpect.spawn) -> None:
    """Bytes that are no text and codes beyond Unicode are survived, one after the other."""
    last = 0
    for junk in BAD_INPUT:
        os.write(terminal.child_fd, junk)
        # An unfinished sequence is given up after a while, as between two treads.
        terminal.expect([rf"<{10**9}:", pexpect.TIMEOUT], timeout=0.25)
        os.write(terminal.child_fd, b"\x1b[15~")
        terminal.expect(r"<(\d+):f5>")
        count = int(terminal.match[1])
        assert count > last
        last = count


BAD_INPUT = [
    b"\xff",
    b"\xc3\x28",
    b"\xff" * 100,
    b"\x1b[99999999999u",
    b"\x1b[4294967296;1u",
    b"\x1b[" + b"9" * 900 + b"u",
    b"\x1b[M",
]


def test_a_flood_does_nothing_and_says_so(terminal: pexpect.spawn) -> None:
    """Of twenty thousand keys few come through, the screen says it, and the next key works.

    The message goes by a timer: that works, and the app ends as it should.
    """
    os.write(terminal.child_fd, b"\x1b[" + b"9" * 5000 + b"u" + b"k" * 20_000)
    terminal.expect_exact("Too many keys came at once")
    terminal.expect_exact("its timer went")
    terminal.send("m")
    terminal.expect(r"<(\d+):m>")
    assert int(terminal.match[1]) < 2_000
    terminal.send("\x11")
    assert "Traceback" not in leave(terminal)
    assert terminal.exitstatus == 0


def test_a_signal_is_obeyed_in_a_flood(terminal: pexpect.spawn) -> None:
    """Bytes of every kind come without end: the app ends as told, and says nothing went wrong."""
    # Not ^C, ^Q, ^S, ^Z and ^\, which the terminal itself obeys as soon as it is given back.
    junk = bytes(n for n in range(256) if n not in (3, 17, 19, 26, 28)) * 8
    stop, under_way = threading.Event(), threading.Event()

    def flood() -> None:
        with contextlib.suppress(OSError):
            for n in itertools.count():
                if stop.is_set():
                    break
                os.write(terminal.child_fd, junk)  # waits while the app does not read
                if n == 50:
                    under_way.set()

    sender = threading.Thread(target=flood, daemon=True)
    sender.start()
    assert under_way.wait(20)
    os.kill(terminal.pid, signal.SIGTERM)
    last = leave(terminal)
    stop.set()
    assert GIVEN_BACK in last
    assert "Error" not in last
    assert terminal.exitstatus == 128 + signal.SIGTERM


def test_ctrl_q_gives_the_terminal_back(terminal: pexpect.spawn) -> None:
    """Leaving by key ends with the main screen and exit 0."""
    terminal.send("\x11")
    assert GIVEN_BACK in leave(terminal)
    assert terminal.exitstatus == 0


@pytest.mark.parametrize("number", [
    signal.SIGTERM, pytest.param(signal.SIGHUP, marks=pytest.mark.full)])
def test_a_signal_gives_the_terminal_back(terminal: pexpect.spawn, number: signal.Signals) -> None:
    """Ended from outside, the terminal is as it was; the exit code tells the signal."""
    os.kill(terminal.pid, number)
    assert GIVEN_BACK in leave(terminal)
    assert terminal.exitstatus == 128 + number


def test_a_stop_from_outside_does_not_take_the_terminal_twice(terminal: pexpect.spawn) -> None:
    """After STOP and CONT keys count once, and leaving gives the terminal back as it was."""
    settings = termios.tcgetattr(terminal.child_fd)
    os.kill(terminal.pid, signal.SIGSTOP)
    os.kill(terminal.pid, signal.SIGCONT)
    terminal.send("k")
    terminal.expect_exact("<1:k>")
    assert termios.tcgetattr(terminal.child_fd) == settings
    terminal.send("\x11")
    assert GIVEN_BACK in leave(terminal)
    assert terminal.exitstatus == 0


def test_a_closed_window_ends_the_app(terminal: pexpect.spawn) -> None:
    """When the terminal goes away the process goes too, and does not hang or spin."""
    pid = terminal.pid
    os.close(terminal.child_fd)
    for _ in range(500):
        ended, _status = os.waitpid(pid, os.WNOHANG)
        if ended:
            break
        signal.sigtimedwait([], 0.01)
    terminal.closed = terminal.terminated = True
    assert ended == pid


def test_the_driver_named_by_the_printer_is_respected() -> None:
    """TEXTUAL_DRIVER and Windows keep what the framework would take."""
    assert pick_driver({"TEXTUAL_DRIVER": "some.module:Driver"}, "linux") is None
    assert pick_driver({}, "win32") is None
    assert pick_driver({}, "linux") is SturdyDriver
    assert pick_driver({}, "darwin") is SturdyDriver


def test_the_end_of_input_asks_the_app_to_leave(monkeypatch: pytest.MonkeyPatch) -> None:
    """What came before the end is passed on, then the thread ends instead of spinning."""
    reading, writing = os.pipe()
    os.write(writing, b"k\x1b[99999999999uj")
    os.close(writing)
    asked, keys = [], []

    async def run() -> None:
        app = Keys()
        monkeypatch.setattr(app, "call_later", asked.append)
        driver = SturdyDriver(app)
        driver.fileno = reading
        monkeypatch.setattr(driver, "process_message", lambda message: keys.append(message.key))
        driver.run_input_thread()
        assert asked == [app.exit]

    asyncio.run(run())
    os.close(reading)
    assert keys[0] == "k"


def test_writing_to_a_terminal_gone_away_goes_nowhere() -> None:
    """The first error closes the outlet; nothing is raised then or later."""
    reading, writing = os.pipe()
    file = os.fdopen(writing, "w", buffering=1)
    outlet = Outlet(file)
    outlet.write("seen\n")
    assert os.read(reading, 10) == b"seen\n"
    os.close(reading)
    outlet.write("lost\n")
    outlet.write("lost too\n")
    outlet.flush()
    assert not outlet.isatty()
    with pytest.raises(OSError, match="the terminal is gone"):
        outlet.fileno()
    with contextlib.suppress(OSError):
        file.close()
