"""A terminal driver that a bad byte, or a terminal gone away, can't end.

The framework's own driver decodes strictly and lets every error of its parser
end the app: one 0xff on the line, a mouse report of the old form or a key code
beyond Unicode, and the day's screen is gone. Here the input thread survives
them. When the terminal itself goes away (window closed, line dropped) the app
is asked to leave, and what it still writes goes nowhere instead of blocking.
"""

from __future__ import annotations

import os
import selectors
from codecs import getincrementaldecoder
from collections.abc import Iterable
from typing import IO, TYPE_CHECKING, Any, Final

from textual._parser import ParseError
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver

from benchapp.screens.stray import without_strays

if TYPE_CHECKING:
    from textual.app import App
    from textual.message import Message

_POLL_S: Final = 0.1
_PIECE: Final = 4096

# What the parser raises on sequences that look like keys but are none: a code
# beyond Unicode, a number too long to read, a report of a terminal 0 cells
# wide. Its generator is finished then, and says so ever after.
_PARSER_ERRORS: Final = (ValueError, OverflowError, ArithmeticError, StopIteration, ParseError)


class SturdyDriver(LinuxDriver):
    """The framework's driver for Unix, with an input thread that goes on."""

    def __init__(
        self,
        app: App[Any],
        *,
        debug: bool = False,
        mouse: bool = True,
        size: tuple[int, int] | None = None,
    ) -> None:
        """Take the terminal on standard input and standard error.

        Args:
            app: The app that is driven.
            debug: The framework's debug mode.
            mouse: Whether the terminal is asked to report the mouse.
            size: Columns and rows, or None to ask the terminal.
        """
        super().__init__(app, debug=debug, mouse=mouse, size=size)
        self._file: Any = Outlet(self._file)
        self._parser = XTermParser(debug)

    def _sigcont_application(self, *_: object) -> None:
        """Take the terminal again after a stop that gave it back, and only then.

        CONT also comes alone: after STOP, and from shells and service managers that
        send it beside TERM. The framework would take the terminal a second time
        then, with a second input thread, and hang when it is left.
        """
        if self._must_signal_resume:
            super()._sigcont_application(*_)

    def run_input_thread(self) -> None:
        """Read keys until the app leaves or the terminal is gone."""
        decoder = getincrementaldecoder("utf-8")("replace")
        self._parser = XTermParser(self._debug)
        with selectors.SelectSelector() as selector:
            selector.register(self.fileno, selectors.EVENT_READ)
            while not self.exit_event.is_set():
                if selector.select(_POLL_S):
                    data = self._read()
                    if not data:
                        self._terminal_gone()
                        return
                    self._take(decoder.decode(without_strays(data)))
                self._pass_on(self._parser.tick)

    def _read(self) -> bytes:
        """Read one piece; nothing means that the terminal is gone."""
        try:
            return os.read(self.fileno, _PIECE)
        except BlockingIOError:
            return b"\x00"  # Nothing there yet on a line made non-blocking; NUL is no key of ours.
        except OSError:
            return b""

    def _take(self, text: str) -> None:
        # Feeding an empty text would tell the parser that the input has ended.
        if text:
            self._pass_on(lambda: self._parser.feed(text))

    def _pass_on(self, parsed: Any) -> None:
        """Send the app what the parser finds; begin anew if it can't."""
        try:
            messages: Iterable[Message] = parsed()
            for message in messages:
                self.process_message(message)
        except (*_PARSER_ERRORS, RuntimeError):
            # A StopIteration inside a generator comes out as RuntimeError.
            self._parser = XTermParser(self._debug)

    def _terminal_gone(self) -> None:
        self._app.call_later(self._app.exit)


class Outlet:
    """Where the driver writes; silent once the terminal is gone.

    The writing thread would end on the first error, and the app then block
    for ever on its full queue.
    """

    def __init__(self, file: IO[str] | None) -> None:
        """Write to this file, or nowhere."""
        self._out = file

    def write(self, text: str) -> None:
        """Write, if there is still somewhere to write to."""
        if self._out is not None:
            try:
                self._out.write(text)
            except (OSError, ValueError):
                self._out = None

    def flush(self) -> None:
        """Send on what was written."""
        if self._out is not None:
            try:
                self._out.flush()
            except (OSError, ValueError):
                self._out = None

    def fileno(self) -> int:
        """The descriptor written to; OSError when it is gone."""
        if self._out is None:
            raise OSError("the terminal is gone")
        return self._out.fileno()

    def isatty(self) -> bool:
        """Whether a terminal is still there."""
        return self._out is not None and self._out.isatty()
