"""Sound on Windows, by the standard library's own module; elsewhere it fails like a program."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

from benchapp.calls.process import BootMs, Ending
from benchapp.calls.tones import RATE

_BYTES_A_SAMPLE: Final = 2


def _begin(path: str) -> None:
    """Have the system play a file while we go on."""
    if sys.platform == "win32":
        import winsound

        flags = winsound.SND_FILENAME | winsound.SND_ASYNC | winsound.SND_NODEFAULT
        winsound.PlaySound(path, flags)
    else:
        raise RuntimeError("this is not Windows")


def _quiet() -> None:
    """End what plays."""
    if sys.platform == "win32":
        import winsound

        winsound.PlaySound(None, 0)


class Winsound:
    """A WAV of ours that the system plays; its end is known by its length alone.

    Attributes:
        ended: How it ended; None while it sounds.
        said: What went wrong; empty if nothing did.
    """

    def __init__(
        self,
        path: Path,
        boot_ms: BootMs,
        begin: Callable[[str], None] = _begin,
        quiet: Callable[[], None] = _quiet,
    ) -> None:
        """Begin; `begin` and `quiet` are the system's own calls."""
        self.ended: Ending | None = None
        self.said = ""
        self._boot_ms, self._quiet = boot_ms, quiet
        try:
            length_ms = path.stat().st_size // _BYTES_A_SAMPLE * 1000 // RATE
            begin(str(path))
        except (OSError, RuntimeError) as error:
            self.ended, self.said = "failed", str(error) or "the system refused"
            length_ms = 0
        self._until_ms = boot_ms() + length_ms

    def over(self) -> bool:
        """Whether its length has passed."""
        if self.ended is None and self._boot_ms() >= self._until_ms:
            self.ended = "well"
        return self.ended is not None

    def stop(self) -> None:
        """End it now."""
        if not self.over():
            self.ended = "stopped"
            self._quiet()
