"""The commands and options as plain values, read from the parser: for completion and the manual."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Option:
    """One option, or one word a command takes.

    Attributes:
        flags: How it is written; empty for a word without a flag.
        value: What its value is called; empty if it takes none.
        choices: The values there are, if they are a few.
        help: What it does.
    """

    flags: tuple[str, ...]
    value: str
    choices: tuple[str, ...]
    help: str


@dataclass(frozen=True, slots=True)
class CommandSyntax:
    """One command.

    Attributes:
        path: Its words after `benchapp`; none for the program itself.
        help: What it does.
        usage: How it is written.
        options: What it takes.
        words: The commands below it.
    """

    path: tuple[str, ...]
    help: str
    usage: str
    options: tuple[Option, ...]
    words: tuple[str, ...]


def command_syntax(parser: argparse.ArgumentParser, path: tuple[str, ...] = (),
                   help_: str = "") -> Iterator[CommandSyntax]:
    """A parser and all below it, from the top down."""
    below = [action for action in parser._actions
             if isinstance(action, argparse._SubParsersAction)]
    options = tuple(_option(action) for action in parser._actions
                    if action not in below and action.help is not argparse.SUPPRESS)
    helps = {one.dest: one.help or "" for action in below for one in action._choices_actions}
    words = {name: one for action in below for name, one in action.choices.items()}
    yield CommandSyntax(path, help_, parser.format_usage().strip(), options, tuple(words))
    for name, one in words.items():
        yield from command_syntax(one, (*path, name), helps.get(name, ""))


def _option(action: argparse.Action) -> Option:
    takes = action.nargs != 0 and not isinstance(action, argparse._HelpAction)
    value = action.metavar if isinstance(action.metavar, str) else action.dest.upper()
    choices = tuple(str(choice) for choice in action.choices or ())
    return Option(tuple(action.option_strings), value if takes else "", choices,
                  (action.help or "").replace("%%", "%"))
