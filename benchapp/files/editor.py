"""The printer's editor: as they named it, or the first that the system has."""

from __future__ import annotations

import shlex
import shutil
from collections.abc import Callable, Mapping
from typing import Final

from benchapp.safe_text import sanitize

#: Where nobody named one; the first is the system's own choice where it has one.
_UNIX: Final = ("editor", "nano", "vi")
_WINDOWS: Final = ("notepad",)


def find_editor(environ: Mapping[str, str], platform: str,
                which: Callable[[str], str | None] = shutil.which) -> tuple[str, ...]:
    """The command that opens a file for writing, without the file.

    Args:
        environ: The environment variables: VISUAL comes before EDITOR.
        platform: As `sys.platform` has it.
        which: Finds a program; the system's own way if not given.

    Raises:
        LookupError: There is none, or the one named is not there; says what to do.
    """
    windows = platform.startswith("win")
    for name in ("VISUAL", "EDITOR"):
        named = environ.get(name, "").strip()
        if not named:
            continue
        try:
            words = tuple(shlex.split(named, posix=not windows))
        except ValueError:  # a quote that is never closed
            words = (named,)
        if words and which(words[0].strip('"')) is not None:
            return (words[0].strip('"'), *words[1:])
        raise LookupError(f"{name} names {sanitize(named)}, which is not there. "
                          f"Name your editor in {name}.")
    for one in _WINDOWS if windows else _UNIX:
        if which(one) is not None:
            return (one,)
    raise LookupError("No editor was found. Name yours in the variable EDITOR.")
