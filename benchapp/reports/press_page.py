"""A planned day as one landscape page to hang over the press, with room for ticks. Pure.

It is read in black and white and from a step away: times first, no colour that means anything.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from benchapp.planning.chances import in_fives
from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.rows import day_rows
from benchapp.planning.sentences import pack_alarms
from benchapp.reports.blocks import (
    Beside,
    Block,
    Drawn,
    Items,
    Said,
    Section,
    Sentence,
    Table,
    Title,
)
from benchapp.reports.html import STYLE, render_page
from benchapp.reports.plan_text import plan_parts, plan_sentence
from benchapp.session.setting_names import recipe_settings

#: Cells of the day drawn, on the long side of a sheet of A4 or Letter.
_COLUMNS: Final = 140
#: More chances than these nobody reads on a wall.
_CHANCES: Final = 6
_TICK: Final = "[  ]"
#: Impressions in a row of the table; the next are in a row under it.
_ACROSS: Final = 14
_STYLE: Final = """\
body{max-width:none}
pre{font:10px/1.2 ui-monospace,Consolas,monospace;overflow-x:auto;break-inside:avoid}
.beside{display:flex;gap:1.5rem}.beside>div{flex:1}.beside>div:has(.beside){flex:2}
@page{size:landscape;margin:9mm;@bottom-right{content:none}}
@media print{body{font-size:8.5pt;line-height:1.15;color:#000;background:#fff}
:root{--quiet:#000;--line:#777}
pre{font-size:7pt;line-height:1.1;color:#000;margin:.2em 0}p.sub{margin:0}
h1{font-size:15pt;margin:0}h2{font-size:9.5pt;margin:.6em 0 .1em}p{margin:.2em 0}
ul{margin:.1em 0;padding-left:1em}th,td{padding:.06em .5em .06em 0}}
"""


def press_page(told: PlannedDay) -> str:
    """The day as a page that stands by itself."""
    return render_page(f"{told.title}, {told.on}", _blocks(told), STYLE + _STYLE)


def _blocks(told: PlannedDay) -> Iterator[Block]:
    until = "" if told.until is None else f" to {told.when(told.until)}"
    yield Title(Said(told.title), (Said(told.artist), f" · {told.on}, from {told.when(0)}{until}"))
    yield Sentence(plan_sentence(told).removesuffix("."))
    yield Beside(
        (_steps(told, "before.", "To set up"), _steps(told, "after.", "At the end")),
        (Beside((*_said(told, "The evening before"), _packs(told), _breaks(told)),
                (_settings(told), _chances(told), *_said(told, "Limits and doubts"))),))
    yield Section("The day by hands", (Drawn(tuple(day_rows(
        told.plan, told.day.jobs[0].shape, told.clock, _COLUMNS, until=told.until))),))
    yield _impressions(told)


def _said(told: PlannedDay, head: str) -> Iterator[Section]:
    """What the plan says in words under a head, if it says anything."""
    yield from (Section(name, (Items(tuple(lines), wraps=True),))
                for name, lines in plan_parts(told) if name == head)


def _steps(told: PlannedDay, prefix: str, name: str) -> Section:
    rows = tuple((told.when(x.start), Said(x.do), _TICK) for x in told.plan.items
                 if x.name[1].step.startswith(prefix))
    return _table(name, ("at", "what", "done"), rows)


def _settings(told: PlannedDay) -> Section:
    said = dict(recipe_settings(told.day.jobs[0].shape.recipe))
    if told.evening is not None:
        said |= told.evening.settings
    return _table("Settings", ("setting", "value", "done"), tuple(
        (Said(name), Said(value), _TICK) for name, value in said.items() if value))


def _breaks(told: PlannedDay) -> Section:
    return _table("Breaks", ("from", "to"), tuple(
        (told.when(x.start), told.when(x.end)) for x in told.plan.items
        if x.name[1].step == "break"))


def _packs(told: PlannedDay) -> Section:
    return _table("Paper in and out", ("at", "what", "done"), tuple(
        (told.when(at), Said(words), _TICK) for at, words in pack_alarms(told.plan, due=True)))


def _chances(told: PlannedDay) -> Section:
    """How likely each number is to be done in time, the surest first."""
    wanted = [(n, c) for n, c in sorted(told.chances.items()) if 0 < in_fives(c) < 100]
    return _table("How many, and how surely", ("counting", "chance"), tuple(
        (str(n - told.aside), f"about {in_fives(c)} %") for n, c in wanted[:_CHANCES]
        if n > told.aside))


def _impressions(told: PlannedDay) -> Section:
    """Each impression with when it is begun and done, in rows over the page to be ticked off."""
    done = sorted(told.plan.done_at.items(), key=lambda x: x[1])
    starts = {k: min((x.start for x in told.plan.items if x.who and (
        x.name[0], x.name[1].impression) == k), default=None) for k, _ in done}
    if not done:
        return Section("Impressions", ())
    tables = []
    for k in range(0, len(done), _ACROSS):
        row = done[k:k + _ACROSS]
        begun = ("begins", *("" if (s := starts[x]) is None else told.when(s) for x, _ in row))
        over = ("done", *(told.when(at) for _, at in row))
        tables.append(Table(("", *(str(k + n) for n in range(1, len(row) + 1))),
                            (begun, over, ("pulled", *(_TICK for _ in row)))))
    return Section("Impressions", tuple(tables), whole=True)


def _table(name: str, head: tuple[str, ...], rows: tuple[tuple[object, ...], ...]) -> Section:
    return Section(name, (Table(head, rows),) if rows else ())  # type: ignore[arg-type]
