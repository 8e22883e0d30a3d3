"""What the Studio shows, laid out by place: a pure function of the sessions, packs and moment.

At the press: the open sessions. In the water: packs of damp paper that still
have sheets. Under boards: the sheets laid to dry in the last two weeks. What
earlier days left: facts nobody gave, the rag can, sheets nobody judged, damp paper.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

from benchapp.edition.packs import Pack, Where
from benchapp.events.entry import Moment
from benchapp.events.moments import local_time
from benchapp.session.counting import count_impressions, count_pulled, target_count
from benchapp.session.left import UnansweredFact, unanswered_facts
from benchapp.session.names import step_of
from benchapp.session.next_steps import hands_ready
from benchapp.session.state import Session, StudioState
from benchapp.views.bench import bench_view, do_words
from benchapp.views.clocks import ClockView, at_most, clock_views, time_left
from benchapp.views.day_left import DAYS, Left, count_unjudged, day_of, in_the_can, left_by

#: Where a pack is as long as a clock of it runs.
COUNTED: Final = ("in the water", "resting")


@dataclass(frozen=True, slots=True)
class OpenView:
    """A session at the press."""

    id: str
    name: str
    title: str
    artist: str
    pulled: int
    counting: int
    wanted: int | None
    next: str
    hands: str | None
    left_off: str | None
    here: bool


@dataclass(frozen=True, slots=True)
class PackView:
    """A pack of damp paper.

    Attributes:
        since: When it went in, or when its sheets came out.
        age_ms: How long it has been where it is: in the water, or out of it.
        ready_ms: Until its soak or its rest is over; None where nobody said how long.
        exact: False across a restart: shown with ≈.
        at_most: What could be left at most, where the machine was off meanwhile.
    """

    id: str
    paper: str
    sheets: int | None
    where: Where
    since: Moment
    age_ms: int
    ready_ms: int | None
    too_old: bool
    exact: bool
    open_sheets: int
    at_most: str = ""


@dataclass(frozen=True, slots=True)
class BoardsView:
    """The sheets of one session that were laid to dry.

    Attributes:
        laid: How many were laid and are not spoiled; the stacks know what lies there now.
    """

    session: str
    name: str
    title: str
    laid: int
    days: int
    unjudged: int


@dataclass(frozen=True, slots=True)
class StudioView:
    """The Studio at one moment.

    Attributes:
        unsaid: The facts nobody gave, of whatever day.
        in_can: The sessions whose rags lie in the can; `cans` those of earlier days, asked about.
        unjudged: Of the session closed last, where sheets have no verdict: id, print, how many.
        left_off: The sentence left by the session closed last: id, print, words.
        timers: Clocks that belong to no session.
        yesterday: What days before today left.
    """

    at_press: tuple[OpenView, ...]
    in_water: tuple[PackView, ...]
    under_boards: tuple[BoardsView, ...]
    unsaid: tuple[UnansweredFact, ...]
    cans: tuple[str, ...]
    in_can: tuple[str, ...]
    unjudged: tuple[str, str, int] | None
    left_off: tuple[str, str, str] | None
    timers: tuple[ClockView, ...] = ()
    yesterday: tuple[Left, ...] = ()

    @property
    def counts(self) -> bool:
        """Whether something stands there that is counted by the second."""
        return bool(self.timers) or any(p.where in COUNTED for p in self.in_water)


def of_interest(opened: Iterable[tuple[str, date, bool]], today: date) -> list[str]:
    """Which sessions the Studio needs: open ones, those of two weeks, and the last.

    Args:
        opened: Id, the day it was opened and whether it is closed, in the order opened.
        today: The local date.
    """
    rows = list(opened)
    since = today - timedelta(days=DAYS)
    last = rows[-1][0] if rows else None
    return [id_ for id_, day, closed in rows if not closed or day >= since or id_ == last]


def studio_view(room: StudioState, now: Moment, origin: str | None = None) -> StudioView:
    """The Studio.

    Args:
        room: The sessions of interest and all packs.
        now: The clocks.
        origin: The book's own name: what another book opened is shown, not asked about.
    """
    today, t = local_time(now).date(), room.t_at(now)
    mine = [s for s in room.sessions.values()
            if not s.discarded and (origin is None or s.id.endswith(f"@{origin}"))]
    facts, in_can = unanswered_facts(mine, today), in_the_can(mine)
    cans = tuple(s.id for s in mine if s.id in in_can and day_of(s) < today)
    return StudioView(
        at_press=tuple(_open(room, s, now, s in mine) for s in room.open_sessions),
        in_water=tuple(_pack(room, p, t) for p in room.packs.values() if p.there),
        under_boards=tuple(reversed([
            b for s in room.sessions.values() if (b := _boards(s, today)) is not None])),
        unsaid=facts, cans=cans, in_can=in_can,
        unjudged=_unjudged(mine),
        left_off=_left_off(mine),
        timers=tuple(c for c in clock_views(room, t)
                     if c.id.partition(" ")[2] in room.timers and c.id.startswith("clock ")),
        yesterday=left_by(room, mine, facts, cans, now),
    )


def _open(room: StudioState, s: Session, now: Moment, here: bool) -> OpenView:
    key = s.hand or next(hands_ready(s), None)
    step = None if key is None else step_of(s, key)
    if key is None or step is None:  # only waits are left: what the Bench would show of them
        bench = bench_view(replace(room, bench=s.id), now)
        due, hands = "" if bench is None else bench.now.do, None
    else:
        due, hands = do_words(room, s, key, room.t_at(now)), step.hands
    return OpenView(s.id, s.name, s.recipe.print.title, s.recipe.print.artist, count_pulled(s),
                    count_impressions(s), target_count(s), due, hands, s.left_off, here)


def _pack(room: StudioState, p: Pack, t: int) -> PackView:
    where = p.where(t)
    since, since_t = p.put_in, p.put_in_t
    if p.out is not None and p.out_t is not None:
        since, since_t = p.out, p.out_t
    until = {"in the water": p.soaked_t, "resting": p.ready_t}.get(where)
    return PackView(p.id, p.paper, p.left, where, since, max(0, t - since_t),
                    None if until is None else until - t, p.too_old(t),
                    room.exact(since_t, t), len(p.open),
                    "" if until is None else at_most(time_left(room, since_t, until, t)))


def _boards(s: Session, today: date) -> BoardsView | None:
    laid = [i for i in s.impressions if i.laid]
    days = (today - day_of(s)).days
    if not laid or days > DAYS:
        return None
    good = sum(i.verdict != "spoiled" for i in laid)
    return BoardsView(s.id, s.name, s.recipe.print.title, good, max(0, days), count_unjudged(s))


def _unjudged(sessions: list[Session]) -> tuple[str, str, int] | None:
    """Of the session closed last, where it has such sheets: id, print, how many."""
    closed = [s for s in sessions if s.closed is not None]
    last = closed[-1] if closed else None
    if last is None or not (count := count_unjudged(last)):
        return None
    return last.id, last.recipe.print.title, count


def _left_off(sessions: list[Session]) -> tuple[str, str, str] | None:
    """The sentence left by the session closed last: id, print, words."""
    closed = [s for s in sessions if s.closed is not None]
    if not closed or closed[-1].left_off is None:
        return None
    return closed[-1].id, closed[-1].recipe.print.title, closed[-1].left_off
