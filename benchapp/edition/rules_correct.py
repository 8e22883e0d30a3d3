"""What was recorded by mistake is put right: the sheet is the truth, and the change stays seen.

A correction says one thing, and tells of that alone. It is itself corrected by a later one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from benchapp.decision import Refusal, written_ids
from benchapp.edition import actions as a
from benchapp.edition.context import EditionContext, label_fields
from benchapp.edition.holding import (
    BEARS,
    DESTROYED,
    IN_STUDIO,
    KNOWN,
    LOST,
    OUT,
    SIGNED,
    Holding,
    SheetLabel,
    Stay,
    same_side,
)
from benchapp.edition.numbers import (
    HOW_TO_NAME,
    correct_command,
    label_text,
    number_words,
    place_word,
    session_day_words,
    sheet_words,
)
from benchapp.edition.rules_papers import known_kind
from benchapp.edition.sharing import of_the_same_plates
from benchapp.edition.state import NUMBERED, Edition
from benchapp.edition.validators import (
    MOST,
    all_words,
    check_day,
    check_event_day,
    check_optional_text,
    check_text,
    twins_of,
)
from benchapp.events.edition import (
    NumberNotVoid,
    RecordedByMistake,
    SheetCorrected,
    SheetHandedOut,
    SheetPlaced,
)
from benchapp.events.field_types import ABSENT

#: The reason, among the words it is kept with.
_WHY_SAID: Final = "corrected"
_SAY_WHY: Final = "say why: what you saw, or the mistake"


def correct(page: EditionContext, action: a.Correct) -> Refusal | None:
    """What is pencilled on a sheet, if it is signed or destroyed, if there is one at all."""
    h = _held(page, action.sheet)
    if isinstance(h, Refusal):
        return h
    about = _about(h, action)
    refusal = (check_text(action.why, "The reason", _SAY_WHY) or _pencil(page.e, action.bears)
               or _never(h, action) or _already(page, h, about, action))
    if refusal is not None:
        return refusal
    bears = None if action.bears is a.AS_IT_IS else action.bears
    page.emit(SheetCorrected(
        **page.over(h, (*h.all_told, *(twins_of(page.e, h) if action.destroyed else ()))),
        was=label_fields(h.bears) if BEARS in about else None, now=label_fields(bears),
        signed=action.signed, found=action.destroyed is False, why=action.why.strip(),
        about=tuple(sorted(about)), absent=True if action.known is False else ABSENT))
    return None


def _held(page: EditionContext, sheet: str) -> Holding | Refusal:
    h = page.holding(sheet)
    return Refusal(f"No sheet {sheet} is in the book",
                   HOW_TO_NAME, rule="sheet") if h is None else h


def _about(h: Holding, action: a.Correct) -> frozenset[str]:
    """What it tells of; what stands on a sheet stands on one that is there."""
    said = {BEARS: action.bears is not a.AS_IT_IS, SIGNED: action.signed is not None,
            DESTROYED: action.destroyed is not None,
            KNOWN: action.known is not None or (
                (h.absent or KNOWN in h.doubts) and action.bears not in (None, a.AS_IT_IS))}
    return frozenset(what for what, is_said in said.items() if is_said)


def _pencil(e: Edition, bears: SheetLabel | a.AsItIs | None) -> Refusal | None:
    if not isinstance(bears, SheetLabel):
        return None
    for figure in (bears.number, bears.of):
        if figure is not None and not 1 <= figure <= MOST:
            return Refusal(f"{figure} is not a number that is written on a sheet",
                           f"from 1 to {MOST}", rule="count")
    if bears.number is not None and bears.of is not None and bears.number > bears.of:
        return Refusal(f"{bears.number} is more than {bears.of}", "look at it again", rule="count")
    if bears.kind == NUMBERED and bears.number is None:
        return Refusal("The number written on it is missing", "add it", rule="number")
    return known_kind(e, bears.kind)


def _never(h: Holding, action: a.Correct) -> Refusal | None:
    """What is no mistake of the book but has happened, and has a way of its own."""
    if action.destroyed and h.destroyed is None:
        return Refusal(f"{sheet_words(h)} is not recorded as destroyed",
                       "record that it was destroyed", rule="destroyed")
    if action.known is False and h.papers is None:
        return Refusal(f"{sheet_words(h)} was pulled in a session, so there is such a "
                       "sheet", "if it no longer exists, record that it was destroyed",
                       rule="known")
    return None


def _already(page: EditionContext, h: Holding, about: frozenset[str],
             action: a.Correct) -> Refusal | None:
    """Nothing of what is said is otherwise in the book, nor in dispute."""
    if any(_differs(page.e, h, what, action) for what in about):
        return None
    return _no_change(h)


def _differs(e: Edition, h: Holding, what: str, action: a.Correct) -> bool:
    if what in h.doubts:
        return True
    gone = any(t.destroyed is not None for _, t in h.meanwhile)
    if what == BEARS:
        bears = action.bears if isinstance(action.bears, SheetLabel) else None
        return (bool(h.also) or any(t.destroyed is None for _, t in h.meanwhile)
                or _written(e, h.bears) != _written(e, bears))
    return {SIGNED: h.perhaps_signed or action.signed != (h.signed is not None),
            DESTROYED: gone or action.destroyed != (h.destroyed is not None),
            KNOWN: h.absent == (action.known is not False)}[what]


def _written(e: Edition, bears: SheetLabel | None) -> tuple[object, ...]:
    return () if bears is None else (bears.claim, label_text(e, bears))


def not_void(page: EditionContext, action: a.UnvoidNumber) -> Refusal | None:
    """A number that was voided by mistake is used, or can be."""
    e = page.e
    refusal = check_text(action.why, "The reason", _SAY_WHY)
    if refusal is not None:
        return refusal
    words = number_words(e, action.number)
    void = e.voids.get(action.number)
    if void is None:
        gone = [h for h in e.holdings.values() if h.destroyed is not None
                and (NUMBERED, action.number) in {b.claim for b in h.claims}]
        return Refusal(f"{words} is not void", "there is nothing to correct", rule="void") if (
            not gone) else Refusal(f"{words} is {sheet_words(gone[0])}, which was "
                                   "destroyed",
                                   "if it is whole: "
                                   f"{correct_command(gone[0], 'not destroyed')}", rule="destroyed")
    if void.cut:
        return Refusal(f"{words} is {void.why}",
                       "say where the edition ends: --cut-short", rule="cut")
    page.emit(NumberNotVoid(print=page.id, number=action.number, why=action.why.strip(),
                            over=void.said))
    return None


def by_mistake(page: EditionContext, action: a.ByMistake) -> Refusal | None:
    """The plates can be printed from again, or the clash is open again."""
    e = page.e
    refusal = check_text(action.why, "The reason", _SAY_WHY)
    if refusal is not None:
        return refusal
    if action.clash is not None:
        over = [x for x, (key, _) in e.settlings.items() if key == action.clash]
        if action.clash not in e.settled:
            return Refusal("No such clash is settled", "there is nothing to correct", rule="clash")
    else:
        over = [c.id for c in e.cancellings]
        if not over:
            return _not_cancelled(page)
    page.emit(RecordedByMistake(print=page.id, what=action.what, why=action.why.strip(),
                                over=written_ids(over)))
    return None


def _not_cancelled(page: EditionContext) -> Refusal:
    """Nobody recorded here that they are; it may be so by an edition that shares them."""
    other = next((k for k in of_the_same_plates(page.state, page.id) if k.cancellings), None)
    return Refusal("Nobody recorded that the plate was cancelled",
                   "there is nothing to correct", rule="cancelled") if other is None else Refusal(
               f"The cancelled plate is recorded with {other.title or other.id}",
               f"correct it there: --print {other.id}", rule="cancelled")


# -- where it is ----------------------------------------------------------------------------


def correct_place(page: EditionContext, action: a.CorrectPlace) -> Refusal | None:
    """Where it is, since when, due when and on which terms; a place may take the rest along."""
    h = _there(page, action.sheet)
    if isinstance(h, Refusal):
        return h
    stay = h.place
    refusal = check_text(action.why, "The reason", _SAY_WHY) or _in_doubt(h, action)
    if refusal is not None or stay is None:
        return refusal or _nowhere(h)
    so = _so(stay, action.said)
    worded = _words_now(h.words_at(stay), action.words)
    refusal = (_place(so["place"]) or check_event_day(page, so["day"], h) or _of_a_gallery(h, so)
               or check_optional_text(so["terms"], "The terms") or all_words(action.words))
    if refusal is not None:
        return refusal
    same = not h.astray and (so["place"], so["terms"], so["day"], so["due"]) == stay.said
    if same and worded is None:
        return _no_change(h)
    if not same:
        _emit_place(page, h, so, action.why.strip())
    if worded is not None:
        _reword(page, h, {stay.action}, worded, action.why)
    return None


def _emit_place(page: EditionContext, h: Holding, so: Mapping[str, str | None], why: str) -> None:
    place, day = so["place"] or "", so["day"]
    if place in OUT:
        page.emit(SheetHandedOut(**page.over(h, h.all_told), place=place, terms=so["terms"],
                                 day=day, due=so["due"], why=why))
    else:
        page.emit(SheetPlaced(**page.over(h, h.all_told), place=place,
                              day=ABSENT if day is None else day, why=why))


def _there(page: EditionContext, sheet: str) -> Holding | Refusal:
    h = _held(page, sheet)
    if isinstance(h, Refusal) or (h.destroyed is None and not h.absent):
        return h
    if h.absent:
        return Refusal(f"There is no sheet {sheet_words(h)}",
                       f"if there is one: {correct_command(h, 'number N')}", rule="known")
    return Refusal(f"{sheet_words(h)} was destroyed",
                   f"if it is whole: {correct_command(h, 'not destroyed')}", rule="destroyed")


def _in_doubt(h: Holding, action: a.CorrectPlace) -> Refusal | None:
    if h.place is None:
        return _nowhere(h)
    if h.astray and "place" not in action.said:
        return Refusal(f"Books differ on where {sheet_words(h)} is",
                       f"correct that first: {correct_command(h, 'place PLACE')}", rule="place")
    return None


def _nowhere(h: Holding) -> Refusal:
    return Refusal(f"Nobody has recorded where {sheet_words(h)} is",
                   "record it first: benchapp where-is SHEET --now PLACE", rule="place")


def _so(stay: Stay, said: Mapping[str, str | None]) -> dict[str, str | None]:
    """What is so: as it is said, else as it was where that goes with the place."""
    place = said.get("place", stay.place) or ""
    if not same_side(place, stay.place):
        return {"day": None, "due": None, "terms": None, **said, "place": place}
    of_gallery = {"due": stay.due, "terms": stay.terms} if place == "gallery" else {
        "due": None, "terms": None}
    return {"day": stay.day, **of_gallery, **said, "place": place}


def _place(place: str | None) -> Refusal | None:
    known = (*IN_STUDIO, *OUT, LOST)
    return None if place in known else Refusal(
        f"{place or 'Nothing'} is not a place", "write " + ", ".join(known), rule="place")


def _of_a_gallery(h: Holding, so: Mapping[str, str | None]) -> Refusal | None:
    due, since = so["due"], so["day"]
    if so["place"] != "gallery" and (due is not None or so["terms"] is not None):
        return Refusal(f"{sheet_words(h)} is {place_word(so['place'] or '')}: only a sheet with "
                       "a gallery has terms and is due back",
                       f"correct that first: {correct_command(h, 'place gallery')}", rule="due")
    refusal = check_day(due)
    if refusal is None and due is not None and since is not None and due < since:
        return Refusal(f"Due back on {session_day_words(due)}, before it went on "
                       f"{session_day_words(since)}", "name a later day", rule="day")
    return refusal


def _no_change(h: Holding) -> Refusal:
    return Refusal(f"The book already says that of {sheet_words(h)}",
                   "there is nothing to correct", rule="already")


def correct_words(page: EditionContext, action: a.CorrectWords) -> Refusal | None:
    """Who has it, a note, whose proof it is; the reason stays at home with the words."""
    h = _held(page, action.sheet)
    if isinstance(h, Refusal):
        return h
    refusal = check_text(action.why, "The reason", _SAY_WHY) or all_words(action.said)
    if refusal is not None:
        return refusal
    stay = h.place
    proof = "whose" in action.said
    if proof and (not h.gave or h.bears is None or h.bears.kind == NUMBERED):
        return Refusal(f"{sheet_words(h)} is not recorded as a proof",
                       "keep it as one first", rule="kind")
    if not proof and stay is None:
        return _nowhere(h)
    if not proof and h.astray:
        return Refusal(f"Books differ on where {sheet_words(h)} is",
                       f"correct that first: {correct_command(h, 'place PLACE')}", rule="place")
    if (stay is not None and stay.place not in OUT and action.said.get("to", "").strip()
            and not h.words_at(stay).get("to")):
        return Refusal(f"{sheet_words(h)} is {place_word(stay.place)}, so the book "
                       "names nobody who has it", "if it is out, say where: benchapp where-is "
                       "SHEET --now PLACE --to WHO", rule="place")
    actions = h.gave if stay is None or proof else {stay.action}
    was = h.words if stay is None or proof else h.words_at(stay)
    now = _words_now(was, action.said)
    if now is None:
        return _no_change(h)
    _reword(page, h, actions, now, action.why)
    return None


def _words_now(was: Mapping[str, str], said: Mapping[str, str]) -> dict[str, str] | None:
    """The words as they are then, an empty one left out; None: they are as they were."""
    before = {k: v for k, v in was.items() if k != _WHY_SAID}
    now = {k: v.strip() for k, v in {**before, **said}.items() if v.strip()}
    return None if now == before else now


def _reword(page: EditionContext, h: Holding, actions: Iterable[str], words: Mapping[str, str],
            why: str) -> None:
    of = sorted(actions)
    page.reword(h.sheet, {**words, _WHY_SAID: why.strip()},
                (*of, *(r.id for x in of for r in h.reworded_of(x))))
