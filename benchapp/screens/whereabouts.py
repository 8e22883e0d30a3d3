"""Where the sheets of an edition are: looked up by number, given out, taken in, lost.

The printer's own words (to whom, when, a note) stay hidden until a key shows them, and are
marked as what stays at home: somebody may be looking over a shoulder.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import ClassVar, Final

from textual.binding import Binding, BindingType

from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition import view
from benchapp.edition.holding import OUT, Holding
from benchapp.edition.numbers import number_words, sheet_words
from benchapp.edition.parse import parse_move
from benchapp.edition.whereabouts import PlaceGroup, head_words, place_groups
from benchapp.events.moments import local_time
from benchapp.quantities import QuantityError, items_text, read_day
from benchapp.reports.whereabouts import (
    detail_words,
    gallery_words,
    lent_page,
    lent_table,
    with_galleries,
)
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.correcting import Correcting, correct_void, name_with_label
from benchapp.screens.edition_base import EditionList
from benchapp.screens.page_base import PageHead
from benchapp.screens.paper_files import write_paper
from benchapp.screens.pick import Pick
from benchapp.screens.widgets.ask import Ask
from benchapp.screens.widgets.rows import Row, Rows, wrap_rows

#: The studio's own places, as they are picked.
_HERE: Final = (("drawer", SafeText("in the drawer")), ("framed", SafeText("framed")),
                ("boards", SafeText("under the boards")))
_TERMS: Final = (("consignment", SafeText("on consignment")),
                 ("sale or return", SafeText("on sale or return")),
                 (None, SafeText("terms not recorded")))
#: A line of a void number that no sheet has; no sheet is called so.
_VOID: Final = "void number "
_HOME: Final = SafeText("stays at home: not in papers or exports, unless you ask for it")


class WhereScreen(EditionList):
    """Every sheet that bears something, and where it is."""

    CSS = "WhereScreen Rows { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("w", "look_up", "where is …"),
        Binding("g", "gallery", "gallery"),
        Binding("v", "out('given')", "given"),
        Binding("s", "out('sold')", "sold"),
        Binding("i", "into", "came back"),
        Binding("m", "into", "now in …"),
        Binding("l", "lost", "lost"),
        Binding("delete", "destroyed", "destroyed"),
        Binding("c", "correct", "correct"),
        Binding("o", "own_words", "own words"),
        Binding("p", "gallery_list", "gallery's list")]

    def __init__(self, print_: str | None = None, sheet: str | None = None) -> None:
        """Those of that print, at that sheet; None: of the last session's, at the first."""
        super().__init__()
        self._print = print_
        self._at = sheet
        self._private = False

    @property
    def _meant(self) -> str | None:
        days = self.editions.days
        return self._print or (days[-1].print if days else None)

    # -- showing ---------------------------------------------------------------------------

    def on_mount(self) -> None:
        """Show them, at the sheet meant."""
        super().on_mount()
        if self._at is not None:
            self.query_one(Rows).choose(self._at)

    def follow(self) -> None:
        """Show how they stand, when something was written."""
        state = self.workshop.book.last_sequence(), self.size.width, self._private
        if state == self._shown:
            return
        self._shown = state
        print_ = self._meant
        places = () if print_ is None else place_groups(
            self.editions.register, print_, self._today())
        out = sum(g.count for g in places if g.place in OUT)
        late = sum(g.late for g in places)
        title = "" if print_ is None else self.editions.title(print_)[0]
        self.query_one(PageHead).set(sanitize(f"Where · {title}" if title else "Where"),
                                     sanitize(f"{out} out" + (f" · {late} overdue" if late
                                                              else "")))
        across = max(20, self.size.width - 6)
        known = [g for g in places if g.sheets]
        none = [] if print_ is None else self._no_sheet(print_)
        self.query_one(Rows).set_rows(
            [*wrap_rows(head_words(places), across, "text"),
             *(line for g in known for line in self._group(g, across)), *none] if (
                known or none) else [
                Row(((SafeText("No sheet has a number yet. Sort the sheets first."), "quiet"),))])

    def _group(self, g: PlaceGroup, across: int) -> list[Row]:
        named = g.heading[:1].upper() + g.heading[1:]
        head = Row(((sanitize(named), "strong"),), heading=True)
        return [head, *(line for r in g.sheets for line in self._lines(r, across))]

    def _lines(self, r: view.SheetRow, across: int) -> list[Row]:
        held = self._holdings()[r.sheet or ""]
        head = Row(((sanitize(r.label), "strong"), (sanitize(f"  {r.who}, {r.standing}"), "quiet")),
                   id=r.sheet)
        words = self._words(held)
        where = "" if r.state == "destroyed" else detail_words(r)
        lines = [head, *(wrap_rows(where, across, first=((SafeText("    "), "text"),))
                         if where else [])]
        late = view.days_over(held, self._today())
        if late:
            days = "1 day" if late == 1 else f"{late} days"
            lines.append(Row(((SafeText("  ! "), "fault"), (SafeText(f"{days} overdue"), "fault"))))
        if words and not self._private:
            lines.append(Row(((SafeText("    own words: o shows them"), "quiet"),)))
        elif words:
            lines += [row for k, v in words for row in wrap_rows(
                f"{k}: {v}", across, "text", first=((SafeText("    own words  "), "wash"),))]
        return lines

    def _no_sheet(self, print_: str) -> list[Row]:
        """The numbers voided without a sheet, and lines of old papers that were a mistake."""
        e = self.editions.register.edition(print_)
        void = [(f"{_VOID}{n}", number_words(e, n), v.why) for n, v in sorted(e.voids.items())
                if not v.sheets and not v.cut]
        gone = [(h.sheet, sheet_words(h), "there is no such sheet") for h in e.withdrawn.values()]
        found = (("Void, with no sheet", void), ("No such sheet", gone))
        return [row for heading, lines in found if lines for row in (
            Row(((SafeText(heading), "strong"),), heading=True), *(
                Row(((sanitize(name), "strong"), (sanitize(f"  {why}"), "quiet")), id=id)
                for id, name, why in lines))]

    def _today(self) -> date:
        return local_time(self.workshop.now()).date()

    def _holdings(self) -> dict[str, Holding]:
        return {} if self._meant is None else dict(
            self.editions.register.edition(self._meant).holdings)

    @staticmethod
    def _words(held: Holding) -> tuple[tuple[str, str], ...]:
        stay = held.place
        return (*held.words.items(), *(() if stay is None else held.words_at(stay).items()))

    # -- asking ----------------------------------------------------------------------------

    def action_look_up(self) -> None:
        """Where is that number, proof or mark? The list stands on it."""
        def take(text: str | None) -> None:
            sheet = Refusal("", rule="sheet") if text is None else self._sheet(text)
            if isinstance(sheet, str):
                self.query_one(Rows).choose(sheet)
                self.desk.say(sanitize(self._answer(sheet)))

        def check(text: str) -> str | None:
            sheet = self._sheet(text)
            return str(sheet) if isinstance(sheet, Refusal) else None

        self.app.push_screen(Ask(SafeText("Where is …?"),
                                 hint=SafeText("K7, 12/40, AP II or last:3"),
                                 check=check), take)

    def _sheet(self, said: str) -> str | Refusal:
        """The sheet of that name in this list, or why none."""
        sheet = self.editions.find_sheet(said, self._meant)
        if isinstance(sheet, str) and sheet not in self._holdings():
            return Refusal(f"{said} has no number in this edition", "sort it first", rule="sheet")
        return sheet

    def _answer(self, sheet: str) -> str:
        row = next(r for r in view.sheet_rows(self.editions.register, self._meant or "")
                   if r.sheet == sheet)
        return f"{row.label}: {row.where or 'place not recorded'}"

    def action_own_words(self) -> None:
        """Show the printer's own words, or hide them again."""
        self._private = not self._private
        self.again()

    def action_gallery_list(self) -> None:
        """Write the list of the gallery that has the sheet chosen: all sheets it has."""
        def ask(sheet: str) -> None:
            named = [(p, *self.editions.title(p)) for p in self.editions.prints()]
            held = self._holdings()[sheet]
            lent = with_galleries(self.editions.register, named)
            if all(x.row.sheet != sheet for _, x in lent):
                self.desk.say(SafeText("Choose a sheet that is with a gallery first"))
                return
            theirs = [x for to, x in lent if to.casefold() == gallery_words(held).casefold()]
            day = self._today().isoformat()

            def write(place: int | None) -> None:
                if place == 0:
                    write_paper(self.desk, f"gallery-{day}.html", lent_page(theirs, day))
                elif place == 1:
                    write_paper(self.desk, f"gallery-{day}.csv", "".join(lent_table(theirs)))

            self.app.push_screen(Pick(
                sanitize(f"This gallery's list: {items_text(len(theirs), 'sheet')}"),
                (SafeText("as a page to send along (HTML)"), SafeText("as a table (CSV)")),
                SafeText(
                    "Number, title, terms and the day they are due back; no words of your own"),
            ), write)

        self._on_chosen(ask)

    # -- what happened ---------------------------------------------------------------------

    def _on_chosen(self, job: Callable[[str], None]) -> None:
        sheet = self.query_one(Rows).chosen
        if sheet is not None and self._meant is not None and not sheet.startswith(_VOID):
            job(sheet)

    def _move(self, sheet: str, place: str, *, terms: str | None = None, due: str | None = None,
              to: str = "") -> str | None:
        """It went there; why not."""
        e = self.editions.register.edition(self._meant or "")
        words = {"to": to} if to else {}
        wrong = self.typed(parse_move(e, sheet, place, terms=terms, due=due, words=words))
        self.again()
        return wrong

    def _move_by_key(self, sheet: str, place: str) -> None:
        if (wrong := self._move(sheet, place)) is not None:
            self.desk.say(sanitize(wrong), severity="warning")

    def action_out(self, place: str) -> None:
        """Given or sold: to whom is the printer's own word."""
        self._on_chosen(lambda sheet: self._to_whom(
            sheet, place, lambda to: self._move(sheet, place, to=to)))

    def _who(self, sheet: str) -> str:
        return name_with_label(self.editions.register.edition(self._meant or ""), sheet, sheet)

    def _to_whom(self, sheet: str, what: str, do: Callable[[str], str | None]) -> None:
        self.app.push_screen(Ask(sanitize(
            f"{self._who(sheet)} {what}: who has it? Empty: not recorded"),
                                 hint=_HOME, empty=True, do=do))

    def action_correct(self) -> None:
        """The book is wrong about it: from a list of what can be wrong."""
        chosen = self.query_one(Rows).chosen or ""
        if chosen.startswith(_VOID) and self._meant is not None:
            correct_void(self, self._meant, int(chosen.removeprefix(_VOID)), self.again)
        self._on_chosen(lambda sheet: Correcting(
            self, self._meant or "", sheet, self.again).begin())

    def action_gallery(self) -> None:
        """With a gallery: on which terms, until when, which."""
        def ask(sheet: str) -> None:
            today = local_time(self.desk.now()).date()

            def check(text: str) -> str | None:
                try:
                    _due(text, today)
                except QuantityError as error:
                    return str(error)
                return None

            def who(place: int, text: str) -> None:
                due = _due(text, today)
                until = "" if due is None else f", due back {due}"
                self._to_whom(sheet, f"with a gallery{until}", lambda to: self._move(
                    sheet, "gallery", terms=_TERMS[place][0], due=due, to=to))

            def terms(place: int | None) -> None:
                if place is not None:
                    self.app.push_screen(
                        Ask(sanitize(f"{self._who(sheet)}: due back on which day? Empty: not "
                                    "recorded"),
                            hint=SafeText("such as 30 November, +90 or 2026-11-30"),
                            check=check, empty=True),
                        lambda due: None if due is None else who(place, due))

            self.app.push_screen(Pick(sanitize(f"{self._who(sheet)} with a gallery"),
                                      [t for _, t in _TERMS]), terms)

        self._on_chosen(ask)

    def action_into(self) -> None:
        """It came back, or lies somewhere else in the studio."""
        def ask(sheet: str) -> None:
            def take(place: int | None) -> None:
                if place is not None:
                    self._move_by_key(sheet, _HERE[place][0])

            self.app.push_screen(Pick(sanitize(f"{self._who(sheet)} is in the studio now"),
                                      [words for _, words in _HERE]), take)

        self._on_chosen(ask)

    def action_lost(self) -> None:
        """Nobody knows where it is; found again, it came back."""
        def ask(sheet: str) -> None:
            def take(place: int | None) -> None:
                if place == 0:
                    self._move_by_key(sheet, "lost")

            self.app.push_screen(Pick(sanitize(f"{self._who(sheet)}: is it lost?"), [
                SafeText("lost; when it is found, it came back")], by_number=True), take)

        self._on_chosen(ask)

    def action_destroyed(self) -> None:
        """It is no more: with the reason."""
        def ask(sheet: str) -> None:
            def do(why: str) -> str | None:
                wrong = self.typed(a.Destroy(self._meant or "", sheet, why))
                self.again()
                return wrong

            why = f"Why is {self._who(sheet)} destroyed? You cannot undo this"
            self.app.push_screen(Ask(sanitize(why),
                                     hint=SafeText("such as: torn in the frame"), do=do))

        self._on_chosen(ask)


def _due(text: str, today: date) -> str | None:
    """A day to come by ISO 8601, or None where nothing is said.

    Raises:
        QuantityError: It is none.
    """
    return read_day(text, today, "coming").isoformat() if text else None
