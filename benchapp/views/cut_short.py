"""What an action would end before its time, told before it is done. Pure."""

from __future__ import annotations

from collections.abc import Iterable

from benchapp.decision import Refusal
from benchapp.events.entry import Draft, Moment
from benchapp.events.pack import PackOut, PackSheetOut
from benchapp.events.session import StepFinished, StepStarted
from benchapp.quantities import minutes_text
from benchapp.session import actions as a
from benchapp.session.compiled_recipe import DAMP_OUT
from benchapp.session.context import ends_t
from benchapp.session.decide import decide
from benchapp.session.names import key_of, step_of
from benchapp.session.state import Session, StudioState


def cut_by(room: StudioState, action: a.Action, now: Moment) -> str:
    """What an action would end too early, in words; empty where it is refused or ends nothing."""
    s = room.session
    tried = decide(room, action, now)
    return "" if s is None or isinstance(tried, Refusal) else cut_words(
        room, s, tried, room.t_at(now))


def cut_words(room: StudioState, s: Session, drafts: Iterable[Draft], t: int) -> str:
    """What these drafts end too early: `ends Settle 4 min early`; empty where nothing is.

    Args:
        room: As it is before them.
        s: The session they are of.
        drafts: What an action would write.
        t: Room time now.
    """
    return next((words for d in drafts if (words := _cut(room, s, d, t))), "")


def _cut(room: StudioState, s: Session, draft: Draft, t: int) -> str:
    match draft.event:
        case StepFinished(how="cut short") as end:
            step, work = step_of(s, key_of(end)), s.work.get(key_of(end))
            over = None if step is None or work is None else ends_t(step, work)
            return "" if step is None or over is None else f"ends {step.do} {_early(over, t)}"
        case StepStarted(step=step_id, pack=str(pack)) if step_id == DAMP_OUT:
            return _out_early(room, pack, t)
        case PackOut(pack=pack):
            return _out_early(room, pack, t)
        case PackSheetOut(pack=pack):
            return _rested(room, pack, t)
        case _:
            return ""


def _out_early(room: StudioState, pack: str, t: int) -> str:
    known = room.packs.get(pack)
    over = None if known is None or known.out is not None else known.soaked_t
    return "" if over is None or over <= t else _early(over, t)


def _rested(room: StudioState, pack: str, t: int) -> str:
    """How long a sheet has rested that is taken out of a pack before its rest is over."""
    known = room.packs.get(pack)
    if known is None or known.where(t) != "resting":
        return ""
    rested, rest = minutes_text(known.age_ms(t) or 0), minutes_text(known.rest_ms or 0)
    return f"the sheet has rested {rested} of {rest}"


def _early(over: int, t: int) -> str:
    return f"{minutes_text(over - t)} early"
