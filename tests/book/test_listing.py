"""The list of sessions: what opens, closes and discards one, as entries come in."""

from __future__ import annotations

from dataclasses import replace

from benchapp.book import Book
from tests.book.samples import DAY, closed, draft, moment, note, opened, sheet_out, taken_back


def listed(book: Book) -> list[tuple[str, bool, bool, int, int]]:
    """What the list says of each session."""
    return [(r.name, r.closed, r.discarded, r.last_sequence, r.said_sequence)
            for r in book.all_sessions()]


def test_a_session_is_closed_or_discarded_until_that_is_taken_back() -> None:
    """Discarded by the action's word; a plain closing leaves it in the lists."""
    book = Book.in_memory("x")
    book.append([opened()], moment(), "open")
    assert listed(book) == [("2026-05-03", False, False, 1, 0)]
    book.append([closed()], moment(1), "close")
    assert listed(book) == [("2026-05-03", True, False, 2, 0)]
    book.append([taken_back("x:2")], moment(2), "back")
    assert listed(book) == [("2026-05-03", False, False, 3, 0)]
    book.append([closed()], moment(3), "discard")
    assert listed(book) == [("2026-05-03", True, True, 4, 0)]
    assert book.sessions() == []
    book.append([taken_back("x:4")], moment(4), "back")
    assert listed(book) == [("2026-05-03", False, False, 5, 0)]


def test_taking_something_else_back_opens_nothing() -> None:
    """It is of another action."""
    book = Book.in_memory("x")
    book.append([opened(), note("rain")], moment(), "open")
    book.append([closed()], moment(1), "discard")
    book.append([taken_back("x:1")], moment(2), "back")
    assert listed(book) == [("2026-05-03", True, True, 4, 0)]


def test_what_another_book_tells_of_it_counts_apart() -> None:
    """Its own last entry stays what it was; other families are no sessions."""
    book = Book.in_memory("x")
    home = f"{DAY}@x"
    book.append([replace(opened(), stream=home), sheet_out()], moment(), "open")
    book.append([draft(f"{home}@y", "judged", impression=1, verdict="keep")], moment(1), "keep")
    assert listed(book) == [("2026-05-03", False, False, 1, 3)]


def test_a_second_session_goes_after_the_first_and_a_list_kept_is_one_read_anew() -> None:
    """In the order opened, whatever went on since."""
    book = Book.in_memory("x")
    for n, drafts in enumerate(([opened("2026-05-09")], [opened("2026-05-03")],
                                [note("rain", "session/2026-05-09")], [closed("2026-05-03")])):
        book.append(drafts, moment(n), "word")
        book.all_sessions()
    assert listed(book) == [("2026-05-09", False, False, 3, 0), ("2026-05-03", True, False, 4, 0)]
