"""Writes in a book without end and says which entries are acknowledged; made to be killed.

Arguments: the book, a seed, and `sound` or `failing` for a disk that often refuses.
"""

from __future__ import annotations

import random
import sys
from pathlib import Path

from tests.book.samples import disk_full, moment, note, opened, sheet_out, writing


def main(path: Path, seed: int, *, failing: bool) -> None:
    """Open, append and close for ever."""
    chance = random.Random(seed)

    def fault(point: str) -> None:
        if failing and point in {"insert", "commit"} and chance.random() < 0.4:
            raise disk_full()

    started = False
    while True:
        with writing(path, fault) as book:  # type: ignore[arg-type]
            if not started:
                print("open", book.last_sequence(), flush=True)
                started = True
            for n in range(chance.randrange(60)):
                drafts = [note(f"{n} " + "x" * chance.randrange(300)), sheet_out(seed)]
                if n == 0:
                    drafts.insert(0, opened(f"{seed}-{book.last_sequence()}"))
                chance.shuffle(drafts)
                entries = book.append(drafts, moment(n), "note")
                print("\n".join(entry.id for entry in entries), flush=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), failing=sys.argv[3] == "failing")
