"""A long book is listed, opened, searched and read back without waiting: ratios to a small one."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.book.search import Finder
from benchapp.clock import SystemClock
from benchapp.commands.show import read_whole_session, session_values
from benchapp.reports.reading import lives_of
from benchapp.service.sessions import SessionService
from tests.speed.ten_years import PRINTS, make

#: Half a year of the ten: what grows with the book would show by its ratio.
SESSIONS = 250
SMALL = 10
#: As they are typed, letter for letter.
TYPED = ("salty after lunch", "blue window", "heron", "keep", "no such word", "slack water 3")


def took(work: Callable[[], object], times: int = 5) -> float:
    """The middle of some runs, in seconds of this process."""
    found = []
    for _ in range(times):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return statistics.median(found)


def keys(finder: Finder) -> list[float]:
    """What each key of what is typed takes, rising."""
    parts = (words[:n] for words in TYPED for n in range(1, len(words) + 1))
    return sorted(took(lambda p=p: finder.find(p, most=50), 1) for p in parts)


@pytest.fixture(scope="module")
def books(tmp_path_factory) -> Iterator[tuple[Book, Book]]:
    """A small book and a long one, each closed once and open to write again."""
    folder = tmp_path_factory.mktemp("books")
    for name, sessions in (("small", SMALL), ("long", SESSIONS)):
        make(folder / name, sessions)
    small, long = (Book.open(Path(folder / x), write=True) for x in ("small", "long"))
    yield small, long
    small.close()
    long.close()


@pytest.mark.full
def test_a_session_is_read_back_as_soon_in_a_long_book(books):
    """A review, and a plate's life where the plate had one day in both."""
    assert SESSIONS < 2 * PRINTS
    back = [took(lambda b=b: read_whole_session(b, b.sessions()[9])) for b in books]
    life = [took(lambda b=b: lives_of(b, b.sessions()[SMALL - 1])) for b in books]
    print("; ".join(f"{what} {x[0] * 1e3:.0f} ms in a book of {SMALL} days, {x[1] * 1e3:.0f} in "
                    f"one of {SESSIONS}" for what, x in (("review", back), ("plate life", life))))
    # The plate's second day is among them: twice the days, and as much for a slow machine.
    assert back[1] < 2 * back[0] + 0.05
    assert life[1] < 4 * life[0] + 0.05


@pytest.mark.full
def test_a_long_book_is_listed_and_opened_as_soon(books):
    """25 times the sessions: nothing is folded that was folded when the book was closed."""
    lists = [took(lambda b=b: session_values(b)) for b in books]
    rooms = [took(lambda b=b: SessionService(b, SystemClock())) for b in books]
    for what, x in (("list", lists), ("room", rooms)):
        print(f"{what} {x[0] * 1e3:.1f} ms in a book of {SMALL} days, {x[1] * 1e3:.1f} in one of "
              f"{SESSIONS}")
        # Folding one session alone takes more than the whole list.
        assert x[1] < 25 * x[0] + 0.05
    assert lists[1] < SESSIONS / 10 * took(lambda: read_whole_session(books[0],
                                                                      books[0].sessions()[0]))


@pytest.mark.full
def test_a_long_book_is_searched_while_words_are_typed(books):
    """At each key of what is typed the answers stand there: the middle key and the slowest 5 %."""
    small, long = (keys(b.finder()) for b in books)
    for name, x in ((f"{SMALL} days", small), (f"{SESSIONS} days", long)):
        print(f"a key in a book of {name}: {x[len(x) // 2] * 1e3:.1f} ms at the middle, "
              f"{x[len(x) * 95 // 100] * 1e3:.1f} at the ninety-fifth of a hundred")
    # Answers come from the newest days; words that are rare are looked for in all of them.
    assert long[len(long) // 2] < 8 * small[len(small) // 2] + 0.02
    assert long[len(long) * 95 // 100] < 25 * small[len(small) * 95 // 100] + 0.02
