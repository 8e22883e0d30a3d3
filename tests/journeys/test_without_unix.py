"""The plain lines and the screens need nothing that only Unix has."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_a_day_and_the_screens_without_what_only_unix_has(home: Path) -> None:
    """No fcntl, termios, fork or signals: a day by lines, Studio, help and Bench."""
    done = subprocess.run([sys.executable, "-m", "tests.journeys.without_unix"], cwd=ROOT,
                          capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stderr
    assert "closed · pulled 3 · counting 1" in done.stdout
    assert done.stdout.endswith("screens seen\n")
    assert done.stderr == ""
