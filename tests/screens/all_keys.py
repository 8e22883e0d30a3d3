"""Every key of every screen, read from the screens' own declarations.

DEVELOPERS.md shows them as a table, and a test holds that it is this one: so a letter cannot
come to mean one thing where sheets are judged here and another there.
"""

from __future__ import annotations

from importlib import import_module

from benchapp.screens.bound_keys import own_bindings
from benchapp.screens.registry import SCREENS
from benchapp.session.actions import REGISTRY


def keys_of(name: str) -> dict[str, str]:
    """The keys of a screen of the registry, each with what it does there.

    Args:
        name: As in `SCREENS`.

    Returns:
        The framework's name of each key, or the range a screen hears itself, in the order
        declared; those of the lists on it are left out (`list_keys`).
    """
    place = SCREENS[name]
    cls = getattr(import_module(place.module), place.cls)
    own = {spec.key: spec.word for spec in REGISTRY if spec.key is not None} if (
        name == "bench") else {}
    found = {**own, **_declared(cls)}
    return {key: does for key, does in found.items() if key not in getattr(cls, "NO_KEYS", ())}


def list_keys() -> dict[str, str]:
    """The keys of every list, whichever screen it is on."""
    from benchapp.screens.widgets.rows import Rows

    return _declared(Rows)


def _declared(cls: type) -> dict[str, str]:
    """What a class and those of ours above it bind, and what it says that it hears itself."""
    out: dict[str, str] = {}
    for one in cls.__mro__:
        if one.__module__.startswith("benchapp."):
            out.update({key: does for key, does in _own(one) if key not in out})
    return out


def _own(cls: type) -> list[tuple[str, str]]:
    declared: list[tuple[str, str]] = list(vars(cls).get("OTHER_KEYS", ()))
    for made in own_bindings(cls):
        does = made.tooltip or made.description
        declared += [(key.strip(), does) for key in made.key.split(",")]
    return declared
