"""The arguments of the commands that learn, search, and bring things out of the book or in."""

from __future__ import annotations

import argparse
from typing import Final

from benchapp.commands.days import read_past_day

TABLES: Final = ("impressions", "entries", "readings")


def _json(one: argparse.ArgumentParser) -> None:
    one.add_argument("--json", action="store_true", help="one JSON document")


def add_html_options(one: argparse.ArgumentParser) -> None:
    """The options by which a review becomes a page."""
    one.add_argument("--html", metavar="FILE", help="write a page into a new file")
    one.add_argument("--force", action="store_true", help="replace a file of that name")


def add_learn_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `learn`."""
    one.add_argument("recipe", metavar="RECIPE", help="a recipe's name or file")
    one.add_argument("--apply", action="store_true",
                     help="change the recipe; the text before is kept beside it")
    one.add_argument("--only", metavar="N", action="append", default=[],
                     help="with --apply: only this one of the list; give it as often as you need")
    _json(one)


def add_search_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `search`."""
    one.add_argument("words", metavar="WORDS", nargs="+",
                     help="all of them must be there; or a number such as 12/40, a mark such as K7")
    one.add_argument("--private", action="store_true",
                     help="search your own words about people too")
    one.add_argument("--print", metavar="TITLE", dest="print_", help="only of this print")
    one.add_argument("--from", metavar="DATE", type=read_past_day, dest="from_",
                     help="only from this day on, such as 2026-05-03, 3 May or friday")
    one.add_argument("--to", metavar="DATE", type=read_past_day, help="only up to this day")
    _json(one)


def add_export_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `export`."""
    one.add_argument("sessions", metavar="SESSION", nargs="*",
                     help="these sessions alone; else the whole book")
    what = one.add_mutually_exclusive_group(required=True)
    what.add_argument("--csv", metavar="FILE", help="a table for a spreadsheet")
    what.add_argument("--jsonl", metavar="FILE", help="every entry, a line each; can be imported")
    what.add_argument("--html", metavar="FILE", help="a page that needs no other file")
    one.add_argument("--table", metavar="TABLE", choices=TABLES, default=TABLES[0],
                     help="with --csv: impressions (if none is named), entries or readings")
    one.add_argument("--photos", action="store_true",
                     help="write the pictures too, without places, into the folder FILE-pictures")
    one.add_argument("--private", action="store_true",
                     help="include your own words about people; otherwise they stay at home")
    one.add_argument("--force", action="store_true", help="replace a file of that name")


def add_import_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `import`."""
    one.add_argument("file", metavar="FILE", help="a .jsonl file that export wrote")
    _json(one)


