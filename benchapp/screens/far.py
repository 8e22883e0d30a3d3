"""The far view: what is read from the press, each as large as all of it fits. Pure.

What to do, what hurts there, its count, whose hands, and the clock that ends next beside
it. Where not all can be drawn, the count stays first, then what to do, then the hands; what
hurts is then one row of text, and never left out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise, product
from typing import Final, Literal

from benchapp.safe_text import SafeText, clip_text, sanitize
from benchapp.safe_text import cell_width as cells
from benchapp.screens.bench_fit import in_two
from benchapp.screens.bench_words import count_figure, task_panel, wrap_text
from benchapp.screens.glyph_dots import DOTS
from benchapp.screens.glyphs import HEIGHTS, glyph_rows, glyph_width
from benchapp.views.bench import BenchView
from benchapp.views.cautions import worst_hazard
from benchapp.views.clocks import ClockView

Part = Literal["name", "count", "hands", "clock"]
Role = Literal["name", "care", "count", "hands", "clock", "text"]
Span = tuple[str, Role]

#: Worth of each part where not all can be drawn, the first outweighing the rest together.
_WORTH: Final[dict[Part, int]] = {"count": 8, "name": 4, "hands": 2, "clock": 1}
_PARTS: Final[tuple[Part, ...]] = ("name", "count", "hands", "clock")
#: Cells beside the drawn clock for the name of what it counts.
_ASIDE: Final = 14
#: Cells between count and hands: twice those between two signs of either.
_BETWEEN: Final = 4
#: Heights of what hurts, where it is drawn.
_CARE: Final = (7, 5)
#: A name of more letters is cut to its first words.
_LETTERS: Final = 12
#: Rows from which more of one part does not make up for less of another.
_ENOUGH: Final = 10
_DIGIT: Final = re.compile(r"\d")


@dataclass(frozen=True, slots=True)
class Far:
    """What the far view says.

    Attributes:
        name: The short name to be drawn; empty where a sign of it is not drawn.
        do: The same in whole words.
        count: The count of the step, as drawn; empty for none.
        hands: `INKY` or `CLEAN`.
        clock: The most urgent other clock, as drawn; empty for none.
        of: What that clock counts; or what calls, with or without a clock beside.
        promise: When the wanted number will be met; stands where a row is left.
        told: The plate and the ink while it is inked and wiped, and paper that is not ready;
            has a row of its own where all else is drawn all the same.
        care: The sign of a caution and the hazard's name: `! SOLVENT`; empty for none.
    """

    name: str
    do: SafeText
    count: str
    hands: str
    clock: str = ""
    of: SafeText = SafeText("")  # noqa: RUF009 - a constant, and immutable
    promise: SafeText = SafeText("")  # noqa: RUF009 - likewise
    care: str = ""
    told: SafeText = SafeText("")  # noqa: RUF009 - likewise


@dataclass(frozen=True, slots=True)
class Heights:
    """Rows of each part, 0 where it is plain text; and whether the name takes two lines.

    `care` is 0 too where there is nothing to say.
    """

    name: int
    count: int
    hands: int
    clock: int
    two: bool = False
    care: int = 0

    @property
    def least(self) -> int:
        """The smallest height that is drawn; 0 for none."""
        return min((h for h in (self.name, self.count, self.hands, self.clock) if h), default=0)


def far_view(view: BenchView, clocks: Sequence[ClockView], promise: str = "") -> Far:
    """What stands there.

    Args:
        view: The Bench.
        clocks: Those beside the count that stands there already, the most urgent first.
        promise: When the wanted number will be met.
    """
    what = task_panel(view)
    hands = "INKY" if view.hands == "inky" else "CLEAN"
    hurts = "" if view.paused_ms is not None else worst_hazard(view.now.cares)
    inking = "" if view.paused_ms is not None else view.now.inking
    told = " · ".join(x for x in (inking, view.paper) if x)
    found = Far(what.name or first_words(what.do), what.do, what.count, hands,
                promise=sanitize(promise), care=f"! {hurts}" if hurts else "",
                told=sanitize(told))
    call = next((c for c in view.calls if c.calling), None)
    if call is not None:
        late = next((count_figure(c.count) for c in clocks if c.id == call.id), "")
        return replace(found, clock=late, of=sanitize(f"▶ CALLS ▶ {call.text}"))
    if not clocks:
        return found
    return replace(found, clock=count_figure(clocks[0].count), of=sanitize(clocks[0].name))


def first_words(do: str) -> str:
    """The first words of a step, as many as can be drawn in twelve letters; or none."""
    words = do.upper().split()
    kept = [n for n in range(1, len(words) + 1) if len(" ".join(words[:n])) <= _LETTERS]
    name = " ".join(words[:kept[-1]]) if kept else ""
    return name if all(sign in DOTS for sign in name) else ""


def far_heights(what: Far, columns: int, lines: int) -> Heights:
    """The heights for what is said, in a room of so many cells and rows."""
    found = _in_rows(what, columns, lines)
    if what.told:
        smaller = _in_rows(what, columns, lines - 1)
        found = smaller if _drawn(smaller) == _drawn(found) else found
    return found


def _in_rows(what: Far, columns: int, lines: int) -> Heights:
    lines -= 1 if what.of and not what.clock else 0
    if not what.care:
        return _others(what, columns, lines)
    found = _others(what, columns, lines - 1)
    for high in _CARE:
        smaller = _others(what, columns, lines - high - 2)
        if (glyph_width(what.care, high) <= columns and _drawn(smaller) == _drawn(found)
                and smaller.least >= high):
            return replace(smaller, care=high)
    return found


def _others(what: Far, columns: int, lines: int) -> Heights:
    """The heights of all but what hurts."""
    return _heights(what.name, _shape(what.count), what.hands, _shape(what.clock), columns, lines)


def _drawn(found: Heights) -> int:
    return sum(_WORTH[part] for part in _PARTS if getattr(found, part))


def _shape(figures: str) -> str:
    """Figures of the same width: all digits are equally wide."""
    return _DIGIT.sub("0", figures)


@lru_cache(maxsize=256)
def _heights(name: str, count: str, hands: str, clock: str, columns: int, lines: int) -> Heights:
    possible = [
        found
        for two in ((False, True) if " " in name else (False,))
        for found in (Heights(*high, two) for high in product(
            _of(name), _of(count), _of(hands), _of(clock)))
        if _fits(found, (name, count, hands, clock), columns, lines)
    ]
    return max(possible, key=_worth, default=Heights(0, 0, 0, 0))


def _of(text: str) -> tuple[int, ...]:
    return (0, *HEIGHTS) if text else (0,)


def _worth(found: Heights) -> tuple[int, ...]:
    high = [min(h, _ENOUGH) for h in (found.count, found.name, found.hands, found.clock)]
    weight = 2 * high[0] + 2 * high[1] + high[2] + high[3]
    return (_drawn(found), weight, found.count, -int(found.two))


def _fits(found: Heights, texts: tuple[str, str, str, str], columns: int, lines: int) -> bool:
    name, count, hands, clock = texts
    if found.count and max(found.name, found.hands, found.clock) > found.count:
        return False
    names = in_two(name).split("\n") if found.two else [name]
    if found.name and max(glyph_width(line, found.name) for line in names) > columns:
        return False
    if found.two and not found.name:
        return False
    if found.clock and glyph_width(clock, found.clock) + 2 + _ASIDE > columns:
        return False
    beside = _beside(found, count, hands, columns)
    if beside is None:
        return False
    blocks = [*([found.name] * len(names) if found.name else [1]), *beside]
    if clock:
        blocks.append(found.clock or 1)
    return sum(blocks) + _gaps(blocks) <= lines


def _gaps(blocks: Sequence[int]) -> int:
    """Rows that must stay empty: between two pictures, not beside a line of text."""
    return sum(a > 1 and b > 1 for a, b in pairwise(blocks))


def _beside(found: Heights, count: str, hands: str, columns: int) -> list[int] | None:
    """Rows of count and hands: beside each other, or one below the other; None: too wide."""
    across = [glyph_width(text, high) if high else cells(SafeText(text))
              for text, high in ((count, found.count), (hands, found.hands))]
    if max(across) > columns:
        return None
    high = [found.count or (1 if count else 0), found.hands or 1]
    if not count or across[0] + _BETWEEN + across[1] <= columns:
        return [max(high)]
    return high


# -- drawn --------------------------------------------------------------------------------


def draw_far_view(what: Far, columns: int, lines: int) -> list[list[Span]]:
    """Every row of the far view, from the top, at most `lines` of them."""
    found = far_heights(what, columns, lines)
    blocks = [*_name(what, found, columns), *_care(what, found, columns),
              *_middle(what, found, columns)]
    if what.clock or what.of:
        blocks.append(_clock(what, found, columns))
    high = [len(block) for block in blocks]
    spare = max(0, lines - sum(high) - _gaps(high))
    said = sanitize(" · ".join(x for x in (what.told, what.promise) if x))
    below = 1 if said and spare else 0
    more = (spare - below) // (len(blocks) + 1)
    out: list[list[Span]] = [[]] * more
    for place, block in enumerate(blocks):
        needed = _gaps(high[place - 1:place + 1]) if place else 0
        out += [[]] * (needed + more if place else 0) + block
    if below:
        out += [[]] * (lines - 1 - len(out)) + [[(clip_text(said, columns), "text")]]
    return out[:lines]


def _name(what: Far, found: Heights, columns: int) -> list[list[list[Span]]]:
    if not found.name:
        return [[[(clip_text(what.do, columns), "name")]]]
    parts = in_two(what.name).split("\n") if found.two else [what.name]
    return [[[(row, "name")] for row in glyph_rows(part, found.name)] for part in parts]


def _care(what: Far, found: Heights, columns: int) -> list[list[list[Span]]]:
    """The sign and the hazard's name; drawn as a picture where there is room for one."""
    if not what.care:
        return []
    return [_picture(what.care if found.care else clip_text(SafeText(what.care), columns),
                     found.care,
                     "care")]


def _middle(what: Far, found: Heights, columns: int) -> list[list[list[Span]]]:
    """Count and hands."""
    count = _picture(what.count, found.count, "count")
    hands = _picture(what.hands, found.hands, "hands")
    if not count:
        return [hands]
    if len(_beside(found, what.count, what.hands, columns) or [0]) > 1:
        return [count, hands]
    return [_side_by_side(count, hands)]


def _picture(text: str, high: int, role: Role) -> list[list[Span]]:
    if not text:
        return []
    return [[(row, role)] for row in (glyph_rows(text, high) if high else (text,))]


def _side_by_side(left: list[list[Span]], right: list[list[Span]]) -> list[list[Span]]:
    """Two pictures on one line, standing on the same ground."""
    across = max(_across(row) for row in left)
    high = max(len(left), len(right))
    left = [[]] * (high - len(left)) + left
    right = [[]] * (high - len(right)) + right
    return [[*a, (" " * (across - _across(a) + _BETWEEN), "text"), *b] if b else a
            for a, b in zip(left, right, strict=True)]


def _across(row: Iterable[Span]) -> int:
    return sum(cells(SafeText(text)) for text, _ in row)


def _clock(what: Far, found: Heights, columns: int) -> list[list[Span]]:
    """The other clock, and beside it what it counts."""
    if not found.clock:
        return [[(clip_text(sanitize(f"{what.clock} {what.of}".strip()), columns), "clock")]]
    picture = glyph_rows(what.clock, found.clock)
    words = wrap_text(what.of, max(1, columns - len(picture[0]) - 2))[:found.clock]
    words += [SafeText("")] * (found.clock - len(words))
    return [[(row, "clock"), (f"  {text}", "clock")] for row, text in
            zip(picture, words, strict=True)]
