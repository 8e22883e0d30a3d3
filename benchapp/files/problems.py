"""What can be wrong with a file, said to the printer."""

from __future__ import annotations

import errno
from os import PathLike, fspath
from typing import Final

from benchapp.safe_text import sanitize


class FileProblem(Exception):  # noqa: N818 - what is shown to a printer is a problem
    """A file cannot be read or written as asked.

    Attributes:
        message: What is wrong, where, and what to do; one line, fit to be shown.
    """

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


class DiskProblem(FileProblem):
    """The disk, not how it was asked: it is full, or it fails."""


class AlreadyThere(FileProblem):
    """A new file was to be written where one is."""


class UnknownRecipe(FileProblem):
    """No recipe has the name asked for.

    Attributes:
        nearest: Names that are there and look like it, the likest first.
    """

    def __init__(self, message: str, nearest: tuple[str, ...]) -> None:
        super().__init__(message)
        self.nearest = nearest


_OF_THE_DISK: Final = frozenset({
    errno.ENOSPC, errno.EIO, errno.EFBIG, errno.ENODEV, errno.ENXIO,
    *(getattr(errno, name) for name in ("EDQUOT", "ESTALE") if hasattr(errno, name))})


def system_problem(
    path: str | PathLike[str], what: str, error: OSError | ValueError
) -> FileProblem:
    """What the system said of a file, as a problem for the printer.

    Args:
        path: The file.
        what: What could not be done, such as `cannot be read`.
        error: The system's own error.

    Returns:
        A `DiskProblem` where the disk is at fault, such as a full one; else a `FileProblem`.
    """
    disk = isinstance(error, OSError) and error.errno in _OF_THE_DISK
    kind = DiskProblem if disk else FileProblem
    return kind(f"{shown_path(path)}: {what} ({system_said(error)})")


def shown_path(path: str | PathLike[str]) -> str:
    """A path for a message, on one line and with nothing invisible in it."""
    return sanitize(fspath(path))


def system_said(error: OSError | ValueError) -> str:
    """What the system said, in its words: `Permission denied`."""
    if isinstance(error, OSError) and error.strerror:
        return error.strerror
    return sanitize(str(error))
