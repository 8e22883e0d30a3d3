"""A session read back, in words: as lines for a terminal, and the sentences pages share."""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap
from typing import Final

from benchapp.edition.packs import damped_words
from benchapp.quantities import figure_text, minutes_text
from benchapp.reports.plate_life_text import drift_lines
from benchapp.reports.reading_drift import ReadingDrift
from benchapp.reports.review import (
    Jump,
    Review,
    SettingReview,
    SheetReading,
    SheetReview,
    TryReview,
)
from benchapp.reports.review_day import DayHours, PaperTimes, StepTimes
from benchapp.session.sheet_asked import of_no_pack_words
from benchapp.views.sheets import shown_unit

#: Holds a value to its number where a row is broken.
_HELD: Final = "\N{NO-BREAK SPACE}"


def review_text(r: Review, charts: str | None = None) -> list[str]:
    """The review as lines for a terminal; texts are the printer's own, not yet made visible.

    Args:
        r: From `review_session`.
        charts: `dots` or `plain` (ASCII): draw the readings too.
    """
    wanted = "" if r.wanted is None else f" · wanted {r.wanted}"
    out = [f"{r.session} · {r.print}, {r.artist} · {r.state}",
           f"pulled {r.pulled} · counting {r.counting}{wanted}", ""]
    for i in r.impressions:
        out += _sheet_lines(i)
    for t in r.tries:
        out.append(f"  —    {try_line(t)}{_tail(t)}")
    if r.notes:
        out += ["", "Notes of the session", *(f"  {n}" for n in r.notes)]
    if r.settings:
        out += ["", "Settings", *(f"  {setting_words(x)}" for x in r.settings)]
    if paper := [f"  {i.mark}: {x}" for i in r.impressions if (x := paper_words(i))]:
        out += ["", "Paper, sheet by sheet", *paper]
    out += ["", "Where the time went", *_time_lines(r.by_step)]
    if words := hours_words(r.hours):
        out += [f"  {words}", *(f"  {x}" for x in pauses_words(r.hours))]
    if row := sheet_times(r):
        out += _row(f"Hands, sheet by sheet:  {row}", "  ")
    if r.earlier.sessions:
        out += ["", "Set against earlier sessions", f"  {r.earlier.sentence}",
                *(f"  {line}" for line in earlier_lines(r))]
    if r.changes:
        out += ["", "Changed between pulls, and seen",
                *(f"  {x.sentence}" for x in r.changes)]
    if r.drift:
        out += ["", "Over the session",
                *(line for x in r.drift for line in _drift_lines(x, charts))]
    facts = [m for m in r.musts if m.asked]
    if facts:
        out += ["", "End of the day", *(f"  {m.step}: {m.fact or 'not said'}" for m in facts)]
    if r.corrections:
        out += ["", "Taken back", *(f"  {c.what} ({c.at[11:16]})" for c in r.corrections)]
    if r.jumps:
        out += ["", "What time did", *(f"  {jump_words(j)}" for j in r.jumps)]
    return out


def try_line(t: TryReview) -> str:
    """How a try ended, what became of its sheet, and whether it is to be looked at again."""
    sheet = {"back": "sheet back in its pack", "lost": "sheet lost"}.get(t.sheet or "")
    return " · ".join(x for x in (t.how, sheet, "look again" * t.look_again) if x)


def _sheet_lines(i: SheetReview) -> list[str]:
    purpose = f"{i.for_} {i.state}" if i.state else i.for_
    rule = " (by rule)" if i.for_by == "rule" else ""
    when = "time not taken" if i.pulled_at is None else i.pulled_at[11:16]
    again = " · look again" if i.look_again else ""
    ended = f" · {i.ended}" if i.ended else ""
    became = f" · {i.label}" if i.label else ""
    return [f"  {i.mark:<5}{purpose}{rule}{became} · {i.verdict or 'not judged'} · {when}"
            f"{ended}{again}{_tail(i)}"]


def _tail(i: SheetReview | TryReview) -> str:
    readings = map(reading_words, i.readings)
    said = [*i.tags, *readings, *(f"“{n}”" for n in i.notes)]
    return " · " + " · ".join(said) if said else ""


def reading_words(r: SheetReading) -> str:
    """What was read, the value, and its unit where that is more than a grade: `tone 4`."""
    return " ".join(filter(None, (r.name, str(r.value), shown_unit(r.unit))))


def _drift_lines(x: ReadingDrift, charts: str | None) -> list[str]:
    """The sentence first, then every value by its sheet."""
    row = "  ".join(f"{n}: {value:g}" for n, value in x.values)
    return [f"  {x.sentence}", *_row(row, "    "), *drift_lines(x, charts)]


def _row(row: str, indent: str) -> list[str]:
    """Values by their sheets, broken between two of them and never within one."""
    held = "  ".join(x.replace(" ", _HELD) for x in row.split("  "))
    return [line.replace(_HELD, " ") for line in wrap(
        held, 76, initial_indent=indent, subsequent_indent="    ")]


def sheet_times(r: Review) -> str:
    """What each sheet took of the hands: `1: 32 min  2: 29 min`; + where a step was not timed."""
    return "  ".join(f"{x.number}: {_length(x.hands_seconds)}{'+' * bool(x.not_taken)}"
                     for x in r.by_impression if x.hands_seconds)


def earlier_lines(r: Review) -> list[str]:
    """Each step's middle time, and that of the sessions before, with how often it was timed."""
    now = {x.id: x.middle_seconds for x in r.by_step}
    sheet = [words] if (words := a_sheet_words(r)) else []
    return sheet + [f"{x.step}: "
            f"{_length(now[x.id])}, before {_length(x.middle_seconds)} "
            f"({'once' if x.times == 1 else f'{x.times} times'})"
            for x in r.earlier.by_step if x.times]


def a_sheet_words(r: Review) -> str:
    """What the hands took for a sheet, now and before; empty where one of them is not known."""
    x = r.earlier.a_sheet
    if x.middle_seconds is None or x.before_seconds is None:
        return ""
    return (f"A sheet, all its hands work: {_length(x.middle_seconds)} in the middle of "
            f"{x.times}, before {_length(x.before_seconds)} of {x.times_before}")


def setting_words(x: SettingReview) -> str:
    """`left side: 3.25 turns (from no. 4 on)`; what is about no sheet says so."""
    of = "of the day, " if x.of_day else ""
    return f"{x.name}: {x.value} ({of}from no. {x.since} on)"


def hours_words(h: DayHours) -> str:
    """The day as a whole: at work, waiting, idle, paused, away; what was none is not said."""
    away = h.away_seconds
    parts = [f"{_length(length)} {words}" for length, words in (
        (h.hands_seconds, "at work"), (h.waiting_seconds, "waiting"),
        (h.idle_seconds, "idle"), (h.paused_seconds - away, "paused"), (away, "away"))
        if length >= 1]
    about = "" if h.exact else "≈ "
    return f"The day, {about}{_length(h.day_seconds)}: {', '.join(parts)}" if parts else ""


def jump_words(jump: Jump) -> str:
    """`03:07 the machine slept 12 min`: what time did by itself, or the program's own absence."""
    ms = round(jump.seconds * 1000)
    length = minutes_text(abs(ms))
    set_by = "forward" if ms >= 0 else "back"
    said = {"continued": f"gone on with after {length} away",
            "slept": f"the machine slept {length}",
            "clock stepped": f"the machine's clock was set {set_by} by {length}"}
    return f"{jump.at[11:16]} {said[jump.what]}"


def pauses_words(h: DayHours) -> list[str]:
    """Each interruption that was said: how long, and how far into the day."""
    return [f"{'away' if p.away else 'paused'} {_length(p.seconds)}, "
            f"{_length(p.after_seconds)} after it was opened"
            for p in h.pauses]


def _time_lines(steps: Iterable[StepTimes]) -> list[str]:
    """Hands work by step: how often its time was taken, the middle one, the recipe's usual."""
    out = []
    for x in steps:
        not_taken = f", {x.not_taken} not taken" if x.not_taken and x.times else ""
        if not x.times:
            out += [f"  {x.step}: time not taken"] if x.not_taken else []
            continue
        usual = "" if x.recipe is None else (
            f"; recipe {figure_text(round(x.recipe.usual * 1000))}")
        total = _length(x.total_seconds)
        out.append(f"  {x.step}: once, {total}{not_taken}{usual}" if x.times == 1 else
                   f"  {x.step}: {x.times} times, {_length(x.middle_seconds)} in the "
                   f"middle, in all {total}{not_taken}{usual}")
    return out


def paper_words(i: SheetReview) -> str:
    """How long the paper of a sheet had soaked, rested and waited; empty where nothing is known."""
    told = [", ".join((*_not_soaked(p), *(f"{words} {_length(time)}" for words, time in (
        ("soaked", p.soaked_seconds), ("rested", p.rested_seconds), ("waited", p.waited_seconds))
        if time is not None))) for p in i.paper]
    told += [of_no_pack_words(i.sheet_damp)] if None in i.packs else []
    return " + ".join(x for x in told if x)


def _not_soaked(paper: PaperTimes) -> Iterable[str]:
    """`sprayed`: how a sheet was damped that has no time in the water."""
    return () if paper.method is None or paper.rested_seconds is None \
        or paper.soaked_seconds is not None else (
            damped_words(paper.method),)


def _length(seconds: float | None) -> str:
    return "not taken" if seconds is None else minutes_text(round(seconds * 1000))
