"""A stack of prints drying under boards."""

from __future__ import annotations

from benchapp.events.event import ActionTakenBack, BookEvent, event
from benchapp.events.field_types import Amount, Changes, Count, Place, WallTime


class StackEvent(BookEvent):
    """What happened to a stack.

    Attributes:
        stack: Its id.
    """

    stack: str


@event("stack", "begun")
class StackBegun(StackEvent):
    """A stack was begun, with its list of changes."""

    stack: str
    name: str
    drying: Changes


@event("stack", "laid")
class SheetLaid(StackEvent):
    """A sheet was laid on top; over: the last entry of every other book about the stack."""

    stack: str
    sheet: str
    mark: str
    over: tuple[str, ...]


@event("stack", "lifted")
class SheetLifted(StackEvent):
    """A sheet was taken out of the stack."""

    stack: str
    sheet: str
    over: tuple[str, ...]


@event("stack", "change done")
class ChangeDone(StackEvent):
    """A change was done; late: after its grace."""

    stack: str
    change: Place
    nth: Count
    since_ms: WallTime
    late: bool
    over: tuple[str, ...]


@event("stack", "change skipped")
class ChangeSkipped(StackEvent):
    """A change was passed by; why null: the next one came first."""

    stack: str
    change: Place
    nth: Count
    since_ms: WallTime
    why: str | None
    over: tuple[str, ...]


@event("stack", "weighted")
class StackWeighted(StackEvent):
    """So much lies on the boards; null: nothing."""

    stack: str
    grams: Amount | None
    over: tuple[str, ...]


@event("stack", "weighed")
class SheetWeighed(StackEvent):
    """A control sheet was weighed, by a scale with that step."""

    stack: str
    sheet: str
    mg: Amount
    step_mg: Amount
    over: tuple[str, ...]


@event("stack", "taken down")
class StackTakenDown(StackEvent):
    """Nothing lies under these boards any more."""

    stack: str
    over: tuple[str, ...]


@event("stack", "taken back")
class StackActionTakenBack(StackEvent, ActionTakenBack):
    """That action never counted."""

    stack: str
    action: str
    over: tuple[str, ...]
