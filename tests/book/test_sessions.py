"""What sessions are called and how they are found by name."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from benchapp.book import SessionRow
from benchapp.book.sessions import find_session, opened_on, session_name, worked_on_last
from benchapp.events.entry import Entry, Moment

_DAY = date(2026, 5, 3)


def _row(name: str, day: int, *, hour: int = 10, offset: int = 0, closed: bool = True,
         last: int = 1) -> SessionRow:
    wall = int(datetime(2026, 5, day, hour, tzinfo=UTC).timestamp() * 1000)
    at = Moment(wall, offset, 0, "b", 0)
    entry = Entry("o:1", f"session/{name}", 1, "o:1", "open", "opened", at,
                  {"session": name})
    return SessionRow(f"session/{name}", entry, closed, last)


def test_first_of_a_day_is_the_date() -> None:
    """The first session of a day bears the date alone, whatever other days have."""
    assert session_name([], _DAY) == "2026-05-03"
    assert session_name(["2026-05-02", "2026-05-02b", "2026-05-031"], _DAY) == "2026-05-03"


def test_letters_after_the_date() -> None:
    """The second is b, and after z come aa, ab."""
    names: list[str] = []
    for _ in range(54):
        names.append(session_name(names, _DAY))
    assert [name[10:] for name in names[:3]] == ["", "b", "c"]
    assert [name[10:] for name in names[24:29]] == ["y", "z", "aa", "ab", "ac"]
    assert [name[10:] for name in names[50:]] == ["ay", "az", "ba", "bb"]


_ROWS = [_row("2026-05-01", 1), _row("2026-05-02", 2), _row("2026-05-02b", 2),
         _row("2026-05-03", 3)]


@pytest.mark.parametrize(("word", "name"), [
    ("last", "2026-05-03"), ("yesterday", "2026-05-02b"), ("2026-05-02", "2026-05-02"),
    (" 2026-05-02B ", "2026-05-02b"), ("2026-05-04", None), ("", None), ("Last", "2026-05-03"),
    ("today", "2026-05-03"), ("2 May", "2026-05-02"), ("friday", "2026-05-01"),
    ("-1", "2026-05-02"), ("1 June", None), ("3/5", None),
])
def test_found_by_word(word: str, name: str | None) -> None:
    """`last`, `yesterday` and names, as a printer types them."""
    found = find_session(word, _ROWS, _DAY)
    assert (found.name if found else None) == name


def test_yesterday_may_be_long_ago() -> None:
    """`yesterday` is the last opened before today, and today's do not count."""
    assert find_session("yesterday", _ROWS[:1], date(2026, 6, 1)) == _ROWS[0]
    assert find_session("yesterday", _ROWS[3:], _DAY) is None
    assert find_session("last", [], _DAY) is None


def test_day_by_the_clock_on_the_wall() -> None:
    """23:00 UTC is tomorrow already two hours east, and a day is that of its own place."""
    assert opened_on(_row("x", 2, hour=23, offset=120)) == _DAY
    assert opened_on(_row("x", 4, hour=1, offset=-120)) == _DAY
    assert opened_on(_row("x", 3, hour=23)) == _DAY


def test_worked_on_last() -> None:
    """Of the open ones that which has the last entry, not that which was opened last."""
    rows = [_row("a", 1, closed=False, last=9), _row("b", 2, closed=False, last=5),
            _row("c", 3, last=12)]
    assert worked_on_last(rows) == rows[0]
    assert worked_on_last(rows[2:]) is None
