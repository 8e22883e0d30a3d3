"""The helpers that need no screen load no screen."""

from __future__ import annotations

import subprocess
import sys

PURE = (
    "benchapp.safe_text",
    "benchapp.screens.angle",
    "benchapp.screens.driver",
    "benchapp.screens.gate",
    "benchapp.screens.glyphs",
    "benchapp.screens.stray",
)


def test_pure_helpers_load_no_framework() -> None:
    """Commands without a screen may use them and stay quick."""
    code = f"import sys, {', '.join(PURE)}; print('textual' in sys.modules, 'rich' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "False"]
