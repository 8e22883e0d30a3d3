"""How large an edition is: declared, lowered until the first signature, and never after."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition.conflicts.conflict import sizes_words
from benchapp.edition.conflicts.finding import NOT_SAID, total_signed
from benchapp.edition.context import EditionContext
from benchapp.edition.holding import BEARS
from benchapp.edition.numbers import (
    counted_kinds,
    first_signature,
    fixes_size,
    label_text,
    numbers_of,
    sheet_words,
    used_up,
)
from benchapp.edition.roman import HIGHEST
from benchapp.edition.rules_beside import share_plates
from benchapp.edition.sharing import first_cancelling
from benchapp.edition.state import MAY_BE_CAPPED, SINGLE, Cap, Edition
from benchapp.edition.validators import (
    MOST,
    check_count,
    check_optional_text,
    check_text,
    signature_unknown,
)
from benchapp.events.edition import EditionDeclared, EditionLowered


def declare(page: EditionContext, action: a.Declare) -> Refusal | None:
    """The size and the proofs; again only before the first signature."""
    refusal = (check_text(action.title, "The title of the print", "say it")
               or check_text(action.artist, "The artist", "say who")
               or check_optional_text(action.relation, "The relation of the two editions")
               or _size(action) or _caps(page.e, action) or _beside(page, action)
               or _again(page, action))
    if refusal is not None:
        return refusal
    e = page.e
    page.emit(EditionDeclared(
        print=page.id, title=action.title.strip(), artist=action.artist.strip(), form=action.form,
        size=action.size, was=e.size if e.declared is not None else None,
        caps={k: {"cap": c.cap, "inside": c.inside} for k, c in action.caps.items()},
        roman=action.roman, roman_proofs=action.roman_proofs, sibling=action.sibling,
        relation=action.relation, by=action.by, over=tuple(e.standing)))
    # Said of an edition and its plates in one go, it is two facts: the second can be said alone.
    return None if action.shares is None else share_plates(
        page, a.SharePlates(page.id, action.shares))


def _size(action: a.Declare) -> Refusal | None:
    if action.form == "open":
        return None if action.size is None else Refusal(
            "An open edition has no size", "leave the size out, or say limited", rule="size")
    if action.size is None:
        return Refusal("The size of the edition is missing",
                       "say how many, or that it is open", rule="size")
    if action.roman and action.size > HIGHEST:
        return Refusal(f"There is no Roman numeral above {HIGHEST}",
                       "number it in ordinary figures", rule="roman")
    return check_count(action.size, "impressions in an edition")


def _caps(e: Edition, action: a.Declare) -> Refusal | None:
    for kind, cap in action.caps.items():
        if kind not in MAY_BE_CAPPED and kind not in e.caps:
            return Refusal(f"{kind} is not a kind of proof",
                           "write " + ", ".join(MAY_BE_CAPPED), rule="kind")
        if not 0 <= cap.cap <= MOST:
            return Refusal(f"{kind}: {cap.cap} is not a number of proofs",
                           f"write 0 to {MOST}", rule="count")
        if kind in SINGLE and cap.cap > 1:
            return Refusal(f"{kind}: there is only one in an edition", "write 1", rule="single")
    if _one_of_two(e, action):
        return None  # it stands in a book already
    within = _inside(action.caps)
    if action.size is not None and within > action.size:
        return Refusal(f"{within} proofs inside an edition of {action.size}",
                       "count them outside, or declare more", rule="total")
    return None


def _inside(caps: Mapping[str, Cap]) -> int:
    return sum(c.cap for c in caps.values() if c.inside)


def _beside(page: EditionContext, action: a.Declare) -> Refusal | None:
    """A sibling names an edition that is there, and says how they belong together."""
    name = action.sibling
    if name is None:
        return None
    if name == page.id or page.state.edition(name).declared is None:
        return Refusal(f"{name} is not another edition in the book",
                       "declare that one first", rule="sibling")
    if action.relation is None:
        return Refusal(f"The relation to {name} is missing",
                       "say second edition, colourway, paper, or your own word", rule="sibling")
    done = first_cancelling(page.state, name)
    if done is not None and page.e.declared is None and action.shares is None:
        return Refusal(f"The plate of {name} was cancelled: {done.how}",
                       "say which of its plates this edition shares: --shares PLATE, or "
                       "--shares "
                       "none", rule="cancelled")
    return None


def _again(page: EditionContext, action: a.Declare) -> Refusal | None:
    """What was declared can be said otherwise until the first signature."""
    e = page.e
    if e.declared is None:
        return _holds(e, action)
    if _one_of_two(e, action):
        return None
    if _as_signed(e, action):
        return _holds(e, action)
    fixed = fixed_by(e)
    if fixed is not None:
        return Refusal("Books declare the edition differently, and something is signed",
                       "declare it just as one of them has it",
                       rule="clash") if e.differing else fixed
    if first_cancelling(page.state, page.id) is not None:
        return Refusal("The plate was cancelled: the edition can't change any more",
                       "to lower a size that is too large, make it a short edition",
                       rule="cancelled")
    if action.size is not None and e.size is not None and action.size < e.size:
        return Refusal(f"{action.size} is fewer than the {e.size} declared",
                       "make it a short edition, with the reason", rule="lower")
    return check_size_agreed(e) or _holds(e, action)


def _one_of_two(e: Edition, action: a.Declare) -> bool:
    """Whether it only says which of two books is right: that may be said after a signature."""
    said = e.differing
    if not said or e.sizes or action.size != e.size:
        return False
    kinds = {k for t in said for k in t.caps}
    return (all(getattr(action, name) in [getattr(t, name) for t in said] for name in (
                "title", "artist", "roman", "roman_proofs"))
            and action.form in [e.form, *(t.form for t in said)]
            and (action.sibling, action.relation) in [(t.sibling, t.relation) for t in said]
            and action.caps.keys() <= kinds
            and all(action.caps.get(k) in [t.caps.get(k) for t in said] for k in kinds))


def _as_signed(e: Edition, action: a.Declare) -> bool:
    """Whether it gives back the total that stands under a signature made in another book.

    Not what a correction says of one sheet; nothing else of the edition may change with it,
    and no signature may stand over the size it has.
    """
    signed = [h for h in e.holdings.values()
              if any(t.signed and not t.firm for t in h.telling_of(BEARS))]
    totals = {t for h in signed if (t := total_signed(h)) is not NOT_SAID}
    return (action.size != e.size and action.size in totals and e.size not in totals
            and (action.title, action.artist, action.caps, action.roman, action.roman_proofs,
                 action.sibling, action.relation) == (
                     e.title, e.artist, e.caps, e.roman, e.roman_proofs, e.sibling, e.relation))


def _holds(e: Edition, action: a.Declare) -> Refusal | None:
    highest = max(numbers_of(e), default=0)
    if action.size is not None and highest > action.size:
        return Refusal(f"Number {highest} is given already", f"declare {highest} or more",
                       rule="size")
    within = [k for k, c in action.caps.items() if c.inside]
    used = used_up(replace(e, caps=action.caps), action.size)
    if action.size is not None and within and used > action.size:
        return Refusal(f"{used} numbers and proofs inside the total exist already",
                       f"declare {used} or more, or count proofs outside", rule="size")
    return None


def check_size_agreed(e: Edition) -> Refusal | None:
    """Nothing rests on a size that two books say differently."""
    if not e.sizes:
        return None
    return Refusal(f"Books differ on the size of the edition: {sizes_words(e.sizes)}",
                   "enter the true size first: --size N --settle WORDS", rule="clash")


def fixed_by(e: Edition) -> Refusal | None:
    """The first signature fixes the size, for good."""
    openly = next((h for h in e.holdings.values() if total_signed(h) is None), None)
    if openly is not None and e.form == "open":
        return Refusal(f"{sheet_words(openly)} is signed, and the edition was open: it "
                       "stays open", "declare a second edition, with --beside and this one",
                       rule="signed")
    first = first_signature(e)
    if first is None or first.bears is None:
        perhaps = next((h for h in e.holdings.values() if h.perhaps_signed
                        and h.bears is not None and fixes_size(h.bears.kind)), None)
        return None if perhaps is None else signature_unknown(perhaps)
    which = label_text(e, first.bears) + ("" if first.papers else f", {sheet_words(first)},")
    return Refusal(f"{which} is signed: the size is fixed after the first "
                   "signature", "declare a second edition, with --beside and this one",
                   rule="signed")


def lower(page: EditionContext, action: a.Lower) -> Refusal | None:
    """A short edition: the plate failed, or fewer are wanted."""
    e = page.e
    refusal = (check_text(action.why, "The reason for the short edition",
                          "say why") or check_size_agreed(e)
               or check_count(action.size, "impressions in an edition"))
    if refusal is not None:
        return refusal
    fixed = fixed_by(e)
    if fixed is not None:
        return fixed if e.form == "open" else replace(
            fixed, mend=f"if it ends early, its total stays: --cut-short {action.size} --why "
                        "WORDS")
    if e.size is None:
        return Refusal("No size was declared", "declare one", rule="size")
    if action.size >= e.size:
        return Refusal(f"{action.size} is not fewer than {e.size}",
                       "declare the edition again to raise it", rule="lower")
    least = max(max(numbers_of(e), default=0), used_up(e, action.size), _inside(e.caps))
    if action.size < least:
        what = "numbers and proofs inside" if counted_kinds(e) else "numbers"
        return Refusal(f"The {what} already take {least}",
                       f"lower it to {least} or more, or take numbers back first", rule="size")
    page.emit(EditionLowered(print=page.id, size=action.size, was=e.size, why=action.why.strip(),
                             over=tuple(entry for entry, _ in e.says)))
    return None
