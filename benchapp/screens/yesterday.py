"""What earlier days left, asked first thing: facts nobody gave, and whether the can is empty.

Only a number answers, never a tread; escape leaves the question for the next start.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from benchapp.book.sessions import opened_on
from benchapp.journal import Moment
from benchapp.moments import local
from benchapp.screens.pick import Pick
from benchapp.session import actions as a
from benchapp.session.left import Unsaid
from benchapp.session.state import Room, Session
from benchapp.session.studio import StudioView, of_interest, studio_view
from benchapp.shown import Shown, visible
from benchapp.workshop import Workshop

if TYPE_CHECKING:
    from benchapp.screens.app import Benchapp


def recent(workshop: Workshop, now: Moment) -> Room:
    """The sessions and packs the Studio is about."""
    rows = workshop.book.sessions()
    today = local(now).date()
    return workshop.past(of_interest(((r.id, opened_on(r), r.closed) for r in rows), today))


def first_thing(desk: Benchapp) -> None:
    """At the start, on whatever screen: ask, unless hands are inky or nothing is to be asked."""
    workshop = desk.workshop
    if not workshop.room.clean or not desk.asking:
        return
    now = workshop.now()
    ask(desk, studio_view(recent(workshop, now), now, workshop.book.origin), desk.look_again)


def ask(desk: Benchapp, view: StudioView, then: Callable[[], None]) -> None:
    """Ask one after the other, and call `then` when the last was answered or left.

    Args:
        desk: The app.
        view: What is left.
        then: Called at the end, also where there was nothing to ask.
    """
    _facts(desk, view.unsaid, lambda: _can(desk, view.cans, then))


def _facts(desk: Benchapp, left: Sequence[Unsaid], then: Callable[[], None]) -> None:
    if not left:
        then()
        return
    first, rest = left[0], left[1:]

    def take(place: int | None) -> None:
        if place is not None:
            fact = first.must[place] if place < len(first.must) else None
            say(desk, a.Must(fact, first.step), first.session)
        _facts(desk, rest, then)

    answers = [*map(visible, first.must), Shown("not known any more")]
    desk.workshop.look_at(first.session)
    day = day_words(desk, first.session, first.name)
    desk.push_screen(Pick(visible(f"{_print(desk, first.session)}{day}: {first.do}"), answers,
                          Shown("Nobody said so on the day. How was it left?"),
                          later="ask at the next start", by_number=True), take)


def _print(desk: Benchapp, session: str) -> str:
    """The print of a session, to begin a question with: `Pear on a Sill, `; empty: not known."""
    s: Session | None = desk.workshop.room.sessions.get(session)
    return "" if s is None else f"{s.recipe.print.title}, "


def _can(desk: Benchapp, cans: Sequence[str], then: Callable[[], None]) -> None:
    if not cans:
        then()
        return

    def take(place: int | None) -> None:
        if place is not None:
            emptied(desk, cans)
        then()

    desk.workshop.look_at(cans[-1])
    day = day_words(desk, cans[-1], cans[-1])
    desk.push_screen(Pick(visible(f"The rags of {day} went into the can. Was it emptied?"),
                          [Shown("emptied")],
                          Shown("Rags with oil on them can heat and catch fire by themselves; "
                                "fire code and label come first."),
                          later="not yet, ask again", by_number=True), take)


def emptied(desk: Benchapp, cans: Sequence[str]) -> None:
    """The can was emptied: for every day whose rags lay in it."""
    for session in cans:
        desk.workshop.look_at(session)
        say(desk, a.CanEmptied(), session)


def say(desk: Benchapp, action: a.Action, session: str) -> None:
    """Say it of a session, closed or open, and tell why not."""
    desk.workshop.look_at(session)
    outcome = desk.do(action, session=session)
    if outcome.refusal is not None:
        desk.say(visible(str(outcome.refusal)), severity="warning")


def day_words(desk: Benchapp, session: str, otherwise: str) -> str:
    """The day of a session in words: `Sunday 3 May`."""
    s: Session | None = desk.workshop.room.sessions.get(session)
    return otherwise if s is None else day_of(s.closed or s.opened)


def day_of(at: Moment) -> str:
    """A day in words."""
    day = local(at)
    return f"{day:%A} {day.day} {day:%B}"
