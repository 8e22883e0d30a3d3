"""The command that finds words again in everything that was written down."""

from __future__ import annotations

from typing import Final

from benchapp.book.search import Hit
from benchapp.commands.context import Arguments, WrongUse, read_book, say, say_json

#: So many are listed on a terminal; --json gives all.
_LISTED: Final = 200


def search_book(arguments: Arguments) -> int:
    """List where all the words stand, the newest session first."""
    words = " ".join(arguments.words)
    if not words.strip():
        raise WrongUse("Name the words to look for: benchapp search salty")
    if arguments.from_ and arguments.to and arguments.from_ > arguments.to:
        raise WrongUse(f"{arguments.from_} is after {arguments.to}; --from is the earlier day")
    with read_book(arguments) as book:
        found = book.search(words, print_=arguments.print_, since=arguments.from_,
                            until=arguments.to, private=arguments.private)
    if arguments.json:
        say_json("search/1", [hit.json() for hit in found])
        return 0
    if not found:
        say(f"Nothing found for {words}")
    say(*map(hit_line, found[:_LISTED]))
    if len(found) > _LISTED:
        say(f"and {len(found) - _LISTED} more; name a print or days, or use --json")
    return 0


def hit_line(hit: Hit) -> str:
    """One answer as a line."""
    sheet = "" if hit.impression is None else f"no. {hit.impression}"
    place = " · ".join(x for x in (hit.session, hit.print, sheet) if x)
    return f"{place} · {hit.where}: {hit.text}"
