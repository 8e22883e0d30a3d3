"""A small screen under the guard, for a pseudo-terminal: takes the terminal and does as told."""

from __future__ import annotations

import fcntl
import os
import signal
import sys
import termios
import time
import tty
from pathlib import Path

from benchapp.calls.guard import run_guarded

#: As a full screen sets it: alternate screen, mouse, no cursor, focus, keys, paste, no wrap.
TAKE = "\x1b[?1049h\x1b[?1003h\x1b[?1006h\x1b[?25l\x1b[?1004h\x1b[>25u\x1b[?2004h\x1b[?7l"


def screen(how: str, lock: Path) -> int:
    """Take the terminal and a lock, say the process's number, then end as `how` says."""
    held = lock.open("w")
    fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
    if how == "deaf":
        signal.signal(signal.SIGTERM, signal.SIG_IGN)
    if how == "kind":
        signal.signal(signal.SIGTERM, lambda number, frame: sys.exit(128 + number))
    if how == "resized":
        signal.signal(signal.SIGWINCH, lambda number, frame: print("<resized>", flush=True))
    if how == "well":
        print("<done>", flush=True)
        return 3
    tty.setraw(0)
    sys.stderr.write(TAKE)
    sys.stderr.flush()
    print(f"<{os.getpid()}>", flush=True)
    if how == "crash":
        raise ValueError("the roller is stuck \x1b[31m")
    while True:
        time.sleep(60)


def told_at_once() -> None:
    """Have the parent told to end the moment it has parted."""
    part = os.fork

    def parted() -> int:
        child = part()
        if child:
            os.kill(os.getpid(), signal.SIGTERM)
        return child

    os.fork = parted


if __name__ == "__main__":
    if sys.argv[1] == "early":
        told_at_once()
    code = run_guarded(lambda: screen(sys.argv[1], Path(sys.argv[2])), "benchapp resume 2026-05-03")
    waiting = int.from_bytes(fcntl.ioctl(0, termios.FIONREAD, bytes(4)), sys.byteorder)
    print(f"<waiting {waiting}><code {code}>", flush=True)
