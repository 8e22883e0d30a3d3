"""A plate's life as a page that stands by itself: a sentence, its days, what grew, its readings."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from benchapp.reports.charts import chart_svg
from benchapp.reports.html import (
    html_list,
    html_page,
    html_section,
    html_table,
    html_text,
    keep_whole,
    limits_part,
    reading_values,
)
from benchapp.reports.plate_life import VERDICTS, LifeDay, PlateLife
from benchapp.reports.plate_life_text import grown_words, kept_words, life_sentence, tags_words
from benchapp.reports.reading_drift import drift_chart

_HEADS: Final = ("session", "numbers", "state", *VERDICTS, "not judged", "tags")
_FIGURES: Final = frozenset({3, 4, 5, 6})
_SHORT: Final = frozenset({0, 1, 2})


def life_page(lives: Sequence[PlateLife]) -> str:
    """The plates of a print, one after the other, as one page."""
    title = f"{lives[0].print}: its plates" if lives else "No plate"
    return html_page(title, [part for n, x in enumerate(lives) for part in _parts(x, first=n == 0)])


def _parts(x: PlateLife, *, first: bool) -> list[str]:
    name = f"<h1>{html_text(x.print)}</h1><p class=\"sub\">{html_text(x.artist)}</p>"
    head = f"<header>{name}</header>\n" if first else ""
    said = [life_sentence(x)]
    if x.days:
        said += [f"Of all: {kept_words(x.verdicts)}", *(d.sentence for d in x.drift)]
    return [
        head, html_section(f"Plate {x.plate}", "".join(f"<p>{html_text(s)}.</p>" for s in said)),
        _days(x.days), html_list("Tags that grew (counted, no proof)", grown_words(x)),
        *(html_section(d.name, keep_whole(
            f"{chart_svg(drift_chart(d))}<p class=\"sub\">{html_text(reading_values(d))}</p>")
                       + limits_part(d)) for d in x.drift)]


def _days(days: Sequence[LifeDay]) -> str:
    if not days:
        return ""
    rows = [[html_text(d.session), f"{d.from_} to {d.to}", html_text(d.state or ""),
             *(str(n) for _, n in d.verdicts.counts()),
             "; ".join(filter(None, (html_text(tags_words(d.tags, len(d.tags))),
                                     *(html_text(f"reworked: {r.what or 'how is not said'}")
                                       for r in d.reworked))))] for d in days]
    return html_section("Its days", html_table(_HEADS, rows, _FIGURES, _SHORT))
