"""A mebibyte kept beside the book, let go of when the disk is full.

It is enough for the rest of a day's entries, so a full disk does not stop the press.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import Final

from benchapp.book.append import Fault

SIZE_BYTES: Final = 1024 * 1024

_NEW: Final = os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0)


class Reserve:
    """The reserve of the book at `path`."""

    def __init__(self, path: Path, fault: Fault) -> None:
        self.path = path.with_name(path.name + "-reserve")
        self._fault = fault

    def make(self) -> None:
        """Make sure of the reserve.

        A disk that has no room for it has none: no error. Nor has a book where a link or
        another file has the reserve's name: that is left as it is.
        """
        if self._size() == SIZE_BYTES:
            return
        try:
            self._fault("reserve")
            self._remove_empty()
            descriptor = os.open(self.path, _NEW, 0o600)
        except OSError:
            return
        try:
            _take_room(descriptor)
        except OSError:
            self.path.unlink(missing_ok=True)
        finally:
            os.close(descriptor)

    def release(self) -> bool:
        """Give its room back to the disk; False if there was none to give."""
        if self._size() != SIZE_BYTES:
            return False
        try:
            self.path.unlink(missing_ok=True)
        except OSError:
            return False
        return True

    def _remove_empty(self) -> None:
        """Remove the empty file that a program cut off in `make` leaves."""
        if self._size() == 0:
            self.path.unlink()

    def _size(self) -> int | None:
        """The size of our own plain file in bytes; None where there is none, or another's."""
        try:
            found = self.path.lstat()
        except OSError:
            return None
        mine = not hasattr(os, "getuid") or found.st_uid == os.getuid()
        return found.st_size if stat.S_ISREG(found.st_mode) and mine else None


def _take_room(descriptor: int) -> None:
    if hasattr(os, "posix_fallocate"):
        os.posix_fallocate(descriptor, 0, SIZE_BYTES)
        return
    # Random, for a file of zeros may take no room at all on a disk that packs its files.
    os.write(descriptor, os.urandom(SIZE_BYTES))
