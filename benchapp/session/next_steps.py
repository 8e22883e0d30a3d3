"""What can be done next, and what stands in its way.

The order is the recipe's: lowest impression first, then as written; the next
impression begins when its plate is free and only waits are left of this one.
Any step whose own predecessors are done may be chosen instead.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from benchapp.edition import packs as damp
from benchapp.recipe.model import Step
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT, WASH
from benchapp.session.counting import needs_next, sheets_needed
from benchapp.session.pack_size import PackSize, size_pack
from benchapp.session.room_facts import taken_over_ready
from benchapp.session.state import SPOILED_TRY, Attempt, Session, StudioState, TaskKey


def settled_steps(s: Session, steps: tuple[Step, ...], ordinal: int | None) -> Mapping[str, bool]:
    """For each step whether what follows it may begin.

    A step offered but not due, or not belonging to this impression, stands in
    nobody's way, but lets those before it be waited for.
    """
    out: dict[str, bool] = {}
    for step in steps:
        key = TaskKey(step.id, ordinal)
        if s.done(key):
            out[step.id] = True
        elif s.running(key) or not (step.optional or not belongs_to(s, step, ordinal)):
            out[step.id] = False
        else:
            out[step.id] = all(out[p] for p in s.shape.follows[step.id])
    return out


def belongs_to(s: Session, step: Step, ordinal: int | None) -> bool:
    """Whether a step is done for the impression of that ordinal at all."""
    return ordinal is None or s.shape.due_on(step, ordinal)


def ready_steps(s: Session, steps: tuple[Step, ...], ordinal: int | None,
                *, offered: bool = False) -> Iterator[Step]:
    """The steps not begun whose predecessors are done; `offered`: optional ones too."""
    done = settled_steps(s, steps, ordinal)
    for step in steps:
        key = TaskKey(step.id, ordinal)
        if key in s.work or not belongs_to(s, step, ordinal) or (step.optional and not offered):
            continue
        if step.optional and pulled_since(s, step, ordinal):
            continue
        if step.pulls and not offered and _inking_left(s, step, ordinal, done):
            continue
        before = s.shape.follows[step.id]
        if all(done[p] for p in before) and _plates_free(s, step, ordinal):
            yield step


def _inking_left(s: Session, pull: Step, ordinal: int | None, done: Mapping[str, bool]) -> bool:
    """Whether due hands work listed before the first pull is left, on whatever plate.

    The sheet goes on at the first pull and waits damp under the roller for the next: no pull
    begins by itself before every plate of the impression is ready. It may be chosen.
    """
    imp = s.impression(ordinal)
    if imp is not None and imp.pulls:
        return False
    before = s.recipe.each[: s.shape.place_of[pull.id]]
    return any(not done[x.id] and x.hands != "free" and not x.optional for x in before)


def pulled_since(s: Session, step: Step, ordinal: int | None) -> bool:
    """Whether the plate of an optional step has gone through the press without it."""
    imp = s.impression(ordinal)
    plates = set(s.shape.plates_of.get(step.id, ()))
    return imp is not None and any(
        s.shape.place_of[p.step] > s.shape.place_of[step.id] and plates & set(p.plates)
        for p in imp.pulls)


def _plates_free(s: Session, step: Step, ordinal: int | None) -> bool:
    """A plate is held from its first step to the end of the first step after its last pull.

    A step of an earlier impression that is on it still, an optional one chosen late,
    holds it too: a plate in the bath cannot be inked.
    """
    if ordinal is None:
        return True
    for plate in s.shape.plates_of[step.id]:
        release = s.shape.release[plate]
        if any(k.impression is not None and k.impression < ordinal
               and plate in s.shape.plates_of.get(k.step, ()) for k in s.under_way):
            return False
        for other in s.active:
            if other.ordinal < ordinal and not settled_steps(s, s.recipe.each,
                                                             other.ordinal)[release]:
                return False
    return True


def offered_late(s: Session) -> Iterator[TaskKey]:
    """Optional steps at the end of the last impression: offered until the next is at the press."""
    over = [i for i in s.impressions if i.over]
    if not over or any(i.pulled for i in s.active):
        return
    for step in ready_steps(s, s.recipe.each, over[-1].ordinal, offered=True):
        if step.optional:
            yield TaskKey(step.id, over[-1].ordinal)


def hands_left(s: Session, ordinal: int) -> bool:
    """Whether hands work that is due is left on that impression."""
    done = settled_steps(s, s.recipe.each, ordinal)
    return any(not done[x.id] and x.hands != "free" for x in s.recipe.each)


def is_finished(s: Session, ordinal: int) -> bool:
    """Whether every step of that impression is done."""
    return all(settled_steps(s, s.recipe.each, ordinal).values())


def before_over(s: Session) -> bool:
    """Whether the work before printing is done."""
    return all(settled_steps(s, s.recipe.before, None).values())


def printing_over(s: Session) -> bool:
    """Whether no impression is needed and no hands work is left on any begun."""
    return not needs_next(s) and not any(hands_left(s, i.ordinal) for i in s.active)


def after_settled(s: Session) -> bool:
    """Whether the work after printing is done."""
    return (all(settled_steps(s, s.recipe.after, None).values())
            and all(s.done(TaskKey(x.id)) for x in s.inherited))


def next_ordinal(s: Session) -> int:
    """The ordinal of the impression that would be begun next."""
    return len(s.impressions) + 1


def may_begin(s: Session, *, early: bool = False) -> bool:
    """Whether the next impression can begin; `early`: chosen with hands work left on this one."""
    if not before_over(s) or not needs_next(s):
        return False
    if not early and any(hands_left(s, i.ordinal) for i in s.active):
        return False
    first = s.recipe.each[0]
    return _plates_free(s, first, next_ordinal(s))


def hands_ready(s: Session, *, offered: bool = False) -> Iterator[TaskKey]:
    """Hands steps that can begin now, in the default order; not those of the paper."""
    if not before_over(s):
        for step in ready_steps(s, s.recipe.before, None, offered=offered):
            if step.hands != "free":
                yield TaskKey(step.id)
        return
    for imp in s.active:
        for step in ready_steps(s, s.recipe.each, imp.ordinal, offered=offered):
            if step.hands != "free":
                yield TaskKey(step.id, imp.ordinal)
    if may_begin(s, early=offered):
        # The first step of an impression not begun: a free one lets the next wait for it.
        n = next_ordinal(s)
        for step in ready_steps(s, s.recipe.each, n, offered=offered):
            if step.hands != "free":
                yield TaskKey(step.id, n)
    if printing_over(s):
        own = tuple(ready_steps(s, s.recipe.after, None, offered=offered))
        over = all(settled_steps(s, s.recipe.after, None).values())
        yield from (TaskKey(x.id) for x in taken_over_ready(
            s, tuple(x.id for x in own), own_over=over))
        yield from (TaskKey(x.id) for x in own if x.hands != "free")


def waits_ready(s: Session) -> Iterator[TaskKey]:
    """Waits of what is begun, that begin by themselves now."""
    if not before_over(s):
        yield from (TaskKey(x.id) for x in ready_steps(s, s.recipe.before, None)
                    if x.hands == "free")
        return
    for imp in s.active:
        for step in ready_steps(s, s.recipe.each, imp.ordinal):
            if step.hands == "free":
                yield TaskKey(step.id, imp.ordinal)
    if printing_over(s):
        yield from (TaskKey(x.id) for x in ready_steps(s, s.recipe.after, None)
                    if x.hands == "free")


# -- paper ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PackWanted:
    """A pack that should go in now."""

    key: TaskKey
    size: PackSize


def pack_id(s: Session) -> str:
    """The id of the next pack this session damps."""
    return f"{s.id}.{len(_packs_in(s)) + 1}"


def _packs_in(s: Session) -> tuple[Attempt, ...]:
    """How each putting in of a pack of this session ended; they are numbered from 1."""
    out: list[Attempt] = []
    while True:
        work = s.work.get(TaskKey(DAMP_IN, pack=f"{s.id}.{len(out) + 1}"))
        if work is None or work.running:
            return tuple(out)
        out.append(work)


def next_pack_size(room: StudioState, s: Session, t: int) -> PackSize:
    """Sheets the next pack should hold, beyond those that are damp."""
    damped = s.shape.damped
    need, left = sheets_needed(s), _damp_left(room, s, t)
    known = need is not None and left is not None
    return size_pack(None if damped is None or damped.damp is None else damped.damp.pack,
                     max(0, (need or 0) - (left or 0)) if known else None)


def _damp_left(room: StudioState, s: Session, t: int) -> int | None:
    """Sheets damp or on their way, of this session's paper."""
    name = s.shape.paper_name
    return 0 if name is None else damp.sheets_left(room.packs, name, t)


def pack_in_due(room: StudioState, s: Session, t: int) -> PackWanted | None:
    """The pack that should be put in now, or None.

    The first goes in before anything else unless one of this paper is in the
    water or ready; the next in time to be ready when this one runs out.
    """
    name, damped = s.shape.paper_name, s.shape.damped
    if name is None or damped is None or damped.damp is None or s.enough:
        return None
    if any(w.how == "skipped" for w in _packs_in(s)):
        return None
    if before_over(s) and printing_over(s):
        return None
    key = TaskKey(DAMP_IN, pack=pack_id(s))
    packs = damp.of_paper(room.packs, name, t)
    wanted = PackWanted(key, next_pack_size(room, s, t))
    if not packs:
        need = sheets_needed(s)
        return wanted if need is None or need > 0 else None
    left, need = _damp_left(room, s, t), sheets_needed(s)
    if left is None or damp.in_water(room.packs, t):
        return None
    if need is not None and need <= left:
        return None
    if damped.damp.pack is None and need is None:
        return None  # nobody said how large a pack is: the printer says when
    return wanted if left * s.shape.cycle_ms <= _lead_ms(s) else None


def _lead_ms(s: Session) -> int:
    """How long before it is used a pack must go in: soak, rest, both handlings, one impression."""
    damped = s.shape.damped
    if damped is None or damped.damp is None:
        return 0
    soak, rest = damped.damp.soak, damped.damp.rest
    return ((0 if soak is None else soak.ms) + (0 if rest is None else rest.ms)
            + 2 * s.shape.handling.ms + s.shape.cycle_ms)


def packs_out_due(room: StudioState, s: Session, t: int) -> tuple[TaskKey, ...]:
    """The packs whose soak is over, oldest first, that this session looks after."""
    return tuple(TaskKey(DAMP_OUT, pack=p.id) for p in soaking_packs(room, s, t)
                 if p.soaked_t is not None and t >= p.soaked_t
                 and not s.done(TaskKey(DAMP_OUT, pack=p.id)))


def soaking_packs(room: StudioState, s: Session, t: int) -> tuple[damp.Pack, ...]:
    """Packs of this paper in the water that this session looks after, and no other open one."""
    others = {o.id for o in room.open_sessions if o.id != s.id}
    return tuple(p for p in damp.of_paper(room.packs, s.shape.paper_name or "", t)
                 if p.where(t) == "in the water" and p.by not in others)


def lacks_paper(room: StudioState, s: Session, key: TaskKey, t: int) -> damp.Pack | None:
    """The pack a step that takes a sheet would have to wait for; None: nothing to wait for."""
    imp = s.impression(key.impression)
    name = s.shape.paper_name
    if key.step != s.shape.sheet_step or name is None or (imp is not None and imp.sheets):
        return None
    packs = damp.of_paper(room.packs, name, t)
    if any(p.where(t) == "ready" or p.open for p in packs):
        return None
    resting = next((p for p in packs if p.where(t) == "resting"), None)
    return resting or next(iter(soaking_packs(room, s, t)), None)


def plate_waits(s: Session, key: TaskKey) -> bool:
    """Whether an inked plate or a pulled sheet waits for this step: paper comes after it."""
    if key.impression is None:
        return False
    return any(k.impression == key.impression and w.how != "skipped"
               and (k.step in s.shape.inking or k.step in s.shape.pulls)
               for k, w in s.work.items())


def next_hands(room: StudioState, s: Session, t: int) -> TaskKey | None:
    """The hands step that comes next, or None where only waits are left, or nothing.

    Where the next sheet still soaks or rests, inky hands are washed first and wait clean.
    """
    picked = chosen_still(s)
    if picked is not None and picked not in s.work and _follows_done(s, picked):
        return picked
    regular = next(hands_ready(s), None)
    outs = packs_out_due(room, s, t)
    into = pack_in_due(room, s, t)
    paper: list[TaskKey] = [*outs, *((into.key,) if into is not None else ())]
    held = regular is not None and lacks_paper(room, s, regular, t) is not None
    if regular is None or held:
        if paper:
            return paper[0]
        return TaskKey(WASH, regular.impression) if regular is not None and not room.clean else None
    if not paper:
        return regular
    return paper[0] if room.clean and not plate_waits(s, regular) else regular


def chosen_still(s: Session) -> TaskKey | None:
    """The step chosen, where it is still to be done: None also where its sheet is not any more.

    It may have been chosen for a later moment. Since then its try may have been given up, or
    enough said before its sheet was begun.
    """
    key = s.chosen
    if key is None or key.impression is None:
        return key
    imp = s.impression(key.impression)
    due = needs_next(s) if imp is None else imp.ended != SPOILED_TRY
    return key if due else None


def _follows_done(s: Session, key: TaskKey) -> bool:
    """Whether what a piece of work follows is done: it may have been chosen before it was."""
    before = s.shape.follows.get(key.step, ())
    section = next((x for x in (s.recipe.before, s.recipe.each, s.recipe.after)
                    if before and s.shape.by_id[key.step] in x), ())
    done = settled_steps(s, section, key.impression)
    return all(done[x] for x in before)


def what_holds(room: StudioState, s: Session, t: int) -> TaskKey | damp.Pack | None:
    """The wait that the next step needs: a running step, or a pack in the water or resting."""
    regular = next(hands_ready(s), None)
    if regular is not None:
        return lacks_paper(room, s, regular, t)
    running = [k for k in s.under_way if s.shape.by_id[k.step].hands == "free"]
    for steps, ordinal in _in_order(s):
        wait = _held_by(s, steps, ordinal, running)
        if wait is not None:
            return wait
    return min(running, key=lambda k: (k.impression or 0, k.step), default=None)


def _in_order(s: Session) -> Iterator[tuple[tuple[Step, ...], int | None]]:
    if not before_over(s):
        yield s.recipe.before, None
        return
    for imp in s.active:
        yield s.recipe.each, imp.ordinal
    yield s.recipe.after, None


def _held_by(s: Session, steps: tuple[Step, ...], ordinal: int | None,
             running: list[TaskKey]) -> TaskKey | None:
    """The first running wait that a hands step of these still to come follows, near or far."""
    behind: dict[str, TaskKey | None] = {}
    for step in steps:
        key = TaskKey(step.id, ordinal)
        wait = key if key in running else None
        if wait is None and not s.done(key):
            wait = next((w for p in s.shape.follows[step.id] if (w := behind[p]) is not None), None)
            if wait is not None and step.hands != "free":
                return wait
        behind[step.id] = wait
    return None
