"""Editions as reports and as lines of text. Pure: nothing here depends on now.

The printer's own words about people are left out unless `private` asks for them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Annotated, ClassVar

from benchapp.edition.figures import Tally
from benchapp.edition.holding import OUT
from benchapp.edition.numbers import TakenNumbers, runs_text
from benchapp.edition.state import Register
from benchapp.edition.view import EditionView, SheetRow, Sibling, edition_view
from benchapp.reports.figures import figure_line, old_papers_line
from benchapp.reports.json_form import FLAT, Day


@dataclass(frozen=True, slots=True)
class TallyReport:
    """So many sheets, and where they are."""

    numbered: Annotated[int, "with a number of the edition"]
    signed: Annotated[int, "signed at some time"]
    in_studio: Annotated[int, "in the studio"]
    out: Annotated[int, "with a gallery, given or sold"]
    lost: Annotated[int, "lost"]
    destroyed: Annotated[int, "destroyed"]
    place_not_known: Annotated[int, "nobody said where they are"]
    signature_not_known: Annotated[int, "nobody said whether they are signed"]
    out_unsigned: Annotated[int, "out and not signed"]
    gallery: Annotated[int, "of those out, with a gallery"]
    given: Annotated[int, "of those out, given"]
    sold: Annotated[int, "of those out, sold"]


@dataclass(frozen=True, slots=True)
class OldPapersTally:
    """The sheets known from old papers alone."""

    sheets: Annotated[int, "how many there are"]
    tally: Annotated[TallyReport, FLAT, "where they are"]


@dataclass(frozen=True, slots=True)
class FiguresReport:
    """The one set of figures of an edition."""

    declared: Annotated[int | None, "the size declared; null: open or not known"]
    printed: Annotated[int, "impressions pulled in this book"]
    tally: Annotated[TallyReport, FLAT, "where they are"]
    numbers_used: Annotated[int, "numbers on a sheet that exists"]
    numbers_void: Annotated[int, "numbers never used, or never again"]
    numbers_free: Annotated[int | None, "numbers still to give; null: no size is known"]
    after_cancelling: Annotated[int, "pulled after the plate was cancelled"]
    from_old_papers: Annotated[OldPapersTally, "sheets known from old papers alone"]


@dataclass(frozen=True, slots=True)
class ProofReport:
    """One kind of proof."""

    given: Annotated[int, "how many there are"]
    cap: Annotated[int | None, "the most there may be; null: not said"]
    void: Annotated[int, "how many are void"]
    inside: Annotated[bool, "whether they count inside the edition's total"]
    from_old_papers: Annotated[int, "how many are known from old papers"]


@dataclass(frozen=True, slots=True)
class PlateReport:
    """One plate of the print."""

    plate: Annotated[str, "its name"]
    pulls: Annotated[int, "impressions in this book"]
    before: Annotated[int | None, "impressions before this book; null: not known"]
    total: Annotated[int, "all that are known"]
    state: Annotated[str | None, "its state in words"]
    cancelled: Annotated[bool, "whether it was cancelled"]


@dataclass(frozen=True, slots=True)
class SiblingReport:
    """An edition beside this one."""

    print: Annotated[str, "its title"]
    id: Annotated[str, "its print's id"]
    relation: Annotated[str | None, "how it belongs to this one"]
    size: Annotated[int | None, "its size; null: open or not known"]
    shares: Annotated[tuple[str, ...] | None, "the plates they share; null: not known"]
    cancelled: Annotated[str | None, "the record of its own plates' cancelling"]


@dataclass(frozen=True, slots=True)
class ClashReport:
    """Something that cannot be."""

    key: Annotated[str, "how to settle it"]
    text: Annotated[str, "what it is"]
    mend: Annotated[str, "what to do"]


@dataclass(frozen=True, slots=True)
class RegisterRow:
    """One sheet of the register: codes and dates, and the same in words."""

    label: Annotated[str, "what is pencilled on it, such as 12/40"]
    number: Annotated[int | None, "its number"]
    kind: Annotated[str, "edition, AP, BAT and so on; undecided: no number yet"]
    sheet: Annotated[str | None, "its id; null: a void number no sheet has"]
    who: Annotated[str, "which sheet it is"]
    state: Annotated[str, "signed, unsigned, unknown, void or destroyed"]
    standing: Annotated[str, "the same in words, with its reason"]
    place: Annotated[str | None, "where it is, as a code"]
    terms: Annotated[str | None, "on what terms a gallery has it"]
    since: Annotated[Day | None, "the day it went there"]
    due: Annotated[Day | None, "the day it is due back"]
    where: Annotated[str | None, "where it is in words"]
    from_old_papers: Annotated[bool, "whether it is known from old papers alone"]
    corrected: Annotated[int, "how often it was corrected"]


@dataclass(frozen=True, slots=True)
class EditionSheet:
    """One edition whole."""

    FORMAT: ClassVar = "edition/1"

    print: Annotated[str, "the title of the print"]
    artist: Annotated[str, "whose print it is"]
    id: Annotated[str, "the print's id"]
    form: Annotated[str, "limited, varied or open"]
    size: Annotated[int | None, "the size declared; null: open or not known"]
    declared_by: Annotated[str | None, "what declared it: the recipe or the printer"]
    figures: Annotated[FiguresReport, "the one set of figures"]
    used: Annotated[tuple[int, ...], "numbers on a sheet that exists"]
    taken: Annotated[tuple[int, ...], "the same as used"]
    void: Annotated[tuple[int, ...], "numbers never used, or never again"]
    free: Annotated[tuple[int, ...], "numbers still to give"]
    next: Annotated[int | None, "the number to give next"]
    pulled: Annotated[int, "impressions pulled in this book"]
    signed: Annotated[int, "sheets signed"]
    left: Annotated[int, "signed sheets that left the studio"]
    papers: Annotated[int, "sheets known from old papers alone"]
    proofs: Annotated[Mapping[str, ProofReport], "each kind of proof"]
    in_total: Annotated[int, "all that count in the total"]
    everything: Annotated[int, "all, with every proof"]
    planned: Annotated[int | None, "impressions the declared size and proofs need"]
    left_to_give: Annotated[int | None, "numbers still to give; null: no size is known"]
    accounts: Annotated[Mapping[str, int], "what the sheets pulled became"]
    plates: Annotated[tuple[PlateReport, ...], "its plates"]
    bat: Annotated[str | None, "the approved standard, in words"]
    standard: Annotated[str | None, "the sheet others are compared with, in words"]
    short: Annotated[tuple[str, ...], "each time the size was lowered"]
    cut_short: Annotated[str | None, "that it was cut short, in words"]
    cut_short_at: Annotated[int | None, "the number it ends at"]
    cancelled: Annotated[str | None, "the record of the plate's cancelling"]
    to_number: Annotated[int, "sheets that can still take a number"]
    siblings: Annotated[tuple[SiblingReport, ...], "editions beside it"]
    size_with_siblings: Annotated[int | None, "the total of all of them"]
    clashes: Annotated[tuple[ClashReport, ...], "what is not settled"]
    sheets: Annotated[tuple[RegisterRow, ...], "every sheet of the register"]


def edition_sheet(register: Register, id_: str, *, title: str, artist: str,
                  private: bool = False) -> EditionSheet:
    """One edition as a report; what nobody said is None."""
    v = edition_view(register, id_, private=private)
    f = v.figures
    return EditionSheet(
        print=title, artist=artist, id=v.id, form=v.form, size=f.declared,
        declared_by=v.declared_by or None, figures=_figures_report(v),
        used=v.numbers.taken, taken=v.numbers.taken, void=v.numbers.void, free=v.numbers.free,
        next=v.numbers.next, pulled=f.printed, signed=f.signed, left=f.left, papers=f.papers,
        proofs={k: ProofReport(p.given, p.cap, p.void, p.inside, p.papers)
                for k, p in v.proofs.items()},
        in_total=v.totals.in_total, everything=v.totals.everything, planned=v.planned,
        left_to_give=v.left_to_give, accounts=v.accounts,
        plates=tuple(PlateReport(p.name, p.pulls, p.before, p.total, p.state, p.cancelled)
                     for p in v.plates),
        bat=v.bat, standard=v.standard, short=v.short, cut_short=v.cut, cut_short_at=v.cut_at,
        cancelled=v.cancelled, to_number=v.to_number,
        siblings=tuple(SiblingReport(s.title, s.id, s.relation, s.size, s.shares, s.cancelled)
                       for s in v.siblings),
        size_with_siblings=v.size_with_siblings,
        clashes=tuple(ClashReport(c.key, c.text, c.mend) for c in v.clashes),
        sheets=tuple(map(register_row, v.rows)))


def _figures_report(v: EditionView) -> FiguresReport:
    f = v.figures
    return FiguresReport(
        f.declared, f.pulled.sheets, _tally(f.pulled), len(v.numbers.taken), len(v.numbers.void),
        v.left_to_give, f.after, OldPapersTally(f.old.sheets, _tally(f.old)))


def _tally(t: Tally) -> TallyReport:
    return TallyReport(t.numbered, t.signed, t.in_studio, t.out, t.lost, t.destroyed, t.unknown,
                       t.perhaps_signed, t.out_unsigned, *(t.places[p] for p in OUT))


def register_row(r: SheetRow) -> RegisterRow:
    """One sheet of the register."""
    return RegisterRow(r.label, r.number, r.kind, r.sheet, r.who, r.state, r.standing, r.place,
                       r.terms, r.since, r.due, r.where or None, r.papers, r.corrected)


def edition_lines(register: Register, id_: str, *, title: str, artist: str,
                  private: bool = False) -> list[str]:
    """One edition whole, as lines."""
    v = edition_view(register, id_, private=private)
    out = [head_line(v, title, artist), *(f"  {x}" for x in _figures(v))]
    out += [f"  clash: {c.text}; {c.mend}" for c in v.clashes]
    out += [f"  corrected: {x}" for x in v.put_right]
    for r in v.rows:
        where = f" · {r.where}" if r.where and r.where != "destroyed" else ""
        again = f" · corrected {r.corrected}×" if r.corrected else ""
        out.append(f"  {r.label}: {r.who} · {r.standing}{where}{again}")
    return out


def short_lines(register: Register, id_: str, *, title: str, artist: str) -> list[str]:
    """One edition in the list of all: a line, and every clash under it."""
    v = edition_view(register, id_)
    old = old_papers_line(v.figures)
    return [head_line(v, title, artist), f"  {figure_line(v)} · {next_number_words(v.numbers)}",
            *([f"  {old}"] if old else []), *(f"  clash: {c.text}; {c.mend}" for c in v.clashes)]


def head_line(v: EditionView, title: str, artist: str) -> str:
    """`Slack Water, Wren Halloran · edition of 40, cut short at 31, plate cancelled`."""
    form = {"varied": "varied edition", "open": "open edition"}.get(v.form, "edition")
    size = "" if v.form == "open" else (
        " of unknown size" if v.figures.declared is None else f" of {v.figures.declared}")
    ends = "" if v.cut_at is None else f", cut short at {v.cut_at}"
    gone = "" if v.cancelled is None else ", plate cancelled"
    of = f"{form}{size}{ends}{gone}"
    return f"{title}, {artist} · {of}" if artist else f"{title} · {of}"


def _shared_words(s: Sibling) -> str:
    """Which plates an edition beside this one shares with it, and whether its own were cancelled.

    Where nothing was said of the plates it is told only if one of them was cancelled.
    """
    gone = "" if s.cancelled is None else f" · cancelled: {s.cancelled}"
    if s.shares is None:
        return gone and f"{gone} · nobody recorded which plates they share"
    return f" · {'shares ' + ', '.join(s.shares) if s.shares else 'shares no plate'}{gone}"


def next_number_words(t: TakenNumbers) -> str:
    """Which number is next."""
    return "no next number" if t.next is None else f"next {t.next}"


def _figures(v: EditionView) -> Iterable[str]:
    f = v.figures
    yield figure_line(v)
    if f.pulled.out_unsigned:
        yield f"out and not signed: {f.pulled.out_unsigned}"
    if old := old_papers_line(f):
        yield old
    yield f"used: {runs_text(v.numbers.taken) or 'none'} · {next_number_words(v.numbers)}"
    if v.numbers.void:
        yield f"void: {runs_text(v.numbers.void)}"
    if v.left_to_give is not None:
        yield f"numbers free: {v.left_to_give}"
    for kind, p in v.proofs.items():
        if kind == "BAT":
            continue  # which sheet it is stands below
        cap = "" if p.cap is None else f" of {p.cap}"
        inside = ", counted inside the total" if p.inside else ""
        gone = f", {p.void} void" if p.void else ""
        over = f", {p.over} above its cap" if p.over else ""
        old = f", {p.papers} from old papers" if p.papers else ""
        yield f"{kind}: {p.given}{cap}{inside}{old}{gone}{over}"
    yield f"BAT: {v.bat or 'none approved yet'}"
    if v.standard is not None and not v.standard_is_bat:
        yield f"standard: {v.standard}"
    for p2 in v.plates:
        before = "before this book not known" if p2.before is None else f"{p2.before} before it"
        state = "" if p2.state is None else f" · {p2.state}"
        gone = " · cancelled" if p2.cancelled else ""
        yield f"plate {p2.name}: {p2.pulls} impressions in this book, {before}{state}{gone}"
    yield from (f"short edition: {x}" for x in v.short)
    if v.cut is not None:
        yield f"cut short: {v.cut}"
    if v.cancelled is not None:
        yield f"cancelled: {v.cancelled}"
        if v.to_number:
            yield (f"pulled before that and not sorted: {v.to_number}; "
                   f"{'it' if v.to_number == 1 else 'they'} can still take a number")
    for s in v.siblings:
        how = f" ({s.relation})" if s.relation else ""
        yield (f"beside it: {s.title or s.id}{how}, {'open' if s.size is None else s.size}"
               f"{_shared_words(s)}")
    if v.siblings and v.size_with_siblings is not None:
        yield f"together: {v.size_with_siblings}"
