"""The folder with the tones as files: most players take nothing else."""

from __future__ import annotations

import shutil
import tempfile
import weakref
from pathlib import Path

from benchapp.calls.pieces import Trouble
from benchapp.calls.tones import KINDS, Kind, Level, make_tone


class Wavs:
    """The tones of one level in a folder; a temporary one where that can't be written.

    Attributes:
        folder: Where they are; None if no folder can be written.
        trouble: Why there is none.
    """

    def __init__(self, folder: Path, level: Level) -> None:
        self.folder: Path | None = None
        self.trouble: Trouble | None = None
        self._level = level
        self._fill(folder.absolute())
        if self.folder is None:
            self._fill_temporary()

    def file(self, kind: Kind) -> Path | None:
        """The file of a tone, written anew if someone took it away; None if it can't be."""
        if self.folder is None:
            return None
        try:
            return self._written(self.folder, kind)
        except OSError as error:
            self._note(error)
            return None

    def _fill_temporary(self) -> None:
        try:
            folder = tempfile.mkdtemp(prefix="bench-calls-")
        except OSError as error:
            self._note(error)
        else:
            weakref.finalize(self, shutil.rmtree, folder, ignore_errors=True)
            self._fill(Path(folder))

    def _fill(self, folder: Path) -> None:
        try:
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            for kind in KINDS:
                self._written(folder, kind)
        except OSError as error:
            self._note(error)
        else:
            self.folder, self.trouble = folder, None

    def _written(self, folder: Path, kind: Kind) -> Path:
        path, data = folder / f"{kind}-{self._level}.wav", make_tone(kind, self._level)
        if not path.is_file() or path.read_bytes() != data:
            part = path.with_suffix(".part")
            part.write_bytes(data)
            part.replace(path)
        return path

    def _note(self, error: OSError) -> None:
        why = error.strerror or "the system refused"
        text = f"Sounds can't be kept in a file ({why}); only the terminal's bell sounds."
        self.trouble = Trouble("the folder of sounds", "failed", text)
