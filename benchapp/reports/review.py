"""A session read back: from its entries alone, as a report and as lines of text.

What the printer did not say is not there: an unjudged sheet has no verdict, a
time nobody took is null. Nothing here depends on now, on a path or a machine.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, ClassVar, Final

from benchapp.edition import decide as register
from benchapp.edition.numbers import label_text
from benchapp.edition.packs import Pack
from benchapp.events.entry import Entry, Moment
from benchapp.events.moments import iso_text
from benchapp.events.session import SessionActionTakenBack
from benchapp.events.streams import stream_family
from benchapp.history.drift import reading_figure
from benchapp.reports.earlier_days import (
    Earlier,
    SheetTimes,
    by_impression,
    fold_days,
    set_against,
    works_of,
)
from benchapp.reports.json_form import Seconds, Time
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
from benchapp.session.annotate import source_mark
from benchapp.session.context import worked_ms
from benchapp.session.counting import count_impressions, count_pulled, does_count
from benchapp.session.edition_links import of_sheet, sheet_id
from benchapp.session.fold import replay_entries
from benchapp.session.names import session_id, step_of
from benchapp.session.room_facts import asks_itself, facts_given
from benchapp.session.state import Attempt, Impression, Session, StudioState
from benchapp.session.values import about_day

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
    for_: Annotated[str | None, "what it was pulled for: edition, warm-up, TP, WP, SP, ghost …"]
    for_by: Annotated[str | None, "who said so: rule or printer"]
    state: Annotated[str | None, "the state of the plate, of a state proof"]
    kind: Annotated[str | None, "what it became when sorted: edition, AP, BAT and so on"]
    label: Annotated[str | None, "what is pencilled on it, such as 12/40"]
    verdict: Annotated[str | None, "keep, doubtful or spoiled; null: not judged"]
    counts: Annotated[bool, "whether it counts towards the number wanted"]
    tags: Annotated[tuple[str, ...], "fixed labels for what was seen"]
    notes: Annotated[tuple[str, ...], "the printer's own words"]
    readings: Annotated[tuple[SheetReading, ...], "values read of it"]
    look_again: Annotated[bool, "whether to look at it again"]
    ended: Annotated[str | None, "how it ended, where that was before its last step"]
    pulls: Annotated[tuple[Pull, ...], "each pass of a plate, in order"]
    pulled_at: Annotated[Time | None, "when it was first pulled"]
    packs: Annotated[tuple[str | None, ...], "the pack of each of its papers; null: no pack"]
    settings: Annotated[Mapping[str, str], "the settings in force at its pull, by name"]
    sheet_damp: Annotated[bool | None, "of a sheet of no pack: whether it was damp"]
    paper: Annotated[tuple[PaperTimes, ...], "how long each of its papers soaked, rested, waited"]
    counterproof_of: Annotated[str | None, "of a counterproof: the mark it was pulled from"] = None


@dataclass(frozen=True, slots=True)
class TryReview:
    """An impression begun and never pulled."""

    how: Annotated[str | None, "how it ended"]
    tags: Annotated[tuple[str, ...], "fixed labels for what was seen"]
    notes: Annotated[tuple[str, ...], "the printer's own words"]
    readings: Annotated[tuple[SheetReading, ...], "values read"]
    look_again: Annotated[bool, "whether to look at it again"]
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

    what: Annotated[str, "the action that was undone"]
    at: Annotated[Time, "when"]


@dataclass(frozen=True, slots=True)
class Jump:
    """What time did by itself."""

    what: Annotated[str, "slept, clock stepped, or continued (the program was away)"]
    seconds: Annotated[Seconds, "by how much; below 0: the clock was set back"]
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
    corrections: Annotated[tuple[Correction, ...], "what was undone"]
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
        pulled_at=_at(i.pulled_at), packs=tuple(i.sheets),
        settings={x.name: x.value for x in s.settings if x.since <= (i.number or 0)},
        sheet_damp=i.damp, paper=tuple(sheet_paper_times(room, i)),
        counterproof_of=source_mark(s, i))


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


def purpose_words(i: SheetReview) -> str:
    """What a sheet was pulled for, with its state; a counterproof with the sheet it is of."""
    if i.counterproof_of is not None:
        return f"{i.for_} of {i.counterproof_of}"
    return " ".join(filter(None, (i.for_, i.state)))
