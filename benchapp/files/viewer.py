"""Opening a file or folder in the program that the system has for it. An edge: tests inject it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import threading
from collections.abc import Callable, Mapping
from pathlib import Path


def viewer_command(environ: Mapping[str, str], platform: str,
                   which: Callable[[str], str | None]) -> str | None:
    """The program that opens a file as the system would; None: nobody here would see it.

    Over ssh it would open on another machine, and without a display in this terminal.

    Args:
        environ: The environment variables.
        platform: As `sys.platform` has it.
        which: Gives the path of a program, or None.
    """
    if environ.get("SSH_CONNECTION") or environ.get("SSH_TTY"):
        return None
    if platform == "darwin":
        return which("open")
    if not (environ.get("DISPLAY") or environ.get("WAYLAND_DISPLAY")):
        return None
    return which("xdg-open")


def open_in_viewer(path: Path) -> bool:
    """Open `path` in the system's viewer; whether one was started. What it does then is its own."""
    if sys.platform == "win32":
        try:
            os.startfile(path)  # noqa: S606 - what opens it is the system's to say
        except OSError:
            return False
        return True
    command = viewer_command(os.environ, sys.platform, shutil.which)
    if command is None:
        return False
    quiet = subprocess.DEVNULL  # a word of it would stand across the screen
    try:
        started = subprocess.Popen(  # noqa: S603 - a program of the system, a file of ours
            [command, os.fspath(path)], stdin=quiet, stdout=quiet, stderr=quiet,
            start_new_session=True)
    except OSError:
        return False
    threading.Thread(target=started.wait, daemon=True).start()
    return True
