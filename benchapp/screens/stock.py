"""The stock: what there is of each paper and ink, what to order, and the counts entered."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import ClassVar, Final

from textual.binding import Binding, BindingType

from benchapp.book import BookError
from benchapp.files import FileProblem
from benchapp.quantities import QuantityError, items_text
from benchapp.reports.stock import history_lines, item_lines
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.edition_base import EditionList
from benchapp.screens.page_base import PageHead
from benchapp.screens.pick import Pick, ToldLines
from benchapp.screens.shelf import shelf_recipes
from benchapp.screens.widgets.ask import Ask
from benchapp.screens.widgets.rows import Role, Row, Rows, titled_rows, wrap_rows
from benchapp.service.stock import StockService
from benchapp.stock.actions import Action, CorrectCount, Count, Mistaken, MixBatch
from benchapp.stock.left import ItemLeft
from benchapp.stock.names import matching_names, nearest_names
from benchapp.stock.parse import read_amount, read_parts, split_amount

#: The answer to "what was it?" where it never was.
_NONE: Final = "none"
_AMOUNTS: Final = SafeText("How much is there? Such as 40 sheets, 12 pieces, 180 g")


class StockScreen(EditionList):
    """Everything that was counted, then the papers that nobody has counted yet."""

    CSS = "StockScreen Rows { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "other", "count another thing"),
        Binding("m", "mix", "mix a batch of ink"),
        Binding("c", "correct", "correct the count"),
        Binding("h", "history", "its counts")]

    def __init__(self) -> None:
        """Nothing is read before it is shown."""
        super().__init__()
        self._stock: StockService | None = None
        self._left: dict[str, ItemLeft] = {}

    @property
    def foot(self) -> tuple[tuple[str, str], ...]:
        """Enter counts the line chosen."""
        return (("enter", "count it"), *super().foot)

    @property
    def stock(self) -> StockService:
        """The stock of the book, with the papers of the recipes there are."""
        if self._stock is None:
            try:
                recipes = [x.recipe for x in shelf_recipes() if x.recipe is not None]
            except FileProblem as error:
                recipes = []
                self.desk.say(sanitize(str(error)), severity="warning")
            self._stock = StockService(self.workshop.book, self.workshop.clock, recipes)
        return self._stock

    def follow(self) -> None:
        """Show how things stand, when something was written or the width is another."""
        state = self.workshop.book.last_sequence(), self.size.width
        if state == self._shown:
            return
        self._shown = state
        try:
            self.stock.load()
            self._left = {x.item: x for x in self.stock.left()}
            papers = self.stock.papers
        except BookError as error:
            self.desk.fault = str(error)
            return
        self.query_one(PageHead).set(SafeText("Stock"), sanitize(
            items_text(len(self._left), "thing") if self._left else ""))
        self.query_one(Rows).set_rows(stock_rows(
            self._left.values(), papers, max(20, self.size.width - 6)))

    # -- counting ---------------------------------------------------------------------------

    def on_rows_taken(self, event: Rows.Taken) -> None:
        """Enter: the line chosen is counted; of several lots one is chosen first."""
        left = self._left.get(event.row_id)
        lots = () if left is None else tuple(c.lot for c in left.counts)
        if len(lots) < 2:
            self._ask_count(event.row_id, lots[0] if lots else None)
            return

        def take(place: int | None) -> None:
            if place is not None:
                self._ask_count(event.row_id, lots[place])

        self.app.push_screen(Pick(sanitize(f"{event.row_id}: which lot?"), _lots(lots)), take)

    def _ask_count(self, item: str, lot: str | None) -> None:
        def do(text: str) -> str | None:
            amount = _amount(text)
            return amount if isinstance(amount, str) else self._typed(Count(item, *amount, lot))

        self._ask(f"{item}, lot {lot}" if lot else item, _AMOUNTS, do)

    def action_other(self) -> None:
        """Something that is not in the list: its name and how much of it there is."""
        def check(text: str) -> str | None:
            name, said = split_amount(text)
            if not said:
                return f"How much of {name}? Write its name and an amount"
            amount = _amount(said)
            return amount if isinstance(amount, str) else None

        def take(text: str | None) -> None:
            name, said = split_amount(text or "")
            amount = _amount(said)
            if name and not isinstance(amount, str):
                self._named(name, amount)

        self.app.push_screen(Ask(SafeText("What did you count, and how much is there?"),
                                 hint=SafeText("such as newsprint 200, or soft cotton 40 sheets"),
                                 check=check), take)

    def _named(self, said: str, amount: tuple[int, str]) -> None:
        """A name that is known, or one of those near to it, or a new thing."""
        known = self.stock.known_names()
        names = matching_names(said, known)
        if len(names) == 1:
            self._do(Count(names[0], *amount))
            return
        names = names[:6] or nearest_names(said, known)

        def take(place: int | None) -> None:
            if place is not None:
                self._do(Count((*names, said)[place], *amount))

        self.app.push_screen(Pick(sanitize(f"Which thing is {said}?"), (
            *map(sanitize, names), sanitize(f"a new thing, called {said}"))), take)

    # -- batches and corrections --------------------------------------------------------------

    def action_mix(self) -> None:
        """A batch of ink: its name, then what is in it."""
        def parts(name: str | None) -> None:
            if not name:
                return

            def do(text: str) -> str | None:
                try:
                    said = read_parts(text.split("+"))
                except QuantityError as error:
                    return str(error)
                known = self.stock.known_names()
                for part, _ in said:
                    if len(matching_names(part, known)) != 1:
                        near = "".join(nearest_names(part, known, 1))
                        return (f"Nothing is called {part}; " + (
                            f"did you mean {near}?" if near else "count it first, with n"))
                return self._typed(MixBatch(name, tuple(
                    (matching_names(part, known)[0], mg) for part, mg in said)))

            self._ask(f"What is in {name}?", SafeText(
                "such as bone black 60 g + burnt umber 9 g; without a weight: not weighed"), do)

        self.app.push_screen(Ask(SafeText("What do you call the batch?"),
                                 hint=SafeText("such as warm black 1")), parts)

    def action_correct(self) -> None:
        """The last count was another amount, or never meant: with the reason."""
        item = self.query_one(Rows).chosen
        left = None if item is None else self._left.get(item)
        if left is None:
            self.desk.say(SafeText("Choose a line that you have counted first."))
            return
        lots = tuple(c.lot for c in left.counts)

        def take(place: int | None) -> None:
            if place is not None:
                self._ask_correction(left.item, lots[place])

        if len(lots) < 2:
            self._ask_correction(left.item, lots[0] if lots else None)
        else:
            self.app.push_screen(Pick(sanitize(f"{left.item}: which lot?"), _lots(lots)), take)

    def _ask_correction(self, item: str, lot: str | None) -> None:
        def check(text: str) -> str | None:
            amount = None if text.casefold() == _NONE else _amount(text)
            return amount if isinstance(amount, str) else None

        def why(text: str | None) -> None:
            if not text:
                return

            def do(reason: str) -> str | None:
                amount = _amount(text)
                if text.casefold() == _NONE or isinstance(amount, str):
                    return self._typed(Mistaken(item, reason, lot))
                return self._typed(CorrectCount(item, *amount, reason, lot))

            self._ask("Why was it wrong?", SafeText("such as read the wrong line"), do)

        self.app.push_screen(Ask(sanitize(item), hint=SafeText(
            "What was the count? Or none, if you never counted it"), check=check), why)

    def action_history(self) -> None:
        """Every count of the line chosen, also those that were replaced or corrected."""
        item = self.query_one(Rows).chosen
        if item is not None:
            self.app.push_screen(ToldLines(sanitize(item), [
                row for line in history_lines(self.stock.stock, item)
                for row in wrap_rows(line, min(64, self.size.width - 14))]))

    # -- doing --------------------------------------------------------------------------------

    def _ask(self, title: str, hint: SafeText, do: Callable[[str], str | None]) -> None:
        self.app.push_screen(Ask(sanitize(title), hint=hint, do=do), lambda _: self.again())

    def _typed(self, action: Action) -> str | None:
        """Do what was typed; why not, for the line it was typed in."""
        return self._refused(lambda: self.stock.do(action))

    def _do(self, action: Action) -> None:
        self._told(lambda: self.stock.do(action))
        self.again()
        self.query_one(Rows).choose(action.item)


def _amount(text: str) -> tuple[int, str] | str:
    """An amount, or why it is none."""
    try:
        return read_amount(text)
    except QuantityError as error:
        return str(error)


def _lots(lots: Iterable[str | None]) -> tuple[SafeText, ...]:
    return tuple(sanitize(x or "without a name") for x in lots)


def stock_rows(left: Iterable[ItemLeft], papers: Iterable[str], across: int) -> list[Row]:
    """The stock as lines: each thing with what is left, then papers that nobody counted.

    Args:
        left: What is left of everything.
        papers: All papers of recipes, by name.
        across: Cells a line has.
    """
    counted = list(left)
    out: list[Row] = []
    for x in counted:
        words, *more = item_lines(x)
        role: Role = "wash" if x.order or x.over else "text" if x.left is not None else "quiet"
        name = sanitize(f"{x.item}  ")
        out += titled_rows(((name, "strong"),), words, across, role, id=x.item)
        for line in more:
            due = line.startswith("order ")
            out += wrap_rows(line, across, "wash" if due else "quiet",
                             first=((SafeText("  ! " if due else "    "), "fault"),))
    names = {x.item for x in counted}
    rest = [x for x in papers if x not in names]
    if rest:
        out += [Row()] if out else []
        out.append(Row(((SafeText("Papers of your recipes, not counted yet"), "strong"),),
                       heading=True))
        out += [Row(((sanitize(x), "quiet"),), id=x) for x in rest]
    return out or [Row(((SafeText("Nothing has been counted yet. Press n."), "quiet"),))]
