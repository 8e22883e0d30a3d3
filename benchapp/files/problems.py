"""What can be wrong with a file, said to the printer."""

from __future__ import annotations

from os import PathLike, fspath

from benchapp.shown import visible


class FileProblem(Exception):  # noqa: N818 - what is shown to a printer is a problem
    """A file cannot be read or written as asked.

    Attributes:
        message: What is wrong, where, and what to do; one line, fit to be shown.
    """

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


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


def shown_path(path: str | PathLike[str]) -> str:
    """A path for a message, on one line and with nothing invisible in it."""
    return visible(fspath(path))


def system_said(error: OSError | ValueError) -> str:
    """What the system said, in its words: `Permission denied`."""
    if isinstance(error, OSError) and error.strerror:
        return error.strerror
    return visible(str(error))
