"""Files that are no files: `-` for the standard output and input, and pipes by a name."""

from __future__ import annotations

import io
import os
import stat
import sys
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

from benchapp import files
from benchapp.commands.context import NotPrinted, say, warn

STANDARD: Final = "-"
#: No book that is exported is larger.
MOST_BYTES: Final = 1024 ** 3
_PART: Final = 1024 * 1024


def is_stream(named: str) -> bool:
    """Whether it is `-`, or a pipe: it is written as it comes, and there is no file."""
    if named == STANDARD:
        return True
    try:
        return stat.S_ISFIFO(os.stat(Path(named).expanduser()).st_mode)  # noqa: PTH116
    except (OSError, ValueError, RuntimeError):
        return False


def write_stream(named: str, data: str | Iterable[str]) -> None:
    """Write to the standard output or a pipe: UTF-8, line ends as they are.

    Raises:
        NotPrinted: The system does not take it.
        FileProblem: The pipe cannot be written.
    """
    parts = [data] if isinstance(data, str) else data
    try:
        if named != STANDARD:
            with Path(named).expanduser().open("wb") as pipe:
                for part in parts:
                    pipe.write(part.encode("utf-8"))
            return
        sys.stdout.flush()
        out = getattr(sys.stdout, "buffer", None)
        for part in parts:
            if out is None:
                sys.stdout.write(part)
            else:
                out.write(part.encode("utf-8"))
        (out or sys.stdout).flush()
    except BrokenPipeError:
        raise
    except OSError as error:
        if named != STANDARD:
            raise files.system_problem(Path(named), "cannot be written", error) from None
        raise NotPrinted(files.system_said(error)) from None


def say_written(named: str, *lines: str) -> None:
    """Say that something was written; beside the standard output, which it was written to."""
    if named == STANDARD:
        warn(*lines[1:])
    else:
        say(*lines)


def read_stream(named: str, limit: int) -> bytes:
    """All that comes in by the standard input or a pipe, at most so many bytes.

    Raises:
        FileProblem: There is more, or it cannot be read.
    """
    what = "the standard input" if named == STANDARD else named
    try:
        with _source(named) as raw:
            data = bytes(raw.read(limit + 1))
    except OSError as error:
        raise files.FileProblem(f"{what}: cannot be read: {files.system_said(error)}") from None
    if len(data) > limit:
        raise files.FileProblem(f"{what}: is larger than {limit // 1024} KiB")
    return data


@contextmanager
def as_file(named: str) -> Iterator[Path]:
    """What comes in by the standard input or a pipe as a file, gone afterwards; else the file.

    It is read more than once: looked at before a book is made for it.

    Raises:
        FileProblem: There is more than 1 GiB, or it cannot be read or kept.
    """
    if not is_stream(named):
        yield Path(named).expanduser()
        return
    with tempfile.TemporaryDirectory(prefix="benchapp-import-") as folder:
        path = Path(folder) / ("standard input" if named == STANDARD else "pipe")
        size = 0
        try:
            with _source(named) as raw, path.open("wb") as out:
                while part := raw.read(_PART):
                    size += len(part)
                    if size > MOST_BYTES:
                        raise files.FileProblem(f"{path.name}: is larger than 1 GiB; import a "
                                                "file")
                    out.write(part)
        except OSError as error:
            raise files.system_problem(path, "cannot be kept", error) from None
        yield path


@contextmanager
def _source(named: str) -> Iterator[Any]:
    if named != STANDARD:
        with Path(named).expanduser().open("rb") as raw:
            yield raw
        return
    buffer = getattr(sys.stdin, "buffer", None)
    yield buffer if buffer is not None else io.BytesIO(sys.stdin.read().encode("utf-8"))
