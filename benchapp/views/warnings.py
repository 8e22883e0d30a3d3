"""What the printer should know or is asked just now; nothing here is refused. Pure."""

from __future__ import annotations

from benchapp.edition import packs as damp
from benchapp.quantities import minutes_text
from benchapp.recipe.hazards import is_heat_off, spirit_of
from benchapp.recipe.model import Step
from benchapp.recipe.order import StepLimit
from benchapp.session import limits
from benchapp.session.annotate import in_hand
from benchapp.session.cancelling import before_first_sheet
from benchapp.session.ink_lying import inked_before, lain_text, waited_text
from benchapp.session.names import step_of
from benchapp.session.next_steps import lacks_paper, printing_over
from benchapp.session.room_facts import left_on
from benchapp.session.room_settings import otherwise_words
from benchapp.session.sheet_asked import NONE_READY
from benchapp.session.state import Attempt, Session, StudioState, TaskKey
from benchapp.views.paper import shortage_words


def place_taken_by(room: StudioState, s: Session, key: TaskKey, step: Step) -> str | None:
    """Who else uses the place a step needs, where it holds no more."""
    if step.at is None:
        return None
    users = []
    for other in room.open_sessions:
        for k in other.under_way:
            st = step_of(other, k)
            if st is not None and st.at == step.at and (other.id, k) != (s.id, key):
                users.append(f"{st.do} ({other.name})" if other.id != s.id else st.do)
    return users[0] if len(users) >= s.shape.places.get(step.at, 1) else None


def question_text(s: Session, work: Attempt) -> str:
    """What is asked of a step that ran far over its high time."""
    step = step_of(s, work.key)
    minutes = ((work.finished_t or 0) - work.started_t - work.paused_ms) // 60_000
    do = "" if step is None else step.do
    return f"{do}: {minutes} min. Took that long, away, or forgot the pedal?"


def pause_words(room: StudioState, s: Session, t: int) -> tuple[str, ...]:
    """What a pause does to the plate, the hot plate and open paper."""
    if s.paused_t is None:
        return ()
    out = []
    if room.inky:
        out.append("Ink on your hands: wash before you go")
    if any(i for i in s.active if not i.pulled and any(
            k.impression == i.ordinal and s.shape.by_id[k.step].hands == "inky" for k in s.work)):
        out.append("The inked plate stiffens while it waits")
    if any(x.at == "hot plate" for x in s.recipe.steps):
        out.append("The hot plate stays on unless you turn it off")
    if any(p.open for p in room.packs.values()):
        out.append("A sheet is out of its pack and dries")
    return tuple(out)


def bench_warnings(room: StudioState, s: Session, t: int) -> tuple[str, ...]:
    """What the printer should know now; nothing here is refused."""
    gone = before_first_sheet(s)
    out = [*([] if gone is None else [gone]), *set_otherwise_words(room, s), *_broken(s, t),
           *_paper(room, s, t)]
    if s.hand is not None and (step := step_of(s, s.hand)) is not None:
        by = place_taken_by(room, s, s.hand, step)
        if by is not None:
            out.append(f"{step.at} is taken: {by}")
        out += [f"Plate {plate} is inked already, {minutes_text(t - since)} ago: skip this step, "
                "or ink it again" for plate, since in inked_before(s, s.hand)]
        if spirit_of(step) is not None and _hot_plate_on(s):
            out.append("The hot plate may still be on: use oil only, no spirit")
    return tuple(out)


def set_otherwise_words(room: StudioState, s: Session) -> tuple[str, ...]:
    """What another session has set since, while a pull is to come."""
    if s.closed is not None or printing_over(s):
        return ()
    held = in_hand(s)
    return otherwise_words(room, s, None if held is None else held.ordinal)


def _hot_plate_on(s: Session) -> bool:
    """Whether the recipe has a hot plate and nobody said that it is off."""
    if not any(step.at == "hot plate" for step in s.recipe.steps):
        return False
    said = [s.musts.get((s.id, step.id), ()) for step in s.recipe.after if is_heat_off(step)]
    if said and said[0]:
        return said[0][-1] is None or left_on(said[0][-1])
    return not any(is_heat_off(step) and s.done(TaskKey(step.id)) for step in s.recipe.after)


def _broken(s: Session, t: int) -> list[str]:
    """Limits that are broken, of impressions in hand."""
    return list(dict.fromkeys(
        _broken_text(s, run.limit, run.limit.within.ms - run.left_ms)
        for run in limits.running_limits(s, t) if run.left_ms < 0))


def _broken_text(s: Session, limit: StepLimit, waited_ms: int) -> str:
    """In plain words: of ink that lies on a plate, else of the step that waits."""
    step, after = s.shape.by_id[limit.step], s.shape.by_id[limit.after]
    plates = s.shape.plates_of.get(after.id, ())
    if limit.to_end and after.pulls:
        return f"{limits.waiting_name(s, limit)}: {waited_text(waited_ms, limit.within.ms)}"
    if after.hands == "inky" and plates and after.section == "each":
        return lain_text(plates, waited_ms, limit.within.ms)
    return f"{step.do} has waited {waited_text(waited_ms, limit.within.ms)}"


def _paper(room: StudioState, s: Session, t: int) -> list[str]:
    name = s.shape.paper_name
    if name is None:
        return []
    out = []
    packs = damp.of_paper(room.packs, name, t)
    out += [f"Sheets damp for {(p.age_ms(t) or 0) // 3_600_000} h: look; if it smells musty, "
            "throw the paper away" for p in packs if p.too_old(t)]
    held = s.hand
    if held is not None and held.step == s.shape.sheet_step:
        imp = s.impression(held.impression)
        if imp is not None and not imp.sheets:
            waits = lacks_paper(room, s, held, t)
            out.append(NONE_READY if waits is None else "The damp sheets are still resting"
                       if waits.where(t) == "resting" else "The sheets are still in the water")
    short = shortage_words(room, s, t)
    out += [] if short is None else [short]
    if any(t - since > damp.SHEET_OPEN_MS for p in room.packs.values() for since in p.open):
        out.append("A sheet has been out of its pack more than 5 min: spray it, put it back, "
                   "or print it")
    return out
