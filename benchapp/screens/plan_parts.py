"""A planned day as lines for the Plan screen: the drawing, then what is told of it. Pure.

Shapes and signs carry everything; colour only repeats it.
"""

from __future__ import annotations

from itertools import groupby
from typing import Final

from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.rows import LABEL, day_rows
from benchapp.reports.blocks import list_section
from benchapp.reports.plan_text import plan_parts, plan_sentence
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.block_rows import render_rows
from benchapp.screens.widgets.rows import Role, Row, Span, wrap_rows

_ROLES: Final[dict[str, Role]] = {
    "█": "text", "▒": "quiet", "~": "wash", "×": "fault", "-": "quiet", "·": "quiet", "|": "wash"}
_DOUBTS: Final = "Limits and doubts"


def plan_rows(told: PlannedDay, across: int, before: str = "") -> list[Row]:
    """The whole screen under its first lines.

    Args:
        told: The day.
        across: Cells a line has.
        before: The first line of the plan before the last change, or empty.
    """
    out = [] if not before else wrap_rows(f"Before that: {before}", across, "quiet")
    parts = dict(plan_parts(told))
    for line in parts.pop(_DOUBTS, []):  # what must be known at once stands over the drawing
        out += wrap_rows(line, across, "wash", first=((SafeText("! "), "wash"),))
    out += _drawing(told, across)
    return out + render_rows((list_section(head, lines) for head, lines in parts.items()), across)


def _drawing(told: PlannedDay, across: int) -> list[Row]:
    shape = told.day.jobs[0].shape
    drawn = day_rows(told.plan, shape, told.clock, across, until=told.until)
    return [Row(tuple(_coloured(line, key=n > 0))) for n, line in enumerate(drawn)]


def _coloured(line: str, *, key: bool) -> list[Span]:
    """A row of the drawing in pieces of one colour; its name, and the line of times, are quiet."""
    name, drawn = (line[:LABEL], line[LABEL:]) if key else ("", line)
    if not name.strip():
        return [(SafeText(line), "quiet")]
    pieces = [("".join(run), role) for role, run in groupby(drawn, key=_role)]
    return [(SafeText(name), "text"), *((SafeText(text), role) for text, role in pieces)]


def _role(sign: str) -> Role:
    return "mark" if sign.isdigit() else _ROLES.get(sign, "text")


def first_line(told: PlannedDay) -> SafeText:
    """The plain sentence."""
    return sanitize(plan_sentence(told))
