"""A waiting parent for the screen: it gives the terminal back where the screen could not.

kill -9 and a crash of the interpreter leave a terminal in the alternate screen,
without a cursor, typing reports of the mouse. Only another process can mend that. So
the screen runs in a child, and the parent does nothing but wait: it holds no file,
no lock and no thread. The child ends when the parent is gone, whatever ended it, so
that nothing is left holding the book's lock.

Parent and child are one job of the shell: what the terminal sends (a new size, Ctrl+C
before the screen stands, the end of the line) reaches both by itself. What somebody
sends the parent alone is handed on: TERM, HUP and INT as an end, TSTP and CONT as a
stop of both. A child that is told to end and is stuck, because the terminal takes no
output or a disk does not answer, ends within a second all the same: what was acknowledged
is on disk by then. The parent enforces the end of one that cannot even do that.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
import traceback
from collections.abc import Callable, Iterable
from contextlib import suppress
from types import FrameType
from typing import Any, Final, NoReturn

from benchapp.calls.terminal import Terminal
from benchapp.safe_text import sanitize

STUCK_S: Final = 0.8
"""What a screen may take to end by itself when it is told to."""
END_S: Final = 10
"""When the parent ends a screen that was told to end and is still there."""
ORPHAN_S: Final = 3
"""What a screen may take to end when its parent is gone."""

_CRASHED: Final = 1
_BY_SIGNAL: Final = 128
_LONGEST_WORD: Final = 16_384
_ENDED_ITSELF: Final = b"."
_HOW_TO_GO_ON: Final = "benchapp resume"
_PR_SET_PDEATHSIG: Final = 1
_HANDED_ON: Final = tuple(
    getattr(signal, name) for name in ("SIGTERM", "SIGHUP", "SIGINT", "SIGTSTP", "SIGQUIT")
    if hasattr(signal, name))

_told: int | None = None
"""Where the child's own thread is told of an end; None in every other process."""


def run_guarded(main: Callable[[], int], how_to_go_on: str | None = _HOW_TO_GO_ON) -> int:
    """Run a screen in a child process, and give the terminal back whatever becomes of it.

    It has to be called before any thread, database or file of the book is open: the
    child gets a copy of everything. `main` opens what it needs and closes it again;
    after it the child ends at once. Without a terminal, and on Windows, `main` just runs.

    Args:
        main: Runs the screen and gives an exit code.
        how_to_go_on: The command that takes the session up again, said in one line
            when the screen ended by a signal or a crash. None: nothing of it is kept, as
            of a rehearsal.

    Returns:
        The code of `main`; 128 and the signal's number where one ended it; 1 after a crash.

    Raises:
        RuntimeError: A thread is running already.
    """
    if sys.platform == "win32" or not _has_terminal():
        return main()
    if threading.active_count() != 1:
        raise RuntimeError("a process with threads can't be divided: guard it first")
    terminal = Terminal()
    life_read, life_write = os.pipe()
    word_read, word_write = os.pipe()
    _flush()
    parent = os.getpid()
    # What comes before the parent can hand it on waits until then: it would end the parent alone.
    mask = signal.pthread_sigmask(signal.SIG_BLOCK, _HANDED_ON)
    child = os.fork()
    if child == 0:
        os.close(life_write)
        os.close(word_read)
        _be_child(main, parent, life_read, word_write, mask)
    os.close(life_read)
    os.close(word_write)
    status = _wait(child, mask)
    word = _heard(word_read)
    os.close(life_write)
    return _afterwards(status, word, terminal, how_to_go_on)


def must_end(number: int) -> None:
    """Have this screen end within `STUCK_S`, whatever it is stuck in; safe in a signal handler.

    Does nothing where no parent waits to give the terminal back.

    Args:
        number: The signal that asked for it.
    """
    if _told is not None:
        with suppress(OSError):
            os.write(_told, bytes([number]))


def _has_terminal() -> bool:
    with suppress(OSError):
        return os.isatty(0) and os.isatty(2)
    return False


def _flush() -> None:
    """What is still unwritten would be written by both."""
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError, AttributeError):
            stream.flush()


# -- the child --------------------------------------------------------------------------


def _be_child(main: Callable[[], int], parent: int, life: int, word: int,
              mask: Iterable[int]) -> NoReturn:
    """Run the screen and end; nothing of the caller's code runs here after it."""
    code = _CRASHED
    try:
        signal.pthread_sigmask(signal.SIG_SETMASK, mask)
        _end_with(parent, life)
        code = _run(main)
        with suppress(OSError):
            os.write(word, _ENDED_ITSELF)
    except KeyboardInterrupt:
        code = _BY_SIGNAL + signal.SIGINT
    except BaseException:  # noqa: BLE001 - the outermost edge of this process
        # The parent shows it: said here, it would go with the alternate screen.
        text = traceback.format_exc().encode("utf-8", "replace")
        with suppress(OSError):
            os.write(word, text[-_LONGEST_WORD:])
    finally:
        _flush()
        os._exit(code)


def _run(main: Callable[[], int]) -> int:
    try:
        return main()
    except SystemExit as leaving:
        if leaving.code is None or isinstance(leaving.code, int):
            return leaving.code or 0
        print(leaving.code, file=sys.stderr)  # noqa: T201 - as the interpreter does
        return _CRASHED


def _end_with(parent: int, life: int) -> None:
    """Arrange to end when the parent is gone: by the kernel where it can, and by the pipe.

    The parent holds the pipe's other end and never writes: it closes when the parent ends.
    """
    if sys.platform == "linux":
        import ctypes

        ctypes.CDLL(None).prctl(_PR_SET_PDEATHSIG, signal.SIGTERM, 0, 0, 0)
    if os.getppid() != parent:
        os._exit(_BY_SIGNAL + signal.SIGHUP)
    threading.Thread(target=_watch, args=(life,), name="parent", daemon=True).start()
    global _told
    told, _told = os.pipe()
    threading.Thread(target=_enforce, args=(told,), name="end", daemon=True).start()


def _watch(life: int) -> None:
    """Wait for the parent's end, then end: first kindly, so that the terminal is given back."""
    with suppress(OSError):
        os.read(life, 1)
    os.kill(os.getpid(), signal.SIGTERM)
    threading.Event().wait(ORPHAN_S)
    os.kill(os.getpid(), signal.SIGKILL)


def _enforce(told: int) -> None:
    """Wait until the screen is told to end, then for its end; then end it, unsaid."""
    number = os.read(told, 1)
    threading.Event().wait(STUCK_S)
    os._exit(_BY_SIGNAL + number[0])


# -- the parent -------------------------------------------------------------------------


def _wait(child: int, mask: Iterable[int]) -> int:
    """Wait for the child, handing on what comes; gives its status as the system does."""
    before = _hand_on(child)
    signal.pthread_sigmask(signal.SIG_SETMASK, mask)
    try:
        return os.waitpid(child, 0)[1]
    finally:
        signal.alarm(0)
        for number, handler in before.items():
            signal.signal(number, handler)


def _hand_on(child: int) -> dict[signal.Signals, Any]:
    """Set the parent's handlers; gives those before."""

    def send(number: signal.Signals) -> None:
        with suppress(ProcessLookupError):
            os.kill(child, number)

    def end(number: int, frame: FrameType | None) -> None:
        # INT becomes TERM: from the terminal the child has had INT itself, and a second one
        # would break off its farewell.
        send(signal.SIGHUP if number == signal.SIGHUP else signal.SIGTERM)
        signal.alarm(END_S)

    def enforce(number: int, frame: FrameType | None) -> None:
        send(signal.SIGKILL)

    def stop(number: int, frame: FrameType | None) -> None:
        send(signal.SIGTSTP)
        os.kill(os.getpid(), signal.SIGSTOP)

    def go_on(number: int, frame: FrameType | None) -> None:
        send(signal.SIGCONT)

    handlers: dict[signal.Signals, Any] = {
        signal.SIGTERM: end, signal.SIGHUP: end, signal.SIGINT: end, signal.SIGALRM: enforce,
        signal.SIGTSTP: stop, signal.SIGCONT: go_on, signal.SIGQUIT: signal.SIG_IGN,
    }  # fmt: skip
    return {number: signal.signal(number, handler) for number, handler in handlers.items()}


def _heard(word: int) -> bytes:
    """What the child said at its end: that it ended by itself, or what broke; or nothing."""
    with open(word, "rb") as pipe:
        return pipe.read(_LONGEST_WORD)


def _afterwards(status: int, word: bytes, terminal: Terminal, how_to_go_on: str | None) -> int:
    """Mend what is to be mended, and say how to go on."""
    code = os.waitstatus_to_exitcode(status)
    if word == _ENDED_ITSELF and code < _BY_SIGNAL:
        return code
    if word != _ENDED_ITSELF:
        terminal.restore()
        terminal.say(sanitize(word.decode("utf-8", "replace"), newlines=True).replace("\n", "\r\n"))
    kept = ("a rehearsal keeps nothing." if how_to_go_on is None else
            f"what was done is in the book. Go on with: {how_to_go_on}")  # fmt: skip
    terminal.say(f"The screen ended ({_why(code)}); {kept}\r\n")
    return code if code >= 0 else _BY_SIGNAL - code


def _why(code: int) -> str:
    number = -code if code < 0 else code - _BY_SIGNAL
    if number <= 0:
        return "a fault in the program"
    try:
        return signal.Signals(number).name
    except ValueError:
        return f"signal {number}"
