"""A session read back: its sentences, which text, page and screen share. Pure."""

from __future__ import annotations

from collections.abc import Iterable

from benchapp.edition.packs import damped_words
from benchapp.quantities import figure_text, items_text, minutes_text
from benchapp.reports.review import (
    Jump,
    Review,
    SettingReview,
    SheetReading,
    SheetReview,
    TryReview,
    purpose_words,
)
from benchapp.reports.review_day import DayHours, PaperTimes, StepTimes
from benchapp.session.sheet_asked import of_no_pack_words
from benchapp.views.sheets import shown_unit


def try_line(t: TryReview) -> str:
    """How a try ended, what became of its sheet, and whether to look at it again."""
    sheet = {"back": "sheet back in its pack", "lost": "sheet lost"}.get(t.sheet or "")
    return " · ".join(x for x in (t.how, sheet, "look again" * t.look_again) if x)


def sheet_line(i: SheetReview) -> str:
    """A sheet in one line: its mark, what it is, its verdict, when, what was seen."""
    purpose = purpose_words(i)
    rule = " (by rule)" if i.for_by == "rule" else ""
    when = "time not taken" if i.pulled_at is None else i.pulled_at[11:16]
    again = " · look again" if i.look_again else ""
    ended = f" · {i.ended}" if i.ended else ""
    became = f" · {i.label}" if i.label else ""
    return (f"{i.mark:<5}{purpose}{rule}{became} · {i.verdict or 'not judged'} · {when}"
            f"{ended}{again}{seen_words(i)}")


def seen_words(i: SheetReview | TryReview) -> str:
    """Behind a line: tags, readings and notes; empty where there are none."""
    readings = map(reading_words, i.readings)
    said = [*i.tags, *readings, *(f"“{n}”" for n in i.notes)]
    return " · " + " · ".join(said) if said else ""


def reading_words(r: SheetReading) -> str:
    """What was read, the value, and its unit where that is more than a grade: `tone 4`."""
    return " ".join(filter(None, (r.name, str(r.value), shown_unit(r.unit))))


def sheet_times(r: Review) -> tuple[str, ...]:
    """What each sheet took of the hands: `1: 32 min`; + where a step was not timed."""
    return tuple(f"{x.number}: {length_words(x.hands_seconds)}{'+' * bool(x.not_taken)}"
                 for x in r.by_impression if x.hands_seconds)


def earlier_lines(r: Review) -> list[str]:
    """Each step's middle time, and that of the sessions before, with how often it was timed."""
    now = {x.id: x.middle_seconds for x in r.by_step}
    sheet = [words] if (words := a_sheet_words(r)) else []
    return sheet + [f"{x.step}: "
            f"{length_words(now[x.id])}, before {length_words(x.middle_seconds)} "
            f"({'once' if x.times == 1 else f'{x.times} times'})"
            for x in r.earlier.by_step if x.times]


def a_sheet_words(r: Review) -> str:
    """What the hands took for a sheet, now and before; empty where one of them is not known."""
    x = r.earlier.a_sheet
    if x.middle_seconds is None or x.before_seconds is None:
        return ""
    return (f"Hands a sheet: median {length_words(x.middle_seconds)} "
            f"({items_text(x.times, 'sheet')}), before {length_words(x.before_seconds)} "
            f"({items_text(x.times_before, 'sheet')})")


def setting_words(x: SettingReview) -> str:
    """`left side: 3.25 turns (from no. 4 on)`; what is about no sheet says so."""
    of = "of the day, " if x.of_day else ""
    return f"{x.name}: {x.value} ({of}from no. {x.since} on)"


def hours_words(h: DayHours) -> str:
    """The day as a whole: at work, waiting, idle, paused, away; what was none is not said."""
    away = h.away_seconds
    parts = [f"{length_words(length)} {words}" for length, words in (
        (h.hands_seconds, "at work"), (h.waiting_seconds, "waiting"),
        (h.idle_seconds, "idle"), (h.paused_seconds - away, "paused"), (away, "away"))
        if length >= 1]
    about = "" if h.exact else "≈ "
    return f"The day, {about}{length_words(h.day_seconds)}: {', '.join(parts)}" if parts else ""


def jump_words(jump: Jump) -> str:
    """`03:07 the machine slept 12 min`: what time did by itself, or the program's own absence."""
    ms = round(jump.seconds * 1000)
    length = minutes_text(abs(ms))
    set_by = "forward" if ms >= 0 else "back"
    said = {"continued": f"continued after {length} away",
            "slept": f"the machine slept {length}",
            "clock stepped": f"the machine's clock was set {set_by} by {length}"}
    return f"{jump.at[11:16]} {said[jump.what]}"


def pauses_words(h: DayHours) -> list[str]:
    """Each interruption that was said: how long, and how far into the day."""
    return [f"{'away' if p.away else 'paused'} {length_words(p.seconds)}, "
            f"{length_words(p.after_seconds)} after it was opened"
            for p in h.pauses]


def time_lines(steps: Iterable[StepTimes]) -> list[str]:
    """Hands work by step: how often its time was taken, the middle one, the recipe's usual."""
    out = []
    for x in steps:
        not_taken = f", {x.not_taken} not taken" if x.not_taken and x.times else ""
        if not x.times:
            out += [f"{x.step}: time not taken"] if x.not_taken else []
            continue
        usual = "" if x.recipe is None else (
            f"; recipe {figure_text(round(x.recipe.usual * 1000))}")
        total = length_words(x.total_seconds)
        out.append(f"{x.step}: once, {total}{not_taken}{usual}" if x.times == 1 else
                   f"{x.step}: {x.times} times, median {length_words(x.middle_seconds)}, "
                   f"in all {total}{not_taken}{usual}")
    return out


def paper_words(i: SheetReview) -> str:
    """How long the paper of a sheet had soaked, rested and waited; empty where nothing is known."""
    told = [", ".join((*_not_soaked(p), *(f"{words} {length_words(time)}" for words, time in (
        ("soaked", p.soaked_seconds), ("rested", p.rested_seconds), ("waited", p.waited_seconds))
        if time is not None))) for p in i.paper]
    told += [of_no_pack_words(i.sheet_damp)] if None in i.packs else []
    return " + ".join(x for x in told if x)


def _not_soaked(paper: PaperTimes) -> Iterable[str]:
    """`sprayed`: how a sheet was damped that has no time in the water."""
    return () if paper.method is None or paper.rested_seconds is None \
        or paper.soaked_seconds is not None else (
            damped_words(paper.method),)


def length_words(seconds: float | None) -> str:
    """A length of time, with its sign where the clock was set back, or that it was not taken."""
    if seconds is None:
        return "not taken"
    return ("-" if seconds < 0 else "") + minutes_text(round(abs(seconds) * 1000))
