"""Lines from standard input, to standard output: read beside the work, so that time can pass."""

from __future__ import annotations

import queue
import sys
from _thread import start_new_thread
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Final, TextIO

from benchapp.events.entry import Moment
from benchapp.plain.loop import LONGEST
from benchapp.session.state import StudioState

if TYPE_CHECKING:
    from benchapp.commands.speaking import Speaking

#: Time is looked at this often while no line comes, by the world's clock: a wait of the system
#: stands still while the machine sleeps, and limits break without a clock that says so.
_LOOK_MS: Final = 1_000
#: Lines read ahead: more stay where they are until these are taken.
_AHEAD: Final = 16


class StandardLines:
    """The lines of one run of the program, and what goes on between them."""

    def __init__(self, speaking: Speaking | None = None, *, pace: float = 1.0) -> None:
        """Read nothing yet.

        Args:
            speaking: What says calls and ends of waits aloud; None: they are only printed.
            pace: How many times as fast as the world the day's clock runs.
        """
        self._speaking, self._pace = speaking, pace
        self._come: queue.Queue[str | OSError | None] = queue.Queue(_AHEAD)
        self._next: list[str | OSError | None] = []
        self._begun = False

    def wait(self, ms: int) -> bool:
        """Whether a line, or the end of the input, is there within so long, at most a second."""
        self._begin()
        if not self._next:
            try:
                self._next.append(self._come.get(timeout=min(ms / self._pace, _LOOK_MS) / 1_000))
            except queue.Empty:
                return False
        return True

    def take(self) -> str | None:
        """The next line; None at the end of the input.

        Raises:
            OSError: It cannot be read.
        """
        self._begin()
        come = self._next.pop() if self._next else self._come.get()
        if isinstance(come, OSError):
            raise come
        return come

    def give(self, text: str) -> None:
        """Print one line now."""
        sys.stdout.write(text + "\n")
        sys.stdout.flush()

    def follow(self, room: StudioState, now: Moment) -> Iterable[str]:
        """Hand over what will call; gives what went wrong with the sound."""
        return () if self._speaking is None else self._speaking.follow(room, now)

    def say(self, words: Callable[[], str]) -> None:
        """Say it aloud, where something speaks."""
        if self._speaking is not None:
            self._speaking.say(words())

    # -- the thread that reads ------------------------------------------------------------

    def _begin(self) -> None:
        if not self._begun:
            self._begun = True
            # Not by `threading`, whose start waits for the thread: a signal that ends the program
            # at that moment would leave it half begun.
            start_new_thread(self._read, ())

    def _read(self) -> None:
        try:
            stream = _own(sys.stdin)
            while (line := _line(stream)) is not None:
                self._come.put(line)
        except OSError as error:
            self._come.put(error)
        else:
            self._come.put(None)


def _own(stream: TextIO) -> TextIO:
    """A reader of our own for the same input.

    The thread may still wait in it when the program ends, and the interpreter, which puts its
    own away then, must not wait for that.
    """
    try:
        number = stream.fileno()
    except (OSError, ValueError):  # a test's stand-in, or none
        return stream
    return open(number, encoding=stream.encoding, errors=stream.errors, closefd=False)


def _line(stream: TextIO) -> str | None:
    """The next line without its end; what is too long is read on, and not kept."""
    line = stream.readline(LONGEST + 2)
    if not line:
        return None
    more = line
    while more and not more.endswith("\n") and len(more) == LONGEST + 2:
        more = stream.readline(LONGEST + 2)
    return line.rstrip("\r\n")
