"""Sheet marks: letters that can't be misread in pencil, and how they are typed."""

from __future__ import annotations

import pytest

from benchapp.session.marks import letters, mark, read_mark


def test_letters_leave_out_i_and_o() -> None:
    """The first 24 sessions have the letters A to Z without I and O."""
    assert "".join(letters(n) for n in range(24)) == "ABCDEFGHJKLMNPQRSTUVWXYZ"


@pytest.mark.parametrize(("n", "text"), [
    (24, "AA"), (25, "AB"), (47, "AZ"), (48, "BA"), (24 + 24 * 24 - 1, "ZZ"), (24 + 24 * 24, "AAA"),
])
def test_letters_go_on(n: int, text: str) -> None:
    """After Z come AA, AB …, after ZZ comes AAA."""
    assert letters(n) == text


def test_letters_are_never_given_twice() -> None:
    """Thousands of sessions have thousands of letters."""
    assert len({letters(n) for n in range(20_000)}) == 20_000


def test_no_session_before_the_first() -> None:
    """A negative count is a mistake of the caller."""
    with pytest.raises(ValueError, match="before the first"):
        letters(-1)


def test_mark() -> None:
    """A mark is letters and pull number."""
    assert mark(letters(9), 7) == "K7"


@pytest.mark.parametrize(("typed", "text"), [
    ("K7", "K7"), ("k7", "K7"), (" k 7 ", "K7"), ("K07", "K7"), ("aa12", "AA12"),
    ("I7", None), ("ko7", None), ("K0", None), ("K", None), ("7", None), ("K7b", None), ("", None),
    ("K-7", None), ("K1234567", None), ("К7", None), ("K٧", None),
])
def test_marks_as_typed(typed: str, text: str | None) -> None:
    """A mark is known however it is typed; anything else is not a mark of ours."""
    assert read_mark(typed) == text
