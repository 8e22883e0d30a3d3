"""Which driver the terminal gets."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from textual.driver import Driver


def pick_driver(environ: Mapping[str, str], platform: str = sys.platform) -> type[Driver] | None:
    """Give our own driver, or None where the framework is to choose.

    It chooses when the printer named a driver in TEXTUAL_DRIVER, and on
    Windows, whose console sends no bytes that could be wrong.

    Args:
        environ: The environment variables.
        platform: As `sys.platform` has it.
    """
    if environ.get("TEXTUAL_DRIVER") or platform.startswith("win"):
        return None
    # Needs termios, which only Unix has.
    from benchapp.screens.sturdy_driver import SturdyDriver

    return SturdyDriver
