"""Editions as plain values and as lines of text. Pure: nothing here depends on now.

The printer's own words about people are left out unless `private` asks for them.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from benchapp.edition.numbers import TakenNumbers, runs_text
from benchapp.edition.state import Register
from benchapp.edition.view import EditionView, SheetRow, Sibling, edition_view
from benchapp.reports.figures import figure_line, figure_values, old_papers_line

Values = dict[str, Any]


def edition_values(register: Register, id_: str, *, title: str, artist: str,
                   private: bool = False) -> Values:
    """One edition as JSON values; what nobody said is null, and counts are integers."""
    v = edition_view(register, id_, private=private)
    f = v.figures
    return {
        "print": title, "artist": artist, "id": v.id, "form": v.form, "size": f.declared,
        "declared_by": v.declared_by or None, "figures": figure_values(v),
        "used": list(v.numbers.taken), "taken": list(v.numbers.taken),
        "void": list(v.numbers.void), "free": list(v.numbers.free), "next": v.numbers.next,
        "pulled": f.printed, "signed": f.signed, "left": f.left, "papers": f.papers,
        "proofs": {k: {"given": p.given, "cap": p.cap, "void": p.void, "inside": p.inside,
                       "from_old_papers": p.papers} for k, p in v.proofs.items()},
        "in_total": v.totals.in_total, "everything": v.totals.everything,
        "planned": v.planned, "left_to_give": v.left_to_give, "accounts": v.accounts,
        "plates": [{"plate": p.name, "pulls": p.pulls, "before": p.before, "total": p.total,
                    "state": p.state, "cancelled": p.cancelled} for p in v.plates],
        "bat": v.bat, "standard": v.standard, "short": list(v.short), "cut_short": v.cut,
        "cut_short_at": v.cut_at,
        "cancelled": v.cancelled, "to_number": v.to_number,
        "siblings": [{"print": s.title, "id": s.id, "relation": s.relation, "size": s.size,
                      "shares": None if s.shares is None else list(s.shares),
                      "cancelled": s.cancelled} for s in v.siblings],
        "size_with_siblings": v.size_with_siblings,
        "clashes": [{"key": c.key, "text": c.text, "mend": c.mend} for c in v.clashes],
        "sheets": [row_values(r) for r in v.rows],
    }


def row_values(r: SheetRow) -> Values:
    """One sheet of the register: codes and dates, and the same in words."""
    return {"label": r.label, "number": r.number, "kind": r.kind, "sheet": r.sheet,
            "who": r.who, "state": r.state, "standing": r.standing,
            "place": r.place, "terms": r.terms, "since": r.since, "due": r.due,
            "where": r.where or None, "from_old_papers": r.papers, "corrected": r.corrected}


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
        " of a size not known" if v.figures.declared is None else f" of {v.figures.declared}")
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
        return gone and f"{gone} · which plates they share is not known"
    return f" · {'shares ' + ', '.join(s.shares) if s.shares else 'shares no plate'}{gone}"


def next_number_words(t: TakenNumbers) -> str:
    """Which number is next."""
    return "no number is next" if t.next is None else f"next {t.next}"


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
        over = f", {p.over} more than meant" if p.over else ""
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
