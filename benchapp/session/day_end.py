"""The end of a day as it is drafted: a step left to another session, a fact for all it is of."""

from __future__ import annotations

from benchapp.events.field_types import ABSENT
from benchapp.events.moments import local_time
from benchapp.events.session import MustAnswered, StepLeft, StepTakenOver
from benchapp.recipe.model import Step
from benchapp.session.context import SessionContext
from benchapp.session.room_facts import (
    answer_that_holds,
    asked_with,
    other_that_asks,
    paper_of_step,
    print_title,
)
from benchapp.session.state import Session, TaskKey


def leave_to(page: SessionContext, key: TaskKey, to: str) -> None:
    """Draft that an after step, with what it would ask for others, is left to the session `to`."""
    step = page.step(key)
    for x in (step, *asked_with(page.s, step)):
        own, owner = named_at(page.s, x)
        page.emit(StepLeft(step=own, owner=owner, to=to))
        page.emit_to(f"session/{to}", StepTakenOver(
            step=own, owner=owner, do=x.do, hands=x.hands, must=x.must, from_session=page.sid,
            print=print_title(page.s, x), lines=x.lines or ABSENT, care=x.care or ABSENT,
            care_short=x.care_short or ABSENT, short=x.short or ABSENT,
            paper=paper_of_step(page.s, x) or ABSENT))
        page.finish(TaskKey(x.id), "left", taken=False)


def write_fact(page: SessionContext, step: Step, fact: str | None) -> None:
    """Draft the answer to a step, and to those whose question it asks; these end with it."""
    others = asked_with(page.s, step)
    for x in (step, *others):
        own, owner = named_at(page.s, x)
        page.emit(MustAnswered(step=own, owner=owner, fact=fact))
        if owner != page.sid:
            page.emit_to(f"session/{owner}", MustAnswered(step=own, owner=owner, fact=fact))
    for x in others:
        if not page.s.done(TaskKey(x.id)):
            page.finish(TaskKey(x.id), "passed", taken=False)


def named_at(s: Session, step: Step) -> tuple[str, str]:
    """A step's id in the session it came from, and that session's id."""
    owner = s.owners.get(step.id, s.id)
    return (step.id if owner == s.id else step.id.partition(" ")[2]), owner


def not_asked_here(page: SessionContext, key: TaskKey) -> bool:
    """Draft what becomes of a question of the room that is not to be asked now; whether it is so.

    It is left to the session that goes on, or what was answered there still holds.
    """
    step = page.step(key)
    other = other_that_asks(page.state, page.s, step, local_time(page.now).date())
    if other is not None:
        leave_to(page, key, other.id)
        return True
    said = answer_that_holds(page.state, page.s, step)
    if said is None:
        return False
    write_fact(page, step, said)
    page.finish(key, "passed", taken=False)
    return True
