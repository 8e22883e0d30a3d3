"""The cautions that stand now: whole once a day, then the harm and the one thing to do. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from benchapp.recipe.hazards import HAZARDS, care_name, short_care
from benchapp.session.counting import PAUSE_MS
from benchapp.session.names import step_of
from benchapp.session.state import Session, TaskKey

#: The hazards by name, the most harmful first.
_RANK = {hazard.name: rank for rank, hazard in enumerate(HAZARDS)}


@dataclass(frozen=True, slots=True)
class CareView:
    """A caution to show now.

    Attributes:
        full: The whole line.
        text: What is shown: the whole line the first time today and after a break; after that
            the harm and the one thing to do.
        name: The hazard's name, for the far view.
    """

    full: str
    text: str
    name: str


def care_views(s: Session) -> tuple[CareView, ...]:
    """The caution of the step in hand, then those of the waits that run; none is said twice."""
    if s.closed is not None:
        return ()
    keys = [k for k in (s.hand, *s.under_way) if k is not None]
    found = (care_of(s, key) for key in dict.fromkeys(keys))
    return tuple(dict.fromkeys(care for care in found if care is not None))


def worst_hazard(cares: Iterable[CareView]) -> str:
    """The name of the most harmful of these hazards; empty for none."""
    return min((care.name for care in cares), default="",
               key=lambda name: _RANK.get(name, len(_RANK)))


def care_of(s: Session, key: TaskKey) -> CareView | None:
    """The caution of a piece of work, or None where its step has none."""
    step = step_of(s, key)
    if step is None or step.care is None:
        return None
    short = short_care(step) or step.care
    return CareView(step.care, step.care if _due_whole(s, key) else short, care_name(step) or "")


def _due_whole(s: Session, key: TaskKey) -> bool:
    """Whether this is the first time of the day, or the first after a break."""
    since = max((until for begun, until in s.breaks if until - begun >= PAUSE_MS), default=-1)
    return not any(w.key.step == key.step and w.started_t >= since for w in s.history)
