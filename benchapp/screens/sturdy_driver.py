"""A terminal driver that a bad byte, or a terminal gone away, can't end.

The framework's own driver decodes strictly and lets every error of its parser
end the app: one 0xff on the line, a mouse report of the old form or a key code
beyond Unicode, and the day's screen is gone. Here the input thread survives
them, and a report of the mouse that comes in two pieces is never read as keys.
The app gets a few messages at a time, and a flood is dropped (`backlog`).
When the terminal itself goes away (window closed, line dropped) the app is asked
to leave, and what it still writes goes nowhere instead of blocking.
"""

from __future__ import annotations

import asyncio
import os
import selectors
from codecs import getincrementaldecoder
from collections.abc import Iterable
from typing import IO, TYPE_CHECKING, Any, Final, Protocol, runtime_checkable

from textual._parser import ParseError
from textual._time import get_time
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver
from textual.events import Key, Resize
from textual.geometry import Size

from benchapp.screens.backlog import Backlog
from benchapp.screens.cut_reports import ASK, ESCAPE, CutReport
from benchapp.screens.stray import without_strays

if TYPE_CHECKING:
    from textual.app import App
    from textual.message import Message
    from textual.message_pump import MessagePump

_POLL_S: Final = 0.1
_SOON_S: Final = 0.005
"""While messages wait, the app is looked at so often."""
_DROP_S: Final = 0.01
"""The pause after each piece of a flood: the rest stays with whoever sends it."""
_PIECE: Final = 4096

# What the parser raises on sequences that look like keys but are none: a code
# beyond Unicode, a number too long to read, a report of a terminal 0 cells
# wide. Its generator is finished then, and says so ever after.
_PARSER_ERRORS: Final = (ValueError, OverflowError, ArithmeticError, StopIteration, ParseError)

# Clicks and the wheel (1000) in the form that can be told from keys (1006); never
# movements (1003): a sleeve on a trackpad would type without end.
_MOUSE_ON: Final = "\x1b[?1000h\x1b[?1006h"
_MOUSE_OFF: Final = "\x1b[?1006l\x1b[?1000l"
# Without reports many terminals turn the wheel into arrow keys (1007). They are asked
# before whether they did (DECRQM), and do so again at the end; Terminal.app types a p for it.
_DID_IT: Final = "\x1b[?1007$p"
_YES: Final = b"\x1b[?1007;1$y"
_WHEEL_OFF: Final = "\x1b[?1007l"
_WHEEL_BACK: Final = "\x1b[?1007h"


@runtime_checkable
class ToldOfFloods(Protocol):
    """An app that says when keys were dropped."""

    def keys_dropped(self) -> None:
        """More keys came than anybody can mean."""


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
        self._held = CutReport()
        self._wheel_off = self._wheel_typed = False
        self._backlog: Backlog[Message] = Backlog()
        self._sent = self._posted = 0

    def report_mouse(self, *, on: bool) -> None:
        """Have the terminal report clicks and wheel from now on, or no more."""
        if on != self._mouse:
            self._mouse = on
            self.write(_MOUSE_ON if on else _MOUSE_OFF)
            self.flush()

    def _enable_mouse_support(self) -> None:
        """Ask for what is used, where it is; the framework would ask for every movement too."""
        if not self._wheel_off:  # the framework comes here twice: asked once only
            self._wheel_off = True
            asked = self.input_tty and os.environ.get("TERM_PROGRAM") != "Apple_Terminal"
            self.write((_DID_IT if asked else "") + _WHEEL_OFF)
        if self._mouse:
            self.write(_MOUSE_ON)
        self.flush()

    def _enable_mouse_pixels(self) -> None:
        """Nothing here counts pixels."""

    def _disable_mouse_support(self) -> None:
        """Give the mouse back as it was."""
        if self._mouse:
            self.write(_MOUSE_OFF)
        if self._wheel_off and self._wheel_typed:
            self.write(_WHEEL_BACK)
        self._wheel_off = False
        self.flush()

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
        self._parser, self._held = XTermParser(self._debug), CutReport()
        with selectors.SelectSelector() as selector:
            selector.register(self.fileno, selectors.EVENT_READ)
            while not self.exit_event.is_set():
                if selector.select(_SOON_S if self._backlog else _POLL_S):
                    data = self._read()
                    if not data:
                        self._send(self._backlog.take(0))
                        self._terminal_gone()
                        return
                    self._backlog.heard(len(data), _now_ms())
                    if self._backlog.flooded:
                        self.exit_event.wait(_DROP_S)
                        continue
                    pieces = self._whole(data)
                else:
                    self._held, pieces = self._held.wait(_now_ms())
                for piece in pieces:
                    if piece == ESCAPE:
                        self.process_message(Key("escape", "\x1b"))
                    else:
                        self._take(decoder.decode(without_strays(piece)))
                self._pass_on(self._parser.tick)
                self._send(self._backlog.take(self._behind()))
                if self._backlog.has_ended(_now_ms()):
                    self._after_flood()
                    decoder.reset()

    def send_message(self, message: Message) -> None:
        """Have a message wait until the app can take it."""
        self._backlog.add(message)

    def _send(self, messages: Iterable[Message]) -> None:
        """Give the app messages now."""
        for message in messages:
            self._sent += 1
            asyncio.run_coroutine_threadsafe(self._post(message), loop=self._loop)

    async def _post(self, message: Message) -> None:
        self._posted += 1
        await self._app._post_message(message)

    def _behind(self) -> int:
        """How many messages the app, its screen and what has the focus have not taken yet."""
        pumps: list[MessagePump] = [self._app]
        for screen in self._app.screen_stack[-1:]:
            pumps += [screen, *([screen.focused] if screen.focused is not None else [])]
        return self._sent - self._posted + sum(pump.message_queue_size for pump in pumps)

    def _after_flood(self) -> None:
        """Begin with a clean line; a new size may have been among what was dropped."""
        self._parser, self._held = XTermParser(self._debug), CutReport()
        size = Size(*self._get_terminal_size())
        self.send_message(Resize(size, size))
        if isinstance(self._app, ToldOfFloods):
            # Not by the loop itself: a timer it starts needs the context of the app.
            self._app.call_later(self._app.keys_dropped)

    def _read(self) -> bytes:
        """Read one piece; nothing means that the terminal is gone."""
        try:
            return os.read(self.fileno, _PIECE)
        except BlockingIOError:
            return b"\x00"  # Nothing there yet on a line made non-blocking; NUL is no key of ours.
        except OSError:
            return b""

    def _whole(self, data: bytes) -> tuple[bytes, ...]:
        """Put reports together that came in pieces, where the mouse is reported."""
        self._wheel_typed = self._wheel_typed or _YES in data
        if not self._mouse and not self._held.kept:
            return (data,)
        self._held, pieces = self._held.take(data, _now_ms())
        if self._held.kept == ESCAPE and self._writer_thread is not None:
            self.write(ASK)  # the answer comes behind the rest of a report, if there is one
            self.flush()
        return pieces

    def _take(self, text: str) -> None:
        # Feeding an empty text would tell the parser that the input has ended.
        if text:
            self._pass_on(lambda: self._parser.feed(text))

    def _pass_on(self, parsed: Any) -> None:
        """Send the app what the parser finds; begin anew if it can't."""
        try:
            messages: Iterable[Message] = parsed()
            for message in messages:
                self._parser.mouse_pixels = False  # it counts cells, whatever sizes are told in
                self.process_message(message)
        except (*_PARSER_ERRORS, RuntimeError):
            # A StopIteration inside a generator comes out as RuntimeError.
            self._parser = XTermParser(self._debug)

    def _terminal_gone(self) -> None:
        self._app.call_later(self._app.exit)


def _now_ms() -> float:
    return get_time() * 1000


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
