"""The decider of the boards: (boards, action, now) to drafts, or a refusal. Total and pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from benchapp.drying.dryness import USUAL, DryStep, Hours, StackChange
from benchapp.drying.stacks import Boards, Stack, last_seen_entries, unanswered_changes, wall_time
from benchapp.edition.refusal import HOW_TO_NAME, EditionRefusal
from benchapp.edition.streams import stack_stream
from benchapp.events.entry import Draft, Moment
from benchapp.safe_text import why_refused

#: A ton on one stack, and a sheet of ten kilograms: more is a slip of the hand.
MOST_GRAMS: Final = 1_000_000
MOST_MG: Final = 10_000_000


@dataclass(frozen=True, slots=True)
class Begin:
    """A stack is begun. `stack` is the edge's: unique, with the book's origin in it."""

    stack: str
    name: str
    drying: tuple[DryStep, ...] = ()


@dataclass(frozen=True, slots=True)
class Lay:
    """These sheets go on top, in this order: id and mark of each."""

    stack: str
    sheets: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Lift:
    """A sheet comes out, to be looked at, sorted, or laid elsewhere."""

    stack: str
    sheet: str


@dataclass(frozen=True, slots=True)
class Changed:
    """A change was made: the one named by its line and time, or everything due now."""

    stack: str
    index: int | None = None
    nth: int | None = None


@dataclass(frozen=True, slots=True)
class SkipChange:
    """A change is left, with the reason: the one named, or everything due now."""

    stack: str
    why: str
    index: int | None = None
    nth: int | None = None


@dataclass(frozen=True, slots=True)
class Weight:
    """What lies on the boards, in grams; None: nothing does."""

    stack: str
    grams: int | None


@dataclass(frozen=True, slots=True)
class Weigh:
    """The control sheet on the scale, in milligrams, by a scale with that step (0.1 g)."""

    stack: str
    sheet: str
    mg: int
    step_mg: int = 100


@dataclass(frozen=True, slots=True)
class TakeDown:
    """Nothing lies under these boards any more."""

    stack: str


Action = Begin | Lay | Lift | Changed | SkipChange | Weight | Weigh | TakeDown
Decision = tuple[Draft, ...] | EditionRefusal
#: What is done to a stack: the kind of the entry, and what it says beside which stack it is of.
Done = tuple[str, Mapping[str, object]]
Doing = tuple[Done, ...] | EditionRefusal

#: What each is called everywhere, and kept in entries.
WORDS: Final[Mapping[type, str]] = {
    Begin: "begin stack", Lay: "lay", Lift: "lift", Changed: "changed", SkipChange: "skip change",
    Weight: "weight", Weigh: "weigh", TakeDown: "take down",
}


def decide_boards(boards: Boards, action: Action, now: Moment, hours: Hours = USUAL,
                  origin: str | None = None) -> Decision:
    """What the action does at `now`.

    Args:
        boards: All stacks.
        action: What the printer does.
        now: The clocks, read at the edge.
        hours: The printer's hours.
        origin: The book that writes; None: the one that began the stack.

    Returns:
        Drafts in order, or why not.
    """
    if isinstance(action, Begin):
        return _begin(boards, action)
    stack = boards.stacks.get(action.stack)
    if stack is None:
        return EditionRefusal("stack", "No such stack", "the command boards lists those there are")
    if stack.down is not None:
        return EditionRefusal("down", f"{stack.name} was taken down", "begin another stack")
    decided = _RULES[type(action)](boards, stack, action, now, hours)
    if isinstance(decided, EditionRefusal):
        return decided
    stream = stack_stream(stack.id, origin)
    over = last_seen_entries(boards, stack.id, stream)
    return tuple(Draft(stream, kind, {"stack": stack.id, **body, "over": over})
                 for kind, body in decided)


def _does(kind: str, /, **body: object) -> Done:
    return kind, body


def _begin(boards: Boards, action: Begin) -> Decision:
    wrong = why_refused(action.name)
    if wrong is not None or not action.name.strip():
        return EditionRefusal("text", f"The name of the stack: {wrong or 'empty'}", "type it again")
    if action.stack in boards.stacks:
        return EditionRefusal("stack", f"A stack {action.name} is there already",
                              "lay sheets on it")
    listed = [{"do": d.do, "after_ms": d.after_ms, "every_ms": d.every_ms, "for_ms": d.for_ms}
              for d in action.drying]
    return (Draft(stack_stream(action.stack), "begun",
                  {"stack": action.stack, "name": action.name.strip(), "drying": listed}),)


def _lay(boards: Boards, s: Stack, action: Lay, now: Moment, hours: Hours) -> Doing:
    if not action.sheets:
        return EditionRefusal("sheet", "No sheet is named", HOW_TO_NAME)
    if len({sheet for sheet, _ in action.sheets}) < len(action.sheets):
        return EditionRefusal("sheet", "One sheet is named twice", "lay it once")
    where = {x.sheet: other for other in boards.up for x in other.sheets}
    for sheet, mark in action.sheets:
        if sheet in where:
            return EditionRefusal("sheet", f"{mark} lies in {where[sheet].name} already",
                                  "lift it there first")
    return tuple(_does("laid", sheet=sheet, mark=mark) for sheet, mark in action.sheets)


def _lift(boards: Boards, s: Stack, action: Lift, now: Moment, hours: Hours) -> Doing:
    return _lies(s, action.sheet) or (_does("lifted", sheet=action.sheet),)


def _lies(s: Stack, sheet: str) -> EditionRefusal | None:
    if any(x.sheet == sheet for x in s.sheets):
        return None
    return EditionRefusal("sheet", f"That sheet does not lie in {s.name}", "name one that does")


def _changed(boards: Boards, s: Stack, action: Changed, now: Moment, hours: Hours) -> Doing:
    meant = _meant(s, action.index, action.nth, now, hours)
    if isinstance(meant, EditionRefusal):
        return meant
    at = wall_time(now)
    last = {c.index: c for c in meant}
    drafts = [_passed_by(s, c, None) for c in _before(s, last, hours)]
    drafts += [_does("change done", change=c.index, nth=c.nth, since_ms=_since(s),
                      late=at > c.at + hours.grace) for c in last.values()]
    return tuple(drafts)


def _skip(boards: Boards, s: Stack, action: SkipChange, now: Moment, hours: Hours) -> Doing:
    wrong = why_refused(action.why)
    if wrong is not None or not action.why.strip():
        return EditionRefusal("reason", wrong or "A change that is left needs a reason", "say why")
    meant = _meant(s, action.index, action.nth, now, hours)
    if isinstance(meant, EditionRefusal):
        return meant
    return tuple(_passed_by(s, c, action.why.strip()) for c in meant)


def _passed_by(s: Stack, c: StackChange, why: str | None) -> Done:
    return _does("change skipped", change=c.index, nth=c.nth, since_ms=_since(s), why=why)


def _since(s: Stack) -> int:
    return 0 if s.last is None else s.last.wall_ms


def _meant(s: Stack, index: int | None, nth: int | None, now: Moment,
           hours: Hours) -> tuple[StackChange, ...] | EditionRefusal:
    """The change named, or all that are due now."""
    open_ = unanswered_changes(s, hours)
    if index is not None and nth is not None:
        named = tuple(c for c in open_ if (c.index, c.nth) == (index, nth))
        return named or EditionRefusal("change", "That change is not waiting",
                                       "look at the list again")
    at = wall_time(now)
    due = tuple(c for c in open_ if c.at <= at)
    if due:
        return due
    return EditionRefusal("change", f"No change is due for {s.name}",
                          f"next: {open_[0].do}, {open_[0].at:%Y-%m-%d %H:%M}" if open_
                          else "its list is done")


def _before(s: Stack, last: Mapping[int, StackChange], hours: Hours) -> tuple[StackChange, ...]:
    """Earlier times of the same lines nobody answered: a later change comes in their place."""
    return tuple(c for c in unanswered_changes(s, hours) if c.index in last
                 and c.nth < last[c.index].nth)


def _weight(boards: Boards, s: Stack, action: Weight, now: Moment, hours: Hours) -> Doing:
    if action.grams is not None and not 0 < action.grams <= MOST_GRAMS:
        return EditionRefusal("count", f"{action.grams} g is no weight for boards", "such as 12 kg")
    if action.grams == s.grams:
        return EditionRefusal("already", "That is what lies on it already",
                              "there is nothing to do")
    return (_does("weighted", grams=action.grams),)


def _weigh(boards: Boards, s: Stack, action: Weigh, now: Moment, hours: Hours) -> Doing:
    if not (0 < action.mg <= MOST_MG and 0 < action.step_mg <= action.mg):
        return EditionRefusal("count", "That is no mass of a sheet", "such as 98.4 g")
    return _lies(s, action.sheet) or (
        _does("weighed", sheet=action.sheet, mg=action.mg, step_mg=action.step_mg),)


def _take_down(boards: Boards, s: Stack, action: TakeDown, now: Moment,
               hours: Hours) -> Doing:
    return (_does("taken down"),)


_RULES: Final[Mapping[type, Callable[[Boards, Stack, Any, Moment, Hours], Doing]]] = {
    Lay: _lay, Lift: _lift, Changed: _changed, SkipChange: _skip, Weight: _weight, Weigh: _weigh,
    TakeDown: _take_down,
}
