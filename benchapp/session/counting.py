"""What a pull is for, which impressions count, and whether another is needed."""

from __future__ import annotations

from typing import Final

from benchapp.edition.state import CANCELLATION
from benchapp.recipe.model import Recipe
from benchapp.session.state import NOT_COUNTED, Impression, Session

#: The first pulls of an edition session, and the first after such a pause, are
#: warm-ups: cold plate, clean scrim, unsettled blankets (common practice, no source).
#: A recipe may say another number: a drypoint's first pulls are its richest.
PAUSE_MS: Final = 45 * 60_000


def warm_ups(recipe: Recipe) -> int:
    """Pulls a day begins with that will not count; a proofing day has none."""
    return recipe.warm_ups_a_day


def pull_purpose(s: Session, imp: Impression) -> tuple[str, str | None, str]:
    """What the next pull of `imp` is for: (for, state, by whom: `printer` or `rule`)."""
    if imp.said is not None:
        purpose, state = imp.said
        return purpose, state or (state_in_force(s) if purpose == "SP" else None), "printer"
    if imp.ghost:
        return "ghost", None, "printer"
    if imp.purpose is not None:
        return imp.purpose, imp.state, imp.purpose_by or "rule"
    if s.cancelled is not None:
        return CANCELLATION, None, "rule"
    proofing = s.recipe.proofing
    if proofing is not None:
        return proofing.for_, state_in_force(s) if proofing.for_ == "SP" else None, "rule"
    first = warm_ups(s.recipe)
    if _before(s, imp) < first or (first and _paused_since(s)):
        return "warm-up", None, "rule"
    return "edition", None, "rule"


def state_in_force(s: Session) -> str | None:
    """The state of the plates now; None where none has one, or they are in different ones.

    None also where a plate was reworked since its state was last said.
    """
    states = {s.states[p.name] for p in s.recipe.plates if p.name in s.states}
    return None if s.unstated or len(states) > 1 else next(iter(states), None)


def _before(s: Session, imp: Impression) -> int:
    """Pulls there were, or will be, before this impression's."""
    return sum(1 for other in s.impressions
               if other.ordinal != imp.ordinal and other.counterproof is None
               and (other.pulled or (other.ordinal < imp.ordinal and other.ended is None)))


def _paused_since(s: Session) -> bool:
    """Whether there was a pause so long after the last pull that the plate is cold."""
    last = max((p.t for i in s.impressions for p in i.pulls), default=None)
    return last is not None and any(
        until > last and until - max(since, last) >= PAUSE_MS for since, until in s.breaks)


def is_complete(s: Session, imp: Impression) -> bool:
    """Whether it has its last pull."""
    return bool(imp.pulls) and imp.ended is None and imp.pulls[-1].step == s.shape.pulls[-1]


def does_count(s: Session, imp: Impression) -> bool:
    """Whether it counts towards the wanted number: not spoiled, no warm-up, no ghost.

    A counterproof has no pull of a plate, so it is never complete.
    """
    return (is_complete(s, imp) and imp.verdict != "spoiled"
            and imp.purpose not in NOT_COUNTED)


def count_impressions(s: Session) -> int:
    """How many impressions count."""
    return sum(does_count(s, i) for i in s.impressions)


def count_pulled(s: Session) -> int:
    """How many sheets have been pulled."""
    return sum(i.pulled for i in s.impressions)


def count_expected(s: Session) -> int:
    """Of those in hand without their last pull, how many will count as things stand."""
    return sum(1 for i in s.impressions if i.ended is None and not is_complete(s, i)
               and i.verdict != "spoiled" and pull_purpose(s, i)[0] not in NOT_COUNTED)


def target_count(s: Session) -> int | None:
    """How many should count; None: until the printer says enough."""
    return s.wanted if s.limit is None else s.limit


def needs_next(s: Session) -> bool:
    """Whether another impression should be begun."""
    if s.ghost_next:
        return True
    if s.enough:
        return False
    goal = target_count(s)
    return goal is None or count_impressions(s) + count_expected(s) < goal


def pulls_needed(s: Session) -> int | None:
    """Pulls still to come, with the warm-ups still to come; None where no number is wanted."""
    if s.enough:
        goal: int | None = count_impressions(s)
    else:
        goal = target_count(s)
    if goal is None:
        return None
    waiting = sum(1 for i in s.impressions if i.ended is None and not i.pulled)
    rest = max(0, goal - count_impressions(s) - count_expected(s))
    warm = 0
    if rest and s.cancelled is None:
        begun = sum(1 for i in s.impressions
                    if (i.pulled or i.ended is None) and i.counterproof is None)
        warm = max(0, warm_ups(s.recipe) - begun)
    return waiting + rest + warm


def sheets_needed(s: Session) -> int | None:
    """Sheets those pulls still take; an impression that has its sheet takes none."""
    pulls = pulls_needed(s)
    return None if pulls is None else pulls - sum(
        1 for i in s.impressions if i.ended is None and not i.pulled and i.sheets)
