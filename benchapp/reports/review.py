"""A session read back: from its entries alone, as a report and as lines of text.

What the printer did not say is not there: an unjudged sheet has no verdict, a
time nobody took is null. Nothing here depends on now, on a path or a machine.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from textwrap import wrap
from typing import Annotated, ClassVar, Final

from benchapp.edition import decide as register
from benchapp.edition.numbers import label_text
from benchapp.edition.packs import Pack, damped_words
from benchapp.events.entry import Entry, Moment
from benchapp.events.moments import iso_text
from benchapp.events.session import SessionActionTakenBack
from benchapp.events.streams import stream_family
from benchapp.history.drift import reading_figure
from benchapp.quantities import figure_text, minutes_text
from benchapp.reports.earlier_days import (
    Earlier,
    SheetTimes,
    by_impression,
    fold_days,
    set_against,
    works_of,
)
from benchapp.reports.json_form import Seconds, Time
from benchapp.reports.plate_life_text import drift_lines
from benchapp.reports.reading_drift import ReadingDrift
from benchapp.reports.review_changes import SettingChange, reading_drifts, setting_changes
from benchapp.reports.review_day import (
    DayChart,
    DayHours,
    DayRow,
    PaperTimes,
    StepTimes,
    by_step,
    day_hours,
    day_timeline,
    exact_seconds,
    sheet_paper_times,
)
from benchapp.session.counting import count_impressions, count_pulled, does_count
from benchapp.session.edition_links import of_sheet, sheet_id
from benchapp.session.fold import replay_entries
from benchapp.session.names import session_id, step_of
from benchapp.session.context import worked_ms
from benchapp.session.room_facts import asks_itself, facts_given
from benchapp.session.sheet_asked import of_no_pack_words
from benchapp.session.state import Attempt, Impression, Session, StudioState
from benchapp.session.values import about_day
from benchapp.views.sheets import shown_unit

#: Holds a value to its number where a row is broken.
_HELD: Final = "\N{NO-BREAK SPACE}"
#: Ends that nobody saw: what came after was seen instead.
UNSEEN: Final = ("passed", "out of reach")


@dataclass(frozen=True, slots=True)
class Pull:
    """One pass of a plate through the press."""

    plate: Annotated[str, "the plate's name"]
    at: Annotated[Time | None, "when; null if nobody took the time"]


@dataclass(frozen=True, slots=True)
class SheetReading:
    """A value read of a sheet."""

    name: Annotated[str, "what was read"]
    value: Annotated[int | float | str, "the figure, in the unit beside it"]
    unit: Annotated[str | None, "its unit"]


@dataclass(frozen=True, slots=True)
class SheetReview:
    """One impression: what it was pulled for, what was seen, and what it became."""

    number: Annotated[int, "its number in pulling order"]
    mark: Annotated[str | None, "the mark pencilled on its back"]
    sheet: Annotated[str, "its id in this book"]
    for_: Annotated[str | None, "what it was pulled for: edition, warm-up, TP, WP, SP or ghost"]
    for_by: Annotated[str | None, "who said so: rule or printer"]
    state: Annotated[str | None, "the state of the plate, of a state proof"]
    kind: Annotated[str | None, "what it became when sorted: edition, AP, BAT and so on"]
    label: Annotated[str | None, "what is pencilled on it, such as 12/40"]
    verdict: Annotated[str | None, "keep, doubtful or spoiled; null: not judged"]
    counts: Annotated[bool, "whether it counts towards the number wanted"]
    tags: Annotated[tuple[str, ...], "fixed labels for what was seen"]
    notes: Annotated[tuple[str, ...], "the printer's own words"]
    readings: Annotated[tuple[SheetReading, ...], "values read of it"]
    look_again: Annotated[bool, "whether it is to be looked at again"]
    ended: Annotated[str | None, "how it ended, where that was before its last step"]
    pulls: Annotated[tuple[Pull, ...], "each pass of a plate, in order"]
    pulled_at: Annotated[Time | None, "when it was first pulled"]
    packs: Annotated[tuple[str | None, ...], "the pack of each of its papers; null: no pack"]
    settings: Annotated[Mapping[str, str], "the settings in force at its pull, by name"]
    sheet_damp: Annotated[bool | None, "of a sheet of no pack: whether it was damp"]
    paper: Annotated[tuple[PaperTimes, ...], "how long each of its papers soaked, rested, waited"]


@dataclass(frozen=True, slots=True)
class TryReview:
    """An impression begun and never pulled."""

    how: Annotated[str | None, "how it ended"]
    tags: Annotated[tuple[str, ...], "fixed labels for what was seen"]
    notes: Annotated[tuple[str, ...], "the printer's own words"]
    readings: Annotated[tuple[SheetReading, ...], "values read"]
    look_again: Annotated[bool, "whether it is to be looked at again"]
    packs: Annotated[tuple[str | None, ...], "the pack of each sheet it took"]
    sheet: Annotated[str | None, "what became of its sheet: back (in its pack) or lost"]


@dataclass(frozen=True, slots=True)
class StepReview:
    """One piece of work."""

    step: Annotated[str, "the step's words in the recipe"]
    id: Annotated[str, "the step's place in the recipe"]
    impression: Annotated[int | None, "the number of the impression it was for"]
    attempt: Annotated[int, "1, or more where it was done again"]
    started_at: Annotated[Time | None, "when it began"]
    finished_at: Annotated[Time | None, "when it ended; null where nobody saw it end"]
    seconds: Annotated[Seconds | None, "how long it took; null where its time was not taken"]
    taken: Annotated[bool, "whether its time was taken"]
    how: Annotated[str | None, "how it ended: done, skipped, passed and so on"]
    why: Annotated[str | None, "the reason given"]
    hands: Annotated[str | None, "inky, clean or free"]
    exact: Annotated[bool, "false if a restart of the machine makes the time approximate"]
    question: Annotated[str | None, "the answer about a step that took far too long"]


@dataclass(frozen=True, slots=True)
class SettingReview:
    """A setting, and from which impression on it was in force."""

    name: Annotated[str, "what is set"]
    value: Annotated[str, "its value"]
    since: Annotated[int, "the first impression pulled with it"]
    of_day: Annotated[bool, "whether it is about the whole day and no one sheet"]


@dataclass(frozen=True, slots=True)
class FactReview:
    """A fact of the room that the recipe asks at the end of the day."""

    step: Annotated[str, "the step that asks"]
    id: Annotated[str, "the step's place in the recipe"]
    fact: Annotated[str | None, "the answer; null: none was given"]
    asked: Annotated[int, "how often it was asked"]


@dataclass(frozen=True, slots=True)
class PackReview:
    """A pack of damp sheets that this session laid or used."""

    pack: Annotated[str, "its id"]
    paper: Annotated[str, "the paper's name"]
    sheets: Annotated[int | None, "how many went in; null: not counted"]
    method: Annotated[str, "how it was damped"]
    in_: Annotated[Time, "when it was damped"]
    out: Annotated[Time | None, "when it came out of the water; null while it is in"]
    soaked_seconds: Annotated[Seconds | None, "how long it was in the water"]
    taken: Annotated[int, "sheets taken out of it"]
    left: Annotated[int | None, "sheets still in it"]
    away: Annotated[str | None, "what became of the rest"]


@dataclass(frozen=True, slots=True)
class Rework:
    """A plate worked on during the session."""

    plate: Annotated[str | None, "its name"]
    state: Annotated[str | None, "its state since"]
    what: Annotated[str | None, "what was done"]
    at: Annotated[Time, "when"]


@dataclass(frozen=True, slots=True)
class Correction:
    """Something taken back."""

    what: Annotated[str, "the action that was taken back"]
    at: Annotated[Time, "when"]


@dataclass(frozen=True, slots=True)
class Jump:
    """What time did by itself."""

    what: Annotated[str, "slept, clock stepped, or continued (the program was away)"]
    seconds: Annotated[Seconds, "by how much; below nought: the clock was set back"]
    at: Annotated[Time, "when"]


@dataclass(frozen=True, slots=True)
class Review:
    """A session read back."""

    FORMAT: ClassVar = "review/1"

    session: Annotated[str, "its name, as the printer says it"]
    print: Annotated[str, "the title of the print"]
    artist: Annotated[str, "whose print it is"]
    recipe: Annotated[str, "the recipe's name"]
    recipe_sha256: Annotated[str, "the digest of the recipe's text as it was"]
    letters: Annotated[str, "the letters of its sheet marks"]
    state: Annotated[str, "open or closed"]
    discarded: Annotated[bool, "whether it was discarded"]
    opened_at: Annotated[Time, "when it was opened"]
    closed_at: Annotated[Time | None, "when it was closed"]
    wanted: Annotated[int | None, "how many counting impressions were wanted"]
    pulled: Annotated[int, "impressions pulled"]
    counting: Annotated[int, "impressions that count"]
    impressions: Annotated[tuple[SheetReview, ...], "the sheets pulled, in order"]
    tries: Annotated[tuple[TryReview, ...], "impressions begun and never pulled"]
    steps: Annotated[tuple[StepReview, ...], "every piece of work, in the order begun"]
    notes: Annotated[tuple[str, ...], "notes of the whole session"]
    settings: Annotated[tuple[SettingReview, ...], "each setting, in the order given"]
    musts: Annotated[tuple[FactReview, ...], "the facts asked at the end of the day"]
    packs: Annotated[tuple[PackReview, ...], "the packs of damp paper it laid or used"]
    reworked: Annotated[tuple[Rework, ...], "plates worked on during the session"]
    corrections: Annotated[tuple[Correction, ...], "what was taken back"]
    jumps: Annotated[tuple[Jump, ...], "sleep of the machine, clocks set, absences"]
    helpers: Annotated[tuple[str | None, ...], "who took the clean steps; null: not named"]
    left_off: Annotated[str | None, "the words left on leaving off"]
    hours: Annotated[DayHours, "where the hours of the day went"]
    by_step: Annotated[tuple[StepTimes, ...], "each step of the hands over the day"]
    by_impression: Annotated[tuple[SheetTimes, ...], "what each sheet took of the hands"]
    earlier: Annotated[Earlier, "the day set against earlier sessions of the print"]
    timeline: Annotated[tuple[DayRow, ...], "what ran when: hands, places, waits, water"]
    changes: Annotated[tuple[SettingChange, ...], "changes between pulls, and what was seen"]
    drift: Annotated[tuple[ReadingDrift, ...], "how each reading goes over the session"]

    @property
    def day_chart(self) -> DayChart:
        """Its rows of the day, to be drawn."""
        return DayChart(self.opened_at, self.hours.day_seconds, self.timeline)


def review_session(entries: Iterable[Entry], session: str,
                   before: Iterable[Iterable[Entry]] = ()) -> Review:
    """The session of that id, read back.

    Args:
        entries: Its stream, those of the packs and those of prints, in the order of the book.
        session: Its id, as its stream has it.
        before: The streams of earlier sessions on the same print, the oldest first.

    Raises:
        KeyError: The entries hold no such session.
    """
    told = tuple(entries)
    room = replay_entries(told)
    s = room.sessions[session]
    became = _became(told, s)
    names = {i.ordinal: i for i in s.impressions}
    works = works_of(s)
    steps, sheets = by_step(room, s, works), by_impression(room, s)
    packs = [p for p in room.packs.values() if _touched(s, p)]
    changed = setting_changes(s)
    return Review(
        session=s.name, print=s.recipe.print.title, artist=s.recipe.print.artist,
        recipe=s.recipe_name, recipe_sha256=s.recipe_sha256, letters=s.letters,
        state="open" if s.closed is None else "closed", discarded=s.discarded,
        opened_at=iso_text(s.opened), closed_at=_at(s.closed), wanted=s.wanted,
        pulled=count_pulled(s), counting=count_impressions(s),
        impressions=tuple(_impression(room, s, i, became.get(i.ordinal)) for i in sorted(
            (i for i in s.impressions if i.pulled), key=lambda i: i.number or 0)),
        tries=tuple(_try(i) for i in s.impressions if not i.pulled and i.ended is not None),
        steps=tuple(_step(room, s, names, w) for w in works),
        notes=tuple(s.notes),
        settings=tuple(SettingReview(x.name, x.value, x.since, about_day(s.recipe, x.name))
                       for x in s.settings),
        musts=tuple(_musts(s)), packs=tuple(_pack(p) for p in packs),
        reworked=tuple(Rework(plate, state, what, iso_text(at))
                       for plate, state, what, at in s.reworks),
        corrections=tuple(_corrections(room, session)),
        jumps=tuple(Jump(j.what, exact_seconds(j.ms), iso_text(j.at)) for j in s.jumps),
        helpers=tuple(s.helpers), left_off=s.left_off,
        hours=day_hours(room, s, works), by_step=tuple(steps), by_impression=tuple(sheets),
        earlier=set_against(steps, sheets, fold_days(before)),
        timeline=tuple(day_timeline(s, works, packs)), changes=tuple(changed),
        drift=tuple(reading_drifts(s, changed)))


def _at(moment: Moment | None) -> str | None:
    return None if moment is None else iso_text(moment)


def _became(entries: Iterable[Entry], s: Session) -> dict[int, tuple[str, str]]:
    """What each sheet became at sorting: the kind, and what stands on it in pencil."""
    out = {}
    for e in register.replay_register(entries, "").editions.values():
        for h in e.holdings.values():
            of = of_sheet(h.sheet)
            if h.bears is not None and of is not None and of[0] == s.id:
                out[of[1]] = h.bears.kind, label_text(e, h.bears)
    return out


def _impression(room: StudioState, s: Session, i: Impression,
                became: tuple[str, str] | None) -> SheetReview:
    pulls = tuple(Pull(plate, _at(p.at)) for p in i.pulls for plate in p.plates)
    kind, label = became or (None, None)
    return SheetReview(
        number=i.number or 0, mark=i.mark, sheet=sheet_id(s.id, i.ordinal), for_=i.purpose,
        for_by=i.purpose_by, state=i.state, kind=kind, label=label, verdict=i.verdict,
        counts=does_count(s, i), tags=tuple(i.tags), notes=tuple(i.notes), readings=_readings(i),
        look_again=i.look_again, ended=i.ended, pulls=pulls,
        pulled_at=pulls[0].at if pulls else None, packs=tuple(i.sheets),
        settings={x.name: x.value for x in s.settings if x.since <= (i.number or 0)},
        sheet_damp=i.damp, paper=tuple(sheet_paper_times(room, i)))


def _try(i: Impression) -> TryReview:
    return TryReview(i.ended, tuple(i.tags), tuple(i.notes), _readings(i), i.look_again,
                     tuple(i.sheets), i.sheet)


def _readings(i: Impression) -> tuple[SheetReading, ...]:
    return tuple(SheetReading(r.name, reading_figure(r.value), r.unit) for r in i.readings)


def _step(room: StudioState, s: Session, names: Mapping[int, Impression],
          w: Attempt) -> StepReview:
    step = step_of(s, w.key)
    imp = names.get(w.key.impression or 0)
    ended = w.finished is not None and w.how not in UNSEEN
    whole = w.taken and w.finished is not None and w.started is not None
    return StepReview(
        step=w.key.step if step is None else step.do, id=w.key.step,
        impression=None if imp is None else imp.number, attempt=w.attempt,
        started_at=_at(w.started), finished_at=_at(w.finished) if ended else None,
        seconds=exact_seconds(worked_ms(s, w, room.t)) if whole else None, taken=whole,
        how=w.how or None, why=w.why, hands=None if step is None else step.hands,
        exact=room.exact(w.started_t, w.finished_t or w.started_t), question=w.question)


def _musts(s: Session) -> Iterator[FactReview]:
    for step in s.recipe.steps + s.inherited:
        if step.must and asks_itself(s, step):
            facts = facts_given(s, step)
            said = [f for f in facts if f is not None]
            yield FactReview(step.do, step.id, said[-1] if said else None, len(facts))


def _touched(s: Session, pack: Pack) -> bool:
    return pack.by == s.id or any(pack.id in i.sheets for i in s.impressions)


def _pack(p: Pack) -> PackReview:
    return PackReview(
        p.id, p.paper, p.sheets, p.method, iso_text(p.put_in), _at(p.out),
        None if p.out_t is None or not p.soaked else exact_seconds(p.out_t - p.put_in_t),
        p.taken, p.left, p.away)


def _corrections(room: StudioState, session: str) -> Iterator[Correction]:
    """What was taken back, and when."""
    words = {e.action: e.word for e in room.journal}
    for e in room.journal:
        if (e.kind == "taken back" and stream_family(e.stream) == "session"
                and session_id(e.stream) == session):
            back = SessionActionTakenBack.from_entry(e)
            yield Correction(words.get(back.action, ""), iso_text(e.at))


# -- as text ------------------------------------------------------------------------------


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
