"""What can be wrong in the book about one sheet, and how it is put right: one meaning each. Pure.

The command and the screens read their words here, so that both can say the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition.holding import (
    BEARS,
    DESTROYED,
    IN_STUDIO,
    LOST,
    OUT,
    SIGNED,
    Holding,
    SheetCorrection,
    SheetLabel,
    Stay,
)
from benchapp.edition.numbers import is_void, label_text, number_words, place_words, sheet_words
from benchapp.edition.parse import read_claim, read_total
from benchapp.edition.state import (
    AT_THE_PRESS,
    KINDS_OF_PROOF,
    NUMBERED,
    Edition,
    Register,
)
from benchapp.events.words import LABELS, PURPOSES
from benchapp.quantities import read_day

Asks = Literal["nothing", "number", "kind", "pulled for", "place", "day", "words"]

PLACES: Final = (*IN_STUDIO, *OUT, LOST)
#: What a sheet can be, and what it can have been pulled for.
KINDS: Final = tuple(x for x in LABELS if x != NUMBERED)
PULLED_FOR: Final = tuple(x for x in PURPOSES if x not in KINDS_OF_PROOF)
#: For a day nobody knows, and for words that are not to be said any more.
NOT_KNOWN: Final = "not known"


@dataclass(frozen=True, slots=True)
class Wrong:
    """One thing that can be wrong about a sheet.

    Attributes:
        words: How it is said after the name of the sheet: `number`, `not signed`.
        text: What is so then, for people.
        asks: What has to be said with it.
        grave: It changes what is numbered, signed or there: asked before it is written.
        kind: What it is not, where that is all there is to say: `BAT`.
    """

    words: str
    text: str
    asks: Asks = "nothing"
    grave: bool = False
    kind: str | None = None


NUMBER: Final = Wrong("number", "another number is pencilled on it", "number", grave=True)
PURPOSE: Final = Wrong("purpose", "it is another kind: AP, BAT …", "kind", grave=True)
PULLED: Final = Wrong("purpose", "it was pulled for something else: TP, WP …", "pulled for",
                      grave=True)
NOT_NUMBERED: Final = Wrong("not numbered", "nothing is pencilled on it", grave=True)
IS_SIGNED: Final = Wrong("signed", "it is signed", grave=True)
NOT_SIGNED: Final = Wrong("not signed", "it is not signed", grave=True)
IS_DESTROYED: Final = Wrong("destroyed", "it is destroyed", grave=True)
NOT_DESTROYED: Final = Wrong("not destroyed", "it is not destroyed", grave=True)
IS_VOID: Final = Wrong("void", "its number is never used again", grave=True)
NOT_VOID: Final = Wrong("not void", "its number is not void", grave=True)
NOT_CANCELLED: Final = Wrong("not cancelled", "the plate is not cancelled", grave=True)
NOT_SETTLED: Final = Wrong("not settled", "the clash is not settled", grave=True)
NO_SUCH: Final = Wrong("no such sheet", "there is no such sheet: its line on paper was a mistake",
                       grave=True)
PLACE: Final = Wrong("place", "it is somewhere else, and never was where the book says", "place")
SINCE: Final = Wrong("since", "it has been there since another day", "day")
DUE: Final = Wrong("due", "it is due back on another day", "day")
TERMS: Final = Wrong("terms", "the terms are different", "words")
TO: Final = Wrong("to", "somebody else has it", "words")
NOTE: Final = Wrong("note", "your own note is wrong", "words")
WHOSE: Final = Wrong("whose", "the proof is somebody else's", "words")

ALL: Final = (NUMBER, PURPOSE, NOT_NUMBERED, NOT_SIGNED, IS_SIGNED, NOT_DESTROYED, IS_DESTROYED,
              NOT_VOID, IS_VOID, NO_SUCH, NOT_CANCELLED, NOT_SETTLED, PLACE, SINCE, DUE, TERMS, TO,
              NOTE, WHOSE)


def not_kind(kind: str) -> Wrong:
    """It is not the BAT, and nothing is said of what it is instead."""
    which = "the BAT" if kind == "BAT" else f"{'an' if kind[0] in 'AH' else 'a'} {kind}"
    return Wrong(f"not {kind}", f"it is not {which}", grave=True, kind=kind)


_BY_WORDS: Final = {w.words: w for w in ALL}


def can_be_wrong(register: Register, print_: str, sheet: str) -> tuple[Wrong, ...]:
    """What can be put right about a sheet, in the order of a list to choose from."""
    e = register.edition(print_)
    h = e.holdings.get(sheet) or e.withdrawn.get(sheet)
    pulled = (PULLED,) if sheet in register.sheets else ()
    if h is None:
        return (NUMBER, PURPOSE, *pulled)
    if h.absent:
        return (NUMBER, PURPOSE)
    return (*_pencilled(h), *pulled, *_state(e, h), *_where(h))


def _pencilled(h: Holding) -> Iterator[Wrong]:
    yield NUMBER
    yield PURPOSE
    if h.claims:
        yield NOT_NUMBERED
    if any(b.kind == "BAT" for b in h.claims):
        yield not_kind("BAT")


def _state(e: Edition, h: Holding) -> Iterator[Wrong]:
    in_doubt = set(h.doubts) | {DESTROYED for _, t in h.meanwhile if t.destroyed}
    if h.signed is not None or h.perhaps_signed:
        yield NOT_SIGNED
    if SIGNED in in_doubt or h.perhaps_signed or (
            h.signed is None and any(c.signed is False for c in h.corrections)):
        yield IS_SIGNED
    if h.destroyed is not None:
        yield NOT_DESTROYED
    if DESTROYED in in_doubt:
        yield IS_DESTROYED
    if is_void(e, h):
        yield NOT_VOID
    if h.papers is not None:
        yield NO_SUCH


def _where(h: Holding) -> Iterator[Wrong]:
    stay = h.place
    if h.destroyed is None and stay is not None:
        yield PLACE
        if not h.astray:
            yield SINCE
            yield from (DUE, TERMS) if stay.place == "gallery" else ()
            yield from (TO,) if stay.place in OUT else ()
            yield from (NOTE,) if h.words_at(stay).get("note") else ()
    if h.gave and h.bears is not None and h.bears.kind != NUMBERED:
        yield WHOSE


# -- what is said, read ----------------------------------------------------------------------


def split_correction(words: Sequence[str]) -> tuple[str, Wrong, str] | None:
    """The sheet, what is wrong, and what is said with it; None: nothing is said to be wrong.

    `AP II not signed` is the sheet `AP II` and `not signed`.
    """
    for i in range(1, len(words)):
        for length in (3, 2, 1):
            found = _BY_WORDS.get(" ".join(words[i:i + length]).casefold())
            if found is not None:
                return " ".join(words[:i]), found, " ".join(words[i + length:])
        if words[i].casefold() == "not" and (kind := _kind(" ".join(words[i + 1:]))) is not None:
            wrong = NOT_NUMBERED if kind == NUMBERED else not_kind(kind)
            return " ".join(words[:i]), wrong, ""
    return None


def _kind(said: str) -> str | None:
    """The kind as the trade writes it, however it was typed; None: there is none such."""
    return next((k for k in (*KINDS, NUMBERED) if k.casefold() == said.casefold()), None)


def correction_of(register: Register, print_: str, sheet: str, wrong: Wrong, said: str,
                  why: str) -> a.Action | Refusal:
    """What is done to put it right.

    Args:
        register: All editions.
        print_: The edition.
        sheet: The sheet, by its id.
        wrong: What is wrong about it.
        said: What is so instead, as it was typed; empty where nothing is asked.
        why: What was seen, or what the mistake was.
    """
    e = register.edition(print_)
    h = e.holdings.get(sheet) or e.withdrawn.get(sheet)
    said = said.strip()
    if wrong.asks == "nothing":
        if said:
            return Refusal(f"{said} does not belong after {wrong.words}",
                           "leave it out", rule="use")
        return _plainly(e, h, sheet, wrong, why)
    if wrong in (NUMBER, PURPOSE):
        bears = _read_bears(h, wrong, said)
        return bears if isinstance(bears, Refusal) else a.Correct(print_, sheet, bears, why)
    if not said:
        return Refusal(f"Something is missing after {wrong.words}",
                       {"place": f"write one of {', '.join(PLACES)}",
                        "day": f"write a day such as 2026-05-03, or {NOT_KNOWN}"}.get(
                            wrong.asks, f"write it, or {NOT_KNOWN}"), rule="use")
    words = None if said.casefold() == NOT_KNOWN else said
    if wrong in (TO, NOTE, WHOSE):
        return a.CorrectWords(print_, sheet, {wrong.words: words or ""}, why)
    name = "day" if wrong == SINCE else wrong.words
    return a.CorrectPlace(print_, sheet, {name: words}, why)


def day_text(wrong: Wrong, said: str, today: date) -> str:
    """What is said, with a day as ISO 8601 has it: `friday` becomes `2026-05-01`.

    Raises:
        QuantityError: A day is asked for, and it is none.
    """
    said = said.strip()
    if wrong.asks != "day" or not said or said.casefold() == NOT_KNOWN:
        return said
    return read_day(said, today, "coming" if wrong == DUE else "past").isoformat()


def read_pulled_for(said: str) -> tuple[str, str | None] | None:
    """What a sheet was pulled for, and the state of a state proof: `TP`, `SP II`; None: neither."""
    kind = _kind(said)
    if kind in PULLED_FOR:
        return kind, None
    head, _, state = said.partition(" ")
    return ("SP", state) if head.casefold() == "sp" and state else None


def _plainly(e: Edition, h: Holding | None, sheet: str, wrong: Wrong,
             why: str) -> a.Action | Refusal:
    """What asks for nothing more: it is so, or it is not."""
    if wrong in (IS_VOID, NOT_VOID):
        number = next((b.number for b in (() if h is None else h.claims)
                       if b.kind == NUMBERED and b.number is not None), None)
        if number is None:
            return Refusal("The sheet has no number of the edition",
                           "name the number", rule="number")
        return (a.VoidNumber if wrong == IS_VOID else a.UnvoidNumber)(e.id, number, why)
    if wrong == IS_DESTROYED and (h is None or h.destroyed is None):
        return a.Destroy(e.id, sheet, why)
    if wrong.kind is not None and (h is None or wrong.kind not in {b.kind for b in h.claims}):
        return Refusal(f"The book does not say that it is {wrong.kind}",
                       "say what it was pulled for, as: purpose edition"
                       if wrong.kind in AT_THE_PRESS else "there is nothing to correct",
                       rule="kind")
    bears = None if wrong == NOT_NUMBERED or wrong.kind is not None else a.AS_IT_IS
    return a.Correct(e.id, sheet, bears, why,
                     {IS_SIGNED: True, NOT_SIGNED: False}.get(wrong),
                     {IS_DESTROYED: True, NOT_DESTROYED: False}.get(wrong),
                     False if wrong == NO_SUCH else None)


def _read_bears(h: Holding | None, wrong: Wrong, said: str) -> SheetLabel | Refusal:
    """What stands on it, as it was typed: `13`, `13/40`, `AP 2`; the total stays as it was."""
    kind = _kind(said)
    claim = (kind, None) if kind is not None else read_claim(said)
    if claim is None or (claim[1] is None if wrong == NUMBER else claim[0] == NUMBERED):
        return Refusal(f"{said or 'Nothing'} is not a number" if wrong == NUMBER
                       else f"{said or 'Nothing'} is not a kind of sheet",
                       "write such as number 13, or number AP 2" if wrong == NUMBER
                       else f"write one of {', '.join(KINDS_OF_PROOF)}, with its number",
                       rule="use")
    total = read_total(said)
    was = None if h is None else h.bears
    if total is None and was is not None and was.kind == claim[0]:
        total = was.of
    return SheetLabel(*claim, total)


# -- what was put right, told ----------------------------------------------------------------


def correction_lines(e: Edition, h: Holding) -> tuple[str, ...]:
    """What was put right about a sheet, the first first: what it is now, what it was, and why.

    Nobody's name: the printer's own words stay at home.
    """
    told = [(c.at.wall_ms, _correction(e, c)) for c in h.corrections]
    told += [(s.at.wall_ms, _moved(h, s)) for s in h.places if s.why is not None]
    numbers = {b.number for b in h.claims if b.kind == NUMBERED}
    told += [(n.at.wall_ms, f"corrected to not void: {n.why}") for n in e.not_void
             if n.number in numbers]
    return tuple(text for _, text in sorted(told))


def put_right(e: Edition) -> tuple[str, ...]:
    """What was put right about the edition itself, and the sheets that there never were."""
    numbers = [(n.at.wall_ms, f"{number_words(e, n.number)} is not void, as it was recorded: "
                f"{n.why}") for n in e.not_void]
    rest = [(m.at.wall_ms, f"{_MISTAKES.get(m.what, m.what)}, as it was recorded: {m.why}")
            for m in e.mistakes]
    rest += [(h.corrections[-1].at.wall_ms, f"{sheet_words(h)}: there is no such sheet, as it was "
              f"recorded: {h.corrections[-1].why}") for h in e.withdrawn.values() if h.corrections]
    return tuple(text for _, text in sorted((*numbers, *rest)))


_MISTAKES: Final = {"plate cancelled": "the plate is not cancelled",
                    "clash settled": "a clash is not settled"}


def _correction(e: Edition, c: SheetCorrection) -> str:
    parts = []
    if BEARS in c.about:
        now = "nothing pencilled on it" if c.now is None else label_text(e, c.now)
        parts.append(now + ("" if c.was in (c.now, None) else f", not {label_text(e, c.was)}"))
    if c.signed is not None:
        parts.append("signed" if c.signed else "not signed")
    if c.destroyed is not None:
        parts.append("destroyed" if c.destroyed else "not destroyed")
    if c.known is False:
        parts.append("no such sheet")
    return f"corrected to {', '.join(parts) or 'what it is'}: {c.why}"


def _moved(h: Holding, stay: Stay) -> str:
    was = " / ".join(place_words(s) for s in h.places if s.id in stay.corrects)
    return f"corrected to {place_words(stay)}" + (f", not {was}" if was else "") + f": {stay.why}"


def asked_of(wrong: Wrong, name: str) -> str:
    """What is asked, with the name of the sheet."""
    return {"number": f"Which number is pencilled on {name}?",
            "kind": f"What is {name}?", "pulled for": f"What was {name} pulled for?",
            "place": f"Where is {name}?",
            "day": f"Since which day is {name} there?" if wrong == SINCE
            else f"On which day is {name} due back?",
            "words": {"to": f"Who has {name}?", "whose": f"Whose proof is {name}?",
                      "terms": f"On which terms is {name} there?",
                      }.get(wrong.words, f"What is your note on {name}?"),
            "nothing": f"{name}: {wrong.text}"}[wrong.asks]
