"""The drawings of the large numerals and capitals: dots, 7 high. Our own hand.

Digits are all five dots wide. 0 is open and round where O (never in a mark)
is square-shouldered; 1 has a foot and 7 a straight leg, so that the two are
told apart from afar; 6 and 9 are open hooks, 8 is pinched and B is flat-backed.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

_DRAWN: Final = """
0     1     2     3     4     5     6     7     8     9
.###. ..#.. ####. ####. #..#. ##### .###. ##### .###. .###.
#...# ###.. ....# ....# #..#. #.... #.... ....# #...# #...#
#...# ..#.. ....# ....# #..#. #.... #.... ...#. #...# #...#
#...# ..#.. .###. .###. ##### ####. ####. ...#. .###. .####
#...# ..#.. #.... ....# ...#. ....# #...# ..#.. #...# ....#
#...# ..#.. #.... ....# ...#. ....# #...# ..#.. #...# ....#
.###. ##### ##### ####. ...#. ####. .###. ..#.. .###. .###.

A     B     C     D     E     F     G     H     I     J
.###. ####. .#### ####. ##### ##### .#### #...# ##### ..###
#...# #...# #.... #...# #.... #.... #.... #...# ..#.. ....#
#...# #...# #.... #...# #.... #.... #.... #...# ..#.. ....#
##### ####. #.... #...# ####. ####. #.### ##### ..#.. ....#
#...# #...# #.... #...# #.... #.... #...# #...# ..#.. ....#
#...# #...# #.... #...# #.... #.... #...# #...# ..#.. #...#
#...# ####. .#### ####. ##### #.... .#### #...# ##### .###.

K     L     M     N     O     P     Q     R     S     T
#...# #.... #...# #...# ##### ####. .###. ####. .#### #####
#..#. #.... ##.## ##..# #...# #...# #...# #...# #.... ..#..
#.#.. #.... #.#.# ##..# #...# #...# #...# #...# #.... ..#..
##... #.... #.#.# #.#.# #...# ####. #...# ####. .###. ..#..
#.#.. #.... #...# #..## #...# #.... #.#.# #.#.. ....# ..#..
#..#. #.... #...# #..## #...# #.... #..#. #..#. ....# ..#..
#...# ##### #...# #...# ##### #.... .##.# #...# ####. ..#..

U     V     W     X     Y     Z     ?     +     ≈     /
#...# #...# #...# #...# #...# ##### ####. ..... ..... ....#
#...# #...# #...# #...# #...# ....# ....# ..#.. .##.# ....#
#...# #...# #...# .#.#. #...# ...#. ....# ..#.. #..#. ...#.
#...# #...# #.#.# ..#.. .###. ..#.. ..##. ##### ..... ..#..
#...# .#.#. #.#.# .#.#. ..#.. .#... ..#.. ..#.. .##.# .#...
#...# .#.#. ##.## #...# ..#.. #.... ..... ..#.. #..#. #....
.###. ..#.. #...# #...# ..#.. ##### ..#.. ..... ..... #....

-     −
.... ....
.... ....
.... ....
#### ####
.... ....
.... ....
.... ....
"""

_NARROW: Final = {
    ":": (".", ".", "#", ".", "#", ".", "."),
    ".": (".", ".", ".", ".", ".", ".", "#"),
    "!": ("#", "#", "#", "#", "#", ".", "#"),
    " ": ("...",) * 7,
}


def _read(drawn: str) -> Mapping[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for block in drawn.strip().split("\n\n"):
        names, *lines = block.splitlines()
        columns = zip(*(line.split() for line in lines), strict=True)
        found |= dict(zip(names.split(), columns, strict=True))
    return MappingProxyType(found | _NARROW)


DOTS: Final = _read(_DRAWN)
"""Character to its seven lines of `#` and `.`."""

LOW_WIDTHS: Final[Mapping[str, tuple[int, ...]]] = MappingProxyType(
    {"1": (1, 1, 2, 1, 2), "4": (2, 1, 1, 2, 1), "7": (1, 1, 2, 1, 2)}
    | dict.fromkeys("ITVWXY+?", (2, 1, 2, 1, 2))
)
"""At the lowest height, half cells each column of these takes: stems keep their weight."""

LOW: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        ":": ("..", "..", "##", "##", "..", "..", "##", "##", "..", ".."),
        "≈": (
            ".......",
            ".###..#",
            "#######",
            "#..###.",
            ".......",
            ".......",
            ".###..#",
            "#######",
            "#..###.",
            ".......",
        ),
    }
)
"""Drawn half cell by half cell at the lowest height, where stretching fails them."""
