"""A day prepared: for so many wanted, what to tear, damp, mix and turn; a checklist to scroll."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from benchapp.book import BookError
from benchapp.book.queries import sessions_of
from benchapp.edition.packs import sheets_left
from benchapp.edition.state import Register
from benchapp.history.stats import NOTHING, Learnt, learn_stats
from benchapp.planning.checklist import ChecklistItem, Prepared, make_checklist
from benchapp.planning.plate_wear import PlateWear, wear_sentences
from benchapp.recipe.model import Recipe
from benchapp.reckon.errors import ReckonError
from benchapp.reports.checklist import item_details, item_title, sources_and_cautions
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.bound_keys import MOVE_KEYS
from benchapp.screens.page_base import PageBase, PageHead
from benchapp.screens.widgets.ask import Ask
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.rows import Row, Rows, wrap_rows
from benchapp.service.stock import StockService
from benchapp.session.compiled_recipe import CompiledRecipe
from benchapp.session.counting import target_count
from benchapp.stock.left import ItemLeft

#: Wanted until the printer says another number, where the recipe's session does not.
USUAL: Final = 10
_MOST: Final = 5000


class PrepareScreen(PageBase):
    """One print's day, for a number wanted that one key changes."""

    CSS = "PrepareScreen Rows { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("b", "wanted", "another number wanted", tooltip="wanted"),
        Binding("f9", "fold", "what it rests on", tooltip="why"),
    ]

    def __init__(self, recipe: Recipe | None = None, wanted: int | None = None) -> None:
        """Prepare for that many of a print.

        Args:
            recipe: The print's; None: of the session on the Bench.
            wanted: How many should count; None: the usual number.
        """
        super().__init__()
        self._recipe = recipe
        self._wanted = min(wanted or USUAL, _MOST)
        self._learnt: Learnt = NOTHING
        self._why = False

    def compose(self) -> ComposeResult:
        """The list."""
        yield PageHead()
        yield KeyLine((MOVE_KEYS, *self.foot))
        yield Rows()

    def on_mount(self) -> None:
        """Read what the print's sessions taught, once."""
        self.query_one(Rows).focus()
        session = self.workshop.room.session
        if self._recipe is None and session is not None:
            self._recipe, self._wanted = session.recipe, target_count(session) or self._wanted
        if self._recipe is not None:
            try:
                self._learnt = learn_stats(sessions_of(self.workshop.book, self._recipe.print))
            except BookError as error:
                self.desk.fault = str(error)
        self.on_resize()

    def on_resize(self) -> None:
        """Break the lines for the room there is."""
        title = "" if self._recipe is None else f" · {self._recipe.print.title}"
        self.query_one(PageHead).set(sanitize(f"Prepare{title}"),
                                     sanitize(f"wanted {self._wanted}"))
        self.query_one(Rows).set_rows(self._rows(self.size.width - 4))

    def _rows(self, across: int) -> list[Row]:
        if self._recipe is None:
            return wrap_rows("No session is on the Bench: choose a recipe in the Studio.", across)
        try:
            return prepare_rows(self._prepared(self._recipe), across, why=self._why)
        except ReckonError as error:
            return wrap_rows(str(error), across, "fault")

    def _prepared(self, recipe: Recipe) -> Prepared:
        room, name = self.workshop.room, CompiledRecipe(recipe).paper_name
        damp = 0 if name is None else sheets_left(
            room.packs, name, room.t_at(self.workshop.now())) or 0
        return make_checklist(recipe, self._learnt, self._wanted, damp_already=damp,
                              register=self._register(), stock=self._stock(recipe))

    def _stock(self, recipe: Recipe) -> Sequence[ItemLeft]:
        """What is left of what was counted; nothing where the book cannot be read."""
        try:
            return StockService(self.workshop.book, self.workshop.clock, (recipe,)).left()
        except BookError as error:
            self.desk.fault = str(error)
            return ()

    def _register(self) -> Register | None:
        """The editions of the book; None: it cannot be read."""
        try:
            return self.workshop.editions.register
        except BookError as error:
            self.desk.fault = str(error)
            return None

    def action_fold(self) -> None:
        """Every figure the day rests on, or none of them."""
        self._why = not self._why
        self.on_resize()

    def action_wanted(self) -> None:
        """Another number."""
        def take(text: str | None) -> None:
            if text:
                self._wanted = int(text)
                self.on_resize()

        self.app.push_screen(Ask(SafeText("How many counting impressions do you want?"),
                                 value=str(self._wanted), check=_number), take)


def _number(text: str) -> str | None:
    if text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= _MOST:
        return None
    return f"Write a whole number from 1 to {_MOST}"


def prepare_rows(prepared: Prepared, across: int, *, why: bool) -> list[Row]:
    """A day prepared as lines, what to do first and what it rests on below.

    Args:
        prepared: The day.
        across: Cells a line has.
        why: With every figure it rests on.
    """
    rows = [row for warning in prepared.warnings for row in wrap_rows(
        warning, across, "fault", first=((SafeText("! "), "fault"),))]
    rows += [row for part in prepared.parts for row in _part(part, across)]
    rows += [row for x in prepared.plates for row in _plate(x, across)]
    for title, lines in sources_and_cautions(prepared, why=why):
        rows += [Row(((SafeText(title), "strong"),), heading=True),
                 *(row for line in lines for row in wrap_rows(line, across, "quiet")), Row()]
    return rows + [row for line in prepared.doubts
                   for row in wrap_rows(f"left out: {line}", across, "fault")]


def _plate(x: PlateWear, across: int) -> list[Row]:
    """What a plate has given and will give; near its end in the colour of what to look at."""
    named = Row(((SafeText("Plate"), "strong"),), heading=True)
    first, *more = wear_sentences(x)
    return [named, *wrap_rows(first, across),
            *(row for line in more for row in wrap_rows(
                line, across, "wash", first=((SafeText("  "), "text"),))), Row()]


def _part(part: ChecklistItem, across: int) -> list[Row]:
    named = Row(((sanitize(item_title(part)), "strong"),), heading=True)
    told = wrap_rows(part.sentence, across)
    under = [row for line in item_details(part) for row in wrap_rows(
        line, across, "quiet", first=((SafeText("  "), "text"),))]
    return [named, *told, *under, Row()]
