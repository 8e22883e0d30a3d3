"""The documentation sheet of an edition. Pure.

What nobody said is shown as not known. The fields are those that documents about prints give:
artist, title, plate, paper, printer, dates, the numbers signed and unsigned, each kind of proof
with its count, hors commerce, the total, whether the plate was cancelled, and earlier editions
from it (the list of Hawaii Revised Statutes 481F-4 is among them).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, ClassVar, Final

from benchapp.edition.figures import PlateFigures
from benchapp.edition.numbers import (
    kind_holders,
    label_text,
    runs_text,
    session_day_words,
    sheet_words,
)
from benchapp.edition.state import CANCELLATION, NUMBERED, Edition, Register
from benchapp.edition.state import Sheet as Pulled
from benchapp.edition.view import EditionView, SheetRow, Sibling, edition_view
from benchapp.quantities import number_text
from benchapp.recipe.model import Ink, Paper, Recipe
from benchapp.reports.blocks import (
    Beside,
    Block,
    Facts,
    Items,
    Medium,
    Photo,
    Said,
    Section,
    Signatures,
    Title,
    photo_section,
)
from benchapp.reports.figures import figure_rows
from benchapp.reports.html import render_page
from benchapp.reports.render_text import render_text

NOT_KNOWN: Final = "not known"
NO_ADVICE: Final = ("This sheet is a record of what was written down while the edition was "
                    "printed. It is not legal advice.")
#: For paper first: the size is the printer's own (A4, Letter), the margins leave room to punch.
#: It is set close, so that a small edition is one page.
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
@page{margin:15mm 18mm 17mm;
@bottom-right{content:counter(page) " / " counter(pages);font:9pt Georgia,serif;color:#555}}
.beside{display:flex;flex-wrap:wrap;gap:0 2rem}.beside>div{flex:1 1 17rem;min-width:0}
.beside th{width:46%}
@media print{body{margin:0;padding:0;max-width:none;font-size:9.5pt;line-height:1.25}
h1{font-size:16pt}h2{font-size:10.5pt;margin:.8em 0 .1em}th,td,li{padding-top:.1em;
padding-bottom:.1em}.sign{margin-top:3.4em}}
"""
TO_SIGN: Final = ("Artist, and date", "Printer, and date")


@dataclass(frozen=True, slots=True)
class PaperPart:
    """A heading, and what stands under it: a name and what is known of it.

    Attributes:
        listed: There may be many rows, each short: they run on in columns.
        column: Of two columns of short rows beside one another, which; 0: across the page.
    """

    title: str
    rows: tuple[tuple[str, str], ...]
    listed: bool = False
    column: int = 0


@dataclass(frozen=True, slots=True)
class PaperSheet:
    """A paper that leaves: for people and for a printer's press alike."""

    FORMAT: ClassVar = "papers/1"

    title: str
    subtitle: str
    parts: tuple[PaperPart, ...]
    to_sign: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class About:
    """What stands in no register: the print's recipe, its days, and who worked there.

    Attributes:
        recipes: Those it was printed on, the first one first; none: it is known from old papers
            alone.
        days: The names of its sessions, the oldest first, without those on a cancelled plate.
        helpers: Who took the clean steps.
        workshop: The studio's name.
    """

    title: str
    artist: str
    recipes: tuple[Recipe, ...] = ()
    days: tuple[str, ...] = ()
    helpers: tuple[str, ...] = ()
    workshop: str | None = None
    named: Mapping[str, str] = field(default_factory=dict)

    @property
    def recipe(self) -> Recipe | None:
        """The first one; None: there is none."""
        return self.recipes[0] if self.recipes else None

    @property
    def dates(self) -> tuple[str, ...]:
        """Its days as dates, each once: two sessions of one day are one."""
        return tuple(dict.fromkeys(d[:10] for d in self.days))


def by_date(register: Register) -> Register:
    """The register as papers tell of it: a day is its date, without the letter of a session."""
    def dated(e: Edition) -> Edition:
        return replace(e, holdings={k: replace(h, session=h.session[:10])
                                    for k, h in e.holdings.items()})

    sheets = {k: replace(s, session=s.session[:10]) for k, s in register.sheets.items()}
    by_print: dict[str, list[Pulled]] = {}
    for s in sheets.values():
        by_print.setdefault(s.print, []).append(s)
    return replace(register, sheets=sheets, editions={
        k: dated(e) for k, e in register.editions.items()},
        by_print={k: tuple(v) for k, v in by_print.items()})


def documentation_sheet(register: Register, id_: str, about: About, *,
                        private: bool = False) -> PaperSheet:
    """The documentation sheet of one edition.

    Args:
        register: All editions.
        id_: Which.
        about: What the register does not hold; `named`: printer and chop, where they are known.
        private: Whose each proof is, and who has the sheets, in the printer's own words.
    """
    register = by_date(register)
    e, v = register.edition(id_), edition_view(register, id_, private=private)
    year = _year_before(about, v)
    parts = (
        PaperPart("The print", _print(about, v), column=1),
        PaperPart("The edition", tuple(_edition(e, v, about)), column=2),
        PaperPart("Proofs", tuple(_proofs(e, v, private=private)), column=1),
        PaperPart("The plate", tuple(plate_rows(e, v, about.recipes))),
        PaperPart("Paper, ink and press" + ("" if year is None else f", from {year} on"),
                  print_materials(about.recipes)),
        PaperPart("The register", tuple(_register_row(r) for r in v.rows), listed=True),
    )
    return PaperSheet(about.title, f"Documentation of the edition · {about.artist}",
                      tuple(p for p in parts if p.rows), TO_SIGN)


def _register_row(r: SheetRow) -> tuple[str, str]:
    """What stands on a sheet, and what is known of it, each once."""
    where = "" if r.state == "destroyed" else r.where
    return ("no number" if r.kind == "undecided" else r.label,
            "; ".join(x for x in (r.who, r.standing, where) if x))


def _print(a: About, v: EditionView) -> tuple[tuple[str, str], ...]:
    dates = [session_day_words(d) for d in a.dates]
    said = NOT_KNOWN if not dates else dates[0] if len(dates) == 1 else (
        f"{dates[0]} to {dates[-1]}, {len(dates)} days")
    year = _year_before(a, v)
    if year is not None:
        said = f"before {year}: {NOT_KNOWN}; {said}"
    return (("Title", a.title), ("Artist", a.artist or NOT_KNOWN),
            ("Printer", a.named.get("printer", NOT_KNOWN)),
            ("Helper", ", ".join(a.helpers) or NOT_KNOWN),
            ("Workshop", a.workshop or NOT_KNOWN), ("Chop", a.named.get("chop", NOT_KNOWN)),
            ("Printed", said))


def _year_before(a: About, v: EditionView) -> str | None:
    """The first year of this book, if the print was printed before; None: nothing says so."""
    before = v.figures.old.sheets or any(p.before for p in v.plates)
    return a.dates[0][:4] if before and a.dates else None


def _before(v: EditionView) -> str:
    """What the plate gave before this book, if it is one plate and somebody said; else unknown.

    With more plates each of their figures is told beside it, and none is that of the print.
    """
    told = [p.before for p in v.plates]
    return str(told[0]) if len(told) == 1 and told[0] is not None else NOT_KNOWN


def _edition(e: Edition, v: EditionView, a: About) -> Iterable[tuple[str, str]]:
    f = v.figures
    size = "open" if v.form == "open" else NOT_KNOWN if f.declared is None else str(f.declared)
    yield "Kind of edition", _kind_of_edition(e, v)
    yield "Size of the edition", v.cut or size
    year = _year_before(a, v)
    if year is not None:
        yield f"Impressions printed before {year}", _before(v)
    yield from figure_rows(f)
    if f.after:
        yield "Pulled after the plate was cancelled", str(f.after)
    numbered = [h for h in e.holdings.values() if h.bears is not None
                and h.bears.kind == NUMBERED and h.destroyed is None
                and h.bears.number not in e.voids]
    signed = sum(h.signed is not None for h in numbered)
    # The figures above are of sheets pulled here alone; these are of all that there are.
    also = ", old papers included" if f.papers else ""
    yield "Numbered and signed", f"{signed}{also}"
    perhaps = sum(h.perhaps_signed for h in numbered)
    yield "Numbered, not signed", f"{len(numbered) - signed - perhaps}{also}"
    if perhaps:
        yield "Numbered, signature not known", f"{perhaps}{also}"
    yield "Numbers used", runs_text(v.numbers.taken) or "none"
    waits = v.cancelled is not None and v.to_number
    yield "Void numbers", (runs_text(v.numbers.void) or "none") + (
        ", unless an unsorted sheet takes one" if waits else "")
    yield "All that count in the total", f"{v.totals.in_total}{also}"
    yield "All, with every proof", f"{v.totals.everything}{also}"
    yield "Approved standard (BAT)", v.bat or NOT_KNOWN
    for said in v.short:
        yield "Short edition", said
    yield "Earlier and other editions from the plate", _from_plate(
        s for s in v.siblings if s.shares != ()) or NOT_KNOWN
    other = _from_plate(s for s in v.siblings if s.shares == ())
    if other:
        yield "Beside it, from other plates", other
    for clash in v.clashes:
        yield "Not resolved", clash.text


def _from_plate(siblings: Iterable[Sibling]) -> str:
    return "; ".join(f"{s.title or s.id}{f' ({s.relation})' if s.relation else ''}, "
                     f"{'open' if s.size is None else s.size}" for s in siblings)


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
        whose = [f"{label_text(e, h.bears)}: {h.words['whose']}" for h in kind_holders(e, kind)
                 if private and h.bears is not None and h.words.get("whose")]
        yield kind, "; ".join([f"{p.given}{cap}{where}", *whose])


def plate_rows(e: Edition, v: EditionView, recipes: Iterable[Recipe]) -> Iterable[tuple[str, str]]:
    """What is known of each plate, and of their cancelling."""
    plates = {p.name: p for r in reversed([*recipes]) for p in r.plates}
    given = {p.name: p for p in v.plates}
    for name in () if plates else given:
        yield name, "; ".join((f"metal, size and techniques {NOT_KNOWN}", _given(given[name])))
    for plate in plates.values():
        facts = [plate.metal, f"{plate.size.document()} (height × width)"]
        facts += [] if plate.thickness is None else [f"{plate.thickness} thick"]
        facts += [", ".join(plate.techniques) or f"techniques {NOT_KNOWN}"]
        # A plate is often called by its metal: said once, it is enough.
        called = plate.name if plate.name.casefold() != plate.metal.casefold() else "Plate"
        yield called, "; ".join((*facts, _given(given.get(plate.name))))
    yield "Cancelled", v.cancelled or "no record of it"
    proof = next(kind_holders(e, CANCELLATION), None)
    if v.cancelled is not None:
        yield "Cancellation proof", "none" if proof is None else sheet_words(proof)


def _given(known: PlateFigures | None) -> str:
    """The state of a plate, and how many impressions it gave in all."""
    state = None if known is None else known.state
    unknown = known is None or known.before is None
    return (f"{state or NOT_KNOWN + ' whether steel-faced'}; "
            f"{0 if known is None else known.total} impressions"
            f"{', and what it gave before is not known' if unknown else ''}")


def print_materials(recipes: Iterable[Recipe]) -> tuple[tuple[str, str], ...]:
    """Paper, ink and press of all recipes it was printed on, each once."""
    known = [*recipes]
    return (("Paper", _each_once(_paper(p) for r in known for p in r.papers)),
            ("Ink", _each_once(_ink(i) for r in known for i in r.inks)),
            ("Press", _each_once(_passes(r) for r in known)))


def _each_once(words: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(x for x in words if x)) or NOT_KNOWN


def _paper(p: Paper) -> str:
    size = p.piece or p.sheet
    return ", ".join(x for x in (
        p.name or NOT_KNOWN, "" if p.weight is None else str(p.weight),
        "" if size is None else f"{size.document()} (height × width)") if x)


def _ink(i: Ink) -> str:
    return ", ".join(x for x in (
        i.name or "", f"on {i.plate}" if i.plate else "",
        "in parts " + ", ".join(f"{name} {number_text(n)}" for name, n in i.parts) if i.parts
        else "") if x)


def _passes(recipe: Recipe) -> str:
    passes = sum(len(s.pulls) * (2 if s.returns else 1) for s in recipe.each)
    return f"{passes} passes an impression" if passes > 1 else "1 pass an impression"


# -- as text and as a page -------------------------------------------------------------------


def sheet_blocks(sheet: PaperSheet, medium: Medium,
                 photos: Iterable[Photo] = ()) -> Iterator[Block]:
    """The sheet as blocks; on a page short parts stand beside one another, so that it is one."""
    if medium == "text":
        yield Items((sheet.title, sheet.subtitle))
        yield from map(_part, sheet.parts)
        yield Signatures(sheet.to_sign, NO_ADVICE)
        return
    yield Title(Said(sheet.title), Said(sheet.subtitle))
    sides = [tuple(map(_part, (p for p in sheet.parts if p.column == side))) for side in (1, 2)]
    yield Beside(sides[0], sides[1])
    yield from (_part(p) for p in sheet.parts if not p.column)
    yield photo_section("Pictures", photos)
    yield Signatures(sheet.to_sign, NO_ADVICE)


def _part(part: PaperPart) -> Section:
    return Section(Said(part.title), (Facts(part.rows, part.listed),), whole=not part.listed)


def sheet_page(sheet: PaperSheet, photos: Iterable[Photo] = ()) -> str:
    """The sheet as a page that stands by itself and prints on A4 and Letter, with its pictures."""
    return render_page(sheet.title, sheet_blocks(sheet, "page", photos), SHEET_STYLE)


def sheet_text(sheet: PaperSheet) -> list[str]:
    """The sheet as lines."""
    return render_text(sheet_blocks(sheet, "text"))


def sheet_values(sheet: PaperSheet) -> dict[str, Any]:
    """The sheet as JSON holds it."""
    return {"title": sheet.title, "about": sheet.subtitle, "note": NO_ADVICE, "parts": [
        {"title": p.title, "rows": [{"name": n, "value": v} for n, v in p.rows]}
        for p in sheet.parts], "to_sign": list(sheet.to_sign)}
