"""The arguments of the commands of a day, of recipes, and of this machine."""

from __future__ import annotations

import argparse
import re
from fractions import Fraction
from typing import Final

from benchapp.commands import beside_words, outward_words
from benchapp.commands.reckon_read import Figure
from benchapp.quantities import read_percentage

_SPEED: Final = re.compile(r"(\d{1,5}(?:\.\d{1,3})?)\s*x?")
_FASTEST: Final = 10_000


def _plain(one: argparse.ArgumentParser) -> None:
    one.add_argument("--plain", action="store_true",
                     help="by lines, without a screen; an empty line goes on, help lists "
                          "the words")
    one.add_argument("--aloud", action="store_true",
                     help="with --plain: say calls, ends of waits and steps aloud")


def _json(one: argparse.ArgumentParser | argparse._MutuallyExclusiveGroup) -> None:
    one.add_argument("--json", action="store_true", help="one JSON document")


def add_files_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `files`."""
    either = one.add_mutually_exclusive_group()
    either.add_argument("--open", action="store_true", help="open the folder of your pages")
    _json(either)


def add_run_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `run`."""
    one.add_argument("recipe", metavar="RECIPE", help="a recipe's name or file")
    one.add_argument("--wanted", type=_number, metavar="N",
                     help="how many impressions should count")
    _plain(one)


def add_resume_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `resume`."""
    one.add_argument("session", metavar="SESSION", nargs="?",
                     help="its name, last or yesterday; without it, the one you worked on last")
    _plain(one)


def add_rehearse_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `rehearse`."""
    one.add_argument("recipe", metavar="RECIPE", help="a recipe's name or file")
    one.add_argument("--speed", type=_speed, metavar="X", default=Fraction(60),
                     help="minutes that pass in one minute (60)")
    _plain(one)


def add_new_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `new`."""
    one.add_argument("name", metavar="NAME", help="what the recipe is called")
    after = one.add_mutually_exclusive_group()
    after.add_argument("--like", metavar="RECIPE", help="begin from this recipe")
    after.add_argument("--from", metavar="SESSION", dest="from_",
                       help="begin from the recipe of a session: last, yesterday or its name")


def add_check_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `check`."""
    one.add_argument("recipe", metavar="RECIPE", help="a recipe's name or file")
    _json(one)


def add_review_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `review`."""
    one.add_argument("session", metavar="SESSION", nargs="?", default="last",
                     help="its name, last (if none is named) or yesterday")
    _json(one)
    beside_words.add_charts_option(one)
    outward_words.add_html_options(one)


def add_sessions_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `sessions`."""
    one.add_argument("--all", action="store_true", help="list discarded sessions too")
    _json(one)


def add_discard_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `discard`."""
    one.add_argument("session", metavar="SESSION",
                     help="its name, last or yesterday; its entries stay in the book")
    one.add_argument("--yes", action="store_true", help="do not ask")


def add_damp_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `damp`."""
    one.add_argument("recipe", metavar="RECIPE", nargs="?",
                     help="the recipe the paper is for; without it, list the packs")
    one.add_argument("--sheets", type=_number, metavar="N",
                     help="how many sheets; without it, they are not counted")


def add_calls_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `calls`."""
    one.add_argument("--sound", choices=("on", "soft", "off"), metavar="HOW",
                     help="loudness: on, soft or off")
    one.add_argument("--voice", choices=("on", "off"), metavar="ON|OFF",
                     help="speak words too: on or off")
    one.add_argument("--player", metavar="NAME",
                     help="the player to try first; bell: only the terminal's bell")
    _json(one)


def add_prepare_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `prepare`."""
    one.add_argument("recipe", metavar="RECIPE", help="a recipe's name or file")
    one.add_argument("--wanted", type=_number, metavar="N", required=True,
                     help="how many impressions should count")
    one.add_argument("--sure", type=Figure("--sure", read_percentage), metavar="PERCENT",
                     help="how sure you want to be of them (90%%)")
    form = one.add_mutually_exclusive_group()
    form.add_argument("--why", action="store_true",
                      help="show every figure it rests on, and where each comes from")
    _json(form)


def add_help_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `help`."""
    one.add_argument("topic", metavar="TOPIC", nargs="?",
                     help="a topic or a command; without it, all of them are listed")
    one.add_argument("--man", action="store_true", help="write the manual page (for man)")


def add_completion_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `completion`."""
    one.add_argument("shell", metavar="SHELL", choices=("bash", "zsh", "fish"),
                     help="bash, zsh or fish")


def _number(text: str) -> int:
    if not (text.isascii() and text.isdigit()) or not 1 <= int(text[:10]) <= 100_000:
        raise argparse.ArgumentTypeError(f"{text} is not a count; write a whole number from 1 up")
    return int(text)


def _speed(text: str) -> Fraction:
    found = _SPEED.fullmatch(text.strip())
    speed = Fraction(found[1]) if found else Fraction(0)
    if not 0 < speed <= _FASTEST:
        raise argparse.ArgumentTypeError(
            f"{text} is not a speed; write a number above 0, at most {_FASTEST}")
    return speed
