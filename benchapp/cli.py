"""The command line: what was typed, and the command that is run for it.

To say the version or the front page it needs neither the book nor any room.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import IO, Final

from benchapp.commands.answers import Arguments, WrongUse, warn
from benchapp.commands.parser import parse_arguments

DONE: Final = 0
WRONG: Final = 2
#: Commands that take the terminal over, if not by lines: a parent waits to give it back.
_ON_SCREEN: Final = frozenset({None, "run", "resume", "rehearse", "demo", "switch"})


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command. Gives the exit code.

    Args:
        argv: The arguments; those of the process if None.
    """
    _prepare()
    try:
        arguments = parse_arguments(sys.argv[1:] if argv is None else argv)
    except SystemExit as ended:  # help or the version, printed by the parser
        return ended.code if isinstance(ended.code, int) else DONE
    except WrongUse as problem:
        warn(*str(problem).split("\n"))
        return WRONG
    from benchapp.commands.ending import exit_code

    if argv is None and _has_the_screen(arguments):
        from benchapp.calls.guard import run_guarded

        # Before any book is open, and before Textual and its threads are there.
        return run_guarded(lambda: exit_code(arguments), _how_to_go_on(arguments))
    return exit_code(arguments)


def _has_the_screen(arguments: Arguments) -> bool:
    """Whether a command takes the terminal over: the others are one process."""
    return arguments.command in _ON_SCREEN and not getattr(arguments, "plain", False)


def _how_to_go_on(arguments: Arguments) -> str | None:
    """The command that takes up what a screen was ended in; None: nothing of it is kept."""
    if arguments.command in ("rehearse", "demo"):
        return None
    book = getattr(arguments, "book", None)
    words = ["benchapp", *(["resume"] if arguments.command in ("run", "resume") else []),
             *(["--book", book] if book else [])]
    import shlex

    return shlex.join(words)


def _prepare() -> None:
    """Have neither a closed stream nor a locale end the program.

    What a locale cannot write becomes a question mark. A stream that was closed reads as ended
    and writes to nowhere; its number is taken, or the book might get it and be written into.
    """
    for number, name, mode in ((0, "stdin", "r"), (1, "stdout", "w"), (2, "stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, _opened_nowhere(number, mode))
    for stream, errors in ((sys.stdin, "surrogateescape"), (sys.stdout, "replace"),
                           (sys.stderr, "backslashreplace")):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors=errors)


def _opened_nowhere(number: int, mode: str) -> IO[str]:
    try:
        os.fstat(number)
    except OSError:
        nowhere = os.open(os.devnull, os.O_RDWR)
        if nowhere != number:
            os.dup2(nowhere, number)
            os.close(nowhere)
        return open(number, mode, encoding="utf-8", closefd=False)
    return open(os.devnull, mode, encoding="utf-8")  # noqa: PTH123 - pathlib would cost every start
