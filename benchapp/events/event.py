"""What an event is: a frozen dataclass with the stream and the name it is stored under. Pure.

The class is the one place where a kind of entry is described. Its docstring says what happened,
its fields what may stand in them; the registry, the checks and JSON both ways are read from it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import MISSING, FrozenInstanceError, dataclass, field, fields
from typing import (
    Any,
    ClassVar,
    Final,
    Protocol,
    Self,
    TypeVar,
    dataclass_transform,
    get_type_hints,
)

from benchapp.events.field_types import ABSENT, Rule, rule_of

_STORED: Final = "stored"
E = TypeVar("E", bound="BookEvent")


@dataclass(frozen=True, slots=True)
class StoredField:
    """A field as it is stored.

    Attributes:
        name: The name in the class.
        stored: The name in JSON.
        optional: An entry may lack it.
    """

    name: str
    stored: str
    optional: bool


class Told(Protocol):
    """What tells of an event: an entry, which knows this module."""

    @property
    def stream(self) -> str:
        """The stream it is in."""

    @property
    def kind(self) -> str:
        """Its name there."""

    @property
    def event(self) -> BookEvent:
        """What happened."""


class BookEvent:
    """Something that happened, as the book tells it.

    Events share one constructor, comparison and text: made for each of a hundred classes, as
    `dataclass` makes them, they took 60 ms of every start.

    Attributes:
        stored_stream: The family of streams it is stored in.
        stored_kind: The name it is stored under. A class may be renamed, this may not.
        stored_fields: Its fields, in their order.
    """

    stored_stream: ClassVar[str]
    stored_kind: ClassVar[str]
    stored_fields: ClassVar[tuple[StoredField, ...]] = ()

    def __init__(self, **values: Any) -> None:
        known = self.stored_fields
        missing = {f.name for f in known if not f.optional} - values.keys()
        if wrong := missing | (values.keys() - {f.name for f in known}):
            told = ", ".join(sorted(wrong))
            raise TypeError(f"{type(self).__name__}: missing or unknown: {told}")
        self.__dict__.update(values)

    def __setattr__(self, name: str, value: object) -> None:
        raise FrozenInstanceError(f"cannot assign to field {name!r}")

    def __delattr__(self, name: str) -> None:
        raise FrozenInstanceError(f"cannot delete field {name!r}")

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and self.to_body() == other.to_body()

    def __hash__(self) -> int:
        return hash((self.stored_stream, self.stored_kind, repr(self)))

    def __repr__(self) -> str:
        values = (f"{f.name}={self.__dict__.get(f.name, ABSENT)!r}" for f in self.stored_fields)
        return f"{type(self).__name__}({', '.join(values)})"

    @classmethod
    def from_entry(cls, entry: Told) -> Self:
        """The event of an entry that is known to be of this class.

        Raises:
            TypeError: It is of another.
        """
        event = entry.event
        if type(event) is not cls:
            raise TypeError(f"{entry.stream}: {entry.kind} is not a {cls.__name__}")
        return event

    @classmethod
    def from_body(cls, body: Mapping[str, Any]) -> Self:
        """The event from the JSON values of its entry, which were checked when it was taken in.

        A book from before a field was thought of lacks it, and is read all the same: only who
        asks for that field is refused, with an AttributeError.
        """
        made = object.__new__(cls)
        held = made.__dict__
        for f in cls.stored_fields:
            value = body.get(f.stored, ABSENT)
            if value is not ABSENT:
                held[f.name] = tuple(value) if type(value) is list else value
        return made

    def to_body(self) -> dict[str, Any]:
        """Its JSON values by their stored names; absent fields stay absent."""
        return {f.stored: list(value) if type(value) is tuple else value
                for f in self.stored_fields
                if (value := self.__dict__.get(f.name, ABSENT)) is not ABSENT}


class UnknownEvent(BookEvent):
    """What a later benchapp wrote, of a kind this one does not know: it tells nothing here."""


class ActionTakenBack(BookEvent):
    """An action that never counted, with all it caused in that stream.

    Attributes:
        action: The id of its first entry.
    """

    action: str


def over_of(event: BookEvent) -> tuple[str, ...] | None:
    """The entries an event is written over; None: it is from before events named any."""
    over = event.__dict__.get("over", ABSENT)
    return None if over is ABSENT else over


def stored(name: str, *, default: Any = MISSING) -> Any:
    """A field that is stored under another name: one that Python keeps for itself.

    Args:
        name: The name in JSON.
        default: `ABSENT` where an entry may lack it.
    """
    return field(default=default, metadata={_STORED: name})


@dataclass_transform(kw_only_default=True, frozen_default=True,
                     field_specifiers=(field, stored))
def event(stream: str, kind: str) -> Callable[[type[E]], type[E]]:
    """Make a class an event that is stored in streams of that family under that name."""

    def made(cls: type[E]) -> type[E]:
        dataclass(init=False, repr=False, eq=False, match_args=False, kw_only=True)(cls)
        cls.stored_stream, cls.stored_kind = stream, kind
        cls.stored_fields = tuple(
            StoredField(f.name, f.metadata.get(_STORED, f.name), f.default is ABSENT)
            for f in fields(cls))  # type: ignore[arg-type]  # it was made one just now
        return cls

    return made


def rules_of(cls: type[BookEvent]) -> Mapping[str, Rule]:
    """What the fields of an event's class may hold, by their stored names.

    Raises:
        TypeError: A field has a type that gives no rule.
    """
    hints = get_type_hints(cls, include_extras=True)
    return {f.stored: rule_of(hints[f.name]) for f in cls.stored_fields}

