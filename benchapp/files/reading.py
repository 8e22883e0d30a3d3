"""Reading with limits: a file is looked at before it is read."""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import Final

from benchapp.files.problems import FileProblem, shown_path, system_problem

#: No text a person writes for this program is larger.
MOST_BYTES: Final = 256 * 1024


def read_bytes(path: Path, limit: int = MOST_BYTES) -> bytes:
    """The bytes of a regular file of at most `limit` bytes.

    Raises:
        FileProblem: It is not there, not a regular file (nothing is read from a
            pipe or a device, which may never end), too large, or not readable.
    """
    try:
        _look(path, os.stat(path), limit)  # noqa: PTH116 - stat() before any opening
        # Not blocking: what was a file a moment ago may have become a pipe.
        with open(os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0)), "rb") as file:  # noqa: PTH123
            _look(path, os.fstat(file.fileno()), limit)
            data = file.read(limit + 1)
    except FileNotFoundError:
        raise FileProblem(f"{shown_path(path)}: no such file") from None
    except (OSError, ValueError) as error:
        raise system_problem(path, "cannot be read", error) from None
    if len(data) > limit:
        raise _too_large(path, limit)
    return data


def _look(path: Path, found: os.stat_result, limit: int) -> None:
    if stat.S_ISDIR(found.st_mode):
        raise FileProblem(f"{shown_path(path)}: is a folder; name a file in it")
    if not stat.S_ISREG(found.st_mode):
        raise FileProblem(f"{shown_path(path)}: is not a regular file; name a text file")
    if found.st_size > limit:
        raise _too_large(path, limit)


def _too_large(path: Path, limit: int) -> FileProblem:
    size = f"{limit // 1024} KiB" if limit >= 1024 else f"{limit} bytes"
    return FileProblem(f"{shown_path(path)}: is larger than {size}; keep one print in one file")


def read_text(path: Path, limit: int = MOST_BYTES) -> str:
    """The text of a UTF-8 file of at most `limit` bytes, line ends as they are.

    Raises:
        FileProblem: As `read_bytes`, and where a byte is not UTF-8, with its place.
    """
    data = read_bytes(path, limit)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start]
        line = before.count(b"\n") + 1
        column = error.start - (before.rfind(b"\n") + 1) + 1
        raise FileProblem(
            f"{shown_path(path)}: line {line}, byte {column} is not UTF-8; "
            "save it as UTF-8 in your editor"
        ) from None
