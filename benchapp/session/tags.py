"""Tags: closed words of the trade for what is seen on a sheet, in groups, with their glosses.

A recipe adds words of its own, in groups of its own or in these. Pure.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

from benchapp.recipe.model import Recipe
from benchapp.session.state import Session

#: The words printers of etchings use, by what they are about.
TRADE: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType({
    "tone": ("plate tone heavy", "plate tone thin", "plate tone uneven", "foul bite",
             "scrim marks"),
    "wiping": ("over-wiped", "under-wiped", "salty", "lint", "finger mark"),
    "ink": ("stiff", "loose", "skinned", "warm", "cool", "dense", "weak", "set-off", "oil halo",
            "bevel ink"),
    "paper": ("too wet", "too dry", "crease", "cockle", "tear", "deckle fault", "stain",
              "wrong side", "stretched"),
    "press": ("slur", "doubled", "stop line", "light", "heavy", "one side light",
              "blanket mark", "plate mark cut", "skew"),
    "register": ("off x", "off y", "off turned", "off stretched"),
    "plate": ("wear", "burr gone", "aquatint worn", "scratch", "corrosion", "crevé"),
    "sheet": ("hair", "streak", "dry patch", "water spot", "dirty margin", "colour dirtied",
              "tissue stuck", "mould spot", "blanket crease", "chine creased", "chine lifted",
              "chine short", "chine bubbled"),
})

#: What the less familiar of them mean.
GLOSSES: Final[Mapping[str, str]] = MappingProxyType({
    "foul bite": "pits where the ground let the acid through",
    "salty": "white specks",
    "set-off": "ink printed off on to tissue or the next sheet",
    "oil halo": "a yellow ring of oil round the ink",
    "skinned": "ink dried to a skin",
    "bevel ink": "ink left on the sloped edge of the plate",
    "cockle": "the sheet dried in waves",
    "deckle fault": "the torn or feathered edge is not as it should be",
    "slur": "sheet or blankets crept, lines smeared one way",
    "doubled": "every line printed twice",
    "stop line": "a line where the bed stood still under the roller",
    "plate mark cut": "the plate's edge cut into the sheet",
    "off x": "out of register along the bed",
    "off y": "out of register across the bed",
    "off turned": "out of register by a turn",
    "off stretched": "out of register because the sheet grew",
    "burr gone": "drypoint lines no longer soft and rich",
    "crevé": "lines bitten into one",
    "scrim marks": "the weave of the scrim (tarlatan) shows in the tone",
    "chine": "the thin sheet laid down together with the print (chine collé)",
})

#: What to try next, as far as the trade agrees (common practice).
HINTS: Final[Mapping[str, str]] = MappingProxyType({
    "salty": "sheet too dry, pressure light or plate cold",
    "over-wiped": "ink too loose, or too many passes",
    "slur": "sheet or blankets crept",
    "one side light": "screws uneven",
    "set-off": "tissue missing, or stacked early",
    "oil halo": "ink too loose, or sheet damp too long",
})


def tag_groups(recipe: Recipe) -> dict[str, tuple[str, ...]]:
    """All tags in groups: the recipe's own first, then the trade's, none twice."""
    groups: dict[str, tuple[str, ...]] = {}
    known: set[str] = set()
    for name, words in (*recipe.tags.items(), *TRADE.items()):
        fresh = tuple(w for w in dict.fromkeys(words) if w not in known)
        known.update(fresh)
        groups[name] = groups.get(name, ()) + fresh
    return groups


def last_used(sessions: Iterable[Session], most: int = 6) -> tuple[str, ...]:
    """The tags put on last, the latest first.

    Args:
        sessions: In the order they were opened.
        most: How many at most.
    """
    used = [tag for s in sessions for i in s.impressions for tag in i.tags]
    return tuple(dict.fromkeys(reversed(used)))[:most]
