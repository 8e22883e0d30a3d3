"""One writer at a time, by a lock the system lets go of when its holder dies.

The lock is on a file of its own beside the book, because the book itself may only be
touched through SQLite. That file stays for ever: removing it would let two programs
lock two files of the same name. Nobody is asked whether a process is still alive.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

from benchapp.book.errors import BookLocked, disk_error

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl


class WriterLock:
    """The right to write in the book at `path`, held until `release`."""

    def __init__(self, path: Path) -> None:
        """Take the lock at once.

        Raises:
            BookLocked: Another program holds it.
            BookDisk: The lock file cannot be made or the disk keeps no locks.
        """
        self.path = path.with_name(path.name + "-lock")
        try:
            self._descriptor = os.open(self.path, os.O_RDWR | os.O_CREAT, 0o600)
        except OSError as error:
            raise disk_error(error, self.path, "taking the book to write in") from error
        try:
            _take(self._descriptor)
        except OSError as error:
            os.close(self._descriptor)
            if isinstance(error, (BlockingIOError, PermissionError)):
                raise BookLocked(
                    f"The book {path} is open in another benchapp, and only one may write in it. "
                    "Go on there, or close it and start again here. Reading works meanwhile."
                ) from error
            raise disk_error(error, self.path, "locking the book") from error

    def release(self) -> None:
        """Let the next writer in. Doing it twice is allowed."""
        if self._descriptor >= 0:
            os.close(self._descriptor)
            self._descriptor = -1


def _take(descriptor: int) -> None:
    if sys.platform == "win32":
        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
    else:
        # flock, not lockf: locks of the latter kind are lost when any descriptor closes.
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
