"""Ink left lying on a wiped plate: it skins while it waits for the press. Pure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from benchapp.quantities import minutes_text
from benchapp.recipe.model import Step
from benchapp.recipe.order import ONE_PLATE, SEVERAL_PLATES
from benchapp.session.due import active
from benchapp.session.state import Impression, Key, Room, Session

#: Shown from then on: what is pulled at once is not worth a line.
SHOWN_FROM_MS: Final = 60_000
#: It is spoken of from this part of its time on (our own choice, no source).
_HALF: Final = 2


@dataclass(frozen=True, slots=True)
class Lying:
    """Ink on one wiped plate that was not pulled yet.

    Attributes:
        plate: Which.
        impression: For which, in the order begun.
        since_t: Room time at which its wiping ended.
        within_ms: How long it may lie: what the recipe says of its pull, else common
            practice (15 min, with two or more plates 40).
    """

    plate: str
    impression: int
    since_t: int
    within_ms: int


@dataclass(frozen=True, slots=True)
class Word:
    """Something to be said about it, once: the same `about` is never said again."""

    about: tuple[str, str, int, str]
    text: str


def lying(s: Session) -> Iterator[Lying]:
    """The plates of a session that were wiped and wait for their pull, in printing order."""
    for imp in active(s):
        if imp.ended is not None:
            continue
        for plate in s.recipe.plates:
            found = _on(s, imp, plate.name)
            if found is not None:
                yield found


def _on(s: Session, imp: Impression, plate: str) -> Lying | None:
    """Ink on that plate: counted from the last inky step before the pull that comes next."""
    mine = [x for x in s.recipe.each if plate in s.shape.plates_of[x.id]]
    place = next((i for i, x in enumerate(mine)
                  if plate in x.pulls and Key(x.id, imp.ordinal) not in s.work), None)
    if place is None:
        return None
    after_pull = next((i + 1 for i in reversed(range(place)) if plate in mine[i].pulls), 0)
    wiped = _wiped(s, mine[after_pull:place], imp.ordinal)
    if wiped is None:
        return None
    step, since_t = wiped
    said = [x.within.ms for x in s.shape.limits
            if x.step == mine[place].id and x.after == step.id]
    common = SEVERAL_PLATES if len(s.recipe.plates) > 1 else ONE_PLATE
    return Lying(plate, imp.ordinal, since_t, min(said, default=common.ms))


def _wiped(s: Session, steps: list[Step], ordinal: int) -> tuple[Step, int] | None:
    """The last inky step due before a pull, and when it ended; None where one is not done."""
    last: tuple[Step, int] | None = None
    for step in steps:
        work = s.work.get(Key(step.id, ordinal))
        if step.hands != "inky" or (step.optional and work is None):
            continue
        if work is None or work.finished_t is None:
            return None
        if work.how != "skipped":
            last = step, work.finished_t
    return last


def to_say(room: Room, t: int) -> Iterator[Word]:
    """What is said of ink left lying once hands can act: at half its time, and when it is up."""
    for s in room.open_sessions:
        for ink in lying(s):
            lain = t - ink.since_t
            if lain * _HALF < ink.within_ms:
                continue
            up = lain >= ink.within_ms
            text = f"The ink on {ink.plate} has lain {minutes_text(lain)}"
            more = ": it may skin, pull it or wipe again" if up else (
                f", pull within {minutes_text(ink.within_ms - lain)}")
            yield Word((s.id, ink.plate, ink.impression, "up" if up else "half"), text + more)
