"""Warnings about the steps of a day: its cautions, its limits, and how it ends."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Final

from benchapp.quantities import quote_text
from benchapp.recipe.hazards import is_heat_off, of_caution, of_step, promises_no_harm, spirit_of
from benchapp.recipe.model import Recipe, Step
from benchapp.recipe.order import practice_limits, step_limits, takes_sheet

Found = Iterator[tuple[tuple[str | int, ...], str, str]]

_RAGS: Final = re.compile(r"\brags?\b", re.IGNORECASE)
#: What the end of a day must not forget: (pattern, what, when it applies). Common practice.
_ENDINGS: Final[tuple[tuple[str, str, str], ...]] = (
    (r"plates?\b.*\b(clean|oil|wax)|\b(clean|oil|wax)\w*\b.*plate", "cleans the plate of all ink",
     "always"),
    (r"hot plate|heat off", "turns the hot plate off", "hot plate"),
    (r"pressure|blankets|felts", "takes the pressure off and hangs the blankets", "always"),
    (r"damp|sheets|paper", "sees to left-over damp sheets", "damp"),
    (r"\brags?\b", "sees to the rags", "always"),
)


def _where(step: Step, key: str) -> tuple[str | int, ...]:
    return step.section, int(step.id.partition(".")[2]), key


def _text(step: Step) -> str:
    return " ".join((step.do, *step.lines))


def _ending(recipe: Recipe) -> Found:
    said = " / ".join(_text(step) for step in recipe.after).lower()
    applies = {
        "always": True,
        "damp": any(paper.damp for paper in recipe.papers),
        "hot plate": any(step.at == "hot plate" for step in recipe.steps),
    }
    for pattern, what, when in _ENDINGS:
        if applies[when] and not any(re.search(pattern, _text(s).lower()) for s in recipe.after):
            yield (("after",), f"no step of after {what} (common practice: every day ends so)",
                   "add one" if said else "add an after: section with one")


def _rags_asked(recipe: Recipe) -> Found:
    for step in recipe.after:
        if _RAGS.search(step.do) and not step.must:
            yield (_where(step, "do"), f"{quote_text(step.do)} can be passed without an "
                   "answer (common practice: say where the rags went)",
                   "write must: [in a lidded metal can outdoors, out of the building]")


def _care(recipe: Recipe) -> Found:
    """Each hurtful step has a caution; of ink, which is there all day, one step says it."""
    inked = any("ink" in (h.key for h in of_caution(s.care or "")) for s in recipe.steps)
    for step in recipe.steps:
        found = of_step(step)
        if step.care is not None or not found:
            continue
        if found[0].key == "ink":
            if inked:
                continue
            inked = True
        yield (_where(step, "do"), f"{quote_text(step.do)} has no care: {found[0].why} "
               "(common practice)", f"write care: {found[0].full}")


def _no_promise(recipe: Recipe) -> Found:
    for step in recipe.steps:
        for said in (step.care, step.care_short):
            if said is not None and (words := promises_no_harm(said)):
                yield (_where(step, "care"),
                       f"a caution says {quote_text(words)}: it promises that "
                       "nothing can hurt (common practice: it names what hurts and who has the "
                       "last word)", "name the harm, and the label or data sheet")
                break


def _spirit_by_heat(recipe: Recipe) -> Found:
    """Spirit is opened only once the hot plate is off: by day as at its end."""
    if not any(step.at == "hot plate" or is_heat_off(step) for step in recipe.steps):
        return
    off = next((n for n, step in enumerate(recipe.steps)
                if step.section == "after" and is_heat_off(step)), len(recipe.steps))
    for number, step in enumerate(recipe.steps):
        if number < off and (spirit := spirit_of(step)):
            yield (_where(step, "do"), f"{quote_text(step.do)} has {spirit} while the hot "
                   "plate is on (common practice: heat off and cold before any solvent)",
                   "take oil alone here, or turn the hot plate off in a step before it")


def _few_washes(recipe: Recipe) -> Found:
    """Inky work at the day's end comes in one go, so that one wash is enough."""
    inked, washed = False, None
    for step in recipe.after:
        if step.hands == "inky" and washed is not None:
            yield (_where(step, "do"), f"{quote_text(step.do)} makes the hands inky again after "
                   f"{quote_text(washed)}: one more wash (common practice: plate and slab, then "
                   "the wash, then blankets and paper)", "move it before the clean steps")
            return
        inked = inked or step.hands == "inky"
        if inked and step.hands == "clean":
            washed = step.do


def _limits(recipe: Recipe) -> Found:
    usual = {limit.step: limit.within for limit in practice_limits(recipe)}
    seen = set()
    for limit in step_limits(recipe):
        pull = recipe.step(limit.step)
        if (limit.said and limit.to_end and pull is not None and pull.time is not None
                and pull.time.usual > limit.within):
            yield (_where(pull, "within"),
                   f"{quote_text(pull.do)} usually takes {pull.time.usual}, "
                   f"but has to be over within {limit.within}: it would call at every sheet",
                   "write a longer within, or the time it really takes")
        most = usual.get(limit.step)
        if not limit.said or most is None or limit.within <= most or limit.step in seen:
            continue
        seen.add(limit.step)
        step = recipe.step(limit.step)
        if step is not None:
            yield (_where(step, "within"),
                   f"within {limit.within} is long for {quote_text(step.do)} "
                   f"(common practice: {most})", f"write within: {most} or less")


def _hands(recipe: Recipe) -> Found:
    sheet = takes_sheet(recipe)
    for step in recipe.each:
        if step.hands == "inky" and (step.pulls or step.id == sheet):
            yield (_where(step, "hands"),
                   f"{quote_text(step.do)} touches the sheet with inky hands "
                   "(common practice: the wash comes before)", "write hands: clean")
    inked = False
    for step in recipe.each:
        inked = inked or step.hands == "inky"
        if inked and step.hands == "clean" and not recipe.wash.ms:
            yield (("wash",), "no time for the wash is planned between ink and paper "
                   "(common practice: 1 to 3 min)", "write wash: 1.5 min")
            return


def _looking(recipe: Recipe) -> Found:
    first = next((i for i, step in enumerate(recipe.each) if step.pulls), 0)
    for step in recipe.each[:first]:
        if set(step.asks) & {"verdict", "tags"}:
            yield (_where(step, "asks"),
                   f"{quote_text(step.do)} asks for a verdict before anything is "
                   "pulled (common practice: at the lift)", "move asks: to a later step")
    hands = {step.do: step.hands for step in recipe.steps}
    for number, reading in enumerate(recipe.readings, 1):
        if reading.at is not None and hands.get(reading.at) == "inky":
            yield (("readings", number, "at"), f"{reading.name} is read with inky hands, so it "
                   "waits for the wash (common practice: at a clean step)",
                   "name a step of clean hands")


def _waits(recipe: Recipe) -> Found:
    for step in recipe.steps:
        if step.hands == "free" and step.time is None:
            yield (_where(step, "do"),
                   f"{quote_text(step.do)} is a wait without a time, so nothing "
                   "calls (common practice: a wait has a time)", "write time: 2 min")


#: Each gives (path, what is odd, what to do) for a recipe.
DAY_RULES: Final[tuple[Callable[[Recipe], Found], ...]] = (
    _ending, _rags_asked, _care, _no_promise, _spirit_by_heat, _few_washes, _limits, _hands,
    _looking, _waits,
)
