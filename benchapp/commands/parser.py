"""The arguments: every command and option, and what is near to one that is not there."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterable, Sequence
from difflib import get_close_matches
from fractions import Fraction
from typing import Any, Final, NoReturn

import benchapp
from benchapp.commands import (
    beside_words,
    book_words,
    edition_words,
    outward_words,
    planning_words,
    reckon_words,
)
from benchapp.commands.context import WrongUse, suggest_names
from benchapp.commands.front_page import front_page
from benchapp.commands.reckon_read import Figure
from benchapp.quantities import read_percentage

#: What `main` calls for each command: the module under `commands`, and its function.
CALLS: Final[dict[str | None, tuple[str, str]]] = {
    None: ("screens",
           "show_studio"), "run": ("run", "run_session"), "resume": ("run", "resume_session"),
    "rehearse": ("run", "rehearse_day"), "demo": ("screens",
                                                  "show_demo"), "new": ("recipes", "new_recipe"),
    "check": ("recipes", "check_recipe"), "sessions": ("show", "list_sessions"),
    "discard": ("discarding", "discard_session"), "review": ("show", "show_review"),
    "damp": ("damping", "start_damping"), "files": ("show", "show_places"),
    "switch": ("screens", "learn_switch"),
    "calls": ("test_calls", "try_calls"),
    "reckon": ("reckon", "answer_question"), "prepare": ("preparing", "show_checklist"),
    "help": ("show_help", "show_help"), "completion": ("completion", "write_completion"),
    **beside_words.CALLS, **book_words.CALLS, **edition_words.CALLS, **outward_words.CALLS,
    **planning_words.CALLS,
}

_SPEED: Final = re.compile(r"(\d{1,5}(?:\.\d{1,3})?)\s*x?")
_FASTEST: Final = 10_000


class _Parser(argparse.ArgumentParser):
    """A parser whose refusals are ours, with the nearest word there is."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(allow_abbrev=False, **kwargs)
        self.color = False  # Python 3.14 would paint help and refusals in colours of its own

    def error(self, message: str) -> NoReturn:
        raise WrongUse(f"{message}\n{self.format_usage().strip()}")

    def _check_value(self, action: argparse.Action, value: Any) -> None:
        if action.choices is not None and value not in action.choices:
            what = action.metavar if isinstance(action.metavar, str) else "word"
            if action.dest == "command":
                raise WrongUse(_no_command(str(value), map(str, action.choices)))
            offer = suggest_names(str(value), map(str, action.choices))
            raise WrongUse(f"There is no {what} {value}; {offer}")


def _no_command(said: str, known: Iterable[str]) -> str:
    """Words for a command that is not there, with the three that are written most like it."""
    near = get_close_matches(said.casefold()[:200], list(known), n=3, cutoff=0)
    return (f"There is no command {said}. Written most like it: {', '.join(near)}. "
            "To see all commands: benchapp help")


def parse_arguments(argv: Sequence[str]) -> argparse.Namespace:
    """The arguments of one call.

    Raises:
        WrongUse: They are none of ours; the message says what is near.
        SystemExit: Help or the version was asked for, and printed.
    """
    parser = make_parser()
    arguments, rest = parser.parse_known_args(argv)
    if not rest:
        return arguments
    strange = next((x for x in rest if x.startswith("-")), rest[0])
    known = getattr(arguments, "within", None) or parser.commands.get(arguments.command, parser)
    if not strange.startswith("-"):
        raise WrongUse(f"{strange} is one word too many\n{known.format_usage().strip()}")
    offer = suggest_names(strange.partition("=")[0], _options(known))
    raise WrongUse(f"There is no option {strange}; {offer}")


def _options(parser: argparse.ArgumentParser) -> Iterable[str]:
    return [x for action in parser._actions for x in action.option_strings if x.startswith("--")]


class MainParser(_Parser):
    """The parser of the program, which knows those of its commands."""

    commands: dict[str | None, argparse.ArgumentParser]

    def format_help(self) -> str:
        """The commands in groups, with examples."""
        return front_page({name: help_ for name, help_, _ in _COMMANDS})


def make_parser() -> MainParser:
    """The parser of all commands."""
    main = MainParser(prog="benchapp", description=benchapp.__doc__)
    main.add_argument("-V", "--version", action="version",
                      version=f"benchapp {benchapp.__version__}", help="show the version")
    main.add_argument("--book", metavar="FILE", help="use another book than the studio's")
    made = main.add_subparsers(dest="command", metavar="command", parser_class=_Parser)
    main.commands = {}
    for name, help_, add in _COMMANDS:
        one = made.add_parser(name, help=help_, description=help_[:1].upper() + help_[1:] + ".")
        # Before or after the command: what is not given here leaves what stood before.
        one.add_argument("--book", metavar="FILE", default=argparse.SUPPRESS,
                         help="use another book than the studio's")
        add(one)
        main.commands[name] = one
    return main


def _plain(one: argparse.ArgumentParser) -> None:
    one.add_argument("--plain", action="store_true",
                     help="by lines, without a screen; an empty line goes on, help lists "
                          "the words")
    one.add_argument("--aloud", action="store_true",
                     help="with --plain: say calls, ends of waits and steps aloud")


def _json(one: argparse.ArgumentParser | argparse._MutuallyExclusiveGroup) -> None:
    one.add_argument("--json", action="store_true", help="one JSON document")


def _files(one: argparse.ArgumentParser) -> None:
    either = one.add_mutually_exclusive_group()
    either.add_argument("--open", action="store_true", help="open the folder of your pages")
    _json(either)


def _run(one: argparse.ArgumentParser) -> None:
    one.add_argument("recipe", metavar="RECIPE", help="a recipe's name or file")
    one.add_argument("--wanted", type=_number, metavar="N",
                     help="how many impressions should count")
    _plain(one)


def _resume(one: argparse.ArgumentParser) -> None:
    one.add_argument("session", metavar="SESSION", nargs="?",
                     help="its name, last or yesterday; without it, the one you worked on last")
    _plain(one)


def _rehearse(one: argparse.ArgumentParser) -> None:
    one.add_argument("recipe", metavar="RECIPE", help="a recipe's name or file")
    one.add_argument("--speed", type=_speed, metavar="X", default=Fraction(60),
                     help="minutes that pass in one minute (60)")
    _plain(one)


def _new(one: argparse.ArgumentParser) -> None:
    one.add_argument("name", metavar="NAME", help="what the recipe is called")
    after = one.add_mutually_exclusive_group()
    after.add_argument("--like", metavar="RECIPE", help="begin from this recipe")
    after.add_argument("--from", metavar="SESSION", dest="from_",
                       help="begin from the recipe of a session: last, yesterday or its name")


def _check(one: argparse.ArgumentParser) -> None:
    one.add_argument("recipe", metavar="RECIPE", help="a recipe's name or file")
    _json(one)


def _review(one: argparse.ArgumentParser) -> None:
    one.add_argument("session", metavar="SESSION", nargs="?", default="last",
                     help="its name, last (if none is named) or yesterday")
    _json(one)
    beside_words.add_charts_option(one)
    outward_words.add_html_options(one)


def _sessions(one: argparse.ArgumentParser) -> None:
    one.add_argument("--all", action="store_true", help="list discarded sessions too")
    _json(one)


def _discard(one: argparse.ArgumentParser) -> None:
    one.add_argument("session", metavar="SESSION",
                     help="its name, last or yesterday; its entries stay in the book")
    one.add_argument("--yes", action="store_true", help="do not ask")


def _damp(one: argparse.ArgumentParser) -> None:
    one.add_argument("recipe", metavar="RECIPE", nargs="?",
                     help="the recipe the paper is for; without it, list the packs")
    one.add_argument("--sheets", type=_number, metavar="N",
                     help="how many sheets; without it, they are not counted")


def _calls(one: argparse.ArgumentParser) -> None:
    one.add_argument("--sound", choices=("on", "soft", "off"), metavar="HOW",
                     help="loudness: on, soft or off")
    one.add_argument("--voice", choices=("on", "off"), metavar="ON|OFF",
                     help="speak words too: on or off")
    one.add_argument("--player", metavar="NAME",
                     help="the player to try first; bell: only the terminal's bell")
    _json(one)


def _prepare(one: argparse.ArgumentParser) -> None:
    one.add_argument("recipe", metavar="RECIPE", help="a recipe's name or file")
    one.add_argument("--wanted", type=_number, metavar="N", required=True,
                     help="how many impressions should count")
    one.add_argument("--sure", type=Figure("--sure", read_percentage), metavar="PERCENT",
                     help="how sure you want to be of them (90%%)")
    _json(one)


def _help(one: argparse.ArgumentParser) -> None:
    one.add_argument("topic", metavar="TOPIC", nargs="?",
                     help="a topic or a command; without it, all of them are listed")
    one.add_argument("--man", action="store_true", help="write the manual page (for man)")


def _completion(one: argparse.ArgumentParser) -> None:
    one.add_argument("shell", metavar="SHELL", choices=("bash", "zsh", "fish"),
                     help="bash, zsh or fish")


def _nothing(one: argparse.ArgumentParser) -> None:
    pass


_COMMANDS: Final = (
    ("run", "open a new session of a recipe", _run),
    ("resume", "continue an open session", _resume),
    ("rehearse", "try a day on a fast clock; nothing is recorded", _rehearse),
    ("demo", "look around in an invented year; nothing is kept", _nothing),
    ("new", "write a recipe from eleven plain questions", _new),
    ("check", "find the mistakes in a recipe", _check),
    ("sessions", "list the sessions", _sessions),
    ("discard", "discard a session without a pull", _discard),
    ("review", "read a session back", _review),
    *beside_words.COMMANDS,
    ("damp", "damp a pack of paper for tomorrow, or list the packs", _damp),
    ("prepare", "work out a day: paper, damping, ink, screws", _prepare),
    *planning_words.COMMANDS,
    ("reckon", "answer one question of the day's arithmetic", reckon_words.add_questions),
    *edition_words.COMMANDS,
    *outward_words.COMMANDS,
    *book_words.COMMANDS,
    ("switch", "learn and practise your pedal", _nothing),
    ("calls", "try the sounds and voices, and choose", _calls),
    ("files", "show where everything is kept", _files),
    ("help", "explain a topic or a command", _help),
    ("completion", "write completion for your shell", _completion),
)


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
