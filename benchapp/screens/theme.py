"""Our two themes, and which colour may stand on which.

`lamplight` is a dark one, `daylight` a light one: warm blacks and paper whites.
A colour never says anything alone; beside it always stands a word, a shape or
a place. Every text keeps 7:1 to its ground (WCAG 2.2, 1.4.6): a test
computes every pair.

Roles that style sheets use, each as `$name`:
    foreground, quiet       text, and text of second rank
    background, surface, panel
                            the room, a card in it, a strip on a card
    inky, inky-text         the side of the bench for inky hands
    clean, clean-text       the side for clean hands
    wash                    the line between them, and the word for it
    count, mark             the numerals of the count, and of the sheet mark
    call, call-text         ground and text of something that calls
    fault                   what is wrong;  good: what is done
    cursor, cursor-text     ground and text of the line that is chosen
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, TypedDict

from textual.theme import Theme

_LAMPLIGHT: Final = {
    "foreground": "#f5ecdc",
    "quiet": "#cbbda8",
    "background": "#14110d",
    "surface": "#1e1913",
    "panel": "#2a231b",
    "inky": "#0d0b09",
    "inky-text": "#f3dfc2",
    "clean": "#1b211f",
    "clean-text": "#eaf2ec",
    "wash": "#8fd0c6",
    "count": "#ffdf9e",
    "mark": "#f7c48f",
    "call": "#f5bd4f",
    "call-text": "#1c1204",
    "fault": "#ffb4a3",
    "good": "#b3d9a2",
    "cursor": "#f0e2c8",
    "cursor-text": "#17130e",
}

_DAYLIGHT: Final = {
    "foreground": "#201912",
    "quiet": "#453a2e",
    "background": "#f8f2e7",
    "surface": "#f1e8d9",
    "panel": "#e8ddcb",
    "inky": "#e4d8c5",
    "inky-text": "#1e160e",
    "clean": "#f5f8f2",
    "clean-text": "#15201b",
    "wash": "#0b413c",
    "count": "#3b1d04",
    "mark": "#562200",
    "call": "#683600",
    "call-text": "#fff4e0",
    "fault": "#6f1207",
    "good": "#1c4214",
    "cursor": "#2b2118",
    "cursor-text": "#f8f0e0",
}


def _theme(name: str, colours: Mapping[str, str], *, dark: bool) -> Theme:
    ground, text, quiet = colours["background"], colours["foreground"], colours["quiet"]
    chosen = {"foreground": colours["cursor-text"], "background": colours["cursor"]}
    derived = {
        "text": text,
        "text-muted": quiet,
        "text-disabled": quiet,
        "foreground-muted": quiet,
        "foreground-disabled": quiet,
        "button-foreground": text,
        "button-color-foreground": ground,
        "border": quiet,
        "border-blurred": quiet,
        "scrollbar": quiet,
        "scrollbar-background": colours["panel"],
        "footer-foreground": text,
        "footer-background": colours["panel"],
        "footer-key-foreground": colours["mark"],
        "footer-description-foreground": text,
        "block-cursor-blurred-foreground": text,
        "block-cursor-blurred-background": colours["panel"],
        **{f"block-cursor-{part}": value for part, value in chosen.items()},
        **{f"input-cursor-{part}": value for part, value in chosen.items()},
        **{f"input-selection-{part}": value for part, value in chosen.items()},
        **{f"screen-selection-{part}": value for part, value in chosen.items()},
    }
    return Theme(
        name=name,
        dark=dark,
        primary=colours["mark"],
        secondary=colours["wash"],
        accent=colours["count"],
        warning=colours["call"],
        error=colours["fault"],
        success=colours["good"],
        foreground=text,
        background=ground,
        surface=colours["surface"],
        panel=colours["panel"],
        variables={**derived, **_own(colours)},
    )


def _own(colours: Mapping[str, str]) -> dict[str, str]:
    """The roles the framework has no name for."""
    known = ("foreground", "background", "surface", "panel")
    return {name: value for name, value in colours.items() if name not in known}


LAMPLIGHT: Final = _theme("lamplight", _LAMPLIGHT, dark=True)
DAYLIGHT: Final = _theme("daylight", _DAYLIGHT, dark=False)
THEMES: Final = (LAMPLIGHT, DAYLIGHT)

# Faint placeholders and see-through disabled widgets are the framework's habit.
STYLES: Final = """
Input > .input--placeholder, Input > .input--suggestion { color: $quiet; }
*:disabled { opacity: 1; text-opacity: 100%; }
Toast { background: $panel; color: $foreground; }
Tooltip { background: $panel; color: $foreground; }
"""
"""Rules that keep the framework's own widgets at the contrast of the themes."""


class ColourArguments(TypedDict, total=False):
    """How the app is constructed where colours are concerned."""

    ansi_color: bool


def colour_arguments(environ: Mapping[str, str]) -> ColourArguments:
    """Say how to construct the app, from the environment.

    NO_COLOR counts when it is present and not empty (no-color.org). The
    framework would then turn colours into greys; with terminal colours allowed
    it leaves them out, which is what was asked for.

    Args:
        environ: The environment variables.
    """
    return {"ansi_color": True} if environ.get("NO_COLOR") else {}
