"""The trade's closed words for what is seen on a sheet, in their groups.

The words vary from house to house; these are common practice. A recipe adds
groups of its own. A bare word that could be meant of several things bears the
name of its thing (`ink warm`), so that a tag stands alone in a list. Pure.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

from benchapp.journal import Entry
from benchapp.recipe.model import Recipe

GROUPS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType({
    "tone": ("plate-tone heavy", "plate-tone thin", "plate-tone uneven", "foul bite",
             "scrim marks"),
    "wiping": ("over-wiped", "under-wiped", "salty", "lint", "finger mark"),
    "ink": ("ink stiff", "ink loose", "ink skinned", "ink warm", "ink cool", "ink dense",
            "ink weak", "set-off", "oil halo", "bevel ink"),
    "paper": ("too wet", "too dry", "crease", "cockle", "tear", "deckle fault", "stain",
              "wrong side", "paper stretched"),
    "press": ("slur", "doubled", "stop line", "pressure light", "pressure heavy",
              "one side light", "blanket mark", "plate mark cut", "skew"),
    "register": ("off x", "off y", "turned", "register stretched"),
    "plate": ("wear", "burr gone", "aquatint worn", "scratch", "corrosion", "crevé"),
    "sheet": ("hair", "streak", "dry patch", "water spot", "dirty margin", "colour dirtied",
              "tissue stuck", "mould spot", "blanket crease", "chine creased", "chine lifted",
              "chine short", "chine bubbled"),
})  # fmt: skip

GLOSSES: Final[Mapping[str, str]] = MappingProxyType({
    "salty": "white specks",
    "crevé": "lines bitten into one",
    "foul bite": "acid where the ground let it through",
    "cockle": "waves in the sheet",
    "slur": "dragged: sheet or blankets crept",
    "doubled": "each line twice",
    "stop line": "a bar where the roller stood",
    "set-off": "ink on the sheet above",
    "oil halo": "an oil rim round the lines",
    "off x": "beside its place, left or right",
    "off y": "beside its place, up or down",
    "burr gone": "drypoint no longer velvety",
})
"""What an unfamiliar tag means, in a few words."""


def groups_of(recipe: Recipe) -> dict[str, tuple[str, ...]]:
    """The trade's groups, and the recipe's own words added to them or behind them."""
    out = dict(GROUPS)
    for group, words in recipe.tags.items():
        there = out.get(group, ())
        out[group] = there + tuple(word for word in words if word not in there)
    return out


def last_used(entries: Iterable[Entry], at_most: int = 6) -> tuple[str, ...]:
    """The tags used last, the newest first.

    Args:
        entries: In the order they were written.
        at_most: How many are wanted.
    """
    used: dict[str, None] = {}
    for entry in reversed(tuple(entries)):
        if entry.kind == "tagged":
            used.setdefault(str(entry.body.get("tag", "")))
            if len(used) == at_most:
                break
    return tuple(used)


def glossed(tag: str) -> str:
    """The tag with what it means, where that is not plain: `salty (white specks)`."""
    meaning = GLOSSES.get(tag)
    return tag if meaning is None else f"{tag} ({meaning})"
