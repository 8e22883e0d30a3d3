"""The arguments of the commands that hold things against each other, and tell a plate's life."""

from __future__ import annotations

import argparse

from benchapp.commands import outward_words


def add_charts_option(one: argparse.ArgumentParser) -> None:
    """The option that draws readings between the lines."""
    one.add_argument("--charts", choices=("dots", "plain"), metavar="HOW",
                     help="draw charts of the readings: dots or plain (ASCII)")


def _json(one: argparse.ArgumentParser) -> None:
    one.add_argument("--json", action="store_true", help="one JSON document")


def add_beside_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `beside`."""
    one.add_argument("what", metavar="WHAT", nargs="*",
                     help="two sessions, or two sheets (K7, 12/40, last:3); if you name one or "
                          "none, benchapp compares it with the one before")
    _json(one)
    outward_words.add_html_options(one)


def add_life_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `life`."""
    one.add_argument("print_", metavar="PRINT", nargs="?",
                     help="a print's title or its recipe; without it, the last session's")
    one.add_argument("--plate", metavar="NAME", help="show only this plate")
    add_charts_option(one)
    _json(one)
    outward_words.add_html_options(one)


def add_why_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `why`."""
    one.add_argument("tag", metavar="TAG", nargs="+", help="a tag, such as salty")
    one.add_argument("--print", dest="print_", metavar="PRINT",
                     help="a print's title or its recipe; without it, the last session's")
    _json(one)


