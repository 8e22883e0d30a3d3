"""What goes under the boards in the action that lays it to dry, and comes out with it. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from benchapp.decision import Refusal
from benchapp.drying.actions import Begin, Lay, Lift, decide_boards
from benchapp.drying.stacks import Boards, Stack, apply_board_entry, last_seen_entries
from benchapp.edition.decide import reason_to_keep_pull
from benchapp.edition.state import Register
from benchapp.edition.streams import stack_stream
from benchapp.events.entry import Draft, Moment
from benchapp.events.event import ActionTakenBack
from benchapp.events.impression import (
    CounterproofPulled,
    ImpressionJudged,
    ImpressionLaidToDry,
    ImpressionPulled,
)
from benchapp.events.session import SessionActionTakenBack
from benchapp.events.stack import (
    SheetLaid,
    SheetLifted,
    SheetWeighed,
    StackActionTakenBack,
    StackEvent,
)
from benchapp.events.streams import stream_family
from benchapp.session.edition_links import drying_of, sheet_id
from benchapp.session.names import session_id
from benchapp.session.state import Session, StudioState

#: Only an action that wrote one of these does anything to a stack.
CAUSES: Final = ("laid to dry", "judged", "taken back")

#: What a sheet comes from.
_PULLED: Final = (ImpressionPulled, CounterproofPulled)


def on_boards(room: StudioState, boards: Boards, drafts: Sequence[Draft],
              now: Moment) -> list[Draft]:
    """What an action's drafts do to the stacks.

    A sheet laid to dry goes on top of its session's open stack, which is begun with the
    recipe's changes where there is none; one judged spoiled comes out of its stack, and is back
    where it lay when it is judged anew; an action taken back is taken back there too.

    Args:
        room: As it was before the action.
        boards: The stacks of the open sessions, and of those judged.
        drafts: What the action wrote.
        now: The clocks.
    """
    out: list[Draft] = []
    for draft in drafts:
        if stream_family(draft.stream) != "session":
            continue
        sid = session_id(draft.stream)
        match draft.event:
            case SessionActionTakenBack(action=action):
                out += _taken_back(boards, action)
            case ImpressionJudged() as judged:
                out += _judged(room, boards, sid, judged, now)
            case ImpressionLaidToDry(impression=ordinal):
                s = room.sessions.get(sid)
                new = () if s is None else _laid(s, boards, ordinal, drafts, now)
                out += new
                boards = _with(boards, new, now)
    return out


def _laid(s: Session, boards: Boards, ordinal: int, drafts: Sequence[Draft],
          now: Moment) -> tuple[Draft, ...]:
    sheet = sheet_id(s.id, ordinal)
    if any(x.sheet == sheet for other in boards.up for x in other.sheets):
        return ()  # laid by what time did, before the step was taken back: it lies there still
    imp = s.impression(ordinal)
    mark = (None if imp is None else imp.mark) or _mark_in(drafts, ordinal) or ""
    stack = open_stack(boards, s.id)
    begun: tuple[Draft, ...] = ()
    if stack is None:
        id_ = f"{s.id}.{1 + sum(x.startswith(f'{s.id}.') for x in boards.stacks)}"
        name = f"{s.recipe.print.title}, {s.name}"
        begun = _decided(boards, Begin(id_, name, drying_of(s.recipe)), now)
        boards = _with(boards, begun, now)
    else:
        id_ = stack.id
    return (*begun, *_decided(boards, Lay(id_, ((sheet, mark),)), now))


def _judged(room: StudioState, boards: Boards, sid: str, judged: ImpressionJudged,
            now: Moment) -> tuple[Draft, ...]:
    """A spoiled sheet is lifted; one that only was so is not lifted after all."""
    sheet = sheet_id(sid, judged.impression)
    if judged.verdict == "spoiled":
        lies = next((x for x in boards.up if any(y.sheet == sheet for y in x.sheets)), None)
        return () if lies is None else _decided(boards, Lift(lies.id, sheet), now, room.origin)
    told = [e for e in boards.journal if e.action not in boards.void
            and isinstance(e.event, SheetLaid | SheetLifted | SheetWeighed)
            and e.event.sheet == sheet]
    last = told[-1] if told else None
    if last is None or last.word != "spoiled" or not isinstance(last.event, SheetLifted) or (
            boards.stacks[last.event.stack].down is not None):
        return ()
    return (_undone(boards, last.event.stack, last.action, room.origin),)


def _undone(boards: Boards, stack: str, action: str, origin: str | None = None) -> Draft:
    stream = stack_stream(stack, origin)
    return Draft.of(stream, StackActionTakenBack(
        stack=stack, action=action, over=tuple(last_seen_entries(boards, stack, stream))))


def open_stack(boards: Boards, session: str) -> Stack | None:
    """The stack a session lays its sheets into; None: none is begun, or the last is down."""
    mine = [x for x in boards.up if x.id.startswith(f"{session}.")]
    return mine[-1] if mine else None


def _mark_in(drafts: Iterable[Draft], ordinal: int) -> str | None:
    """The mark of a sheet pulled and laid in one action."""
    return next((d.event.mark for d in drafts if isinstance(d.event, _PULLED)
                 and d.event.impression == ordinal), None)


def _decided(boards: Boards, action: Begin | Lay | Lift, now: Moment,
             origin: str | None = None) -> tuple[Draft, ...]:
    """What happened at the press is never turned away for what the boards say of it."""
    decided = decide_boards(boards, action, now, origin=origin)
    return () if isinstance(decided, Refusal) else decided


def _with(boards: Boards, drafts: Iterable[Draft], now: Moment) -> Boards:
    for d in drafts:
        boards = apply_board_entry(boards, d.pending(now))
    return boards


def _taken_back(boards: Boards, action: str) -> list[Draft]:
    touched = {e.event.stack: None for e in boards.journal
               if e.action == action and isinstance(e.event, StackEvent)}
    return [_undone(boards, x, action) for x in touched]


def pulls_undone(room: StudioState, drafts: Iterable[Draft]) -> tuple[str, ...]:
    """The sheets whose pull these drafts take back."""
    undone = {d.event.action for d in drafts if isinstance(d.event, ActionTakenBack)}
    return tuple(sheet_id(session_id(e.stream), e.event.impression) for e in room.journal
                 if e.action in undone and isinstance(e.event, _PULLED)) if undone else ()


def held_fast(register: Register, sheets: Iterable[str]) -> Refusal | None:
    """Why a pull is not taken back: the book has made something of its sheet."""
    for sheet in sheets:
        why = reason_to_keep_pull(register, sheet)
        if why is not None:
            return Refusal(f"That sheet stays: {why}", "take its number back first")
    return None
