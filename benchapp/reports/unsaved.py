"""Entries that no disk took: given out as lines before the program ends, so that none is lost."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from benchapp.book import Book
from benchapp.reports import jsonl
from benchapp.safe_text import escape_json

ANYWAY: Final = "quit anyway"
"""What is written to leave without them."""
NOT_ON_DISK: Final = " · not on disk yet"
"""Behind each answer about an entry, as long as it is so."""

_COPY: Final = ("Copy the lines in braces into a file: benchapp import FILE takes them in when "
                "there is space.")


def unsaved_lines(book: Book) -> tuple[str, ...]:
    """What is only in memory after another try, as JSON lines with words around; or nothing."""
    if not book.unsaved or book.retry() or not book.unsaved:
        return ()
    entries = (escape_json(line.rstrip("\n")) for line in jsonl.entry_lines(book.unsaved))
    return (book.banner, *entries, _COPY)


def wait_for_disk(book: Book, give: Callable[[str], None], take: Callable[[], str | None]) -> None:
    """Give out what is only in memory, and wait until it is on disk or is let go of.

    Args:
        book: Open to write.
        give: Prints a line.
        take: Waits for a line; None: there are no more, so nobody can be waited for.
    """
    asked = False
    while said := unsaved_lines(book):
        for line in said:
            give(line)
        give(f"Press enter to try again, or write {ANYWAY} to leave without them.")
        asked = True
        answer = take()
        if answer is None or answer.strip().casefold() == ANYWAY:
            return
    if asked:
        give("Everything is on disk now.")
