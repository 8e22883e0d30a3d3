"""A recipe without times is planned by a guess: given as an option, or asked for on a terminal."""

from __future__ import annotations

import sys
from dataclasses import replace
from typing import Final

from benchapp.commands.context import WrongUse, warn
from benchapp.planning.question import DayQuestion
from benchapp.planning.times import ASK, TimedRecipe, missing_words, read_guess
from benchapp.quantities import QuantityError, minutes_text

_OPTION: Final = '--each-takes "40 min"'


def ask_guesses(asked: DayQuestion, known: TimedRecipe) -> DayQuestion:
    """The day asked for, with a guess where the recipe needs one.

    Raises:
        WrongUse: It needs one, and nobody can be asked.
    """
    if not known.missing:
        if asked.each_ms is not None and known.guess is None:
            warn("--each-takes is not used: every step of a print has a time.")
        return asked
    said = missing_words(known.missing)
    if asked.each_ms is not None:
        raise WrongUse(f"--each-takes: the steps with a time take {minutes_text(known.least)} a "
                       "print already; write a longer time")
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        raise WrongUse(f"{said}. Say how long one print takes: {_OPTION}")
    return replace(asked, each_ms=_ask(said, known.least))


def _ask(said: str, least: int) -> int:
    """The answer, asked beside the output until it is one.

    Raises:
        WrongUse: None was given.
    """
    warn(f"{said}.")
    while True:
        warn(f"{ASK} A guess will do, such as 40 min.")
        sys.stderr.flush()
        answer = sys.stdin.readline().strip()
        if not answer:
            raise WrongUse(f"Nothing is planned. Say how long one print takes: {_OPTION}")
        try:
            return read_guess(answer, least)
        except QuantityError as error:
            warn(str(error))
