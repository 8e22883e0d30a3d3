"""A mebibyte kept beside the book, let go of when the disk is full.

It is enough for the rest of a day's entries, so a full disk does not stop the press.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

from benchapp.book.append import Fault

SIZE_BYTES: Final = 1024 * 1024


class Reserve:
    """The reserve of the book at `path`."""

    def __init__(self, path: Path, fault: Fault) -> None:
        self.path = path.with_name(path.name + "-reserve")
        self._fault = fault

    def make(self) -> None:
        """Make sure of the reserve. A disk that has no room for it has none: no error."""
        if self._size() == SIZE_BYTES:
            return
        try:
            self._fault("reserve")
            self.path.write_bytes(b"")
            self.path.chmod(0o600)
            with self.path.open("r+b") as file:
                _take_room(file.fileno())
        except OSError:
            self.release()

    def release(self) -> bool:
        """Give its room back to the disk; False if there was none to give."""
        held = self._size() > 0
        try:
            self.path.unlink(missing_ok=True)
        except OSError:
            return False
        return held

    def _size(self) -> int:
        try:
            return self.path.lstat().st_size
        except OSError:
            return 0


def _take_room(descriptor: int) -> None:
    if hasattr(os, "posix_fallocate"):
        os.posix_fallocate(descriptor, 0, SIZE_BYTES)
        return
    # Random, for a file of zeros may take no room at all on a disk that packs its files.
    os.write(descriptor, os.urandom(SIZE_BYTES))
