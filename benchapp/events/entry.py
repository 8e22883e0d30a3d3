"""What an entry is: the one thing that every room writes and reads.

An entry is a fact that happened, appended and never changed. This module knows
nothing but the shape of entries and the one registry of their kinds; what an
entry *means* is said by the room that folds it. Pure: no clock, no file.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from benchapp.events.event import BookEvent, UnknownEvent
from benchapp.events.kinds import KINDS
from benchapp.events.streams import stream_family

Body = Mapping[str, Any]

#: Stands for the action being decided, which has no id yet, and begins those of its drafts.
PENDING: Final = "?"


@dataclass(frozen=True, slots=True)
class Moment:
    """One reading of every clock the machine has, taken together.

    Attributes:
        wall_ms: Wall time, milliseconds since 1970 UTC. May jump.
        offset_min: Offset of local time from UTC at that moment, minutes.
        boot_ns: A clock that goes on while the machine sleeps, nanoseconds.
        boot_id: Names the boot `boot_ns` belongs to; two readings compare
            exactly only inside one boot.
        mono_ns: A clock that stands still while the machine sleeps.
    """

    wall_ms: int
    offset_min: int
    boot_ns: int
    boot_id: str
    mono_ns: int


def read_event(stream: str, kind: str, body: Body) -> BookEvent:
    """What an entry of that kind, in that stream, tells by its body."""
    known = KINDS.get((stream_family(stream), kind))
    return UnknownEvent() if known is None else known.event.from_body(body)


class _WithEvent:
    """What tells of an event in its stream, by kind and body.

    The event is kept once it is read; it is no field, so nothing writes or compares it.
    """

    __slots__ = ("_event",)

    stream: str
    kind: str
    body: Body
    _event: BookEvent

    @property
    def event(self) -> BookEvent:
        """What happened, typed; read from the body the first time it is asked for."""
        try:
            return self._event
        except AttributeError:
            event = read_event(self.stream, self.kind, self.body)
            object.__setattr__(self, "_event", event)
            return event


@dataclass(frozen=True, slots=True)
class Draft(_WithEvent):
    """An entry as a decider proposes it: not yet timed, numbered or on disk."""

    stream: str
    kind: str
    body: Body

    @classmethod
    def of(cls, stream: str, event: BookEvent) -> Draft:
        """The draft of an event in that stream."""
        draft = cls(stream, event.stored_kind, event.to_body())
        object.__setattr__(draft, "_event", event)
        return draft

    def pending(self, at: Moment, word: str = "", place: int | None = None) -> Entry:
        """The entry it would become, to be folded before it is in the book.

        Args:
            at: When it is decided.
            word: The word of its action.
            place: Which draft of its action it is, from 1, where its id must differ from others'.
        """
        id = PENDING if place is None else f"{PENDING}{place}"
        entry = Entry(id, self.stream, 0, PENDING, word, self.kind, at, self.body)
        if hasattr(self, "_event"):
            object.__setattr__(entry, "_event", self._event)
        return entry


@dataclass(frozen=True, slots=True)
class Entry(_WithEvent):
    """One entry of the book, as it lies on disk.

    Attributes:
        id: Unique for ever: the origin of the book and its sequence there.
        stream: The thing it belongs to, e.g. `session/2026-05-03`, `pack/7`.
        position: 1, 2, 3 … within its stream, without a gap.
        action: Id of the first entry of the action that caused this one.
        word: The word of that action, as the registry of actions has it.
        kind: Past tense, one of `KINDS`.
        at: The clocks when it was decided.
        body: Its fields, plain JSON values.
        sha256: Hex digest over the entry before it in the stream and this one.
    """

    id: str
    stream: str
    position: int
    action: str
    word: str
    kind: str
    at: Moment
    body: Body
    sha256: str = ""


def canonical_json(value: object) -> str:
    """JSON with one spelling for one value, so that a digest means something."""
    return json.dumps(value, allow_nan=False, ensure_ascii=False, sort_keys=True,
                      separators=(",", ":"))


def entry_digest(before: str, entry: Entry) -> str:
    """SHA-256 of `entry` over `before`, the digest of the entry before it in its stream.

    `before` is the empty string for the first entry of a stream.
    """
    at = entry.at
    text = canonical_json([before, entry.id, entry.stream, entry.position, entry.action, entry.word,
                           entry.kind, at.wall_ms, at.offset_min, at.boot_ns, at.boot_id,
                           at.mono_ns,
                           dict(entry.body)])
    return hashlib.sha256(text.encode("utf-8")).hexdigest()
