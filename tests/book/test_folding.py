"""Text as a search compares it: what is decided for letters that could be read in several ways."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.book.folding import fold_text, place_of


@pytest.mark.parametrize(("text", "plain"), [
    ("Crevé", "creve"), ("CREVE\N{COMBINING ACUTE ACCENT}", "creve"),
    ("Straße", "strasse"), ("STRASSE", "strasse"), ("STRAẞE", "strasse"),
    ("Søndergård", "sondergard"), ("Łódź", "lodz"), ("Æsop’s œuvre", "aesop's oeuvre"),
    ("Þór, eða", "thor, eda"), ("ﬁne ﬀ", "fine ff"), ("Ｋ７ １２／４０", "k7 12/40"),
    ("ışık", "isik"), ("IŞIK", "isik"), ("İstanbul", "istanbul"), ("istanbul", "istanbul"),
    ("für", "fur"), ("12⁄40", "12/40"), ("wet–wet", "wet-wet"), ("Ὀδυσσεύς", "οδυσσευσ"),
    ("\N{KELVIN SIGN}7", "k7"), ("№ 7", "no 7"), ("½", "1/2"), ("漢字", "漢字")])
def test_letters_that_could_be_read_in_several_ways(text: str, plain: str) -> None:
    """Accents, case, strokes, ligatures, widths and the Turkish i."""
    assert fold_text(text) == plain


@given(st.text(), st.text())
def test_a_part_of_a_text_folds_to_a_part_of_it(one: str, two: str) -> None:
    """Whatever stands beside it; and folding twice changes nothing more."""
    # A text of ASCII alone keeps its kinds of blank space: words are split at any of them.
    assert fold_text(one + two).split() == (fold_text(one) + fold_text(two)).split()
    assert fold_text(fold_text(one)) == fold_text(one)


@given(st.text(), st.text(min_size=1))
def test_the_place_of_a_word_is_told_in_the_text_as_it_is(before: str, word: str) -> None:
    """What stands from there on begins with the word, folded; none is nowhere."""
    text, plain = before + word, fold_text(word)
    at = place_of(text, plain)
    if plain and not any(c.isspace() for c in plain):
        assert at >= 0
        assert plain in fold_text(text[at:])
    assert place_of("sky", "roof") == -1
