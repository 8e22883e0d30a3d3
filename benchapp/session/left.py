"""What a session left unsaid: the facts asked first thing at the next start, about that day."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from benchapp.moments import local
from benchapp.session.state import Key, Session


@dataclass(frozen=True, slots=True)
class Unsaid:
    """One fact nobody gave.

    Attributes:
        session: The session's id; `name` what it is called.
        step: The id of the step, as `actions.Must` takes it.
        do: What the step is.
        must: The answers there are.
    """

    session: str
    name: str
    step: str
    do: str
    must: tuple[str, ...]


def unsaid(sessions: Iterable[Session], today: date) -> tuple[Unsaid, ...]:
    """The facts to ask about sessions closed, or left open over a night, without them.

    A fact *not said* is asked once more; not said again it is left at that. A
    session still open that was worked on `today` is asked nothing early.
    """
    return tuple(found for s in sessions for found in _of(s, today))


def _worked_on(s: Session) -> date:
    """The day it was last worked on: opened, come back to, or done anything in."""
    came_back = [j.at for j in s.jumps if j.what == "continued"]
    done = [a.at for a in s.actions[-1:]]
    return local(max([s.opened, *came_back[-1:], *done], key=lambda m: m.wall_ms)).date()


def _of(s: Session, today: date) -> Iterable[Unsaid]:
    if s.closed is None and _worked_on(s) >= today:
        return
    for step in s.recipe.steps + s.inherited:
        owner = s.owners.get(step.id, s.id)
        own = step.id if owner == s.id else step.id.partition(" ")[2]
        facts = s.musts.get((owner, own), ())
        if not step.must or len(facts) > 1 or any(f is not None for f in facts):
            continue
        work = s.work.get(Key(step.id))
        if work is not None and work.how == "left":
            continue  # it is asked where it was left to
        yield Unsaid(s.id, s.name, step.id, step.do, step.must)
