"""When the boards call: gently, once at the hour and once more when it is late. Pure.

Blotters wait an hour better than a wiped plate waits a minute. So a change calls when its
hour comes, once more when its grace is over, and not again; what fell due while nobody
was there calls once when somebody is. In the silent hours nothing does: it waits for
their end.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from benchapp.drying.dryness import USUAL, Hours, StackChange
from benchapp.drying.stacks import Stack, unanswered_changes

#: So many names of stacks are said; of more their count.
_FEW = 2


@dataclass(frozen=True, slots=True)
class BoardCall:
    """One call, for all stacks that want something at that hour.

    Attributes:
        id: The same at every look until it is answered, and never another call's.
        at: When it sounds, by the clock on the wall; past: as soon as may be.
        words: What is said.
    """

    id: str
    at: datetime
    words: str


def board_calls(stacks: Iterable[Stack], now: datetime, hours: Hours = USUAL
                ) -> tuple[BoardCall, ...]:
    """What the boards will call for, or call for now, the earliest first.

    Args:
        stacks: Taken down and empty ones want nothing.
        now: The time on the wall, without its offset.
        hours: The printer's hours.
    """
    calling: dict[tuple[datetime, str], list[tuple[Stack, StackChange]]] = {}
    for s in stacks:
        if s.down is None and s.sheets:
            for c in unanswered_changes(s, hours):
                late = now > c.at + hours.grace
                about = (c.at + hours.grace, "late") if late else (c.at, "due")
                calling.setdefault(about, []).append((s, c))
    gone = [k for k in calling if k[0] <= now]
    out = [BoardCall(f"{word} {at.isoformat(timespec='minutes')}", after_silent_hours(at, hours),
                     _words(calling[at, word], word))
           for at, word in sorted(calling) if at > now]
    if gone:
        # Whatever waits already is one call, that of the last hour: who comes back after a
        # week is not called seven times.
        at, word = max(gone)
        waits = [x for k in gone for x in calling[k]]
        first = BoardCall(f"{word} {at.isoformat(timespec='minutes')}",
                          after_silent_hours(max(at, now), hours),
                          _words(waits, word))
        return first, *out
    return tuple(out)


def after_silent_hours(at: datetime, hours: Hours) -> datetime:
    """The first moment from `at` on that is not in the silent hours."""
    if not hours.silent(at):
        return at
    end = datetime.combine(at.date(), hours.silent_until)
    try:
        return end if end > at else end + timedelta(days=1)
    except OverflowError:
        return datetime.combine(date.max, hours.silent_until)


def _words(wants: list[tuple[Stack, StackChange]], word: str) -> str:
    do = list(dict.fromkeys(c.do for _, c in wants))
    names = list(dict.fromkeys(s.name for s, _ in wants))
    what = do[0] if len(do) == 1 else f"{len(do)} things to do"
    where = ", ".join(names) if len(names) <= _FEW else f"{len(names)} stacks"
    return f"Under boards{', late' if word == 'late' else ''}: {what}. {where}"
