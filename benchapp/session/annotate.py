"""Which sheet is meant where none is named, and how a try ends before its last pull. Pure."""

from __future__ import annotations

from benchapp.decision import Refusal
from benchapp.events.field_types import ABSENT
from benchapp.events.impression import ImpressionEnded, ImpressionPulled, PlateReworked
from benchapp.events.session import StepFinished
from benchapp.recipe.model import ReadingSpec
from benchapp.session.compiled_recipe import WASH
from benchapp.session.context import SessionContext
from benchapp.session.counting import state_in_force
from benchapp.session.next_steps import hands_left
from benchapp.session.state import (
    PROGRESSIVE,
    SPOILED_PULLED,
    SPOILED_TRY,
    Impression,
    Session,
    StudioState,
    TaskKey,
)
from benchapp.session.values import about_day, is_grade, known_reading


def in_hand(s: Session) -> Impression | None:
    """The impression in hand: begun, with hands work left on it, the earliest."""
    if s.closed is not None:
        return None
    if s.hand is not None and s.hand.impression is not None:
        return s.impression(s.hand.impression)
    return next((i for i in s.active if hands_left(s, i.ordinal)), None)


def last_pulled(s: Session) -> Impression | None:
    """The sheet pulled last, or None."""
    pulled = [i for i in s.impressions if i.number is not None]
    return max(pulled, key=lambda i: i.number or 0, default=None)


def source_mark(s: Session, imp: Impression) -> str | None:
    """The mark of the sheet a counterproof was pulled from; None: it is no counterproof."""
    if imp.counterproof is None:
        return None
    source = s.impression(imp.counterproof.source)
    return None if source is None else source.mark


def given_up(s: Session) -> Impression | None:
    """The try just given up, as long as no hands work is done for another sheet; or None.

    What is said without a name in between is about it: nothing of the next sheet was seen yet.
    A pulled sheet that is worked on is another one, and looked at now.
    """
    at = None if s.hand is None or s.hand.step == WASH else s.impression(s.hand.impression)
    return None if at is not None and at.pulled else s.impression(s.given_up)


def noted_sheet(s: Session) -> Impression | None:
    """What a note, or a mark to look again, is about where no sheet is named."""
    return given_up(s) or in_hand(s) or last_pulled(s)


def tagged_sheet(s: Session) -> Impression | None:
    """What a tag is about where no sheet is named."""
    return given_up(s) or judged_sheet(s, None) or in_hand(s)


def judged_sheet(s: Session, ordinal: int | None) -> Impression | None:
    """The sheet a judgement is about: the one named, in hand once pulled, or last pulled."""
    if ordinal is not None:
        return s.impression(ordinal)
    held = in_hand(s)
    return held if held is not None and held.pulled else last_pulled(s)


def judged_now(s: Session, verdict: str) -> str:
    """What a verdict said now is about, where it is not the pulled sheet in hand: else nothing.

    Before the pull a sheet kept is the one before; a sheet spoiled is this try. With none in hand,
    as at the end of the day, it is the last pulled.
    """
    held = in_hand(s)
    if held is not None and held.pulled:
        return ""
    if verdict == "spoiled" and this_try(s) is not None:
        return "this try"
    meant = last_pulled(s)
    return "" if meant is None else meant.mark or ""


NO_SHEET = Refusal("No sheet has been pulled yet", "pull one first, or name a sheet by its mark")


def sheet_name(imp: Impression) -> str:
    return imp.mark or f"The {try_words(imp)}"


def try_words(imp: Impression) -> str:
    """What a sheet without a mark is called in a sentence."""
    return "spoiled try" if imp.ended == SPOILED_TRY else "sheet in hand"


def this_try(s: Session) -> Impression | None:
    """What `spoiled` ends: the impression in hand, worked on and not pulled yet; or None."""
    held = in_hand(s)
    return held if held is not None and not held.pulled and _worked_on(s, held) else None


def _worked_on(s: Session, imp: Impression) -> bool:
    """Whether inking has begun for it or it has its sheet: else `spoiled` is the sheet before.

    A plate that warms, or a sheet still in its pack, is no try yet; inking laid aside is one.
    """
    return bool(imp.sheets) or last_pulled(s) is None or any(
        _begun(s, TaskKey(x.id, imp.ordinal)) for x in s.recipe.each if x.hands == "inky")


def _begun(s: Session, key: TaskKey) -> bool:
    """Whether hands were at that work: it runs, is done, or was laid aside."""
    work = s.work.get(key)
    if work is None:
        return key in s.again and key != s.held
    return work.started is not None


def end_as_it_is(page: SessionContext, imp: Impression, verdict: str | None) -> None:
    """Draft that an impression stays as it is after an earlier pull: spoiled, or a progressive.

    A progressive is a proof of its plates so far: what the rule called a warm-up is none.
    """
    how = SPOILED_PULLED if verdict == "spoiled" else PROGRESSIVE
    warm = how == PROGRESSIVE and imp.purpose == "warm-up" and imp.purpose_by == "rule"
    if how != imp.ended:
        page.emit(ImpressionEnded(impression=imp.ordinal, how=how,
                                  purpose="edition" if warm else ABSENT))


def drop_running(page: SessionContext, ordinal: int) -> None:
    """Draft that what runs for that impression runs no more; its time is not taken."""
    for key, work in list(page.s.work.items()):
        if work.running and key.impression == ordinal:
            page.finish(key, "dropped", taken=False)


def state_at_pull(room: StudioState, s: Session, imp: Impression) -> str | None:
    """The state the plates were in when a sheet was pulled; None: it is not known any more.

    A sheet not pulled yet gets the state at its pull, so nothing is said of it before.
    """
    if imp.state is not None:
        return imp.state
    reworked = False
    for e in reversed(room.journal):
        if e.stream != f"session/{s.id}" or e.action in room.void:
            continue
        event = e.event
        if isinstance(event, ImpressionPulled) and event.impression == imp.ordinal:
            return event.state or (None if reworked else state_in_force(s))
        reworked |= isinstance(event, PlateReworked) or (
            isinstance(event, StepFinished) and event.step in s.shape.reworks)
    return None


def reading_about(s: Session, name: str) -> Impression | None:
    """The sheet a reading is about where none is named; None: the day, or no sheet is there yet.

    A measurement belongs to the sheet in hand, begun and perhaps not pulled yet; one of a step
    after the pull, and a grade, to one that is pulled, as a verdict does.
    """
    if about_day(s.recipe, name):
        return None
    held, known = in_hand(s), known_reading(s.recipe, name)
    if held is not None and known is not None and _read_before_pull(s, known):
        return held
    return judged_sheet(s, None)


def _read_before_pull(s: Session, known: ReadingSpec) -> bool:
    """Whether it can be read of a sheet that is not pulled yet."""
    each = s.recipe.each
    at = next((n for n, step in enumerate(each) if step.do == known.at), None)
    if at is None:
        return known.unit is not None and not is_grade(known.unit)
    pulled = max(n for n, step in enumerate(each) if step.pulls)
    return at <= pulled


def needs_sheet(s: Session, name: str) -> bool:
    """Whether a reading is always about a sheet: a grade, or one read at a step of each sheet."""
    known = known_reading(s.recipe, name)
    return known is not None and (
        is_grade(known.unit) or any(step.do == known.at for step in s.recipe.each))


