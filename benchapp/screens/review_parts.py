"""The parts of a review that are told in lines of their own: drift, hands, changes. Pure.

Shapes and signs carry everything, colour only repeats it; each part fits 76 cells.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchapp.reports.reading_blocks import reading_blocks
from benchapp.reports.reading_drift import ReadingDrift
from benchapp.reports.review import Review
from benchapp.reports.review_changes import SettingChange
from benchapp.reports.review_words import length_words
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.block_rows import render_rows
from benchapp.screens.widgets.rows import Row, wrap_rows

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


# -- hands, sheet by sheet ----------------------------------------------------------------------


def sheet_time_rows(r: Review, across: int) -> list[Row]:
    """What each sheet took of the hands, beside what these steps usually take."""
    found = [x for x in r.by_impression if x.hands_seconds]
    if not found:
        return []
    cells = [f"{x.number}: {length_words(x.hands_seconds)}{'+' * bool(x.not_taken)}"
             for x in found]
    wide = max(map(len, cells)) + 2
    each = max(1, across // wide)
    out = [Row(((sanitize("".join(f"{c:<{wide}}" for c in cells[at : at + each]).rstrip()),
                 "text"),)) for at in range(0, len(cells), each)]
    usual = [x.usual_seconds for x in found if x.usual_seconds]
    if usual:
        low, high = length_words(min(usual)), length_words(max(usual))
        out += wrap_rows("A sheet usually takes, by the recipe: "
                         f"{low if low == high else f'{low} to {high}'}", across, "quiet")
    if any(x.not_taken for x in found):
        out += wrap_rows("+ and a step without a time", across, "quiet")
    return out


# -- what followed ------------------------------------------------------------------------------


def change_rows(changes: Sequence[SettingChange], across: int) -> Iterator[Row]:
    """Each change between two pulls with what was seen; the heading says it is no proof."""
    for x in changes:
        yield from wrap_rows(x.sentence, across, first=((SafeText("· "), "quiet"),))
