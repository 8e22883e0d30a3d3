"""What the Bench and the set-up card say of damp paper: pure words."""

from __future__ import annotations

from benchapp.edition import packs as damp
from benchapp.quantities import items_text, minutes_text
from benchapp.session.context import worked_ms
from benchapp.session.counting import needs_next
from benchapp.session.next_steps import next_ordinal, pack_in_due
from benchapp.session.state import Session, StudioState, TaskKey


def first_pack_words(room: StudioState, s: Session, t: int) -> str:
    """What a session about to open damps first; empty where its paper is not damped.

    Args:
        room: With the packs there are.
        s: The session, which need not be in that room yet.
        t: Room time now.
    """
    name = s.shape.paper_name
    if name is None:
        return ""
    wanted = pack_in_due(room, s, t)
    if wanted is not None:
        return f"Damp first: {wanted.size.words or 'sheets, not counted'}"
    left = damp.sheets_left(room.packs, name, t)
    there = "sheets" if left is None else items_text(left, "sheet")
    return f"Damp already: {there}"


def left_words(room: StudioState, s: Session, t: int) -> str:
    """How many sheets of its paper are damp: `4 damp sheets`; empty where that is not damped."""
    name = s.shape.paper_name
    if name is None or s.closed is not None:
        return ""
    left = damp.sheets_left(room.packs, name, t)
    if left is None:
        return "damp sheets: not counted"
    return items_text(left, "damp sheet") if left else "no damp sheet"


def shortage_words(room: StudioState, s: Session, t: int) -> str | None:
    """What is to be known of paper before the plates of the next sheet are inked; None: nothing.

    That there is none, or that the inked plates would wait for it longer than they may.
    """
    ordinal, name = _wants_sheet(s), s.shape.paper_name
    if ordinal is None or name is None or damp.lies_open(room.packs, name):
        return None
    if room.clean and pack_in_due(room, s, t) is not None:
        return None  # one goes in before hands turn inky
    inked = _inked(s, ordinal)
    packs = damp.of_paper(room.packs, name, t)
    if not packs:
        return ("There is no damp sheet for this pull" if inked else
                "There is no damp sheet for the next pull: damp some before you ink")
    return None if inked else _would_wait(s, ordinal, min(_ready_in_ms(s, p, t) for p in packs), t)


def _wants_sheet(s: Session) -> int | None:
    """The first impression whose sheet is not taken yet, begun or to come; None: there is none."""
    for imp in s.active:
        if not imp.sheets and not s.done(TaskKey(s.shape.sheet_step, imp.ordinal)):
            return imp.ordinal
    return next_ordinal(s) if s.closed is None and needs_next(s) else None


def _inked(s: Session, ordinal: int) -> bool:
    """Whether an inky step before its sheet is done."""
    before = s.recipe.each[:s.shape.place_of[s.shape.sheet_step]]
    return any(s.done(TaskKey(x.id, ordinal)) for x in before if x.hands == "inky")


def _ready_in_ms(s: Session, pack: damp.Pack, t: int) -> int:
    """How long until a sheet of that pack can be printed on, its handling with it."""
    if pack.ready_t is not None:
        return max(0, pack.ready_t - t)
    soaked = max(0, (pack.soaked_t or t) - t)
    return soaked + s.shape.handling.ms + (pack.rest_ms or 0)


def _would_wait(s: Session, ordinal: int, ready_ms: int, t: int) -> str | None:
    """How long inked plates would wait for paper, where that is longer than they may."""
    may = min((x.within.ms for x in s.shape.limits if x.step == s.shape.sheet_step), default=None)
    wait = ready_ms - _until_sheet_ms(s, ordinal, t)
    if may is None or wait <= may:
        return None
    return (f"Damp sheets are ready in {minutes_text(ready_ms // 60_000 * 60_000)}: ink later, or "
            f"the plate waits about {minutes_text(wait // 60_000 * 60_000)}")


def _until_sheet_ms(s: Session, ordinal: int, t: int) -> int:
    """Usual time of the work before that impression's sheet is taken; unknown is left out."""
    place = s.shape.place_of[s.shape.sheet_step]
    left = [TaskKey(x.id) for x in s.recipe.before]
    left += [TaskKey(x.id, i) for i in range(1, ordinal + 1)
             for x in (s.recipe.each if i < ordinal else s.recipe.each[:place])]
    total = s.recipe.wash.ms
    for key in left:
        step = s.shape.by_id[key.step]
        if s.done(key) or step.optional or step.time is None:
            continue
        done = worked_ms(s, s.work[key], t) if s.running(key) else 0
        total += max(0, step.time.usual.ms - done)
    return total
