"""What the Bench shows: a pure function of the room and the moment, ready to be placed.

Screens, the plain lines and the voice all read this; none of them knows a rule.
Numbers are milliseconds; words are for a printer and come from the recipe or from us.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from benchapp.decision import Refusal
from benchapp.events.entry import Draft, Moment
from benchapp.events.session import SessionClosed, StepStarted
from benchapp.history.drift import drift_line
from benchapp.history.hints import hint_sentences
from benchapp.history.stats import NOTHING, Learnt
from benchapp.session import actions as a
from benchapp.session.annotate import in_hand
from benchapp.session.coming import held_words
from benchapp.session.compiled_recipe import DAMP_IN, WASH
from benchapp.session.context import is_muted, worked_ms
from benchapp.session.copying import replace
from benchapp.session.counting import (
    count_impressions,
    count_pulled,
    does_count,
    is_complete,
    pull_purpose,
    target_count,
)
from benchapp.session.decide import decide
from benchapp.session.ink_lying import inking_words
from benchapp.session.names import call_id, is_limit, key_of, step_of
from benchapp.session.next_steps import next_pack_size
from benchapp.session.room_clocks import live_room_calls
from benchapp.session.room_facts import whose_words
from benchapp.session.sheet_asked import sheet_answers
from benchapp.session.state import Call, Impression, Session, StudioState, TaskKey
from benchapp.session.state_asked import purpose_text, state_question
from benchapp.session.values import is_grade
from benchapp.views.cautions import CareView, care_views
from benchapp.views.clocks import ClockView, Count, clock_views
from benchapp.views.cut_short import cut_by, cut_words
from benchapp.views.offered import offered_now
from benchapp.views.paper import left_words
from benchapp.views.warnings import (
    bench_warnings,
    pause_words,
    place_taken_by,
    question_text,
    set_otherwise_words,
)

Side = Literal["inky", "wash", "clean", "wait", "none"]


@dataclass(frozen=True, slots=True)
class NowView:
    """What to do now."""

    key: TaskKey | None
    side: Side
    do: str
    short: str
    say: str
    lines: tuple[str, ...] = ()
    count: Count | None = None
    place: str | None = None
    taken: str | None = None
    asks: tuple[str, ...] = ()
    must: tuple[str, ...] = ()
    proposals: tuple[str, ...] = ()
    cares: tuple[CareView, ...] = ()
    inking: str = ""
    """The plate and the ink while it is inked and wiped, as the recipe says it."""
    pack: str = ""
    """The sheets of the pack that goes in, and why so many."""


@dataclass(frozen=True, slots=True)
class CallView:
    """A clock that ran out: calling now, or answered and listed until its step is done.

    `muted_ms`: for how long it is silent still; None where it is not, or until answered.
    `owner`: the id of the session it belongs to; None: a pack nobody looks after, or a timer.
    """

    id: str
    text: str
    late_ms: int
    calling: bool
    clean: bool
    muted: bool
    session: str | None = None
    muted_ms: int | None = None
    owner: str | None = None

    @property
    def by_tread(self) -> bool:
        """Whether a tread answers it at the Bench."""
        return self.session is None and not is_limit(self.id)


@dataclass(frozen=True, slots=True)
class SheetView:
    """One impression as a row."""

    ordinal: int
    number: int | None
    mark: str
    purpose: str
    by_rule: bool
    verdict: str | None
    tags: tuple[str, ...]
    notes: int
    look_again: bool
    ended: str | None
    counts: bool
    readings: tuple[str, ...] = ()
    """The last of each name: `grade 3`, `ink used 12 g`."""


@dataclass(frozen=True, slots=True)
class BenchView:
    """The Bench at one moment."""

    session: str
    title: str
    artist: str
    hands: Literal["inky", "clean"]
    helper: str | None
    now: NowView
    next: str | None
    offered: tuple[str, ...]
    mark: str | None
    lifted: bool
    """The sheet in hand has its last pull, or stays as it is: it comes off the press for good."""
    for_words: str | None
    clocks: tuple[ClockView, ...]
    calls: tuple[CallView, ...]
    sheets: tuple[SheetView, ...]
    pulled: int
    counting: int
    wanted: int | None
    enough: bool
    paused_ms: int | None
    pause_words: tuple[str, ...]
    warnings: tuple[str, ...]
    question: str | None
    state_question: str | None
    left_off: str | None
    closed: bool
    others: tuple[str, ...]
    drift: str | None = None
    set_otherwise: tuple[str, ...] = ()
    """What another session has set since; it is among the warnings too."""
    paper: str = ""
    """How many sheets are damp."""


def bench_view(room: StudioState, now: Moment, learnt: Learnt = NOTHING) -> BenchView | None:
    """The Bench of the session on it; None where there is none.

    Args:
        room: The room.
        now: The clocks.
        learnt: What the print's sessions taught; proposals go by it.
    """
    s = room.session
    if s is None:
        return None
    t = room.t_at(now)
    imp = in_hand(s)
    asked = next((w for w in reversed(s.history) if w.question == "asked"), None)
    return BenchView(
        session=s.name, title=s.recipe.print.title, artist=s.recipe.print.artist,
        hands="inky" if room.inky else "clean", helper=room.helper,
        now=replace(_proposed(room, s, _now(room, s, t), learnt, t), cares=care_views(s)),
        next=next_tread_words(room, now), offered=offered_now(room, s, t), mark=_mark(s, imp),
        lifted=imp is not None and (is_complete(s, imp) or imp.ended is not None),
        for_words=_for_words(s, imp), clocks=clock_views(room, t), calls=call_views(room, t),
        sheets=tuple(sheet_view(s, i) for i in s.impressions if i.pulled),
        pulled=count_pulled(s), counting=count_impressions(s), wanted=target_count(s),
        enough=s.enough,
        paused_ms=None if s.paused_t is None else t - s.paused_t,
        pause_words=pause_words(room, s, t), warnings=bench_warnings(room, s, t),
        question=None if asked is None else question_text(s, asked),
        state_question=state_question(room, s), left_off=s.left_off,
        closed=s.closed is not None,
        others=tuple(o.name for o in room.open_sessions if o.id != s.id),
        drift=drift_line(s), set_otherwise=set_otherwise_words(room, s),
        paper=left_words(room, s, t),
    )


# -- now and next ---------------------------------------------------------------------


def _now(room: StudioState, s: Session, t: int) -> NowView:
    if s.closed is not None:
        return NowView(None, "none", "The session is closed", "closed", "The session is closed")
    key = s.hand
    if key is not None and (step := step_of(s, key)) is not None:
        work = s.work[key]
        span = step.time
        count = Count(worked_ms(s, work, t), down=False,
                      low=None if span is None else span.low.ms,
                      usual=None if span is None else span.usual.ms,
                      high=None if span is None else span.high.ms,
                      exact=room.exact(work.started_t, t))
        side: Side = "wash" if key.step == WASH else "inky" if step.hands == "inky" else "clean"
        words = do_words(room, s, key, t)
        asked = state_question(room, s) if side == "wash" else None
        say = s.shape.spoken.get(step.id) or step.say or words
        return NowView(key, side, words, step.short or _short(step.do),
                       say if asked is None else f"{say}. {asked}",
                       step.lines, count, step.at, place_taken_by(room, s, key, step), step.asks,
                       step.must or sheet_answers(room, s, t),
                       inking=inking_words(s, key),
                       pack=next_pack_size(room, s, t).words if key.step == DAMP_IN else "")
    return _waiting(room, s, t)


def _proposed(room: StudioState, s: Session, now: NowView, learnt: Learnt, t: int) -> NowView:
    """The step with what the day's arithmetic proposes for it."""
    found = () if now.key is None else hint_sentences(s, now.key, learnt,
                                                      next_pack_size(room, s, t))
    return replace(now, proposals=found) if found else now


def _waiting(room: StudioState, s: Session, t: int) -> NowView:
    """Only waits are left, or nothing: the one that ends first stands on neither side."""
    if (held := held_words(room, s, t)) is not None:
        return NowView(None, "none", held, "not begun", held, ("the pedal begins it",))
    mine = [c for c in clock_views(room, t) if c.is_waited_for]
    if not mine:
        words = "Nothing is due"
        return NowView(None, "none", words, "nothing due", words)
    first = min(mine, key=lambda c: c.count.ms)
    return NowView(None, "wait", first.name, _short(first.name), f"Waiting: {first.name}",
                   count=first.count)


def _short(do: str) -> str:
    return do if len(do) <= 12 else do[:11].rstrip() + "…"


def do_words(room: StudioState, s: Session, key: TaskKey, t: int) -> str:
    """What to do, in words: of a pack with the number of its sheets."""
    step = step_of(s, key)
    do = key.step if step is None else step.do
    if key.step == DAMP_IN:
        size = next_pack_size(room, s, t)
        return do if size.sheets is None else f"{do}: {size.sheets}"
    whose = "" if step is None else whose_words(room, s, step, t)
    return f"{do} ({whose})" if whose else do


def next_tread_words(room: StudioState, now: Moment) -> str | None:
    """What one tread would bring, and what it would end early for that.

    It is tried out on the room as it is, and thrown away.
    """
    s = room.session
    if s is None or s.closed is not None:
        return None
    t = room.t_at(now)
    must = s.hand is not None and (step := step_of(s, s.hand)) is not None and bool(
        step.must or sheet_answers(room, s, t))
    tried = decide(room, a.Must(None) if must else a.GoOn(), now)
    if isinstance(tried, Refusal):
        return None
    words, cut = _brought(room, s, tried, t), cut_words(room, s, tried, t)
    return f"{words} ({cut})" if words is not None and cut else words


def early_words(room: StudioState, now: Moment) -> str | None:
    """What one tread would bring where it ends a wait early for that; else None."""
    s = room.session
    waits = s is not None and s.closed is None and s.hand is None
    return next_tread_words(room, now) if waits and cut_by(room, a.GoOn(), now) else None


def _brought(room: StudioState, s: Session, tried: Sequence[Draft], t: int) -> str | None:
    started = [key_of(d.event) for d in tried if isinstance(d.event, StepStarted)]
    hands = [k for k in started if (st := step_of(s, k)) is not None and st.hands != "free"]
    if hands:
        return do_words(room, s, hands[-1], t)
    if any(isinstance(d.event, SessionClosed) for d in tried):
        return "The session closes"
    if started:
        first = step_of(s, started[0])
        return None if first is None else f"Wait: {first.do}"
    return _wait_ahead(room, t)


def _wait_ahead(room: StudioState, t: int) -> str | None:
    """What would be waited for where a tread begins nothing: the clock that runs out first."""
    first = next((c for c in clock_views(room, t) if c.is_waited_for), None)
    return None if first is None else f"Wait: {first.name}"


def _mark(s: Session, imp: Impression | None) -> str | None:
    """The sheet mark, large from pull to boards."""
    return imp.mark if imp is not None and imp.pulled else None


def for_text(purpose: str, state: str | None) -> str:
    """What a pull is for, in words: `SP II`."""
    return f"{purpose} {state}" if state else purpose


BY_RULE: Final = " (by rule)"
"""Behind what a pull is for where a rule said it, not the printer."""


def _for_words(s: Session, imp: Impression | None) -> str | None:
    if imp is None:
        return None
    purpose, state, by = pull_purpose(s, imp)
    words = purpose_text(purpose, state)
    return words if by == "printer" else f"{words}{BY_RULE}"


def sheet_view(s: Session, imp: Impression) -> SheetView:
    """One impression as a row."""
    return SheetView(
        imp.ordinal, imp.number, imp.mark or "", for_text(imp.purpose or "", imp.state),
        imp.purpose_by == "rule", imp.verdict, imp.tags, len(imp.notes), imp.look_again,
        imp.ended, does_count(s, imp), _readings(imp))


def _readings(imp: Impression) -> tuple[str, ...]:
    last = {r.name: r for r in imp.readings}
    return tuple(f"{r.name} {r.value}" + ("" if r.unit is None or is_grade(r.unit)
                                          else f" {r.unit}") for r in last.values())


# -- calls -----------------------------------------------------------------------------


def call_views(room: StudioState, t: int) -> tuple[CallView, ...]:
    """The clocks that ran out, the most harmful first."""
    out = []
    running_out = clock_views(room, t)
    names = {c.id: c.name for c in running_out}
    over = {c.id: -c.count.ms for c in running_out if c.count.down}
    for s in room.open_sessions:
        running = {call_id(k): do_words(room, s, k, t) for k in s.under_way}
        for call in s.calls.values():
            name = names.get(call.id) or running.get(call.id)
            if name is not None:
                late = over.get(call.id, t - call.due_t)
                out.append(_call_view(s, call, name, t, late, s.id == room.bench))
    out += [CallView(clock.call, names.get(clock.call, clock.name), max(0, t - clock.due_t),
                     call.called and not call.answered, clock.clean, muted=False)
            for clock, call in live_room_calls(room, t)]
    return tuple(sorted(
        out, key=lambda c: (not c.calling, not c.id.startswith("soak"), -c.late_ms)))


def _call_view(s: Session, call: Call, name: str, t: int, late_ms: int,
               here: bool) -> CallView:
    """A call as it stands; it is late since its clock ran out, not since that was noticed."""
    silent = is_muted(s, call.id, t)
    until = s.muted.get(call.id)
    return CallView(call.id, name, max(0, late_ms),
                    call.called and not call.answered and not silent, call.clean, silent,
                    None if here else s.name,
                    until - t if silent and until is not None else None, s.id)
