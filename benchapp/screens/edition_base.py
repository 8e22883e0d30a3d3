"""What the screens of editions and boards share: the register, and doing something in it."""

from __future__ import annotations

from collections.abc import Callable

from textual.app import ComposeResult

from benchapp.book import BookError
from benchapp.decision import Refusal
from benchapp.drying import actions as boards
from benchapp.edition import actions as acts
from benchapp.safe_text import sanitize
from benchapp.screens.page_base import FollowingPage, PageHead
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.rows import Rows
from benchapp.service.editions import EditionService
from benchapp.service.outcome import Outcome


class EditionBase(FollowingPage):
    """A page over the editions of the book."""

    @property
    def editions(self) -> EditionService:
        """The editions and stacks, as the book has them now."""
        return self.workshop.editions

    def act(self, action: acts.Action, *, warned: bool = False) -> Outcome:
        """Do it, and say why not or what is to be known of it; `warned`: that was shown before."""
        return self._told(lambda: self.editions.do(action), warned=warned)

    def act_on_boards(self, action: boards.Action) -> Outcome:
        """The same of a stack."""
        return self._told(lambda: self.editions.on_boards(action))

    def typed(self, action: acts.Action) -> str | None:
        """Do what was typed; why not, for the line it was typed in."""
        return self._refused(lambda: self.editions.do(action))

    def typed_on_boards(self, action: boards.Action) -> str | None:
        """The same of a stack."""
        return self._refused(lambda: self.editions.on_boards(action))

    def _refused(self, job: Callable[[], Outcome]) -> str | None:
        answer = self._done(job)
        if answer.refusal is not None:
            return str(answer.refusal)
        if answer.warnings:
            self.desk.say(sanitize("; ".join(answer.warnings)))
        return None

    def _told(self, job: Callable[[], Outcome], *, warned: bool = False) -> Outcome:
        answer = self._done(job)
        if answer.refusal is not None:
            self.desk.say(sanitize(str(answer.refusal)), severity="warning")
        elif answer.warnings and not warned:
            self.desk.say(sanitize("; ".join(answer.warnings)))
        return answer

    def _done(self, job: Callable[[], Outcome]) -> Outcome:
        if not self.workshop.room.clean and self.workshop.room.open_sessions:
            return Outcome(refusal=Refusal("Hands are inky", "wash first", rule="hands"))
        try:
            return job()
        except BookError as error:
            self.desk.fault = str(error)
            return Outcome(refusal=Refusal("It was not recorded",
                                                 "mend the fault shown above", rule="book"))


class EditionList(EditionBase):
    """A page that is one list, its lines wrapped to the width there is."""

    def compose(self) -> ComposeResult:
        """One list."""
        yield PageHead()
        yield KeyLine(self.foot)
        yield Rows()

    def on_mount(self) -> None:
        """Show it."""
        self.query_one(Rows).focus()
        self.follow()

    def on_resize(self) -> None:
        """Long lines wrap to the width there is."""
        self.again()
