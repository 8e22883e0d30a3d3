"""Which steps may be begun instead of the one that comes next. Pure."""

from __future__ import annotations

from benchapp.edition import packs as damp
from benchapp.events.entry import Moment
from benchapp.session.coming import before_first
from benchapp.session.compiled_recipe import DAMP_OUT
from benchapp.session.next_steps import (
    before_over,
    hands_ready,
    offered_late,
    pack_in_due,
    ready_steps,
)
from benchapp.session.state import Session, StudioState, TaskKey


def choosable_tasks(room: StudioState, s: Session, t: int) -> tuple[TaskKey, ...]:
    """Every step that may be begun now: its own predecessors are done."""
    keys = [k for k in hands_ready(s, offered=True) if k not in s.work]
    for steps, ordinal in ([(s.recipe.each, i.ordinal) for i in s.impressions if not i.over]
                           if before_over(s) else [(s.recipe.before, None)]):
        keys += [TaskKey(x.id, ordinal) for x in ready_steps(s, steps, ordinal, offered=True)
                 if x.hands == "free" and x.optional]
    keys += offered_late(s)
    into = pack_in_due(room, s, t)
    keys += [] if into is None else [into.key]
    name = s.shape.paper_name
    keys += [TaskKey(DAMP_OUT, pack=p.id) for p in damp.in_water(room.packs, t)
             if p.paper == name and not s.running(TaskKey(DAMP_OUT, pack=p.id))]
    return tuple(dict.fromkeys(keys))


def choosable_then(room: StudioState, s: Session, now: Moment) -> tuple[TaskKey, ...]:
    """What can be begun in place of the inky step that comes, once what is in hand is done."""
    page = before_first(room, s, now)
    if s.hand is None or page is None:
        return ()
    return tuple(k for k in choosable_tasks(page.state, page.s, page.t) if k != page.s.hand)


