"""Text from people: what is refused, what is shown instead, how it is cut."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.safe_text import SafeText, cell_width, clip_text, sanitize, why_refused

ANY_TEXT = st.text(
    alphabet=st.one_of(
        st.characters(exclude_categories=()),
        st.sampled_from("\x1b\x07\x00\r\n\t\x7f\x9b\u202e\u2066\u200e\u2028\ufeff\ud800漢e\u0301"),
    )
)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Slack Water, crevé ½ ≈ 漢", "Slack Water, crevé ½ ≈ 漢"),
        ("\x1b]52;c;AAAA\x07", "␛]52;c;AAAA␇"),
        ("a\x00b\x7f", "a␀b␡"),
        ("\x9b31m", "\ufffd31m"),
        ("a\u202eb\u2066c\u200fd", "a\ufffdb\ufffdc\ufffdd"),
        ("half \ud83d", "half \ufffd"),
        ("one\ntwo\tthree", "one␊two␉three"),
        ("\u2028\ufeff\U000e0041", "\ufffd\ufffd\ufffd"),
        ("[/b] [@click=app.quit]", "[/b] [@click=app.quit]"),
    ],
)
def test_what_acts_on_a_terminal_is_made_visible(text: str, shown: str) -> None:
    """Controls turn into pictures, the rest of the dangerous into U+FFFD."""
    assert sanitize(text) == shown


def test_line_ends_are_kept_only_if_asked() -> None:
    """With newlines every spelling of a line end becomes LF, a lone CR a picture."""
    assert sanitize("a\r\nb\nc\rd", newlines=True) == "a\nb\nc␍d"


@given(ANY_TEXT, st.booleans())
def test_nothing_dangerous_is_left(text: str, newlines: bool) -> None:
    """Whatever comes in, no control, direction mark or surrogate comes out."""
    shown = sanitize(text, newlines=newlines)
    kept = shown.replace("\n", "") if newlines else shown
    assert all(unicodedata.category(character) not in ("Cc", "Cs") for character in kept)
    assert all(unicodedata.bidirectional(c) not in _TURNING for c in kept)
    shown.encode("utf-8")


_TURNING = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}


@given(ANY_TEXT)
def test_visible_twice_is_visible_once(text: str) -> None:
    """Wrapping a whole line again does no harm."""
    assert sanitize(sanitize(text)) == sanitize(text)


@given(ANY_TEXT, st.booleans())
def test_what_is_taken_is_shown_as_it_is(text: str, newlines: bool) -> None:
    """A text is refused exactly if showing it would change it."""
    taken = why_refused(text, newlines=newlines) is None
    assert taken == (sanitize(text.replace("\r\n", "\r"), newlines=newlines) == text)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("ab\x1b[31m", "character 3 is a control character (ESC, U+001B); leave it out"),
        ("\x85", "character 1 is a control character (U+0085); leave it out"),
        (
            "a\u202e",
            "character 2 is a mark that turns the reading direction (U+202E); leave it out",
        ),
        ("a\nb", "character 2 is a line break; leave it out"),
        ("a\u2029", "character 2 is a line break (U+2029); leave it out"),
        ("\t", "character 1 is a tab; leave it out"),
        ("\ufeff", "character 1 is a hidden mark (U+FEFF); leave it out"),
        ("\ud800", "character 1 is half a character, from text in another encoding; leave it out"),
    ],
)
def test_a_refusal_says_which_character_and_why(text: str, why: str) -> None:
    """The printer learns the place, the name and what to do."""
    assert why_refused(text) == why


def test_line_ends_may_be_allowed_at_a_door() -> None:
    """A note of several lines is taken where lines are meant, an ESC never."""
    assert why_refused("two\nlines", newlines=True) is None
    assert why_refused("two\nlines\x1b", newlines=True) is not None


@pytest.mark.parametrize(
    ("text", "cells"),
    [("", 0), ("K7", 2), ("漢字", 4), ("e\u0301", 1), ("½≈", 2), ("\U0001f5a8\U0001f600", 3)],
)
def test_width_counts_cells(text: str, cells: int) -> None:
    """Wide characters take two cells, marks on another character none."""
    assert cell_width(text) == cells


@pytest.mark.parametrize(
    ("text", "cells", "cut"),
    [
        ("Slack Water", 11, "Slack Water"),
        ("Slack Water", 7, "Slack…"),
        ("Slack Water", 8, "Slack W…"),
        ("漢字漢字", 6, "漢字…"),
        ("e\u0301e\u0301e\u0301", 2, "e\u0301…"),
        ("abc", 1, "…"),
        ("abc", 0, ""),
        ("abc", -3, ""),
    ],
)
def test_clip_cuts_at_cells(text: str, cells: int, cut: str) -> None:
    """What does not fit ends in an ellipsis inside the given cells."""
    assert clip_text(sanitize(text), cells) == cut


@given(ANY_TEXT, st.integers(0, 40))
def test_clip_never_exceeds(text: str, cells: int) -> None:
    """A cut text fits, and a text that fits is not cut."""
    shown: SafeText = sanitize(text)
    cut = clip_text(shown, cells)
    assert cell_width(cut) <= cells
    assert (cut == shown) or cell_width(shown) > cells
