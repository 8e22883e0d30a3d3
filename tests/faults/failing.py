"""Acts on files that fail: those of SQLite and those of the program itself, counted as one row.

`disk.py` sees what SQLite does. What Python does by itself (spilled entries, the reserve, recipes,
papers, mirrors) goes through the functions of `os` and through files opened to be written; these
are put in front of here. Both ask the same question before an act: is it refused, and with what?
"""

from __future__ import annotations

import builtins
import errno
import io
import os
import signal
import sqlite3
import stat
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from tests.faults.disk import Act, Disk

#: What the system can answer, by turns.
ERRORS = (errno.EIO, errno.ENOSPC, errno.EDQUOT, errno.EROFS)
#: Times that never end.
FOR_GOOD = 1_000_000
_STANDARD_STREAMS = (0, 1, 2)
_TO_WRITE = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC

#: Asked before an act: the error of the system it fails with, 0 to let it be done.
Refuse = Callable[[Act], int]


def nth(first: int, error: int, times: int = 1, only: tuple[str, ...] = ()) -> Refuse:
    """Fail from the act numbered `first` on, from 0, for so many acts; `only` those, if named."""
    seen = -1

    def refuse(act: Act) -> int:
        nonlocal seen
        seen += 1
        wanted = not only or act.what in only
        return error if wanted and first <= seen < first + times else 0

    return refuse


def file_limit(size: int) -> Refuse:
    """A disk on which no file grows beyond `size` bytes."""
    return lambda act: errno.ENOSPC if act.what == "write" and act.at + len(act.data) > size else 0


def either(one: Refuse, other: Refuse) -> Refuse:
    """A disk with two faults: both are asked of every act."""
    def refuse(act: Act) -> int:
        errors = one(act), other(act)
        return errors[0] or errors[1]

    return refuse


def deadly(refuse: Refuse) -> Refuse:
    """Where an act would be refused the process is killed."""
    def die(act: Act) -> int:
        if refuse(act):
            os.kill(os.getpid(), signal.SIGKILL)
        return 0

    return die


def quota(folder: Path, free: int) -> Refuse:
    """A disk with so many bytes free now: what `folder` holds may grow by no more."""
    allowed = _used(folder) + free

    def refuse(act: Act) -> int:
        if act.what != "write":
            return 0
        grows = act.at + len(act.data) - _size(Path(act.path))
        return errno.ENOSPC if grows > 0 and _used(folder) + grows > allowed else 0

    return refuse


def _used(folder: Path) -> int:
    return sum(_size(path) for path in folder.rglob("*"))


def _size(path: Path) -> int:
    try:
        found = path.lstat()
    except FileNotFoundError:  # a thread beside has just removed it
        return 0
    return found.st_size if stat.S_ISREG(found.st_mode) else 0


def result_code(act: Act, error: int) -> int:
    """How SQLite's own layer tells of an error of the system; 0 for none."""
    if not error:
        return 0
    if act.what == "write" and error == errno.ENOSPC:
        return sqlite3.SQLITE_FULL
    return {"open": sqlite3.SQLITE_CANTOPEN, "write": sqlite3.SQLITE_IOERR_WRITE,
            "truncate": sqlite3.SQLITE_IOERR_TRUNCATE, "sync": sqlite3.SQLITE_IOERR_FSYNC,
            "delete": sqlite3.SQLITE_IOERR_DELETE}[act.what]


class Failing:
    """A process whose acts on files may be refused, while one is in it.

    Attributes:
        count: How many acts were begun.
        refused: How many of them were refused.
    """

    def __init__(self, refuse: Refuse) -> None:
        self.count = self.refused = 0
        self._refuse = refuse
        self._disk = Disk(lambda act: result_code(act, self._asked(act)))
        self._paths: dict[int, str] = {}
        self._usual = {name: getattr(os, name) for name in (
            "open", "write", "fsync", "ftruncate", "posix_fallocate", "unlink", "remove", "rename",
            "replace", "link", "mkdir") if hasattr(os, name)}
        self._usual_open = builtins.open

    def __enter__(self) -> Self:
        self._disk.__enter__()
        for name in self._usual:
            setattr(os, name, getattr(self, f"_{name}"))
        builtins.open = self._opened  # type: ignore[assignment]
        io.open = self._opened  # type: ignore[assignment]
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None,
                 trace: TracebackType | None) -> None:
        builtins.open = self._usual_open
        io.open = self._usual_open
        for name, function in self._usual.items():
            setattr(os, name, function)
        self._disk.__exit__(kind, error, trace)

    def _asked(self, act: Act) -> int:
        self.count += 1
        error = self._refuse(act)
        self.refused += bool(error)
        return error

    def _allow(self, what: str, path: Any, at: int = 0, data: bytes = b"") -> None:
        error = self._asked(Act(what, os.fspath(path), at, data))
        if error:
            raise OSError(error, os.strerror(error), os.fspath(path))

    def _path(self, file: int) -> str | None:
        """The regular file behind a descriptor; None for pipes and the standard streams."""
        if file in _STANDARD_STREAMS or not stat.S_ISREG(os.fstat(file).st_mode):
            return None
        return self._paths.get(file, f"descriptor {file}")

    # -- the functions of `os` ---------------------------------------------------------------

    def _open(self, path: Any, flags: int, *args: Any, **kwargs: Any) -> int:
        if flags & _TO_WRITE and path != os.devnull:
            self._allow("open", path)
        file: int = self._usual["open"](path, flags, *args, **kwargs)
        self._paths[file] = os.fspath(path)
        return file

    def _write(self, file: int, data: Any) -> int:
        path = self._path(file)
        if path is not None:
            self._allow("write", path, os.fstat(file).st_size, bytes(data))
        return int(self._usual["write"](file, data))

    def _fsync(self, file: int) -> None:
        self._allow("sync", self._paths.get(file, ""))
        self._usual["fsync"](file)

    def _ftruncate(self, file: int, size: int) -> None:
        self._allow("truncate", self._path(file) or "", size)
        self._usual["ftruncate"](file, size)

    def _posix_fallocate(self, file: int, at: int, size: int) -> None:
        self._allow("write", self._path(file) or "", at, bytes(size))
        self._usual["posix_fallocate"](file, at, size)

    def _unlink(self, path: Any, **kwargs: Any) -> None:
        self._allow("delete", path)
        self._usual["unlink"](path, **kwargs)

    _remove = _unlink

    def _rename(self, one: Any, to: Any, **kwargs: Any) -> None:
        self._allow("rename", one)
        self._usual["rename"](one, to, **kwargs)

    def _replace(self, one: Any, to: Any, **kwargs: Any) -> None:
        self._allow("rename", one)
        self._usual["replace"](one, to, **kwargs)

    def _link(self, one: Any, to: Any, **kwargs: Any) -> None:
        self._allow("link", one)
        self._usual["link"](one, to, **kwargs)

    def _mkdir(self, path: Any, *args: Any, **kwargs: Any) -> None:
        self._allow("mkdir", path)
        self._usual["mkdir"](path, *args, **kwargs)

    # -- files of Python ---------------------------------------------------------------------

    def _opened(self, file: Any, mode: str = "r", *args: Any, **kwargs: Any) -> Any:
        """A file as `open` gives it; in one to be written each write is an act."""
        if mode == "wb":
            if not isinstance(file, int):
                file = self._open(file, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o666)
            path = self._path(file)
            if path is not None:
                return io.BufferedWriter(_Written(file, path, self._allow))
        return self._usual_open(file, mode, *args, **kwargs)


class _Written(io.FileIO):
    """A file whose writes are asked for first."""

    def __init__(self, file: int, path: str, allow: Callable[..., None]) -> None:
        super().__init__(file, "wb")
        self._at, self._allow = path, allow

    def write(self, data: Any) -> int:
        self._allow("write", self._at, self.tell(), bytes(data))
        return int(super().write(data))
