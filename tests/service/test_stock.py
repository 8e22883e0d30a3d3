"""The stock of a book: read off its days, and the same whichever book takes the other in."""

from __future__ import annotations

import pytest

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.service import stock as edge
from benchapp.service.stock import StockService
from benchapp.session import actions as a
from benchapp.stock.actions import CorrectCount, Count, Mistaken
from tests.session.support import Bench, recipe
from tests.session.test_counting import pull

DAY = 24 * 60
PAPER = "paper: {name: %s, sheet: 500 x 700 mm, piece: 250 x 350 mm}\n"
COTTON, RAG = recipe(extra=PAPER % "cotton"), recipe(extra=PAPER % "rag")


def day(b: Bench, sheets: int) -> None:
    """So many sheets on the Bench, closed, and the next day come."""
    pull(b, sheets)
    b.say(a.Enough())
    b.to_close()
    b.advance(DAY)


def left(b: Bench, item: str = "cotton"):
    """What is left of a thing by its book, read from the start."""
    found = StockService(b.book, b.clock).left()
    return next(x for x in found if x.item == item)


def count(b: Bench, item: str, sheets: int, unit: str = "sheets", **more) -> None:
    """It is counted now."""
    out = StockService(b.book, b.clock).do(Count(item, sheets, unit, **more))
    assert out.ok, str(out.refusal)


def test_days_before_a_count_are_in_it_and_those_after_are_taken_off() -> None:
    """Also a day that was open over it; a pull taken back gives its sheet back."""
    b = Bench(COTTON)
    day(b, 3)
    count(b, "cotton", 10)
    assert (left(b).used_pieces, left(b).next_day) == (0, 1), "3 sheets and one in hand"
    b.open(COTTON)
    pull(b, 2)
    count(b, "cotton", 9)
    b.clock.advance(1000)
    before = left(b).used_pieces
    pull(b, 3)
    after = left(b).used_pieces
    assert after == before + 3
    b.until("Pull")
    b.tread()
    assert left(b).used_pieces == after + 1
    b.back()
    assert left(b).used_pieces == after


def test_the_next_day_is_like_the_last_on_that_paper() -> None:
    """Whatever was printed on others since, and though none was since the count."""
    b = Bench(COTTON)
    day(b, 7)
    b.open(RAG)
    day(b, 3)
    count(b, "cotton", 1)
    count(b, "rag", 1)
    assert (left(b).next_day, left(b).order) == (2, 1)
    assert (left(b, "rag").next_day, left(b, "rag").order) == (1, 0)


def test_only_days_that_can_tell_are_folded(monkeypatch: pytest.MonkeyPatch) -> None:
    """Blotters counted years ago make nobody read all days since."""
    b = Bench(COTTON)
    count(b, "blotters", 24, "items")
    day(b, 3)
    for _ in range(4):
        b.open(RAG)
        day(b, 1)
    count(b, "cotton", 5)
    folded = []
    read = edge.read_session_entries
    monkeypatch.setattr(edge, "read_session_entries",
                        lambda book, row: (folded.append(row.id), read(book, row))[1])
    assert left(b).left == 5
    assert len(folded) == 1, "the last day on cotton, for what the next one takes"


def test_a_paper_is_counted_in_sheets_or_pieces() -> None:
    """Else nothing could ever be taken off it."""
    b = Bench(COTTON)
    stock = StockService(b.book, b.clock)
    for unit in ("mg", "items"):
        refused = stock.do(Count("Cotton", 5, unit)).refusal
        assert refused is not None
        assert refused.rule == "unit"
    assert stock.do(Count("cotton", 5, "pieces")).ok
    assert stock.do(CorrectCount("cotton", 5, "items", "x")).refusal is not None


def test_two_books_brought_together_agree() -> None:
    """Counts, corrections and mistakes of either, and the days of both; twice changes nothing."""
    home = Bench(COTTON)
    day(home, 2)
    count(home, "cotton", 20)
    clock = FakeClock(home.clock.now().wall_ms + 60_000)
    away = Book.in_memory()
    away.merge(home.book.entries())
    other = StockService(away, clock)
    assert other.do(CorrectCount("cotton", 18, "sheets", "two are stained")).ok
    clock.advance(60_000)
    assert other.do(Count("rag", 7, "sheets")).ok
    assert other.do(Mistaken("rag", "of a friend")).ok
    home.advance(5)
    home.open(COTTON)
    day(home, 3)
    home.book.merge(away.entries())
    away.merge(home.book.entries())
    home.book.merge(away.entries())
    one, two = StockService(home.book, clock), StockService(away, clock)
    assert one.left() == two.left()
    (found,) = one.left()
    assert found.counted == 18
    assert found.left == 18 - found.used_pieces / 4 < 18
    assert home.book.verify() == away.verify() == []
