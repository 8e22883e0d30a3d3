"""The boards as reports, as lines of text and as a calendar. Pure: now is an argument."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Annotated, ClassVar, Final

from benchapp.drying.dryness import USUAL, Hours, StackChange, stack_changes
from benchapp.drying.stacks import (
    Boards,
    Dryness,
    Due,
    Stack,
    due_changes,
    shared_marks,
    sheet_names,
    stack_dryness,
    stack_earliest_days,
    unanswered_changes,
    wall_time,
)
from benchapp.events.moments import iso_text
from benchapp.events.stack import StackEvent
from benchapp.quantities import items_text
from benchapp.reports.ical import Event
from benchapp.reports.json_form import Day, Time, Unit

_EPOCH: Final = datetime(1970, 1, 1, tzinfo=UTC)
#: No hours were chosen before: from here the minutes of a choice are counted.
_FIRST_CHOICE: Final = datetime(2026, 1, 1, tzinfo=UTC)
#: So long after its last sheet nothing is looked for under boards any more: what is framed
#: or sent after four weeks has been dry for as long again (common practice).
OLD_DAYS: Final = 60
DRY_WORDS: Final = {
    "not weighed": "no control sheet was weighed",
    "too soon": "control sheet weighed, 24 h not over yet",
    "drying": "still drying: the control sheet changed within 24 h",
    "dry": "dry to the room: the control sheet kept its mass over 24 h",
}


def stacks_in_use(boards: Boards, now: datetime) -> tuple[Stack, ...]:
    """The stacks with something in them, the last laid first: they are numbered so from 1.

    One that nobody took down is left out when its prints have long been dry.
    """
    since = now.replace(tzinfo=None) - timedelta(days=OLD_DAYS)
    there = [s for s in boards.up if s.sheets and (s.last_local or since) > since]
    return tuple(sorted(there, key=lambda s: (-(s.last or s.begun).wall_ms, s.id)))


def lying_counts(stacks: Iterable[Stack]) -> dict[str, int]:
    """How many sheets lie there, by the session that pulled them."""
    return dict(Counter(x.sheet.rpartition("#")[0] for s in stacks for x in s.sheets))


@dataclass(frozen=True, slots=True)
class ChangeReport:
    """A change of blotters that is due, or comes next."""

    do: Annotated[str, "what to do"]
    at: Annotated[str, Unit("local time, ISO 8601"), "when"]
    state: Annotated[str, "due, late or coming"]
    missed: Annotated[int, "earlier changes of the same line that nobody answered"]


@dataclass(frozen=True, slots=True)
class DrynessReport:
    """What the control sheet says."""

    state: Annotated[str, "not weighed, too soon, drying or dry"]
    lost_mg: Annotated[int | None, Unit("mg"), "what it lost since it was weighed first"]
    exact: Annotated[bool, "false if a restart of the machine makes the time approximate"]


@dataclass(frozen=True, slots=True)
class DayReport:
    """A day before which something is too early."""

    day: Annotated[Day, "the day"]
    source: Annotated[str, "where it comes from"]


@dataclass(frozen=True, slots=True)
class StackReport:
    """One stack of prints under boards."""

    FORMAT: ClassVar = "boards/1"

    stack: Annotated[str, "its id"]
    name: Annotated[str, "its name"]
    sheets: Annotated[tuple[str, ...], "the marks of its sheets, in the order laid"]
    last_laid_at: Annotated[Time | None, "when its last sheet was laid"]
    grams: Annotated[int | None, Unit("g"), "the weight on it"]
    due: Annotated[tuple[ChangeReport, ...], "the changes due, and those that come next"]
    waiting: Annotated[int, "changes nobody answered, those to come too"]
    dryness: Annotated[DrynessReport, "what the control sheet says"]
    earliest: Annotated[Mapping[str, DayReport] | None,
                        "the earliest days to sort, to sign and to ship"]


def boards_report(boards: Boards, now: datetime, hours: Hours = USUAL) -> list[StackReport]:
    """Every stack; `now` is the time on the wall."""
    return [_report(s, now, hours) for s in stacks_in_use(boards, now)]


def _report(s: Stack, now: datetime, hours: Hours) -> StackReport:
    dry, first = stack_dryness(s), stack_earliest_days(s, hours)
    return StackReport(
        s.id, s.name, tuple(x.mark for x in s.sheets),
        None if s.last is None else iso_text(s.last), s.grams,
        tuple(ChangeReport(d.change.do, d.change.at.isoformat(timespec="minutes"), d.state,
                           d.missed) for d in due_changes((s,), now, hours)),
        len(unanswered_changes(s, hours)), DrynessReport(dry.state, dry.lost_mg, dry.exact),
        None if first is None else {
            what: DayReport(d.day.isoformat(), d.source)
            for what, d in (("sort", first.sort), ("sign", first.sign), ("ship", first.ship))})


def boards_lines(boards: Boards, now: datetime, hours: Hours = USUAL) -> list[str]:
    """The list for all stacks: what is due first, then each stack, top sheet first."""
    stacks, shared = stacks_in_use(boards, now), shared_marks(boards)
    place = {s.id: n for n, s in enumerate(stacks, 1)}
    out = [f"{due_words(d, now)} · {place[d.stack]} {d.name}"
           for d in due_changes(stacks, now, hours)]
    if stacks:
        out = [*(out or ["No change is due."]), ""]
    for s in stacks:
        out.append(f"{place[s.id]} {s.name} · {items_text(len(s.sheets), 'sheet')}")
        out += [f"    {x}" for x in stack_lines(s, hours, shared)]
    return out


def stack_lines(s: Stack, hours: Hours = USUAL, shared: Collection[str] = ()) -> list[str]:
    """One stack: its sheets from the top down, what lies on it, and whether it is dry.

    Args:
        s: The stack.
        hours: The printer's hours.
        shared: The marks that more than one sheet has.
    """
    out = [", ".join(sheet_names(s, shared))]
    if s.grams is not None:
        out.append(f"{s.grams / 1000:g} kg on it")
    dry = stack_dryness(s)
    if dry.state != "not weighed":
        out.append(dry_words(dry))
    first = stack_earliest_days(s, hours)
    if first is not None:
        out.append(f"earliest: sort {_day(first.sort.day)}, sign {_day(first.sign.day)}, "
                   f"send {_day(first.ship.day)}")
    return out


def dry_words(dry: Dryness) -> str:
    """What the control sheet says; ≈ where a restart lay between."""
    return ("" if dry.exact else "≈ ") + DRY_WORDS[dry.state]


def due_words(d: Due, now: datetime) -> str:
    """`due since 18:00: Change blotters`, `late since …`, `tomorrow 09:00: …`."""
    missed = f", {d.missed} missed before it" if d.missed else ""
    when = _when(d.change.at, now)
    head = {"due": f"due since {when}", "late": f"late since {when}", "coming": when}[d.state]
    return f"{head}: {d.change.do}{missed}"


def _when(at: datetime, now: datetime) -> str:
    days = (at.date() - now.date()).days
    day = {0: "", 1: "tomorrow ", -1: "yesterday "}.get(days, f"{_day(at.date())} ")
    return f"{day}{at:%H:%M}"


def _day(day: date) -> str:
    return f"{day.day} {day:%b}"


# -- as a calendar ------------------------------------------------------------------------


def drying_events(boards: Boards, hours: Hours = USUAL, chosen: datetime | None = None
                  ) -> Iterator[Event]:
    """Every change of every stack, and its earliest days; those over are struck out.

    An event that an earlier last sheet gave and this one does not is struck out too. A stack
    that was taken down or is empty has no events: a calendar of years would be full of them.

    Args:
        boards: All stacks, with their entries.
        hours: The printer's hours.
        chosen: When these hours were chosen; they move every event, without an entry.
    """
    shared = shared_marks(boards)
    grown: dict[str, int] = {}
    stamps: dict[str, int] = {}
    for e in boards.journal:
        if not isinstance(e.event, StackEvent):
            continue
        stack = e.event.stack
        grown[stack] = grown.get(stack, 0) + 1
        stamps[stack] = max(stamps.get(stack, 0), e.at.wall_ms)
    moved = 0 if chosen is None else max(0, (chosen - _FIRST_CHOICE) // timedelta(minutes=1))
    for s in boards.stacks.values():
        if s.down is not None or not s.sheets:
            continue
        stamp = _EPOCH + timedelta(milliseconds=stamps.get(s.id, s.begun.wall_ms))
        # Every entry of the stack counts, those taken back too: so it never shrinks.
        yield from _of(s, grown.get(s.id, 0) + moved, max(stamp, chosen or stamp), hours, shared)


def _of(s: Stack, sequence: int, stamp: datetime, hours: Hours,
        shared: Collection[str]) -> Iterator[Event]:
    what = f"{items_text(len(s.sheets), 'sheet')}: {', '.join(sheet_names(s, shared))}"
    now = s.changes(hours)
    for c in now:
        yield Event(_uid(c, s), sequence, stamp, c.at, f"{c.do}: {s.name}", what,
                    off=s.answer(c) is not None)
    for c in _no_more(s, now, hours):
        yield Event(_uid(c, s), sequence, stamp, c.at, f"{c.do}: {s.name}", what, off=True)
    first = stack_earliest_days(s, hours)
    if first is not None:
        for name, words, d in (("sort", "Sort", first.sort), ("sign", "Sign", first.sign),
                               ("ship", "May be sent", first.ship)):
            yield Event(f"{name}-{s.id}", sequence, stamp, d.day, f"{words}: {s.name}",
                        f"earliest day, by {d.source}", alarm=False)


def _uid(c: StackChange, s: Stack) -> str:
    return f"change-{c.index}-{c.nth}-{s.id}"


def _no_more(s: Stack, now: tuple[StackChange, ...], hours: Hours) -> Iterator[StackChange]:
    """Changes counted from an earlier last sheet that have no successor: the phone has them."""
    named = {(c.index, c.nth) for c in now}
    for laid in {wall_time(x.laid) for x in s.lying} - {s.last_local}:
        for c in stack_changes(s.drying, laid, hours):
            if (c.index, c.nth) not in named:
                named.add((c.index, c.nth))
                yield c
