"""`python -m tests.speed`: one table of what is waited for, its floor, their ratio and the budget.

--only WORD   rows of one part: start, screen, book or day
--keep FILE   write the ratios into a file
--against FILE  name those that grew by more than a fifth since that file was written

It takes about five minutes with nothing beside it; busy with other work, figures jump.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections.abc import Iterable, Iterator
from pathlib import Path

from tests.speed import figures as f

#: A ratio that grew by more than this is named.
GROWN = 1.2


def rows(only: str | None) -> Iterator[f.Figure]:
    """Every figure, or those of one part, as they are taken."""
    with tempfile.TemporaryDirectory(prefix="speed-") as folder:
        there = Path(folder)
        for part, take in (("start", lambda: f.start_figures(_home(there, "start"))),
                           ("screen", lambda: f.screen_figures(_home(there, "screen"))),
                           ("book", lambda: f.book_figures(_home(there, "book"))),
                           ("day", f.day_figures)):
            if only in (None, part):
                yield from take()


def _home(there: Path, name: str) -> Path:
    home = there / name / "home"
    home.mkdir(parents=True)
    return home


def line(one: f.Figure) -> str:
    """One row of the table."""
    return (f"{one.name:<36}{_amount(one.ours):>8} {one.unit:<4}{_amount(one.floor):>8} "
            f"{one.unit:<4}{one.ratio:>6.2f} {one.budget:>6.2f}  {'pass' if one.holds else 'short'}"
            f"  {one.beside}")


def _amount(value: float) -> str:
    return f"{value:.0f}" if value >= 100 else f"{value:.2f}"


def grown(now: Iterable[f.Figure], before: dict[str, float]) -> list[str]:
    """What takes more of its floor than it did, by more than a fifth."""
    return [f"{one.name}: {one.ratio:.2f} times its floor, before {before[one.name]:.2f}"
            for one in now if one.ratio > GROWN * before.get(one.name, float("inf"))]


def main() -> int:
    """Print the table; 1 if something grew."""
    parser = argparse.ArgumentParser(prog="python -m tests.speed", description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--only", choices=("start", "screen", "book", "day"))
    parser.add_argument("--keep", type=Path)
    parser.add_argument("--against", type=Path)
    asked = parser.parse_args()
    print(f"{'figure':<36}{'ours':>8}     {'floor':>8}      ratio budget")
    taken = []
    for one in rows(asked.only):
        taken.append(one)
        print(line(one), flush=True)
    if asked.keep:
        asked.keep.write_text(json.dumps({one.name: one.ratio for one in taken}, indent=2) + "\n",
                              encoding="utf-8")
    found = [] if asked.against is None else grown(
        taken, json.loads(asked.against.read_text(encoding="utf-8")))
    print(*found, sep="\n", end="\n" if found else "")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
