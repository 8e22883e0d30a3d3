"""The Plan: a day round the hands before it begins, how many fit and how surely; what if, by key.

What takes time is reckoned beside the screen. A key that asks for another day
is shown at once, the plan of it as soon as it is there; of several keys only the last counts.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.worker import Worker

from benchapp.events.moments import local_time
from benchapp.files import breaks_kept, file_slug, guess_kept
from benchapp.planning.planned_day import PlannedDay
from benchapp.planning.question import DayQuestion, plan_asked_day
from benchapp.planning.times import ASK, TimedRecipe, missing_words
from benchapp.recipe.model import Recipe
from benchapp.reports.plan_text import plan_sentence
from benchapp.reports.press_page import press_page
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens import plan_window as w
from benchapp.screens.background import in_background
from benchapp.screens.page_base import PageHead
from benchapp.screens.page_writing import Page, WritesPage
from benchapp.screens.plan_asking import plan_questions
from benchapp.screens.plan_begin import begin_session, take_over
from benchapp.screens.plan_calendar import write_calendar
from benchapp.screens.plan_known import Knowing
from benchapp.screens.plan_parts import first_line, plan_rows
from benchapp.screens.widgets.ask import Ask
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Rows, wrap_rows

#: Of a day that has begun less can be asked.
_NOT_OF_REST: Final = frozenset("ftadc")
_REST_ONLY: Final = frozenset({"from", "day", "pack", "evening"})
_NOBODY: Final = "No session is on the Bench: choose a recipe in the Studio."
#: Plans kept, so that going back is at once.
_KEPT: Final = 12
_PLANNING: Final = SafeText("planning …")
_UNASKED: Final = SafeText("Say how many you want, or when the day must be over.")
_GUESS: Final = (f"{ASK} Press e and write a guess, such as 40 min. The plan is marked as a guess "
                 "until the recipe or your own days have the times.")


class PlanScreen(WritesPage):
    """One print's day: rows over the clock, pack times, chances, and what would change them."""

    CSS = """
    PlanScreen #sentence { text-style: bold; padding: 0 1; }
    PlanScreen #sentence.waiting { text-style: none; color: $quiet; }
    PlanScreen #asked { color: $quiet; padding: 0 1; }
    PlanScreen Rows { padding: 0 1; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("w", "change('wanted')", "wanted"),
        Binding("plus", "change('more')", "one more, fewer", tooltip="one more"),
        Binding("minus", "change('fewer')", "one more, fewer", tooltip="one fewer"),
        Binding("left", "change('earlier')", "shift the break", tooltip="the break earlier"),
        Binding("right", "change('later')", "shift the break", tooltip="the break later"),
        Binding("k", "change('breaks')", "breaks"),
        Binding("f", "change('from')", "from"),
        Binding("u", "change('until')", "until"),
        Binding("t", "change('day')", "another day"),
        Binding("a", "change('pack')", "pack size"),
        Binding("h", "change('helper')", "helper"),
        Binding("d", "change('evening')", "damped before"),
        Binding("e", "change('each')", "time a print"),
        Binding("0", "change('first')", "as at first"),
        Binding("s", "begin", "begin", tooltip="begin, or go by it"),
        Binding("c", "calendar", "calendar"),
    ]

    def __init__(self, recipe: Recipe | None = None, called: str = "", text: str = "", *,
                 session: str = "", wanted: int | None = None, evening: bool = False,
                 each_ms: int | None = None,
                 made: tuple[DayQuestion, PlannedDay] | None = None) -> None:
        """Plan the day of a print.

        Args:
            recipe: The print's; None: what is left of the day of a session.
            called: What the recipe is called, to begin the day from.
            text: Its text, likewise.
            session: Which session's rest of the day; empty: of the one on the Bench.
            wanted: How many should count, where that is known already.
            evening: Tomorrow, with a pack damped this evening.
            each_ms: How long one print takes, where that was guessed.
            made: A day that is planned already, and its plan.
        """
        super().__init__()
        self._recipe, self._called, self._text = recipe, called, text
        self._first_wanted, self._evening, self._session = wanted, evening, session
        self._first_guess = each_ms
        self._seen: tuple[int, int] | None = None
        self._by_key = False
        self._asked: DayQuestion | None = None
        self._first: DayQuestion | None = None
        self._told: PlannedDay | None = None
        self._told_for: DayQuestion | None = None
        self._before = ""
        self._timed: TimedRecipe | None = None
        self._guess_asked = False
        self._knowing: Knowing | None = None
        self._made: list[tuple[DayQuestion, PlannedDay]] = [] if made is None else [made]
        self._work: Worker[None] | None = None

    @property
    def _rest_foot(self) -> tuple[tuple[str, str], ...]:
        """Its keys once the day has begun."""
        return tuple((key, "go by it" if key == "s" else does) for key, does in self.foot
                     if key not in _NOT_OF_REST)

    def compose(self) -> ComposeResult:
        """The plain line, what was asked, the day."""
        yield PageHead()
        yield KeyLine(self.foot)
        yield Para(id="sentence")
        yield Para(id="asked")
        yield Rows()

    def on_mount(self) -> None:
        """Ask for the usual day; the plan comes when it is made."""
        self.query_one(Rows).focus()
        if self._recipe is None:
            self._rest_of_day()
        else:
            self._first = w.first_asked(self._recipe, self.workshop.now(),
                                        evening=self._evening, wanted=self._first_wanted,
                                        each_ms=self._first_guess)
        if self._first is None:
            self.query_one(PageHead).set(SafeText("Plan"))
            self.query_one(Rows).set_rows(wrap_rows(_NOBODY, self.size.width - 4))
            return
        self.ask(self._first)

    def _rest_of_day(self) -> None:
        """Ask for what is left of a session's day, where one is open."""
        room, now = self.workshop.room, self.workshop.now()
        self._session = self._session or room.bench or ""
        s = room.sessions.get(self._session)
        if s is None or s.closed is not None:
            self._session = ""
            return
        self._recipe = s.recipe
        self._seen = now.wall_ms // 60_000, self.workshop.book.last_sequence()
        self._first = w.rest_asked(s, now, breaks_kept(s.id), helper=room.helper is not None,
                                   each_ms=guess_kept(s.id))
        self.query_one(KeyLine).set(self._rest_foot)

    def follow(self) -> None:
        """A day that has begun goes on: planned anew each minute, and when something was done."""
        workshop = self.workshop
        seen = workshop.now().wall_ms // 60_000, workshop.book.last_sequence()
        if self._seen in (None, seen) or self._asked is None or self._first is None:
            return
        s = workshop.room.sessions.get(self._session)
        if s is None or s.closed is not None:
            return
        self._seen, self._made = seen, []
        zero = w.zero_of(workshop.now())
        self._first = replace(self._first, zero=zero)
        self.ask(replace(self._asked, zero=zero), anew=True)

    def on_resize(self) -> None:
        """Draw it for the room there is."""
        self._show()

    # -- what is asked ---------------------------------------------------------------------

    @property
    def fits(self) -> int | None:
        """How many pulls fit, as far as that is planned."""
        return None if self._told is None or self._told.fit is None else self._told.fit.fits

    def ask(self, asked: DayQuestion, *, anew: bool = False) -> None:
        """Plan this day next; `anew`: also where the same was asked before."""
        if asked == self._asked and not anew:
            return
        self._asked, self._by_key = replace(asked), not anew
        self._show()
        if self._work is None or self._work.is_finished:
            self._work = self.run_worker(self._plan())

    def action_change(self, what: str) -> None:
        """What if: at once where a key says it all, else what is typed."""
        asked = self._asked
        if asked is None or self._first is None:
            return
        direct: dict[str, Callable[[DayQuestion], DayQuestion]] = {
            "more": lambda x: w.ask_one_more(x, 1, self.fits),
            "fewer": lambda x: w.ask_one_more(x, -1, self.fits),
            "earlier": lambda x: w.lunch_moved(x, -w.SHIFT),
            "later": lambda x: w.lunch_moved(x, w.SHIFT),
            "helper": lambda x: replace(x, helper=not x.helper),
            "evening": lambda x: replace(x, evening=not x.evening),
        }
        if self._session and what in _REST_ONLY:
            self.desk.say(SafeText("The day has begun, so you cannot change that."))
        elif what == "first":
            self.ask(self._first)
        elif what in direct:
            self.ask(direct[what](asked))
        else:
            self._typed(what, asked)

    def _typed(self, what: str, asked: DayQuestion) -> None:
        if what == "pack" and w.asked_pack_size(asked) is None:
            self.desk.say(SafeText("The paper of this print is not damped in packs."))
            return
        timed = self._timed
        if what == "each" and timed is not None and not timed.missing and timed.guess is None:
            self.desk.say(SafeText("Every step of a print has a time: no guess is needed."))
            return
        least = 0 if timed is None else timed.least
        about = plan_questions(asked, local_time(self.workshop.now()).date(), least)[what]

        def do(text: str) -> str | None:
            asked = about.said(text)
            if _unasked(asked):
                return _UNASKED
            self.ask(asked)
            return None

        self.app.push_screen(Ask(
            sanitize(about.title), hint=sanitize(about.hint), value=about.value,
            check=w.wrong_of(about.said), empty="empty" in about.hint, do=do))

    def _agree(self, asked: DayQuestion) -> None:
        if _unasked(asked):
            self.desk.say(_UNASKED, severity="warning")
            return
        self.ask(asked)

    # -- planning --------------------------------------------------------------------------

    async def _plan(self) -> None:
        while self._asked is not None and self._told_for is not self._asked:
            asked = self._asked
            told = next((t for was, t in self._made if was == asked), None)
            if told is None:
                knows = self._knowing = self._knowing or Knowing(
                    self.desk, asked.recipe, self._session)
                known = await knows.of(asked)
                self._timed = known.timed(asked)
                if self._timed.missing:
                    self._no_plan(asked)
                    return
                told = await in_background(plan_asked_day, asked, known)
                self._made = [*self._made[-_KEPT:], (asked, told)]
            if self._told is not None and self._by_key:
                self._before = plan_sentence(self._told)
            self._told, self._told_for = told, asked
            self._show()

    def _no_plan(self, asked: DayQuestion) -> None:
        """Say which times are missing, and ask once how long a print takes."""
        self._told, self._told_for = None, asked
        self._show()
        if not self._guess_asked and self.is_current:
            self._guess_asked = True
            self._typed("each", asked)

    # -- what is shown ---------------------------------------------------------------------

    def _show(self) -> None:
        """Show what is asked, and the last plan there is."""
        if not self.is_mounted or self._asked is None or self._recipe is None:
            return
        waiting = self._told_for is not self._asked
        self.query_one(PageHead).set(sanitize(f"Plan · {self._recipe.print.title}"),
                                     _PLANNING if waiting else SafeText(""))
        self.query_one("#asked", Para).set(sanitize(w.asked_words(self._asked)))
        line = self.query_one("#sentence", Para)
        line.set_class(waiting, "waiting")
        if self._told is None:
            missing = () if waiting or self._timed is None else self._timed.missing
            line.set(sanitize(f"No plan: {missing_words(missing, start='no')}.") if missing
                     else _PLANNING)
            self.query_one(Rows).set_rows(
                wrap_rows(_GUESS, self.size.width - 4) if missing else [])
            return
        line.set(first_line(self._told))
        self.query_one(Rows).set_rows(plan_rows(self._told, self.size.width - 3, self._before))

    # -- what comes of it ------------------------------------------------------------------

    def action_begin(self) -> None:
        """Open the session with what was planned; one at work takes it over."""
        if self._asked is not None and self._session:
            take_over(self, self._asked, self._session)
        elif self._asked is not None:
            begin_session(self, self._asked, self._told, self._called, self._text)

    def page(self) -> Page | None:
        """The day as it is planned; None: it is being planned, or cannot be."""
        told = self._told
        if told is None or self._told_for is not self._asked:
            return None
        return Page(f"plan-{told.on}-{file_slug(told.title)}", press_page(told))

    def action_calendar(self) -> None:
        """Write the day for the phone."""
        if self._told is None or self._asked is None or self._told_for is not self._asked:
            self.desk.say(SafeText("The plan is not ready yet. Try again in a moment."))
            return
        write_calendar(self.desk, self._told, self._asked.zero)


def _unasked(asked: DayQuestion) -> bool:
    """Whether nothing says where the day ends."""
    return asked.until is None and asked.wanted is None
