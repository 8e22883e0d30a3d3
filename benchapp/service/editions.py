"""The edge of editions and boards: what the book has of them; decide, append, fold.

The register is folded from the streams of prints, and brought its sheets from the
sessions, each folded by itself. How large an edition is, its first recipe says: that
is written into the book with the first action that rests on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import timedelta
from typing import Any

from benchapp.book import Book
from benchapp.book.read import SessionRow
from benchapp.book.sessions import find_session
from benchapp.clock import Clock
from benchapp.decision import Decision, Refusal
from benchapp.drying import actions as b
from benchapp.drying import stacks
from benchapp.drying.dryness import USUAL, Hours
from benchapp.drying.stacks import Boards
from benchapp.edition import actions as acts
from benchapp.edition.decide import (
    apply_edition_entry,
    as_if,
    check_recall,
    decide_edition,
    edition_action_word,
    replay_register,
    with_sheets,
)
from benchapp.edition.ending import is_of_edition
from benchapp.edition.naming import find_sheet
from benchapp.edition.rules_papers import LineRefused
from benchapp.edition.state import Edition, Register, Sheet
from benchapp.edition.warnings import edition_warnings, recipe_differences
from benchapp.events.entry import PENDING, Draft, Entry
from benchapp.events.event import over_of
from benchapp.events.moments import local_time
from benchapp.quantities import items_text
from benchapp.recipe.model import Recipe
from benchapp.service.outcome import Outcome, Service
from benchapp.session.edition_links import (
    declared_by,
    recipe_print_id,
    said_unpacked,
    session_sheets,
    unpack_sheets,
)
from benchapp.session.fold import replay_entries as fold_session
from benchapp.session.marks import read_mark
from benchapp.session.names import shape_of
from benchapp.session.state import Session
from benchapp.settings import Preferences
from benchapp.views.signing import ToSign, to_sign


def hours_of(settings: Preferences) -> Hours:
    """When this printer changes boards, and when nothing calls."""
    return Hours(settings.boards_first, settings.boards_later, *settings.boards_silent,
                 timedelta(milliseconds=settings.boards_grace.ms))


@dataclass(frozen=True, slots=True)
class EditionDay:
    """A session of the book, as far as editions need it.

    Attributes:
        print: The print it was for.
        said: What its recipe says of the edition, alone; empty: the recipe is to be read.
        recipes: The recipes read so far, by their text: most days are on a few.
    """

    row: SessionRow
    print: str
    sheets: tuple[Sheet, ...]
    said: tuple[acts.Declare | None, ...] = field(default=(), repr=False, compare=False)
    recipes: dict[str, Recipe] = field(default_factory=dict, repr=False, compare=False)

    @property
    def recipe(self) -> Recipe:
        """The recipe as it was; read when it is asked for."""
        text = self.row.opening.recipe_text
        found = self.recipes.get(text)
        if found is None:
            found = self.recipes[text] = shape_of(text).recipe
        return found

    @property
    def declares(self) -> acts.Declare | None:
        """What its recipe says of the size of the edition; None: nothing."""
        return self.said[0] if self.said else declared_by(self.recipe)

    @property
    def named(self) -> tuple[str, str]:
        """Title and artist as its recipe has them."""
        return self.row.opening.print, self.row.opening.artist


class EditionService(Service):
    """The editions and stacks of a book.

    Attributes:
        hours: When the printer changes boards.
        days: Its sessions in the order opened.
    """

    def __init__(self, book: Book, clock: Clock, hours: Hours = USUAL) -> None:
        """Read what `book` has."""
        super().__init__(book, clock)
        self.hours = hours
        self._folded: dict[str, tuple[tuple[int, int], EditionDay]] = {}
        self._recipes: dict[str, Recipe] = {}
        self._seen = -1
        self.days: tuple[EditionDay, ...] = ()
        self._boards: Boards | None = None
        self._register = Register("")
        self.load()

    def load(self) -> None:
        """Read again what was written since; a session that did not grow is not folded anew."""
        seen = self.book.last_sequence()
        if seen == self._seen:
            return
        rows = self.book.sessions()
        known = self.book.sheets_known() if len(rows) > len(self._folded) else {}
        self.days = tuple(d for d in (self._day(r, known.get(r.stream)) for r in rows)
                          if d is not None)
        prints = self.book.entries(streams=self.book.streams("print"))
        self._register = with_sheets(replay_register(prints, self.book.origin),
                                     (s for d in self.days for s in d.sheets))
        if self._register.shared:
            named = self._register.sheets
            self.days = tuple(replace(d, sheets=tuple(named[s.id] for s in d.sheets))
                              for d in self.days)
        self._boards = None
        self._seen = seen

    @property
    def boards(self) -> Boards:
        """All stacks, as the book has them; read when they are asked for."""
        if self._boards is None:
            self._boards = stacks.replay_boards(self.book.entries(streams=self.book.streams(
                "stack")))
        return self._boards

    def _day(self, row: SessionRow, told: Mapping[str, Any] | None) -> EditionDay | None:
        """The day as it was folded before, as it is kept in the book, or folded now."""
        known = self._folded.get(row.stream)
        seen = row.last_sequence, row.said_sequence
        if known is not None and known[0] == seen:
            return known[1]
        day = None if told is None else self._kept(row, told)
        if day is None:
            s = self.session(row.id)
            if s is None:
                return None
            day = EditionDay(row, recipe_print_id(s.recipe), session_sheets(s),
                             recipes=self._recipes)
        self._folded[row.stream] = seen, day
        return day

    def _kept(self, row: SessionRow, told: Mapping[str, Any]) -> EditionDay | None:
        print_ = told.get("print")
        if not isinstance(print_, str):
            return None
        sheets = unpack_sheets(told.get("sheets"), row.id, row.name, print_)
        said = said_unpacked(told.get("says"), print_)
        return None if sheets is None else EditionDay(row, print_, sheets, said, self._recipes)

    def session(self, id_: str) -> Session | None:
        """A session of the book, folded by itself."""
        return fold_session(self.book.entries(streams=self.book.streams_of(id_))).sessions.get(id_)

    # -- what there is ------------------------------------------------------------------

    @property
    def register(self) -> Register:
        """All editions, each with the size its first recipe says where nothing was declared."""
        return self._by_recipes(self._register)

    def _by_recipes(self, register: Register) -> Register:
        for print_ in {d.print: None for d in self.days}:
            if register.edition(print_).declared is None:
                register = as_if(register, self._by_recipe(print_), self.clock.now())
        return register

    def prints(self) -> tuple[str, ...]:
        """Every print of the book, in the order first printed or declared."""
        return tuple({**{d.print: None for d in self.days}, **dict.fromkeys(
            self._register.editions)})

    def title(self, print_: str) -> tuple[str, str]:
        """Title and artist of a print."""
        e = self._register.edition(print_)
        if e.title:
            return e.title, e.artist
        return next((d.named for d in self.days if d.print == print_), (print_, ""))

    def print_last(self) -> str | None:
        """The print of the last session; without one the only print there is, else None."""
        known = self.prints()
        return self.days[-1].print if self.days else known[0] if len(known) == 1 else None

    def find_sheet(self, said: str, print_: str | None = None) -> str | Refusal:
        """The sheet meant by its mark, its number, or its session and pull (`last:3`); or why none.

        Args:
            said: Its name, as a printer types it.
            print_: The print that was named, by its id; else numbers are the last session's.
        """
        session, colon, pull = said.rpartition(":")
        if colon and session.strip().casefold() != "old":
            return self._pulled(said, session, pull, print_)
        names = {s.id: f"{d.row.name}:{n}" for d in self.days for n, s in enumerate(d.sheets, 1)}
        return find_sheet(self.register, said, print_ or self.print_last(), mark=read_mark(said),
                          pulls=names)

    def _pulled(self, said: str, name: str, pull: str, print_: str | None) -> str | Refusal:
        """The sheet of that pull; `last` is the last session of the print that was named."""
        by_id = {d.row.id: d for d in self.days}
        rows = [d.row for d in self.days]
        mine = [d.row for d in self.days if d.print == print_] or rows
        today = local_time(self.clock.now()).date()
        found = find_session(name, mine, today) or find_session(name, rows, today)
        if found is None:
            return Refusal(f"No session is called {name}",
                           "list them: benchapp sessions", rule="use")
        if not (pull.isascii() and pull.isdigit()):
            return Refusal(f"{said} is not a sheet", "write which pull: last:3", rule="use")
        sheets, n = by_id[found.id].sheets, int(pull[:9])
        if not 1 <= n <= len(sheets):
            return Refusal(f"{found.name} has no pull {n}: "
                             f"it has {items_text(len(sheets), 'sheet')}", rule="sheet")
        return sheets[n - 1].id

    def days_of(self, print_: str) -> tuple[EditionDay, ...]:
        """The sessions of a print, the oldest first, whichever book they come from."""
        return tuple(sorted((d for d in self.days if d.print == print_),
                            key=lambda d: d.row.opened.at.wall_ms))

    def edition_days(self, print_: str) -> tuple[EditionDay, ...]:
        """The same without the days on which only its cancelled plate was printed."""
        register = self._register
        return tuple(d for d in self.days_of(print_)
                     if is_of_edition(register, print_, d.sheets, d.row.opened.at))

    def _first(self, print_: str) -> acts.Declare | None:
        said = (d.declares for d in self.days_of(print_))
        return next((x for x in said if x is not None), None)

    def _by_recipe(self, print_: str) -> tuple[Draft, ...]:
        first = self._first(print_)
        if first is None:
            return ()
        decided = decide_edition(self._register, first, self.clock.now())
        return () if isinstance(decided, Refusal) else decided

    def otherwise(self, print_: str) -> tuple[str, ...]:
        """What later recipes of a print say otherwise than its edition; it changes nothing."""
        return self._otherwise(self.register.edition(print_))

    def _otherwise(self, e: Edition) -> tuple[str, ...]:
        print_ = e.id
        first = self._first(print_)
        out: dict[str, None] = {}
        for day in self.days_of(print_):
            said = day.declares
            if said is None or (first is not None and (said.size, said.caps) == (
                    first.size, first.caps)):
                continue
            if e.by == "printer" and e.declared is not None and (
                    day.row.opened.at.wall_ms < e.declared.wall_ms):
                continue
            out |= {f"{x} ({day.row.name})": None
                    for x in recipe_differences(e, said.size, said.caps)}
        return tuple(out)

    # -- what is done -------------------------------------------------------------------

    def would(self, action: acts.Action) -> Outcome:
        """What would come of an action, with nothing written: a refusal, and warnings."""
        first, decided = self._decided(action)
        if isinstance(decided, Refusal):
            return Outcome(refusal=decided)
        return Outcome(warnings=self._warned(self.register, action,
                                             self._after((*first, *decided))))

    def do(self, action: acts.Action) -> Outcome:
        """Decide, append, fold.

        Raises:
            BookError: It cannot be written.
        """
        first, decided = self._decided(action)
        if isinstance(decided, Refusal):
            return Outcome(refusal=decided)
        if first and any(PENDING in (over_of(d.event) or ()) for d in decided):
            # What the recipe said is named by its entry's id: it is in the book before.
            self.carry_out(first, self.clock.now(), "declare")
            return self.do(action)
        before = self.register
        outcome = self.carry_out((*first, *decided, *self._leaves_stack(action)),
                                 self.clock.now(), edition_action_word(action))
        return replace(outcome, warnings=self._warned(before, action, self.register))

    def _leaves_stack(self, action: acts.Action) -> tuple[Draft, ...]:
        """A sheet that is somewhere else now, or no more, lies under no boards."""
        if isinstance(action, (acts.HandOut, acts.TakeIn, acts.Put)):
            place: str | None = action.place
        elif isinstance(action, acts.CorrectPlace):
            place = action.said.get("place", "boards")
        elif isinstance(action, acts.Destroy):
            place = None
        else:
            return ()
        if place == "boards":
            return ()
        lying = next((s for s in self.boards.up if any(
            x.sheet == action.sheet for x in s.sheets)), None)
        if lying is None:
            return ()
        decided = b.decide_boards(self.boards, b.Lift(lying.id, action.sheet), self.clock.now(),
                                  self.hours, self.book.origin)
        return () if isinstance(decided, Refusal) else decided

    def to_sign(self, action: acts.Sign) -> tuple[tuple[ToSign, ...], tuple[str, ...]]:
        """The list that is shown before sheets are recorded as signed, with what speaks against it.

        Returns:
            Each sheet with its own warnings; and the warnings about the whole edition.
        """
        today = local_time(self.clock.now()).date()
        before = self.register
        listed = to_sign(before, self.boards, action.print, action.sheets, today, self.hours)
        first, decided = self._decided(action)
        after = self._after(() if isinstance(decided, Refusal) else (*first, *decided))
        return listed, self._warned(before, acts.Sign(action.print, ()), after)

    def recall_problems(self, action: acts.Recall) -> tuple[LineRefused, ...]:
        """Every line of an old paper that cannot be taken."""
        return check_recall(self.register, action, self.clock.now())

    def _after(self, drafts: Iterable[Draft]) -> Register:
        """All editions as they would be with these drafts."""
        return self._by_recipes(as_if(self._register, drafts, self.clock.now()))

    def _warned(self, before: Register, action: acts.Action, after: Register) -> tuple[str, ...]:
        return (*edition_warnings(before, action, after),
                *self._otherwise(after.edition(action.print)))

    def _decided(self, action: acts.Action) -> tuple[tuple[Draft, ...], Decision]:
        """What the recipe declares, where nobody has, and what the action does after it."""
        now = self.clock.now()
        declared = self._register.edition(action.print).declared is not None
        first: tuple[Draft, ...] = ()
        if isinstance(action, acts.Declare):
            beside = action.sibling
            if beside is not None and self._register.edition(beside).declared is None:
                first = self._by_recipe(beside)
        elif not declared:
            first = self._by_recipe(action.print)
        return first, decide_edition(as_if(self._register, first, now), action, now)

    def fold(self, entries: tuple[Entry, ...]) -> None:
        """Take in entries that are in the book now."""
        self._seen = self.book.last_sequence()
        for entry in entries:
            self._register = apply_edition_entry(self._register, entry)
            if self._boards is not None:
                self._boards = stacks.apply_board_entry(self._boards, entry)

    def on_boards(self, action: b.Action) -> Outcome:
        """The same of the boards.

        Raises:
            BookError: It cannot be written.
        """
        now = self.clock.now()
        decided = b.decide_boards(self.boards, action, now, self.hours, self.book.origin)
        return self.carry_out(decided, now, b.stack_action_word(action))

