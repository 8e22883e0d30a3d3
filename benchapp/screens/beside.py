"""Sheets beside each other in words: the standard, this impression, and another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.binding import Binding, BindingType

from benchapp.book import BookError
from benchapp.book.queries import print_of_row
from benchapp.decision import Refusal
from benchapp.reports import comparison as beside
from benchapp.reports.comparison import ComparedLine
from benchapp.reports.reading import standard_of
from benchapp.reports.review import SheetReview
from benchapp.safe_text import SafeText
from benchapp.screens.beside_base import BesideBase
from benchapp.screens.widgets.ask import Ask
from benchapp.session.edition_links import of_sheet

_NO_STANDARD = ("No BAT is approved yet. Press B while you sort to make a sheet the BAT. To name a "
                "standard until then: benchapp edition --standard K7")


@dataclass(frozen=True, slots=True)
class SheetPlace:
    """A sheet: the id of its session, and its number there."""

    session: str
    number: int

    @property
    def day(self) -> str:
        """What the printer calls the session."""
        return self.session.partition("@")[0]


class BesideScreen(BesideBase):
    """The standard where there is one, then two sheets of the print, each chosen by keys."""

    OWN = (("← →", "another sheet"), ("w", "which sheet"))
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("w", "mark", "which sheet", show=False)]

    def __init__(self, session: str | None = None, number: int | None = None) -> None:
        """Show that sheet of a session beside the one before it; None: the last pulled."""
        super().__init__(session)
        self._number = number
        self._places: list[SheetPlace] = []
        self._standard: SheetPlace | None = None
        self._word = "BAT"
        self._foreign = False

    def begin(self) -> None:
        """The standard, this sheet, the one pulled before it."""
        if self._session is None:
            return
        numbers = self._numbers(self._session)
        number = self._number or (numbers[-1] if numbers else None)
        if number is None:
            return
        this = SheetPlace(self._session, number)
        self._places = [this, self._near(this, -1) or self._near(this, 1) or this]
        self._find_standard()

    def _find_standard(self) -> None:
        row = next(r for r in self._days if r.id == self._session)
        try:
            found = standard_of(self.workshop.book, print_of_row(row))
        except BookError as error:
            self.desk.fault = str(error)
            return
        sheet, self._word = found or (None, "BAT")
        of = None if sheet is None else of_sheet(sheet)
        self._foreign = sheet is not None and of is None
        r = None if of is None else self.read(of[0])
        if of is not None and r is not None:
            number = next((i.number for i in r.impressions if i.sheet == sheet), None)
            self._standard = None if number is None else SheetPlace(of[0], number)

    # -- showing ----------------------------------------------------------------------------

    def named(self) -> str:
        """Which print."""
        r = None if self._session is None else self.read(self._session)
        return "Side by side" if r is None else f"Side by side · {r.print}"

    def heads(self) -> Sequence[tuple[str, str]]:
        """Mark and session of each."""
        if not self._places:
            return ()
        names = ("this", "another", self._word)
        return [(f"{self._mark(p)} {words}", p.day)
                for p, words in zip(self._columns(), names, strict=False)]

    def lines(self) -> Sequence[ComparedLine]:
        """Everything said of each."""
        return beside.compare_sheets([self._told(p) for p in self._columns()])

    def aside(self) -> str:
        """Whether there is a BAT, or a standard until there is one."""
        return "no BAT yet" if self._standard is None and self._places else ""

    def hint(self) -> str:
        """What is missing."""
        if not self._places:
            return "No sheet has been pulled yet."
        if self._foreign:
            return (f"The {self._word} is known from old papers only; how it was made is not "
                    "recorded")
        return _NO_STANDARD if self._standard is None else ""

    def _columns(self) -> list[SheetPlace]:
        """What stands over the text: the two in hand, and the standard where there is one."""
        return [*self._places, *([] if self._standard is None else [self._standard])]

    def _told(self, place: SheetPlace) -> tuple[str, SheetReview] | None:
        i = self._impression(place)
        return None if i is None else (place.day, i)

    def _impression(self, place: SheetPlace) -> SheetReview | None:
        r = self.read(place.session)
        return None if r is None else next(
            (i for i in r.impressions if i.number == place.number), None)

    def _mark(self, place: SheetPlace) -> str:
        i = self._impression(place)
        return f"no. {place.number}" if i is None or not i.mark else str(i.mark)

    # -- choosing ---------------------------------------------------------------------------

    def _numbers(self, session: str) -> list[int]:
        r = self.read(session)
        return [] if r is None else [i.number for i in r.impressions]

    def _near(self, place: SheetPlace, by: int) -> SheetPlace | None:
        """The next sheet of the print, over the days; None past the first and the last."""
        numbers = self._numbers(place.session)
        at = numbers.index(place.number) + by
        if 0 <= at < len(numbers):
            return SheetPlace(place.session, numbers[at])
        ids = [r.id for r in self._days]
        days = ids[ids.index(place.session) + 1 :] if by > 0 else (
            ids[: ids.index(place.session)][::-1])
        for id_ in days:
            if found := self._numbers(id_):
                return SheetPlace(id_, found[0 if by > 0 else -1])
        return None

    def move(self, by: int) -> None:
        """The next sheet in the column in hand."""
        if self._places:
            place = self._near(self._places[self._in_hand], by)
            if place is None:
                self.desk.say(SafeText("That is the last sheet of this print" if by > 0
                                    else "That is the first sheet of this print"))
                return
            self._places[self._in_hand] = place

    def action_mark(self) -> None:
        """The sheet of that name, in the column in hand."""
        def do(text: str) -> str | None:
            place = self._named(text)
            if isinstance(place, Refusal):
                return str(place)
            if self._places:
                self._places[self._in_hand] = place
                self.redraw()
            return None

        self.app.push_screen(
            Ask(SafeText("Which sheet?"), hint=SafeText("K7, 12/40, AP II or last:3"), do=do))

    def _named(self, said: str) -> SheetPlace | Refusal:
        days = {r.id: print_of_row(r) for r in self._days}
        sheet = self.workshop.editions.find_sheet(said, next(iter(days.values()), None))
        of = of_sheet(sheet) if isinstance(sheet, str) else None
        if of is not None and of[0] in days:
            return SheetPlace(*of)
        return sheet if isinstance(sheet, Refusal) else Refusal(
            f"No session of this print pulled {said}", "write another sheet", rule="print")
