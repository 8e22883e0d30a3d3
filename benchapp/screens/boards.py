"""Under boards: what is to be changed and when, then each stack, its top sheet first."""

from __future__ import annotations

from typing import ClassVar, Final

from textual.binding import Binding, BindingType

from benchapp.drying import actions as b
from benchapp.drying.stacks import Due, Stack, due_changes, shared_marks, wall_time
from benchapp.quantities import QuantityError, items_text, point_for_comma, read_mass
from benchapp.reports.drying import due_words, stack_lines, stacks_in_use
from benchapp.safe_text import SafeText, cell_width, sanitize
from benchapp.screens.edition_base import EditionList
from benchapp.screens.page_base import PageHead
from benchapp.screens.pick import Pick
from benchapp.screens.widgets.ask import Ask
from benchapp.screens.widgets.rows import Role, Row, Rows, wrap_rows

_SIGNS: Final = {"late": "! ", "due": "  ", "coming": "  "}
_ROLES: Final[dict[str, tuple[Role, Role]]] = {
    "late": ("fault", "fault"), "due": ("wash", "strong"), "coming": ("quiet", "quiet")}


class BoardsScreen(EditionList):
    """Every stack, and what it wants."""

    CSS = "BoardsScreen Rows { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("c", "changed", "changed"),
        Binding("x", "left", "left as it is"),
        Binding("w", "weight", "weight on it"),
        Binding("t", "sort", "sort its sheets"),
        Binding("delete", "down", "taken down")]

    def __init__(self, stack: str | None = None) -> None:
        """All stacks, at that one; None: at the first line."""
        super().__init__()
        self._at = stack

    def on_mount(self) -> None:
        """Show them, at the stack meant."""
        super().on_mount()
        if self._at is not None:
            self.query_one(Rows).choose(f"stack {self._at}")

    def follow(self) -> None:
        """Show how things stand: once a minute, or when something was written."""
        workshop = self.workshop
        now = wall_time(workshop.now())
        state = now.strftime("%d %H:%M"), workshop.book.last_sequence(), self.size.width
        if state == self._shown:
            return
        self._shown = state
        boards = workshop.stacks()
        stacks, shared = stacks_in_use(boards, now), shared_marks(boards)
        wants = due_changes(stacks, now, workshop.hours)
        sheets = sum(len(s.sheets) for s in stacks)
        self.query_one(PageHead).set(SafeText("Under boards"), sanitize(
            f"{items_text(sheets, 'sheet')} in {items_text(len(stacks), 'stack')}"
            if stacks else ""))
        across = max(20, self.size.width - 6)
        head = Row(((SafeText("Changes, and when they are due"), "strong"),), heading=True)
        out = [head] if stacks else []
        out += [row for d in wants for row in self._due(d, due_words(d, now), across)]
        for s in stacks:
            out += [Row(), Row(((sanitize(s.name), "strong"),), id=f"stack {s.id}",
                               right=sanitize(items_text(len(s.sheets), "sheet")))]
            out += [row for x in stack_lines(s, workshop.hours, shared)
                    for row in wrap_rows(x, across, "quiet", first=((SafeText("  "), "text"),))]
        self.query_one(Rows).set_rows(out or [
            Row(((SafeText("Nothing is under boards."), "quiet"),))])

    @staticmethod
    def _due(d: Due, words: str, across: int) -> list[Row]:
        """A change and its stack, on a narrow screen below it: neither is cut."""
        marked, role = _ROLES[d.state]
        sign, said, name = SafeText(_SIGNS[d.state]), sanitize(words), sanitize(d.name)
        beside = cell_width(sign) + cell_width(said) + cell_width(name) < across
        row = Row(((sign, marked), (said, role)),
                  id=f"due {d.change.index} {d.change.nth} {d.stack}",
                  right=name if beside else SafeText(""))
        under = wrap_rows(d.name, across, "quiet",
                          first=((SafeText(" " * cell_width(sign)), "text"),))
        return [row] if beside else [row, *under]

    # -- what is chosen --------------------------------------------------------------------

    def _chosen(self) -> tuple[Stack | None, int | None, int | None]:
        """The stack of the line chosen, and the change where it is one."""
        kind, _, rest = (self.query_one(Rows).chosen or "").partition(" ")
        index = nth = None
        if kind == "due":
            one, two, rest = rest.split(" ", 2)
            index, nth = int(one), int(two)
        return self.workshop.stacks().stacks.get(rest), index, nth

    def action_changed(self) -> None:
        """The change chosen was made; on a stack: everything due for it."""
        stack, index, nth = self._chosen()
        if stack is None:
            return

        def take(place: int | None) -> None:
            if place == 0:
                self.act_on_boards(b.Changed(stack.id, index, nth))
                self.again()

        coming = self._coming(stack, index, nth)
        if coming is None:
            take(0)
        else:  # a stray key would have it never be due
            self.app.push_screen(Pick(
                sanitize(f"Not due yet: {coming}"), (SafeText("I have changed them already"),),
                sanitize(stack.name), by_number=True), take)

    def _coming(self, stack: Stack, index: int | None, nth: int | None) -> str | None:
        """The change chosen in words, where it is not due yet; None: it is, or none is chosen."""
        now = wall_time(self.workshop.now())
        return next((due_words(d, now) for d in due_changes([stack], now, self.workshop.hours)
                     if d.state == "coming" and (d.change.index, d.change.nth) == (index, nth)),
                    None)

    def action_left(self) -> None:
        """It is left, the sheets stay as they are: with the reason."""
        stack, index, nth = self._chosen()
        if stack is None:
            return

        def do(why: str) -> str | None:
            wrong = self.typed_on_boards(b.SkipChange(stack.id, why, index, nth))
            self.again()
            return wrong

        self.app.push_screen(Ask(sanitize(f"Why leave them unchanged? {stack.name}"),
                                 hint=SafeText("such as: dry enough"), do=do))

    def action_weight(self) -> None:
        """So much lies on these boards."""
        stack, _, _ = self._chosen()
        if stack is None:
            return

        def do(text: str) -> str | None:
            grams = round(read_mass(point_for_comma(text)).g)
            wrong = self.typed_on_boards(b.Weight(stack.id, grams or None))
            self.again()
            return wrong

        self.app.push_screen(Ask(sanitize(f"Weight on {stack.name}?"),
                                 hint=SafeText("such as 12 kg"), check=_mass, do=do))

    def action_sort(self) -> None:
        """Go through its sheets against the standard."""
        stack, _, _ = self._chosen()
        if stack is not None:
            self.desk.over("sort", stack=stack.id)

    def action_down(self) -> None:
        """Nothing lies here any more; asked, for it cannot be taken back."""
        stack, _, _ = self._chosen()
        if stack is None:
            return

        def take(place: int | None) -> None:
            if place == 0:
                self.act_on_boards(b.TakeDown(stack.id))
                self.again()

        self.app.push_screen(Pick(sanitize(f"{stack.name}: are the boards empty?"),
                                  (SafeText("empty: take it down. You cannot undo this"),)), take)


def _mass(text: str) -> str | None:
    try:
        read_mass(point_for_comma(text))
    except QuantityError as error:
        return str(error)
    return None
