"""The decider of the boards: (boards, action, now) to drafts, or a refusal. Total and pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from benchapp.decision import Decision, DecisionContext, Refusal, WordedRule
from benchapp.drying.dryness import USUAL, DryStep, Hours, StackChange
from benchapp.drying.stacks import (
    Boards,
    Stack,
    apply_board_entry,
    last_seen_entries,
    unanswered_changes,
    wall_time,
)
from benchapp.edition.numbers import HOW_TO_NAME
from benchapp.edition.streams import stack_stream
from benchapp.events.entry import Entry, Moment
from benchapp.events.event import BookEvent
from benchapp.events.stack import (
    ChangeDone,
    ChangeSkipped,
    SheetLaid,
    SheetLifted,
    SheetWeighed,
    StackBegun,
    StackTakenDown,
    StackWeighted,
)
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


@dataclass(slots=True)
class StackContext(DecisionContext[Boards]):
    """Drafts in the making, for the stack `id`.

    Attributes:
        hours: The printer's hours.
        origin: The book that writes; None: the one that began the stack.
        over: The last entries of other books about the stack, which what is drafted comes after.
    """

    id: str
    hours: Hours
    origin: str | None
    over: tuple[str, ...] = field(init=False)

    def __post_init__(self) -> None:
        """What other books wrote is read once: nothing of it changes while this is decided."""
        self.over = last_seen_entries(self.state, self.id, self.stream)

    @property
    def s(self) -> Stack:
        """The stack as it is."""
        return self.state.stacks[self.id]

    @property
    def stream(self) -> str:
        """The stream in which this book writes about the stack."""
        return stack_stream(self.id, self.origin)

    def fold(self, entry: Entry) -> Boards:
        """The boards after one more entry."""
        return apply_board_entry(self.state, entry)

    def emit(self, event: BookEvent) -> None:
        """Draft an entry of the stack. Each rule looks first: after it nothing is decided."""
        self.emit_final(self.stream, event)


def stack_action_word(action: Action) -> str:
    """The word an entry keeps of the action that caused it."""
    return _RULES[type(action)].word


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
    page = StackContext(boards, now, stack_action_word(action), action.stack, hours, origin)
    if not isinstance(action, Begin):
        stack = boards.stacks.get(action.stack)
        if stack is None:
            return Refusal("There is no such stack", "list the stacks: benchapp boards",
                           rule="stack")
        if stack.down is not None:
            return Refusal(f"{stack.name} was taken down", "begin another stack", rule="down")
    return page.decision(_RULES[type(action)].decide(page, action))


def _begin(page: StackContext, action: Begin) -> Refusal | None:
    wrong = why_refused(action.name)
    if wrong is not None or not action.name.strip():
        return Refusal(f"The name of the stack: {wrong or 'empty'}", "type it again", rule="text")
    if action.stack in page.state.stacks:
        return Refusal(f"There is a stack {action.name} already", "lay sheets on it", rule="stack")
    page.emit_final(stack_stream(action.stack), StackBegun(
        stack=action.stack, name=action.name.strip(), drying=tuple(
            {"do": d.do, "after_ms": d.after_ms, "every_ms": d.every_ms, "for_ms": d.for_ms}
            for d in action.drying)))
    return None


def _lay(page: StackContext, action: Lay) -> Refusal | None:
    if not action.sheets:
        return Refusal("No sheet is named", HOW_TO_NAME, rule="sheet")
    if len({sheet for sheet, _ in action.sheets}) < len(action.sheets):
        return Refusal("One sheet is named twice", "name it once", rule="sheet")
    where = {x.sheet: other for other in page.state.up for x in other.sheets}
    for sheet, mark in action.sheets:
        if sheet in where:
            return Refusal(f"{mark} is already in {where[sheet].name}",
                           "lift it there first", rule="sheet")
    for sheet, mark in action.sheets:
        page.emit(SheetLaid(stack=page.id, sheet=sheet, mark=mark, over=page.over))
    return None


def _lift(page: StackContext, action: Lift) -> Refusal | None:
    refusal = _lies(page.s, action.sheet)
    if refusal is None:
        page.emit(SheetLifted(stack=page.id, sheet=action.sheet, over=page.over))
    return refusal


def _lies(s: Stack, sheet: str) -> Refusal | None:
    if any(x.sheet == sheet for x in s.sheets):
        return None
    return Refusal(f"That sheet is not in {s.name}", "name one that does", rule="sheet")


def _change(page: StackContext, action: Changed) -> Refusal | None:
    meant = _meant(page, action)
    if isinstance(meant, Refusal):
        return meant
    at = wall_time(page.now)
    last = {c.index: c for c in meant}
    for c in _before(page, last):
        _pass_by(page, c, None)
    for c in last.values():
        page.emit(ChangeDone(stack=page.id, change=c.index, nth=c.nth, since_ms=_since(page.s),
                             late=at > c.at + page.hours.grace, over=page.over))
    return None


def _skip(page: StackContext, action: SkipChange) -> Refusal | None:
    wrong = why_refused(action.why)
    if wrong is not None or not action.why.strip():
        return Refusal(wrong or "A skipped change needs a reason", "say why", rule="reason")
    meant = _meant(page, action)
    if isinstance(meant, Refusal):
        return meant
    for c in meant:
        _pass_by(page, c, action.why.strip())
    return None


def _pass_by(page: StackContext, c: StackChange, why: str | None) -> None:
    page.emit(ChangeSkipped(stack=page.id, change=c.index, nth=c.nth, since_ms=_since(page.s),
                            why=why, over=page.over))


def _since(s: Stack) -> int:
    return 0 if s.last is None else s.last.wall_ms


def _meant(page: StackContext, action: Changed | SkipChange) -> tuple[StackChange, ...] | Refusal:
    """The change named, or all that are due now."""
    open_ = unanswered_changes(page.s, page.hours)
    if action.index is not None and action.nth is not None:
        named = tuple(c for c in open_ if (c.index, c.nth) == (action.index, action.nth))
        return named or Refusal("That change is not due any more",
                                "look at the list again", rule="change")
    at = wall_time(page.now)
    due = tuple(c for c in open_ if c.at <= at)
    if due:
        return due
    return Refusal(f"No change is due for {page.s.name}",
                   f"next: {open_[0].do}, {open_[0].at:%Y-%m-%d %H:%M}" if open_
                   else "all its changes are done", rule="change")


def _before(page: StackContext, last: Mapping[int, StackChange]) -> tuple[StackChange, ...]:
    """Earlier times of the same lines nobody answered: a later change comes in their place."""
    return tuple(c for c in unanswered_changes(page.s, page.hours) if c.index in last
                 and c.nth < last[c.index].nth)


def _weight(page: StackContext, action: Weight) -> Refusal | None:
    if action.grams is not None and not 0 < action.grams <= MOST_GRAMS:
        return Refusal(f"{action.grams} g is not a weight for boards", "such as 12 kg",
                       rule="count")
    if action.grams == page.s.grams:
        return Refusal("That weight is on it already", "there is nothing to do", rule="already")
    page.emit(StackWeighted(stack=page.id, grams=action.grams, over=page.over))
    return None


def _weigh(page: StackContext, action: Weigh) -> Refusal | None:
    if not (0 < action.mg <= MOST_MG and 0 < action.step_mg <= action.mg):
        return Refusal("That is not the weight of a sheet", "such as 98.4 g", rule="count")
    refusal = _lies(page.s, action.sheet)
    if refusal is None:
        page.emit(SheetWeighed(stack=page.id, sheet=action.sheet, mg=action.mg,
                               step_mg=action.step_mg, over=page.over))
    return refusal


def _take_down(page: StackContext, action: TakeDown) -> Refusal | None:
    page.emit(StackTakenDown(stack=page.id, over=page.over))
    return None


_RULES: Final[dict[type, WordedRule[StackContext]]] = {rule.action: rule for rule in (
    WordedRule(Begin, _begin, "begin stack"),
    WordedRule(Lay, _lay, "lay"),
    WordedRule(Lift, _lift, "lift"),
    WordedRule(Changed, _change, "changed"),
    WordedRule(SkipChange, _skip, "skip change"),
    WordedRule(Weight, _weight, "weight"),
    WordedRule(Weigh, _weigh, "weigh"),
    WordedRule(TakeDown, _take_down, "take down"),
)}
