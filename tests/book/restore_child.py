"""Restores a backup and kills itself at a named point. Arguments: book, backup, point."""

from __future__ import annotations

import os
import signal
import sys
from pathlib import Path

from benchapp.book.restore import prepare_restore


def main(path: Path, file: Path, point: str) -> None:
    """Restore, as far as it comes."""

    def fault(at: str) -> None:
        if at == point:
            os.kill(os.getpid(), signal.SIGKILL)

    with prepare_restore(path, file, state=path.parent / "state", temp=path.parent / "temp",
                         fault=fault) as ready:
        ready.put_in_place("2026-05-03-1820")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3])
