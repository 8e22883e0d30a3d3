"""A counterproof: a damp sheet pulled from a fresh impression, which prints it the other way round.

The impression is laid on the bed with a damp sheet on it, and both go through the press. The plate
has no part in it. The impression gives off some of its ink; what that did to it, the printer notes.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from benchapp.decision import Refusal
from benchapp.events.impression import CounterproofPulled, ImpressionLaidToDry
from benchapp.session import paper
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.auto_steps import draft_auto_steps, marks_given
from benchapp.session.context import SessionContext
from benchapp.session.marks import free_mark
from benchapp.session.names import next_sheet_number
from benchapp.session.next_steps import next_ordinal
from benchapp.session.state import Impression, Session

__all__ = ["Counterproof"]


@dataclass(frozen=True, slots=True)
class Counterproof(Action):
    """A sheet pulled from that impression; None: from the one last pulled from the plate."""

    impression: int | None = None


def _pull_counterproof(page: SessionContext, action: Counterproof) -> Refusal | None:
    """Its own sheet, from a pack where one is ready, with its own mark; then it dries."""
    s = page.s
    source = _last_from_plate(s) if action.impression is None else s.impression(action.impression)
    if source is None or not source.pulled:
        return Refusal("There is no fresh impression to pull it from", "pull one first")
    ordinal, number = next_ordinal(s), next_sheet_number(s)
    page.emit(CounterproofPulled(
        impression=ordinal, source=source.ordinal, number=number,
        mark=free_mark(s.letters, number, marks_given(page.state))))
    paper.take_sheet(page, ordinal)
    page.emit(ImpressionLaidToDry(impression=ordinal))
    draft_auto_steps(page)
    return None


def _last_from_plate(s: Session) -> Impression | None:
    pulled = [i for i in s.impressions if i.number is not None and i.counterproof is None]
    return max(pulled, key=lambda i: i.number or 0, default=None)


def _tell(s: Session, pulled: CounterproofPulled) -> str:
    source = s.impression(pulled.source)
    return f"Counterproof {pulled.mark} of {'' if source is None else source.mark}"


SPECS: Final = (
    ActionSpec("counterproof", (Rule(Counterproof, _pull_counterproof, at_bench=True),),
               "A damp sheet pulled from a fresh impression, not from the plate", "[MARK]",
               key="less_than_sign", makes=Counterproof(), of_sheet=True, use=32,
               tells={CounterproofPulled: _tell}),
)
