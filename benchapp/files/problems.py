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


_FREE_SPACE: Final = "Free some space on its disk, then do this again."
_CONNECT: Final = "See that its disk is connected and sound, then do this again."
#: What to do about an error that is the disk's. Not every system knows every name.
_OF_THE_DISK: Final = {
    getattr(errno, name): todo for name, todo in (
        ("ENOSPC", _FREE_SPACE), ("EDQUOT", _FREE_SPACE),
        ("EFBIG", "Its disk takes no file so large. Use another disk."),
        ("EROFS", "Make its disk writable, or use a folder on another disk."),
        ("EIO", _CONNECT), ("ENODEV", _CONNECT), ("ENXIO", _CONNECT), ("ESTALE", _CONNECT),
    ) if hasattr(errno, name)}


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
    # Each version of the interpreter has its own words for this one.
    why = "its name has a zero byte in it" if "\0" in fspath(path) else system_said(error)
    said = f"{shown_path(path)}: {what} ({why})"
    todo = _OF_THE_DISK.get(error.errno or 0) if isinstance(error, OSError) else None
    return FileProblem(said) if todo is None else DiskProblem(f"{said}. {todo}")


def shown_path(path: str | PathLike[str]) -> str:
    """A path for a message, on one line and with nothing invisible in it."""
    return sanitize(fspath(path))


def system_said(error: OSError | ValueError) -> str:
    """What the system said, in its words: `Permission denied`."""
    if isinstance(error, OSError) and error.strerror:
        return error.strerror
    return sanitize(str(error))
