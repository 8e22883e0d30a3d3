"""What the last day left for the morning, thing by thing: pure.

A fact nobody gave, rags in the can, sheets nobody judged, the sentence left
off, damp paper; a closed day that left none of these stands there by itself.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final, Literal

from benchapp.edition.packs import Pack
from benchapp.events.entry import Moment
from benchapp.events.moments import local_time
from benchapp.quantities import items_text
from benchapp.session.counting import count_pulled
from benchapp.session.left import UnansweredFact
from benchapp.session.names import step_of
from benchapp.session.state import Session, StudioState, TaskKey

#: How far back a day is still the last day, and its sheets lie under boards: by then they are
#: dry enough to sign (common practice, no source).
DAYS: Final = 14
_CAN: Final = re.compile(r"\bcan\b", re.IGNORECASE)
_EMPTY: Final = re.compile(r"\bempt(?:y|ied)\b", re.IGNORECASE)

What = Literal["unsaid", "can", "judge", "sentence", "damp", "day"]


@dataclass(frozen=True, slots=True)
class Left:
    """One thing a day left.

    Attributes:
        what: What kind of thing it is.
        id: The id of its session; of damp paper that of its pack.
        print: The title of the print it belongs to; `Damp paper` where it was damped for none.
        day: The day it is of.
        words: What is left, in words.
    """

    what: What
    id: str
    print: str
    day: date
    words: str


def day_of(s: Session) -> date:
    """The day a session belongs to: on which it closed, or was opened while it is open."""
    return local_time(s.closed or s.opened).date()


def count_unjudged(s: Session) -> int:
    """How many sheets of a session have no verdict."""
    return sum(1 for i in s.impressions if i.pulled and i.verdict is None)


def left_by(room: StudioState, mine: Sequence[Session], unsaid: Sequence[UnansweredFact],
            cans: Collection[str], now: Moment) -> tuple[Left, ...]:
    """What days before today left, session by session, then damp paper.

    Args:
        room: The sessions and packs.
        mine: The sessions of this book, in the order opened.
        unsaid: The facts nobody gave.
        cans: The sessions whose rags lie in the can.
        now: The clocks.
    """
    today, t = local_time(now).date(), room.t_at(now)
    days = {s.id: day_of(s) for s in mine}
    last = max((d for s in mine if s.closed is not None
                and today - timedelta(days=DAYS) <= (d := days[s.id]) < today), default=None)
    seen = Counter((s.recipe.print.title, days[s.id]) for s in mine)
    out = []
    for s in mine:
        if days[s.id] < today:
            title = s.recipe.print.title
            title = title if seen[title, days[s.id]] == 1 else f"{title} {s.name}"
            out += [Left(what, s.id, title, days[s.id], words)
                    for what, words in _of(s, unsaid, cans, last=days[s.id] == last)]
    return (*out, *(_damp(room, p, t) for p in room.packs.values()
                    if p.there and local_time(p.put_in).date() < today))


def _of(s: Session, unsaid: Sequence[UnansweredFact], cans: Collection[str], *,
        last: bool) -> Iterable[tuple[What, str]]:
    """What one session left; `last`: it is of the last day, which is shown whatever it left."""
    out: list[tuple[What, str]] = []
    facts = ", ".join(dict.fromkeys(x.do for x in unsaid if x.session == s.id))
    if facts:
        out.append(("unsaid", f"not said: {facts}"))
    if s.id in cans:
        out.append(("can", "rag can emptied?"))
    if last and s.closed is not None:
        count = count_unjudged(s)
        if count:
            out.append(("judge", f"{items_text(count, 'sheet')} not judged"))
        if s.left_off is not None:
            out.append(("sentence", f"left off: “{s.left_off}”"))
        if not out:
            out.append(("day", f"{count_pulled(s)} pulled"))
    return out


def _damp(room: StudioState, p: Pack, t: int) -> Left:
    by = None if p.by is None else room.sessions.get(p.by)
    sheets = "sheets" if p.left is None else items_text(p.left, "sheet")
    where = "in the water" if p.where(t) == "in the water" else "still damp"
    title, of = ("Damp paper", f", {p.paper}") if by is None else (by.recipe.print.title, "")
    return Left("damp", p.id, title, local_time(p.put_in).date(), f"{sheets} {where}{of}")


# -- the rag can -----------------------------------------------------------------------------


def in_the_can(mine: Sequence[Session]) -> tuple[str, ...]:
    """The sessions whose rags went into a can that nobody emptied since.

    There is one can: who empties it empties it of the rags of every session before.
    """
    emptied = max((s.can_emptied.wall_ms for s in mine if s.can_emptied is not None), default=None)
    return tuple(s.id for s in mine if (at := _rags_in(s)) is not None
                 and (emptied is None or emptied < at))


def _rags_in(s: Session) -> int | None:
    """When its rags went into a can, wall ms; None: they did not, or nobody said so.

    The answers are the recipe's own words. A fact given later is still of its day.
    """
    times = [s.musts_at[owner, own].wall_ms for (owner, own), facts in s.musts.items()
             if owner == s.id and _is_can(s, own, facts[-1])]
    if not times:
        return None
    return max(times) if s.closed is None else min(max(times), s.closed.wall_ms)


def _is_can(s: Session, step_id: str, fact: str | None) -> bool:
    step = step_of(s, TaskKey(step_id))
    return (fact is not None and step is not None and step.section == "after"
            and _CAN.search(fact) is not None and _EMPTY.search(fact) is None)
