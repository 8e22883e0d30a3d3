"""Sheets beside each other, and sessions beside each other, in words. Pure.

Everything comes from sessions read back. A cell is empty where nothing was said of it, and a
line is the same where every column says the same.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Annotated, ClassVar, Final

from benchapp.quantities import minutes_text
from benchapp.reckon.figures import rounded_text
from benchapp.reckon.shares import sample_quantile
from benchapp.reckon.trend import parse_figure
from benchapp.reports.blocks import (
    Block,
    Photo,
    Said,
    Section,
    Sentence,
    Table,
    Title,
    list_section,
)
from benchapp.reports.html import STYLE, render_page
from benchapp.reports.plate_life import VERDICTS
from benchapp.reports.render_text import render_text
from benchapp.reports.review import Review, SheetReading, SheetReview, purpose_words
from benchapp.reports.review_day import PaperTimes, StepTimes
from benchapp.views.sheets import shown_unit

#: What stands in the cells of one column, by group and by what it is.
Column = Mapping[tuple[str, str], str]
_GRADE: Final = "grade"
#: Columns of one width, so that each stands under its head through all parts.
_STYLE: Final = STYLE + "table{table-layout:fixed}td img{max-width:100%;max-height:20rem}\n"


@dataclass(frozen=True, slots=True)
class ComparedLine:
    """One thing that is told of at least one column."""

    group: Annotated[str, "what it belongs to"]
    what: Annotated[str, "what is compared"]
    said: Annotated[tuple[str, ...], "a text a column; empty: nothing is recorded"]
    same: Annotated[bool, "whether every column says the same"]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two sheets and the standard, or two sessions, side by side."""

    FORMAT: ClassVar = "beside/1"

    columns: Annotated[tuple[str, ...], "the head of each column"]
    lines: Annotated[tuple[ComparedLine, ...], "line by line, grouped"]


def compare_sheets(columns: Sequence[tuple[str, SheetReview] | None]
                   ) -> tuple[ComparedLine, ...]:
    """Sheets, each with the name of its session, line by line.

    Args:
        columns: Impressions as a review has them; None: that column stays empty.
    """
    return _lines([None if x is None else _sheet(*x) for x in columns])


def compare_sessions(reviews: Sequence[Review | None]) -> tuple[ComparedLine, ...]:
    """Sessions read back, line by line, as `compare_sheets` gives them."""
    return _lines([None if r is None else _session(r) for r in reviews])


def _lines(columns: Sequence[Column | None]) -> tuple[ComparedLine, ...]:
    """One line for everything that any column says, grouped, in the order first said."""
    there = [c for c in columns if c is not None]
    keys = list(dict.fromkeys(key for c in there for key in c))
    groups = {group: n for n, group in enumerate(dict.fromkeys(g for g, _ in keys))}
    out = []
    for key in sorted(keys, key=lambda k: groups[k[0]]):
        cells = tuple("" if c is None else c.get(key, "") for c in columns)
        told = {c.get(key, "") for c in there}
        if told != {""}:
            out.append(ComparedLine(*key, cells, len(there) > 1 and len(told) == 1))
    return tuple(out)


# -- a sheet ------------------------------------------------------------------------------------


def _sheet(session: str, i: SheetReview) -> Column:
    when = "time not taken" if i.pulled_at is None else i.pulled_at[11:16]
    rule = " (by rule)" if i.for_by == "rule" else ""
    purpose = purpose_words(i)
    out = {
        "verdict": i.verdict or "not judged", "became": i.label or "",
        **_grades(i.readings), "tags": ", ".join(i.tags), **_figures(i.readings),
        "notes": "; ".join(i.notes), "look again": "yes" if i.look_again else "",
        "ended": i.ended or "", "for": purpose + rule, "session": session, "pulled": when}
    return {**{("the sheet", k): v for k, v in out.items()},
            **{("its paper", k): v for k, v in _paper(i.paper).items()},
            **{("in force", k): v for k, v in i.settings.items()}}


def _grades(readings: Iterable[SheetReading]) -> dict[str, str]:
    return {r.name: f"{r.value}" for r in readings if _is_grade(r)}


def _figures(readings: Iterable[SheetReading]) -> dict[str, str]:
    return {r.name: f"{r.value} {shown_unit(r.unit)}".strip()
            for r in readings if not _is_grade(r)}


def _is_grade(reading: SheetReading) -> bool:
    return str(reading.unit or "").startswith(_GRADE)


def _paper(papers: Sequence[PaperTimes]) -> dict[str, str]:
    """How long each of its papers had soaked, rested, and waited till the pull."""
    def times(each: Iterable[float | None]) -> str:
        return " + ".join(("" if p.exact else "≈ ") + _length(time)
                          for p, time in zip(papers, each, strict=True) if time is not None)

    return {"soaked": times(p.soaked_seconds for p in papers),
            "rested": times(p.rested_seconds for p in papers),
            "waited since": times(p.waited_seconds for p in papers)}


# -- a session ----------------------------------------------------------------------------------


def _session(r: Review) -> Column:
    pauses = r.hours.pauses
    many = {
        "opened": f"{r.opened_at[:10]} {r.opened_at[11:16]}", "recipe": r.recipe,
        "pulled": str(r.pulled), "counting": str(r.counting),
        "wanted": "" if r.wanted is None else str(r.wanted), **_verdicts(r.impressions),
        "pauses": str(len(pauses)) if pauses else "",
        "taken back": str(len(r.corrections)) if r.corrections else ""}
    about = "" if r.hours.exact else "≈ "
    h = r.hours
    hours = {words: about + _length(time) for words, time in (
        ("the day", h.day_seconds), ("at work", h.hands_seconds), ("waiting", h.waiting_seconds),
        ("idle", h.idle_seconds), ("paused or away", h.paused_seconds)) if time >= 1}
    parts: tuple[tuple[str, Mapping[str, str]], ...] = (
        ("how many", many), ("the hours", hours), ("steps, median", _steps(r.by_step)),
        ("tags, on how many", _tags(r.impressions)),
        ("readings, median", _readings(r.impressions)),
        ("settings at the end", {x.name: x.value for x in r.settings}))
    return {(group, what): text for group, cells in parts for what, text in cells.items()}


def _verdicts(impressions: Sequence[SheetReview]) -> dict[str, str]:
    counts = Counter(i.verdict for i in impressions)
    judged = sum(counts[v] for v in VERDICTS)
    out = {v: str(counts[v]) if judged else "" for v in VERDICTS}
    out["not judged"] = str(counts[None]) if counts[None] else ""
    out["spoilage"] = f"{counts['spoiled']} of {judged} judged" if judged else ""
    return out


def _steps(steps: Iterable[StepTimes]) -> dict[str, str]:
    return {x.step: "not taken" if x.middle_seconds is None else
            f"{_length(x.middle_seconds)} ({_times(x.times)})"
            for x in steps if x.times or x.not_taken}


def _times(n: int) -> str:
    return "once" if n == 1 else f"{n} times"


def _tags(impressions: Sequence[SheetReview]) -> dict[str, str]:
    counts = Counter(t for i in impressions for t in i.tags)
    return {t: str(n) for t, n in sorted(counts.items(), key=lambda pair: (-pair[1], pair[0]))}


def _readings(impressions: Sequence[SheetReview]) -> dict[str, str]:
    """The middle of each reading, with its least and most, and on how many sheets."""
    found: dict[str, list[float]] = {}
    units: dict[str, str | None] = {}
    for i in impressions:
        for r in i.readings:
            if (value := parse_figure(r.value)) is not None:
                found.setdefault(r.name, []).append(value)
                units[r.name] = r.unit
    return {name: _middle(values, shown_unit(units[name])) for name, values in found.items()}


def _middle(values: list[float], unit: str) -> str:
    low, high = rounded_text(min(values), 3), rounded_text(max(values), 3)
    span = "" if low == high else f", {low} to {high}"
    middle = f"{rounded_text(sample_quantile(sorted(values), 0.5), 3)} {unit}".strip()
    return f"{middle}{span} (on {len(values)})"


def _length(seconds: float) -> str:
    return minutes_text(round(seconds * 1000))


# -- as text ------------------------------------------------------------------------------------


def comparison_text(found: Comparison) -> list[str]:
    """Lines for a terminal or a reader's voice: what it is, then each column by its head."""
    return render_text(comparison_blocks(found))


def comparison_blocks(found: Comparison) -> Iterator[Block]:
    """What stands over the columns, then each group line by line."""
    yield Sentence("  |  ".join(h for h in found.columns if h))
    for group, lines in groupby(found.lines, key=lambda x: x.group):
        yield list_section(f"{group[:1].upper()}{group[1:]}",
                           (f"{x.what}: {_cells(x)}" for x in lines))


def comparison_page(found: Comparison, photos: Sequence[Sequence[Photo]] = ()) -> str:
    """Sheets or sessions side by side as a page; `photos`: the pictures of each column."""
    heads = ("", *(h or "—" for h in found.columns))
    shown = [tuple(x) for x in photos]
    parts = [Section("Pictures", (Table(heads, (("", *shown),)),) if any(shown) else ())]
    parts += [Section(f"{group[:1].upper()}{group[1:]}", (Table(heads, tuple(
        (x.what, *(Said(c or "—") for c in x.said)) for x in lines)),))
        for group, lines in groupby(found.lines, key=lambda x: x.group)]
    title = " and ".join(h for h in found.columns if h)
    return render_page(title, (Title(Said(title), "side by side"), *parts), _STYLE)


def _cells(x: ComparedLine) -> str:
    if x.same:
        return f"{next(c for c in x.said if c)} (the same)"
    return "  |  ".join(c or "—" for c in x.said)
