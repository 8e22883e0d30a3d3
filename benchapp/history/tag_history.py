"""What was changed after a sheet had a tag, and whether the next sheet had it still. Pure.

Only what the printer recorded is known: settings, packs, reworked plates. That a tag went after a
change proves nothing, and is told as what happened.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchapp.session.state import NOT_KNOWN, Impression, Session
from benchapp.session.weighing import is_weighing

#: So many of the last times are told.
LAST: Final = 3


@dataclass(frozen=True, slots=True)
class AfterTag:
    """One time that a tag was given, and the sheet after it.

    Attributes:
        session / mark: The sheet that had it.
        next_session / next_mark: The sheet pulled next; None: none was yet.
        changed: What was recorded as changed between the two, in words.
        went: Whether the next one did not have it; None: nobody looked at that one.
    """

    session: str
    mark: str
    next_session: str | None
    next_mark: str | None
    changed: tuple[str, ...]
    went: bool | None


def after_tag(sessions: Sequence[Session], tag: str) -> tuple[AfterTag, ...]:
    """The last times a tag was given on days of one print, newest first.

    Args:
        sessions: Of the print, folded, in the order opened.
        tag: The tag.
    """
    sheets = [(s, i) for s in sessions for i in sorted(
        (x for x in s.impressions if x.number is not None), key=lambda x: x.number or 0)]
    found = [_after(s, i, sheets[n + 1] if n + 1 < len(sheets) else None, tag)
             for n, (s, i) in enumerate(sheets) if tag in i.tags]
    return tuple(reversed(found[-LAST:]))


def _after(s: Session, i: Impression, then: tuple[Session, Impression] | None,
           tag: str) -> AfterTag:
    if then is None:
        return AfterTag(s.name, i.mark or "", None, None, (), None)
    next_s, j = then
    looked = bool(j.verdict or j.tags or j.notes)
    return AfterTag(s.name, i.mark or "", next_s.name, j.mark or "",
                    tuple(_changes(s, i, next_s, j)), tag not in j.tags if looked else None)


def _changes(s: Session, i: Impression, next_s: Session, j: Impression) -> Iterator[str]:
    before, after = _in_force(s, i), _in_force(next_s, j)
    for name, value in after.items():
        was = before.get(name)
        if was is not None and was != value:
            yield f"{name} {was} to {value}"
    if s.id == next_s.id and j.sheets and j.sheets != i.sheets:
        yield "a sheet of another pack"
    since = 0 if i.pulled_at is None else i.pulled_at.wall_ms
    until = None if j.pulled_at is None else j.pulled_at.wall_ms
    for day in (s,) if s.id == next_s.id else (s, next_s):
        for plate, _, what, moment in day.reworks:
            if since < moment.wall_ms and (until is None or moment.wall_ms <= until):
                yield f"{plate} reworked: {what}" if what else f"{plate} reworked"


def _in_force(s: Session, i: Impression) -> dict[str, str]:
    """The settings that were in force when a sheet was pulled; a weighing is none."""
    last = {x.name: x.value for x in s.settings
            if x.since <= (i.number or 0) and not is_weighing(x.name)}
    return {name: value for name, value in last.items() if value != NOT_KNOWN}


def after_words(x: AfterTag) -> str:
    """`D4 on 2026-05-03: left side 3 turns to 3.25 turns; D5 did not have it`."""
    done = "; ".join(x.changed) or "nothing recorded as changed"
    if x.next_mark is None:
        return f"{x.mark} on {x.session}: no sheet was pulled after it yet"
    day = "" if x.next_session == x.session else f" on {x.next_session}"
    then = {True: "did not have it", False: "had it again",
            None: "was not looked at"}[x.went]
    return f"{x.mark} on {x.session}: {done}; {x.next_mark}{day} {then}"
