"""A session as a page that stands by itself: no script, nothing loaded, every text escaped.

The policy in its head lets nothing run and nothing be fetched, and only this page's own style
apply (by its digest). Names and notes stand in `<bdi>`, so that one written from right to left
turns nothing round that stands beside it. The printer's texts go through `sanitize` first, as on
a screen.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Sequence
from html import escape
from typing import Final

from benchapp.quantities import figure_text, minutes_text
from benchapp.reports.charts import chart_svg
from benchapp.reports.html_day import day_drawing
from benchapp.reports.limits import BY_CHANCE, limit_charts
from benchapp.reports.reading_drift import ReadingDrift, drift_chart
from benchapp.reports.review import Review, SheetReview
from benchapp.reports.review_day import RecipeTime
from benchapp.reports.review_text import (
    a_sheet_words,
    hours_words,
    jump_words,
    pauses_words,
    reading_words,
    sheet_times,
)
from benchapp.safe_text import sanitize

STYLE: Final = """\
:root{color-scheme:light dark;--paper:#fbfaf7;--ink:#22201d;--quiet:#6a655e;--line:#cfc9bf}
@media(prefers-color-scheme:dark){:root{--paper:#1b1a18;--ink:#ece7de;--quiet:#a79f93;--line:#454039}}
body{background:var(--paper);color:var(--ink);font:16px/1.45 Georgia,serif;max-width:60rem;
margin:2rem auto;padding:0 1rem}
h1{font-size:1.6rem;margin:0}h2{font-size:1.15rem;margin:2rem 0 .5rem}
p.sub{color:var(--quiet);margin:.2rem 0 0}
table{border-collapse:collapse;width:100%;font-size:.92rem}
th,td{text-align:left;vertical-align:top;padding:.3rem .6rem .3rem 0}
tr{border-bottom:1px solid var(--line)}
th{font-weight:normal;color:var(--quiet)}
.n{text-align:right;font-variant-numeric:tabular-nums}td.n,td.s{white-space:nowrap}
ul{padding-left:1.2rem}
svg.chart{width:100%;height:auto;max-width:44rem}
.chart .axis{fill:none;stroke:currentColor}.chart .tick{stroke:var(--line)}
.chart .limit{stroke:currentColor;stroke-dasharray:5 4}
.chart .point,.chart .bar{fill:currentColor}
.chart .mark{fill:none;stroke:currentColor;stroke-width:2}
.chart .name{font:11px sans-serif;fill:currentColor}
h2{break-after:avoid}tr,li,svg,.whole{break-inside:avoid}
@page{margin:16mm}
@media print{:root{color-scheme:light;--paper:#fff;--ink:#000;--quiet:#444;--line:#bbb}
body{margin:0;padding:0;max-width:none;font-size:10.5pt}svg.chart{max-width:15cm}}
"""


def page_policy(style: str = STYLE) -> str:
    """What the page may do: apply its own style, by digest, and nothing else."""
    digest = base64.b64encode(hashlib.sha256(style.encode("utf-8")).digest()).decode("ascii")
    return (f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; "
            "form-action 'none'")


def html_text(value: object) -> str:
    """Any text of the printer's, made visible, escaped, and kept from turning its neighbours."""
    return f"<bdi>{escape(sanitize(str(value)))}</bdi>"


def html_page(title: str, sections: Iterable[str], style: str = STYLE) -> str:
    """A whole page; `style`: all of its own."""
    return "".join([
        "<!DOCTYPE html>\n", '<html lang="en-GB"><head><meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{escape(page_policy(style))}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta name="referrer" content="no-referrer">',
        f"<title>{escape(sanitize(title))}</title><style>{style}</style></head><body>\n",
        *sections, "</body></html>\n"])


def review_page(reviews: Sequence[Review]) -> str:
    """One or more sessions read back, as one page."""
    first = reviews[0] if reviews else None
    title = "No session" if first is None else f"{first.print}, {first.session}"
    if len(reviews) > 1:
        title = f"{len(reviews)} sessions"
    return html_page(title, (part for r in reviews for part in session_parts(r)))


def session_parts(r: Review) -> list[str]:
    """A session's part of a page."""
    wanted = "" if r.wanted is None else f" · wanted {r.wanted}"
    return [
        f"<header><h1>{html_text(r.print)}</h1><p class=\"sub\">{html_text(r.artist)} · "
        f"{html_text(r.session)} · {r.state} · pulled {r.pulled} · counting "
        f"{r.counting}{wanted}</p></header>\n",
        _first(r), _day(r), *_drift(r),
        html_list("Changed between pulls, and seen", [x.sentence for x in r.changes]),
        html_list("Plates reworked", [" · ".join(filter(None, (
            x.plate, x.state and f"state {x.state}", x.what))) for x in r.reworked]),
        _sheets(r), html_list("Notes of the session", r.notes), _settings(r), _time(r),
        html_list("End of the day", [f"{m.step}: {m.fact or 'not said'}"
                                   for m in r.musts if m.asked]),
        html_list("Taken back", [f"{c.what} {c.at[11:16]}" for c in r.corrections]),
        html_list("What time did", [jump_words(j) for j in r.jumps]),
    ]


def _first(r: Review) -> str:
    """In plain words what was found, before anything is drawn."""
    said = [x.sentence for x in r.drift]
    said += [r.earlier.sentence] if r.earlier.sessions else []
    return "".join(f"<p>{html_text(x)}.</p>" for x in said)


def html_section(name: str, inside: str) -> str:
    """A part of a page under its name; what is inside is HTML already."""
    return f"<section><h2>{escape(name)}</h2>{inside}</section>\n"


def html_list(name: str, items: Sequence[object]) -> str:
    """A part that is a list of texts; nothing where there are none."""
    if not items:
        return ""
    return html_section(name, f"<ul>{''.join(f'<li>{html_text(x)}</li>' for x in items)}</ul>")


def html_table(head: Sequence[str], rows: Iterable[Sequence[str]], figures: frozenset[int],
               short: frozenset[int] = frozenset()) -> str:
    """Cells are HTML already; the columns named hold figures, or short words never broken."""
    kinds = ["n" if n in figures else "s" if n in short else "" for n in range(len(head))]
    marks = [f' class="{kind}"' if kind else "" for kind in kinds]
    top = "".join(f'<th scope="col"{mark}>{escape(x)}</th>'
                  for x, mark in zip(head, marks, strict=True))
    body = "".join("<tr>" + "".join(
        f"<td{mark}>{c}</td>" for c, mark in zip(row, marks, strict=True)) + "</tr>"
        for row in rows)
    return f"<table><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"


def _sheets(r: Review) -> str:
    if not r.impressions:
        return ""
    rows = [[html_text(i.mark),
             html_text(i.label or " ".join(filter(None, (i.for_, i.state)))),
             html_text(i.verdict or "not judged"),
             html_text("not taken" if i.pulled_at is None else i.pulled_at[11:16]),
             _said(i), _paper(i)] for i in r.impressions]
    return html_section("Impressions", html_table(
        ["mark", "for", "verdict", "pulled", "tags, readings, notes",
         "paper soaked, rested, waited"], rows, frozenset(), frozenset({0, 1, 2, 3, 5})))


def _said(i: SheetReview) -> str:
    readings = map(reading_words, i.readings)
    return "; ".join(html_text(x) for x in [*i.tags, *readings, *(f"“{n}”" for n in i.notes)])


def _paper(i: SheetReview) -> str:
    """Of each of its papers the three times, a stroke where one is not known."""
    times = ((p.soaked_seconds, p.rested_seconds, p.waited_seconds) for p in i.paper)
    return "<br>".join(html_text(", ".join("–" if t is None else _length(t) for t in three))
                       for three in times if three != (None, None, None))


def _length(seconds: float | None) -> str:
    return "not taken" if seconds is None else minutes_text(round(seconds * 1000))


def _settings(r: Review) -> str:
    rows = [[html_text(f"{x.name}{', of the day' if x.of_day else ''}"),
             html_text(x.value),
             str(x.since)] for x in r.settings]
    return html_section("Settings",
                        html_table(["setting", "value", "from no."], rows, frozenset({2}))
                    ) if rows else ""


def _time(r: Review) -> str:
    rows = []
    before = {x.id: x for x in r.earlier.by_step}
    for x in r.by_step:
        recipe, then = x.recipe, before[x.id]
        rows.append([
            html_text(x.step), str(x.times),
            _length(x.middle_seconds),
            _length(x.total_seconds),
            "" if recipe is None else _three(recipe),
            "" if then.middle_seconds is None
            else f"{_length(then.middle_seconds)} ({then.times})"])
    if not rows:
        return ""
    days = ", ".join(x.session for x in r.earlier.sessions)
    told = "".join(f"<p>{html_text(x)}.</p>" for x in (
        r.earlier.sentence, a_sheet_words(r)) if x and days)
    under = (f'<p class="sub">Before: {html_text(days)}, how often timed in brackets.</p>'
             if days else "")
    head = ["step", "times", "in the middle", "in all", "recipe", "before"]
    return html_section("Where the time went",
                    told + html_table(head, rows,
                                      frozenset({1, 2, 3, 4, 5})) + under + _by_sheet(r))


def _three(recipe: RecipeTime) -> str:
    """Low, usual and high with the minutes said once, or one figure where they are the same."""
    times = [figure_text(round(t * 1000)) for t in (recipe.low, recipe.usual, recipe.high)]
    if len(set(times)) == 1:
        return times[0]
    plain = all(t.count(" ") == 1 and t.endswith(" min") for t in times)
    return "/".join(t.removesuffix(" min") for t in times) + " min" if plain else "/".join(times)


def _by_sheet(r: Review) -> str:
    row = sheet_times(r).replace("  ", ", ")
    return f'<p class="sub">Hands, sheet by sheet: {html_text(row)}</p>' if row else ""


def _day(r: Review) -> str:
    """The rows of the day, and its hours in words."""
    drawn = day_drawing(r.day_chart)
    said = "; ".join([hours_words(r.hours), *pauses_words(r.hours)])
    return html_section("The day", f'{drawn}<p class="sub">{escape(said)}</p>') if drawn else ""


def _drift(r: Review) -> list[str]:
    """Each reading: its sentence, its chart and its numbers, together on a page."""
    return [html_section(found.name, keep_whole(
        f"<p>{html_text(found.sentence)}.</p>{chart_svg(drift_chart(found))}"
        f"<p class=\"sub\">{html_text(reading_values(found))}</p>") + limits_part(found))
            for found in r.drift]


def keep_whole(inside: str) -> str:
    """What is not to be parted by the end of a page."""
    return f'<div class="whole">{inside}</div>'


def limits_part(found: ReadingDrift) -> str:
    """An instrument's readings between limits, where there are enough of them."""
    held = found.limits
    if held is None:
        return ""
    drawn = [f'<p class="sub">{html_text(x.title)}</p>{chart_svg(x)}' for x in limit_charts(
        found.name, found.unit, found.values, held)]
    chance = f'<p class="sub">{escape(BY_CHANCE)}.</p>' if drawn else ""
    return keep_whole(f"<p>{html_text(held.sentence)}.</p>{''.join(drawn)}{chance}")


def reading_values(found: ReadingDrift) -> str:
    """Every value of a reading by its impression."""
    return ", ".join(f"{n}: {value:g}" for n, value in found.values)
