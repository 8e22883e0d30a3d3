"""What every talk of the Bench stands on: the session, doing and refusing, a line and a list."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, cast

from textual.screen import Screen

from benchapp.decision import Refusal
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.desk import Desk
from benchapp.screens.pick import Pick
from benchapp.screens.widgets.ask import Ask
from benchapp.session import actions as a
from benchapp.session.state import Session
from benchapp.views.availability import why_not
from benchapp.views.cut_short import cut_by


class Talk(Screen[None]):
    """A screen of one session that asks, does and tells."""

    @property
    def desk(self) -> Desk:
        """The app, by what it does for us."""
        return cast("Desk", self.app)

    @property
    def s(self) -> Session:
        """The session on the Bench."""
        session = self.desk.workshop.room.session
        if session is None:
            raise LookupError("no session is on the Bench")
        return session

    # -- to be done by the Bench -----------------------------------------------------------

    def attempt(self, action: a.Action) -> Refusal | None:
        """Do it and show what came of it; why not, which is not shown."""
        raise NotImplementedError

    def do(self, action: a.Action) -> bool:
        """Do it and show what came of it; whether it was done."""
        refusal = self.attempt(action)
        if refusal is not None:
            self.refuse(refusal)
        return refusal is None

    def message(self, words: SafeText, *, wrong: bool = False) -> None:
        """Show a line."""
        raise NotImplementedError

    def could(self, action: a.Action) -> bool:
        """Whether it would be done; if not, why, before anything is typed for nothing."""
        refusal = why_not(self.desk.workshop.room, action, self.desk.now())
        if refusal is not None:
            self.refuse(refusal)
        return refusal is None

    def refuse(self, refusal: Refusal) -> None:
        """Say why not, and what can be done instead."""
        self.message(sanitize(f"{refusal}"), wrong=True)

    def ask(
        self, title: str, means: Callable[[str], a.Action], *, about: str = "", value: str = "",
        check: Callable[[str], str | None] | None = None, empty: bool = False,
        phrases: Sequence[str] = (), draft: str = "",
    ) -> None:
        """Have a text typed and do what it means; what is refused stays in its line."""
        def do(text: str) -> str | None:
            refusal = self.attempt(means(text))
            return None if refusal is None else str(refusal)

        self.app.push_screen(Ask(sanitize(title), hint=sanitize(about), value=value, check=check,
                                 empty=empty, do=do, phrases=phrases, draft=draft))

    def pick(
        self, title: str, answers: Sequence[tuple[str, Any]], then: Callable[[Any], object],
        *, none: str = "There is nothing to choose now", keys: Sequence[str] | None = None,
    ) -> None:
        """Have one chosen; where there is none, say so. Answers that come and go bring keys."""
        if not answers:
            self.message(sanitize(none), wrong=True)
            return

        def take(place: int | None) -> None:
            if place is not None:
                then(answers[place][1])

        self.app.push_screen(
            Pick(sanitize(title), [sanitize(words) for words, _ in answers], keys=keys), take)

    def ends_early(self, action: a.Action) -> str:
        """What an action would end early, to stand behind its words."""
        cut = cut_by(self.desk.workshop.room, action, self.desk.now())
        return f" ({cut})" if cut else ""

    def _others(self) -> list[tuple[str, str]]:
        room = self.desk.workshop.room
        return [(f"{o.name} · {o.recipe.print.title}", o.id) for o in room.open_sessions
                if o.id != self.s.id]

    def one_of_others(self, title: str, then: Callable[[str], object]) -> None:
        """Which other open session; the only one there is needs no question."""
        others = self._others()
        if len(others) == 1:
            then(others[0][1])
        else:
            self.pick(title, others, then, none="No other session is open",
                       keys=[""] * len(others))
