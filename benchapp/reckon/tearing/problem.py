"""One sheet and the shapes to be torn from it, made ready for the searches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from benchapp.reckon.tearing.axis import Axis, axis, sums


@dataclass(frozen=True, slots=True)
class Shape:
    """A piece laid one way.

    Attributes:
        kind: Which of the sizes asked for, from 0.
        width: What it takes of the sheet along its width, in 0.1 mm, tolerance included.
        height: The same along its height.
        turned: Laid a quarter round.
        deckles: How many of its edges must have their deckle.
    """

    kind: int
    width: int
    height: int
    turned: bool
    deckles: int = 0


@dataclass(frozen=True, slots=True)
class Frame:
    """The sheet, in 0.1 mm.

    Attributes:
        width: Its width, without edges that are torn off first.
        height: Its height, the same.
        edge: What is torn off each of its four edges; 0: nothing.
        sides: Both the left and the right edge have a deckle.
        ends: Both the lower and the upper edge have one.
    """

    width: int
    height: int
    edge: int = 0
    sides: bool = True
    ends: bool = True

    @property
    def area(self) -> int:
        """Its area without edges, in 0.01 mm2."""
        return self.width * self.height


@dataclass(frozen=True, slots=True)
class Problem:
    """Axes, and which shape fills which pair of stops exactly.

    Attributes:
        shapes: The shapes that fit, as the axes know them.
        true: The same at their true sizes; smaller where `grain` is above 1.
        grain: What the sizes were rounded up to, in 0.1 mm.
        leaves: (stop across, stop up) -> shapes (their places in `shapes`) that fill it.
    """

    frame: Frame
    shapes: tuple[Shape, ...]
    true: tuple[Shape, ...]
    grain: int
    across: Axis
    up: Axis
    leaves: dict[tuple[int, int], tuple[int, ...]]

    @property
    def work(self) -> int:
        """How many sums a search over all pairs of stops does."""
        return self.across.work * len(self.up.stops) + self.up.work * len(self.across.stops)


#: What sizes are rounded up to, in 0.1 mm, until a search is short enough.
GRAINS: Final = (1, 10, 20, 50, 100, 250)
#: More stops than this on one axis are not even counted out in pairs.
_STOPS_AT_MOST: Final = 1800


def problem(
    frame: Frame,
    shapes: Sequence[Shape],
    most: Sequence[int] | None = None,
    work: int = 12_000_000,
    grain: int = 1,
) -> Problem:
    """Make a sheet and shapes ready.

    Args:
        frame: The sheet.
        shapes: All shapes that may be torn, both ways round where turning is allowed.
        most: How many of each kind are wanted at most; None: no limit.
        work: The most sums a search may do; sizes are rounded up until it does fewer.
        grain: What they are rounded up to at least, in 0.1 mm.
    """
    true = [s for s in shapes if s.width <= frame.width and s.height <= frame.height]
    for each in (g for g in GRAINS if g >= grain):
        made = _made(frame, true, most, each)
        if made is not None and made.work <= work:
            return made
    if made is None:
        raise ValueError("pieces of less than a millimetre are not torn")
    return made


def _made(
    frame: Frame, true: Sequence[Shape], most: Sequence[int] | None, grain: int
) -> Problem | None:
    """The problem with sizes rounded up to `grain`; None if it has too many stops."""
    rounded = [
        replace(
            s, width=_up(s.width, grain, frame.width), height=_up(s.height, grain, frame.height)
        )
        for s in true
    ]
    deckled = any(s.deckles for s in true)

    def limit(s: Shape) -> int:
        return most[s.kind] if most is not None else frame.area

    wide = sums([(s.width, limit(s)) for s in rounded], frame.width)
    high = sums([(s.height, limit(s)) for s in rounded], frame.height)
    if max(len(wide), len(high)) > _STOPS_AT_MOST:
        return None
    across = axis(wide, frame.width, deckled and frame.sides, frame.edge)
    up = axis(high, frame.height, deckled and frame.ends, frame.edge)
    return Problem(
        frame, tuple(rounded), tuple(true), grain, across, up, _leaves(rounded, across, up)
    )


def _up(length: int, grain: int, whole: int) -> int:
    return min(-(-length // grain) * grain, whole)


def _leaves(
    shapes: Sequence[Shape], across: Axis, up: Axis
) -> dict[tuple[int, int], tuple[int, ...]]:
    found: dict[tuple[int, int], tuple[int, ...]] = {}
    for place, shape in enumerate(shapes):
        for i in across.fits(shape.width):
            for j in up.fits(shape.height):
                if across.stops[i].deckles + up.stops[j].deckles >= shape.deckles:
                    found[i, j] = (*found.get((i, j), ()), place)
    return found
