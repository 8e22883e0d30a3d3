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

from benchapp.decision import Decision, Refusal, WordedRule
from benchapp.edition import actions as a
from benchapp.edition import rules_beside as beside
from benchapp.edition import rules_correct as corrections
from benchapp.edition import rules_cut as cut
from benchapp.edition import rules_ends as ends
from benchapp.edition import rules_numbers as numbers
from benchapp.edition import rules_papers as papers
from benchapp.edition import rules_pictures as pictures
from benchapp.edition import rules_places as places
from benchapp.edition import rules_size as size
from benchapp.edition import rules_standard as standard
from benchapp.edition.context import EditionContext
from benchapp.edition.fold import apply_edition_entry, note_shared_marks, replay_register
from benchapp.edition.numbers import label_text
from benchapp.edition.state import Register, Sheet
from benchapp.events.entry import Draft, Moment

__all__ = [
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
                       "list the prints: benchapp edition", rule="print")
    return page.decision(_RULES[type(action)].decide(page, action))


def edition_action_word(action: a.Action) -> str:
    """The word an entry keeps of the action that caused it."""
    return _RULES[type(action)].word


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
                return f"it is in the register of {e.title or e.id}"
    return None


_RULES: Final[dict[type, WordedRule[EditionContext]]] = {rule.action: rule for rule in (
    WordedRule(a.Declare, size.declare, "declare"),
    WordedRule(a.Lower, size.lower, "short edition"),
    WordedRule(a.CutEdition, cut.cut_short, "cut short"),
    WordedRule(a.GiveNumbers, numbers.give_numbers, "number"),
    WordedRule(a.GiveProof, numbers.give_proof, "keep as"),
    WordedRule(a.TakeNumberBack, numbers.number_back, "number back"),
    WordedRule(a.Sign, numbers.sign, "sign"),
    WordedRule(a.VoidNumber, ends.void, "void"),
    WordedRule(a.Destroy, ends.destroy, "destroy"),
    WordedRule(a.Recall, papers.recall, "recall"),
    WordedRule(a.Correct, corrections.correct, "correct"),
    WordedRule(a.UnvoidNumber, corrections.not_void, "not void"),
    WordedRule(a.ByMistake, corrections.by_mistake, "by mistake"),
    WordedRule(a.CorrectPlace, corrections.correct_place, "correct place"),
    WordedRule(a.CorrectWords, corrections.correct_words, "correct words"),
    WordedRule(a.Settle, papers.settle, "settle"),
    WordedRule(a.TellPlate, ends.tell_plate, "plate"),
    WordedRule(a.CancelPlate, ends.cancel_plate, "cancel plate"),
    WordedRule(a.SharePlates, beside.share_plates, "shares"),
    WordedRule(a.NameStandard, standard.name_standard, "standard"),
    WordedRule(a.HandOut, places.hand_out, "hand out"),
    WordedRule(a.TakeIn, places.take_in, "take in"),
    WordedRule(a.Put, places.put, "put"),
    WordedRule(a.TiePictures, pictures.tie_pictures, "picture"),
    WordedRule(a.UntiePicture, pictures.untie_picture, "no picture"),
)}
