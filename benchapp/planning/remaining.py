"""The room as it is, turned into what a plan is made from: what is over, what runs, what is left.

Room times are milliseconds; a plan's are seconds from now.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from benchapp.edition.packs import Pack
from benchapp.planning.day import Break, DampedPack, DayInputs, Job, TakenPlace, Times, usual_time
from benchapp.quantities import Percentage
from benchapp.recipe.model import Recipe
from benchapp.reckon.sheets import Record, reckon_sheets
from benchapp.session.compiled_recipe import DAMP_IN, CompiledRecipe
from benchapp.session.context import worked_ms
from benchapp.session.counting import (
    count_expected,
    count_impressions,
    needs_next,
    pulls_needed,
    warm_ups,
)
from benchapp.session.names import step_of
from benchapp.session.next_steps import is_finished
from benchapp.session.room_facts import asks_itself
from benchapp.session.state import Attempt, Session, StudioState, TaskKey

#: So sure is a plan to have sheets enough: as sure as it is to end in time.
_EVEN: Final = Percentage(Fraction(1, 2))


def day_of_recipe(recipe: Recipe, pulls: int, *, breaks: Sequence[Break] = (),
                  taken: Sequence[TakenPlace] = (), packs: Sequence[DampedPack] = (),
                  times: Times = usual_time) -> DayInputs:
    """A day to come with nothing done yet."""
    return DayInputs((Job("", CompiledRecipe(recipe), pulls),), tuple(breaks), tuple(taken),
                     tuple(packs), times=times)


def pulls_for(recipe: Recipe, wanted: int, record: Record | None = None) -> int:
    """The pulls that so many counting ones need: warm-ups more, and what is spoiled on the way.

    As many as give them on about one day of two; each spoiled sheet beyond asks for one more.

    Args:
        recipe: The print's.
        wanted: How many should count.
        record: Sheets spoiled before; None: spoilage is left out.
    """
    warm = warm_ups(recipe)
    if record is None or not wanted or recipe.proofing is not None:
        return wanted + warm
    found = reckon_sheets(wanted, sure=_EVEN, record=record, warm_ups=warm)
    return int(found.figures["sheets"])


def pulls_aside(s: Session) -> int:
    """Pulls of a session's day that do not count, those still to come among them.

    Warm-ups to come, and of what was pulled or is in hand all that will not count.
    """
    warm = 0
    if s.cancelled is None:
        warm = max(0, warm_ups(s.recipe) - sum(
            1 for i in s.impressions if i.pulled or i.ended is None))
    begun = {i.ordinal for i in s.active if not is_finished(s, i.ordinal)}
    there = sum(1 for i in s.impressions if i.pulled or i.ordinal in begun)
    return warm + max(0, there - count_impressions(s) - count_expected(s))


def day_of_room(room: StudioState, t: int, *, breaks: Sequence[Break] = (),
                taken: Sequence[TakenPlace] = (), times: Times = usual_time) -> DayInputs:
    """What is left of the day in a room at room time `t`.

    Args:
        room: The room; the session on the Bench comes first, the other open ones after it.
        t: Room time now, in milliseconds.
        breaks: Breaks, in seconds from now.
        taken: Places that others use, in seconds from now.
        times: Usual times.
    """
    open_ones = sorted(room.open_sessions, key=lambda s: s.id != room.bench)
    jobs = tuple(_job(s, t, times) for s in open_ones)
    packs = tuple(_damped(p, t) for p in _in_order(room, t))
    return DayInputs(jobs, tuple(breaks), tuple(taken), packs, room.helper is not None, room.inky,
                     times)


def _job(s: Session, t: int, times: Times) -> Job:
    over = {k: _seconds((w.finished_t or 0) - t) for k, w in s.work.items() if not w.running}
    running = {k: _running(s, k, w, t, times) for k, w in s.live if k.step != "wash"}
    begun = tuple(i.ordinal for i in s.active if not is_finished(s, i.ordinal))
    return Job(
        s.id, s.shape, _more(s), begun, len(s.impressions) + 1, over, running,
        frozenset(i.ordinal for i in s.impressions if i.sheets),
        tuple(x for x in s.inherited if asks_itself(s, x)),
        _packs_in(s), s.enough,
        sum(1 for i in s.impressions
            if i.pulled and i.counterproof is None and i.ordinal not in begun),
        pulls_needed(s) is not None, frozenset((*s.to_skip, *s.to_leave)))


def _seconds(ms: int) -> int:
    """Whole seconds, a half away from now."""
    return -((-ms + 500) // 1000) if ms < 0 else (ms + 500) // 1000


def _more(s: Session) -> int:
    """Impressions still to begin: what the wanted number needs, or one where none is wanted."""
    if not needs_next(s):
        return 0
    need = pulls_needed(s)
    if need is None:
        return 1
    waiting = sum(1 for i in s.impressions if i.ended is None and not i.pulled)
    return max(0, need - waiting)


def _running(s: Session, key: TaskKey, work: Attempt, t: int, times: Times) -> tuple[int, int]:
    """When it began, and how long it takes in all: not less than it has taken."""
    step = step_of(s, key)
    passed = max(0, t - work.started_t)
    if step is None:
        return -_seconds(passed), _seconds(passed)
    worked = passed if step.hands == "free" else worked_ms(s, work, t)
    left = max(0, times(s.shape, step) * 1000 + work.extended_ms - worked)
    return -_seconds(passed), _seconds(passed) + _seconds(left)


def _packs_in(s: Session) -> int:
    """Packs of this session that are in or were passed by."""
    count = 0
    while (work := s.work.get(TaskKey(DAMP_IN, pack=f"{s.id}.{count + 1}"))) and not work.running:
        count += 1
    return count


def _in_order(room: StudioState, t: int) -> list[Pack]:
    """The usable packs, those out first, oldest first."""
    mine = [p for p in room.packs.values() if p.usable(t)]
    return sorted(mine, key=lambda p: (p.out_t is None, p.out_t or p.put_in_t, p.id))


def _damped(pack: Pack, t: int) -> DampedPack:
    rest = (pack.rest_ms or 0) // 1000
    if pack.out_t is None:
        soaked = pack.soaked_t if pack.soaked_t is not None else t
        return DampedPack(pack.id, pack.paper, pack.left, max(0, _seconds(soaked - t)), rest)
    ready = pack.ready_t if pack.ready_t is not None else t
    old = None if pack.keeps_ms is None else _seconds(pack.out_t + pack.keeps_ms - t)
    return DampedPack(pack.id, pack.paper, pack.left, None, 0, max(0, _seconds(ready - t)), old)
