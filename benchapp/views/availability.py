"""What can be done now: tried out on the room as it is, and thrown away. Pure.

Menus list only what would not be refused, and the foot of the Bench names only
keys that work. What is tried is declared with each action; the rules are the decider's alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, Final

from benchapp.decision import Refusal
from benchapp.events.entry import Moment
from benchapp.recipe.model import Step
from benchapp.session import actions as a
from benchapp.session.decide import decide, hands_gate
from benchapp.session.state import Session, StudioState, TaskKey
from benchapp.session.step_control import choosable_tasks, choosable_then
from benchapp.views.bench import do_words

PROOFING: Final = ("reworked", "skip", "enough")
"""What a proofing day goes by: a state, a rework, what is skipped, the last proof."""

_BY_USE: Final = tuple(sorted((spec for spec in a.REGISTRY if spec.use is not None),
                              key=lambda spec: spec.use or 0))
"""The keys of most use at the bench first: the foot holds only so many."""


def why_not(room: StudioState, action: a.Action, now: Moment) -> Refusal | None:
    """Why an action would be refused, or None if it would be done."""
    tried = decide(room, action, now)
    return tried if isinstance(tried, Refusal) else None


def possible_actions(room: StudioState, s: Session, word: str, now: Moment) -> Iterator[Any]:
    """The actions a word may mean now: of those it declares, the ones not refused."""
    spec = a.spec_of(word)
    tries = [spec.makes] if spec.tries is None else spec.tries(room, s, now)
    return (x for x in tries if x is not None and why_not(room, x, now) is None)


def later_steps(room: StudioState, s: Session, now: Moment) -> tuple[Step, ...]:
    """Steps one can say to have come to."""
    return tuple(s.shape.by_id[x.step] for x in possible_actions(room, s, "here", now))


def earlier_steps(room: StudioState, s: Session, now: Moment) -> tuple[Step, ...]:
    """Steps of the impression in hand that can be done again."""
    return tuple(s.shape.by_id[x.step] for x in possible_actions(room, s, "redo", now))


def next_steps(room: StudioState, s: Session, now: Moment) -> tuple[tuple[TaskKey, str], ...]:
    """Work that may be chosen instead, with its words; of which sheet where there are more."""
    t = room.t_at(now)
    return _with_words(room, s, (key for key in choosable_tasks(room, s, t) if key != s.hand), t)


def next_then(room: StudioState, s: Session, now: Moment) -> tuple[tuple[TaskKey, str], ...]:
    """The same in place of the inky step that comes, once the one in hand is done."""
    return _with_words(room, s, choosable_then(room, s, now), room.t_at(now))


def _with_words(room: StudioState, s: Session, keys: Iterable[TaskKey],
                t: int) -> tuple[tuple[TaskKey, str], ...]:
    out = []
    for key in keys:
        imp = s.impression(key.impression)
        of = "" if imp is None or imp.mark is None else f" ({imp.mark})"
        out.append((key, do_words(room, s, key, t) + of))
    return tuple(out)


def skippable_tasks(room: StudioState, s: Session, now: Moment) -> tuple[TaskKey, ...]:
    """The steps that can be passed by: the one in hand, and the inky ones that come."""
    return tuple(x.key for x in possible_actions(room, s, "skip", now) if not x.off)


def leavable_tasks(room: StudioState, s: Session, now: Moment) -> tuple[TaskKey, ...]:
    """The steps that can be left to another session, the same way."""
    return tuple(dict.fromkeys(
        x.key for x in possible_actions(room, s, "left to", now) if not x.off))


def sheet_moves(room: StudioState, s: Session, now: Moment) -> tuple[a.MoveSheet, ...]:
    """What can become of one damp sheet."""
    return tuple(possible_actions(room, s, "sheet", now))


def specs_now(room: StudioState, s: Session, now: Moment) -> tuple[a.ActionSpec, ...]:
    """The actions whose key does something now, those of most use first."""
    own = PROOFING if s.recipe.proofing is not None else ()
    first = [a.spec_of(word) for word in own]
    return tuple(spec for spec in (*first, *(x for x in _BY_USE if x.word not in own))
                 if _works_now(room, s, spec, now))


def _works_now(room: StudioState, s: Session, spec: a.ActionSpec, now: Moment) -> bool:
    if not room.clean and (spec.makes is None or hands_gate(room, spec.makes) is not None):
        return False
    if spec.possible is not None:
        return spec.possible(room, s, now)
    return any(True for _ in possible_actions(room, s, spec.word, now))
