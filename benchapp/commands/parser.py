"""The arguments: every command and option, and what is near to one that is not there."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Sequence
from typing import Any, NoReturn

import benchapp
from benchapp.commands.answers import WrongUse, suggest_names
from benchapp.commands.front_page import front_page
from benchapp.commands.table import COMMANDS, called


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
    from difflib import get_close_matches

    near = get_close_matches(said.casefold()[:200], list(known), n=3, cutoff=0)
    return (f"There is no command {said}. Written most like it: {', '.join(near)}. "
            "To see all commands: benchapp help")


def parse_arguments(argv: Sequence[str]) -> argparse.Namespace:
    """The arguments of one call.

    Raises:
        WrongUse: They are none of ours; the message says what is near.
        SystemExit: Help or the version was asked for, and printed.
    """
    parser = make_parser(argv)
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
        return front_page()


def make_parser(words: Sequence[str] | None = None) -> MainParser:
    """The parser of all commands.

    Args:
        words: What is to be parsed: a command that is not among them gets no arguments, as they
            bring their rooms with them. None: all of them get theirs.
    """
    main = MainParser(prog="benchapp", description=benchapp.__doc__)
    main.add_argument("-V", "--version", action="version",
                      version=f"benchapp {benchapp.__version__}", help="show the version")
    main.add_argument("--book", metavar="FILE", help="use another book than the studio's")
    made = main.add_subparsers(dest="command", metavar="command", parser_class=_Parser)
    main.commands = {}
    for name, command in COMMANDS.items():
        one = made.add_parser(name, help=command.help,
                              description=command.help[:1].upper() + command.help[1:] + ".")
        # Before or after the command: what is not given here leaves what stood before.
        one.add_argument("--book", metavar="FILE", default=argparse.SUPPRESS,
                         help="use another book than the studio's")
        if command.takes is not None and (words is None or name in words):
            called(command.takes)(one)
        main.commands[name] = one
    return main
