"""The players that need no program: silence, the terminal's bell, and the recording for tests."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Final

from benchapp.calls.pieces import Phrase, Piece, Tone, Trouble
from benchapp.calls.process import BootMs
from benchapp.calls.tones import PATTERNS, Kind

#: How often the bell rings for each sound, and how far apart, milliseconds. A terminal's
#: own bell lasts about 200 ms and some swallow the second of two close ones.
_RINGS: Final[dict[Kind, tuple[int, int]]] = {
    "confirm": (1, 0), "end": (3, 600), "caution": (6, 250),
}  # fmt: skip


Wait = Callable[[threading.Event, float], bool]


def _wait(stop: threading.Event, seconds: float) -> bool:
    return stop.wait(seconds)


class PlayedPiece:
    """A piece that is over as soon as it began."""

    def over(self) -> bool:
        """Always."""
        return True

    def stop(self) -> None:
        """Nothing to stop."""


class SilentPlayer:
    """Sound is off: every piece is over at once; the screen still flashes and shows."""

    def start(self, piece: Piece) -> PlayedPiece:
        """Make nothing heard."""
        return PlayedPiece()

    def troubles(self) -> tuple[Trouble, ...]:
        """None."""
        return ()


class RecordingPlayer:
    """For tests and rehearsals: plays nothing and keeps what it was given.

    Attributes:
        played: Each piece with the boot-clock moment at which it began, ms.
        lasts_ms: How long a piece sounds.
    """

    def __init__(self, boot_ms: BootMs, lasts_ms: Callable[[Piece], int] = lambda piece: 0) -> None:
        self.played: list[tuple[int, Piece]] = []
        self.stopped: list[Piece] = []
        self.trouble: list[Trouble] = []
        self.lasts_ms = lasts_ms
        self._boot_ms = boot_ms

    @property
    def tones(self) -> list[tuple[int, Kind]]:
        """The tones alone, with their moments."""
        return [(t, p.kind) for t, p in self.played if isinstance(p, Tone)]

    @property
    def phrases(self) -> list[str]:
        """The words alone."""
        return [p.text for _, p in self.played if isinstance(p, Phrase)]

    def start(self, piece: Piece) -> Recorded:
        """Keep it."""
        now = self._boot_ms()
        self.played.append((now, piece))
        return Recorded(self, piece, now + self.lasts_ms(piece), self._boot_ms)

    def troubles(self) -> tuple[Trouble, ...]:
        """Whatever a test put into `trouble`, once."""
        told, self.trouble = tuple(self.trouble), []
        return told


class Recorded:
    """A piece of the recording that takes its time."""

    def __init__(
        self, player: RecordingPlayer, piece: Piece, until_ms: int, boot_ms: BootMs
    ) -> None:
        self._player, self._piece = player, piece
        self._until_ms, self._boot_ms = until_ms, boot_ms

    def over(self) -> bool:
        """Whether its time has passed."""
        return self._boot_ms() >= self._until_ms

    def stop(self) -> None:
        """Cut it short, and keep that it was."""
        if not self.over():
            self._player.stopped.append(self._piece)
            self._until_ms = self._boot_ms()


class BellPlayer:
    """The terminal's bell: told apart by how often and how fast it rings; it says no words.

    A terminal that stopped reading would hold up whoever writes to it, so the bell
    is written by a thread of its own, one at a time.
    """

    def __init__(self, write: Callable[[str], object], wait: Wait = _wait) -> None:
        """Ring by this.

        Args:
            write: Sends text to the terminal and on its way at once (flushed); it is
                called from another thread, and an OSError or ValueError from it means
                that the terminal is gone.
            wait: Waits between two strokes; gives whether the event was set meanwhile.
        """
        self._write, self._wait = write, wait
        self._ringing: Ringing | None = None
        self._new: list[Trouble] = []
        self._told = False

    def start(self, piece: Piece) -> PlayedPiece | Ringing:
        """Ring, unless the bell before still hangs in the terminal."""
        if not isinstance(piece, Tone):
            return PlayedPiece()
        if self._ringing is not None and not self._ringing.over():
            self._notice()
            return PlayedPiece()
        self._ringing = Ringing(self._write, *_RINGS[piece.kind], self._wait)
        return self._ringing

    def troubles(self) -> tuple[Trouble, ...]:
        """That the terminal takes no bell, once."""
        if self._ringing is not None and self._ringing.failed:
            self._notice()
        told, self._new = tuple(self._new), []
        return told

    def _notice(self) -> None:
        if not self._told:
            self._told = True
            self._new.append(Trouble(
                "the bell", "hung", "The terminal's bell does not work just now."))


class Ringing:
    """A bell that rings its pattern.

    Attributes:
        failed: The terminal is gone.
    """

    def __init__(self, write: Callable[[str], object], times: int, gap_ms: int, wait: Wait) -> None:
        self.failed = False
        self._write, self._times, self._gap_s, self._wait = write, times, gap_ms / 1000, wait
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._ring, name="bell", daemon=True)
        self._thread.start()

    def _ring(self) -> None:
        for number in range(self._times):
            if number and self._wait(self._stop, self._gap_s):
                return
            try:
                self._write("\a")
            except (OSError, ValueError):
                self.failed = True
                return

    def over(self) -> bool:
        """Whether the last stroke is out."""
        return not self._thread.is_alive()

    def stop(self) -> None:
        """Ring no further stroke."""
        self._stop.set()


def pattern_ms(kind: Kind) -> int:
    """How long a tone lasts, for whoever shows it: a flash keeps as long."""
    return PATTERNS[kind].length_ms
