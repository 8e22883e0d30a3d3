"""One writer at a time, by a lock the system lets go of when its holder dies.

The lock is on a file of its own beside the book, because the book itself may only be
touched through SQLite. That file stays for ever: removing it would let two programs
lock two files of the same name. Nobody is asked whether a process is still alive.

It also says how the last writer left the book: its name stays there if it was cut off, and a
word if it found damage. Written over what is there, that needs no room on a full disk.

Before its name a writer says whether it is still opening the book, and later the last entry that
it was told is on disk. So a book is not taken for a copy because its log was not there yet, and
what a damaged log no longer holds is missed.
"""

from __future__ import annotations

import errno
import os
import re
import sys
import time
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Final

from benchapp.book.errors import BookDisk, BookLocked, disk_error

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl


#: What the system says where a disk keeps no locks, or not at the moment.
_NO_LOCKS: Final = frozenset({errno.ENOLCK, errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP,
                              errno.EIO})
#: The file a link points to is never opened: it would be emptied.
_NO_LINK: Final = getattr(os, "O_NOFOLLOW", 0)
#: So often it is tried to take the lock, and so long is waited in between.
_TRIES: Final = 5
_BETWEEN_S: Final = 0.01
#: The first byte is the one that is locked where locks are of bytes; the holder comes after it.
_HOLDER_AT: Final = 1
_HOLDER_MOST: Final = 200

#: How a writer left the book.
CLEAN: Final = ""
CUT_OFF: Final = "cut off"
DAMAGED: Final = "damaged"
_OPENING: Final = "opening"
_WRITTEN: Final = re.compile(r"(\d{1,18}) written")


class WriterLock:
    """The right to write in the book at `path`, held until `release`.

    Attributes:
        left: How the writer before this one left the book: CLEAN, CUT_OFF or DAMAGED.
        written: The sequence of the last entry that a writer knew to be on disk, this one or those
            that were cut off before it; 0 where none said so.
    """

    def __init__(self, path: Path) -> None:
        """Take the lock at once.

        Raises:
            BookLocked: Another program holds it.
            BookDisk: The lock file cannot be made or the disk keeps no locks.
        """
        self.path = lock_file(path)
        try:
            self._descriptor = os.open(self.path, os.O_RDWR | os.O_CREAT | _NO_LINK, 0o600)
        except OSError as error:
            if error.errno == errno.ELOOP and self.path.is_symlink():
                raise BookDisk(
                    f"{self.path} is a link, and what it points to would be written over. "
                    "So nothing was written. Remove the link, then do this again.") from error
            raise disk_error(error, self.path, "opening the book for writing") from error
        try:
            _take_soon(self._descriptor)
        except OSError as error:
            holder = self._holder()
            os.close(self._descriptor)
            if isinstance(error, (BlockingIOError, PermissionError)):
                raise BookLocked(
                    f"The book {path} is open in another benchapp{holder}, and only one may write "
                    "in it. Go on there, or close it and start again here. Reading works meanwhile."
                ) from error
            if error.errno in _NO_LOCKS:
                raise BookDisk(
                    f"{path.parent} is on a disk without file locks ({error.strerror}), so two "
                    "programs could write in one book. Move the book to a disk of this machine: "
                    "set BENCHAPP_HOME to a folder there, or name the book with --book."
                ) from error
            raise disk_error(error, self.path, "locking the book") from error
        said = self._said()
        self.left = DAMAGED if said.startswith(DAMAGED) else CUT_OFF if said else CLEAN
        found = _WRITTEN.search(said)
        self.written = int(found[1]) if found else 0
        self._say(_OPENING)

    def mark_open(self) -> None:
        """The book is open, and its log is there."""
        self._say()

    def mark_written(self, sequence: int) -> None:
        """The entry of this sequence is the last that is on disk."""
        self.written = sequence
        self._say()

    def _say(self, *words: str) -> None:
        damaged = [DAMAGED] if self.left == DAMAGED else []
        written = [f"{self.written} written"] if self.written else []
        self._write("; ".join((*damaged, *words, *written, _me())))

    def _said(self) -> str:
        """What the file says; empty where that cannot be read."""
        with suppress(OSError):
            os.lseek(self._descriptor, _HOLDER_AT, os.SEEK_SET)
            return os.read(self._descriptor, _HOLDER_MOST).decode("utf-8", "replace").strip()
        return ""

    def _write(self, text: str) -> None:
        """Say who holds the book or how it was left; when is the time of the file."""
        said = f"\n{text}\n".encode()[:_HOLDER_MOST] if text else b""
        with suppress(OSError):  # a full disk: the lock holds all the same
            os.lseek(self._descriptor, 0, os.SEEK_SET)
            os.write(self._descriptor, said)
            os.ftruncate(self._descriptor, len(said))

    def mark_damaged(self) -> None:
        """Have the book checked in full before anyone writes in it, whatever happens now."""
        self.left = DAMAGED
        self._say()

    def mark_sound(self) -> None:
        """The book was checked in full and is sound."""
        self.left = CUT_OFF
        self._say()

    def _holder(self) -> str:
        """Who holds it and since when, as far as it is known: ` (process 7 on anvil, since …)`."""
        with suppress(OSError, ValueError):
            since = datetime.fromtimestamp(os.fstat(self._descriptor).st_mtime).astimezone()
            if who := self._said():
                return f" ({who.rpartition('; ')[2]}, since {since:%d %b %H:%M})"
        return ""

    def release(self, *, clean: bool = False) -> None:
        """Let the next writer in. Doing it twice is allowed.

        Args:
            clean: Whether the book was opened, found sound and is at rest; else it is told the
                next writer as it was told this one.
        """
        if self._descriptor >= 0:
            left = CLEAN if clean and self.left != DAMAGED else self.left
            self._write(left)
            os.close(self._descriptor)
            self._descriptor = -1


def lock_file(path: Path) -> Path:
    """The file that is locked while the book at `path` is open to write in."""
    return path.with_name(path.name + "-lock")


def is_opening(path: Path) -> bool:
    """Whether a writer took the book and was not done opening it: it goes on, or was cut off."""
    with suppress(OSError):
        return _OPENING in lock_file(path).read_text("utf-8", "replace").strip().split("; ")
    return False


def is_free(path: Path) -> bool:
    """Whether no program has the book at `path` open to write in, as far as can be seen."""
    try:
        descriptor = os.open(lock_file(path), os.O_RDWR)
    except FileNotFoundError:
        return True
    except OSError:
        return False
    try:
        _take(descriptor)
    except OSError:
        return False
    finally:
        os.close(descriptor)
    return True


def _me() -> str:
    import platform  # slow to load, and only a writer needs it

    return f"process {os.getpid()} on {platform.node()}"


def _take_soon(descriptor: int) -> None:
    """Take the lock, now or in a moment; OSError where another program has it.

    A program that only looks whether the book is free has the lock for an instant too, and one
    that has just taken it has not yet said who it is.
    """
    for _ in range(_TRIES - 1):
        try:
            return _take(descriptor)
        except (BlockingIOError, PermissionError):
            time.sleep(_BETWEEN_S)
    return _take(descriptor)


def _take(descriptor: int) -> None:
    if sys.platform == "win32":
        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
    else:
        # SQLite's locks are of this kind: where they fail for good, it would wait in vain.
        fcntl.lockf(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB, 1)
        fcntl.lockf(descriptor, fcntl.LOCK_UN, 1)
        # Held by flock: locks of the other kind are lost when any descriptor closes.
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
