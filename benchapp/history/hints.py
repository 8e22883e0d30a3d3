"""What the day's arithmetic proposes at the step it is for: sheets to damp, grams to mix. Pure.

A proposal is shown beside the step's own reminders and decides nothing. Where no number is
wanted there is nothing to reckon with, and nothing is proposed.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from benchapp.history.calc_inputs import damp_for, ink_for, press_for, tear_for
from benchapp.history.stats import Learnt, inked_plates
from benchapp.recipe.model import Step
from benchapp.reckon.answer import Answer
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.sheets import Record, reckon_sheets
from benchapp.session.compiled_recipe import DAMP_IN
from benchapp.session.counting import (
    count_expected,
    count_impressions,
    pull_purpose,
    pulls_needed,
    target_count,
)
from benchapp.session.pack_size import PackSize
from benchapp.session.state import NOT_COUNTED, Session, TaskKey

#: A step before printing is known by its words, in whatever recipe they stand.
_INK: Final = re.compile(r"\binks?\b", re.IGNORECASE)
_PRESS: Final = re.compile(r"\bscrews?\b", re.IGNORECASE)
_TEAR: Final = re.compile(r"\btear\b", re.IGNORECASE)


def has_hints(s: Session, key: TaskKey | None) -> bool:
    """Whether anything might be proposed for that work: damping, or a step before printing."""
    step = None if key is None else s.shape.by_id.get(key.step)
    return step is not None and (step.id == DAMP_IN or step.section == "before")


def hint_sentences(s: Session, key: TaskKey, learnt: Learnt, pack: PackSize) -> tuple[str, ...]:
    """What is proposed for that piece of work, a sentence each; empty for most.

    Args:
        s: The session.
        key: What is in hand.
        learnt: What the print's sessions taught, this one's weighings among it.
        pack: The next pack that goes in.
    """
    if not has_hints(s, key):
        return ()
    try:
        return _damping(s, learnt, pack) if key.step == DAMP_IN else _before(
            s, s.shape.by_id[key.step], learnt)
    except ReckonError:  # a recipe's odd figure; `reckon` itself says which, where it is asked
        return ()


def _before(s: Session, step: Step, learnt: Learnt) -> tuple[str, ...]:
    if _PRESS.search(step.do):
        return _screws(s, learnt)
    if step.hands == "inky" and _INK.search(step.do):
        return _mixing(s, learnt)
    if _TEAR.search(step.do):
        return _tearing(s, learnt)
    return ()


def _screws(s: Session, learnt: Learnt) -> tuple[str, ...]:
    """How the screws should be, with the plate where the recipe has some for each."""
    found = [(of.plate, press_for(s.recipe, learnt, of)) for of in s.recipe.presses]
    many = len(s.recipe.presses) > 1
    return tuple(f"{plate}: {x.sentence}" if many and plate else x.sentence
                 for plate, x in found if x is not None)


@lru_cache(maxsize=64)
def _sheets(good: int, warm: int, record: Record) -> Answer:
    return reckon_sheets(good, record=record, warm_ups=warm)


def _needed(s: Session, learnt: Learnt) -> Answer | None:
    """Sheets for what is still wanted, with the warm-ups to come."""
    goal, pulls = target_count(s), pulls_needed(s)
    if goal is None or pulls is None or s.enough:
        return None
    begun = [i for i in s.impressions if i.ended is None and not i.pulled]
    bare = [i for i in begun if not i.sheets]
    bare_counting = sum(1 for i in bare if pull_purpose(s, i)[0] not in NOT_COUNTED)
    rest = max(0, goal - count_impressions(s) - count_expected(s))
    good = rest + bare_counting
    if good < 1:
        return None
    warm = pulls - len(begun) - rest + len(bare) - bare_counting
    return _sheets(good, warm, learnt.record)


def _damping(s: Session, learnt: Learnt, pack: PackSize) -> tuple[str, ...]:
    answer = _needed(s, learnt)
    if answer is None:
        return ()
    paper = s.recipe.paper
    scale = None if paper is None else damp_for(
        paper, learnt, pack.sheets or 1, torn=int(answer.figures["sheets"]))
    weigh = () if scale is None else (scale.sentence, *_last_control(learnt))
    return (answer.sentence, *weigh)


def _last_control(learnt: Learnt) -> tuple[str, ...]:
    if not learnt.control:
        return ()
    last = learnt.control[-1]
    return (f"The control sheet of {last.session} weighed {last.mass}",)


def _mixing(s: Session, learnt: Learnt) -> tuple[str, ...]:
    answer = _needed(s, learnt)
    if answer is None:
        return ()
    found = []
    for each in inked_plates(s.recipe):
        wanted = ink_for(each, learnt, int(answer.figures["sheets"]))
        found.append(wanted.sentence(each.ink.name or ""))
        if wanted.mixed is not None:
            found.append(wanted.mixed.sentence)
    return tuple(found)


def _tearing(s: Session, learnt: Learnt) -> tuple[str, ...]:
    answer = _needed(s, learnt)
    if answer is None or s.recipe.paper is None:
        return ()
    torn = tear_for(s.recipe.paper, int(answer.figures["sheets"]))
    return () if torn is None else (torn.sentence,)
