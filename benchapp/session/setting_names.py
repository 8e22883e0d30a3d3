"""What the settings of a session are called, and the key of each. Pure."""

from __future__ import annotations

from collections.abc import Iterable

from benchapp.events.entry import Entry
from benchapp.events.impression import SettingChanged
from benchapp.recipe.model import Recipe
from benchapp.session.state import Session
from benchapp.session.tags import KEYS


def recipe_settings(recipe: Recipe) -> dict[str, str]:
    """What the recipe itself says of press, ink and paper, and the names it leaves open."""
    out: dict[str, str] = {}
    for press in recipe.presses:
        of = f"{press.plate} " if press.plate is not None and len(recipe.plates) > 1 else ""
        out |= {f"{of}{side}": str(turns) for side, turns in press.sides}
    for ink in recipe.inks:
        of = f"{ink.plate} " if ink.plate is not None and len(recipe.plates) > 1 else ""
        name = f"{of}ink"
        if ink.name:
            out[name] = f"{out[name]}, {ink.name}" if out.get(name) else ink.name
    if recipe.paper is not None and recipe.paper.name is not None:
        weight = "" if recipe.paper.weight is None else f", {recipe.paper.weight}"
        out["paper"] = f"{recipe.paper.name}{weight}"
    return {**out, **{name: out.get(name, "") for name in ("blankets", "ink tin", "room")}}


def setting_keys(entries: Iterable[Entry], s: Session) -> dict[str, str]:
    """A key for each setting: those of the recipe, then others in the order they were first said.

    One that was taken back keeps its key, so that no other moves up to it.

    Args:
        entries: In the order they were written, of whatever sessions.
        s: The session.
    """
    said = (e.event.name for e in entries if e.stream == f"session/{s.id}"
            and isinstance(e.event, SettingChanged))
    names = dict.fromkeys((*recipe_settings(s.recipe), *said))
    return dict(zip(names, KEYS, strict=False))
