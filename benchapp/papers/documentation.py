"""The documentation sheet of an edition, and one impression's own history. Pure.

What nobody said is shown as not known. The fields are those that documents about prints give:
artist, title, plate, paper, printer, dates, the numbers signed and unsigned, each kind of proof
with its count, hors commerce, the total, whether the plate was cancelled, and earlier editions
from it (the list of Hawaii Revised Statutes 481F-4 is among them).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from html import escape
from typing import Final

from benchapp.edition.figures import PlateFigures
from benchapp.edition.holding import Holding
from benchapp.edition.numbers import day_words, holders, label, sheet_words, shown_list
from benchapp.edition.state import CANCELLATION, NUMBERED, Edition, Register
from benchapp.edition.view import EditionView, edition_view
from benchapp.journal import Moment
from benchapp.moments import local
from benchapp.papers.figures import figure_rows
from benchapp.papers.html import page, text
from benchapp.quantities import number_text
from benchapp.recipe.model import Recipe
from benchapp.session.sheets import SheetWhole

NOT_KNOWN: Final = "not known"
NO_ADVICE: Final = ("This sheet is a record of what was written down while the edition was "
                    "printed. It is not legal advice.")
#: For paper first: the size is the printer's own (A4, Letter), the margins leave room to punch.
#: A part is kept whole on a page, the register runs on in columns, a signature has its room.
SHEET_STYLE: Final = """\
:root{color-scheme:light;--ink:#111;--quiet:#555;--line:#c8c4bc}
body{color:var(--ink);background:#fff;font:11pt/1.4 Georgia,"Times New Roman",serif;
max-width:46rem;margin:2rem auto;padding:0 1rem}
h1{font-size:20pt;line-height:1.2;margin:0;overflow-wrap:anywhere}
h2{font-size:12pt;margin:1.3em 0 .2em;break-after:avoid}
p.sub{color:var(--quiet);margin:.3em 0 0}
table{border-collapse:collapse;width:100%;table-layout:fixed}
th,td{text-align:left;vertical-align:top;padding:.22em .6em .22em 0;overflow-wrap:anywhere}
th{font-weight:normal;color:var(--quiet);width:32%}
tr{border-bottom:1px solid var(--line)}
ul{list-style:none;margin:.2em 0 0;padding:0;columns:17rem;column-gap:2rem}
li{padding:.22em 0 .22em 5.4em;text-indent:-5.4em;border-bottom:1px solid var(--line);
overflow-wrap:anywhere}
li b{font-weight:normal;color:var(--quiet);display:inline-block;min-width:5.15em;text-indent:0}
section.whole,tr,li,footer{break-inside:avoid}
.sign{display:flex;gap:2.5rem;margin-top:4.2em}
.sign p{flex:1;border-top:1px solid var(--ink);padding-top:.25em;margin:0}
@page{margin:18mm 18mm 20mm;
@bottom-right{content:counter(page) " / " counter(pages);font:9pt Georgia,serif;color:#555}}
@media print{body{margin:0;padding:0;max-width:none;font-size:10.5pt}}
"""
_TO_SIGN: Final = ("Artist, and date", "Printer, and date")


@dataclass(frozen=True, slots=True)
class Part:
    """A heading, and what stands under it: a name and what is known of it.

    Attributes:
        listed: There may be many rows, each short: they run on in columns.
    """

    title: str
    rows: tuple[tuple[str, str], ...]
    listed: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """A paper that leaves: for people and for a printer's press alike."""

    title: str
    subtitle: str
    parts: tuple[Part, ...]
    to_sign: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class About:
    """What stands in no register: the print's recipe, its days, and who worked there.

    Attributes:
        recipe: The first one; None: the edition is known from old papers alone.
        days: The names of its sessions, the oldest first.
        helpers: Who took the clean steps.
        workshop: The studio's name.
    """

    title: str
    artist: str
    recipe: Recipe | None = None
    days: tuple[str, ...] = ()
    helpers: tuple[str, ...] = ()
    workshop: str | None = None
    named: Mapping[str, str] = field(default_factory=dict)


def documentation(register: Register, id_: str, about: About, *, private: bool = False) -> Sheet:
    """The documentation sheet of one edition.

    Args:
        register: All editions.
        id_: Which.
        about: What the register does not hold; `named`: printer and chop, where they are known.
        private: Whose each proof is, and to whom sheets went, in the printer's own words.
    """
    e, v = register.edition(id_), edition_view(register, id_, private=private)
    parts = (
        Part("The print", _print(about)),
        Part("The edition", tuple(_edition(register, e, v))),
        Part("Proofs", tuple(_proofs(e, v, private=private))),
        Part("The plate", tuple(_plates(e, v, about.recipe))),
        Part("Paper, ink and press", _materials(about.recipe)),
        Part("The register", tuple((r.label, "; ".join(x for x in (
            r.who, r.standing, r.where) if x)) for r in v.rows), listed=True),
    )
    return Sheet(about.title, f"Documentation of the edition · {about.artist}",
                 tuple(p for p in parts if p.rows), _TO_SIGN)


def _print(a: About) -> tuple[tuple[str, str], ...]:
    dates = "" if not a.days else day_words(a.days[0]) if len(a.days) == 1 else (
        f"{day_words(a.days[0])} to {day_words(a.days[-1])}, {len(a.days)} days")
    return (("Title", a.title), ("Artist", a.artist or NOT_KNOWN),
            ("Printer", a.named.get("printer", NOT_KNOWN)),
            ("Helper", ", ".join(a.helpers) or NOT_KNOWN),
            ("Workshop", a.workshop or NOT_KNOWN), ("Chop", a.named.get("chop", NOT_KNOWN)),
            ("Printed", dates or NOT_KNOWN))


def _edition(register: Register, e: Edition, v: EditionView) -> Iterable[tuple[str, str]]:
    f = v.figures
    size = "open" if v.form == "open" else NOT_KNOWN if f.declared is None else str(f.declared)
    yield "Kind of edition", _kind_of_edition(e, v)
    yield "Size of the edition", size
    yield from figure_rows(f)
    numbered = [h for h in e.holdings.values() if h.bears is not None
                and h.bears.kind == NUMBERED and h.destroyed is None
                and h.bears.number not in e.voids]
    signed = sum(h.signed is not None for h in numbered)
    yield "Numbered and signed", str(signed)
    perhaps = sum(h.perhaps_signed for h in numbered)
    yield "Numbered, not signed", str(len(numbered) - signed - perhaps)
    if perhaps:
        yield "Numbered, signature not known", str(perhaps)
    yield "Numbers used", shown_list(v.numbers.taken, 60) or "none"
    yield "Void numbers", shown_list(v.numbers.void, 60) or "none"
    yield "With proofs counted in the total", str(v.totals.in_total)
    yield "With every proof", str(v.totals.everything)
    yield "Approved standard (BAT)", v.bat or NOT_KNOWN
    for said in v.short:
        yield "Short edition", said
    others = [f"{s.title or s.id}{f' ({s.relation})' if s.relation else ''}, "
              f"{'open' if s.size is None else s.size}" for s in v.siblings]
    yield "Earlier and other editions from the plate", "; ".join(others) or NOT_KNOWN
    for clash in v.clashes:
        yield "Not resolved", clash.text


def _kind_of_edition(e: Edition, v: EditionView) -> str:
    """Open, varied or limited. An edition is limited only where its size is known."""
    known = v.figures.declared is not None and not e.sizes
    return {"varied": "varied (E.V.)", "limited": "limited" if known else NOT_KNOWN}.get(
        v.form, v.form)


def _proofs(e: Edition, v: EditionView, *, private: bool) -> Iterable[tuple[str, str]]:
    kinds = {"AP": None, "PP": None, "HC": None, **dict.fromkeys(v.proofs)}
    for kind in kinds:
        p = v.proofs.get(kind)
        if p is None:
            yield kind, "none"
            continue
        cap = "" if p.cap is None else f" of {p.cap}"
        where = ", counted in the total" if p.inside else ", beside the total"
        whose = [f"{label(e, h.bears)}: {h.words['whose']}" for h in holders(e, kind)
                 if private and h.bears is not None and h.words.get("whose")]
        yield kind, "; ".join([f"{p.given}{cap}{where}", *whose])


def _plates(e: Edition, v: EditionView, recipe: Recipe | None) -> Iterable[tuple[str, str]]:
    given = {p.name: p for p in v.plates}
    for told in v.plates if recipe is None else ():
        yield told.name, "; ".join((f"metal, size and techniques {NOT_KNOWN}", _given(told)))
    for plate in () if recipe is None else recipe.plates:
        known = given.get(plate.name)
        facts = [plate.metal, f"{plate.size.document()} (height × width)"]
        facts += [] if plate.thickness is None else [f"{plate.thickness} thick"]
        facts += [", ".join(plate.techniques) or f"techniques {NOT_KNOWN}"]
        yield plate.name, "; ".join((*facts, _given(known)))
    yield "Cancelled", v.cancelled or "no record of it"
    proof = next(holders(e, CANCELLATION), None)
    if v.cancelled is not None:
        yield "Cancellation proof", "none" if proof is None else sheet_words(proof)


def _given(known: PlateFigures | None) -> str:
    """The state of a plate, and how many impressions it gave in all."""
    state = None if known is None else known.state
    unknown = known is None or known.before is None
    return (f"{state or NOT_KNOWN + ' whether steel-faced'}; "
            f"{0 if known is None else known.total} impressions"
            f"{', and what it gave before is not known' if unknown else ''}")


def _materials(recipe: Recipe | None) -> tuple[tuple[str, str], ...]:
    if recipe is None:
        return (("Paper", NOT_KNOWN), ("Ink", NOT_KNOWN), ("Press", NOT_KNOWN))
    papers = []
    for p in recipe.papers:
        size = p.piece or p.sheet
        papers.append(", ".join(x for x in (
            p.name or NOT_KNOWN, "" if p.weight is None else str(p.weight),
            "" if size is None else f"{size.document()} (height × width)") if x))
    inks = [", ".join(x for x in (
        i.name or "", f"on {i.plate}" if i.plate else "",
        "in parts " + ", ".join(f"{name} {number_text(n)}" for name, n in i.parts) if i.parts
        else "") if x) for i in recipe.inks]
    passes = sum(len(s.pulls) * (2 if s.returns else 1) for s in recipe.each)
    return (("Paper", "; ".join(papers) or NOT_KNOWN),
            ("Ink", "; ".join(x for x in inks if x) or NOT_KNOWN),
            ("Press", f"{passes} passes an impression" if passes > 1
             else "1 pass an impression"))


# -- one impression ------------------------------------------------------------------------


def history(register: Register, id_: str, sheet: str, whole: SheetWhole | None,
            about: About) -> Sheet:
    """One impression's own history, for whoever has it: no price, and nobody's name but the
    artist's."""
    e = register.edition(id_)
    held = e.holdings.get(sheet) or _unheld(register, sheet)
    became = "no number" if held.bears is None else label(e, held.bears)
    signed = NOT_KNOWN if held.perhaps_signed else (
        "not signed" if held.signed is None else f"signed; written down {_day(held)}")
    rows = [("Title", about.title), ("Artist", about.artist or NOT_KNOWN), ("Number", became),
            ("Signature", signed), ("Which sheet", sheet_words(held))]
    made: list[tuple[str, str]] = []
    if whole is not None:
        made = [("Pulled", "; ".join(
            f"plate {' and '.join(p.plates)}, {_when(p.at)}" for p in whole.pulls)),
                ("Pull of its day", str(whole.line.number))]
        made += list(whole.settings)
    plate = tuple(_plates(e, edition_view(register, id_), about.recipe))
    return Sheet(f"{about.title}, {became}", f"History of one impression · {about.artist}",
                 tuple(p for p in (Part("The impression", tuple(rows)),
                                   Part("How it was made", tuple(made)),
                                   Part("The plate", plate),
                                   Part("Paper, ink and press", _materials(about.recipe)))
                       if p.rows), _TO_SIGN)


def _unheld(register: Register, sheet: str) -> Holding:
    known = register.sheets[sheet]
    return Holding(
            known.id, known.mark, known.session, shared=known.shared)


def _when(at: Moment | None) -> str:
    return f"time {NOT_KNOWN}" if at is None else (
        f"{day_words(local(at).date().isoformat())}, {local(at):%H:%M}")


def _day(h: Holding) -> str:
    return NOT_KNOWN if h.signed is None else day_words(local(h.signed).date().isoformat())


# -- as text and as a page -------------------------------------------------------------------


def sheet_text(sheet: Sheet) -> list[str]:
    """The sheet as lines."""
    out = [sheet.title, sheet.subtitle]
    for part in sheet.parts:
        out += ["", part.title, *(f"  {name}: {value}" for name, value in part.rows)]
    return [*out, "", *(f"{x}: ______________________" for x in sheet.to_sign), "", NO_ADVICE]


def sheet_page(sheet: Sheet) -> str:
    """The sheet as a page that stands by itself and prints on A4 and Letter."""
    signed = "".join(f"<p>{text(x)}</p>" for x in sheet.to_sign)
    return page(sheet.title, [
        f'<header><h1>{text(sheet.title)}</h1><p class="sub">{text(sheet.subtitle)}</p></header>\n',
        *(_part(p) for p in sheet.parts),
        f'<footer><div class="sign">{signed}</div>'
        f'<p class="sub">{escape(NO_ADVICE)}</p></footer>\n'], SHEET_STYLE)


def _part(part: Part) -> str:
    """A table; of a register long lists stand in columns beside one another."""
    if part.listed:
        inside = "".join(f"<li><b>{text(name)}</b> {text(value)}</li>" for name, value in part.rows)
        return f'<section><h2>{text(part.title)}</h2><ul>{inside}</ul></section>\n'
    inside = "".join(f'<tr><th scope="row">{text(name)}</th><td>{text(value)}</td></tr>'
                     for name, value in part.rows)
    return (f'<section class="whole"><h2>{text(part.title)}</h2><table><tbody>{inside}</tbody>'
            "</table></section>\n")
