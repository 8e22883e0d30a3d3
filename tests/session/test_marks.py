"""Sheet marks: letters that can't be misread in pencil, and how they are typed."""

from __future__ import annotations

import pytest

from benchapp.session.marks import free_letters, free_mark, read_mark, sheet_mark


def test_letters_leave_out_i_and_o_paper_sizes_and_a_key() -> None:
    """The first 20 sessions have the letters D to Z without F, I and O: none is a paper size."""
    assert "".join(free_letters(n, ()) for n in range(20)) == "DEGHJKLMNPQRSTUVWXYZ"


@pytest.mark.parametrize(("n", "text"), [
    (20, "DD"), (21, "DE"), (22, "DG"), (39, "DZ"), (40, "ED"), (41, "EG"),
])
def test_letters_go_on(n: int, text: str) -> None:
    """After Z come DD, DE …; EE, an état, is left out."""
    assert free_letters(n, ()) == text


def test_no_letters_name_a_proof() -> None:
    """A working proof of a session WP would be WP 3 like the third working proof."""
    given = {free_letters(n, ()) for n in (*range(600), *range(5_000, 5_150))}
    assert not given & {"AP", "BAT", "PP", "HC", "TP", "WP", "SP", "CP", "EV", "EA", "EE", "VE",
                        "RTP"}
    assert {"WN", "WQ", "EU", "EW"} <= given, "their neighbours are there"
    assert {"RTN", "RTQ"} <= given
    assert not {c for text in given for c in text} & set("ABCFIO")


def test_letters_are_never_given_twice() -> None:
    """A thousand sessions have a thousand letters."""
    assert len({free_letters(n, ()) for n in range(1_000)}) == 1_000


def test_letters_an_older_session_has_are_passed_over() -> None:
    """A book begun when A to Z were given, or joined with another, gives none a second time."""
    assert free_letters(0, ()) == "D"
    assert free_letters(0, {"D", "E"}) == "G"
    assert free_letters(4, {"A", "B", "C", "D"}) == free_letters(4, ())
    with pytest.raises(ValueError, match="before the first"):
        free_letters(-1, ())


def test_no_session_before_the_first() -> None:
    """A negative count is a mistake of the caller."""
    with pytest.raises(ValueError, match="before the first"):
        free_letters(-1, ())


def test_mark() -> None:
    """A mark is letters and pull number."""
    assert sheet_mark(free_letters(5, ()), 7) == "K7"


def test_a_mark_the_printer_gave_away_has_a_tail() -> None:
    """K7 stands on another sheet already: this one is K7b, and in the end K7aa."""
    assert free_mark("K", 7, ()) == "K7"
    assert free_mark("K", 7, {"K7"}) == "K7b"
    taken = {"K7", *(f"K7{c}" for c in "bcdefghjklmnpqrstuvwxyz")}
    assert free_mark("K", 7, taken) == "K7aa"


@pytest.mark.parametrize(("typed", "text"), [
    ("K7", "K7"), ("k7", "K7"), (" k 7 ", "K7"), ("K07", "K7"), ("kk12", "KK12"),
    ("A4", "A4"), ("f3", "F3"), ("wp1", "WP1"),
    ("I7", None), ("ko7", None), ("K0", None), ("K", None), ("7", None), ("K7b", None), ("", None),
    ("K-7", None), ("K1234567", None), ("К7", None), ("K٧", None),
])
def test_marks_as_typed(typed: str, text: str | None) -> None:
    """A mark is known however it is typed, those of older books too; the rest is none of ours."""
    assert read_mark(typed) == text
