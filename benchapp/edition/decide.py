"""The edition of a print across all its sessions: an append-only machine of entries.

`decide_edition` says what an action does: drafts in order, or which rule stands in the
way and what can be done instead. `apply_edition_entry` and `replay_register` fold entries.
Total and pure: the sheets of the book come in with the register, time as an argument.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Final

from benchapp.decision import ActionSpec, Decision, Refusal
from benchapp.edition import actions as a
from benchapp.edition import rules_beside as beside
from benchapp.edition import rules_correct as corrections
from benchapp.edition import rules_cut as cut
from benchapp.edition import rules_ends as ends
from benchapp.edition import rules_numbers as numbers
from benchapp.edition import rules_papers as papers
from benchapp.edition import rules_places as places
from benchapp.edition import rules_size as size
from benchapp.edition import rules_standard as standard
from benchapp.edition.context import EditionContext
from benchapp.edition.fold import apply_edition_entry, note_shared_marks, replay_register
from benchapp.edition.numbers import label_text
from benchapp.edition.state import Register, Sheet
from benchapp.events.entry import Draft, Moment

__all__ = [
    "REGISTRY",
        "apply_edition_entry",
    "as_if",
    "check_recall",
    "decide_edition",
    "edition_action_word",
    "reason_to_keep_pull",
    "replay_register",
    "with_sheets",
]


def decide_edition(register: Register, action: a.Action, now: Moment) -> Decision:
    """What the action does at `now`.

    Args:
        register: All editions, with the sheets of the book (`with_sheets`).
        action: What the printer does.
        now: The clocks, read at the edge.

    Returns:
        Drafts in order, or which rule says no.
    """
    page = _context(register, action, now)
    if not isinstance(action, a.Declare) and not register.knows(action.print):
        return Refusal(f"No print {action.print} is in the book",
                       "the command edition lists those there are", rule="print")
    return page.decision(_SPECS[type(action)].decide(page, action))


def edition_action_word(action: a.Action) -> str:
    """The word an entry keeps of the action that caused it."""
    return _SPECS[type(action)].word


def _context(register: Register, action: a.Action, now: Moment) -> EditionContext:
    return EditionContext(register, now, edition_action_word(action), action.print)


def check_recall(register: Register, action: a.Recall,
                 now: Moment) -> tuple[papers.LineRefused, ...]:
    """Every line of an old paper that cannot be taken."""
    return papers.recall_problems(_context(register, action, now), action)


def with_sheets(register: Register, sheets: Iterable[Sheet]) -> Register:
    """The register with the sheets the sessions of the book have now."""
    known = {s.id: s for s in sheets}
    shared = _shared(register, known)
    known |= {s.id: replace(s, shared=True) for s in known.values() if s.mark in shared}
    by_print: dict[str, list[Sheet]] = {}
    for s in known.values():
        by_print.setdefault(s.print, []).append(s)
    editions = {k: note_shared_marks(e, shared) for k, e in register.editions.items()}
    return replace(register, editions=editions, sheets=known, shared=shared,
                   by_print={k: tuple(v) for k, v in by_print.items()})


def _shared(register: Register, known: Mapping[str, Sheet]) -> frozenset[str]:
    """The marks that more than one sheet has, of those pulled here or told of."""
    marks = {h.sheet: h.mark for e in register.editions.values() for h in e.holdings.values()}
    marks |= {s.id: s.mark for s in known.values()}
    return frozenset(m for m, n in Counter(marks.values()).items() if m and n > 1)


def as_if(register: Register, drafts: Iterable[Draft], now: Moment) -> Register:
    """The register as it would be with these drafts, none of them written.

    Shows a print whose recipe says how large it is before anything was declared.
    """
    for draft in drafts:
        register = apply_edition_entry(register, draft.pending(now))
    return register


def reason_to_keep_pull(register: Register, sheet: str) -> str | None:
    """What the book has made of a sheet, so that its pull is not taken back; None: nothing."""
    for e in register.editions.values():
        h = e.holdings.get(sheet)
        if h is not None:
            if h.claims:
                return f"it is {label_text(e, h.claims[0])} of {e.title or e.id}"
            if h.destroyed or h.signed or h.places:
                return f"it stands in the register of {e.title or e.id}"
    return None


#: Every action, in the order help lists them.
REGISTRY: Final[tuple[ActionSpec[EditionContext], ...]] = (
    ActionSpec("declare", a.Declare, "How large the edition is, and its proofs", size.declare),
    ActionSpec("short edition", a.Lower, "Fewer than were declared, before anything is signed",
               size.lower),
    ActionSpec("cut short", a.CutEdition, "After a signature: the edition ends at this number",
               cut.cut_short),
    ActionSpec("number", a.GiveNumbers, "Give sheets their numbers", numbers.give_numbers),
    ActionSpec("keep as", a.GiveProof, "Keep a sheet as BAT, AP, PP, HC or another proof",
               numbers.give_proof),
    ActionSpec("number back", a.TakeNumberBack, "Take a number or a kind back, before it is signed",
               numbers.number_back),
    ActionSpec("sign", a.Sign, "These sheets were signed", numbers.sign),
    ActionSpec("void", a.VoidNumber, "This number is never used again", ends.void),
    ActionSpec("destroy", a.Destroy, "The sheet was destroyed, and why", ends.destroy),
    ActionSpec("recall", a.Recall, "Numbers known only from old papers", papers.recall),
    ActionSpec("correct", a.Correct, "What the book says of a sheet is not true",
               corrections.correct),
    ActionSpec("not void", a.UnvoidNumber, "A number was voided by mistake", corrections.not_void),
    ActionSpec("by mistake", a.ByMistake, "Plates are not cancelled, or a clash is not settled",
               corrections.by_mistake),
    ActionSpec("correct place", a.CorrectPlace,
               "Where a sheet is, or since when, was recorded wrongly", corrections.correct_place),
    ActionSpec("correct words", a.CorrectWords, "Who has a sheet was recorded wrongly",
               corrections.correct_words),
    ActionSpec("settle", a.Settle, "A clash stays as it is, and why", papers.settle),
    ActionSpec("plate", a.TellPlate, "The state of a plate, and what it gave before this book",
               ends.tell_plate),
    ActionSpec("cancel plate", a.CancelPlate, "Record that the plate has been cancelled",
               ends.cancel_plate),
    ActionSpec("shares", a.SharePlates, "The plates an edition shares with the one beside it",
               beside.share_plates),
    ActionSpec("standard", a.NameStandard, "The sheet that others are held against",
               standard.name_standard),
    ActionSpec("hand out", a.HandOut, "A sheet leaves the studio", places.hand_out),
    ActionSpec("take in", a.TakeIn, "A sheet came back", places.take_in),
    ActionSpec("put", a.Put, "Where a sheet lies", places.put),
)
_SPECS: Final = {spec.action: spec for spec in REGISTRY}
