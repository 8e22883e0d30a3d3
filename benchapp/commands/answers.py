"""How a command ends other than well, and what it says then to whoever typed it.

It imports very little, so that a mistyped word is answered at once.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable
from contextlib import suppress

Arguments = argparse.Namespace


class WrongUse(Exception):  # noqa: N818 - what is shown to a printer is no error
    """Not how this is used: exit 2. The message says how it is."""


class Refused(Exception):  # noqa: N818 - an answer
    """The answer is no: exit 1. The message says why and what to do; it may have many lines."""


class Stopped(Exception):  # noqa: N818 - a signal, not an error
    """A signal asked the program to end; what was acknowledged is on disk."""

    def __init__(self, signal: int) -> None:
        super().__init__(signal)
        self.signal = signal


class NotPrinted(Exception):  # noqa: N818 - what is shown to a printer is no error
    """What a command prints cannot be written, as on a full disk; the message says why."""


def warn(*lines: str) -> None:
    """Print lines to the error output; where that takes none, there is nobody to tell."""
    from benchapp.safe_text import sanitize

    with suppress(OSError):
        for line in lines:
            sys.stderr.write(sanitize(line) + "\n")


_FEW = 40
"""So many names are listed whole: all the commands there are, not years of sessions."""


def suggest_names(said: str, known: Iterable[str]) -> str:
    """What might have been meant: the nearest names, or all of a few."""
    import difflib

    names = list(dict.fromkeys(known))
    close = difflib.get_close_matches(said.casefold()[:200], names, n=3, cutoff=0.5)
    if close:
        return f"did you mean {' or '.join(close)}?"
    return f"there are {', '.join(names if len(names) <= _FEW else names[-8:])}"
