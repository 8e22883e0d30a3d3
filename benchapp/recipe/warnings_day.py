"""Warnings about the steps of a day: its cautions, its limits, and how it ends."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Final

from benchapp.quantities import quoted
from benchapp.recipe.model import Recipe, Step
from benchapp.recipe.order import limits, practice, takes_sheet

Found = Iterator[tuple[tuple[str | int, ...], str, str]]

_RAGS: Final = re.compile(r"\brags?\b", re.IGNORECASE)
#: (what a step speaks of, what it does to people). Common practice.
_HURTS: Final[tuple[tuple[re.Pattern[str], str], ...]] = (
    (_RAGS, "oily rags heat and catch fire by themselves"),
    (re.compile(r"\b(acid|ferric|nitric|mordant|etching bath|bite)\b", re.IGNORECASE),
     "etchants burn skin and eyes"),
    (re.compile(r"\b(solvents?|white spirit|turpentine|turps|kerosene|acetone)\b", re.IGNORECASE),
     "solvents burn and are breathed in"),
    (re.compile(r"\b(rosin|bitumen) dust|\bdust box\b", re.IGNORECASE),
     "a cloud of rosin dust can explode"),
)
_NIP: Final = "the nip of a press crushes"

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
            yield (_where(step, "do"), f"{quoted(step.do)} can be passed without a word "
                   "(common practice: where the rags went is said)",
                   "write must: [wet in a lidded metal can, out of the building]")


def _care(recipe: Recipe) -> Found:
    for step in recipe.steps:
        if step.care is not None:
            if re.search(r"\bsafe(ly|ty)?\b(?! data)", step.care, re.IGNORECASE):
                yield (_where(step, "care"), "a caution promises that something is safe "
                       "(common practice: it names what hurts and who has the last word)",
                       "name the harm, and the label or data sheet")
            continue
        hurts = [why for pattern, why in _HURTS if pattern.search(step.do)
                 or (pattern is not _RAGS and pattern.search(_text(step)))]
        if step.pulls:
            hurts.insert(0, _NIP)
        if hurts:
            yield (_where(step, "do"), f"{quoted(step.do)} has no care: {hurts[0]} "
                   "(common practice)",
                   "write care: and one line that names the harm and the label or data sheet")


def _limits(recipe: Recipe) -> Found:
    usual = {limit.step: limit.within for limit in practice(recipe)}
    seen = set()
    for limit in limits(recipe):
        most = usual.get(limit.step)
        if not limit.said or most is None or limit.within <= most or limit.step in seen:
            continue
        seen.add(limit.step)
        step = recipe.step(limit.step)
        if step is not None:
            yield (_where(step, "within"), f"within {limit.within} is long for {quoted(step.do)} "
                   f"(common practice: {most})", f"write within: {most} or less")


def _hands(recipe: Recipe) -> Found:
    sheet = takes_sheet(recipe)
    for step in recipe.each:
        if step.hands == "inky" and (step.pulls or step.id == sheet):
            yield (_where(step, "hands"), f"{quoted(step.do)} touches the sheet with inky hands "
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
            yield (_where(step, "asks"), f"{quoted(step.do)} asks for a verdict before anything is "
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
            yield (_where(step, "do"), f"{quoted(step.do)} waits for no stated time, so nothing "
                   "calls (common practice: a wait has a time)", "write time: 2 min")


#: Each gives (path, what is odd, what to do) for a recipe.
DAY_RULES: Final[tuple[Callable[[Recipe], Found], ...]] = (
    _ending, _rags_asked, _care, _limits, _hands, _looking, _waits,
)
