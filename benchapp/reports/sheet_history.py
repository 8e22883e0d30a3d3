"""One impression's own history, for whoever has it. Pure.

It tells what the book has of that sheet alone: of one from old papers, not how the rest of the
edition was made. One that was destroyed, or that has no number, is not to be signed.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.corrections import correction_lines
from benchapp.edition.holding import Holding
from benchapp.edition.numbers import (
    bearer_words,
    is_void,
    label_text,
    place_words,
    session_day_words,
    sheet_words,
)
from benchapp.edition.state import TRIALS, Edition, Register
from benchapp.edition.view import edition_view
from benchapp.events.entry import Moment
from benchapp.events.moments import local_time
from benchapp.reports.documentation import (
    NOT_KNOWN,
    TO_SIGN,
    About,
    PaperPart,
    PaperSheet,
    by_date,
    plate_rows,
    print_materials,
)
from benchapp.session.values import setting_text
from benchapp.views.sheets import SheetWhole

#: What was set on the day stands in the place of what the recipe says.
_IN_MATERIALS: Final = ("Paper", "Ink")


def sheet_history(register: Register, id_: str, sheet: str, whole: SheetWhole | None,
                  about: About, *, private: bool = False) -> PaperSheet:
    """One impression's own history: no price, and nobody's name but the artist's.

    Args:
        register: All editions.
        id_: The edition the sheet is of.
        sheet: Its id.
        whole: The sheet as its session knows it; None: it is known from old papers.
        about: What the register does not hold, with the recipe that sheet was printed on.
        private: Whose it is, who passed it, and who has it, in the printer's own words.
    """
    register = by_date(register)
    e = register.edition(id_)
    held = e.holdings.get(sheet) or e.withdrawn.get(sheet) or _unheld(register, sheet)
    became = _became(register, e, held)
    no = _not_to_sign(e, held, became)
    settings = _settings(whole, about)
    plates = tuple(plate_rows(e, edition_view(register, id_), about.recipes))
    parts = (
        PaperPart("The impression", tuple(_about(register, e, held, became, about))),
        PaperPart("How it was made", (*_pulls(whole), *((k, v) for k, v in settings.items()
                                                        if k not in _IN_MATERIALS))),
        PaperPart("The plate", plates),
        PaperPart("Paper, ink and press", tuple(
            (name, settings.get(name, value)) for name, value in print_materials(about.recipes))),
        PaperPart("Private", tuple(_private(held)) if private else ()),
    )
    title = f"{about.title}, {became or 'no number'}" if no is None else (
        f"{about.title}, {became or sheet_words(held)} {no}: not to be signed")
    return PaperSheet(title, f"History of one impression · {about.artist}",
                      tuple(p for p in parts if p.rows), TO_SIGN if no is None else ())


def _became(register: Register, e: Edition, held: Holding) -> str:
    """What stands on it: a number, a kind, or what a trial was pulled as; empty: nothing."""
    if held.bears is not None:
        return label_text(e, held.bears)
    known = register.sheets.get(held.sheet)
    if known is not None and known.purpose in TRIALS:
        return known.purpose + (f", state {known.state}" if known.state else "")
    return "unnumbered" if e.form == "open" and held.signed is not None else ""


def _not_to_sign(e: Edition, held: Holding, became: str) -> str | None:
    """Why nobody is to sign under it, as the end of a sentence; None: it can be signed."""
    if held.absent:
        return "does not exist"
    if held.destroyed is not None:
        return f"is destroyed ({held.destroyed.why})"
    if is_void(e, held) and held.bears is not None and held.bears.number is not None:
        return f"is void ({e.voids[held.bears.number].why})"
    if held.also or held.doubts:
        return "is in doubt (books differ)"
    return None if became else "has no number"


def _about(register: Register, e: Edition, held: Holding, became: str,
           about: About) -> Iterable[tuple[str, str]]:
    yield from (("Title", about.title), ("Artist", about.artist or NOT_KNOWN),
                ("Number", became or "no number"))
    yield "Signature", NOT_KNOWN if held.perhaps_signed else (
        "not signed" if held.signed is None else f"signed; recorded {_day(held.signed)}")
    yield "Which sheet", bearer_words(held)
    if held.destroyed is not None:
        yield "Destroyed", f"{held.destroyed.why}; recorded {_day(held.destroyed.at)}"
    for line in correction_lines(e, held):
        yield "Corrected", line.removeprefix("corrected to ")
    for clash in unsettled_clashes(register, e.id):
        if held.sheet in clash.sheets:
            yield "Not resolved", clash.text


def _pulls(whole: SheetWhole | None) -> tuple[tuple[str, str], ...]:
    if whole is None:
        return (("Pulled", f"{NOT_KNOWN}, before this book"),)
    return (("Pulled", "; ".join(
        f"plate {' and '.join(p.plates)}, {_when(p.at)}" for p in whole.pulls)),
            ("Pull of its day", str(whole.line.number)))


def _settings(whole: SheetWhole | None, about: About) -> dict[str, str]:
    """What was set, each once: its name with a capital, its value in one spelling."""
    if whole is None:
        return {}
    recipe = about.recipe
    found: dict[str, str] = {}
    for name, value in whole.settings:
        words = " ".join(name.split()).casefold()
        found[words[:1].upper() + words[1:]] = value if recipe is None else setting_text(
            recipe, name, value)
    return found


def _private(held: Holding) -> Iterable[tuple[str, str]]:
    """The printer's own words on it, and everywhere it is known to have been."""
    if held.words.get("whose"):
        yield "Whose it is", held.words["whose"]
    if held.passed:
        yield "Passed by", " or ".join(held.passed)
    for stay in sorted(held.places, key=lambda s: (s.at.wall_ms, s.id)):
        yield "Where it was", "; ".join((
            f"{place_words(stay)}, recorded {_day(stay.at)}",
            *(f"{k}: {v}" for k, v in held.words_at(stay).items())))


def _unheld(register: Register, sheet: str) -> Holding:
    known = register.sheets[sheet]
    return Holding(known.id, known.mark, known.session, shared=known.shared)


def _when(at: Moment | None) -> str:
    return f"time {NOT_KNOWN}" if at is None else f"{_day(at)}, {local_time(at):%H:%M}"


def _day(at: Moment) -> str:
    return session_day_words(local_time(at).date().isoformat())
