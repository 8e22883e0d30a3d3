"""What tests of screens share: the screen as text, its colours, waiting without sleeping."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterable
from typing import Any

from textual.app import App
from textual.pilot import Pilot
from textual.strip import Strip


def strips(app: App[Any]) -> list[Strip]:
    """The rows the terminal would be given, top first."""
    return app.screen._compositor.render_strips()


def screen_text(app: App[Any]) -> str:
    """The whole screen as text, one line a row, without blanks at the ends."""
    return "\n".join(strip.text.rstrip() for strip in strips(app)).rstrip()


def has_all(text: str, parts: Iterable[str]) -> bool:
    """Whether all of these stand in a text: of a screen, drawn once for the question."""
    return all(part in text for part in parts)


def colour_pairs(app: App[Any]) -> dict[tuple[str, str], str]:
    """Each text colour with its ground as `#rrggbb`, and all text so painted.

    Blanks count for nothing, nor does a block painted on itself: it is a
    picture, whose colours differ from those around it.
    """
    found: dict[tuple[str, str], str] = {}
    for strip in strips(app):
        for text, style, control in strip:
            if control or not text.strip() or style is None:
                continue
            if style.color is None or style.bgcolor is None or style.color == style.bgcolor:
                continue
            ink, ground = style.color.get_truecolor().hex, style.bgcolor.get_truecolor().hex
            pair = (ground, ink) if style.reverse else (ink, ground)
            found[pair] = found.get(pair, "") + text
    return found


async def until(
    pilot: Pilot[Any], condition: Callable[[], object], *, tries: int = 1500, what: str = ""
) -> None:
    """Let the app go on until the condition holds.

    Args:
        pilot: The app's pilot.
        condition: Asked again and again while the app goes on.
        tries: Times it is asked before giving up; 10 ms each.
        what: Said when it never holds.

    Raises:
        AssertionError: The condition did not come true; shows the screen.
    """
    for _ in range(tries):
        if condition():
            return
        await asyncio.sleep(0.01)
    raise AssertionError(f"never came true: {what or condition}\n{screen_text(pilot.app)}")
