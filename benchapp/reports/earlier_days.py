"""A day set against the days before it on the same print: how long each step took then and now.

Pure, and from entries alone: the same days give the same figures in every book that has them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from benchapp.events.moments import iso_text
from benchapp.quantities import minutes_text
from benchapp.reckon.shares import sample_quantile
from benchapp.reports.review_day import exact_seconds
from benchapp.session.context import worked_ms
from benchapp.session.fold import replay_entries
from benchapp.session.names import step_of
from benchapp.session.state import Attempt, Session, StudioState

Values = dict[str, Any]
#: Fewer times than this are told, and nothing is made of them.
FEW: Final = 3
#: A middle time differs plainly by a tenth of it, and by five minutes over the day.
_SHARE: Final = 0.1
_DAY_S: Final = 300


def works_of(s: Session) -> list[Attempt]:
    """Every piece of work of a session, done or running, in the order begun."""
    running = [w for w in s.work.values() if w.running]
    return sorted([*s.history, *running], key=lambda w: w.started_t)


def set_against(steps: Sequence[Values], sheets: Sequence[Values],
                before: Iterable[tuple[StudioState, Session]]) -> Values:
    """The steps of a day beside those of the days before.

    Args:
        steps: Those of the day, from `review_day.by_step`.
        sheets: Those of the day, from `by_impression`.
        before: Days of the same print, the oldest first, each folded by itself.

    Returns:
        `sessions` that were looked at; `by_step`, one a step of the day, with how often it was
        timed before and the middle of those times, null where it was not, how much longer
        it took now, and whether that is `plainly` so; `a_sheet`, the same of the hands on whole
        sheets, those of which every step was timed; `sentence`, in plain words.
    """
    days = list(before)
    times: dict[str, list[float]] = {}
    for room, s in days:
        for name, taken in taken_times(room, s).items():
            times.setdefault(name, []).extend(taken)
    found = [_beside(x, sorted(times.get(x["step"], ()))) for x in steps]
    return {
        "sessions": [{"session": s.name, "opened_at": iso_text(s.opened)} for _, s in days],
        "by_step": found, "a_sheet": _a_sheet(sheets, days),
        "sentence": _sentence(len(days), found)}


def _a_sheet(sheets: Sequence[Values], days: Iterable[tuple[StudioState, Session]]) -> Values:
    """What a whole sheet took of the hands, in the middle, now and before."""
    now = _whole(sheets)
    then = sorted(x for room, s in days for x in _whole(by_impression(room, s)))
    return {"times": len(now), "middle_seconds": sample_quantile(now, 0.5) if now else None,
            "times_before": len(then),
            "before_seconds": sample_quantile(then, 0.5) if then else None}


def _whole(sheets: Iterable[Values]) -> list[float]:
    return sorted(x["hands_seconds"] for x in sheets
                  if x["hands_seconds"] and not x["not_taken"])


def fold_days(streams: Iterable[Iterable[Any]]) -> list[tuple[StudioState, Session]]:
    """Days, each from the entries of its own stream."""
    out = []
    for stream in streams:
        room = replay_entries(stream)
        out += [(room, s) for s in room.sessions.values()]
    return out


def taken_times(room: StudioState, s: Session) -> Mapping[str, Sequence[float]]:
    """The times taken of each hands step of a day, in milliseconds, by the step's words."""
    out: dict[str, list[float]] = {}
    for w in works_of(s):
        step = step_of(s, w.key)
        if step is None or step.hands == "free" or not w.taken or None in (w.started, w.finished):
            continue
        out.setdefault(step.do, []).append(float(worked_ms(s, w, room.t)))
    return out


def _beside(now: Values, before: list[float]) -> Values:
    middle = None if not before else exact_seconds(sample_quantile(before, 0.5))
    here = now["middle_seconds"]
    over = None if middle is None or here is None else exact_seconds((here - middle) * 1000)
    return {"step": now["step"], "id": now["id"], "times": len(before), "middle_seconds": middle,
            "over_seconds": over, "plainly": over is not None and len(before) >= FEW
            and abs(over) >= _SHARE * (middle or 0) and abs(over) * now["times"] >= _DAY_S}


def _sentence(days: int, steps: Sequence[Values]) -> str:
    if not days:
        return "No earlier session of this print to set it against"
    many = "the session before" if days == 1 else f"the {days} sessions before"
    told = [x for x in steps if x["over_seconds"] is not None and x["times"] >= FEW]
    if not told:
        return f"Beside {many}: too few times taken to tell"
    moved = sorted((x for x in told if x["plainly"]), key=lambda x: -abs(x["over_seconds"]))
    if not moved:
        return f"Beside {many}: every step took about as long"
    return f"Beside {many}, each time: " + ", ".join(
        f"{x['step']} {minutes_text(round(abs(x['over_seconds']) * 1000))} "
        f"{'longer' if x['over_seconds'] > 0 else 'shorter'}" for x in moved)


# -- by impression ------------------------------------------------------------------------------


def by_impression(room: StudioState, s: Session) -> list[Values]:
    """What each impression took of the hands, beside what its steps usually take.

    Returns:
        One a sheet pulled: the seconds of its steps that were timed, the recipe's usual time
        of these same steps (null where one of them has none), and how many were not timed.
    """
    out = []
    works = works_of(s)
    for i in sorted((i for i in s.impressions if i.pulled), key=lambda i: i.number or 0):
        timed, untimed, usual = 0.0, 0, 0
        known = True
        for w in works:
            step = step_of(s, w.key)
            if w.key.impression != i.ordinal or step is None or step.hands == "free" or w.running:
                continue
            if not w.taken or w.started is None:
                untimed += 1
                continue
            timed += worked_ms(s, w, room.t)
            known = known and step.time is not None
            usual += 0 if step.time is None else step.time.usual.ms
        out.append({"number": i.number, "mark": i.mark, "hands_seconds": exact_seconds(timed),
                    "not_taken": untimed,
                    "usual_seconds": exact_seconds(usual) if known and timed else None})
    return out
