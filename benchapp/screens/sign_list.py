"""The list before signing: which sheets, with their numbers and what speaks against each.

A sheet can be left out by a key. Only a figure answers, so that no press of the pedal signs.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from benchapp.edition import actions as a
from benchapp.quantities import items_text
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.bound_keys import foot_keys
from benchapp.screens.edition_base import EditionBase
from benchapp.screens.laid_over import LaidOver
from benchapp.screens.pick import CARD
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Row, Rows, wrap_rows
from benchapp.views.signing import ToSign, unsigned_sheets


class SignList(LaidOver[tuple[str, ...] | None]):
    """Gives the sheets that were signed; None: it was left, and nothing is recorded."""

    DEFAULT_CSS = CARD.format(name="SignList") + """
    SignList Rows { margin: 1 0 0 0; height: auto; max-height: 14; background: $surface; }
    SignList #about { color: $fault; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("1", "sign", "record them as signed"),
        Binding("minus", "leave_out(True)", "leave this sheet out"),
        Binding("plus", "leave_out(False)", "put it back"),
        Binding("escape", "give_up", "sign nothing")]

    def __init__(self, sheets: Sequence[ToSign], about: Sequence[str]) -> None:
        """Show them.

        Args:
            sheets: Those that would be recorded as signed.
            about: Warnings about the whole edition.
        """
        super().__init__()
        self._sheets, self._about = tuple(sheets), "; ".join(about)
        self._out: set[str] = set()

    def compose(self) -> ComposeResult:
        """How many, what is wrong with the edition, each sheet, the keys."""
        with Vertical(id="card"):
            yield Para(id="title")
            if self._about:
                yield Para(sanitize(self._about), id="about")
            yield Rows()
            yield KeyLine(foot_keys(type(self)))

    def on_mount(self) -> None:
        """The first sheet is chosen."""
        self.query_one(Rows).focus()
        self._show()

    def on_resize(self) -> None:
        """Warnings wrap to the width there is."""
        if self.is_mounted:
            self._show()

    @property
    def _kept(self) -> tuple[str, ...]:
        return tuple(x.sheet for x in self._sheets if x.sheet not in self._out)

    def _show(self) -> None:
        n = len(self._kept)
        count = items_text(n, "sheet") if n else "no sheet"
        self.query_one("#title", Para).set(sanitize(
            f"Record {count} as signed? You cannot undo this"))
        across = max(24, min(self.size.width * 9 // 10, 92) - 8)
        self.query_one(Rows).set_rows([r for x in self._sheets for r in self._rows(x, across)])

    def _rows(self, x: ToSign, across: int) -> list[Row]:
        out = x.sheet in self._out
        head = Row(((sanitize(x.words), "quiet" if out else "strong"),), id=x.sheet,
                   right=SafeText("left out") if out else SafeText(""))
        return [head, *(row for w in x.warnings for row in wrap_rows(
            w, across, "quiet" if out else "fault", first=((SafeText("    ! "), "quiet"),)))]

    def action_sign(self) -> None:
        """Those that are left in the list were signed."""
        if self._kept:
            self.dismiss(self._kept)

    def action_leave_out(self, out: bool) -> None:
        """Leave the sheet chosen out of the list, or put it back."""
        chosen = self.query_one(Rows).chosen
        if chosen is not None:
            (self._out.add if out else self._out.discard)(chosen)
            self._show()

    def action_give_up(self) -> None:
        """Nothing is signed."""
        self.dismiss(None)


def ask_to_sign(page: EditionBase, print_: str, among: Sequence[str] | None,
                then: Callable[[], None]) -> None:
    """Show the list of what could be signed, and record what is confirmed.

    Args:
        page: The screen it is asked over.
        print_: The edition.
        among: Only these sheets; None: all of it.
        then: Called once it is recorded.
    """
    ready, refused = [], []
    for sheet in unsigned_sheets(page.editions.register.edition(print_), among):
        refusal = page.editions.would(a.Sign(print_, (sheet,))).refusal
        if refusal is None:
            ready.append(sheet)
        else:
            refused.append(f"Not in this list: {refusal}")
    if not ready:
        page.desk.say(sanitize("; ".join(refused) or "Nothing to sign: number the sheets first."))
        return
    listed, about = page.editions.to_sign(a.Sign(print_, tuple(ready)))

    def take(signed: tuple[str, ...] | None) -> None:
        if signed and page.act(a.Sign(print_, signed), warned=True).ok:
            then()

    page.app.push_screen(SignList(listed, (*about, *refused)), take)
