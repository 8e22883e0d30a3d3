"""Pulls that the blankets of a press had since they were washed, and since they were swapped. Pure.

Every pass through the press counts, also a ghost, a spoiled one and a counterproof. What is swapped
in was washed nobody knows when, so a wash counts only since the last swap.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from benchapp.events.entry import Entry
from benchapp.events.impression import CounterproofPulled, ImpressionPulled
from benchapp.events.moments import local_time
from benchapp.events.session import BlanketsSeenTo, SessionActionTakenBack, SessionOpened
from benchapp.quantities import items_text
from benchapp.recipe.model import Recipe
from benchapp.recipe.problems import RecipeError
from benchapp.session.names import shape_of

#: Where a pull is made if its step names no place.
PRESS: Final = "press"
_RULE: Final = "Swap them if they are damp or stiff with size (common practice, no source)."


@dataclass(frozen=True, slots=True)
class Since:
    """Pulls since something was done to the blankets, and the local day it was done."""

    pulls: int
    on: str


@dataclass(frozen=True, slots=True)
class BlanketUse:
    """What the blankets of one press had; None: nobody recorded when that was done."""

    place: str
    washed: Since | None
    swapped: Since | None


def presses(recipe: Recipe) -> tuple[str, ...]:
    """The places where a recipe pulls, each once, in the order of its steps."""
    return tuple(dict.fromkeys(step.at or PRESS for step in recipe.each if step.pulls))


def blanket_use(entries: Iterable[Entry], place: str) -> BlanketUse:
    """What the blankets of a press had.

    Args:
        entries: Whole streams of sessions, each in order; all in which something was done to the
            blankets, and all that pulled since.
        place: The press.
    """
    told = _that_hold(entries)
    washed, swapped = last_done(told, place)
    at = _places(told)
    passes = [e for e in told if isinstance(e.event, ImpressionPulled | CounterproofPulled)
              and _place_of(e, at) == place]
    return BlanketUse(place, _since(passes, washed), _since(passes, swapped))


def last_done(entries: Iterable[Entry], place: str) -> tuple[Entry | None, Entry | None]:
    """When the blankets that lie in a press were washed and swapped last; None: not recorded.

    Args:
        entries: All that tell of blankets, and all that take something back.
        place: The press.
    """
    told = _that_hold(entries)
    washed, swapped = _last(told, "washed", place), _last(told, "swapped", place)
    if washed is not None and swapped is not None and not _later(washed, swapped):
        washed = None
    return washed, swapped


def _that_hold(entries: Iterable[Entry]) -> list[Entry]:
    """Those that nobody took back; what is done with the opening of a session stays."""
    told = tuple(entries)
    void = {e.event.action for e in told if isinstance(e.event, SessionActionTakenBack)}
    return [e for e in told if e.action not in void or isinstance(e.event, SessionOpened)]


def _last(entries: Iterable[Entry], how: str, place: str) -> Entry | None:
    found: Entry | None = None
    for e in entries:
        if isinstance(e.event, BlanketsSeenTo) and (e.event.how, e.event.place) == (how, place):
            found = e if found is None or _later(e, found) else found
    return found


def _later(one: Entry, other: Entry) -> bool:
    """By their order in one session, which no clock that is set can change; else by the clock."""
    if one.stream == other.stream:
        return one.position > other.position
    return one.at.wall_ms > other.at.wall_ms


def _since(passes: Iterable[Entry], done: Entry | None) -> Since | None:
    if done is None:
        return None
    return Since(sum(_later(x, done) for x in passes), local_time(done.at).date().isoformat())


def _places(entries: Iterable[Entry]) -> Mapping[tuple[str, str], str]:
    """The press of each step that pulls, by the stream of its session and its id."""
    out: dict[tuple[str, str], str] = {}
    for e in entries:
        if isinstance(e.event, SessionOpened):
            try:
                recipe = shape_of(e.event.recipe_text).recipe
            except RecipeError:  # a text of another program
                continue
            out |= {(e.stream, x.id): x.at or PRESS for x in recipe.each if x.pulls}
    return out


def _place_of(e: Entry, at: Mapping[tuple[str, str], str]) -> str:
    """A counterproof is pulled where its session pulls first."""
    if isinstance(e.event, ImpressionPulled):
        return at.get((e.stream, e.event.step), PRESS)
    return next((place for (stream, _), place in at.items() if stream == e.stream), PRESS)


def blanket_words(x: BlanketUse) -> str:
    """One or two sentences; what nobody recorded is said to be not known."""
    if x.washed is None and x.swapped is None:
        return f"{_name(x)}: not known since when they were washed or swapped."
    told = [f"{items_text(known.pulls, 'pull')} since you {how} them on {known.on}"
            if known is not None else f"not known since when they were {how}"
            for how, known in (("washed", x.washed), ("swapped", x.swapped))]
    return f"{_name(x)}: {', '.join(told)}. {_RULE}"


def _name(x: BlanketUse) -> str:
    return "Blankets" if x.place == PRESS else f"Blankets at {x.place}"
