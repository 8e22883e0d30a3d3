"""The arguments of `benchapp book`: what can be done with the book's own file."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import Any, Final

#: The same for each word after it.
WORDS: Final[dict[str, tuple[str, str]]] = {
    "check": ("book_files", "check_book"), "backup": ("book_files", "back_up_book"),
    "restore": ("restoring", "restore_book"), "merge": ("restoring", "merge_copy"),
    "rebuild": ("rebuilding", "rebuild_book"),
}

_Parser = argparse.ArgumentParser


def _check(one: _Parser) -> None:
    one.add_argument("--full", action="store_true",
                     help="check every entry too; takes longer")


def _backup(one: _Parser) -> None:
    one.add_argument("file", metavar="FILE", help="a new file; it holds the whole book")
    one.add_argument("--photos", action="store_true",
                     help="copy its pictures too, into the folder FILE-pictures")


def _restore(one: _Parser) -> None:
    one.add_argument("file", metavar="FILE", nargs="?",
                     help="a backup, or any copy of the book; leave it out to list those here")
    one.add_argument("--list", action="store_true",
                     help="list every entry that would not be in the book, however many")
    how = one.add_mutually_exclusive_group()
    how.add_argument("--yes", action="store_true", help="do not ask")
    how.add_argument("--into", metavar="NEW",
                     help="into this new file; the book in use stays in its place")


def _merge(one: _Parser) -> None:
    one.add_argument("other", metavar="OTHER", help="another copy of the book, or another book")


def _rebuild(one: _Parser) -> None:
    one.add_argument("--from", metavar="FOLDER", dest="from_", required=True,
                     help="the folder with the text mirror of a book")
    one.add_argument("--into", metavar="NEW", required=True, help="a new file")


#: Name, help, and what adds the arguments.
_WORDS: Final[tuple[tuple[str, str, Callable[[_Parser], None]], ...]] = (
    ("check", "check that the book is sound", _check),
    ("backup", "copy the book into a new file, also while it is open", _backup),
    ("restore", "put a backup in the book's place; the old book is kept", _restore),
    ("merge", "add what only another copy of the book has", _merge),
    ("rebuild", "make a new book from the text mirror", _rebuild),
)


def add_book_options(book: Any) -> None:
    made = book.add_subparsers(dest="word", metavar="word", required=True)
    for name, help_, add in _WORDS:
        one = made.add_parser(name, help=help_, description=help_[:1].upper() + help_[1:] + ".")
        one.set_defaults(within=one)
        one.add_argument("--book", metavar="FILE", default=argparse.SUPPRESS,
                         help="use another book than the studio's")
        add(one)


def add_report_options(one: _Parser) -> None:
    """The arguments of `report`."""
    one.add_argument("--json", action="store_true", help="one JSON document")


