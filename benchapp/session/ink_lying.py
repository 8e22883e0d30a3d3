"""Ink left lying on a wiped plate: it skins while it waits for the press. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchapp.quantities import figure_text, minutes_text
from benchapp.recipe.model import Step
from benchapp.recipe.order import ONE_PLATE, SEVERAL_PLATES
from benchapp.session.state import Attempt, Impression, Session, StudioState, TaskKey

#: Shown from then on: what is pulled at once is not worth a line.
SHOWN_FROM_MS: Final = 60_000
_MIN_MS: Final = 60_000
_HOUR_MS: Final = 60 * _MIN_MS
#: It is spoken of from this part of its time on (our own choice, no source).
_HALF: Final = 2
#: Ends of work that was not done.
_NOT_DONE: Final = frozenset({"skipped", "left", "dropped"})


@dataclass(frozen=True, slots=True)
class LyingInk:
    """Ink on one wiped plate that was not pulled yet.

    Attributes:
        plate: Which.
        impression: For which, in the order begun.
        since_t: Room time at which its wiping ended.
        within_ms: How long it may lie: what the recipe says of its pull, else common
            practice (15 min, with two or more plates 40).
        at_press: Its pull is begun, and not done yet.
    """

    plate: str
    impression: int
    since_t: int
    within_ms: int
    at_press: bool = False


@dataclass(frozen=True, slots=True)
class InkWarning:
    """Something to be said about it, once: the same `about` is never said again."""

    about: tuple[str, str, int, str]
    text: str


def lying_ink(s: Session) -> Iterator[LyingInk]:
    """The plates of a session that were wiped and wait for their pull, in printing order."""
    for imp in s.active:
        if imp.ended is not None:
            continue
        for plate in s.recipe.plates:
            found = _on(s, imp, plate.name)
            if found is not None:
                yield found


def _on(s: Session, imp: Impression, plate: str) -> LyingInk | None:
    """Ink on that plate: counted from the last inky step before the pull that comes next."""
    mine = [x for x in s.recipe.each if plate in s.shape.plates_of[x.id]]
    place = next((i for i, x in enumerate(mine)
                  if plate in x.pulls and not s.done(TaskKey(x.id, imp.ordinal))), None)
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
    return LyingInk(plate, imp.ordinal, since_t, min(said, default=common.ms),
                    s.running(TaskKey(mine[place].id, imp.ordinal)))


def _wiped(s: Session, steps: list[Step], ordinal: int) -> tuple[Step, int] | None:
    """The last inky step due before a pull, and when it ended; None where one is not done."""
    last: tuple[Step, int] | None = None
    for step in steps:
        work = s.work.get(TaskKey(step.id, ordinal))
        if step.hands != "inky" or (step.optional and work is None):
            continue
        if work is None or work.finished_t is None:
            return None
        if work.how != "skipped":
            last = step, work.finished_t
    return last


def inked_before(s: Session, key: TaskKey) -> Iterator[tuple[str, int]]:
    """The plates a step would ink that are inked already, and the room time since when.

    Their ink was meant for an impression that never came to their pull: it was spoiled, or stays
    as it is. Nothing is said of a plate reworked since, nor once it is inked anew.

    Args:
        s: The session.
        key: The inky step in hand.
    """
    step = s.shape.by_id.get(key.step)
    if step is None or step.hands != "inky" or step.id not in s.shape.place_of:
        return
    for plate in s.shape.plates_of[step.id]:
        last = next((w for w in reversed(s.history) if _on_ink(s, w, plate)), None)
        if last is None or last.finished is None or last.finished_t is None:
            continue
        imp, wall_ms = s.impression(last.key.impression), last.finished.wall_ms
        if s.shape.by_id[last.key.step].pulls or imp is None or imp.ended is None:
            continue
        if not any(name == plate and at.wall_ms >= wall_ms for name, _, _, at in s.reworks):
            yield plate, last.finished_t


def inking_words(s: Session, key: TaskKey) -> str:
    """Plate and ink of an inking or wiping step, and whether the plate is inked already."""
    already = "inked already" if any(inked_before(s, key)) else ""
    return " · ".join(x for x in (s.shape.inking.get(key.step, ""), already) if x)


def _on_ink(s: Session, work: Attempt, plate: str) -> bool:
    """Whether work done put ink on a plate, or took it off by a pull."""
    at = s.shape.place_of.get(work.key.step)
    if at is None or work.how in _NOT_DONE or plate not in s.shape.plates_of[work.key.step]:
        return False
    step = s.recipe.each[at]
    return bool(step.pulls) or (step.hands == "inky" and any(
        plate in later.pulls for later in s.recipe.each[at:]))


def to_say(room: StudioState, t: int) -> Iterator[InkWarning]:
    """What is said of ink left lying once hands can act: at half its time, and when it is up.

    Of a plate that is inked already it is said as its inking begins.
    """
    for s in room.open_sessions:
        if s.hand is not None:
            for plate, _ in inked_before(s, s.hand):
                yield InkWarning((s.id, plate, s.hand.impression or 0, "before"),
                                 f"Plate {plate} is inked already")
        for ink in lying_ink(s):
            lain = t - ink.since_t
            if ink.at_press or lain * _HALF < ink.within_ms:
                continue
            up = lain >= ink.within_ms
            more = ": it may skin, pull it or wipe again" if up else ""
            yield InkWarning((s.id, ink.plate, ink.impression, "up" if up else "half"),
                             lain_text([ink.plate], lain, ink.within_ms) + more)


def lain_text(plates: Sequence[str], lain_ms: int, within_ms: int) -> str:
    """How long ink has lain, and how long it may: `The ink on pear has lain 8 min, limit 7`."""
    return f"The ink on {' and '.join(plates)} has waited {waited_text(lain_ms, within_ms)}"


def waited_text(ms: int, within_ms: int) -> str:
    """A time begun and its limit, in minutes: `8 min, limit 7`; longer ones with their units."""
    minutes = -(-ms // _MIN_MS)
    if within_ms % _MIN_MS or max(minutes * _MIN_MS, within_ms) >= _HOUR_MS:
        return f"{minutes_text(minutes * _MIN_MS)}, limit {figure_text(within_ms)}"
    return f"{minutes} min, limit {within_ms // _MIN_MS}"
