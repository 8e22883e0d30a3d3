"""What a session left unsaid: the facts asked first thing at the next start, about that day."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final

from benchapp.moments import local
from benchapp.session.state import Key, Session

#: The answers that leave something hot: asked once more before the printer goes.
_LEFT_ON: Final = re.compile(r"\b(?:left|still|stays) on\b|^on$", re.IGNORECASE)


def left_on(fact: str | None) -> bool:
    """Whether a fact says that something stays hot: the answers are the recipe's own words."""
    return fact is not None and _LEFT_ON.search(fact.strip()) is not None


def asked_again(s: Session) -> Key | None:
    """The step whose one answer was that it is left on, to be asked before the day closes."""
    for step in s.recipe.after + s.inherited:
        owner = s.owners.get(step.id, s.id)
        own = step.id if owner == s.id else step.id.partition(" ")[2]
        facts = s.musts.get((owner, own), ())
        key = Key(step.id)
        if len(facts) == 1 and left_on(facts[0]) and s.done(key) and s.work[key].how == "done":
            return key
    return None


@dataclass(frozen=True, slots=True)
class Unsaid:
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


def unsaid(sessions: Iterable[Session], today: date) -> tuple[Unsaid, ...]:
    """The facts to ask about sessions closed, or left open over a night, without them.

    A fact *not said* is asked once more; not said again it is left at that. So is, of a
    session still open, what was *left on*. A session still open that was worked on `today`
    is asked nothing early.
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
        hot = s.closed is None and left_on(next(iter(facts), None))
        if not step.must or len(facts) > 1 or (any(f is not None for f in facts) and not hot):
            continue
        work = s.work.get(Key(step.id))
        if work is not None and work.how == "left":
            continue  # it is asked where it was left to
        yield Unsaid(s.id, s.name, step.id, step.do, step.must, s.recipe.print.title)
