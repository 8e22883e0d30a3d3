"""Contrast against the WCAG formula, and every pair of our themes held to 7:1."""

from __future__ import annotations

import pytest
from rich.color import Color, ColorSystem
from textual.theme import Theme

from benchapp.screens.theme import THEMES
from tests.screens.contrast import LEAST, contrast

_GROUNDS = ("background", "surface", "panel", "inky", "clean")
#: Each text role with each ground it may stand on.
PAIRS = (
    *((text, ground) for text in ("foreground", "quiet", "wash") for ground in _GROUNDS),
    *((text, ground) for text in ("count", "mark", "fault", "good") for ground in _GROUNDS),
    ("inky-text", "inky"),
    ("clean-text", "clean"),
    ("call-text", "call"),
    ("cursor-text", "cursor"),
    # What the framework's own widgets put on each other.
    *((text, ground) for text in ("text-muted", "text-disabled") for ground in _GROUNDS),
    ("block-cursor-foreground", "block-cursor-background"),
    ("block-cursor-blurred-foreground", "block-cursor-blurred-background"),
    ("input-cursor-foreground", "input-cursor-background"),
    ("input-selection-foreground", "input-selection-background"),
    ("footer-foreground", "footer-background"),
    ("footer-key-foreground", "footer-background"),
    ("footer-description-foreground", "footer-background"),
    ("button-foreground", "surface"),
    *(("button-color-foreground", name) for name in ("primary", "warning", "error", "success")),
)


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


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize(("text", "ground"), PAIRS)
def test_every_pair_of_the_themes_is_readable(theme: Theme, text: str, ground: str) -> None:
    """Each text role keeps 7:1 on each ground it may stand on (WCAG 2.2, 1.4.6)."""
    colours = {**theme.to_color_system().generate(), **theme.variables}
    assert contrast(colours[text], colours[ground]) >= LEAST


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize(("text", "ground"), PAIRS)
def test_pairs_stay_apart_in_sixteen_colours(theme: Theme, text: str, ground: str) -> None:
    """Where a terminal has 16 colours, no text falls on a ground of its own colour."""
    colours = {**theme.to_color_system().generate(), **theme.variables}
    ink, paper = (
        Color.parse(colours[name]).downgrade(ColorSystem.STANDARD).number for name in (text, ground)
    )
    assert ink != paper
