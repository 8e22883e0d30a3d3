"""A session as a page that stands by itself: no script, nothing loaded, every text escaped.

The policy in its head lets nothing run and nothing be fetched, and only this page's own style
apply (by its digest). Names and notes stand in `<bdi>`, so that one written from right to left
turns nothing round that stands beside it. The printer's texts go through `visible` first, as on
a screen.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Mapping, Sequence
from html import escape
from typing import Any, Final

from benchapp.papers.charts import svg
from benchapp.papers.html_day import day_drawing
from benchapp.papers.life import chart
from benchapp.papers.limits import BY_CHANCE, limit_charts
from benchapp.papers.review import sheet_times
from benchapp.quantities import minutes_text
from benchapp.shown import visible

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
th{font-weight:normal;color:var(--quiet)}td.n{text-align:right;font-variant-numeric:tabular-nums}
ul{padding-left:1.2rem}
svg.chart{width:100%;height:auto;max-width:44rem}
.chart .axis{fill:none;stroke:currentColor}.chart .tick{stroke:var(--line)}
.chart .limit{stroke:currentColor;stroke-dasharray:5 4}
.chart .point,.chart .bar{fill:currentColor}
.chart .mark{fill:none;stroke:currentColor;stroke-width:2}
.chart .name{font:11px sans-serif;fill:currentColor}
h2{break-after:avoid}tr,li,svg{break-inside:avoid}
@page{margin:16mm}
@media print{:root{color-scheme:light;--paper:#fff;--ink:#000;--quiet:#444;--line:#bbb}
body{margin:0;padding:0;max-width:none;font-size:10.5pt}}
"""


def policy(style: str = STYLE) -> str:
    """What the page may do: apply its own style, by digest, and nothing else."""
    digest = base64.b64encode(hashlib.sha256(style.encode("utf-8")).digest()).decode("ascii")
    return (f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; "
            "form-action 'none'")


def text(value: object) -> str:
    """Any text of the printer's, made visible, escaped, and kept from turning its neighbours."""
    return f"<bdi>{escape(visible(str(value)))}</bdi>"


def page(title: str, sections: Iterable[str], style: str = STYLE) -> str:
    """A whole page; `style`: all of its own."""
    return "".join([
        "<!DOCTYPE html>\n", '<html lang="en-GB"><head><meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{escape(policy(style))}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta name="referrer" content="no-referrer">',
        f"<title>{escape(visible(title))}</title><style>{style}</style></head><body>\n",
        *sections, "</body></html>\n"])


def review_page(reviews: Sequence[Mapping[str, Any]]) -> str:
    """One or more sessions read back, as one page."""
    first = reviews[0] if reviews else None
    title = "No session" if first is None else f"{first['print']}, {first['session']}"
    if len(reviews) > 1:
        title = f"{len(reviews)} sessions"
    return page(title, (part for r in reviews for part in session_parts(r)))


def session_parts(r: Mapping[str, Any]) -> list[str]:
    """A session's part of a page."""
    wanted = "" if r["wanted"] is None else f" · wanted {r['wanted']}"
    return [
        f"<header><h1>{text(r['print'])}</h1><p class=\"sub\">{text(r['artist'])} · "
        f"{text(r['session'])} · {r['state']} · pulled {r['pulled']} · counting "
        f"{r['counting']}{wanted}</p></header>\n",
        *_drift(r), _listed("Changed between pulls, and seen",
                            [x["sentence"] for x in r["changes"]]),
        _sheets(r), _listed("Notes of the session", r["notes"]), _settings(r), _time(r),
        _day(r), _listed("Taken back", [f"{c['what']} {c['at'][11:16]}" for c in r["corrections"]]),
    ]


def _section(name: str, inside: str) -> str:
    return f"<section><h2>{escape(name)}</h2>{inside}</section>\n"


def _listed(name: str, items: Sequence[object]) -> str:
    if not items:
        return ""
    return _section(name, f"<ul>{''.join(f'<li>{text(x)}</li>' for x in items)}</ul>")


def _table(head: Sequence[str], rows: Iterable[Sequence[str]], figures: frozenset[int]) -> str:
    """Cells are HTML already; the columns named hold figures."""
    top = "".join(f'<th scope="col">{escape(x)}</th>' for x in head)
    body = "".join("<tr>" + "".join(
        f'<td class="n">{c}</td>' if n in figures else f"<td>{c}</td>"
        for n, c in enumerate(row)) + "</tr>" for row in rows)
    return f"<table><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"


def _sheets(r: Mapping[str, Any]) -> str:
    if not r["impressions"]:
        return ""
    rows = [[text(i["mark"]), text(i["label"] or " ".join(filter(None, (i["for"], i["state"])))),
             text(i["verdict"] or "not judged"),
             text("not taken" if i["pulled_at"] is None else i["pulled_at"][11:16]),
             _said(i), _paper(i)] for i in r["impressions"]]
    return _section("Impressions", _table(
        ["mark", "for", "verdict", "pulled", "tags, readings, notes", "paper"], rows,
        frozenset()))


def _said(i: Mapping[str, Any]) -> str:
    readings = [" ".join(str(x) for x in (g["name"], g["value"], g["unit"]) if x is not None)
                for g in i["readings"]]
    return "; ".join(text(x) for x in [*i["tags"], *readings, *(f"“{n}”" for n in i["notes"])])


def _paper(i: Mapping[str, Any]) -> str:
    parts = [f"{words} {_length(p[key])}" for p in i["paper"] for key, words in (
        ("soaked_seconds", "soaked"), ("rested_seconds", "rested"), ("waited_seconds", "waited"))
        if p[key] is not None]
    return text(", ".join(parts)) if parts else ""


def _length(seconds: float) -> str:
    return minutes_text(round(seconds * 1000))


def _settings(r: Mapping[str, Any]) -> str:
    rows = [[text(x["name"]), text(x["value"]), str(x["since"])] for x in r["settings"]]
    return _section("Settings", _table(["setting", "value", "from no."], rows, frozenset({2}))
                    ) if rows else ""


def _time(r: Mapping[str, Any]) -> str:
    rows = []
    before = {x["id"]: x for x in r["earlier"]["by_step"]}
    for x in r["by_step"]:
        recipe, then = x["recipe"], before[x["id"]]
        rows.append([
            text(x["step"]), str(x["times"]),
            "not taken" if x["middle_seconds"] is None else _length(x["middle_seconds"]),
            _length(x["total_seconds"]),
            "" if recipe is None else "/".join(
                _length(recipe[k]) for k in ("low", "usual", "high")),
            "" if then["middle_seconds"] is None
            else f"{_length(then['middle_seconds'])} ({then['times']})"])
    if not rows:
        return ""
    days = ", ".join(x["session"] for x in r["earlier"]["sessions"])
    told = f'<p>{text(r["earlier"]["sentence"])}.</p>'
    under = f'<p class="sub">Before: {text(days)}, how often timed in brackets.</p>' if days else ""
    head = ["step", "times", "in the middle", "in all", "recipe", "before"]
    return _section("Where the time went",
                    told + _table(head, rows, frozenset({1, 2, 3, 4, 5})) + under + _by_sheet(r))


def _by_sheet(r: Mapping[str, Any]) -> str:
    row = sheet_times(r).replace("  ", ", ")
    return f'<p class="sub">Hands, sheet by sheet: {text(row)}</p>' if row else ""


def _day(r: Mapping[str, Any]) -> str:
    """The rows of the day, and its hours in words."""
    drawn = day_drawing(r)
    h = r["hours"]
    said = ", ".join(f"{_length(h[f'{name}_seconds'])} {words}" for name, words in (
        ("hands", "at work"), ("waiting", "waiting"), ("idle", "idle"), ("paused", "paused")))
    return _section("The day", f'{drawn}<p class="sub">{escape(said)}</p>') if drawn else ""


def _drift(r: Mapping[str, Any]) -> list[str]:
    """Each reading: first its sentence, then its chart and its numbers."""
    return [_section(found["name"],
                     f"<p>{text(found['sentence'])}.</p>{svg(chart(found))}"
                     f"<p class=\"sub\">{text(_values(found))}</p>{_limits(found)}")
            for found in r["drift"]]


def _limits(found: Mapping[str, Any]) -> str:
    """An instrument's readings between limits, where there are enough of them."""
    held = found["limits"]
    if held is None:
        return ""
    drawn = [svg(x) for x in limit_charts(found["name"], found["unit"], found["values"], held)]
    chance = f'<p class="sub">{escape(BY_CHANCE)}.</p>' if drawn else ""
    return f"<p>{text(held['sentence'])}.</p>{''.join(drawn)}{chance}"


def _values(found: Mapping[str, Any]) -> str:
    return ", ".join(f"{n}: {value:g}" for n, value in found["values"])
