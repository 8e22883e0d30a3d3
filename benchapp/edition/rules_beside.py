"""What an edition shares with the one beside it."""

from __future__ import annotations

from benchapp.decision import Refusal, written_ids
from benchapp.edition import actions as a
from benchapp.edition.context import EditionContext
from benchapp.edition.validators import check_text
from benchapp.events.edition import PlatesShared


def share_plates(page: EditionContext, action: a.SharePlates) -> Refusal | None:
    """The plates it shares with the edition beside it."""
    if page.e.sibling is None:
        return Refusal("This edition has no other edition beside it",
                       "say which with --beside PRINT", rule="sibling")
    refusal = next((r for p in action.plates if (r := check_text(p, "The plate", "name it"))),
                   None)
    if refusal is None and [x for _, x in page.e.sharing] == [frozenset(action.plates)]:
        return Refusal("The book already says that", "there is nothing to do", rule="already")
    if refusal is None:
        page.emit(PlatesShared(
            print=page.id, plates=tuple(sorted({p.strip() for p in action.plates})),
            over=written_ids(x for x, _ in page.e.sharing)))
    return refusal
