"""What follows what: the order of steps, who holds a plate how long, and the limits between.

Everything here is computed from the recipe alone. Each function looks through
the whole recipe: ask once and keep the answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from types import MappingProxyType
from typing import Final

from benchapp.quantities import Duration
from benchapp.recipe.hazards import spirit_of
from benchapp.recipe.model import Recipe, Section, Step

#: Places there are without a word in the recipe, and how many can use each at once.
STANDARD_PLACES: Final[Mapping[str, int]] = MappingProxyType(
    {"hot plate": 1, "press": 1, "tray": 1})

#: Common practice: a wiped plate is left 10 to 15 min, with two or more plates for one
#: sheet up to 40; then the ink skins. The sheet is lifted within 5 of the pull and lies
#: under boards within 30 of the lift.
ONE_PLATE: Final = Duration(15 * 60_000)
SEVERAL_PLATES: Final = Duration(40 * 60_000)
TO_LIFT: Final = Duration(5 * 60_000)
TO_BOARDS: Final = Duration(30 * 60_000)


@dataclass(frozen=True, slots=True)
class StepLimit:
    """`step` begins at most `within` after the end of `after`; broken it warns, never refuses.

    A step passed over counts as ended when it was passed. A pull of a sheet that has been pulled
    from another plate begins by itself while the sheet waits: it has to be over by then.

    Attributes:
        step: Id of the step that has to begin.
        after: Id of the step whose end starts the count.
        within: How long.
        why: The reason, and where the figure comes from.
        said: True where the recipe says it, False where it is common practice.
        to_end: It runs to the end of `step`, a pull after another one.
    """

    step: str
    after: str
    within: Duration
    why: str
    said: bool
    to_end: bool = False


def place_capacities(recipe: Recipe) -> Mapping[str, int]:
    """Every place and how many can use it at once."""
    return MappingProxyType({**STANDARD_PLACES, **recipe.places})


def plates_of(recipe: Recipe, step: Step) -> tuple[str, ...]:
    """The plates a step works on: those it names; with one plate, every step up to the lift."""
    if step.section == "each" and len(recipe.plates) == 1:
        last = lift_step(recipe) or (recipe.each[-1].id if recipe.each else None)
        for other in recipe.each:
            if other.id == step.id:
                return (recipe.plates[0].name,)
            if other.id == last:
                break
    return _named(step)


def _named(step: Step) -> tuple[str, ...]:
    extra = (step.plate,) if step.plate is not None and step.plate not in step.pulls else ()
    return extra + step.pulls


def step_predecessors(recipe: Recipe) -> Mapping[str, tuple[str, ...]]:
    """The direct predecessors of each step, within its own section, in listed order.

    A step follows the last earlier step that names the same plate or none; one that
    names none follows all before it; pulls follow one another. With one plate that
    makes `each` a single line.
    """
    return MappingProxyType({
        id: before for section in (recipe.before, recipe.each, recipe.after)
        for id, before in _section(section)
    })


def _section(steps: tuple[Step, ...]) -> Iterable[tuple[str, tuple[str, ...]]]:
    """Predecessors as bit masks: `known[i]` has a bit for every step before step i in time."""
    known: list[int] = []
    last: dict[str, int] = {}
    last_free: int | None = None
    last_pull: int | None = None
    ends: list[int] = []
    for here, step in enumerate(steps):
        plates = _named(step)
        wanted = {i for p in plates if (i := last.get(p, last_free)) is not None}
        if not plates:
            wanted = set(ends)
        if step.pulls and last_pull is not None:
            wanted.add(last_pull)
        implied = 0
        for i in wanted:
            implied |= known[i]
        direct = sorted(i for i in wanted if not implied >> i & 1)
        known.append(implied | sum(1 << i for i in wanted))
        ends = [i for i in ends if i not in direct] + [here]
        if plates:
            last.update(dict.fromkeys(plates, here))
        else:
            last, last_free = {}, here
        last_pull = here if step.pulls else last_pull
        yield step.id, tuple(steps[i].id for i in direct)


def pull_ids(recipe: Recipe) -> tuple[str, ...]:
    """The steps that pull, in order."""
    return tuple(step.id for step in recipe.each if step.pulls)


def lift_step(recipe: Recipe) -> str | None:
    """The step in which the sheet is lifted: the first listed after the last pull."""
    return _after_last(recipe.each, lambda step: bool(step.pulls))


def boards_step(recipe: Recipe) -> str | None:
    """The step in which it is laid to dry: the one after the lift."""
    lifted = lift_step(recipe)
    return _after_last(recipe.each, lambda step: step.id == lifted) if lifted else None


def released_by(recipe: Recipe, plate: str) -> str:
    """The step whose end frees a plate: the first listed after its last pull, or that pull.

    Raises:
        KeyError: No step pulls that plate.
    """
    pulls = [step.id for step in recipe.each if plate in step.pulls]
    if not pulls:
        raise KeyError(plate)
    return _after_last(recipe.each, lambda step: step.id == pulls[-1]) or pulls[-1]


def takes_sheet(recipe: Recipe) -> str:
    """The step that takes the sheet: the one that uses it, or else the first pull.

    Raises:
        KeyError: The recipe has no pull.
    """
    key = recipe.paper.key if recipe.paper else "sheet"
    for step in recipe.each:
        if key in step.uses:
            return step.id
    if not pull_ids(recipe):
        raise KeyError("pull")
    return pull_ids(recipe)[0]


def takes_tread(recipe: Recipe, step: Step) -> bool:
    """Whether a tread ends this step.

    Not a wait that ends itself, nor a step out of reach, which the tread after it ends too; that
    has one of its own as the very last step, before a wash, and before a step that is shown first.
    """
    if step.ends_itself:
        return False
    if not step.out_of_reach or step.id == recipe.steps[-1].id:
        return True
    section = _steps(recipe, step.section)
    after = next((b for a, b in pairwise(section) if a.id == step.id), None)
    return after is not None and (
        shown_first(after) or (step.hands == "inky" and after.hands == "clean"))


def shown_first(step: Step) -> bool:
    """Whether a step is never passed by the tread of one before it: its caution is read first."""
    return step.care is not None or spirit_of(step) is not None


def step_limits(recipe: Recipe) -> tuple[StepLimit, ...]:
    """Every limit: those the recipe says, and common practice where it is silent."""
    before = step_predecessors(recipe)
    found = [
        StepLimit(step.id, after, step.within, f"the recipe says within {step.within}", said=True)
        for step in recipe.steps if step.within is not None
        for after in _counted_from(recipe, step, before[step.id])
    ]
    silent = {step.id for step in recipe.each if step.within is None}
    found += [limit for limit in practice_limits(recipe) if limit.step in silent]
    later = pull_ids(recipe)[1:]
    return tuple(dict.fromkeys(
        replace(limit, to_end=True) if limit.step in later else limit for limit in found))


def _counted_from(recipe: Recipe, step: Step, before: tuple[str, ...]) -> tuple[str, ...]:
    """The step before: the one listed before where it comes first in time, else all that do."""
    section = _steps(recipe, step.section)
    listed = next((a.id for a, b in pairwise(section) if b.id == step.id), None)
    if listed is not None and (listed in before or not before):
        return (listed,)
    return before


def _steps(recipe: Recipe, section: Section) -> tuple[Step, ...]:
    return {"before": recipe.before, "each": recipe.each, "after": recipe.after}[section]


def practice_limits(recipe: Recipe) -> Iterable[StepLimit]:
    """The limits of common practice, whether the recipe says its own or not."""
    several = len(recipe.plates) > 1
    within = SEVERAL_PLATES if several else ONE_PLATE
    for plate in recipe.plates:
        inked = False
        for a, b in pairwise(_until_pull(recipe, plate.name)):
            inked = inked or a.hands == "inky"
            why = "ink skins on a waiting plate" if inked else "a plate made ready should not wait"
            yield StepLimit(b.id, a.id, within, f"{why} (common practice: {within})", said=False)
    lifted, laid = lift_step(recipe), boards_step(recipe)
    if lifted:
        yield StepLimit(lifted, pull_ids(recipe)[-1], TO_LIFT,
                        f"a sheet left on the plate sticks to it (common practice: {TO_LIFT})",
                        said=False)
    if lifted and laid:
        yield StepLimit(laid, lifted, TO_BOARDS,
                        f"a damp print left in the air cockles (common practice: {TO_BOARDS})",
                        said=False)


def _until_pull(recipe: Recipe, plate: str) -> list[Step]:
    """The steps of a plate up to its last pull."""
    one = len(recipe.plates) == 1
    mine = [step for step in recipe.each if one or plate in _named(step)]
    last = max((i for i, step in enumerate(mine) if plate in step.pulls), default=-1)
    return mine[: last + 1]


def _after_last(steps: tuple[Step, ...], wanted: Callable[[Step], bool]) -> str | None:
    """The step listed after the last that is wanted, or None."""
    found = None
    for a, b in pairwise(steps):
        if wanted(a):
            found = b.id
    if steps and wanted(steps[-1]):
        return None
    return found
