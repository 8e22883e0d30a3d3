"""A command run to its exit code: the outermost edge, where nothing is let through."""

from __future__ import annotations

import os
import sys
from typing import Final

from benchapp.book.errors import BookError
from benchapp.commands.answers import Arguments, NotPrinted, Refused, Stopped, WrongUse, warn
from benchapp.commands.table import COMMANDS, STUDIO, called
from benchapp.files.problems import DiskProblem, FileProblem, shown_path, system_said

NO: Final = 1
WRONG: Final = 2
BOOK: Final = 3
#: What a shell calls a program ended by that signal.
_BY_SIGNAL: Final = 128
_SIGINT: Final = 2
_SIGPIPE: Final = 13


def exit_code(arguments: Arguments) -> int:
    """Run the command that was typed; whatever comes of it becomes words and an exit code."""
    try:
        code = _run(arguments)
        sys.stdout.flush()
    except BrokenPipeError:
        return _nobody_reads()
    except OSError as error:
        return _not_printed(system_said(error))
    return code


def _run(arguments: Arguments) -> int:
    name = arguments.command
    try:
        return int(called(STUDIO if name is None else COMMANDS[name].runs)(arguments))
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


def _said(problem: Exception, code: int) -> int:
    warn(*str(problem).split("\n"))
    return code


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
