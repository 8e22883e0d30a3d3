"""Phrases rendered to files before they are needed, by a voice that can write them.

Rendering a phrase takes some 10 to 150 ms. A session knows most of what it will
say when it opens, so it is made then, by a thread of its own, and kept by its text
for the next session.
"""

from __future__ import annotations

import hashlib
import threading
import wave
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Final

from benchapp.calls.found import Program
from benchapp.calls.phrases import strip_voice_commands, why_not_spoken
from benchapp.calls.process import BootMs, Ending, Process
from benchapp.calls.tones import Level

RENDER_MS: Final = 5_000
"""A voice that takes longer over one phrase is ended."""

_LOOK_S: Final = 0.01
_MOST_FILES: Final = 2_000
#: Of 0 to 200; the voice's own 100 is as loud as our loud tones.
_AMPLITUDE: Final[dict[Level, int]] = {"loud": 100, "soft": 30}


class Voice:
    """A voice that writes its phrases into a folder.

    Attributes:
        program: The voice.
    """

    def __init__(self, program: Program, folder: Path, boot_ms: BootMs, level: Level) -> None:
        """Speak by `program`, keeping what it rendered in `folder`, which is there."""
        self.program = program
        self._folder = folder.absolute()
        self._boot_ms = boot_ms
        self._level = level
        self._tries = 0

    def file(self, text: str) -> Path | None:
        """The rendered phrase, if there is one; looks only."""
        path = self._path(text)
        return path if path.is_file() else None

    def rendering(self, text: str) -> Rendering:
        """Begin to render a phrase that has no file yet."""
        self._tries += 1
        return Rendering(self._argv(), strip_voice_commands(text), self._path(text), self._tries,
                         self._boot_ms)

    def prepare(self, texts: Iterable[str]) -> threading.Thread:
        """Render what has no file yet, in the background; stops at the first failure.

        A failure here is not told: it comes up when the phrase is wanted.
        """
        wanted = [t for t in dict.fromkeys(texts) if why_not_spoken(t) is None]
        thread = threading.Thread(target=self._prepare, args=(wanted,), name="voice", daemon=True)
        thread.start()
        return thread

    def _prepare(self, texts: list[str]) -> None:
        self._make_room()
        for text in texts:
            if self.file(text) is None and not self._made(self.rendering(text)):
                return

    @staticmethod
    def _made(rendering: Rendering) -> bool:
        pause = threading.Event()
        while not rendering.over():
            pause.wait(_LOOK_S)
        return rendering.made is not None

    def _make_room(self) -> None:
        """Throw everything away when there is too much; it is made again when wanted."""
        with suppress(OSError):
            files = list(self._folder.glob("say-*.wav"))
            if len(files) > _MOST_FILES:
                for file in files:
                    file.unlink(missing_ok=True)

    def _argv(self) -> tuple[str, ...]:
        loud = ("-a", str(_AMPLITUDE[self._level]))
        return (*self.program.argv, *loud, *self.program.renders)

    def _path(self, text: str) -> Path:
        """A name that holds nothing of the text but its digest."""
        of = "\0".join([*self._argv(), text]).encode("utf-8", "replace")
        return self._folder / f"say-{hashlib.sha256(of).hexdigest()[:32]}.wav"


class Rendering:
    """A phrase being written to a file; the file gets its name when it is whole.

    Attributes:
        made: The file, once it is there and holds sound.
    """

    def __init__(
        self, argv: tuple[str, ...], text: str, path: Path, number: int, boot_ms: BootMs
    ) -> None:
        self.made: Path | None = None
        self._path = path
        self._part = path.with_name(f"{path.stem}.{number}.{threading.get_ident()}.part")
        self._settled = False
        self._process = Process((*argv, str(self._part)), boot_ms, RENDER_MS, text=text)

    @property
    def ended(self) -> Ending | None:
        """How the program ended; None while it is at work."""
        return self._process.ended

    @property
    def said(self) -> str:
        """What went wrong, in the system's words; empty if nothing did."""
        return self._process.said

    def over(self) -> bool:
        """Whether it has ended, well or not."""
        if self._process.over() and not self._settled:
            self._settled = True
            self._settle()
        return self._settled

    def stop(self) -> None:
        """Give it up."""
        self._process.stop()
        self.over()

    def _settle(self) -> None:
        with suppress(OSError):
            if self._process.ended == "well" and _sounds(self._part):
                self._part.replace(self._path)
                self.made = self._path
            else:
                self._part.unlink(missing_ok=True)


def _sounds(path: Path) -> bool:
    """Whether a file is a WAV with anything in it."""
    try:
        with wave.open(str(path), "rb") as file:
            return file.getnframes() > 0
    except (OSError, EOFError, wave.Error):
        return False
