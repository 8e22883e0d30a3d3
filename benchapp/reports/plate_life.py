"""One plate's whole life: its days in order, and how its readings went over all its sheets.

Impressions are counted over the days, from those it gave before the book where that is known.
Pure: folded sessions of one print in, plain values out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any, Final

from benchapp.events.moments import iso_text
from benchapp.history.drift import GRADE_LIMIT, are_sheets_alike, drift_readings
from benchapp.reckon.shares import wilson_interval
from benchapp.reckon.trend import Point, reading_trend
from benchapp.reports.charts import Chart, ChartLevel
from benchapp.reports.limits import chart_limits
from benchapp.session.state import NOT_COUNTED, Impression, Session

Values = dict[str, Any]
_GRADES: Final = "grade 1-5"
VERDICTS: Final = ("keep", "doubtful", "spoiled")


def plate_life(sessions: Sequence[Session], plate: str, before: int = 0) -> Values:
    """A plate's life.

    Args:
        sessions: Of one print, folded, in the order opened.
        plate: Its name.
        before: Impressions it gave before the book.

    Returns:
        `days` (each with its first and last number, verdicts and tags), `impressions` in all,
        how many the recipe has `expected`, `verdicts` with the share kept and its interval,
        `grown` tags (on more of the later half than of the earlier), and `drift`, one answer a
        reading over the whole life.
    """
    own = [(s, sheets) for s in sessions if (sheets := _of(s, plate))]
    days, at = [], before
    for s, sheets in own:
        days.append(_day(s, sheets, at, plate))
        at += len(sheets)
    verdicts = Counter(i.verdict for _, sheets in own for i in sheets)
    meant = own[-1][0].recipe.plate(plate) if own else None
    return {
        "plate": plate, "before": before, "impressions": at, "days": days,
        "expected": None if meant is None else meant.life,
        "verdicts": _verdicts(verdicts), "grown": _grown([i for _, x in own for i in x]),
        "drift": _drifts(own, plate, before),
    }


def _of(s: Session, plate: str) -> list[Impression]:
    """The sheets a plate was on, in pulling order."""
    return sorted((i for i in s.impressions
                   if i.number is not None and any(plate in p.plates for p in i.pulls)),
                  key=lambda i: i.number or 0)


def _day(s: Session, sheets: Sequence[Impression], at: int, plate: str) -> Values:
    tags = Counter(t for i in sheets for t in i.tags)
    return {
        "session": s.name, "opened_at": iso_text(s.opened), "from": at + 1, "to": at + len(sheets),
        "pulled": len(sheets), "verdicts": _verdicts(Counter(i.verdict for i in sheets)),
        "tags": dict(sorted(tags.items(), key=lambda pair: (-pair[1], pair[0]))),
        "state": s.states.get(plate),
        "reworked": [{"what": what, "state": state, "at": iso_text(moment)}
                     for name, state, what, moment in s.reworks if name == plate]}


def _verdicts(counts: Counter[Any]) -> Values:
    """How many of each; the share kept is of those judged, and null where none was."""
    judged = sum(counts[v] for v in VERDICTS)
    low, high = wilson_interval(counts["keep"], judged) if judged else (None, None)
    return {**{v: counts[v] for v in VERDICTS}, "not judged": counts[None],
            "kept_share": counts["keep"] / judged if judged else None,
            "kept_low": low, "kept_high": high}


def _grown(sheets: Sequence[Impression]) -> list[Values]:
    """Tags on at least two sheets more of the later half than of the earlier, most grown first."""
    half = len(sheets) // 2
    early, late = (Counter(t for i in part for t in i.tags)
                   for part in (sheets[:half], sheets[len(sheets) - half :]))
    grown = [(late[t] - early[t], t) for t in late if late[t] - early[t] >= 2]
    return [{"tag": t, "earlier": early[t], "later": late[t]}
            for _, t in sorted(grown, key=lambda pair: (-pair[0], pair[1]))]


def _named(own: Sequence[tuple[Session, Sequence[Impression]]]) -> dict[str, str | None]:
    """Every reading of editions alike, with its unit as last written."""
    return {r.name: r.unit for s, sheets in own if are_sheets_alike(s) for i in sheets
            for r in i.readings
            if i.purpose not in NOT_COUNTED}


def life_points(own: Sequence[tuple[Session, Sequence[Impression]]], name: str,
                before: int = 0) -> list[Point]:
    """A reading's figures, each at the number its sheet has in the plate's life."""
    found, at = [], before
    for s, sheets in own:
        place = {i.number: at + n for n, i in enumerate(sheets, 1)}
        if are_sheets_alike(s):
            found += [Point(place[p.n], p.value) for p in drift_readings(s, name) if p.n in place]
        at += len(sheets)
    return found


def _drifts(own: Sequence[tuple[Session, Sequence[Impression]]], plate: str,
            before: int) -> list[Values]:
    named = _named(own)
    return [_drift(name, unit, own, plate, before, len(named)) for name, unit in named.items()]


def _drift(name: str, unit: str | None, own: Sequence[tuple[Session, Sequence[Impression]]],
           plate: str, before: int, readings: int) -> Values:
    found = life_points(own, name, before)
    meant = own[-1][0].recipe.plate(plate)
    answer = reading_trend(name, found, unit=unit or "", where="the plate's life",
                           readings=readings,
                           life=None if meant is None else meant.life,
                           tolerance=GRADE_LIMIT if unit == _GRADES else None)
    values = [[p.n, p.value] for p in found]
    return {**answer.json(), "values": values,
            "limits": chart_limits(name, unit, values, _changed(own, before))}


def _changed(own: Sequence[tuple[Session, Sequence[Impression]]], before: int) -> list[int]:
    """The numbers after which a setting became another, or the plate was reworked.

    A setting that one day does not say is taken as unchanged.
    """
    out, at = [], before
    known: dict[str, str] = {}
    for s, sheets in own:
        reworked = [moment.wall_ms for _, _, _, moment in s.reworks]
        for n, i in enumerate(sheets, at + 1):
            now = {x.name: x.value for x in s.settings if x.since <= (i.number or 0)}
            pulled = [p.at.wall_ms for p in i.pulls if p.at is not None]
            done = [ms for ms in reworked if pulled and ms <= pulled[0]]
            if done or any(known.get(k, v) != v for k, v in now.items()):
                out.append(n - 1)
            reworked = [ms for ms in reworked if ms not in done]
            known |= now
        at += len(sheets)
    return out


def drift_chart(drift: Values) -> Chart:
    """The chart of one reading of a life or a review, ready to be drawn."""
    grade = drift["unit"] == _GRADES
    return Chart(drift["name"], tuple((float(x), float(y)) for x, y in drift["values"]),
                 y_name=drift["unit"] or "",
                 limits=(ChartLevel("no longer good", GRADE_LIMIT),) if grade else (),
                 low=1 if grade else None, high=5 if grade else None)
