"""The trade's closed words for what is seen on a sheet, in their groups, each with its key.

The words vary from house to house; these are common practice. A recipe adds
groups of its own. A bare word that could be meant of several things bears the
name of its thing (`ink warm`), so that a tag stands alone in a list.

Fingers learn a menu: a key that means one tag means it for good. So the keys of
the trade's groups and tags are written out here. A word that is dropped leaves
its key empty, a new one takes a key no word of its group ever had. Pure.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from benchapp.events.entry import Entry
from benchapp.events.impression import TagPutOn
from benchapp.events.streams import told_of
from benchapp.recipe.model import Recipe
from benchapp.session.state import Session

#: Group keys to the group's name and its tags by their keys.
TRADE: Final[Mapping[str, tuple[str, Mapping[str, str]]]] = MappingProxyType({
    "1": ("tone", {
        "1": "plate-tone heavy", "2": "plate-tone thin", "3": "plate-tone uneven",
        "4": "foul bite", "5": "scrim marks"}),
    "2": ("wiping", {
        "1": "over-wiped", "2": "under-wiped", "3": "salty", "4": "lint", "5": "finger mark"}),
    "3": ("ink", {
        "1": "ink stiff", "2": "ink loose", "3": "ink skinned", "4": "ink warm", "5": "ink cool",
        "6": "ink dense", "7": "ink weak", "8": "set-off", "9": "oil halo", "a": "bevel ink"}),
    "4": ("paper", {
        "1": "too wet", "2": "too dry", "3": "crease", "4": "cockle", "5": "tear",
        "6": "deckle fault", "7": "stain", "8": "wrong side", "9": "paper stretched"}),
    "5": ("press", {
        "1": "slur", "2": "doubled", "3": "stop line", "4": "pressure light",
        "5": "pressure heavy", "6": "one side light", "7": "blanket mark",
        "8": "plate mark cut", "9": "skew"}),
    "6": ("register", {
        "1": "off x", "2": "off y", "3": "turned", "4": "register stretched"}),
    "7": ("plate", {
        "1": "wear", "2": "burr gone", "3": "aquatint worn", "4": "scratch", "5": "corrosion",
        "6": "crevé"}),
    "8": ("sheet", {
        "1": "hair", "2": "streak", "3": "dry patch", "4": "water spot", "5": "dirty margin",
        "6": "colour dirtied", "7": "tissue stuck", "8": "mould spot", "9": "blanket crease",
        "a": "chine creased", "b": "chine lifted", "c": "chine short", "d": "chine bubbled"}),
})  # fmt: skip

GROUPS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {name: tuple(words.values()) for name, words in TRADE.values()})

#: Keys of groups and of tags in a group, in the order they are given out; l and o look like digits.
KEYS: Final = "123456789abcdefghijkmn"
#: Keys of the tags used in a session already; no group and no tag ever has one of these.
USED_KEYS: Final = "pqrstuvwxyz"

GLOSSES: Final[Mapping[str, str]] = MappingProxyType({
    "salty": "white specks",
    "crevé": "lines bitten into one",
    "foul bite": "acid where the ground let it through",
    "cockle": "waves in the sheet",
    "slur": "dragged: sheet or blankets crept",
    "doubled": "each line twice",
    "stop line": "a bar where the roller stopped",
    "set-off": "ink on the sheet above",
    "oil halo": "an oil rim round the lines",
    "off x": "beside its place, left or right",
    "off y": "beside its place, up or down",
    "burr gone": "drypoint no longer velvety",
})
"""What an unfamiliar tag means, in a few words."""


@dataclass(frozen=True, slots=True)
class TagGroup:
    """A group of the menu of tags.

    Attributes:
        key: The key that opens it; empty where the keys have run out.
        name: What it is called.
        tags: Each key, empty where they have run out, with its tag.
    """

    key: str
    name: str
    tags: tuple[tuple[str, str], ...]


def tag_menu(recipe: Recipe) -> tuple[TagGroup, ...]:
    """The trade's groups on their own keys, then the recipe's words in the order of the file.

    The recipe of a session never changes, so neither do the keys of its words.
    """
    trade = [TagGroup(key, name, _with_own(words, recipe.tags.get(name, ())))
             for key, (name, words) in TRADE.items()]
    own = [name for name, words in recipe.tags.items() if name not in GROUPS and words]
    keys = _keys_after(TRADE, len(own))
    return (*trade, *(TagGroup(key, name, _with_own({}, recipe.tags[name]))
                      for key, name in zip(keys, own, strict=True)))


def _with_own(trade: Mapping[str, str], words: Iterable[str]) -> tuple[tuple[str, str], ...]:
    own = [word for word in words if word not in trade.values()]
    return (*trade.items(), *zip(_keys_after(trade, len(own)), own, strict=True))


def _keys_after(taken: Iterable[str], count: int) -> tuple[str, ...]:
    """So many keys behind the last one taken; empty ones where no more are left."""
    last = max((KEYS.index(key) for key in taken), default=-1)
    free = KEYS[last + 1 : last + 1 + count]
    return (*free, *[""] * (count - len(free)))


def groups_of(recipe: Recipe) -> dict[str, tuple[str, ...]]:
    """The trade's groups, and the recipe's own words added to them or behind them."""
    return {group.name: tuple(tag for _, tag in group.tags) for group in tag_menu(recipe)}


def fitting_tags(recipe: Recipe, tags: Iterable[str]) -> tuple[str, ...]:
    """Those a sheet of this recipe can have: no chine is creased where there is one paper."""
    return tuple(t for t in tags if not t.startswith("chine ") or len(recipe.papers) > 1)


def used_tags(entries: Iterable[Entry], s: Session) -> dict[str, str]:
    """The tags used in a session by keys of their own, in the order of their first use.

    A tag keeps its key all session, also where it was taken off or taken back; when the keys
    have run out, a tag is reached by its group.

    Args:
        entries: In the order they were written, of whatever sessions.
        s: The session.
    """
    used = dict.fromkeys(e.event.tag for e in entries if told_of(e.stream) == f"session/{s.id}"
                         and isinstance(e.event, TagPutOn))
    return dict(zip(USED_KEYS, used, strict=False))
