"""The walk at lift and look, as the Bench has it: shown large, said aloud, picked by a tread."""

from __future__ import annotations

from benchapp.book import BookError
from benchapp.book.queries import sessions_of
from benchapp.safe_text import sanitize
from benchapp.screens.desk import Desk
from benchapp.screens.far import Far, first_words
from benchapp.session import actions as a
from benchapp.session.annotate import in_hand
from benchapp.session.state import Session
from benchapp.views.pedal_answers import (
    Walk,
    begin_walk,
    commonest_tags,
    is_still_walking,
    pick_answer,
)


class Walking:
    """One walk at a time; nothing of it is kept but what a tread picked."""

    def __init__(self) -> None:
        """None has begun."""
        self._walk: Walk | None = None
        self._said: tuple[int, str] | None = None
        self._past: tuple[str, tuple[Session, ...]] | None = None

    def tread(self, desk: Desk) -> tuple[bool, a.Action | None]:
        """Take a tread: whether the walk took it, and what it says."""
        room = desk.workshop.room
        t = room.t_at(desk.now())
        if self._walk is not None and is_still_walking(self._walk, room, t):
            tags = () if room.session is None else self._tags(desk, room.session)
            action, self._walk = pick_answer(self._walk, t, tags)
            return True, action
        pace = desk.settings.walk
        self._walk = None if pace is None else begin_walk(room, t, pace.ms)
        return self._walk is not None, None

    def stop(self) -> None:
        """Another key was pressed: whoever has a keyboard needs no walk."""
        self._walk = None

    def shown(self, desk: Desk) -> Far | None:
        """What stands there now, said aloud when it is new; None where nothing walks."""
        room = desk.workshop.room
        t = room.t_at(desk.now())
        if self._walk is None or room.session is None:
            return None
        answer = self._walk.answer(t)
        if answer is None or not is_still_walking(self._walk, room, t):
            self._walk = None
            return None
        new = self._walk.since_t, answer
        if new != self._said:
            self._said = new
            desk.aloud(sanitize(answer))
        sheet = in_hand(room.session)
        mark = "" if sheet is None else sheet.mark or ""
        asked = "Verdict" if self._walk.level == "verdict" else "Tag"
        return Far(first_words(answer), sanitize(answer), "", mark,
                   of=sanitize(f"{asked} of {mark}: the pedal picks {answer}; "
                               "else nothing is recorded"))

    def _tags(self, desk: Desk, s: Session) -> tuple[str, ...]:
        """This print's commonest tags; the days before are read once a session."""
        if self._past is None or self._past[0] != s.id:
            try:
                past = sessions_of(desk.workshop.book, s.recipe.print, but={s.id})
            except BookError:
                past = ()
            self._past = s.id, past
        return commonest_tags(self._past[1], s)
