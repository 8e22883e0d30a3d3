"""What will call, known ahead: every clock that runs out, with all that decides how it sounds.

The decider asks it at the moment, whoever sounds the calls asks it beforehand and
keeps the answer, so that a screen that stands still silences nothing. Times are
milliseconds of the room's own time.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

from benchapp.edition.packs import SHEET_OPEN_MS, Pack
from benchapp.recipe.model import Step
from benchapp.session import room_clocks
from benchapp.session.compiled_recipe import DAMP_OUT, WASH
from benchapp.session.context import ends_t, worked_ms
from benchapp.session.limits import waiting_name, waiting_sheets
from benchapp.session.names import call_id, limit_call_id, step_of
from benchapp.session.next_steps import soaking_packs
from benchapp.session.room_clocks import ROOM
from benchapp.session.state import Attempt, Session, StudioState, TaskKey

Hands = Literal["inky", "washing", "clean"]

#: What waits is worse left than what was only timed: paper in the water first.
SOAK, WAIT, TIMED = 0, 1, 2
_TOLD: Final = 8
_HOUR_MS: Final = 3_600_000
SHEETS_OUT: Final = "Sheets out of the water"
RESTED: Final = "The sheets have rested: they are ready"
LAIN_OPEN: Final = "A sheet has been out of its pack 5 min: spray it, put it back, or print it"


@dataclass(frozen=True, slots=True)
class CallClock:
    """One clock that will call, or calls.

    Attributes:
        session: The session it runs in; `room` where it runs in none.
        call: The call's id there.
        due_t: When it runs out.
        phrase: What is said when it has.
        harm: 0 is the most harmful to leave.
        clean: Answering it needs clean hands.
        spoils_t: When it is too late for what follows; None if that keeps.
        answered: The printer answered it.
        muted: Silent until it is answered.
        muted_until_t: Silent until then.
        exact: Its time, and how late it is, was counted inside one boot.
        gentle: It is told once and asks for no answer.
    """

    session: str
    call: str
    due_t: int
    phrase: str
    harm: int
    clean: bool = False
    spoils_t: int | None = None
    answered: bool = False
    muted: bool = False
    muted_until_t: int | None = None
    exact: bool = True
    gentle: bool = False


@dataclass(frozen=True, slots=True)
class Calling:
    """All that may call, and what hands are like.

    Attributes:
        clocks: Of every open session, and of the room.
        hands: `washing` while the wash is in hand; `clean` also where a helper is in, and
            where nothing is in hand, so that the printer stands waiting for a call.
        next_wash_t: When the next wash is expected (while washing: the one after it);
            None if nobody can tell.
    """

    clocks: tuple[CallClock, ...]
    hands: Hands
    next_wash_t: int | None


def foresee_calls(room: StudioState, t: int) -> Calling:
    """Everything that will call if nothing more is done, at room time `t`."""
    clocks = tuple(c for s in room.open_sessions for c in clocks_of(room, s, t))
    return Calling((*clocks, *of_the_room(room, t)), hands_of(room), next_wash_t(room, t))


def hands_of(room: StudioState) -> Hands:
    """What hands are like for whoever would call."""
    in_hand = [s.hand for s in room.open_sessions if s.hand is not None]
    if room.clean or not in_hand:
        return "clean"
    return "washing" if any(key.step == WASH for key in in_hand) else "inky"


def next_end_t(room: StudioState, since_t: int) -> int | None:
    """When the next clock after `since_t` runs out: of those that call, and waits that end alone.

    Args:
        room: The room.
        since_t: Room time; what called by then is left out.
    """
    calls = [c.due_t for s in room.open_sessions for c in clocks_of(room, s, since_t)]
    calls += [c.due_t for c in of_the_room(room, since_t)]
    alone = [max(over, since_t) for s in room.open_sessions for key, work in s.live
             if (step := step_of(s, key)) is not None and step.ends_itself
             and (over := ends_t(step, work)) is not None]
    # A wait that ended is gone; one of no length, or taken back when it was over, ends at once.
    return min((*(t for t in calls if t > since_t), *alone), default=None)


def passing_calls(room: StudioState, t: int) -> Iterator[CallClock]:
    """The clocks that ran out and are told once, without an entry; inky hands keep some silent."""
    inky = hands_of(room) == "inky"
    return (c for c in of_the_room(room, t)
            if c.gentle and c.due_t <= t and not (c.clean and inky))


# -- the clocks -------------------------------------------------------------------------


def clocks_of(room: StudioState, s: Session, t: int) -> Iterator[CallClock]:
    """The clocks of one session that will call, or call."""
    for key, work in s.live:
        step = s.shape.by_id.get(key.step)
        over = None if step is None else ends_t(step, work)
        if step is None or step.hands != "free" or over is None or step.ends_itself:
            continue
        yield _clock(room, s, t, call_id(key), work.started_t, over, f"{_words(step)}: time is up",
                     WAIT, clean=next_is_clean(s, key), spoils_t=spoils_t(s, key, over))
    hand = _hands_clock(room, s, t)
    if hand is not None:
        yield hand
    for run in waiting_sheets(s, t):
        due = t + run.left_ms
        yield _clock(room, s, t, limit_call_id(TaskKey(run.limit.step, run.impression)),
                     due - run.limit.within.ms, due,
                     f"{waiting_name(s, run.limit)}: time is up", WAIT)
    for timed in s.timed.values():
        yield _clock(room, s, t, timed.id, timed.started_t, timed.started_t + timed.ms,
                     f"{timed.name}: time is up", TIMED)
    for pack in soaking_packs(room, s, t):
        key = TaskKey(DAMP_OUT, pack=pack.id)
        if pack.soaked_t is not None and not s.running(key) and not s.done(key):
            yield _clock(room, s, t, call_id(key), pack.put_in_t, pack.soaked_t, SHEETS_OUT,
                         SOAK, clean=True)


def of_the_room(room: StudioState, t: int) -> Iterator[CallClock]:
    """The clocks that belong to no session: timers, soaks nobody looks after, rests, open sheets.

    A rest that is over and a sheet that lay open too long are told once, within the hour.
    """
    for clock in room_clocks.running_clocks(room, t):
        call = room.calls.get(clock.call)
        yield CallClock(ROOM, clock.call, clock.due_t,
                        f"{clock.name}: time is up" if clock.name else SHEETS_OUT,
                        TIMED if clock.name else SOAK, clock.clean,
                        answered=call is not None and call.answered,
                        exact=room.exact(clock.since_t, t))
    for pack in room.packs.values():
        for call_, due_t, phrase in _told_of(pack):
            if t < due_t + _HOUR_MS:
                yield CallClock(ROOM, call_, due_t, phrase, _TOLD, clean=True, gentle=True,
                                exact=room.exact(pack.put_in_t, t))


def _told_of(pack: Pack) -> Iterator[tuple[str, int, str]]:
    """What a pack has told of it beside its soak: the call, when, and the words."""
    ready = pack.ready_t
    if pack.rest_ms and ready is not None and pack.there and not pack.ready_said:
        yield f"rest {pack.id}", ready, RESTED
    for since in pack.open:
        yield f"open {pack.id} {since}", since + SHEET_OPEN_MS, LAIN_OPEN


def _hands_clock(room: StudioState, s: Session, t: int) -> CallClock | None:
    """The hands step in progress, where the recipe has it call; a pause stops its count."""
    key = s.hand
    step = None if key is None else step_of(s, key)
    if key is None or step is None or s.paused_t is not None:
        return None
    work = s.work[key]
    due = hands_due_t(step, work)
    if due is None or step.calls is None:
        return None
    return _clock(room, s, t, call_id(key), work.started_t, due,
                  f"{_words(step)}: {step.calls} left", WAIT)


def hands_due_t(step: Step, work: Attempt) -> int | None:
    """When a hands step calls, if it is not paused again; None: it is silent."""
    if step.calls is None or step.time is None:
        return None
    return work.started_t + work.paused_ms + step.time.usual.ms - step.calls.ms


def _clock(room: StudioState, s: Session, t: int, call: str, since_t: int, due_t: int, phrase: str,
           harm: int, *, clean: bool = False, spoils_t: int | None = None) -> CallClock:
    known = s.calls.get(call)
    title = "" if s.id == room.bench else f"{s.recipe.print.title}: "
    return CallClock(s.id, call, due_t, title + phrase, harm, clean, spoils_t,
                     answered=known is not None and known.answered,
                     muted=call in s.muted and s.muted[call] is None,
                     muted_until_t=s.muted.get(call), exact=room.exact(since_t, t))


def _words(step: Step) -> str:
    return step.say or step.do


def next_is_clean(s: Session, key: TaskKey) -> bool:
    """Whether what follows a wait needs clean hands."""
    shape = s.shape
    after = (shape.by_id[x] for x, before in shape.follows.items() if key.step in before)
    first = next((x for x in after if x.hands != "free"), None)
    return first is not None and first.hands == "clean"


def spoils_t(s: Session, key: TaskKey, over_t: int) -> int | None:
    """When what follows a wait would come too late; only the limits say what spoils."""
    limits = [x.within.ms for x in s.shape.limits if x.after == key.step]
    return over_t + min(limits) if limits else None


# -- the wash ---------------------------------------------------------------------------


def next_wash_t(room: StudioState, t: int) -> int | None:
    """When the next wash is expected, by usual times; unknown ones are left out.

    While the wash is in hand it is the one after it. None where no hands are at work.
    """
    s = next((x for x in (room.session, *room.open_sessions)
              if x is not None and x.closed is None and x.hand is not None), None)
    if s is None or s.hand is None:
        return None
    step = step_of(s, s.hand)
    left = 0 if step is None or step.time is None else (
        step.time.usual.ms - worked_ms(s, s.work[s.hand], t))
    ahead = list(_ahead(s, s.hand))
    found = _to_wash_ms(ahead) if s.hand.step != WASH else _past_inky_ms(ahead)
    return None if found is None else t + max(0, left + found)


def _ahead(s: Session, hand: TaskKey) -> Iterator[Step]:
    """The hands steps that come after the one in hand, to the end of the next impression."""
    place = s.shape.place_of.get(hand.step)
    if place is not None:
        yield from _hands_steps(s.recipe.each[place + 1:])
    elif hand.step not in s.shape.by_id or s.shape.by_id[hand.step].section != "each":
        section = s.recipe.before if hand.step.startswith("before") else s.recipe.after
        ids = [x.id for x in section]
        at = ids.index(hand.step) + 1 if hand.step in ids else 0
        yield from _hands_steps(section[at:])
        if section is s.recipe.after:
            return
    elif hand.impression is not None:
        yield from _hands_steps(x for x in s.recipe.each
                                if TaskKey(x.id, hand.impression) not in s.work)
    else:
        yield from _hands_steps(x for x in s.recipe.after if TaskKey(x.id) not in s.work)
        return
    yield from _hands_steps(s.recipe.each)


def _hands_steps(steps: Iterable[Step]) -> Iterator[Step]:
    return (x for x in steps if x.hands != "free" and not x.optional)


def _to_wash_ms(ahead: Iterable[Step]) -> int:
    """Inky work before the next clean step."""
    total = 0
    for step in ahead:
        if step.hands == "clean":
            break
        total += 0 if step.time is None else step.time.usual.ms
    return total


def _past_inky_ms(ahead: Iterable[Step]) -> int | None:
    """Work before the clean step that comes after the next inky one; None: there is none."""
    total, inky = 0, False
    for step in ahead:
        if inky and step.hands == "clean":
            return total
        inky = inky or step.hands == "inky"
        total += 0 if step.time is None else step.time.usual.ms
    return None
