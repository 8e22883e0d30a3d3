"""What is asked once for the whole room at the end of a day: heat, rags, damp sheets. Pure.

Two sessions open at once have one hot plate, one can for rags, and share packs of one paper. The
first to come to such a question leaves it to the other, which asks it in its own place and for
both; what was answered since, and still holds, is not asked again.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from typing import Final

from benchapp.edition import packs as damp
from benchapp.events.moments import local_time
from benchapp.recipe.hazards import BY_KEY, is_heat_off, is_press_off
from benchapp.recipe.model import Step
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT, CompiledRecipe
from benchapp.session.pack_size import sheets_text
from benchapp.session.state import Session, StudioState, TaskKey

#: Facts of a step that asks about left-over damp sheets; the packs follow the answer.
LEFT_OVER: Final = frozenset({"wrapped", "dried", "none"})
HEAT: Final = "heat"
RAGS: Final = "rags"
#: The answers that leave something hot: asked once more before the printer goes.
_LEFT_ON: Final = re.compile(r"\b(?:left|still|stays) on\b|^on$", re.IGNORECASE)


def fact_of(s: Session, step: Step) -> str | None:
    """Which fact of the room a step asks; None: none, or it is about this print alone.

    Damp sheets are a fact for each paper.
    """
    if step.section != "after" or not step.must:
        return None
    if set(step.must) == LEFT_OVER:
        return f"damp {paper_of_step(s, step)}"
    if is_heat_off(step):
        return HEAT
    return RAGS if BY_KEY["oily rags"].words.search(step.do) else None


def paper_of_step(s: Session, step: Step) -> str | None:
    """The damped paper whose sheets a step asks about: of the print it came from."""
    taken = s.taken_over.get(step.id)
    return s.shape.paper_name if taken is None else taken.paper


def facts_given(s: Session, step: Step) -> tuple[str | None, ...]:
    """What was answered to a step so far, here or, where it was left to this one, for the other."""
    owner = s.owners.get(step.id, s.id)
    own = step.id if owner == s.id else step.id.partition(" ")[2]
    return s.musts.get((owner, own), ())


def left_on(fact: str | None) -> bool:
    """Whether a fact says that something stays hot: the answers are the recipe's own words."""
    return fact is not None and _LEFT_ON.search(fact.strip()) is not None


def worked_on(s: Session) -> date:
    """The day it was last worked on: opened, come back to, or done anything in."""
    came_back = [j.at for j in s.jumps if j.what == "continued"]
    done = [a.at for a in s.actions[-1:]]
    return local_time(max([s.opened, *came_back[-1:], *done], key=lambda m: m.wall_ms)).date()


# -- one question for several sessions --------------------------------------------------------


def asked_by(s: Session, step: Step) -> Step:
    """The step that asks for `step`: itself, or for one left to this session another of that fact.

    The session's own comes first, in its place; then what was left to it first. Only steps that
    were answered alike are one question: one answered before the other came asks no more for it.
    """
    fact = fact_of(s, step)
    if fact is None or step.id not in s.taken_over:
        return step
    given = facts_given(s, step)
    for other in (*s.recipe.after, *s.inherited):
        if other.id == step.id:
            break
        if fact_of(s, other) == fact and facts_given(s, other) == given and (
                given or not s.done(TaskKey(other.id))):
            return other
    return step


def asked_with(s: Session, step: Step) -> tuple[Step, ...]:
    """The steps left to this session whose question `step` asks too."""
    return tuple(x for x in s.inherited if x.id != step.id and asked_by(s, x).id == step.id)


def asks_itself(s: Session, step: Step) -> bool:
    """Whether a step left to this session asks its own question."""
    return asked_by(s, step).id == step.id


def taken_over_ready(s: Session, own: tuple[str, ...], *, own_over: bool) -> Iterator[Step]:
    """The steps left to this session whose turn it is, among its own that come next.

    The heat is the first question of a day's end. The rest comes before the press is let off, or
    last where the recipe does not let it off.

    Args:
        s: The session, printed out.
        own: The ids of its own after steps that can begin now.
        own_over: Whether all of them are done.
    """
    rest = [x for x in s.inherited if TaskKey(x.id) not in s.work and asks_itself(s, x)]
    if not rest:
        return
    yield from (x for x in rest if is_heat_off(x))
    off = next((x.id for x in s.recipe.after if is_press_off(x)), None)
    if own_over or off in own or (off is not None and s.done(TaskKey(off))):
        yield from (x for x in rest if not is_heat_off(x))


def other_that_asks(room: StudioState, s: Session, step: Step, today: date) -> Session | None:
    """The open session, worked on today, that will ask the same; None: it is asked here.

    One left open on an earlier day may not be gone on with before the studio is left.
    """
    fact = fact_of(s, step)
    if fact is None:
        return None
    asks = [o for o in room.open_sessions if o.id != s.id and worked_on(o) >= today
            and any(fact_of(o, x) == fact and not facts_given(o, x) and not o.done(TaskKey(x.id))
                    for x in (*o.recipe.after, *o.inherited))]
    return asks[-1] if asks else None


def answer_that_holds(room: StudioState, s: Session, step: Step) -> str | None:
    """What another session, open together with this one, was answered, where it is still so.

    Not where the hot plate was used, hands were inked or sheets were damped after it.
    """
    fact = fact_of(s, step)
    if fact is None:
        return None
    given = [(work.finished_t, facts[-1]) for o in room.sessions.values()
             if _together(room, o, s)
             for x in (*o.recipe.after, *o.inherited) if fact_of(o, x) == fact
             and (facts := facts_given(o, x)) and (work := o.work.get(TaskKey(x.id))) is not None
             and work.finished_t is not None]
    if not given:
        return None
    since, said = max(given, key=lambda x: x[0])
    if said is None or left_on(said) or _used_since(room, fact, paper_of_step(s, step), since):
        return None
    return said


def _together(room: StudioState, o: Session, s: Session) -> bool:
    """Whether two sessions of this book were open at one time, and neither was discarded."""
    return (o.id != s.id and not room.guest(o.id) and not o.discarded and (
        o.closed is None or o.closed.wall_ms >= s.opened.wall_ms) and (
        s.closed is None or s.closed.wall_ms >= o.opened.wall_ms))


def _with_others(room: StudioState, s: Session) -> bool:
    return any(_together(room, o, s) for o in room.sessions.values())


def _used_since(room: StudioState, fact: str, paper: str | None, since: int) -> bool:
    """Whether hot plate, rags or damp sheets of that paper were in use after room time `since`."""
    return any(work.running or (work.finished_t or 0) > since
               for o in room.sessions.values() if not room.guest(o.id)
               for key, work in o.work.items() if _uses(o.shape, key, fact, paper)) or (
        fact not in (HEAT, RAGS)
        and any(p.put_in_t > since for p in damp.of_paper(room.packs, paper or "", room.t)))


def _uses(shape: CompiledRecipe, key: TaskKey, fact: str, paper: str | None) -> bool:
    step = shape.by_id.get(key.step)
    if step is None:
        return False
    if fact == HEAT:
        return step.at == "hot plate" or (
            step.hands == "inky" and step.section != "after" and _heats_unsaid(shape))
    if fact == RAGS:
        return step.hands == "inky"
    return shape.paper_name == paper and key.step in (shape.sheet_step, DAMP_IN, DAMP_OUT)


def _heats_unsaid(shape: CompiledRecipe) -> bool:
    """Whether a recipe turns a hot plate off that it names at no step: inking may be on it."""
    return any(is_heat_off(x) for x in shape.recipe.after) and all(
        x.at != "hot plate" for x in shape.recipe.steps)


def still_asked(s: Session) -> tuple[str, ...]:
    """The questions of the room that others left to a session, and nobody answered yet."""
    return tuple(dict.fromkeys(asked_by(s, x).do for x in s.inherited
                               if fact_of(s, x) is not None and not facts_given(s, x)))


# -- in words ---------------------------------------------------------------------------------


def print_title(s: Session, step: Step) -> str:
    """The title of the print a step is of."""
    taken = s.taken_over.get(step.id)
    return s.recipe.print.title if taken is None else taken.print


def whose_words(room: StudioState, s: Session, step: Step, t: int) -> str:
    """Which print, or which pack, a step of the day's end is about; empty where it is plain.

    It is plain where no other session was open with this one.
    """
    fact = fact_of(s, step)
    if step.id not in s.taken_over and (fact is None or not _with_others(room, s)):
        return ""
    titles = list(dict.fromkeys(print_title(s, x) for x in (step, *asked_with(s, step))))
    named = " and ".join(titles)
    if fact in (None, HEAT, RAGS):
        return named
    found = [_pack_words(p, room) for p in damp.of_paper(
        room.packs, paper_of_step(s, step) or "", t)]
    return f"{named}: {', '.join(found) or 'no pack is left'}"


def _pack_words(pack: damp.Pack, room: StudioState) -> str:
    by = None if pack.by is None else room.sessions.get(pack.by)
    number = pack.id.rpartition(".")[2]
    name = f"pack {number}" if by is None else f"pack {number} of {by.name}"
    return name if pack.left is None else f"{name}, {sheets_text(pack.left)}"
