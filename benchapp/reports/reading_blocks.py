"""One reading as blocks: its sentence, its chart with every value, and its limits. Pure."""

from __future__ import annotations

from benchapp.reports.blocks import Block, Charts, Figure, Numbers, Said, Sentence, Whole
from benchapp.reports.limits import BY_CHANCE, limit_charts
from benchapp.reports.reading_drift import ReadingDrift, drift_chart


def reading_blocks(x: ReadingDrift, *, sentence: bool = True,
                   aligned: bool = False, told: tuple[str, ...] = ()) -> tuple[Block, ...]:
    """The blocks of one reading.

    Args:
        x: Of a review or of a plate's life.
        sentence: Its sentence stands first.
        aligned: Its values stand in columns, where it is text.
        told: What a screen tells beside the values.
    """
    first = (Sentence(Said(x.sentence)),) if sentence else ()
    numbers = Numbers(tuple(f"{n}: {value:g}" for n, value in x.values), deep=True)
    own = Whole((*first, Figure(drift_chart(x), numbers, aligned, told)))
    if x.limits is None:
        return (own,)
    charts = tuple(limit_charts(x.name, x.unit, x.values, x.limits))
    return own, Whole((Sentence(Said(x.limits.sentence), wraps=True), Charts(charts, BY_CHANCE)))
