"""Times that a recipe does not say: what its days taught, then the printer's guess for a print.

A guess is for one whole print. What the steps with a time and the washes take is taken off it;
the steps without share the rest evenly. Pure.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import pairwise
from typing import Final

from benchapp.history.suggestions import recipe_lessons
from benchapp.quantities import Duration, QuantityError, Span, join_words, minutes_text
from benchapp.recipe.model import Recipe, Step
from benchapp.recipe.read_rest import read_takes
from benchapp.session.compiled_recipe import CompiledRecipe
from benchapp.session.state import StudioState

#: What is asked where times are missing.
ASK: Final = "How long does one print take you?"
#: Usual times by the id of a step.
Learnt = Mapping[str, Span]
#: A step that is done at all takes so long.
_LEAST_MS: Final = 15_000


@dataclass(frozen=True, slots=True)
class Guess:
    """A printer's guess that a plan goes by.

    Attributes:
        ms: How long one print takes, in milliseconds.
        steps: The steps that share it, by their words.
    """

    ms: int
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Lasting:
    """What is known of steps whose time the recipe does not say.

    Attributes:
        times: Usual times that its days taught, by the id of a step.
        each_ms: How long one print takes, as guessed; None: nobody guessed.
    """

    times: Learnt = field(default_factory=dict)
    each_ms: int | None = None


#: Nothing is known of them.
UNTOLD: Final = Lasting()


@dataclass(frozen=True, slots=True)
class TimedRecipe:
    """A recipe whose times are as complete as they can be made.

    Attributes:
        recipe: With every time that is known, learnt or guessed.
        guess: What was guessed; None: nothing.
        missing: Steps of a print whose time nobody knows or guessed, by their words.
        least: What a print takes without them, in milliseconds.
    """

    recipe: Recipe
    guess: Guess | None
    missing: tuple[str, ...]
    least: int


def time_recipe(recipe: Recipe, learnt: Learnt, each_ms: int | None) -> TimedRecipe:
    """The recipe with the times that its days taught, and those a guess gives.

    Args:
        recipe: The recipe.
        learnt: What its days taught of steps without a time.
        each_ms: How long one print takes, as guessed; None: as the recipe has it, if at all.
    """
    recipe = _with(recipe, learnt)
    said = recipe.takes.ms if each_ms is None and recipe.takes is not None else each_ms
    open_ = [s for s in recipe.each if s.time is None and not s.optional]
    names = tuple(dict.fromkeys(s.do for s in open_))
    least = _known_ms(recipe)
    if not open_ or said is None or said - least < _LEAST_MS * len(open_):
        return TimedRecipe(recipe, None, names, least)
    share = Duration((said - least) // len(open_), "s")
    guessed = {s.id: Span(share, share, share) for s in open_}
    return TimedRecipe(_with(recipe, guessed), Guess(said, names), (), least)


def read_guess(text: str, least: int = 0) -> int:
    """How long one print takes, as typed, in milliseconds.

    Args:
        text: What was typed, such as `40 min`.
        least: What the steps with a time take already, in milliseconds.

    Raises:
        QuantityError: It is no such time.
    """
    found = read_takes(text)
    if found.ms - least < _LEAST_MS:
        raise QuantityError(
            f"the steps with a time take {minutes_text(least)} a print already",
            "write a longer time")
    return found.ms


def taught_times(rooms: Sequence[StudioState], recipe: Recipe) -> dict[str, Span]:
    """Usual times of steps the recipe gives none, from at least three times taken."""
    if all(s.time is not None for s in recipe.steps):
        return {}
    return {x.step: x.new for x in recipe_lessons(rooms, recipe)
            if x.old is None and x.new is not None and x.path.endswith(".time")}


def in_room(room: StudioState, session: str, recipe: Recipe) -> StudioState:
    """The room with a session whose steps take as long as this recipe says."""
    s = room.sessions[session]
    return replace(room,
                   sessions={**room.sessions, session: replace(s, shape=CompiledRecipe(recipe))})


def missing_words(missing: Sequence[str], *, start: str = "No", most: int | None = None) -> str:
    """`No time is known for Ink, Wipe and Pull`; of more than `most`: `Ink and 2 more`."""
    short = missing if most is None or len(missing) <= most else (
        *missing[:most], f"{len(missing) - most} more")
    return f"{start} time is known for {join_words(short)}"


def guess_words(guess: Guess) -> str:
    """`A guess: one print takes 40 min. Steps without a time: Ink, Wipe and Pull`."""
    return (f"A guess: one print takes {minutes_text(guess.ms)}. Steps without a time: "
            f"{join_words(guess.steps)}")


def _with(recipe: Recipe, times: Learnt) -> Recipe:
    """The recipe with these times where it says none."""
    def filled(steps: tuple[Step, ...]) -> tuple[Step, ...]:
        return tuple(replace(s, time=times[s.id]) if s.time is None and s.id in times else s
                     for s in steps)

    if not times:
        return recipe
    return replace(recipe, before=filled(recipe.before), each=filled(recipe.each),
                   after=filled(recipe.after))


def _known_ms(recipe: Recipe) -> int:
    """What a print takes by the times there are, its washes too."""
    due = [s for s in recipe.each if not s.optional]
    known = sum((Fraction(s.time.usual.ms, s.every or 1) for s in due if s.time is not None),
                Fraction(0))
    hands = [s.hands for s in due if s.hands != "free"]
    washes = sum(1 for a, b in pairwise(hands) if (a, b) == ("inky", "clean"))
    return round(known) + washes * recipe.wash.ms
