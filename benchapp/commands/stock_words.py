"""The arguments of `benchapp stock`: what there is, and what is counted or mixed."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import Any, Final

from benchapp.commands.days import past_day_text

_Parser = argparse.ArgumentParser
_NAMED: Final = "its name, or a part of it that only one thing has"


def _new(one: _Parser) -> None:
    one.add_argument("--new", action="store_true", help="it is a new thing, called just so")


def _on(one: _Parser) -> None:
    one.add_argument("--on", metavar="DAY", type=past_day_text,
                     help="at the end of an earlier day: yesterday, friday, 3 May")


def _lot(one: _Parser) -> None:
    one.add_argument("--lot", metavar="NAME", help="one lot of it, by your name for it")


def _count(one: _Parser) -> None:
    one.usage = "%(prog)s [-h] [--lot NAME] [--on DAY] [--new] [--json] NAME AMOUNT"
    one.add_argument("words", metavar="NAME AMOUNT", nargs="+",
                     help=f"{_NAMED}; then 40 sheets, 12 pieces, 180 g, or 24")
    _lot(one)
    _on(one)
    _new(one)


def _correct(one: _Parser) -> None:
    one.usage = "%(prog)s [-h] [--lot NAME] --why WORDS [--json] NAME AMOUNT|none"
    one.add_argument("words", metavar="NAME AMOUNT|none", nargs="+",
                     help=f"{_NAMED}; then what it was, or none if you never counted it")
    _lot(one)
    one.add_argument("--why", metavar="WORDS", help="what was wrong")


def _mix(one: _Parser) -> None:
    one.add_argument("batch", metavar="BATCH", help="your name for the batch")
    one.add_argument("parts", metavar="PART", nargs="+",
                     help="what is in it, each in quotes: 'bone black 60 g'; without a weight "
                          "it is not known")
    one.add_argument("--note", metavar="WORDS", help="a note about it")
    _on(one)
    _new(one)


def _history(one: _Parser) -> None:
    one.add_argument("words", metavar="NAME", nargs="+", help=_NAMED)


#: Name, help, and what adds the arguments.
_WORDS: Final[tuple[tuple[str, str, Callable[[_Parser], None]], ...]] = (
    ("count", "record how much of a thing is there", _count),
    ("correct", "correct the last count of a thing", _correct),
    ("mix", "record a batch of ink, and what is in it", _mix),
    ("history", "list every count of a thing", _history),
)


def add_stock_options(stock: Any) -> None:
    """The arguments of `stock`, and the words behind it."""
    stock.add_argument("--json", action="store_true", help="one JSON document")
    made = stock.add_subparsers(dest="word", metavar="word")
    for name, help_, add in _WORDS:
        one = made.add_parser(name, help=help_, description=help_[:1].upper() + help_[1:] + ".")
        one.set_defaults(within=one)
        one.add_argument("--book", metavar="FILE", default=argparse.SUPPRESS,
                         help="use another book than the studio's")
        one.add_argument("--json", action="store_true", default=argparse.SUPPRESS,
                         help="one JSON document")
        add(one)
