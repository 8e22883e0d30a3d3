"""How the Bench stands, in short lines for a printer. Pure.

The texts are the printer's own, to be made visible where shown.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from benchapp.events.entry import Moment
from benchapp.history.stats import NOTHING, Learnt
from benchapp.planning.pace import TimedStep
from benchapp.quantities import Span, figure_text, minutes_text, mmss
from benchapp.session.coming import held_words
from benchapp.session.compiled_recipe import DAMP_IN, WASH
from benchapp.session.counting import count_impressions, count_pulled, target_count
from benchapp.session.names import call_id, step_of
from benchapp.session.next_steps import next_pack_size
from benchapp.session.sheet_asked import sheet_answers
from benchapp.session.state import Session, StudioState, TaskKey
from benchapp.views.bench import BenchView, bench_view, do_words
from benchapp.views.clocks import Count, at_most, clock_views
from benchapp.views.paper import left_words

if TYPE_CHECKING:
    from benchapp.planning.times import Lasting

Lines = tuple[str, ...]

#: Plans made for one line of words: the printer waits for it.
_TRIES = 2


def session_headline(s: Session) -> str:
    """The first line of a session: its name, that it is open, its print, its marks."""
    wanted = target_count(s)
    parts = [f"{s.name} {'open' if s.closed is None else 'closed'}",
             f"{s.recipe.print.title}, {s.recipe.print.artist}", f"marks {s.letters}",
             "wanted: until enough" if wanted is None else f"wanted {wanted}"]
    return " · ".join(parts)


def count_line(s: Session) -> str:
    """How many: `pulled 8 · counting 6 · wanted 10`."""
    wanted = target_count(s)
    return f"pulled {count_pulled(s)} · counting {count_impressions(s)}" + (
        "" if wanted is None else f" · wanted {wanted}")


def _span(time: Span | None) -> str:
    return "" if time is None or not time.usual.ms else f"usual {time.usual}"


def begun_line(room: StudioState, s: Session, key: TaskKey) -> str:
    """What to do now, or the wait that runs: `Now: Wipe · inky · usual 15 min`."""
    step = step_of(s, key)
    if step is None:
        return ""
    if step.hands == "free":
        usual = "" if step.time is None else f", {step.time.usual}"
        return f"Wait: {step.do}{usual}"
    hands = "" if key.step == WASH else step.hands
    asked = step.must or (sheet_answers(room, s, room.t) if key == s.hand else ())
    facts = " / ".join(f"{i} {fact}" for i, fact in enumerate(asked, 1))
    why = next_pack_size(room, s, room.t).why if key.step == DAMP_IN else ""
    parts = [f"Now: {do_words(room, s, key, room.t)}", hands,
             s.shape.inking.get(step.id, ""), _span(step.time),
             _sheet_words(s, key), why, _damp_left(room, s, key),
             f"say which: {facts}" if facts else ""]
    return " · ".join(p for p in parts if p)


def _damp_left(room: StudioState, s: Session, key: TaskKey) -> str:
    """How many sheets are damp, said as the inking of an impression begins."""
    first = next((x.id for x in s.recipe.each if x.hands == "inky"), None)
    return left_words(room, s, room.t) if key.step == first else ""


def _sheet_words(s: Session, key: TaskKey) -> str:
    imp = s.impression(key.impression)
    return "" if imp is None or imp.mark is None or key.step == WASH else imp.mark


def now_lines(room: StudioState) -> Lines:
    """What is in hand on the Bench, or the waits that run there."""
    s = room.session
    if s is None or s.closed is not None:
        return ()
    if s.paused_t is not None:
        return ("It is paused; press the pedal to go on",)
    if s.hand is not None:
        return (begun_line(room, s, s.hand),)
    if (held := held_words(room, s, room.t)) is not None:
        return (f"{held}; the pedal begins it",)
    return _waits(room, s) or ("Nothing is due",)


def _waits(room: StudioState, s: Session) -> Lines:
    """The steps that are under way by themselves, and whatever else ends by its clock."""
    said = {call_id(k) for k in s.under_way}
    others = (c.name for c in clock_views(room, room.t)
              if c.is_waited_for and c.id not in said)
    return (*(begun_line(room, s, k) for k in s.under_way), *(f"Wait: {name}" for name in others))


def status_lines(room: StudioState, now: Moment, learnt: Learnt = NOTHING,
                 earlier: Sequence[TimedStep] = (), breaks: Iterable[tuple[int, int]] = (),
                 known: Lasting | None = None) -> Lines:
    """How the Bench stands at `now`: what to do, what comes next, clocks, counts, warnings.

    Args:
        room: The room.
        now: All clocks.
        learnt: What the sessions of the print taught.
        earlier: How long its steps took on earlier days.
        known: What is known of steps without a time.
        breaks: Those the day was planned with, in minutes after midnight and seconds.
    """
    # What plans is much to load, and the lines of every tread come from here too.
    from benchapp.planning.time_to_finish import breaks_ahead, forecast_finish
    from benchapp.planning.times import UNTOLD

    v = bench_view(room, now, learnt)
    if v is None:
        return ("No session is on the Bench",)
    helper = "" if v.helper is None else f" · {v.helper} is in"
    out = [f"{v.session} {'closed' if v.closed else 'open'} · {v.title}, {v.artist}",
           f"Hands {v.hands}{helper}", *_now(v)]
    if v.next is not None:
        out.append(f"Next: {v.next}")
    out += [f"Offered: {', '.join(v.offered)}"] if v.offered else []
    out += [f"{'Calling' if c.calling else 'Due'}: {c.text}, {minutes_text(c.late_ms)} ago"
            for c in v.calls]
    out += [f"Clock: {c.name}, {count_text(c.count)}" for c in v.clocks]
    counts = "" if v.wanted is None else f" · wanted {v.wanted}"
    out += [f"Paper: {v.paper}"] if v.paper else []
    out.append(f"pulled {v.pulled} · counting {v.counting}{counts}")
    promise = forecast_finish(room, now, tries=_TRIES, earlier=earlier,
                              breaks=breaks_ahead(breaks, now), known=known or UNTOLD)
    out += [] if promise is None else [x for x in (promise.words, *promise.notes) if x]
    out += [] if v.drift is None else [v.drift]
    out += v.warnings
    out += [x for x in (v.question, v.state_question) if x is not None]
    return (*out, *(f"Also open: {name}" for name in v.others))


def _now(v: BenchView) -> Lines:
    """What is in hand with its count and reminders."""
    now = v.now
    if v.closed:
        return ()
    count = "" if now.count is None else f" · {count_text(now.count)}"
    sheet = "" if v.for_words is None else f" · {v.mark or 'sheet'} for {v.for_words}"
    facts = " / ".join(f"{i} {fact}" for i, fact in enumerate(now.must, 1))
    paused = "" if v.paused_ms is None else f"Paused for {minutes_text(v.paused_ms)}"
    lines = [f"Now: {now.do}{count}{sheet}", now.pack, now.inking,
             f"Say which: {facts}" if facts else "", paused, *v.pause_words, *now.proposals,
             *now.lines, *(care.full for care in now.cares)]
    return tuple(x for x in lines if x)


def count_text(count: Count) -> str:
    """A count as it runs: `3:20, usual 15 min`, `1:20 left`; ≈ where it is not exact."""
    about = "" if count.exact else "≈ "
    if count.down:
        words = f"{mmss(count.ms)} left" if count.ms > 0 else f"over since {mmss(-count.ms)}"
        return f"{about}{words}{at_most(count)}"
    usual = "" if not count.usual else f", usual {figure_text(count.usual)}"
    return f"{about}{mmss(count.ms)}{usual}"
