"""Time, and what calls: waits, clocks started on the spot, answers, silence."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from benchapp.decision import Refusal
from benchapp.edition import packs as damp
from benchapp.events.call import BenchClockStarted, CallMuted, TimeExplained
from benchapp.events.pack import SoakExtended
from benchapp.events.session import StepExtended
from benchapp.quantities import QuantityError, point_for_comma, read_duration
from benchapp.session.actions.asking import (
    AskContext,
    ChoiceQuestion,
    LineQuestion,
    Reply,
    check_time,
)
from benchapp.session.actions.spec import Action, ActionSpec, Rule
from benchapp.session.actions.typed import ParseContext, ParsedLine, choose_word
from benchapp.session.actions.typed_names import read_leading_time, time_ms
from benchapp.session.advance import answer_named, record_sounded, tick
from benchapp.session.compiled_recipe import DAMP_OUT
from benchapp.session.context import SessionContext, ends_t, wrong_time
from benchapp.session.state import TaskKey

__all__ = ["AnswerCall", "Explain", "Extend", "Mute", "Sounded", "StartClock", "Tick"]


#: What is tried where any time would do.
MINUTE_MS: Final = 60_000


@dataclass(frozen=True, slots=True)
class Tick(Action):
    """Time passed. `writing`: a text is being written, so no hands turn inky by it."""

    writing: bool = False


@dataclass(frozen=True, slots=True)
class Sounded(Action):
    """These calls sounded by themselves: they were foreseen, and time was not looked at since."""

    calls: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Extend(Action):
    """Give a wait more time: the one named, else the one that is calling or ends first."""

    by_ms: int
    key: TaskKey | None = None


@dataclass(frozen=True, slots=True)
class StartClock(Action):
    """A clock started on the spot."""

    ms: int
    name: str


@dataclass(frozen=True, slots=True)
class AnswerCall(Action):
    """Answer one call and nothing else; None: the most harmful. The end of a wait ends it."""

    call: str | None = None


@dataclass(frozen=True, slots=True)
class Mute(Action):
    """One clock, or all that call now, stays silent: for a time, or until it is answered."""

    call: str | None = None
    ms: int | None = None


@dataclass(frozen=True, slots=True)
class Explain(Action):
    """Why a step took so long: took that long, away, or forgot to tread."""

    answer: Literal["took", "away", "forgot"]
    key: TaskKey | None = None


def _pass_time(page: SessionContext, action: Tick) -> None:
    page.writing = action.writing
    tick(page)


def _note_sounded(page: SessionContext, action: Sounded) -> None:
    record_sounded(page, action.calls)


def _start_clock(page: SessionContext, action: StartClock) -> Refusal | None:
    wrong = wrong_time(action.ms, "write: time 5 min varnish")
    if wrong is not None:
        return wrong
    page.emit(BenchClockStarted(
        clock=f"clock {page.s.clocks_started + 1}", name=action.name, ms=action.ms))
    return None


def _mute_calls(page: SessionContext, action: Mute) -> Refusal | None:
    loud = [c.id for c in page.s.calls.values() if not c.answered
            and action.call in (None, c.id)]
    wrong = None if action.ms is None else wrong_time(action.ms, "write: mute 5 min")
    if wrong is not None:
        return wrong
    if not loud:
        return Refusal("Nothing is calling", "a clock can be muted while it calls")
    for call in loud:
        page.emit(CallMuted(call=call, until_ms=action.ms))
    return None


def _explain_time(page: SessionContext, action: Explain) -> Refusal | None:
    asked = [w for w in page.s.history if w.question == "asked"
             and action.key in (None, w.key)]
    if not asked:
        return Refusal("There is no long time to explain", "no step ran far over its high time")
    work = asked[-1]
    page.emit(TimeExplained(
        step=work.key.step, impression=work.key.impression, attempt=work.attempt,
        pack=work.key.pack, answer=action.answer))
    return None


def _extend_wait(page: SessionContext, action: Extend) -> Refusal | None:
    """More time for a wait: counted from now where it is over already."""
    s = page.s
    wrong = wrong_time(action.by_ms, "write: extend 5 min")
    if wrong is not None:
        return wrong
    first = min(_list_extendable(page, action.key), key=lambda c: c[0], default=None)
    if first is None:
        return Refusal("No wait is running", "start a clock with time")
    _, key, counted_to = first
    by = action.by_ms + max(0, page.t - counted_to)
    if key.step == DAMP_OUT and key.pack is not None:
        page.emit_to(f"pack/{key.pack}", SoakExtended(pack=key.pack, by_ms=by, by=s.id))
    else:
        page.emit(StepExtended(**page.about(key), by_ms=by))
    return None


def _list_extendable(page: SessionContext,
                     named: TaskKey | None) -> list[tuple[int, TaskKey, int]]:
    """Waits and soaks that run: when each is over, which it is, and up to when its time counts.

    A wait nobody knows the length of is over now, and has counted nothing since it began.
    """
    s = page.s
    out = []
    for key, work in s.work.items():
        if work.running and page.step(key).hands == "free":
            over = ends_t(page.step(key), work)
            out.append((page.t, key, work.started_t) if over is None else (over, key, over))
    out += [(p.soaked_t, TaskKey(DAMP_OUT, pack=p.id), p.soaked_t)
            for p in damp.in_water(page.state.packs, page.t) if p.soaked_t is not None]
    return [x for x in out if named in (None, x[1])]


# -- what the keys ask -------------------------------------------------------------------

#: What is offered as more time, and as silence: minutes.
_MORE: Final = (1, 2, 5, 10, 15)
_SILENT: Final = (5, 10, 30)


def _ask_extend(ask: AskContext) -> Reply:
    """How much more a wait gets."""
    refusal = ask.why_not(Extend(MINUTE_MS))
    another = LineQuestion("How much more",
                           lambda text: Extend(read_duration(point_for_comma(text)).ms),
                           about="such as 90 s or 12 min", check=check_time)
    return refusal or ChoiceQuestion("More time", [
        *((f"{n} min", Extend(n * MINUTE_MS)) for n in _MORE), ("Another time …", another)])


def _ask_time(ask: AskContext) -> Reply:
    """A clock on the spot."""
    def start(text: str) -> Action:
        ms, name = split_time(text) or (0, "")
        return StartClock(ms, name or "clock")

    return ask.why_not(StartClock(MINUTE_MS, "x")) or LineQuestion(
        "A clock: how long, and what for", start, about="such as 5 min varnish",
        check=lambda text: None if split_time(text) else check_time(text))


def split_time(text: str) -> tuple[int, str] | None:
    """A time and what is behind it, `5 min varnish`; None where no time comes first."""
    words = text.split()
    for count in range(min(len(words), 6), 0, -1):
        try:
            ms = read_duration(point_for_comma(" ".join(words[:count]))).ms
        except QuantityError:
            continue
        return (ms, " ".join(words[count:])) if ms > 0 else None
    return None


def _ask_mute(ask: AskContext) -> Reply:
    """One clock or all that call now, for a time or until answered; never a later one."""
    refusal = ask.why_not(Mute())
    if refusal is not None:
        return refusal

    def how_long(call: str | None) -> ChoiceQuestion:
        return ChoiceQuestion("Silent for how long", [
            ("until it is answered", Mute(call)),
            *((f"{n} min", Mute(call, n * MINUTE_MS)) for n in _SILENT)])

    loud = ask.calling()
    if len(loud) < 2:
        return how_long(None)
    return ChoiceQuestion(
        "Silence which call",
        [("all of these", how_long(None)), *((words, how_long(call)) for call, words in loud)],
        keys=("1", *[""] * len(loud)))


# -- what the words take ------------------------------------------------------------------

_TOOK: Final[dict[str, Literal["took", "away", "forgot"]]] = {
    "long": "took", "away": "away", "forgot": "forgot"}


def _read_time(ears: ParseContext, rest: str) -> ParsedLine:
    ms, name = read_leading_time(rest, "time 5 min varnish")
    return ParsedLine(StartClock(ms, name or "clock"))


SPECS: Final = (
    ActionSpec("extend", (Rule(Extend, _extend_wait),),
               "Give a wait more time", "TIME", key="plus", use=15,
               tries=lambda room, s, now: [Extend(MINUTE_MS)], asks=_ask_extend,
               reads=lambda ears, rest: ParsedLine(Extend(time_ms(rest, "extend 5 min")))),
    ActionSpec("time", (Rule(StartClock, _start_clock),),
               "Start a clock", "TIME NAME", key="c", use=24,
               tries=lambda room, s, now: [StartClock(MINUTE_MS, "x")], asks=_ask_time,
               reads=_read_time),
    ActionSpec("answer", (Rule(AnswerCall, lambda page, action: answer_named(page, action.call)),),
               "Answer the call, and do nothing else", inky=True,
               makes=AnswerCall()),
    ActionSpec("mute", (Rule(Mute, _mute_calls),),
               "Silence the calls that sound now", "[TIME]", key="v", use=9,
               tries=lambda room, s, now: [Mute()], asks=_ask_mute,
               reads=lambda ears, rest: ParsedLine(
                   Mute(ms=time_ms(rest, "mute 5 min") if rest else None))),
    ActionSpec("took", (Rule(Explain, _explain_time),),
               "Why a step ran so long", "long|away|forgot",
               reads=lambda ears, rest: ParsedLine(
                   Explain(_TOOK[choose_word(rest, tuple(_TOOK), "answer")]))),
    ActionSpec("time passed", (Rule(Tick, _pass_time),), inky=True, listed=False),
    ActionSpec("sounded", (Rule(Sounded, _note_sounded),), listed=False),
)
