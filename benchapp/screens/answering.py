"""What calls is answered where it calls, whatever screen is open: out of the water, or heard."""

from __future__ import annotations

from benchapp.book import BookError
from benchapp.decision import Refusal
from benchapp.safe_text import sanitize
from benchapp.screens.desk import Desk
from benchapp.service.outcome import Outcome
from benchapp.session import actions as a
from benchapp.session.next_steps import soaking_packs
from benchapp.views.bench import CallView, call_views
from benchapp.views.messages import describe_change

_INKY = Refusal("Hands are inky", "wash first, then take the sheets out")


def calling_now(desk: Desk) -> tuple[CallView, ...]:
    """What calls now and waits for an answer, the most harmful first."""
    room = desk.workshop.room
    return tuple(c for c in call_views(room, room.t_at(desk.now())) if c.calling)


def answer_first(desk: Desk) -> None:
    """Answer the most harmful call, and say what was done; nothing else is touched."""
    call = next(iter(calling_now(desk)), None)
    if call is None:
        return
    before = desk.workshop.room
    outcome = _answered(desk, call)
    if outcome.refusal is not None:
        desk.say(sanitize(str(outcome.refusal)), severity="warning")
    elif told := describe_change(before, desk.workshop.room, outcome.entries):
        desk.say(desk.done(" · ".join(told)))
    desk.look_again()


def _answered(desk: Desk, call: CallView) -> Outcome:
    """Paper comes out of the water; the end of a wait ends it; a timer has been heard."""
    kind, _, id_ = call.id.partition(" ")
    if kind == "soak":
        return take_out_pack(desk, id_)
    if call.owner is not None:
        return desk.do(a.AnswerCall(call.id), session=call.owner, gated=True)
    try:
        return desk.workshop.end_timer(id_)
    except BookError as error:
        desk.fault = str(error)
        return Outcome(refusal=Refusal("It was not recorded", "mend the fault shown above"))


def take_out_pack(desk: Desk, pack: str) -> Outcome:
    """The sheets of a pack are out: through the session that looks after it, if one does."""
    room = desk.workshop.room
    t = room.t_at(desk.now())
    if not room.clean:
        return Outcome(refusal=_INKY)
    by = next((s for s in room.open_sessions
               if any(p.id == pack for p in soaking_packs(room, s, t))), None)
    if by is not None:  # its session times the step
        return desk.do(a.SheetsOut(pack), session=by.id)
    try:
        return desk.workshop.pack_out(pack)
    except BookError as error:
        desk.fault = str(error)
        return Outcome(refusal=Refusal("It was not recorded", "mend the fault shown above"))
