"""Where a day went: what ran at each place, the hands' time, steps against the recipe, paper.

All of it from the folded session alone, in seconds, as plain values. What nobody saw begin or
end is left out, never guessed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from benchapp.edition.packs import Pack
from benchapp.events.moments import iso_text
from benchapp.recipe.model import Step
from benchapp.reckon.shares import sample_quantile
from benchapp.session.context import worked_ms
from benchapp.session.names import step_of
from benchapp.session.state import Attempt, Impression, Session, StudioState

Values = dict[str, Any]
Stretch = tuple[int, int]
_MS = 1000


def exact_seconds(ms: float) -> int | float:
    """Seconds, whole where they are."""
    whole = round(ms)
    return whole // _MS if whole % _MS == 0 else whole / _MS


# -- hands --------------------------------------------------------------------------------------


def day_hours(room: StudioState, s: Session, works: Sequence[Attempt]) -> Values:
    """How long the day was, and of that: hands at work, paused, waiting, and neither.

    `waiting` is time in which the hands did nothing while a wait ran; `idle` while none did.
    `paused` has the time of steps the printer was away from, which `away` has alone.
    """
    ends = [w.finished_t for w in works if w.finished_t is not None]
    end = max(ends, default=s.opened_t) if s.closed is not None else room.t
    day = (s.opened_t, max(end, s.opened_t))
    hands = join_stretches(_at(s, works, day, free=False))
    waits = join_stretches(_at(s, works, day, free=True))
    off = join_stretches(_within(s.breaks, day))
    paused = total_length(off)
    away = join_stretches(_within(((w.started_t, w.finished_t) for w in works
                                   if w.question == "away" and w.finished_t is not None), day))
    at_work = total_length(cut_stretches(hands, off))
    rest = cut_stretches(cut_stretches([day], hands), off)
    idle = total_length(cut_stretches(rest, waits))
    return {
        "day_seconds": exact_seconds(day[1] - day[0]), "hands_seconds": exact_seconds(at_work),
        "paused_seconds": exact_seconds(paused), "away_seconds": exact_seconds(total_length(away)),
        "waiting_seconds": exact_seconds(total_length(rest) - idle),
        "idle_seconds": exact_seconds(idle), "exact": room.exact(*day),
        "pauses": [{"after_seconds": exact_seconds(a - s.opened_t), "seconds": exact_seconds(b - a),
                    "away": (a, b) in away} for a, b in off],
    }


def _at(s: Session, works: Iterable[Attempt], day: Stretch, *, free: bool) -> list[Stretch]:
    """When hands, or waits, were on."""
    found = []
    for w in works:
        step = step_of(s, w.key)
        if step is not None and (step.hands == "free") is free and w.started is not None:
            found.append((w.started_t, day[1] if w.finished_t is None else w.finished_t))
    return _within(found, day)


def _within(stretches: Iterable[Stretch], day: Stretch) -> list[Stretch]:
    cut = [(max(a, day[0]), min(b, day[1])) for a, b in stretches]
    return [(a, b) for a, b in cut if a < b]


def join_stretches(stretches: Iterable[Stretch]) -> list[Stretch]:
    """The same time without anything counted twice."""
    out: list[Stretch] = []
    for a, b in sorted(stretches):
        if out and a <= out[-1][1]:
            out[-1] = (out[-1][0], max(b, out[-1][1]))
        else:
            out.append((a, b))
    return out


def cut_stretches(stretches: Iterable[Stretch], gone: Sequence[Stretch]) -> list[Stretch]:
    """What is left of some stretches when others are cut out of them; both are joined."""
    left = list(stretches)
    for a, b in gone:
        left = [piece for x, y in left for piece in ((x, min(y, a)), (max(x, b), y))
                if piece[0] < piece[1]]
    return left


def total_length(stretches: Iterable[Stretch]) -> int:
    """Milliseconds of all of them."""
    return sum(b - a for a, b in stretches)


# -- steps --------------------------------------------------------------------------------------


def by_step(room: StudioState, s: Session, works: Sequence[Attempt]) -> list[Values]:
    """Each step of the hands: how long it took beside what the recipe says, in its order."""
    groups: dict[str, tuple[Step, list[Attempt]]] = {}
    for w in works:
        step = step_of(s, w.key)
        if step is not None and step.hands != "free":
            groups.setdefault(step.id, (step, []))[1].append(w)
    order = {id_: n for n, id_ in enumerate(s.shape.by_id)}
    return [_against(room, s, step, done) for _, (step, done) in sorted(
        groups.items(), key=lambda pair: order.get(pair[0], len(order)))]


def _against(room: StudioState, s: Session, step: Step, works: Sequence[Attempt]) -> Values:
    taken = sorted(float(worked_ms(s, w, room.t)) for w in works
                   if w.taken and w.started is not None and w.finished is not None)
    usual = None if step.time is None else {
        "low": exact_seconds(step.time.low.ms), "usual": exact_seconds(step.time.usual.ms),
        "high": exact_seconds(step.time.high.ms)}
    middle = None if not taken else sample_quantile(taken, 0.5)
    return {
        "step": step.do, "id": step.id, "times": len(taken),
        "not_taken": sum(not w.running for w in works) - len(taken),
        "total_seconds": exact_seconds(sum(taken)),
        "shortest_seconds": None if not taken else exact_seconds(taken[0]),
        "middle_seconds": None if middle is None else exact_seconds(middle),
        "longest_seconds": None if not taken else exact_seconds(taken[-1]),
        "recipe": usual,
        "over_usual_seconds": None if middle is None or step.time is None
        else exact_seconds(middle - step.time.usual.ms),
    }


# -- rows of the day ----------------------------------------------------------------------------


def day_timeline(s: Session, works: Sequence[Attempt], packs: Iterable[Pack]) -> list[Values]:
    """One row for the hands, one a place, one for waits without a place, one for the water."""
    rows: dict[str, list[Values]] = {"hands": []}
    names = {i.ordinal: i for i in s.impressions}
    for w in works:
        step = step_of(s, w.key)
        if step is None or w.started is None:
            continue
        imp = names.get(w.key.impression or 0)
        bar = {"from": iso_text(w.started), "to": None if w.finished is None
               else iso_text(w.finished),
               "what": step.short or step.do, "impression": None if imp is None else imp.number}
        on = [] if step.hands == "free" else ["away" if w.question == "away" else "hands"]
        on += [step.at] if step.at is not None else [] if on else ["waits"]
        for row in on:
            rows.setdefault(row, []).append(bar)
    water = [{"from": iso_text(p.put_in), "to": None if p.out is None else iso_text(p.out),
              "what": p.paper, "impression": None} for p in packs if p.soaked]
    if water:
        rows["in the water"] = water
    return [{"row": name, "bars": bars} for name, bars in rows.items()]


# -- paper --------------------------------------------------------------------------------------


def sheet_paper_times(room: StudioState, i: Impression) -> list[Values]:
    """Of each sheet of an impression: how long its pack had soaked, rested and waited."""
    at = i.pulls[0].t if i.pulls else None
    return [_sheet(room, name, at) for name in i.sheets]


def _sheet(room: StudioState, name: str | None, at: int | None) -> Values:
    p = None if name is None else room.packs.get(name)
    none: Values = {"pack": name, "method": None if p is None else p.method,
                    "soaked_seconds": None, "rested_seconds": None, "waited_seconds": None,
                    "exact": True}
    if p is None or p.out_t is None:
        return none
    soaked = {**none, "soaked_seconds": exact_seconds(p.out_t - p.put_in_t) if p.soaked else None}
    if at is None or at < p.out_t:
        return soaked
    ready = min(p.out_t if p.ready_t is None else p.ready_t, at)
    return {**soaked, "rested_seconds": exact_seconds(ready - p.out_t),
            "waited_seconds": exact_seconds(at - ready), "exact": room.exact(p.put_in_t, at)}
