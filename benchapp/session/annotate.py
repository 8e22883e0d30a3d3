"""What the printer says of sheets, settings and plates: words, never moves.

All of it is open to a closed session too: judgements, corrections and notes
come for days after.
"""

from __future__ import annotations

from benchapp.recipe.model import ReadingSpec
from benchapp.session import actions as a
from benchapp.session import paper
from benchapp.session.auto_steps import marks_given, settle, skip_inking
from benchapp.session.compiled_recipe import WASH
from benchapp.session.counting import state_in_force
from benchapp.session.day_end import write_fact
from benchapp.session.marks import read_mark
from benchapp.session.names import step_of
from benchapp.session.next_steps import active, hands_left
from benchapp.session.page import DecisionContext, Refusal
from benchapp.session.state import (
    FORS,
    NOT_COUNTED,
    PROGRESSIVE,
    SPOILED_PULLED,
    SPOILED_TRY,
    Impression,
    Session,
    StudioState,
    TaskKey,
)
from benchapp.session.values import about_day, is_grade, known_reading, wrong_reading


def in_hand(s: Session) -> Impression | None:
    """The impression in hand: begun, with hands work left on it, the earliest."""
    if s.closed is not None:
        return None
    if s.hand is not None and s.hand.impression is not None:
        return s.impression(s.hand.impression)
    return next((i for i in active(s) if hands_left(s, i.ordinal)), None)


def last_pulled(s: Session) -> Impression | None:
    """The sheet pulled last, or None."""
    pulled = [i for i in s.impressions if i.number is not None]
    return max(pulled, key=lambda i: i.number or 0, default=None)


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
    return given_up(s) or sheet_meant(s, None) or in_hand(s)


def sheet_meant(s: Session, ordinal: int | None) -> Impression | None:
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


def note(page: DecisionContext, action: a.Note) -> Refusal | None:
    """A note goes to the try just given up, else to the sheet in hand or the last, or the day."""
    s = page.s
    if not action.text.strip():
        return Refusal("The note is empty", "write note and the words")
    meant: Impression | None = None
    if action.impression is not None:
        meant = s.impression(action.impression)
        if meant is None:
            return Refusal("There is no such sheet here", "name it by its mark")
    elif action.to == "impression":
        meant = noted_sheet(s)
    page.write("noted", impression=None if meant is None else meant.ordinal, text=action.text)
    return None


def tag(page: DecisionContext, action: a.Tag) -> Refusal | None:
    """Put a tag on, or take it off: one that is not there cannot be taken off."""
    s = page.s
    meant = tagged_sheet(s) if action.impression is None else s.impression(action.impression)
    if meant is None:
        return NO_SHEET
    if not action.tag.strip():
        return Refusal("The tag is empty", "write tag and the word")
    has = action.tag in meant.tags
    if action.off and not has:
        there = ", ".join(meant.tags) or "it has none"
        return Refusal(f"{_named(meant)} has no tag {action.tag}", f"its tags: {there}")
    if not action.off and has:
        return Refusal(f"{_named(meant)} has the tag {action.tag} already", "nothing was changed")
    page.write("untagged" if action.off else "tagged", impression=meant.ordinal, tag=action.tag)
    return None


def _named(imp: Impression) -> str:
    return imp.mark or f"The {try_words(imp)}"


def try_words(imp: Impression) -> str:
    """What a sheet without a mark is called in a sentence."""
    return "spoiled try" if imp.ended == SPOILED_TRY else "sheet in hand"


def judge(page: DecisionContext, action: a.Judge) -> Refusal | None:
    """A verdict; spoiled before its pull ends the try and gives no number."""
    s = page.s
    tried = this_try(s) if action.verdict == "spoiled" and action.impression is None else None
    if tried is not None:
        _spoil_before_pull(page, tried)
        return None
    meant = sheet_meant(s, action.impression)
    if meant is None or not meant.pulled:
        return NO_SHEET
    page.write("judged", impression=meant.ordinal, verdict=action.verdict)
    if meant.ended is not None and not page.room.guest(s.id):
        end_as_it_is(page, meant, action.verdict)
    settle(page)
    return None


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


def end_as_it_is(page: DecisionContext, imp: Impression, verdict: str | None) -> None:
    """Draft that an impression stays as it is after an earlier pull: spoiled, or a progressive.

    A progressive is a proof of its plates so far: what the rule called a warm-up is none.
    """
    how = SPOILED_PULLED if verdict == "spoiled" else PROGRESSIVE
    warm = how == PROGRESSIVE and imp.purpose == "warm-up" and imp.purpose_by == "rule"
    if how != imp.ended:
        page.write("impression ended", impression=imp.ordinal, how=how,
                   **({"for": "edition"} if warm else {}))


def spoil_try(page: DecisionContext, action: a.SpoilTry) -> Refusal | None:
    """The try named ends before its pull, with the reason where one was given."""
    imp = page.s.impression(action.impression)
    if imp is None or imp.pulled or imp.ended is not None:
        was = "That try" if imp is None or imp.mark is None else imp.mark
        return Refusal(f"{was} is no longer waiting for its pull", "press s to judge the sheet")
    if action.lost and not imp.sheets:
        return Refusal("No damp sheet was taken for this try", "write spoiled alone")
    _spoil_before_pull(page, imp, action.why.strip(), lost=action.lost)
    return None


def _spoil_before_pull(page: DecisionContext, imp: Impression, why: str = "", *,
                       lost: bool = False) -> None:
    """Draft that a try is given up: its sheet goes back into its pack unless it is lost."""
    packs = () if lost else paper.packs_of_try(page, imp)
    sheet = {"sheet": "lost"} if lost else {"sheet": "back"} if packs else {}
    drop_running(page, imp.ordinal)
    page.write("impression ended", impression=imp.ordinal, how=SPOILED_TRY, **sheet)
    if why:
        page.write("noted", impression=imp.ordinal, text=why)
    paper.give_back(page, imp.ordinal, packs)
    settle(page)


def drop_running(page: DecisionContext, ordinal: int) -> None:
    """Draft that what runs for that impression runs no more; its time is not taken."""
    for key, work in list(page.s.work.items()):
        if work.running and key.impression == ordinal:
            page.finish(key, "dropped", taken=False)


def say_for(page: DecisionContext, action: a.SayFor) -> Refusal | None:
    """What the pull is for. Said of a sheet pulled already it is a correction."""
    if action.purpose not in FORS:
        return Refusal(f"Nothing is pulled for {action.purpose}", f"say one of {', '.join(FORS)}")
    s = page.s
    meant = (s.impression(action.impression) if action.impression is not None
             else in_hand(s) or last_pulled(s))
    if meant is None:
        return NO_SHEET
    state = action.state
    if action.purpose == "SP" and state is None and meant.pulled:
        state = state_at_pull(page.room, s, meant)
    why = {} if action.why is None else {"why": action.why}
    page.write("for said", impression=meant.ordinal, state=state, **{"for": action.purpose}, **why)
    if action.purpose in NOT_COUNTED or meant.pulled:
        settle(page)
    return None


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
        if e.kind == "pulled" and e.body["impression"] == imp.ordinal:
            said: str | None = e.body["state"]
            return said or (None if reworked else state_in_force(s))
        reworked |= e.kind == "reworked" or (
            e.kind == "step finished" and e.body["step"] in s.shape.reworks)
    return None


def ghost(page: DecisionContext) -> Refusal | None:
    """The next pull is without inking: of the impression in hand, else one more."""
    s = page.s
    held = in_hand(s)
    if last_pulled(s) is None:
        return Refusal("Nothing has been pulled yet", "a ghost is pulled after an inked impression")
    if held is not None and not held.pulled:
        if _inked(s, held):
            return Refusal("This plate is inked already", "say ghost before it is inked")
        page.write("for said", impression=held.ordinal, state=None, **{"for": "ghost"})
        skip_inking(page, held.ordinal)
    else:
        page.write("ghost said")
    settle(page)
    return None


def _inked(s: Session, imp: Impression) -> bool:
    """Whether inky work on the impression was done already."""
    return any(w.key.impression == imp.ordinal and w.how in ("done", "passed", "out of reach")
               and (step := s.shape.by_id.get(w.key.step)) is not None and step.hands == "inky"
               for w in s.history)


def rework(page: DecisionContext, action: a.ReworkPlate) -> Refusal | None:
    """A plate reworked to a new state, or said to be in one."""
    plates = page.s.recipe.plates
    names = ", ".join(p.name for p in plates)
    plate = action.plate or (plates[0].name if len(plates) == 1 else None)
    if plate is None or page.s.recipe.plate(plate) is None:
        return Refusal("Which plate?" if plate is None else f"There is no plate {plate}",
                       f"the plates are {names}")
    if not action.state and not action.what:
        return Refusal("Neither a state nor what was done was said", "write: reworked II: what")
    page.write("reworked", plate=plate, state=action.state, what=action.what)
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
    return sheet_meant(s, None)


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


def take_reading(page: DecisionContext, action: a.TakeReading) -> Refusal | None:
    """A named value; a grade has to be one of its grades, a unit the recipe's.

    What is about the day goes to no sheet, whatever is in hand, unless one is named; a grade
    never does.
    """
    s = page.s
    if not action.name.strip():
        return Refusal("A reading has a name", "write: reading tone 3")
    wrong = wrong_reading(s.recipe, action.name, action.value, action.unit)
    if wrong is not None:
        return Refusal(wrong.wrong, wrong.mend)
    known = known_reading(s.recipe, action.name)
    unit = action.unit or (None if known is None else known.unit)
    meant = (reading_about(s, action.name) if action.impression is None
             else sheet_meant(s, action.impression))
    if meant is None and (action.impression is not None or needs_sheet(s, action.name)
                          or is_grade(unit)):
        return NO_SHEET
    page.write("read", impression=None if meant is None else meant.ordinal,
               name=action.name if known is None else known.name, value=action.value, unit=unit)
    return None


def give_mark(page: DecisionContext, action: a.GiveMark) -> Refusal | None:
    """A mark already on the sheet; two sheets never bear one."""
    meant = sheet_meant(page.s, action.impression)
    if meant is None or not meant.pulled:
        return NO_SHEET
    if action.taken_by is not None:
        return Refusal(f"{action.mark} is {action.taken_by}", "a mark is used once in the book")
    mark = read_mark(action.mark) or action.mark.strip()
    if not mark:
        return Refusal("The mark is empty", "write mark and what is pencilled on the sheet")
    if mark == meant.mark:
        return Refusal(f"The sheet bears {mark} already", "nothing was changed")
    if mark in marks_given(page.room):
        return Refusal(f"{mark} is on another sheet", "a mark is used once in the book")
    page.write("marked", impression=meant.ordinal, mark=mark)
    return None


def look_again(page: DecisionContext, action: a.LookAgain) -> Refusal | None:
    """To be looked at again: the sheet named, in hand, or last pulled."""
    s = page.s
    meant = noted_sheet(s) if action.impression is None else s.impression(action.impression)
    if meant is None:
        return NO_SHEET
    if meant.look_again:
        return Refusal(f"{_named(meant)} is marked to be looked at again already",
                       "nothing was changed")
    page.write("marked to look again", impression=meant.ordinal)
    return None


def settle_must(page: DecisionContext, action: a.Must) -> Refusal | None:
    """The fact of a step that must have one; None is recorded as not said."""
    s = page.s
    step_id = action.step or (s.hand.step if s.hand is not None else None)
    step = None if step_id is None else step_of(page.s, TaskKey(step_id))
    if step_id is None or step is None or not step.must:
        return Refusal("Nothing is asked just now", "go on with a tread")
    if action.fact is not None and action.fact not in step.must:
        facts = ", ".join(f"{i} {fact}" for i, fact in enumerate(step.must, 1))
        return Refusal(f"{action.fact} is not one of the answers", f"say {facts}", step.must)
    write_fact(page, step, action.fact)
    return None
