"""Contrast of two colours by the formula of WCAG 2.2 (relative luminance). Pure."""

from __future__ import annotations

from typing import Final

LEAST: Final = 7.0
"""What every text keeps against its ground (WCAG 2.2, 1.4.6)."""


def contrast(one: str, other: str) -> float:
    """Give the contrast ratio of two colours, 1.0 (same) to 21.0.

    Args:
        one: `#RGB` or `#RRGGBB`.
        other: Likewise; the order does not matter.

    Raises:
        ValueError: A colour is written in another way.
    """
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: str) -> float:
    """Relative luminance of `#RGB` or `#RRGGBB`, 0.0 (black) to 1.0 (white)."""
    red, green, blue = (_linear(channel / 255) for channel in _channels(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _channels(colour: str) -> tuple[int, int, int]:
    digits = colour.removeprefix("#")
    if len(digits) == 3:
        digits = "".join(2 * digit for digit in digits)
    if not colour.startswith("#") or len(digits) != 6:
        raise ValueError(f"{colour!r} is not a colour like #1a2b3c")
    return int(digits[0:2], 16), int(digits[2:4], 16), int(digits[4:6], 16)


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4
