"""The plain ways to tear: halving and quartering by folds, and strips torn into pieces.

Strips are tears in two stages: the sheet into strips from edge to edge, each strip into pieces
(and what is too wide of a piece off it). All of it is reckoned at once, so it is there before,
and in place of, a search for cleverer tears.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd
from typing import Final

from benchapp.reckon.tearing.shapes import Frame, Node, Shape, Split, Way

_MOST_HALVINGS: Final = 12
#: Steps of filling that blocks may cost, about a quarter of a second.
_MOST_STEPS: Final = 4_000_000


@dataclass(frozen=True, slots=True)
class Folds:
    """A sheet halved again and again.

    Attributes:
        across: How often its width is halved.
        up: How often its height is.
        shape: What comes of it, at least as large as asked.
        tree: The halvings as tears.
    """

    across: int
    up: int
    shape: Shape
    tree: Node

    @property
    def pieces(self) -> int:
        """How many pieces come of it."""
        return 1 << (self.across + self.up)


def fold_sheet(frame: Frame, width: int, height: int, *, turn: bool, deckles: int
               ) -> Folds | None:  # fmt: skip
    """The most pieces by folding in halves and tearing along the folds; None: not even two.

    Args:
        frame: The sheet.
        width: The piece's width in 0.1 mm, without tolerance: a fold is where it should be.
        height: Its height.
        turn: It may lie a quarter round.
        deckles: How many deckled edges each piece must keep.
    """
    best: Folds | None = None
    for turned, (wide, high) in enumerate([(width, height), (height, width)][: 1 + turn]):
        for across in range(_halvings(frame.width, wide) + 1):
            for up in range(_halvings(frame.height, high) + 1):
                kept = frame.sides * _least_kept(across) + frame.ends * _least_kept(up)
                fits = frame.width >= wide and frame.height >= high and kept >= deckles
                if fits and (best is None or across + up > best.across + best.up):
                    best = _folded(frame, across, up, bool(turned))
    return best if best and best.pieces > 1 else None


def _least_kept(halvings: int) -> int:
    """How many of its two ends in deckle the worst piece keeps."""
    return max(0, 2 - halvings)


def _halvings(whole: int, part: int) -> int:
    found = 0
    while whole >> (found + 1) >= part and found < _MOST_HALVINGS:
        found += 1
    return found


def _folded(frame: Frame, across: int, up: int, turned: bool) -> Folds:
    tree = _halved("y", frame.height, up, _halved("x", frame.width, across, 0))
    shape = Shape(0, frame.width >> across, frame.height >> up, turned)
    return Folds(across, up, shape, trim_to(frame, frame.width, frame.height, tree))


def _halved(way: Way, length: int, times: int, inner: Node) -> Node:
    if not times:
        return inner
    half = length // 2
    parts = ((n, _halved(way, n, times - 1, inner)) for n in (half, length - half))
    return Split(way, tuple(parts))


def trim_to(frame: Frame, width: int, height: int, tree: Node) -> Node:
    """The tree on a sheet whose far edges, and what it does not use, are still on."""
    parts: list[tuple[Way, int, int]] = [
        ("y", height, frame.height + frame.edge), ("x", width, frame.width + frame.edge)]
    for way, used, whole in parts:
        if used < whole:
            tree = Split(way, ((used, tree), (whole - used, None)))
    return tree


@dataclass(frozen=True, slots=True)
class Strips:
    """A sheet torn into strips.

    Attributes:
        worth: What its pieces are worth, in the values asked with.
        tree: The tears; the leaves are places in the shapes asked with.
    """

    worth: int
    tree: Node


def straight_rows(frame: Frame, shapes: Sequence[Shape]) -> Strips:
    """The most pieces all laid the same way, in straight rows and columns."""
    values = [1] * (1 + max(s.kind for s in shapes))
    return max((_best_block(frame, [s], values) for s in shapes), key=lambda s: s.worth)


def best_strips(frame: Frame, shapes: Sequence[Shape], values: Sequence[int]) -> Strips:
    """The strips worth most: of the sheet, or of blocks that it is first torn into.

    Args:
        frame: The sheet.
        shapes: All shapes that fit and may be torn. Deckles are not looked at.
        values: What a piece of each kind is worth, whole and above 0.
    """
    found = [_best_block(frame, shapes, values)]
    sides: list[tuple[Way, int, list[int]]] = [
        ("x", frame.width, [s.width for s in shapes]),
        ("y", frame.height, [s.height for s in shapes]),
    ]
    unit = gcd(*(n for s in shapes for n in (s.width, s.height)))
    for way, whole, lengths in sides:
        blocks: list[tuple[int, Strips]] = []
        widths = sorted({n * k for n in lengths for k in range(1, whole // n)})
        if len(widths) * len(shapes) ** 2 * (frame.width + frame.height) // unit > _MOST_STEPS:
            continue
        for length in widths:
            part = Frame(length, frame.height) if way == "x" else Frame(frame.width, length)
            blocks.append((length, _best_block(part, shapes, values)))
        if blocks:
            filled = fill_lengths(whole, [(n, b.worth, k) for k, (n, b) in enumerate(blocks)])
            chosen = filled.names(whole)
            used = sum(blocks[k][0] for k in chosen)
            tree = side_by_side(way, used, [(blocks[k][0], blocks[k][1].tree) for k in chosen])
            size = (used, frame.height) if way == "x" else (frame.width, used)
            found.append(Strips(filled.worth(whole), trim_to(frame, *size, tree)))
    return max(found, key=lambda s: s.worth)


def _best_block(frame: Frame, shapes: Sequence[Shape], values: Sequence[int]) -> Strips:
    """The strips worth most, across or up."""
    across = _strips("y", frame, [(s.width, s.height, values[s.kind]) for s in shapes])
    up = _strips("x", frame, [(s.height, s.width, values[s.kind]) for s in shapes])
    return max(across, up, key=lambda s: s.worth)


def _strips(way: Way, frame: Frame, pieces: Sequence[tuple[int, int, int]]) -> Strips:
    """The best strips torn off one side; pieces as (length along a strip, depth, value)."""
    sides = (frame.width, frame.height)
    long, deep = sides if way == "y" else sides[::-1]
    rows: list[list[tuple[int, Node]]] = []
    worths: list[tuple[int, int, int]] = []
    for depth in sorted({d for n, d, _ in pieces if n <= long and d <= deep}):
        fitting = [(n, v, p) for p, (n, d, v) in enumerate(pieces) if n <= long and d <= depth]
        row = fill_lengths(long, fitting)
        worths.append((depth, row.worth(long), len(rows)))
        places = row.names(long)
        rows.append([(pieces[p][0], cut_depth(way, depth, pieces[p][1], p)) for p in places])
    if not rows:
        return Strips(0, None)
    filled = fill_lengths(deep, worths)
    chosen = filled.names(deep)
    # What no strip uses of its length is torn off all of them at once.
    used = max(sum(length for length, _ in rows[k]) for k in chosen)
    depths = [worths[k][0] for k in chosen]
    other: Way = "x" if way == "y" else "y"
    strips = [side_by_side(other, used, rows[k]) for k in chosen]
    tree = side_by_side(way, sum(depths), list(zip(depths, strips, strict=True)))
    size = (used, sum(depths)) if way == "y" else (sum(depths), used)
    return Strips(filled.worth(deep), trim_to(frame, *size, tree))


def cut_depth(way: Way, strip: int, depth: int, place: int) -> Node:
    """A piece in a strip, what is too wide torn off it."""
    return place if strip == depth else Split(way, ((depth, place), (strip - depth, None)))


def side_by_side(way: Way, whole: int, parts: Sequence[tuple[int, Node]]) -> Node:
    """Parts in a row, the waste behind them."""
    waste = whole - sum(length for length, _ in parts)
    if len(parts) == 1 and not waste:
        return parts[0][1]
    return Split(way, (*parts, *([(waste, None)] if waste else [])))


@dataclass(frozen=True, slots=True)
class Fill:
    """The most worth in every length up to a whole, of items taken as often as one likes.

    Attributes:
        unit: What all lengths are multiples of.
        best: The most worth, by length in units.
        last: The item that is put in last, or -1: none.
        items: (length, worth, name) of each.
    """

    unit: int
    best: list[int]
    last: list[int]
    items: Sequence[tuple[int, int, int]]

    def worth(self, length: int) -> int:
        """The most worth in a length."""
        return self.best[length // self.unit]

    def names(self, length: int) -> list[int]:
        """What is in it, longest first."""
        found: list[tuple[int, int]] = []
        at = length // self.unit
        while at > 0:
            if self.last[at] < 0:
                at -= 1
            else:
                size, _, name = self.items[self.last[at]]
                found.append((size, name))
                at -= size // self.unit
        return [name for _, name in sorted(found, key=lambda f: -f[0])]


def fill_lengths(whole: int, items: Sequence[tuple[int, int, int]]) -> Fill:
    """Fill every length up to a whole with items of (length, worth, name)."""
    unit = gcd(*(length for length, _, _ in items)) or 1
    best, last = [0] * (whole // unit + 1), [-1] * (whole // unit + 1)
    steps = [(length // unit, worth, k) for k, (length, worth, _) in enumerate(items)]
    for at in range(1, len(best)):
        most, by = best[at - 1], -1
        for step, worth, k in steps:
            if step <= at and best[at - step] + worth > most:
                most, by = best[at - step] + worth, k
        best[at], last[at] = most, by
    return Fill(unit, best, last, items)
