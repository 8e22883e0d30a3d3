"""The parts of a review that are told in figures: drift, the day by place, time, changes. Pure.

Shapes and signs carry everything, colour only repeats it; each part fits 76 cells.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from typing import Final

from benchapp.quantities import figure_text, minutes_text
from benchapp.reports.earlier_days import EarlierStep
from benchapp.reports.reading_blocks import reading_blocks
from benchapp.reports.reading_drift import ReadingDrift
from benchapp.reports.review import Review
from benchapp.reports.review_changes import SettingChange
from benchapp.reports.review_day import DayBar, DayChart, DayRow, StepTimes
from benchapp.reports.review_words import a_sheet_words, hours_words, pauses_words
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.block_rows import render_rows
from benchapp.screens.widgets.rows import Role, Row, Span, fit_cells, wrap_rows

_NAME: Final = 13
#: Cells between two times on the axis, at least: the time itself and a gap.
_TICK: Final = 8
_LEGEND: Final = "━ for no single impression   3── for impression 3, from its number"
_SIGNS: Final = ("▲", "▽")
_SIGNS_MEAN: Final = "▲ above the recipe's high   ▽ below its low"
_STEPS_MIN: Final = (5, 10, 15, 30, 60, 120, 240, 480, 1440)


def signed_length(seconds: float | None) -> str:
    """A length, with its sign where time was set back."""
    if seconds is None:
        return "not taken"
    return ("-" if seconds < 0 else "") + minutes_text(int(abs(seconds) * 1000))


# -- against the standard -----------------------------------------------------------------------


def drift_rows(found: Sequence[ReadingDrift], across: int) -> list[Row]:
    """One sentence a reading, those that found something first and marked."""
    ordered = sorted(found, key=lambda x: not x.moves)
    return [row for x in ordered for row in wrap_rows(
        x.sentence, across, "wash" if x.moves else "quiet",
        first=((SafeText("! " if x.moves else "  "), "wash"),))]


def standard_rows(x: ReadingDrift, across: int, *, plain: bool = False) -> list[Row]:
    """One reading: every value by the number of its sheet, what else is told, and the chart.

    Args:
        x: From `drift` of a review or of a life.
        across: Cells a line has.
        plain: Draw in ASCII.
    """
    life = x.expected_life
    told = (*x.answer.notes, *(() if life is None else (
        f"The recipe expects {life} impressions of the plate",)))
    return [*wrap_rows(x.name, across, "strong"), *render_rows(
        reading_blocks(x, sentence=False, told=told), across, plain=plain)]


# -- the day by place ---------------------------------------------------------------------------


def timeline_rows(day: DayChart, across: int) -> list[Row]:
    """One line for the hands, one a place: when something was on it, and for which impression.

    ━ stands for work of no impression; an impression's number stands where it begins and ─
    goes on from it. What was in the water before the day began comes in at the left edge.
    """
    begin = datetime.fromisoformat(day.opened_at)
    end = begin + timedelta(seconds=max(60.0, day.seconds))
    cells = max(16, across - _NAME - 1)
    rows = [row for row in day.rows if row.bars]
    if not rows:
        return []
    axis: list[Span] = [(SafeText(" " * _NAME), "quiet"), (_axis(begin, end, cells), "quiet")]
    return [Row(tuple(axis)), *(_place(row, begin, end, cells) for row in rows),
            *wrap_rows(_LEGEND, across, "quiet")]


def _place(row: DayRow, begin: datetime, end: datetime, cells: int) -> Row:
    line = [" "] * cells
    heads: list[tuple[int, str]] = []
    last: int | None = None
    for bar in sorted(row.bars, key=lambda b: str(b.from_)):
        first, after = _cells(bar, begin, end, cells)
        line[first:after] = ("━" if bar.impression is None else "─") * (after - first)
        if bar.impression is not None and bar.impression != last:
            heads.append((first, str(bar.impression)))
        last = bar.impression
    free = 0
    for at, number in sorted(heads):
        if at >= free and at + len(number) <= cells:
            line[at : at + len(number)] = number
            free = at + len(number) + 1
    name = fit_cells(sanitize(row.row), _NAME - 1)
    return Row(((name, "quiet"), (SafeText(" "), "quiet"),
                (SafeText("".join(line).rstrip()), "text")))


def _cells(bar: DayBar, begin: datetime, end: datetime, cells: int) -> tuple[int, int]:
    """The first cell of a bar and the one after its last; one cell at least."""
    start = datetime.fromisoformat(bar.from_)
    stop = end if bar.to is None else datetime.fromisoformat(bar.to)
    whole = (end - begin).total_seconds()
    first, after = (min(cells, max(0, round((at - begin).total_seconds() / whole * cells)))
                    for at in (start, max(start, stop)))
    first = min(first, cells - 1)
    return first, max(first + 1, after)


def _axis(begin: datetime, end: datetime, cells: int) -> SafeText:
    """Whole times of day over the line, as many as have room."""
    minutes = (end - begin).total_seconds() / 60
    step = next((s for s in _STEPS_MIN if s * cells / minutes >= _TICK), _STEPS_MIN[-1])
    line = [" "] * cells
    midnight = begin.replace(hour=0, minute=0, second=0, microsecond=0)
    at = midnight + timedelta(minutes=step)
    while at <= end:
        cell = round((at - begin).total_seconds() / 60 / minutes * cells)
        text = f"╷{at:%H:%M}"
        if at >= begin and cell + len(text) <= cells:
            line[cell : cell + len(text)] = text
        at += timedelta(minutes=step)
    return SafeText("".join(line).rstrip())


# -- where the time went ------------------------------------------------------------------------


def time_rows(r: Review, across: int) -> list[Row]:
    """The day, then each step of the hands: how often, its middle time beside the recipe's."""
    steps = [x for x in r.by_step if x.times or x.not_taken]
    words = hours_words(r.hours)
    out = wrap_rows(words, across) if words else []
    for pause in pauses_words(r.hours):
        out += wrap_rows(pause, across, "quiet")
    if not steps:
        return out
    name = max(14, across - 50)
    heads = ("step", name), ("times", 8), ("middle", 11), ("recipe", 10), ("", 11), ("in all", 9)
    out.append(Row(tuple((fit_cells(SafeText(text), cells), "quiet") for text, cells in heads)))
    rows = [_step(x, name) for x in steps]
    signs = any(text[:1] in _SIGNS for row in rows for text, _ in row.spans if text)
    return [*out, *rows, *(wrap_rows(_SIGNS_MEAN, across, "quiet") if signs else ())]


def _said(seconds: float) -> str:
    """A time of the recipe, or beside it: a minute and a half stays one."""
    return figure_text(round(seconds * 1000))


def _over(seconds: float | None) -> str:
    """How much longer or shorter, with its sign; nothing below a second."""
    if seconds is None or abs(seconds) < 1:
        return ""
    return ("+" if seconds > 0 else "-") + _said(abs(seconds))


def _step(x: StepTimes, name: int) -> Row:
    recipe, over, middle = x.recipe, x.over_usual_seconds, x.middle_seconds
    meant = "" if recipe is None else _said(recipe.usual)
    slow = recipe is not None and middle is not None and middle > recipe.high
    quick = recipe is not None and middle is not None and middle < recipe.low
    role: Role = "wash" if slow or quick else "quiet"
    sign = "▲ " if slow else "▽ " if quick else ""
    times = f"{x.times}" + (f" of {x.times + x.not_taken}" if x.not_taken else "")
    return Row((
        (fit_cells(sanitize(x.step), name - 1), "text"), (SafeText(" "), "text"),
        (fit_cells(sanitize(times), 8), "text"),
        (fit_cells(sanitize(signed_length(middle)), 11),
         "quiet" if middle is None else "text"),
        (fit_cells(sanitize(meant), 10), "quiet"),
        (fit_cells(sanitize(sign + _over(over)), 11), role),
        (sanitize(signed_length(x.total_seconds) if x.times else ""), "text")))


def sheet_time_rows(r: Review, across: int) -> list[Row]:
    """What each sheet took of the hands, beside what these steps usually take."""
    found = [x for x in r.by_impression if x.hands_seconds]
    if not found:
        return []
    cells = [f"{x.number}: {signed_length(x.hands_seconds)}{'+' * bool(x.not_taken)}"
             for x in found]
    wide = max(map(len, cells)) + 2
    each = max(1, across // wide)
    out = [Row(((sanitize("".join(f"{c:<{wide}}" for c in cells[at : at + each]).rstrip()),
                 "text"),)) for at in range(0, len(cells), each)]
    usual = [x.usual_seconds for x in found if x.usual_seconds]
    if usual:
        low, high = signed_length(min(usual)), signed_length(max(usual))
        out += wrap_rows("A sheet usually takes, by the recipe: "
                         f"{low if low == high else f'{low} to {high}'}", across, "quiet")
    if any(x.not_taken for x in found):
        out += wrap_rows("+ and a step without a time", across, "quiet")
    return out


# -- the days before ----------------------------------------------------------------------------


def earlier_rows(r: Review, across: int) -> list[Row]:
    """Where the time went beside the days before on this print: first the sentence, then steps."""
    found = r.earlier
    steps = [x for x in found.by_step if x.times]
    out = wrap_rows(found.sentence, across)
    if words := a_sheet_words(r):
        out += wrap_rows(words, across)
    if not steps:
        return out
    now = {x.id: x for x in r.by_step}
    name = max(14, across - 50)
    heads = ("step", name), ("now", 11), ("before", 11), ("timed", 11), ("", 13)
    out.append(Row(tuple((fit_cells(SafeText(text), cells), "quiet") for text, cells in heads)))
    out += [_before(x, now[x.id], name) for x in steps]
    days = ", ".join(x.session for x in found.sessions)
    return [*out, *wrap_rows(f"before: {days}", across, "quiet")]


def _before(x: EarlierStep, now: StepTimes, name: int) -> Row:
    over, middle = x.over_seconds, now.middle_seconds
    sign = "" if over is None or not x.plainly else "▲ " if over > 0 else "▽ "
    times = "once" if x.times == 1 else f"{x.times} times"
    return Row((
        (fit_cells(sanitize(x.step), name - 1), "text"), (SafeText(" "), "text"),
        (fit_cells(sanitize(signed_length(middle)), 11), "text"),
        (fit_cells(sanitize(signed_length(x.middle_seconds)), 11), "text"),
        (fit_cells(sanitize(times), 11), "quiet"),
        (sanitize(sign + _over(over)), "wash" if x.plainly else "quiet")))


# -- what followed ------------------------------------------------------------------------------


def change_rows(changes: Sequence[SettingChange], across: int) -> Iterator[Row]:
    """Each change between two pulls with what was seen; the heading says it is no proof."""
    for x in changes:
        yield from wrap_rows(x.sentence, across, first=((SafeText("· "), "quiet"),))
