"""A planned day over the clock: a row for every pair of hands, plate, place and pack. Pure.

Needs no colour: inky and clean hands differ by their sign, and numbers say which impression it
is. A cell stands for some minutes and shows what takes most of them; exact times are in the list.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final

from benchapp.planning.activities import HELPER, PRINTER
from benchapp.planning.day import BREAK, SOAK, TAKEN, DayPlan, PackPlan, Planned
from benchapp.safe_text import cell_width, clip_text, sanitize
from benchapp.session.compiled_recipe import WASH, CompiledRecipe

Clock = Callable[[int], str]

#: Cells of a row that its name takes.
LABEL: Final = 10
_LEAST: Final = 40
#: Minutes between the times named over the rows, and the cells a time needs.
_SPACINGS: Final = (15, 30, 60, 120, 180, 240, 360, 720, 1440)
_TIME: Final = 7
#: What is drawn, its sign, the sign where only ASCII is to be had, and its words.
_SIGNS: Final = {
    "inky": ("█", "#", "inky"), "clean": ("▒", "=", "clean"), WASH: ("~", "~", "wash"),
    BREAK: ("×", "x", "break"), "used": ("▒", "=", "in use"), TAKEN: ("×", "x", "taken"),
    "water": ("~", "~", "in the water"), "rests": ("-", "-", "rests"),
    "ready": ("·", ".", "ready"),
}


@dataclass(frozen=True, slots=True)
class _Bar:
    """From when until when, as what, and the impression whose number stands at its beginning."""

    start: int
    end: int
    sign: str
    number: int | None = None


def day_rows(plan: DayPlan, shape: CompiledRecipe, clock: Clock, columns: int, *,
             until: int | None = None,
             plain: bool = False) -> list[str]:
    """The day as rows of signs, the clock on top and the signs explained below.

    Args:
        plan: The plan.
        shape: The recipe it is of.
        clock: The time of day of a second of the plan.
        columns: Cells a row may take.
        until: The window's end, drawn through all rows.
        plain: In ASCII alone.
    """
    cells = max(columns, _LEAST) - LABEL
    whole = max(1, plan.end, until or 0)
    scale = _Scale(whole, cells)
    found = [(name, bars) for name, bars in _all(plan, shape) if bars]
    used = dict.fromkeys(b.sign for _, bars in found for b in bars)
    mark = None if until is None else scale.cell(until)
    out = [" " * LABEL + _times(scale, clock)]
    out += [_label(name) + _drawn(bars, scale, mark, plain) for name, bars in found]
    return [line.rstrip() for line in (*out, *_legend(used, until, clock, plain, columns))]


@dataclass(frozen=True, slots=True)
class _Scale:
    whole: int
    cells: int

    def cell(self, second: int) -> int:
        """The cell a second falls in."""
        return max(0, min(self.cells - 1, second * self.cells // self.whole))

    def span(self, cell: int) -> tuple[int, int]:
        """The seconds a cell stands for."""
        return cell * self.whole // self.cells, (cell + 1) * self.whole // self.cells


def _label(name: str) -> str:
    shown = clip_text(sanitize(name), LABEL - 1)
    return shown + " " * (LABEL - cell_width(shown))


def _times(scale: _Scale, clock: Clock) -> str:
    """Round times of day, each beginning over its cell."""
    hours, minutes = map(int, clock(0).split(":"))
    wide = ceil(_TIME * scale.whole / scale.cells / 60)
    every = 60 * next((x for x in _SPACINGS if x >= wide), _SPACINGS[-1])
    first = -(hours * 60 + minutes) * 60 % every
    line = ""
    for second in range(first, scale.whole + 1, every):
        at = scale.cell(second)
        if at >= len(line) and at + _TIME - 2 <= scale.cells:
            line = line.ljust(at) + clock(second) + " "
    return line


def _drawn(bars: Sequence[_Bar], scale: _Scale, mark: int | None, plain: bool) -> str:
    signs = [_sign(bars, *scale.span(c)) for c in range(scale.cells)]
    line = [" " if s is None else _SIGNS[s][plain] for s in signs]
    if mark is not None and line[mark] == " ":
        line[mark] = "|"
    free = 0
    for bar in sorted((b for b in bars if b.number is not None), key=lambda b: b.start):
        text, at = str(bar.number), scale.cell(bar.start)
        if at >= free and at + len(text) <= scale.cells:
            line[at: at + len(text)] = text
            free = at + len(text) + 1
    return "".join(line)


def _sign(bars: Iterable[_Bar], start: int, end: int) -> str | None:
    """What takes most of these seconds; None where nothing does."""
    most: dict[str, int] = {}
    for b in bars:
        both = min(b.end, end) - max(b.start, start)
        if both > 0:
            most[b.sign] = most.get(b.sign, 0) + both
    return max(most, key=lambda s: most[s], default=None)


def _legend(used: Iterable[str], until: int | None, clock: Clock, plain: bool,
            columns: int) -> list[str]:
    said = [f"{_SIGNS[s][plain]} {_SIGNS[s][2]}" for s in _SIGNS if s in set(used)]
    said += ["a number begins an impression"]
    said += [] if until is None else [f"| {clock(until)}"]
    lines: list[str] = []
    line = ""
    for words in said:
        if line and LABEL + len(line) + 3 + len(words) > columns:
            lines, line = [*lines, line], ""
        line = f"{line}   {words}" if line else words
    return [" " * LABEL + x for x in (*lines, line)]


# -- what is in a row -------------------------------------------------------------------------


def _all(plan: DayPlan, shape: CompiledRecipe) -> Iterable[tuple[str, list[_Bar]]]:
    yield "Hands", _hands(plan, PRINTER)
    if any(x.who == HELPER for x in plan.items):
        yield "Helper", _hands(plan, HELPER)
    alone = len(shape.recipe.plates) == 1
    for plate in shape.recipe.plates:
        yield ("Plate" if alone else plate.name), _plate(plan, shape, plate.name)
    for place in shape.places:
        yield place[:1].upper() + place[1:], [_at_place(x) for x in plan.items if x.at == place
                                              and x.name[1].step != SOAK]
    for n, pack in enumerate(plan.packs, 1):
        if pack.ordinals or pack.into is not None:
            yield f"Pack {n}", _pack(plan, pack)


def _hands(plan: DayPlan, who: str) -> list[_Bar]:
    """What one pair of hands does; a break is everyone's."""
    return [_Bar(x.start, x.end, _kind(x)) for x in plan.items
            if x.hands != "free" and (x.who == who or x.name[1].step == BREAK)]


def _kind(x: Planned) -> str:
    return x.name[1].step if x.name[1].step in (WASH, BREAK) else x.hands


def _at_place(x: Planned) -> _Bar:
    if x.name[1].step == TAKEN:
        return _Bar(x.start, x.end, TAKEN)
    return _Bar(x.start, x.end, "used", x.name[1].impression)


def _plate(plan: DayPlan, shape: CompiledRecipe, plate: str) -> list[_Bar]:
    """From the first step on it until it is free again, impression by impression."""
    held: dict[int, list[Planned]] = {}
    for x in plan.items:
        step, k = x.name[1].step, x.name[1].impression
        mine = plate in shape.plates_of.get(step, ()) or step == shape.release.get(plate)
        if k is not None and mine:
            held.setdefault(k, []).append(x)
    return [_Bar(min(x.start for x in xs), max(x.end for x in xs), "used", k)
            for k, xs in held.items()]


def _pack(plan: DayPlan, pack: PackPlan) -> list[_Bar]:
    """In the water, at rest, and ready until its last sheet is taken."""
    out: list[_Bar] = []
    came_out = 0 if pack.out is None else pack.out
    if pack.out is not None:
        out.append(_Bar(pack.into or 0, pack.out, "water"))
    out.append(_Bar(came_out if pack.out is not None else (pack.into or 0), pack.ready, "rests"))
    last = max((x.start for x in plan.items if x.at == "press"
                and x.name[1].impression in pack.ordinals), default=pack.ready)
    out.append(_Bar(pack.ready, last, "ready"))
    return [b for b in out if b.end > b.start]
