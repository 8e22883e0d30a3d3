"""`benchapp book`: the book's own file checked, copied and brought back, as a printer does it."""

from __future__ import annotations

from pathlib import Path

from benchapp.book import Book
from tests.book.samples import raw
from tests.test_cli import Call, call

__all__ = ["call"]


def _print_day(call: Call) -> None:
    assert call("run", "three-steps", "--plain", "--wanted", "1", stdin="\n" * 200).code == 0


def _damage(path: Path) -> None:
    """Change one entry behind the book's back."""
    file = raw(path)
    file.execute("DROP TRIGGER entries_never_change")
    file.execute("UPDATE entries SET word = 'other' WHERE sequence = 2")
    file.close()


def test_a_book_is_checked_and_backed_up(call: Call, home: Path) -> None:
    """Sound is 0; a changed entry is found by the full check: 3, and the way back is named."""
    assert call("book", "check").code == 3
    _print_day(call)
    book, copy = home / "studio.book", home.parent / "copy.book"
    with Book.open(book, write=True):  # also while it is open
        done = call("book", "backup", str(copy))
    assert (done.code, done.err) == (0, "")
    assert call("book", "check", "--full", "--book", str(copy)).code == 0
    again = call("book", "backup", str(copy))
    assert again.code == 1
    assert "Choose another name" in again.err
    assert "is sound" in call("book", "check").out
    _damage(book)
    told = call("book", "check", "--full")
    assert told.code == 3
    assert "is not what was written" in told.out
    assert "benchapp book restore FILE" in told.out


def test_a_word_that_is_none_is_told(call: Call) -> None:
    """As for every command: 2, and what there is."""
    assert "chek" in call("book", "chek").err
    assert call("book").code == 2
