"""Blocks as a page that stands by itself: no script, nothing loaded, every text escaped.

The policy in its head lets nothing run and nothing be fetched, and only this page's own style
apply (by its digest). Names and notes stand in `<bdi>`, so that one written from right to left
turns nothing round that stands beside it. The printer's texts go through `sanitize` first, as on
a screen.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable
from html import escape
from typing import Final

from benchapp.reports.blocks import (
    BREAK,
    Beside,
    Block,
    Charts,
    DayDrawing,
    Drawn,
    Facts,
    Figure,
    Items,
    Numbers,
    Photo,
    Photos,
    Said,
    Section,
    Sentence,
    Signatures,
    Table,
    Title,
    Whole,
    Words,
    word_pieces,
)
from benchapp.reports.charts import Chart, chart_svg
from benchapp.reports.html_day import day_drawing
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
@page{margin:16mm;
@bottom-right{content:counter(page) " / " counter(pages);font:9pt Georgia,serif;color:#555}}
@media print{:root{color-scheme:light;--paper:#fff;--ink:#000;--quiet:#444;--line:#bbb}
body{margin:0;padding:0;max-width:none;font-size:10.5pt}body>*+header{break-before:page}
svg.chart{max-width:none}}
"""


#: Added where a page has pictures.
PHOTO_STYLE: Final = """\
:root{--photo:26rem;--small:11rem}
.photos{display:flex;flex-wrap:wrap;gap:.8rem;align-items:flex-end}
.photos figure{margin:0;flex:0 1 auto;max-width:var(--photo);break-inside:avoid}
.photos.small figure{max-width:var(--small)}
.photos img{max-width:100%;max-height:var(--photo);height:auto;width:auto;display:block}
.photos.small img{max-height:9rem}
.photos figcaption{color:var(--quiet);font-size:.85rem}
td img{max-width:9rem;max-height:9rem;display:block;margin:0 0 .3rem}
@media print{:root{--photo:8.5cm;--small:3.6cm}
td img{max-width:3cm;max-height:3cm}}
"""
_IMAGE: Final = '<img src="'
_WHOLE_IN_PAGE: Final = "data:"


def page_policy(style: str = STYLE, images: str = "") -> str:
    """What the page may do: apply its own style, by digest, and nothing else.

    Args:
        style: All of its style.
        images: Where pictures may come from; empty: it has none.
    """
    digest = base64.b64encode(hashlib.sha256(style.encode("utf-8")).digest()).decode("ascii")
    shown = f"img-src {images}; " if images else ""
    return (f"default-src 'none'; {shown}style-src 'sha256-{digest}'; base-uri 'none'; "
            "form-action 'none'")


def html_text(value: object) -> str:
    """Any text of the printer's, made visible, escaped, and kept from turning its neighbours."""
    return f"<bdi>{escape(sanitize(str(value)))}</bdi>"


def running_head(title: str) -> str:
    """The style that prints the title over each sheet of paper but the first, which has it.

    All but letters and digits of ASCII go in as CSS escapes, so that no title ends the text, the
    style or the element it stands in (CSS Syntax Level 3, 4.3.7: up to six hex digits, a blank).
    """
    safe = "".join(sign if sign.isascii() and sign.isalnum() else f"\\{ord(sign):x} "
                   for sign in sanitize(title))
    return (f'@page{{@top-left{{content:"{safe}";font:9pt Georgia,serif;color:#555}}}}\n'
            "@page:first{@top-left{content:none}}\n")


def html_page(title: str, sections: Iterable[str], style: str = STYLE) -> str:
    """A whole page; `style`: all of its own, but for its running head and what pictures need."""
    body = "".join(sections)
    style += running_head(title)
    images = ""
    if _IMAGE in body:
        style += PHOTO_STYLE
        inside = body.count(_IMAGE) == body.count(_IMAGE + _WHOLE_IN_PAGE)
        images = "data:" if inside else "data: 'self' file:"
    policy = escape(page_policy(style, images))
    return "".join([
        "<!DOCTYPE html>\n", '<html lang="en-GB"><head><meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta name="referrer" content="no-referrer">',
        f"<title>{escape(sanitize(title))}</title><style>{style}</style></head><body>\n",
        body, "</body></html>\n"])


def render_page(title: str, blocks: Iterable[Block], style: str = STYLE) -> str:
    """A report as a whole page; `style`: all of its own."""
    return html_page(title, map(render_block, blocks), style)


def render_block(block: Block) -> str:
    """One block as a part of a page."""
    match block:
        case Title(title, under):
            return (f"<header><h1>{_words(title)}</h1><p class=\"sub\">{_words(under)}</p>"
                    "</header>\n")
        case Sentence(words, aside):
            return _aside(words) if aside else f"<p>{_words(words)}.</p>"
        case Items(texts):
            return f"<ul>{''.join(f'<li>{html_text(x)}</li>' for x in texts)}</ul>"
        case Numbers(values, lead):
            return _aside((f"{lead} " if lead else "", Said(", ".join(values))))
        case Facts(rows, listed=True):
            inside = "".join(f"<li><b>{html_text(name)}</b> {html_text(value)}</li>"
                             for name, value in rows)
            return f"<ul>{inside}</ul>"
        case Facts(rows):
            inside = "".join(f'<tr><th scope="row">{html_text(name)}</th><td>{html_text(value)}'
                             "</td></tr>" for name, value in rows)
            return f"<table><tbody>{inside}</tbody></table>"
        case Table():
            return _table(block)
        case Photos(photos, small):
            kind = "photos small" if small else "photos"
            inside = "".join(f"<figure>{_image(x)}<figcaption>{html_text(x.words)}</figcaption>"
                             "</figure>" for x in photos)
            return f'<div class="{kind}">{inside}</div>'
        case Figure(chart, numbers):
            return chart_svg(chart) + render_block(numbers)
        case Charts(charts, note):
            return "".join(map(_titled, charts)) + (_aside(f"{note}.") if charts else "")
        case Drawn(drawing):
            text = "\n".join(map(sanitize, drawing))
            return f"<pre>{escape(text)}</pre>"
        case DayDrawing(day):
            return day_drawing(day)
        case Whole(blocks):
            return f'<div class="whole">{"".join(map(render_block, blocks))}</div>'
        case Section(name, blocks, whole):
            inside = "".join(map(render_block, blocks))
            kind = ' class="whole"' if whole else ""
            head = f"<section{kind}><h2>{_words(name)}</h2>"
            return f"{head}{inside}</section>\n" if inside else ""
        case Beside(left, right):
            sides = ["".join(map(render_block, side)) for side in (left, right)]
            return (f'<div class="beside"><div>{sides[0]}</div><div>{sides[1]}</div></div>\n'
                    if any(sides) else "")
        case Signatures(names, note):
            lines = "".join(f"<p>{html_text(x)}</p>" for x in names)
            signed = f'<div class="sign">{lines}</div>' if lines else ""
            return f"<footer>{signed}{_aside(note)}</footer>\n"


def _aside(words: Words) -> str:
    return f'<p class="sub">{_words(words)}</p>'


def _titled(chart: Chart) -> str:
    return _aside(Said(chart.title)) + chart_svg(chart)


def _words(words: Words) -> str:
    """Our words escaped, the printer's held apart."""
    return "".join(html_text(x.text) if isinstance(x, Said) else
                   _image(x) if isinstance(x, Photo) else
                   "<br>" if x == BREAK else escape(sanitize(x)) for x in word_pieces(words))


def _image(photo: Photo) -> str:
    return f'{_IMAGE}{escape(photo.source)}" alt="{escape(sanitize(photo.words))}">'


def _table(table: Table) -> str:
    marks = ["n" if n in table.figures else "s" if n in table.short else ""
             for n in range(len(table.head))]
    classes = [f' class="{mark}"' if mark else "" for mark in marks]
    top = "".join(f'<th scope="col"{mark}>{escape(x)}</th>'
                  for x, mark in zip(table.head, classes, strict=True))
    body = "".join("<tr>" + "".join(
        f"<td{mark}>{_words(cell)}</td>" for cell, mark in zip(row, classes, strict=True)) + "</tr>"
        for row in table.rows)
    return f"<table><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"
