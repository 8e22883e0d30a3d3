"""What an edition shares with the one beside it."""

from __future__ import annotations

from benchapp.edition import actions as a
from benchapp.edition.page import EditionContext, written_ids
from benchapp.edition.refusal import EditionRefusal
from benchapp.edition.validators import check_text


def share_plates(page: EditionContext, action: a.SharePlates) -> EditionRefusal | None:
    """The plates it shares with the edition beside it."""
    if page.e.sibling is None:
        return EditionRefusal("sibling", "No other edition is beside this one",
                              "say which with --beside PRINT")
    refusal = next((r for p in action.plates if (r := check_text(p, "Which plate", "name it"))),
                   None)
    if refusal is None and [x for _, x in page.e.sharing] == [frozenset(action.plates)]:
        return EditionRefusal("already", "The book already says that", "there is nothing to do")
    if refusal is None:
        page.write("plates shared", plates=sorted({p.strip() for p in action.plates}),
                   over=written_ids(x for x, _ in page.e.sharing))
    return refusal
