"""Stacks: prints drying together under boards, changed at the printer's hours.

What lies where, what was changed, done late or passed by, what the control sheets
weighed: entries folded into state. Times come in as arguments. Pure.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Final, Literal

from benchapp.drying import dryness as drying
from benchapp.drying.dryness import USUAL, DryStep, Earliest, Hours, StackChange
from benchapp.edition.numbers import mark_words
from benchapp.events.entry import Entry, Moment
from benchapp.events.event import over_of
from benchapp.events.moments import elapsed_ms, local_time
from benchapp.events.stack import (
    ChangeDone,
    ChangeSkipped,
    SheetLaid,
    SheetLifted,
    SheetWeighed,
    StackActionTakenBack,
    StackBegun,
    StackEvent,
    StackTakenDown,
    StackWeighted,
)
from benchapp.events.streams import is_said, stream_family, told_of

#: Dry to the room: a control sheet that keeps its mass so long.
CONSTANT_MS: Final = 24 * 3_600_000


@dataclass(frozen=True, slots=True)
class StackedSheet:
    """A sheet in a stack; `lifted` None: it lies there still."""

    sheet: str
    mark: str
    laid: Moment
    lifted: Moment | None = None


@dataclass(frozen=True, slots=True)
class ChangeAnswer:
    """What was done about a change: done, late, or skipped."""

    how: Literal["done", "late", "skipped"]
    at: Moment
    why: str | None = None


@dataclass(frozen=True, slots=True)
class ControlWeighing:
    """A control sheet on the scale; `step_mg` is the scale's own step."""

    sheet: str
    mg: int
    step_mg: int
    at: Moment


@dataclass(frozen=True, slots=True)
class Stack:
    """One stack, as its entries leave it.

    Attributes:
        lying: Its sheets in the order laid, those lifted too.
        last: When the last sheet was laid: its changes count from there.
        lays: How often a sheet was laid; grows whenever the changes move.
        answers: By (`last` in wall ms, line of the list, how manieth time).
        grams: What lies on the boards; None: nobody said.
        down: When it was taken down.
    """

    id: str
    name: str
    begun: Moment
    drying: tuple[DryStep, ...] = ()
    lying: tuple[StackedSheet, ...] = ()
    last: Moment | None = None
    lays: int = 0
    answers: Mapping[tuple[int, int, int], ChangeAnswer] = field(default_factory=dict)
    grams: int | None = None
    weighings: tuple[ControlWeighing, ...] = ()
    down: Moment | None = None

    @property
    def sheets(self) -> tuple[StackedSheet, ...]:
        """Those that lie there, the last laid on top (first)."""
        return tuple(x for x in reversed(self.lying) if x.lifted is None)

    @property
    def last_local(self) -> datetime | None:
        """When the last sheet was laid, by the clock on that wall."""
        return None if self.last is None else wall_time(self.last)

    def answer(self, change: StackChange) -> ChangeAnswer | None:
        """What was done about a change since the last sheet."""
        if self.last is None:
            return None
        return self.answers.get((self.last.wall_ms, change.index, change.nth))

    def changes(self, hours: Hours = USUAL) -> tuple[StackChange, ...]:
        """All its changes since the last sheet, done or not."""
        last = self.last_local
        return () if last is None else drying.stack_changes(self.drying, last, hours)


@dataclass(frozen=True, slots=True)
class Boards:
    """All stacks by id, with the entries they come from: a take-back folds them anew."""

    stacks: Mapping[str, Stack] = field(default_factory=dict)
    journal: tuple[Entry, ...] = field(default=(), repr=False)
    void: frozenset[str] = frozenset()

    @property
    def up(self) -> tuple[Stack, ...]:
        """Those not taken down."""
        return tuple(s for s in self.stacks.values() if s.down is None)


def shared_marks(boards: Boards) -> frozenset[str]:
    """The marks that more than one sheet of any stack has."""
    marks = {x.sheet: x.mark for s in boards.stacks.values() for x in s.lying}
    return frozenset(m for m, n in Counter(marks.values()).items() if n > 1)


def sheet_names(stack: Stack, shared: Collection[str] = ()) -> tuple[str, ...]:
    """Its sheets as they are named, the top one first."""
    return tuple(mark_words(x.mark, x.sheet.partition("@")[0], shared=x.mark in shared)
                 for x in stack.sheets)


def wall_time(at: Moment) -> datetime:
    """What the clock on the wall showed, without its offset."""
    return local_time(at).replace(tzinfo=None)


def replay_boards(entries: Iterable[Entry]) -> Boards:
    """The boards after all these entries; those of other streams change nothing."""
    journal = tuple(e for e in entries if stream_family(e.stream) == "stack")
    return _fold(journal, _void(journal))


def _void(journal: tuple[Entry, ...]) -> frozenset[str]:
    """The actions taken back; a take-back that was itself taken back is none."""
    void: set[str] = set()
    for entry in reversed(journal):
        event = entry.event
        if isinstance(event, StackActionTakenBack) and entry.action not in void:
            void.add(event.action)
    return frozenset(void)


def apply_board_entry(boards: Boards, entry: Entry) -> Boards:
    """`boards` after one more entry. Total."""
    if stream_family(entry.stream) != "stack":
        return boards
    journal = (*boards.journal, entry)
    if entry.kind == "taken back":
        return _fold(journal, _void(journal))
    if entry.action in boards.void:
        return replace(boards, journal=journal)
    if is_said(entry.stream) or any(is_said(e.stream) for e in boards.journal):
        return _fold(journal, boards.void)
    return Boards(_applied(boards.stacks, entry), journal, boards.void)


def _fold(journal: tuple[Entry, ...], void: frozenset[str]) -> Boards:
    stacks: Mapping[str, Stack] = {}
    for entry in _in_order(journal):
        if entry.kind != "taken back" and entry.action not in void:
            stacks = _applied(stacks, entry)
    return Boards(stacks, journal, void)


def _in_order(journal: tuple[Entry, ...]) -> Iterable[Entry]:
    """The entries as they count where two books wrote on one stack: the same in either book.

    By the wall clock of whoever wrote, and never before what the writer had seen: the stack
    begun, its own entries before, and those of other books it names.
    """
    if not any(is_said(e.stream) for e in journal):
        return journal
    placed: dict[str, tuple[int, int]] = {}
    last: dict[str, str] = {}
    turns = []
    for e in journal:
        own = last.get(e.stream) or last.get(f"begun {told_of(e.stream)}")
        before = [placed[x] for x in (own, *(over_of(e.event) or ())) if x in placed]
        at = max([e.at.wall_ms, *(wall_ms for wall_ms, _ in before)])
        deep = 1 + max((n for _, n in before), default=0)
        placed[e.id] = at, deep
        last[e.stream] = e.id
        if e.kind == "begun":
            last[f"begun {e.stream}"] = e.id
        turns.append((at, deep, e.stream, e.position))
    return [e for _, e in sorted(zip(turns, journal, strict=True), key=lambda x: x[0])]


def last_seen_entries(boards: Boards, stack: str, stream: str) -> tuple[str, ...]:
    """The last entry about a stack in every stream but the one that is written in."""
    last = {e.stream: e.id for e in boards.journal
            if isinstance(e.event, StackEvent) and e.event.stack == stack}
    return tuple(id for other, id in sorted(last.items()) if other != stream)


def _applied(stacks: Mapping[str, Stack], entry: Entry) -> Mapping[str, Stack]:
    event = entry.event
    if not isinstance(event, StackEvent):
        return stacks
    old = stacks.get(event.stack)
    if isinstance(event, StackBegun):
        if old is not None:
            return stacks
        steps = tuple(DryStep(d["do"], d["after_ms"], d["every_ms"], d["for_ms"])
                      for d in event.drying)
        new: Stack | None = Stack(event.stack, event.name, entry.at, steps)
    else:
        new = None if old is None else _changed(old, event, entry.at)
    return stacks if new is None else {**stacks, new.id: new}


def _changed(s: Stack, event: StackEvent, at: Moment) -> Stack | None:
    match event:
        case SheetLaid():
            # Taken down by one book before another, that had not seen it, laid a sheet on it.
            lying = s.lying if s.down is None else tuple(
                x if x.lifted else replace(x, lifted=s.down) for x in s.lying)
            return replace(s, lying=(*lying, StackedSheet(event.sheet, event.mark, at)), last=at,
                           lays=s.lays + 1, down=None)
        case SheetLifted():
            return replace(s, lying=tuple(
                replace(x, lifted=at) if x.sheet == event.sheet and x.lifted is None else x
                for x in s.lying))
        case ChangeDone():
            return _answered(s, event, ChangeAnswer("late" if event.late else "done", at))
        case ChangeSkipped():
            return _answered(s, event, ChangeAnswer("skipped", at, event.why))
        case StackWeighted():
            return replace(s, grams=event.grams)
        case SheetWeighed():
            new = ControlWeighing(event.sheet, event.mg, event.step_mg, at)
            return replace(s, weighings=(*s.weighings, new))
        case StackTakenDown():
            return s if s.down is not None else replace(s, down=at)
        case _:
            return None


def _answered(s: Stack, event: ChangeDone | ChangeSkipped, answer: ChangeAnswer) -> Stack:
    key = (event.since_ms, event.change, event.nth)
    return replace(s, answers={**s.answers, key: answer})


# -- what is due -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Due:
    """One line of the list for all stacks.

    Attributes:
        state: coming, due, or late (after its grace).
        missed: Earlier times of the same line nobody answered.
        calls: It may call now: it is due, and the hours are not silent.
        sheets: How many lie in the stack.
    """

    stack: str
    name: str
    change: StackChange
    state: Literal["coming", "due", "late"]
    missed: int
    calls: bool
    sheets: int


def due_changes(stacks: Iterable[Stack], now_local: datetime,
                hours: Hours = USUAL) -> tuple[Due, ...]:
    """What the boards want, for all stacks in one list, the longest waiting first.

    Of a line of a stack's list that waits more than once the last time is shown, with
    how many were missed; of what is still to come, the next hour of each stack.

    Args:
        stacks: Taken down and empty ones want nothing.
        now_local: The time on the wall now; an offset on it is left aside.
        hours: The printer's hours.
    """
    now = now_local.replace(tzinfo=None)
    found = [d for s in stacks if s.down is None and s.sheets for d in _due(s, now, hours)]
    return tuple(sorted(found, key=lambda d: (d.change.at, d.stack, d.change.index)))


def unanswered_changes(s: Stack, hours: Hours = USUAL) -> tuple[StackChange, ...]:
    """The changes of a stack nobody answered, also those still to come."""
    return tuple(c for c in s.changes(hours) if s.answer(c) is None)


def _due(s: Stack, now: datetime, hours: Hours) -> Iterable[Due]:
    open_ = unanswered_changes(s, hours)
    by_line: dict[int, list[StackChange]] = {}
    for c in open_:
        if c.at <= now:
            by_line.setdefault(c.index, []).append(c)
    for line in by_line.values():
        late = now > line[-1].at + hours.grace
        yield Due(s.id, s.name, line[-1], "late" if late else "due", len(line) - 1,
                  not hours.silent(now), len(s.sheets))
    coming = [c for c in open_ if c.at > now]
    for c in coming:
        if c.at == coming[0].at:
            yield Due(s.id, s.name, c, "coming", 0, False, len(s.sheets))


# -- dry or not ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Dryness:
    """What the control sheet says.

    Attributes:
        state: not weighed; too soon (nothing weighed 24 h before the last time); drying;
            dry (to the room: it kept its mass over 24 h).
        sheet: The control sheet weighed last.
        lost_mg: What it lost over those 24 h or more; None: too soon.
        exact: False where a restart lay between: the length is by the wall clock (≈).
    """

    state: Literal["not weighed", "too soon", "drying", "dry"]
    sheet: str | None = None
    lost_mg: int | None = None
    exact: bool = True


def stack_dryness(s: Stack) -> Dryness:
    """Whether the stack is dry to the room, by the control sheet weighed last.

    Dry: from the last weighing at least 24 h before the latest on, no two differ by more
    than one step of the scale. A sheet weighed in between and found moving is not dry.
    """
    if not s.weighings:
        return Dryness("not weighed")
    last = s.weighings[-1]
    mine = [w for w in s.weighings if w.sheet == last.sheet]
    spans = [elapsed_ms(w.at, last.at) for w in mine]
    old = [i for i, (ms, _) in enumerate(spans) if ms >= CONSTANT_MS]
    if not old:
        return Dryness("too soon", last.sheet)
    since = mine[old[-1]:]
    masses = [w.mg for w in since]
    dry = max(masses) - min(masses) <= max(w.step_mg for w in since)
    return Dryness("dry" if dry else "drying", last.sheet, masses[0] - masses[-1],
                   spans[old[-1]][1])


def stack_earliest_days(s: Stack, hours: Hours = USUAL) -> Earliest | None:
    """The first days to sort, sign and ship; None: nothing was laid yet."""
    last = s.last_local
    return None if last is None else drying.earliest_days(s.drying, last, hours)
