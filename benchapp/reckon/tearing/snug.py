"""Drawing a way to tear tight around pieces smaller than it was made for."""

from __future__ import annotations

from collections.abc import Sequence

from benchapp.reckon.tearing.problem import Shape
from benchapp.reckon.tearing.tree import Node, Split


def snug(node: Node, shapes: Sequence[Shape], width: int, height: int) -> Node:
    """The same pieces in the same order in a rectangle they fit in, waste torn off once.

    Args:
        node: A way to tear; without deckles to keep, since waste goes behind.
        shapes: What its leaves stand for, at their true sizes.
        width: The rectangle's width, in 0.1 mm.
        height: Its height.
    """
    if node is None:
        return None
    wide, high = _need(node, shapes)
    if high < height:
        return Split("y", ((high, snug(node, shapes, width, high)), (height - high, None)))
    if wide < width:
        return Split("x", ((wide, snug(node, shapes, wide, height)), (width - wide, None)))
    if isinstance(node, int):
        return node
    parts = [part for _, part in node.parts if part is not None]
    if len(parts) == 1:
        return snug(parts[0], shapes, width, height)
    across = node.way == "x"
    lengths = [_need(part, shapes)[0 if across else 1] for part in parts]
    return Split(
        node.way,
        tuple(
            (n, snug(part, shapes, n if across else width, height if across else n))
            for n, part in zip(lengths, parts, strict=True)
        ),
    )


def _need(node: Node, shapes: Sequence[Shape]) -> tuple[int, int]:
    """The smallest rectangle the pieces of a way to tear fit in, in its order."""
    if node is None:
        return 0, 0
    if isinstance(node, int):
        return shapes[node].width, shapes[node].height
    sizes = [_need(part, shapes) for _, part in node.parts]
    wide, high = [w for w, _ in sizes], [h for _, h in sizes]
    return (sum(wide), max(high)) if node.way == "x" else (max(wide), sum(high))
