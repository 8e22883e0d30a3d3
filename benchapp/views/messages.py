"""What an action did, in short lines for a printer: read aloud, printed, or shown as a message.

`describe_change` says what ended, how long it took and what begins; `status_lines` how the Bench
stands. Pure; the texts are the printer's own, to be made visible where shown.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from benchapp.events.entry import Entry
from benchapp.events.streams import stream_family
from benchapp.quantities import minutes_text
from benchapp.session.annotate import last_pulled, try_words
from benchapp.session.compiled_recipe import WASH
from benchapp.session.counting import count_impressions, count_pulled, pull_purpose
from benchapp.session.edition_links import of_sheet
from benchapp.session.names import call_id, session_id, step_of
from benchapp.session.page import worked_ms
from benchapp.session.sheet_asked import of_no_pack_words
from benchapp.session.state import SPOILED_TRY, Attempt, Impression, Session, StudioState, TaskKey
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
        if cares and said and entry.kind == "step started":
            out += _care(after, entry)
            out += _state_asked(after, entry)
    if any(e.kind == "taken back" for e in told) or _hands_left_empty(before, after, told):
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


def _lifted(room: StudioState, e: Entry) -> str:
    """A sheet laid before comes out of its stack, as it is judged spoiled."""
    of = of_sheet(e.body["sheet"]) if e.kind == "lifted" else None
    s = None if of is None else room.sessions.get(of[0])
    imp = None if s is None or of is None else s.impression(of[1])
    return "" if imp is None else f"{imp.mark} is no longer under the boards"


def _hands_left_empty(before: StudioState, after: StudioState, told: list[Entry]) -> bool:
    """Whether a step of the hands ended and none was begun: then what is waited for is said."""
    was, now = before.session, after.session
    return (was is not None and now is not None and was.id == now.id and was.hand is not None
            and now.hand is None and all(e.kind != "step started" for e in told))


def _overtaken(entry: Entry, later: list[Entry]) -> bool:
    """Whether a later entry of the same action says it better."""
    if entry.kind == "step chosen":
        return any(e.kind == "step started" for e in later)
    if entry.kind == "step finished" and entry.body["how"] in ("dropped", "skipped"):
        return any(e.kind == "impression ended"
                   and e.body["impression"] == entry.body["impression"] for e in later)
    if entry.kind == "due":
        return any(e.kind == "called" and _same_call(e, entry) for e in later)
    if entry.kind == "called":
        return any(e.kind == "answered" and _same_call(e, entry) for e in later)
    return False


def _same_call(one: Entry, other: Entry) -> bool:
    """In its own stream, a session names the call; a pack and a timer have only one."""
    return one.stream == other.stream and one.body.get("call") == other.body.get("call")


def _session_line(before: StudioState, after: StudioState, entry: Entry) -> str:
    sid = session_id(entry.stream)
    s = after.sessions.get(sid)
    teller = _TELLERS.get(entry.kind)
    if s is None or teller is None:
        return ""
    if entry.kind in ("called", "due", "answered"):
        # What is answered runs no more afterwards: its name is known before.
        text = teller(before if sid in before.sessions else after, before.sessions.get(sid, s),
                      entry)
        text = text or teller(after, s, entry)
    else:
        text = teller(after, s, entry) if entry.kind != "taken back" else _back(before, s, entry)
    elsewhere = (after.bench is not None and sid != after.bench
                 and entry.kind != "step taken over")
    return f"{s.name}: {text}" if text and elsewhere else text


# -- the session ------------------------------------------------------------------------


def _continued(room: StudioState, s: Session, e: Entry) -> str:
    return f"{session_headline(s)} · pulled {count_pulled(s)} · counting {count_impressions(s)}"


def _closed(room: StudioState, s: Session, e: Entry) -> str:
    if s.discarded:
        return f"{s.name} discarded · benchapp sessions --all lists it"
    return f"{s.name} closed · {count_line(s)}"


def _wanted(room: StudioState, s: Session, e: Entry) -> str:
    wanted = e.body["wanted"]
    return "Wanted: until enough is said" if wanted is None else f"Wanted {wanted}"


# -- steps ------------------------------------------------------------------------------


def _key(e: Entry) -> TaskKey:
    return TaskKey(e.body["step"], e.body["impression"], e.body["pack"])


def _do(room: StudioState, s: Session, key: TaskKey) -> str:
    return do_words(room, s, key, room.t)


def _started(room: StudioState, s: Session, e: Entry) -> str:
    key = _key(e)
    work = s.work.get(key)
    if work is not None and not work.running and s.hand != key:
        return ""  # it ended in the same action: that is said then
    return begun_line(room, s, key)


def _finished(room: StudioState, s: Session, e: Entry) -> str:
    key, how = _key(e), e.body["how"]
    step = step_of(s, key)
    do = key.step if step is None else step.do
    match how:
        case "done" | "ended itself" | "not said":
            return f"{do}: {_length(room, s, key, e)}" if how != "not said" else ""
        case "cut short":
            return f"{do}: cut short after {_length(room, s, key, e)}"
        case "skipped":
            return f"{do}: skipped, {e.body['why']}"
        case "left":
            return ""  # the entry of the other session says to which
        case "passed" if key.step in s.taken_over:
            return ""  # it was asked with another step, which says so
        case "dropped":
            return f"{do}: dropped"
        case _:
            return f"{do}: done, time not taken"


def _length(room: StudioState, s: Session, key: TaskKey, e: Entry) -> str:
    """How long it took; pauses left out; ≈ where the machine was started anew meanwhile."""
    work = _attempt(s, key, e.body["attempt"])
    if work is None or not e.body["taken"] or work.finished_t is None:
        return "done, time not taken"
    about = "" if room.exact(work.started_t, work.finished_t) else "≈ "
    return about + minutes_text(worked_ms(s, work, work.finished_t))


def _attempt(s: Session, key: TaskKey, attempt: int) -> Attempt | None:
    return next((w for w in reversed(s.history) if w.key == key and w.attempt == attempt), None)


def _care(room: StudioState, e: Entry) -> Lines:
    """The caution of the step that began: whole once a day, else the harm and what to do."""
    care = care_of(room.sessions[session_id(e.stream)], _key(e))
    return () if care is None else (f"Care: {care.text}",)


def _chosen(room: StudioState, s: Session, e: Entry) -> str:
    key = _key(e)
    after = "" if s.hand in (None, key) else f", after {_do(room, s, s.hand)}"
    return f"Next: {_do(room, s, key)}{after}"


def _skip_said(room: StudioState, s: Session, e: Entry) -> str:
    step = step_of(s, TaskKey(e.body["step"], e.body["impression"]))
    do = e.body["step"] if step is None else step.do
    why = e.body["why"]
    return f"{do}: not skipped after all" if why is None else f"{do}: to be skipped, {why}"


def _leave_said(room: StudioState, s: Session, e: Entry) -> str:
    step, other = step_of(s, TaskKey(e.body["step"])), room.sessions.get(e.body["to"] or "")
    do = e.body["step"] if step is None else step.do
    if e.body["to"] is None:
        return f"{do}: not left after all"
    return f"{do}: to be left to {e.body['to'] if other is None else other.name}"


def _state_asked(room: StudioState, e: Entry) -> Lines:
    """What is asked of a reworked plate at the wash, and once more before the pull."""
    s = room.sessions[session_id(e.stream)]
    step = step_of(s, _key(e))
    asked = state_question(room, s)
    if asked is None or step is None or s.hand != _key(e) or not (step.id == WASH or step.pulls):
        return ()
    plates = plates_asked(room, s)
    one = "" if len(s.recipe.plates) == 1 else f"{plates[0]} "
    return (f"{asked} Write, for example: state {one}II",)


def _extended(room: StudioState, s: Session, e: Entry) -> str:
    return f"{_do(room, s, _key(e))}: {minutes_text(e.body['by_ms'])} more"


def _redone(room: StudioState, s: Session, e: Entry) -> str:
    step = s.shape.by_id.get(e.body["step"])
    do = e.body["step"] if step is None else step.do
    return f"{_named(s, e)}: {do} again, and what comes after it"


# -- sheets -------------------------------------------------------------------------------


def _imp(s: Session, e: Entry) -> Impression | None:
    return s.impression(e.body["impression"])


def _named(s: Session, e: Entry) -> str:
    imp = _imp(s, e)
    if imp is None:
        return "The sheet in hand"
    return imp.mark or f"The {try_words(imp)}"


def _begun(room: StudioState, s: Session, e: Entry) -> str:
    return "A ghost: the plate is not inked" if e.body["ghost"] else ""


def _pulled(room: StudioState, s: Session, e: Entry) -> str:
    body, imp = e.body, _imp(s, e)
    plates = " and ".join(body["plates"])
    if imp is not None and imp.pulls and imp.pulls[0].step != body["step"]:
        return f"{imp.mark}: pulled from {plates} too"
    rule = " (by rule)" if body["for_by"] == "rule" else ""
    late = "" if body["at_press"] else ", time not taken"
    return f"Pulled {body['mark']} for {purpose_text(body['for'], body['state'])}{rule}{late}"


def _taken_of_none(room: StudioState, s: Session, e: Entry) -> str:
    """A sheet of a pack is told by its pack."""
    return "" if e.body["pack"] is not None else (
        f"For this pull: {of_no_pack_words(e.body.get('damp'))}")


def _ended(room: StudioState, s: Session, e: Entry) -> str:
    if e.body["how"] == SPOILED_TRY:
        lost = "; its sheet is lost" if e.body.get("sheet") == "lost" else ""
        return f"This try is spoiled before its pull: it gets no number{lost}"
    return f"{_named(s, e)} stays as it is: {e.body['how']}"


def _for(room: StudioState, s: Session, e: Entry) -> str:
    imp, state = _imp(s, e), e.body["state"]
    if imp is not None and not imp.pulled:
        state = pull_purpose(s, imp)[1]
    return f"{_named(s, e)}: for {for_text(e.body['for'], state)}"


def _noted(room: StudioState, s: Session, e: Entry) -> str:
    to = "the session" if e.body["impression"] is None else _named(s, e)
    return f"Note on {to[:1].lower() + to[1:] if to.startswith('The ') else to}: {e.body['text']}"


def _read(room: StudioState, s: Session, e: Entry) -> str:
    b = e.body
    # A grade says its name and its figure: the scale it is of is no unit behind it.
    unit = f" {b['unit']}" if b["unit"] and not b["unit"].startswith("grade") else ""
    if b["impression"] is None:
        return f"{b['name']} of the day: {b['value']}{unit}"
    return f"{_named(s, e)} {b['name']}: {b['value']}{unit}"


def _reworked(room: StudioState, s: Session, e: Entry) -> str:
    b = e.body
    state = f" is in state {b['state']}" if b["state"] else ""
    what = f": {b['what']}" if b["what"] else ""
    return f"Plate {b['plate']}{state}{what}{_still_unknown(s) if state else ''}"


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


def _called(room: StudioState, s: Session, e: Entry) -> str:
    name = _call_name(room, s, e.body["call"])
    return f"Calling: {name}" if name else ""


def _due(room: StudioState, s: Session, e: Entry) -> str:
    name = _call_name(room, s, e.body["call"])
    if not name:
        return ""
    return f"Due: {name}" + (" (for clean hands)" if e.body["clean"] else "")


def _answered(room: StudioState, s: Session, e: Entry) -> str:
    name = _call_name(room, s, e.body["call"])
    return f"Answered: {name}" if name else ""


def _questioned(room: StudioState, s: Session, e: Entry) -> str:
    work = _attempt(s, _key(e), e.body["attempt"])
    return "" if work is None else question_text(s, work)


_ANSWERS: Final = {"took": "took that long", "away": "you were away; its time is not work",
                   "forgot": "you forgot to tread; its time is not taken"}


def _explained(room: StudioState, s: Session, e: Entry) -> str:
    return f"{_do(room, s, _key(e))}: {_ANSWERS.get(e.body['answer'], e.body['answer'])}"


def _stepped(room: StudioState, s: Session, e: Entry) -> str:
    ms = e.body["by_ms"]
    way = "forward" if ms > 0 else "back"
    return f"The wall clock was set {way} by {minutes_text(abs(ms))}; counts go on by the other"


def _back(before: StudioState, s: Session, e: Entry) -> str:
    word = next((x.word for x in before.journal if x.action == e.body["action"]), "")
    return f"Taken back: {word}"


def _plain(text: str) -> Callable[[StudioState, Session, Entry], str]:
    return lambda room, s, e: text.format(sheet=_named(s, e) if "impression" in e.body else "",
                                          **{k: v for k, v in e.body.items() if k != "sheet"})


_TELLERS: Final[dict[str, Callable[[StudioState, Session, Entry], str]]] = {
    "opened": lambda r, s, e: session_headline(s), "continued": _continued, "closed": _closed,
    "wanted set": _wanted, "step started": _started, "step finished": _finished,
    "step put off": lambda r, s, e: f"{_do(r, s, _key(e))}: "
                    + ("not begun, hands clean" if "hands" in e.body else "laid aside"),
    "step chosen": _chosen, "skip said": _skip_said, "leave said": _leave_said,
    "step extended": _extended, "redone": _redone, "impression begun": _begun, "pulled": _pulled,
    "sheet taken": _taken_of_none,
    "impression ended": _ended, "laid to dry": _plain("{sheet} is under the boards"),
    "set aside": _plain("{sheet} is spoiled: set aside, not under the boards"),
    "for said": _for,
    "judged": lambda r, s, e: f"{_named(s, e)}: {e.body['verdict'] or 'not judged'}",
    "tagged": lambda r, s, e: f"{_named(s, e)}: {e.body['tag']}",
    "untagged": lambda r, s, e: f"{_named(s, e)}: no longer {e.body['tag']}",
    "noted": _noted, "marked to look again": _plain("{sheet}: look again"), "read": _read,
    "marked": lambda r, s, e: f"The sheet bears {e.body['mark']}",
    "setting changed": lambda r, s, e: f"{e.body['name']}: {e.body['value']}",
    "reworked": _reworked,
    "timed": lambda r, s, e: f"Clock: {minutes_text(e.body['ms'])} {e.body['name']}".rstrip(),
    "left off": lambda r, s, e: f"Left off: {e.body['text']}",
    "paused": _plain("Paused: hands' counts stand still, waits go on"),
    "resumed": _plain("Resumed"),
    **ROOM_TELLERS,
    "enough said": _plain("Enough: no further impression is begun"),
    "one more said": lambda r, s, e: f"One more: {e.body['limit']} should count",
    "ghost said": _plain("The next pull is a ghost, without inking"),
    "due": _due, "called": _called, "answered": _answered,
    "muted": _plain("Muted"), "time questioned": _questioned, "time explained": _explained,
    "clock stepped": _stepped,
    "slept": lambda r, s, e: f"The machine slept for {minutes_text(e.body['ms'])}",
    "taken back": _back, "can emptied": _plain("The rag can is emptied"),
}

