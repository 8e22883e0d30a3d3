"""What gives a terminal back after a screen that could not do it itself."""

from __future__ import annotations

import os
import select
import signal
import sys
from contextlib import suppress
from typing import Any, Final

if sys.platform != "win32":
    import termios

#: The order matters: a string or command broken off is ended first, and the keyboard
#: protocol belongs to the alternate screen, so it is taken off before that is left.
GIVE_BACK: Final = "".join((
    "\x1b\\",        # end an unfinished string; ESC ends an unfinished command
    "\x1b[?2026l",   # show what is written, as it is written
    "\x1b[?1000l", "\x1b[?1002l", "\x1b[?1003l", "\x1b[?1006l", "\x1b[?1015l", "\x1b[?1016l",
    "\x1b[?1004l",   # no reports of focus
    "\x1b[?2004l",   # no marks round a paste
    "\x1b[?2048l",   # no reports of size
    "\x1b[<u",       # keys as they were
    "\x1b[?1049l",   # leave the alternate screen
    "\x1b[?7h",      # wrap long lines
    "\x1b[0m",       # plain colours
    "\x1b[?25h",     # show the cursor
    "\r\n",
))  # fmt: skip

_WRITABLE_S: Final = 1.0


class Terminal:
    """The terminal as it was found, to be given back so. POSIX alone."""

    def __init__(self, keys_fd: int = 0, out_fd: int = 2) -> None:
        """Remember how the terminal is set.

        Args:
            keys_fd: The descriptor keys come from.
            out_fd: The descriptor the screen is written to.
        """
        self._keys, self._out = keys_fd, out_fd
        self._before: list[Any] | None = None
        if sys.platform != "win32":
            with suppress(termios.error):
                self._before = termios.tcgetattr(keys_fd)

    def restore(self) -> None:
        """Set everything back and throw away keys typed meanwhile; they were for the screen."""
        self.say(GIVE_BACK)
        if sys.platform == "win32" or self._before is None:
            return
        # Who is not in the foreground is stopped for this, unless it ignores the signal.
        before = signal.signal(signal.SIGTTOU, signal.SIG_IGN)
        try:
            with suppress(termios.error):
                # Now, not after what is still unwritten: the terminal may have stopped reading.
                termios.tcsetattr(self._keys, termios.TCSANOW, self._before)
                termios.tcflush(self._keys, termios.TCIFLUSH)
        finally:
            signal.signal(signal.SIGTTOU, before)

    def say(self, text: str) -> None:
        """Write, unless the terminal is gone or does not read."""
        with suppress(OSError, ValueError):
            if select.select([], [self._out], [], _WRITABLE_S)[1]:
                os.write(self._out, text.encode("utf-8"))
