"""The edge of the stock: counts and batches of a book, and what its sessions used since."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Final

from benchapp.book import Book
from benchapp.book.queries import read_session_entries
from benchapp.book.read import SessionRow
from benchapp.clock import Clock
from benchapp.decision import Refusal
from benchapp.events.entry import Entry
from benchapp.history.material_use import ink_names, paper_names, uses_of
from benchapp.recipe.model import Recipe
from benchapp.recipe.problems import RecipeError
from benchapp.service.outcome import Outcome, Service
from benchapp.session.fold import replay_entries
from benchapp.session.names import shape_of
from benchapp.session.state import Session
from benchapp.stock.actions import Action, CorrectCount, Count, decide_stock, stock_action_word
from benchapp.stock.left import ItemLeft, Uses, all_left
from benchapp.stock.names import item_key
from benchapp.stock.state import Stock, apply_stock_entry, replay_stock

#: Days looked through for the last that printed on a paper: on the others nothing was pulled.
_MOST_DAYS: Final = 5
_OF_PAPER: Final = ("sheets", "pieces")


class StockService(Service):
    """The stock of a book.

    Attributes:
        recipes: Those of the printer and the shipped ones: their papers have names too.
    """

    def __init__(self, book: Book, clock: Clock, recipes: Iterable[Recipe] = ()) -> None:
        """Read what `book` has."""
        super().__init__(book, clock)
        self.recipes = tuple(recipes)
        self._folded: dict[str, tuple[tuple[int, int], Session | None]] = {}
        self._recipes: dict[str, Recipe | None] = {}
        self.stock = Stock()
        self.load()

    def load(self) -> None:
        """Read counts and batches again."""
        self.stock = replay_stock(self.book.entries(streams=self.book.streams("stock")))

    def fold(self, entries: tuple[Entry, ...]) -> None:
        """Take in entries that are in the book now."""
        for entry in entries:
            self.stock = apply_stock_entry(self.stock, entry)

    def do(self, action: Action) -> Outcome:
        """Decide, append, fold.

        Raises:
            BookError: It cannot be written.
        """
        if isinstance(action, Count | CorrectCount) and action.unit not in _OF_PAPER and (
                item_key(action.item) in map(item_key, self.papers)):
            return Outcome(refusal=Refusal("A paper is counted in sheets or pieces",
                                           "write such as 40 sheets", rule="unit"))
        now = self.clock.now()
        decided = decide_stock(self.stock, action, now, self.book.origin)
        return self.carry_out(decided, now, stock_action_word(action))

    @property
    def papers(self) -> tuple[str, ...]:
        """The papers of all recipes, those of the days printed among them, by name."""
        return self._papers(self.book.sessions())

    def known_names(self) -> tuple[str, ...]:
        """Everything that has a name already: in the stock, and in recipes."""
        return tuple(dict.fromkeys((*self.stock.names(), *self.papers,
                                    *ink_names(self.recipes))))

    def left(self) -> tuple[ItemLeft, ...]:
        """What is left of everything.

        Raises:
            BookError: The book cannot be read.
        """
        return all_left(self.stock, self.uses())

    def uses(self) -> Uses:
        """What was used since the counts that hold, and on the last day of each paper.

        Only the days that can tell are folded: a book of ten years takes no longer than those.
        """
        current = [x for item in self.stock.names() for x in self.stock.current(item)]
        rows = self.book.sessions()
        weighed = [x.since_ms for x in current if x.unit == "mg"]
        weighed += [x.since_ms for x in self.stock.batches.values()
                    if x.id not in self.stock.mistakes]
        counted: dict[str, int] = {}
        for x in current:
            key = item_key(x.item)
            counted[key] = min(counted.get(key, x.since_ms), x.since_ms)
        chosen = {r.id: r for r in rows if self._can_tell(r, counted, weighed)}
        for paper in counted:
            chosen |= {r.id: r for r in self._last_on(paper, rows)}
        found = (self._session(r) for r in rows if r.id in chosen)
        uses = uses_of([s for s in found if s is not None])
        return Uses(uses.paper, uses.ink, self._papers(rows))

    def _can_tell(self, row: SessionRow, counted: Mapping[str, int],
                  weighed: Collection[int]) -> bool:
        """Whether a session may have used something after the count of it.

        Args:
            row: The session.
            counted: When each thing was counted first, of the counts that hold.
            weighed: The same of inks: which a session used, only it can tell.
        """
        recipe = self._recipe(row)
        papers = () if recipe is None else map(item_key, paper_names((recipe,)))
        begun = [*weighed, *(counted[x] for x in papers if x in counted)]
        return bool(begun) and (not row.closed or self.book.ended_ms(row.stream) > min(begun))

    def _printed(self, rows: Iterable[SessionRow]) -> set[str]:
        sessions = [s for r in rows if (s := self._session(r)) is not None]
        return {item_key(x.paper) for x in uses_of(sessions).paper}

    def _last_on(self, paper: str, rows: list[SessionRow]) -> list[SessionRow]:
        """The last day that printed on a paper, and those after it that did not."""
        looked = []
        for row in reversed(rows):
            recipe = self._recipe(row)
            if recipe is None or paper not in map(item_key, paper_names((recipe,))):
                continue
            looked.append(row)
            if paper in self._printed((row,)) or len(looked) == _MOST_DAYS:
                break
        return looked

    def _papers(self, rows: Iterable[SessionRow]) -> tuple[str, ...]:
        printed = (self._recipe(r) for r in rows)
        return paper_names((*(r for r in printed if r is not None), *self.recipes))

    def _recipe(self, row: SessionRow) -> Recipe | None:
        text = row.opening.recipe_text
        if text not in self._recipes:
            try:
                self._recipes[text] = shape_of(text).recipe
            except RecipeError:  # a text of another program: nothing of that day can be told
                self._recipes[text] = None
        return self._recipes[text]

    def _session(self, row: SessionRow) -> Session | None:
        """A session folded by itself; one that did not grow is not folded anew."""
        seen = row.last_sequence, row.said_sequence
        known = self._folded.get(row.stream)
        if known is None or known[0] != seen:
            folded = None
            if self._recipe(row) is not None:
                room = replay_entries(read_session_entries(self.book, row))
                folded = room.sessions.get(row.id)
            known = self._folded[row.stream] = seen, folded
        return known[1]
