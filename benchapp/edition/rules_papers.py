"""What exists is recorded: sheets known from old papers, and clashes settled."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import count
from typing import Final

from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition.conflicts.conflict import sizes_words
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.context import EditionContext
from benchapp.edition.holding import IN_STUDIO, LOST, OUT, Holding, SheetLabel
from benchapp.edition.numbers import kind_holders, label_text
from benchapp.edition.rules_numbers import (
    check_number_free,
    check_size_known,
    proof_unused,
    room_inside,
)
from benchapp.edition.state import NUMBERED, Edition
from benchapp.edition.validators import all_words, check_day, check_optional_text, check_text
from benchapp.events.edition import ClashSettled, SheetHandedOut, SheetPlaced, SheetRecalled
from benchapp.events.words import LABELS

_PLACES: Final = (*IN_STUDIO, *OUT, LOST)


def recall(page: EditionContext, action: a.Recall) -> Refusal | None:
    """All lines of an old paper, or none."""
    refusal = check_size_known(page.e)
    if refusal is not None:
        return refusal
    if not action.lines:
        return Refusal("No sheet is named", "name a number or a proof", rule="nothing")
    return next((r for line in action.lines if (r := _line(page, line)) is not None), None)


@dataclass(frozen=True, slots=True)
class LineRefused:
    """A line of an old paper that cannot be recalled.

    Attributes:
        place: Which, from 0.
        first: The line that has the same number already; None: none has.
    """

    place: int
    refusal: Refusal
    first: int | None = None


def recall_problems(page: EditionContext, action: a.Recall) -> tuple[LineRefused, ...]:
    """Every line that cannot be recalled. What is free is counted as if all others stood."""
    refusal = check_size_known(page.e)
    if refusal is not None:
        return tuple(LineRefused(i, refusal) for i in range(len(action.lines)))
    wrong = {i: r for i, line in enumerate(action.lines) if (r := _line(page, line)) is not None}
    first: dict[tuple[str, int | None], int] = {}
    for i, line in enumerate(action.lines):
        if i not in wrong:
            first.setdefault((line.kind, line.number), i)
    return tuple(_refused(page, action.lines[i], i, r, first) for i, r in wrong.items())


def _refused(page: EditionContext, line: a.Recalled, place: int, before: Refusal,
             first: Mapping[tuple[str, int | None], int]) -> LineRefused:
    refusal = _line(page, line) or before
    other = first.get((line.kind, line.number))
    if other is None or refusal.rule not in ("taken", "single"):
        return LineRefused(place, refusal)
    words = label_text(page.e, SheetLabel(line.kind, line.number))
    return LineRefused(place, Refusal(f"{words} is in the table twice",
                                      refusal.mend if line.kind == NUMBERED else "",
                                      rule="twice"), other)


def _line(page: EditionContext, line: a.Recalled) -> Refusal | None:
    refusal = (check_text(line.paper, "The old paper", "say what it is")
               or check_optional_text(line.destroyed, "The reason it was destroyed")
               or check_day(line.due) or check_day(line.since)
               or all_words(line.words) or _place(line) or _what(page, line))
    if refusal is not None:
        return refusal
    e = page.e
    paper = line.paper.strip()
    sheet = _known_from(e, line, paper)
    page.emit(SheetRecalled(print=page.id, sheet=sheet, paper=paper, kind=line.kind,
                            number=line.number, signed=line.signed, destroyed=line.destroyed))
    named = page.over(Holding(sheet, "", ""), ())
    if line.place in OUT:
        page.emit(SheetHandedOut(**named, place=line.place, terms=None, day=line.since,
                                  due=line.due))
    elif line.place is not None:
        page.emit(SheetPlaced(**named, place=line.place))
    page.tell(sheet, line.words)
    return None


def _known_from(e: Edition, line: a.Recalled, paper: str) -> str:
    """The id of a sheet on an old paper: the same in two books that take in the same line.

    Of those that would be called alike it is the n-th: they have no number, or one that was
    given to another of the paper since.
    """
    what = f"{line.kind} {line.number or 'without a number'}"
    ids = (f"{what}{'' if n == 1 else f' ({n})'} of {e.id}, known from {paper}" for n in count(1))
    return next(id for id in ids if id not in e.holdings and id not in e.withdrawn)


def _place(line: a.Recalled) -> Refusal | None:
    if line.place is not None and line.place not in _PLACES:
        return Refusal(f"{line.place} is not a place", "write " + ", ".join(_PLACES), rule="place")
    if line.place is not None and line.destroyed is not None:
        return Refusal(f"A destroyed sheet is not {line.place}",
                       "leave one of the two out", rule="destroyed")
    if line.due is not None and line.place != "gallery":
        return Refusal("Only a sheet with a gallery is due back", "leave the day out", rule="due")
    if line.since is not None and line.place not in OUT:
        return Refusal("Only a sheet that left the studio has a day since when",
                       "leave since out, or write where it is", rule="since")
    return None


def _what(page: EditionContext, line: a.Recalled) -> Refusal | None:
    """The same rules as for a sheet at hand: once each, within N."""
    e = page.e
    if line.kind == NUMBERED:
        if line.number is None:
            return Refusal("The number is missing",
                           "write its number of the edition", rule="number")
        return _total(line, e.size) or check_number_free(e, line.number) or room_inside(e, 1)
    cap = e.caps.get(line.kind)
    return (known_kind(e, line.kind) or _total(line, None if cap is None else cap.cap)
            or proof_unused(page, line.kind, line.number) or _over_cap(page, line))


def _total(line: a.Recalled, total: int | None) -> Refusal | None:
    """Whether the total written behind the number is the edition's own."""
    if line.of is None or line.of == total:
        return None
    if total is None:
        return None if line.kind != NUMBERED else Refusal(
            f"{line.number}/{line.of} has a total, and the edition is open",
            "write the number alone", rule="total")
    what = "the edition is" if line.kind == NUMBERED else f"{line.kind} is of"
    return Refusal(f"{line.number}/{line.of} has another total: {what} {total}",
                   "look at the paper again, or declare it as it is there", rule="total")


def _over_cap(page: EditionContext, line: a.Recalled) -> Refusal | None:
    """More of a kind than were declared: on paper one of the two is wrong."""
    cap = page.e.caps.get(line.kind)
    if cap is None:
        return None
    given = sum(1 for _ in kind_holders(page.e, line.kind)) + 1
    if max(given, line.number or 0) <= cap.cap:
        return None
    words = label_text(page.e, SheetLabel(line.kind, line.number, line.of))
    return Refusal(f"{words} is more than the {cap.cap} you declared of its kind",
                   f"declare them first, such as --proof {line.kind}={given}, or leave it "
                   "out", rule="cap")


def known_kind(e: Edition, kind: str) -> Refusal | None:
    """Whether the trade, or the declaration, has such a kind of sheet."""
    if kind in LABELS or kind in e.caps:
        return None
    return Refusal(f"{kind} is not a kind of sheet", "write " + ", ".join(LABELS), rule="kind")


def settle(page: EditionContext, action: a.Settle) -> Refusal | None:
    """A clash stays as it is, with the reason; of two sizes one is the true one."""
    refusal = check_text(action.why, "The reason to leave it as it is", "say why")
    if refusal is not None:
        return refusal
    clash = next((c for c in unsettled_clashes(page.state, page.id) if c.key == action.clash),
                 None)
    if clash is None:
        return Refusal("There is no such clash now", "look at the list again", rule="clash")
    if clash.by_correction:
        return Refusal(clash.text, clash.mend, rule="clash")
    if action.size not in (clash.sizes or (None,)):
        return Refusal(clash.text,
                       f"settle it with one of {sizes_words(clash.sizes)}"
                       if clash.sizes else "leave the size out", rule="size")
    page.emit(ClashSettled(print=page.id, clash=clash.key, why=action.why.strip(), size=action.size,
                           over=tuple(entry for entry, _ in page.e.says) if clash.sizes else ()))
    return None
