"""Tears as a list that can be followed at the table."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby

from benchapp.quantities import number_text
from benchapp.reckon.tearing.layout import Layout, Step
from benchapp.reckon.tearing.shapes import Frame
from benchapp.reckon.tearing.strips import Folds


def mm_text(tenths: int) -> str:
    """A length in 0.1 mm as a figure in millimetres."""
    return number_text(Fraction(tenths, 10))


def size_text(width: int, height: int) -> str:
    """Width and height in 0.1 mm as `250 × 180 mm`."""
    return f"{mm_text(width)} × {mm_text(height)} mm"


def tear_steps(layout: Layout, *, cut: bool) -> list[str]:
    """The tears in order, equal ones said once; `cut` where a blade makes them."""
    told: dict[tuple[int, int, str, tuple[int, ...]], list[Step]] = {}
    for step in layout.steps:
        key = (step.rect.width, step.rect.height, step.way, step.lengths)
        told.setdefault(key, []).append(step)
    whole = (
        layout.frame.width + 2 * layout.frame.edge,
        layout.frame.height + 2 * layout.frame.edge,
    )
    verb = "cut" if cut else "tear"
    return [
        f"{number}. {_step(same[0], len(same), whole, verb)}"
        for number, same in enumerate(told.values(), 1)
    ]


def _step(step: Step, many: int, whole: tuple[int, int], verb: str) -> str:
    wide, high = step.rect.width, step.rect.height
    each = "the" if many == 1 else f"each of {many}"
    what = "The sheet" if (wide, high) == whole else f"{each.capitalize()} {size_text(wide, high)}"
    side = wide if step.way == "x" else high
    marks = _listed([mm_text(m) for m in step.marks])
    return f"{what}: along the {mm_text(side)} mm side {verb} at {marks} mm, for {_strips(step)}"


def _strips(step: Step) -> str:
    """`3 of 250 × 560 mm and 10 mm`: what comes of it, bare lengths along the side torn."""
    runs = [(n, len(list(g))) for n, g in groupby(step.lengths)]
    return _listed([f"{many} of {mm_text(n)} mm" if many > 1 else f"{mm_text(n)} mm" for n,
                    many in runs])


def fold_steps(folds: Folds, frame: Frame) -> list[str]:
    """Folds as a list; each is torn along before the next."""
    found = []
    wide, high = frame.width, frame.height
    if frame.edge:
        found.append(f"Tear {mm_text(frame.edge)} mm off each of the four edges")
    left = [folds.across, folds.up]
    while any(left):
        across = left[0] > 0 and (wide >= high or not left[1])
        left[0 if across else 1] -= 1
        side, wide, high = (wide, wide // 2, high) if across else (high, wide, high // 2)
        what = f"Fold the {mm_text(side)} mm side in half and tear along the fold"
        found.append(f"{what}: {size_text(wide, high)}")
    return [f"{number}. {text}" for number, text in enumerate(found, 1)]


def _listed(words: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    if len(words) == 1:
        return words[0]
    return f"{', '.join(words[:-1])} and {words[-1]}"
