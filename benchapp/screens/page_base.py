"""What every screen beside the Bench has: a line at the head, keys at the foot, a way back."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar, Final, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal

from benchapp.book import BookError
from benchapp.decision import Refusal
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.bound_keys import foot_keys
from benchapp.screens.desk import Desk
from benchapp.screens.laid_over import GoesOnce
from benchapp.screens.registry import topic_of
from benchapp.screens.widgets.keys import MORE_KEY, KeyLine
from benchapp.screens.widgets.plain_text import Line
from benchapp.service.outcome import Outcome
from benchapp.service.sessions import SessionService

SEARCH_KEY: Final = "f4"
"""Search, from every screen: a key that types nothing, as no letter is free everywhere."""

#: From so many columns on, two things stand side by side.
WIDE: Final = 110


class PageHead(Horizontal):
    """The line at the head: where we are, and at the right what belongs to it."""

    DEFAULT_CSS = """
    PageHead { dock: top; height: 1; background: $panel; padding: 0 1; }
    PageHead #where { text-style: bold; color: $foreground; }
    PageHead #beside { width: auto; color: $quiet; }
    """

    def __init__(self) -> None:
        """Two texts, which can be set before they are on the screen and after they left it."""
        super().__init__()
        self._where, self._beside = Line(id="where"), Line(id="beside")

    def compose(self) -> ComposeResult:
        """Beside each other."""
        yield self._where
        yield self._beside

    def set(self, where: SafeText, beside: SafeText = SafeText("")) -> None:  # noqa: B008 - immutable
        """Show others."""
        self._where.set(where)
        self._beside.set(beside)


class PageBase(GoesOnce[None]):
    """A screen that lies on top of another, or is the Studio."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "back"),
        Binding("question_mark", "help", "help"),
        Binding(SEARCH_KEY, "search", "search", show=False),
        Binding(MORE_KEY, "more_keys", "more keys", show=False),
    ]

    @property
    def desk(self) -> Desk:
        """The app, by what it does for us."""
        return cast("Desk", self.app)

    @property
    def workshop(self) -> SessionService:
        """The book at work."""
        return self.desk.workshop

    @property
    def foot(self) -> tuple[tuple[str, str], ...]:
        """The keys at the foot, as they are bound."""
        return foot_keys(type(self))

    def action_back(self) -> None:
        """Back to where we came from."""
        self.dismiss(None)

    def action_help(self) -> None:
        """The help topic of this screen."""
        self.desk.over("help", topic=topic_of(self))

    def action_more_keys(self) -> None:
        """The keys at the foot that did not fit."""
        self.query_one(KeyLine).turn()

    def action_search(self) -> None:
        """Search everything that was written down."""
        self.desk.over("search")

    def done(self, job: Callable[[], Outcome]) -> Outcome:
        """Do something through the workshop that is no action of the bench."""
        try:
            return job()
        except BookError as error:
            self.desk.fault = str(error)
            return Outcome(refusal=Refusal("It was not recorded", "mend the fault shown above"))

    def attempt(self, job: Callable[[], Outcome]) -> Outcome:
        """The same, and say what failed."""
        outcome = self.done(job)
        self.tell(outcome)
        return outcome

    def tell(self, outcome: Outcome, done: str = "") -> None:
        """Say why not, or what was done."""
        if outcome.refusal is not None:
            self.desk.say(sanitize(str(outcome.refusal)), severity="warning")
        elif done:
            self.desk.say(self.desk.done(done))


class FollowingPage(PageBase):
    """A page that shows how things stand, and looks anew only where something went on."""

    def __init__(self) -> None:
        """Nothing is read before it is shown."""
        super().__init__()
        #: What stood when it was last shown; None: whatever stands is shown anew.
        self._shown: object = None

    def follow(self) -> None:
        """Show how things stand, where that is not what was shown last."""
        raise NotImplementedError

    def again(self) -> None:
        """Look anew, though neither time nor the book went on."""
        self._shown = None
        if self.is_mounted:
            self.follow()
