"""What the program's own SQLite does to its files, seen and, where wanted, refused.

A file layer of SQLite is put before the usual one, through ctypes, in the very library that the
interpreter's `sqlite3` uses: the program is as it is. Reading, locking and the index of the log
stay the system's; writing, cutting, syncing and removing are seen here first.
"""

from __future__ import annotations

import _sqlite3
import ctypes as c
import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from types import TracebackType
from typing import Any, Self

_P, _I, _L = c.c_void_p, c.c_int, c.c_int64
_OPEN = c.CFUNCTYPE(_I, _P, _P, _P, _I, _P)
_DELETE = c.CFUNCTYPE(_I, _P, c.c_char_p, _I)
_WRITE = c.CFUNCTYPE(_I, _P, _P, _I, _L)
_TRUNCATE = c.CFUNCTYPE(_I, _P, _L)
_SYNC = c.CFUNCTYPE(_I, _P, _I)


class _Methods(c.Structure):
    """`sqlite3_io_methods`."""

    _fields_ = (("version", _I), ("close", _P), ("read", _P), ("write", _P), ("truncate", _P),
                ("sync", _P), *((f"kept{n}", _P) for n in range(13)))


class _Layer(c.Structure):
    """`sqlite3_vfs`."""

    _fields_ = (("version", _I), ("file_size", _I), ("longest", _I), ("next", _P),
                ("name", c.c_char_p), ("data", _P), ("open", _P), ("delete", _P),
                *((f"kept{n}", _P) for n in range(14)))


def _library() -> Any:
    """SQLite as the interpreter has it; None: its functions cannot be called by name."""
    if sys.platform == "win32":
        return None
    for place in (getattr(_sqlite3, "__file__", None), None):
        library = c.CDLL(place)
        if hasattr(library, "sqlite3_vfs_find"):
            library.sqlite3_vfs_find.restype = c.POINTER(_Layer)
            return library
    return None


_SQLITE = _library()
#: Whether this interpreter lets a layer be put in.
CAN_BE_SEEN = _SQLITE is not None


@dataclass(frozen=True, slots=True)
class Act:
    """One thing done to a file.

    Attributes:
        what: `open`, `write`, `truncate`, `sync` or `delete`.
        path: The file.
        at: Where it is written, or how long the file is cut, in bytes; for `delete`, 1 when the
            folder is synced too.
        data: What is written.
    """

    what: str
    path: str
    at: int = 0
    data: bytes = b""


@dataclass
class Disk:
    """The layer, while one is in it: every act in `acts`.

    Attributes:
        refuse: Asked before an act: the result code it fails with, 0 to let it be done.
        acts: What was done.
    """

    refuse: Callable[[Act], int] = lambda _: 0
    acts: list[Act] = field(default_factory=list)

    def __enter__(self) -> Self:
        self._usual = _SQLITE.sqlite3_vfs_find(None)
        self._layer = _Layer.from_buffer_copy(self._usual.contents)
        self._layer.name = b"seen"
        self._names: dict[int, str] = {}
        self._kept: list[Any] = []
        self._methods: dict[int, _Methods] = {}
        usual = self._usual.contents
        self._layer.open = self._held(_OPEN, self._opener(_OPEN(usual.open)))
        self._layer.delete = self._held(_DELETE, self._deleter(_DELETE(usual.delete)))
        _SQLITE.sqlite3_vfs_register(c.byref(self._layer), 1)
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None,
                 trace: TracebackType | None) -> None:
        _SQLITE.sqlite3_vfs_unregister(c.byref(self._layer))
        _SQLITE.sqlite3_vfs_register(self._usual, 1)

    def _held(self, kind: Any, function: Callable[..., int]) -> int | None:
        made = kind(function)
        self._kept.append(made)
        return c.cast(made, _P).value

    def _done(self, act: Act, really: Callable[[], int]) -> int:
        code = self.refuse(act) or really()
        if code == 0:
            self.acts.append(act)
        return code

    def _opener(self, usual: Any) -> Callable[..., int]:
        def open_file(_: int, name: int | None, file: int, flags: int, out: int | None) -> int:
            def really() -> int:
                return int(usual(c.cast(self._usual, _P), name, file, flags, out))

            if not name:
                return really()  # one for this moment alone
            path = c.string_at(name).decode()
            code = self._done(Act("open", path), really)
            methods = c.cast(file, c.POINTER(_P))
            if code == 0 and methods[0]:
                self._names[file] = path
                methods[0] = c.addressof(self._seen(methods[0]))
            return code

        return open_file

    def _seen(self, usual_at: int) -> _Methods:
        """The methods of a file, ours before the usual ones; made once for each kind."""
        if usual_at not in self._methods:
            usual = _Methods.from_address(usual_at)
            # The system's own have fewer fields in their older versions; those are not called.
            seen = _Methods.from_buffer_copy(usual)
            seen.write = self._held(_WRITE, self._writer(_WRITE(usual.write)))
            seen.truncate = self._held(_TRUNCATE, self._cutter(_TRUNCATE(usual.truncate)))
            seen.sync = self._held(_SYNC, self._syncer(_SYNC(usual.sync)))
            self._methods[usual_at] = seen
        return self._methods[usual_at]

    def _writer(self, usual: Any) -> Callable[..., int]:
        return lambda file, data, size, at: self._done(
            Act("write", self._names[file], at, c.string_at(data, size)),
            lambda: int(usual(file, data, size, at)))

    def _cutter(self, usual: Any) -> Callable[..., int]:
        return lambda file, size: self._done(
            Act("truncate", self._names[file], size), lambda: int(usual(file, size)))

    def _syncer(self, usual: Any) -> Callable[..., int]:
        return lambda file, flags: self._done(
            Act("sync", self._names[file]), lambda: int(usual(file, flags)))

    def _deleter(self, usual: Any) -> Callable[..., int]:
        return lambda _, name, sync: self._done(
            Act("delete", name.decode(), sync),
            lambda: int(usual(c.cast(self._usual, _P), name, sync)))
