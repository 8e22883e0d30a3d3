"""What earlier days left, asked first thing: facts nobody gave, and whether the can is empty.

Only a number answers, never a tread; escape leaves the question for the next start.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, Protocol

from benchapp.book.sessions import opened_on
from benchapp.events.entry import Moment
from benchapp.events.moments import local_time
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.day_words import in_words, join_names
from benchapp.screens.desk import Desk
from benchapp.screens.pick import Pick
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.left import UnansweredFact
from benchapp.session.state import Session, StudioState
from benchapp.views.day_left import day_of
from benchapp.views.studio import StudioView, of_interest, studio_view

#: The lines of what yesterday left, beside damp paper: each of one session.
LINES: Final = ("unsaid", "can", "judge", "sentence", "day")


class LooksBack(Protocol):
    """A screen that shows what yesterday left."""

    @property
    def desk(self) -> Desk:
        """The app."""

    def again(self) -> None:
        """Look again."""


def recent_state(workshop: SessionService, now: Moment) -> StudioState:
    """The sessions and packs the Studio is about."""
    rows = workshop.book.sessions()
    today = local_time(now).date()
    return workshop.past(of_interest(((r.id, opened_on(r), r.closed) for r in rows), today))


def first_thing(desk: Desk) -> None:
    """At the start, on whatever screen: ask, unless hands are inky or nothing is to be asked."""
    workshop = desk.workshop
    if not workshop.room.clean or not desk.asking:
        return
    now = workshop.now()
    ask_facts(desk, studio_view(recent_state(workshop, now), now, workshop.book.origin),
              desk.look_again)


def ask_facts(desk: Desk, view: StudioView, then: Callable[[], None]) -> None:
    """Ask one after the other, and call `then` when the last was answered or left.

    Args:
        desk: The app.
        view: What is left.
        then: Called at the end, also where there was nothing to ask.
    """
    def can() -> None:  # an answer just given may have put the rags there
        workshop, now = desk.workshop, desk.workshop.now()
        _can(desk, studio_view(recent_state(workshop, now), now, workshop.book.origin).cans, then)

    _facts(desk, view.unsaid, can)


def open_line(screen: LooksBack, view: StudioView, what: str, id_: str) -> None:
    """Enter on a line of what yesterday left: open what answers it.

    Args:
        screen: The Studio.
        view: What is left.
        what: What kind of line it is.
        id_: Its session or its pack.
    """
    desk = screen.desk
    if what == "unsaid":
        _facts(desk, [x for x in view.unsaid if x.session == id_], screen.again)
    elif what == "can":
        _can(desk, view.cans, screen.again)
    elif what == "judge":
        desk.over("round", session=id_)
    elif what in ("sentence", "day"):
        desk.over("review", session=id_)


def _facts(desk: Desk, left: Sequence[UnansweredFact], then: Callable[[], None]) -> None:
    if not left:
        then()
        return
    first, rest = left[0], left[1:]

    def take(place: int | None) -> None:
        if place is not None:
            fact = first.must[place] if place < len(first.must) else None
            record_fact(desk, a.Must(fact, first.step), first.session)
        _facts(desk, rest, then)

    answers = [*map(sanitize, first.must), SafeText("not known any more")]
    # The last has its own key, which no number of answers before it moves.
    keys = [*("123456789"[i : i + 1] for i in range(len(first.must))), "0"]
    desk.workshop.look_at(first.session)
    day = day_name(desk, first.session, first.name)
    desk.push_screen(Pick(sanitize(f"{first.print}, {day}: {first.do}"), answers,
                          SafeText("This was not recorded that day. How did you leave it?"),
                          later="ask at the next start", by_number=True, keys=keys), take)


def _can(desk: Desk, cans: Sequence[str], then: Callable[[], None]) -> None:
    if not cans:
        then()
        return

    def take(place: int | None) -> None:
        if place is not None:
            empty_can(desk, cans)
        then()

    desk.push_screen(Pick(sanitize(f"Rags went into the can: {_prints(desk, cans)}. "
                                  "Did you empty it?"),
                          [SafeText("emptied")],
                          SafeText("Rags with oil on them can heat and catch fire by themselves; "
                                "fire code and label come first."),
                          later="not yet, ask again", by_number=True), take)


def _prints(desk: Desk, sessions: Sequence[str]) -> str:
    """Whose rags they are, day by day: `Ebb Tide and Tern, Sunday 3 May`."""
    days: dict[str, list[str]] = {}
    for session in sessions:
        desk.workshop.look_at(session)
        s = desk.workshop.room.sessions.get(session)
        if s is not None:
            days.setdefault(day_name(desk, session, s.name), []).append(s.recipe.print.title)
    return "; ".join(f"{join_names(titles)}, {day}" for day, titles in days.items())


def empty_can(desk: Desk, cans: Sequence[str]) -> None:
    """The can was emptied: for every day whose rags lay in it."""
    for session in cans:
        desk.workshop.look_at(session)
        record_fact(desk, a.CanEmptied(), session)


def record_fact(desk: Desk, action: a.Action, session: str) -> None:
    """Say it of a session, closed or open, and tell why not."""
    desk.workshop.look_at(session)
    outcome = desk.do(action, session=session)
    if outcome.refusal is not None:
        desk.say(sanitize(str(outcome.refusal)), severity="warning")


def day_name(desk: Desk, session: str, otherwise: str) -> str:
    """The day of a session in words: `Sunday 3 May`."""
    s: Session | None = desk.workshop.room.sessions.get(session)
    return otherwise if s is None else in_words(day_of(s))
