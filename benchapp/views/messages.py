"""What an action did, in short lines for a printer: read aloud, printed, or shown as a message.

`describe_change` says what ended, how long it took and what begins; `status_lines` how the Bench
stands. Pure; the texts are the printer's own, to be made visible where shown.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import Any, Final

from benchapp.events import call as c
from benchapp.events import impression as i
from benchapp.events import session as e
from benchapp.events.entry import Entry
from benchapp.events.event import ActionTakenBack, BookEvent
from benchapp.events.field_types import ABSENT, given
from benchapp.events.stack import SheetLifted
from benchapp.events.streams import stream_family
from benchapp.quantities import minutes_text
from benchapp.session import actions as a
from benchapp.session.annotate import last_pulled, try_words
from benchapp.session.compiled_recipe import WASH
from benchapp.session.context import worked_ms
from benchapp.session.counting import count_impressions, count_pulled, pull_purpose
from benchapp.session.edition_links import of_sheet
from benchapp.session.names import call_id, key_of, session_id, step_of
from benchapp.session.sheet_asked import of_no_pack_words
from benchapp.session.state import SPOILED_TRY, Attempt, Session, StudioState, TaskKey
from benchapp.session.state_asked import plates_asked, purpose_text, state_question
from benchapp.views.bench import do_words, for_text
from benchapp.views.cautions import care_of
from benchapp.views.clocks import clock_views
from benchapp.views.pack_messages import pack_line, timer_line
from benchapp.views.room_messages import ROOM_TELLERS
from benchapp.views.status import (
    Lines,
    begun_line,
    count_line,
    now_lines,
    session_headline,
    status_lines,
)
from benchapp.views.tellers import Tellers, teller
from benchapp.views.warnings import question_text

__all__ = ["begun_line", "count_line", "describe_change", "now_lines", "session_headline",
           "status_lines"]


def describe_change(before: StudioState, after: StudioState, entries: Iterable[Entry], *,
                    cares: bool = True) -> Lines:
    """The lines of what was done.

    Args:
        before: The room as it was.
        after: The room with `entries` folded.
        entries: Those of one action, in order.
        cares: Whether the cautions of what begins are told: not where they stand beside.

    Returns:
        Short lines in the order things happened; none where nothing is worth one.
    """
    told = list(entries)
    out: list[str] = []
    for place, entry in enumerate(told):
        if _overtaken(entry, told[place + 1:]):
            continue
        said = _line(before, after, entry)
        if said and said not in out:
            out.append(said)
        if cares and said and isinstance(entry.event, e.StepStarted):
            s = after.sessions[session_id(entry.stream)]
            out += _care(s, entry.event)
            out += _state_asked(after, s, entry.event)
    if any(isinstance(x.event, ActionTakenBack) for x in told) or (
            _hands_left_empty(before, after, told)):
        out += [x for x in now_lines(after) if x not in out]
    return tuple(out)


def _line(before: StudioState, after: StudioState, entry: Entry) -> str:
    match stream_family(entry.stream):
        case "pack":
            return pack_line(after, entry)
        case "clock":
            return timer_line(before, after, entry)
        case "stack":
            return _lifted(after, entry)
        case _:
            return _session_line(before, after, entry)


def _lifted(room: StudioState, entry: Entry) -> str:
    """A sheet laid before comes out of its stack, as it is judged spoiled."""
    of = of_sheet(entry.event.sheet) if isinstance(entry.event, SheetLifted) else None
    s = None if of is None else room.sessions.get(of[0])
    imp = None if s is None or of is None else s.impression(of[1])
    return "" if imp is None else f"{imp.mark} is no longer under the boards"


def _hands_left_empty(before: StudioState, after: StudioState, told: list[Entry]) -> bool:
    """Whether a step of the hands ended and none was begun: then what is waited for is said."""
    was, now = before.session, after.session
    return (was is not None and now is not None and was.id == now.id and was.hand is not None
            and now.hand is None and not any(isinstance(x.event, e.StepStarted) for x in told))


def _overtaken(entry: Entry, later: list[Entry]) -> bool:
    """Whether a later entry of the same action says it better."""
    event = entry.event
    if isinstance(event, e.StepChosen):
        return any(isinstance(x.event, e.StepStarted) for x in later)
    if isinstance(event, e.StepFinished) and event.how in ("dropped", "skipped"):
        return any(isinstance(x.event, i.ImpressionEnded)
                   and x.event.impression == event.impression for x in later)
    better = {"due": "called", "called": "answered"}.get(entry.kind)
    return better is not None and any(x.kind == better and _same_call(x, entry) for x in later)


def _same_call(one: Entry, other: Entry) -> bool:
    """In its own stream, a session names the call; a pack and a timer have only one."""
    return one.stream == other.stream and _call_in(one.event) == _call_in(other.event)


def _call_in(event: BookEvent) -> str | None:
    return event.call if isinstance(event, c.CallDue | c.CallMade | c.CallAnswered) else None


def _session_line(before: StudioState, after: StudioState, entry: Entry) -> str:
    sid = session_id(entry.stream)
    s = after.sessions.get(sid)
    event = entry.event
    teller = _TELLERS.get(type(event))
    if s is None or teller is None:
        return ""
    if isinstance(event, c.CallDue | c.CallMade | c.CallAnswered):
        # What is answered runs no more afterwards: its name is known before.
        text = teller(before if sid in before.sessions else after, before.sessions.get(sid, s),
                      event)
        text = text or teller(after, s, event)
    else:
        text = teller(before if isinstance(event, ActionTakenBack) else after, s, event)
    elsewhere = (after.bench is not None and sid != after.bench
                 and not isinstance(event, e.StepTakenOver))
    return f"{s.name}: {text}" if text and elsewhere else text


# -- the session ------------------------------------------------------------------------


def _continued(room: StudioState, s: Session, told: e.SessionContinued) -> str:
    return f"{session_headline(s)} · pulled {count_pulled(s)} · counting {count_impressions(s)}"


def _closed(room: StudioState, s: Session, told: e.SessionClosed) -> str:
    if s.discarded:
        return f"{s.name} discarded · benchapp sessions --all lists it"
    return f"{s.name} closed · {count_line(s)}"


def _wanted(room: StudioState, s: Session, told: e.WantedSet) -> str:
    wanted = told.wanted
    return "Wanted: until you say enough" if wanted is None else f"Wanted {wanted}"


# -- steps ------------------------------------------------------------------------------


def _do(room: StudioState, s: Session, key: TaskKey) -> str:
    return do_words(room, s, key, room.t)


def _started(room: StudioState, s: Session, told: e.StepStarted) -> str:
    key = key_of(told)
    work = s.work.get(key)
    if work is not None and not work.running and s.hand != key:
        return ""  # it ended in the same action: that is said then
    return begun_line(room, s, key)


def _finished(room: StudioState, s: Session, told: e.StepFinished) -> str:
    key, how = key_of(told), told.how
    step = step_of(s, key)
    do = key.step if step is None else step.do
    match how:
        case "done" | "ended itself" | "not said":
            return f"{do}: {_length(room, s, key, told)}" if how != "not said" else ""
        case "cut short":
            return f"{do}: cut short after {_length(room, s, key, told)}"
        case "skipped":
            return f"{do}: skipped, {told.why}"
        case "left":
            return ""  # the entry of the other session says to which
        case "passed" if key.step in s.taken_over:
            return ""  # it was asked with another step, which says so
        case "dropped":
            return f"{do}: dropped"
        case _:
            return f"{do}: done, time not taken"


def _length(room: StudioState, s: Session, key: TaskKey, told: e.StepFinished) -> str:
    """How long it took; pauses left out; ≈ where the machine was started anew meanwhile."""
    work = _attempt(s, key, told.attempt)
    if work is None or not told.taken or work.finished_t is None:
        return "done, time not taken"
    about = "" if room.exact(work.started_t, work.finished_t) else "≈ "
    return about + minutes_text(worked_ms(s, work, work.finished_t))


def _attempt(s: Session, key: TaskKey, attempt: int) -> Attempt | None:
    return next((w for w in reversed(s.history) if w.key == key and w.attempt == attempt), None)


def _care(s: Session, told: e.StepStarted) -> Lines:
    """The caution of the step that began: whole once a day, else the harm and what to do."""
    care = care_of(s, key_of(told))
    return () if care is None else (f"Care: {care.text}",)


def _chosen(room: StudioState, s: Session, told: e.StepChosen) -> str:
    key = key_of(told)
    after = "" if s.hand in (None, key) else f", after {_do(room, s, s.hand)}"
    return f"Next: {_do(room, s, key)}{after}"


def _skip_said(room: StudioState, s: Session, told: e.SkipSaid) -> str:
    step = step_of(s, TaskKey(told.step, told.impression))
    do = told.step if step is None else step.do
    why = told.why
    return f"{do}: not skipped after all" if why is None else f"{do}: will be skipped, {why}"


def _leave_said(room: StudioState, s: Session, told: e.LeaveSaid) -> str:
    step, other = step_of(s, TaskKey(told.step)), room.sessions.get(told.to or "")
    do = told.step if step is None else step.do
    if told.to is None:
        return f"{do}: done here after all"
    return f"{do}: will be left to {told.to if other is None else other.name}"


def _state_asked(room: StudioState, s: Session, told: e.StepStarted) -> Lines:
    """What is asked of a reworked plate at the wash, and once more before the pull."""
    step = step_of(s, key_of(told))
    asked = state_question(room, s)
    if asked is None or step is None or s.hand != key_of(told) or (
            step.id != WASH and not step.pulls):
        return ()
    plates = plates_asked(room, s)
    one = "" if len(s.recipe.plates) == 1 else f"{plates[0]} "
    return (f"{asked} Write, for example: state {one}II",)


def _extended(room: StudioState, s: Session, told: e.StepExtended) -> str:
    return f"{_do(room, s, key_of(told))}: {minutes_text(told.by_ms)} more"


def _redone(room: StudioState, s: Session, told: e.StepRedone) -> str:
    step = s.shape.by_id.get(told.step)
    do = told.step if step is None else step.do
    return f"{_named(s, told.impression)}: {do} again, and the steps after it"


# -- sheets -------------------------------------------------------------------------------


def _named(s: Session, ordinal: int | None) -> str:
    imp = s.impression(ordinal)
    if imp is None:
        return "The sheet in hand"
    return imp.mark or f"The {try_words(imp)}"


def _begun(room: StudioState, s: Session, told: i.ImpressionBegun) -> str:
    return "A ghost: do not ink the plate" if told.ghost else ""


def _pulled(room: StudioState, s: Session, told: i.ImpressionPulled) -> str:
    imp = s.impression(told.impression)
    plates = " and ".join(told.plates)
    if imp is not None and imp.pulls and imp.pulls[0].step != told.step:
        return f"{imp.mark}: pulled from {plates} too"
    rule = " (by rule)" if told.purpose_by == "rule" else ""
    late = "" if told.at_press else ", time not taken"
    return f"Pulled {told.mark} for {purpose_text(told.purpose, told.state)}{rule}{late}"


def _taken_of_none(room: StudioState, s: Session, told: i.SheetTaken) -> str:
    """A sheet of a pack is told by its pack."""
    return "" if told.pack is not None else (
        f"Sheet for this pull: {of_no_pack_words(given(told.damp, None))}")


def _ended(room: StudioState, s: Session, told: i.ImpressionEnded) -> str:
    if told.how == SPOILED_TRY:
        lost = "; its sheet is lost" if told.sheet == "lost" else ""
        return f"This try is spoiled before its pull: it gets no number{lost}"
    return f"{_named(s, told.impression)} stops here: {told.how}"


def _judged(r: StudioState, s: Session, x: i.ImpressionJudged) -> str:
    """A verdict; a good warm-up is offered as one of the edition."""
    words = f"{_named(s, x.impression)}: {x.verdict or 'not judged'}"
    sheet = s.impression(x.impression)
    if x.verdict == "keep" and sheet is not None and sheet.purpose == "warm-up":
        return f"{words}; a warm-up does not count (to count it: for edition)"
    return words


def _for(room: StudioState, s: Session, told: i.PurposeSaid) -> str:
    imp, state = s.impression(told.impression), told.state
    if imp is not None and not imp.pulled:
        state = pull_purpose(s, imp)[1]
    return f"{_named(s, told.impression)}: for {for_text(told.purpose, state)}"


def _noted(room: StudioState, s: Session, told: i.NoteWritten) -> str:
    to = "the session" if told.impression is None else _named(s, told.impression)
    return f"Note on {to[:1].lower() + to[1:] if to.startswith('The ') else to}: {told.text}"


def _read(room: StudioState, s: Session, told: i.ReadingRecorded) -> str:
    # A grade says its name and its figure: the scale it is of is no unit behind it.
    unit = f" {told.unit}" if told.unit and not told.unit.startswith("grade") else ""
    if told.impression is None:
        return f"{told.name} of the day: {told.value}{unit}"
    return f"{_named(s, told.impression)} {told.name}: {told.value}{unit}"


def _reworked(room: StudioState, s: Session, told: i.PlateReworked) -> str:
    state = f" is in state {told.state}" if told.state else ""
    what = f": {told.what}" if told.what else ""
    return f"Plate {told.plate}{state}{what}{_still_unknown(s) if state else ''}"


def _still_unknown(s: Session) -> str:
    """The proof in hand that was pulled before its state was said: it keeps *not known*."""
    last = last_pulled(s)
    if last is None or last.laid or last.purpose != "SP" or last.state is not None:
        return ""
    return f"; {last.mark} was pulled before that: say for SP and its state"


# -- clocks, calls, people -----------------------------------------------------------------


def _call_name(room: StudioState, s: Session, call: str) -> str:
    known = {c.id: c.name for c in clock_views(room, room.t)}
    known |= {call_id(k): _do(room, s, k) for k in s.under_way}
    return known.get(call, "")


def _called(room: StudioState, s: Session, told: c.CallMade) -> str:
    name = _call_name(room, s, told.call)
    return f"Calling: {name}" if name else ""


def _due(room: StudioState, s: Session, told: c.CallDue) -> str:
    name = _call_name(room, s, told.call)
    if not name:
        return ""
    return f"Due: {name}" + (" (for clean hands)" if told.clean else "")


def _answered(room: StudioState, s: Session, told: c.CallAnswered) -> str:
    name = _call_name(room, s, told.call)
    return f"Answered: {name}" if name else ""


def _questioned(room: StudioState, s: Session, told: c.TimeQuestioned) -> str:
    work = _attempt(s, key_of(told), told.attempt)
    return "" if work is None else question_text(s, work)


_ANSWERS: Final = {"took": "took that long",
                   "away": "you were away; this time is not counted as work",
                   "forgot": "you forgot the pedal; no time is recorded"}


def _explained(room: StudioState, s: Session, told: c.TimeExplained) -> str:
    return f"{_do(room, s, key_of(told))}: {_ANSWERS.get(told.answer, told.answer)}"


def _stepped(room: StudioState, s: Session, told: c.WallClockStepped) -> str:
    ms = told.by_ms
    way = "forward" if ms > 0 else "back"
    return (f"The wall clock was set {way} by {minutes_text(abs(ms))}; "
            "benchapp keeps counting with its own clock")


def _back(before: StudioState, s: Session, told: e.SessionActionTakenBack) -> str:
    word = next((x.word for x in before.journal if x.action == told.action), "")
    return f"Undone: {word}"


def _always(text: str) -> Callable[[StudioState, Session, BookEvent], str]:
    return lambda room, s, told: text


def _declared(tell: Callable[[Session, Any], str], room: StudioState, s: Session,
              told: BookEvent) -> str:
    return tell(s, told)


_TELLERS: Final[Tellers] = dict((
    teller(e.SessionOpened, lambda r, s, x: session_headline(s)),
    teller(e.SessionContinued, _continued),
    teller(e.SessionClosed, _closed),
    teller(e.WantedSet, _wanted),
    teller(e.StepStarted, _started),
    teller(e.StepFinished, _finished),
    teller(e.StepPutOff, lambda r, s, x: f"{_do(r, s, key_of(x))}: " + (
        "laid aside" if x.hands is ABSENT else "not begun, hands clean")),
    teller(e.StepChosen, _chosen),
    teller(e.SkipSaid, _skip_said),
    teller(e.LeaveSaid, _leave_said),
    teller(e.StepExtended, _extended),
    teller(e.StepRedone, _redone),
    teller(e.LeftOffWritten, lambda r, s, x: f"Left off: {x.text}"),
    teller(e.SessionPaused, _always("Paused: your working time stops, waits go on")),
    teller(e.SessionResumed, _always("Resumed")),
    teller(e.EnoughSaid, _always("Enough: benchapp starts no more impressions")),
    teller(e.OneMoreSaid, lambda r, s, x: f"One more: {x.limit} should count"),
    teller(e.GhostSaid, _always("The next pull is a ghost: do not ink")),
    teller(e.SessionActionTakenBack, _back),
    teller(i.ImpressionBegun, _begun),
    teller(i.SheetTaken, _taken_of_none),
    teller(i.ImpressionPulled, _pulled),
    teller(i.ImpressionEnded, _ended),
    teller(i.ImpressionLaidToDry,
           lambda r, s, x: f"{_named(s, x.impression)} is under the boards"),
    teller(i.ImpressionSetAside, lambda r, s, x: (
        f"{_named(s, x.impression)} is spoiled: set aside, not under the boards")),
    teller(i.PurposeSaid, _for),
    teller(i.ImpressionJudged, _judged),
    teller(i.TagPutOn, lambda r, s, x: f"{_named(s, x.impression)}: {x.tag}"),
    teller(i.TagTakenOff, lambda r, s, x: f"{_named(s, x.impression)}: no longer {x.tag}"),
    teller(i.NoteWritten, _noted),
    teller(i.MarkedToLookAgain, lambda r, s, x: f"{_named(s, x.impression)}: look again"),
    teller(i.ReadingRecorded, _read),
    teller(i.SheetMarked, lambda r, s, x: f"The sheet has the mark {x.mark} now"),
    teller(i.SettingChanged, lambda r, s, x: f"{x.name}: {x.value}"),
    teller(i.PlateReworked, _reworked),
    teller(i.RagCanEmptied, _always("You emptied the rag can")),
    teller(c.BenchClockStarted,
           lambda r, s, x: f"Clock: {minutes_text(x.ms)} {x.name}".rstrip()),
    teller(c.CallDue, _due),
    teller(c.CallMade, _called),
    teller(c.CallAnswered, _answered),
    teller(c.CallMuted, _always("Muted")),
    teller(c.TimeQuestioned, _questioned),
    teller(c.TimeExplained, _explained),
    teller(c.WallClockStepped, _stepped),
    teller(c.MachineSlept, lambda r, s, x: f"The machine slept for {minutes_text(x.ms)}"),
    *ROOM_TELLERS,
    # What an action declares of its own events.
    *(teller(of, partial(_declared, tell)) for spec in a.SPECS for of, tell in spec.tells.items()),
))
