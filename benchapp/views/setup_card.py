"""The set-up card: what is in force when a session opens, and what last time's was. Pure.

Nothing here is a guess put down as a fact: a value stands on the card with
where it comes from, and only what the printer takes over becomes an entry.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from benchapp.recipe.model import Recipe
from benchapp.session.actions import Set
from benchapp.session.counting import target_count
from benchapp.session.setting_names import recipe_settings
from benchapp.session.state import NOT_KNOWN, Session
from benchapp.session.weighing import is_weighing

Origin = Literal["said", "last time", "recipe", "empty"]

WANTED = "wanted"


@dataclass(frozen=True, slots=True)
class SetupLine:
    """One line of the card.

    Attributes:
        name: The setting's name, as an entry would have it.
        value: What stands there; empty: nothing.
        origin: Where it comes from; `said` is in force already.
        last: What it was at the end of the last session, where that differs.
    """

    name: str
    value: str
    origin: Origin
    last: str = ""


def last_of_print(sessions: Sequence[Session], s: Session) -> Session | None:
    """The session before `s` on the same print: same title and artist, opened last."""
    before = [x for x in sessions if x.id != s.id and (x.opened.wall_ms, x.id)
              < (s.opened.wall_ms, s.id) and _same(x.recipe, s.recipe)]
    return max(before, key=lambda x: (x.opened.wall_ms, x.id), default=None)


def _same(one: Recipe, other: Recipe) -> bool:
    return (one.print.title, one.print.artist) == (other.print.title, other.print.artist)


def in_force(s: Session) -> dict[str, str]:
    """The settings known at the end of a session; a weighing is of its day alone."""
    last = {x.name: x.value for x in s.settings if not is_weighing(x.name)}
    return {name: value for name, value in last.items() if value != NOT_KNOWN}


def setup_card(s: Session, last: Session | None) -> tuple[SetupLine, ...]:
    """The lines of the card of session `s`, `last` the one before on the same print."""
    said, before = in_force(s), {} if last is None else in_force(last)
    from_recipe = recipe_settings(s.recipe)
    names = dict.fromkeys((*from_recipe, *before, *said))
    lines = [_line(name, said, before, from_recipe) for name in names]
    wanted = target_count(s)
    lines.append(SetupLine(WANTED, "" if wanted is None else str(wanted),
                           "empty" if wanted is None else "said"))
    return tuple(lines)


def _line(name: str, said: dict[str, str], before: dict[str, str],
          from_recipe: dict[str, str]) -> SetupLine:
    last = before.get(name, "")
    if name in said:
        return SetupLine(name, said[name], "said", last if last != said[name] else "")
    if last:
        return SetupLine(name, last, "last time")
    value = from_recipe.get(name, "")
    return SetupLine(name, value, "recipe" if value else "empty")


def unlike_settings(now: Sequence[tuple[str, str]],
                    standard: Sequence[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """What is set otherwise than the standard had it: each name, and the standard's value.

    What either of the two has nothing of is not known to differ.

    Args:
        now: The settings, by name.
        standard: The settings in force when the standard was pulled.
    """
    had = {name.casefold(): value for name, value in standard
           if value and value != NOT_KNOWN and not is_weighing(name)}
    return tuple((name, then) for name, value in now if value and value != NOT_KNOWN
                 and (then := had.get(name.casefold(), value)) != value)


def all_the_same(lines: Sequence[SetupLine]) -> tuple[Set, ...]:
    """What one key says: all that stands on the card, and was not said yet, is so today."""
    return tuple(Set(x.name, x.value) for x in lines if x.origin in ("last time", "recipe"))
