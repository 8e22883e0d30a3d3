"""What a session left unsaid: the facts asked first thing at the next start, about that day."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from benchapp.session.room_facts import asks_itself, facts_given, left_on, worked_on
from benchapp.session.state import Session, TaskKey


def asked_again(s: Session) -> TaskKey | None:
    """The step whose one answer was that it is left on, to be asked before the day closes."""
    for step in s.recipe.after + s.inherited:
        facts, key = facts_given(s, step), TaskKey(step.id)
        if len(facts) == 1 and left_on(facts[0]) and asks_itself(s, step) and (
                s.done(key) and s.work[key].how == "done"):
            return key
    return None


@dataclass(frozen=True, slots=True)
class UnansweredFact:
    """One fact nobody gave.

    Attributes:
        session: The session's id; `name` what it is called; `print` the title of its print.
        step: The id of the step, as `actions.Must` takes it.
        do: What the step is.
        must: The answers there are.
    """

    session: str
    name: str
    step: str
    do: str
    must: tuple[str, ...]
    print: str = ""


def unanswered_facts(sessions: Iterable[Session], today: date) -> tuple[UnansweredFact, ...]:
    """The facts to ask about sessions closed, or left open over a night, without them.

    A fact *not said* is asked once more; not said again it is left at that. So is, of a
    session still open, what was *left on*. A session still open that was worked on `today`
    is asked nothing early.
    """
    return tuple(found for s in sessions for found in _of(s, today))


def _of(s: Session, today: date) -> Iterable[UnansweredFact]:
    if s.closed is None and worked_on(s) >= today:
        return
    for step in s.recipe.steps + s.inherited:
        if not asks_itself(s, step):
            continue  # it is asked with another step
        facts = facts_given(s, step)
        hot = s.closed is None and left_on(next(iter(facts), None))
        if not step.must or len(facts) > 1 or (any(f is not None for f in facts) and not hot):
            continue
        work = s.work.get(TaskKey(step.id))
        if work is not None and work.how == "left":
            continue  # it is asked where it was left to
        yield UnansweredFact(s.id, s.name, step.id, step.do, step.must, s.recipe.print.title)
