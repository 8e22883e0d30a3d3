"""The command line: parse, call, print; and the outermost edge, where nothing is let through."""

from __future__ import annotations

import importlib
import os
import shlex
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import IO, Final

from benchapp.book.errors import BookError
from benchapp.commands.context import Arguments, NotPrinted, Refused, Stopped, WrongUse, warn
from benchapp.commands.parser import CALLS, parse_arguments
from benchapp.files.problems import DiskProblem, FileProblem, shown_path, system_said

DONE: Final = 0
NO: Final = 1
WRONG: Final = 2
BOOK: Final = 3
#: What a shell calls a program ended by that signal.
_BY_SIGNAL: Final = 128
_SIGINT: Final = 2
_SIGPIPE: Final = 13
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
        return _said(problem, WRONG)
    if argv is None and _has_the_screen(arguments):
        from benchapp.calls.guard import run_guarded

        # Before any book is open, and before Textual and its threads are there.
        return run_guarded(lambda: _done(arguments), _how_to_go_on(arguments))
    return _done(arguments)


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
    return shlex.join(words)


def _done(arguments: Arguments) -> int:
    try:
        code = _called(arguments)
        sys.stdout.flush()
    except BrokenPipeError:
        return _nobody_reads()
    except OSError as error:
        return _not_printed(system_said(error))
    return code


def _called(arguments: Arguments) -> int:
    try:
        return _command(arguments.command)(arguments)
    except DiskProblem as problem:
        return _said(problem, BOOK)
    except (WrongUse, FileProblem) as problem:
        return _said(problem, WRONG)
    except Refused as answer:
        return _said(answer, NO)
    except BookError as error:
        return _said(error, BOOK)
    except NotPrinted as problem:
        return _not_printed(str(problem))
    except Stopped as stopped:
        return _BY_SIGNAL + stopped.signal
    except KeyboardInterrupt:
        return _BY_SIGNAL + _SIGINT
    except BrokenPipeError:
        raise
    except OSError as error:
        return _said(_refused(error), BOOK)
    except Exception as error:  # noqa: BLE001 - the outermost edge: a printer gets no traceback
        warn(f"benchapp failed: {type(error).__name__}: {error}",
             "Everything that was shown as done is in the book. To continue an open session: "
             "benchapp resume")
        return BOOK


def _refused(error: OSError) -> DiskProblem:
    """What the system did not let us do, where nothing nearer to it knew what to say."""
    where = f"{shown_path(error.filename)} cannot be used" if error.filename else (
        "The system refused something")
    return DiskProblem(f"{where}: {system_said(error)}. Check that the folder is yours and its "
                       "disk is there, or choose another folder with BENCHAPP_HOME.")


def _command(name: str | None) -> Callable[[Arguments], int]:
    """The function of a command; its module is imported only now."""
    module, function = CALLS[name]
    found: Callable[[Arguments], int] = getattr(
        importlib.import_module(f"benchapp.commands.{module}"), function)
    return found


def _said(problem: Exception, code: int) -> int:
    warn(*str(problem).split("\n"))
    return code


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
    return Path(os.devnull).open(mode, encoding="utf-8")


def _nobody_reads() -> int:
    """The reader has gone: end quietly, and let the last flush go nowhere."""
    _write_nowhere()
    return _BY_SIGNAL + _SIGPIPE


def _not_printed(why: str) -> int:
    _write_nowhere()
    warn(f"The output of this command could not be written: {why}. "
         "What it wrote in the book is kept.")
    return BOOK


def _write_nowhere() -> None:
    """Have what is printed from now on, the last flush too, go nowhere."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
