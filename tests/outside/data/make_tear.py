"""One sheet torn by brute force: every tear at every millimetre, no reasoning about patterns.

Needs no library. The same search over all tears is an independent one: it shares no line and no
idea with the program's.
"""

from __future__ import annotations

import random
from functools import cache
from typing import Any

from tests.outside.data.kept import save


def best_of_sheet(sheet, pieces, turn, deckles):
    """(value, tears): the most a sheet gives and the fewest tears for it, by trying every tear.

    Args:
        sheet: Width and height, whole numbers.
        pieces: (width, height, value) of each size.
        turn: Pieces may lie a quarter round.
        deckles: How many deckled edges a piece must have; all edges of the sheet have one.
    """
    laid = {(w, h, v) for w, h, v in pieces}
    if turn:
        laid |= {(h, w, v) for w, h, v in pieces}

    @cache
    def best(wide, high, left, right, low, up):
        found = (0, 0)
        for w, h, v in laid:
            if (w, h) == (wide, high) and left + right + low + up >= deckles:
                found = max(found, (v, 0))
        for at in range(1, wide):
            a, b = best(at, high, left, 0, low, up), best(wide - at, high, 0, right, low, up)
            found = max(found, joined(a, b))
        for at in range(1, high):
            a, b = best(wide, at, left, right, low, 0), best(wide, high - at, left, right, 0, up)
            found = max(found, joined(a, b))
        return found

    ends = (1, 1, 1, 1) if deckles else (0, 0, 0, 0)
    value, tears = best(*sheet, *ends)
    return value, -tears


def joined(a, b):
    """Value and tears (below nothing) of a rectangle torn into two; nothing needs no tear."""
    return (a[0] + b[0], a[1] + b[1] - 1) if a[0] or b[0] else (0, 0)


def question(chance):
    """A random question about one sheet."""
    sheet = (chance.randint(8, 34), chance.randint(8, 26))
    sizes = [(chance.randint(2, sheet[0]), chance.randint(2, sheet[1]))
             for _ in range(chance.randint(1, 4))]  # fmt: skip
    if chance.random() < 0.5:  # small pieces, of which many fit
        sizes = [(max(2, w // 3), max(2, h // 3)) for w, h in sizes]
    turn, deckles = chance.random() < 0.7, chance.choice([0, 0, 0, 1, 2, 3])
    return {"sheet": sheet, "sizes": sizes, "turn": turn, "deckles": deckles}


def rows(seed: int, count: int) -> list[dict[str, Any]]:
    """Questions with their value (pieces for one size, else area) and tears."""
    chance = random.Random(seed)
    return [solved(question(chance)) for _ in range(count)]


def solved(asked):
    """The question with its value (pieces for one size, else area) and tears."""
    one = len(asked["sizes"]) == 1
    pieces = [(w, h, 1 if one else w * h) for w, h in asked["sizes"]]
    value, tears = best_of_sheet(asked["sheet"], pieces, asked["turn"], asked["deckles"])
    return {**asked, "value": value, "tears": tears}


if __name__ == "__main__":
    save("tear", rows)
