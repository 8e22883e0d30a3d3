"""What can be done now: tried out on the room as it is, and thrown away. Pure.

Menus list only what would not be refused, and the foot of the Bench names only
keys that work. What is tried is declared with each action; the rules are the decider's alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from benchapp.decision import Refusal
from benchapp.events.entry import Moment
from benchapp.session import actions as a
from benchapp.session.decide import decide, hands_gate
from benchapp.session.state import Session, StudioState

_FOR_PROOFS: Final = tuple(sorted((spec for spec in a.REGISTRY if spec.proofing is not None),
                                  key=lambda spec: spec.proofing or 0))
"""What a day of proofs goes by: a state, a rework, what is skipped, the last proof."""

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


def specs_now(room: StudioState, s: Session, now: Moment) -> tuple[a.ActionSpec, ...]:
    """The actions whose key does something now, those of most use first."""
    first = proof_specs(s)
    return tuple(spec for spec in (*first, *(x for x in _BY_USE if x not in first))
                 if _works_now(room, s, spec, now))


def proof_specs(s: Session) -> tuple[a.ActionSpec, ...]:
    """The actions that come before all others on a day of proofs; none on another day."""
    return () if s.recipe.proofing is None else _FOR_PROOFS


def _works_now(room: StudioState, s: Session, spec: a.ActionSpec, now: Moment) -> bool:
    if not room.clean and (spec.makes is None or hands_gate(room, spec.makes) is not None):
        return False
    if spec.possible is not None:
        return spec.possible(room, s, now)
    return any(True for _ in possible_actions(room, s, spec.word, now))
