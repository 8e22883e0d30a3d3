"""Sorting: sheets one by one against the standard; each becomes a number, a proof, or is no more.

What a sheet becomes is said by capital letters: the small ones judge at the bench and on the
round, and a slip between the two would give a number.

A tread takes what is proposed for the sheet in hand and goes on to the next.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll

from benchapp.edition import actions as a
from benchapp.edition.ending import is_cancellation_proof
from benchapp.edition.numbers import label_text, number_words, sheet_words, taken_numbers
from benchapp.edition.standard import held_against, what_it_is
from benchapp.edition.state import (
    AT_THE_PRESS,
    CANCELLATION,
    KINDS_OF_PROOF,
    Edition,
    Sheet,
)
from benchapp.files import file_slug
from benchapp.reports.documentation import sheet_page
from benchapp.reports.edition_papers import sheet_paper
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.correcting import Correcting
from benchapp.screens.edition_base import EditionBase
from benchapp.screens.page_base import WIDE, PageHead
from benchapp.screens.page_writing import Page, WritesPage
from benchapp.screens.pick import Pick
from benchapp.screens.sheet_talk import VERDICTS
from benchapp.screens.sign_list import ask_to_sign
from benchapp.screens.treading import HearsTread
from benchapp.screens.widgets.ask import Ask
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Line
from benchapp.screens.widgets.rows import Row, Rows, wrap_rows
from benchapp.session.edition_links import of_sheet
from benchapp.session.state import Session
from benchapp.views.beside_standard import compare_to_standard
from benchapp.views.sheets import SheetWhole, sheet_whole


class SortScreen(HearsTread, WritesPage, EditionBase):
    """The sheets of a print, a session or a stack, and what each becomes."""

    CSS = """
    SortScreen #both { layout: vertical; height: 1fr; }
    SortScreen.wide #both { layout: horizontal; }
    SortScreen #list { height: 45%; padding: 0 1; }
    SortScreen.wide #list { width: 50%; height: 1fr; }
    SortScreen #detail { height: 1fr; background: $surface; padding: 0 1; }
    SortScreen #running { height: 1; padding: 0 1; background: $panel;
        text-style: bold; color: $foreground; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("E", "become('edition')", "edition", tooltip="edition: its next number"),
        Binding("N", "number", "this number"),
        Binding("A", "become('AP')", "AP"),
        Binding("P", "proof", "proof"),
        Binding("B", "become('BAT')", "BAT"),
        Binding("backspace", "back_again", "undo"),
        Binding("C", "correct", "correct"),
        Binding("delete", "destroy", "destroyed"),
        Binding("S", "sign", "sign all")]
    NO_PEDAL = frozenset({"left", "right", "up", "down", "home", "end"})
    OTHER_KEYS: ClassVar = (("tread keys", "take what is proposed, and go on"),
                            ("enter", "take what is proposed, and go on"))

    def __init__(self, session: str | None = None, print_: str | None = None,
                 stack: str | None = None) -> None:
        """Sort the sheets of a session, of a print or of a stack; None of them: the last day's."""
        super().__init__()
        self._session, self._print, self._stack = session, print_, stack
        self._folded: dict[str, Session | None] = {}

    def compose(self) -> ComposeResult:
        """The sheets, the one chosen beside the standard, and the line to write from."""
        yield PageHead()
        yield KeyLine(self.foot)
        with Horizontal(id="both"):
            yield Rows(id="list")
            with VerticalScroll(id="detail", can_focus=False):
                yield Rows(id="compared").unfocusable()
        yield Line(id="running")

    def on_mount(self) -> None:
        """The first sheet nothing was decided of is in hand."""
        rows = self.query_one("#list", Rows)
        rows.focus()
        self.follow()
        first = next((s.id for s in self._sheets() if self._open(s)), None)
        if first is not None:
            rows.choose(first)
        self._detail()

    def on_resize(self) -> None:
        """Side by side where there is room."""
        self.set_class(self.size.width >= WIDE, "wide")
        if self.is_mounted:
            self._detail()

    def on_rows_moved(self) -> None:
        """Another sheet is in hand."""
        self._detail()

    def on_rows_taken(self, event: Rows.Taken) -> None:
        """Enter is a tread too."""
        event.stop()
        self.take_tread()

    # -- what is meant ----------------------------------------------------------------------

    def _print_id(self) -> str | None:
        """The print that is sorted."""
        if self._print is not None:
            return self._print
        sheets = self._sheets()
        return sheets[0].print if sheets else None

    def _sheets(self) -> list[Sheet]:
        """Those to be sorted, in pulling order."""
        editions = self.editions
        known = editions.register.sheets
        if self._stack is not None:
            stack = editions.boards.stacks.get(self._stack)
            lying = () if stack is None else reversed(stack.sheets)
            return [known[x.sheet] for x in lying if x.sheet in known]
        if self._print is not None:
            return [s for d in editions.days_of(self._print) for s in d.sheets]
        days = [d for d in editions.days if d.row.id == self._session] or list(editions.days[-1:])
        return [s for d in days for s in d.sheets]

    def _edition(self) -> Edition | None:
        print_ = self._print_id()
        return None if print_ is None else self.editions.register.edition(print_)

    def _open(self, sheet: Sheet) -> bool:
        """Whether nothing was decided of it yet, and something can be."""
        e = self._edition()
        held = None if e is None else e.holdings.get(sheet.id)
        if self._is_proof(sheet):
            return True
        return sheet.purpose not in AT_THE_PRESS and sheet.verdict != "spoiled" and (
            held is None or (held.bears is None and held.destroyed is None))

    def _chosen(self) -> Sheet | None:
        chosen = self.query_one("#list", Rows).chosen
        return None if chosen is None else self.editions.register.sheets.get(chosen)

    def _proposed(self, sheet: Sheet | None) -> int | None:
        """The number a tread gives: the next one, to a sheet that was judged keep."""
        e = self._edition()
        if (sheet is None or e is None or not self._open(sheet) or sheet.verdict != "keep"
                or self._is_proof(sheet)):
            return None
        return None if e.declared is None else taken_numbers(e).next

    def _is_proof(self, sheet: Sheet | None) -> bool:
        """Whether a tread keeps it as the cancellation proof."""
        e = self._edition()
        return sheet is not None and e is not None and is_cancellation_proof(
            self.editions.register, e.id, sheet)

    # -- showing ----------------------------------------------------------------------------

    def follow(self) -> None:
        """Show them, when something was written."""
        state = self.workshop.book.last_sequence()
        if state == self._shown:
            return
        self._shown = state
        self._folded = {}
        e, sheets = self._edition(), self._sheets()
        title = "" if e is None else self.editions.title(e.id)[0]
        self.query_one(PageHead).set(sanitize(f"Sort · {title}"), sanitize(
            "" if e is None else f"{sum(map(self._open, sheets))} to sort"))
        rows = [] if e is None else [self._row(e, s) for s in sheets]
        self.query_one("#list", Rows).set_rows(rows or [
            Row(((SafeText("There is no sheet to sort."), "quiet"),))])
        self._detail()

    @staticmethod
    def _row(e: Edition, s: Sheet) -> Row:
        held = e.holdings.get(s.id)
        became = "" if held is None or held.bears is None else label_text(e, held.bears)
        if held is not None and held.destroyed is not None:
            became = f"{became} destroyed".strip()
        elif held is not None and held.signed is not None:
            became += ", signed"
        for_ = "" if s.purpose == "edition" else f" · {s.purpose}"
        return Row(((sanitize(f"{sheet_words(s)}  "), "mark"),
                    (sanitize(f"{VERDICTS[s.verdict]}{for_}"), "text")), id=s.id,
                   right=sanitize(became))

    def _detail(self) -> None:
        sheet, e = self._chosen(), self._edition()
        if sheet is None or e is None:
            self.query_one("#compared", Rows).set_rows([])
            self.query_one("#running", Line).set(SafeText(""))
            return
        standard = held_against(e)
        one = self._whole(sheet.id)
        other = None if standard is None else self._whole(standard)
        known = None if standard is None else self.editions.register.sheets.get(standard)
        word = "" if standard is None else what_it_is(e, standard)
        head = "no BAT is approved yet" if standard is None else (
            f"the {word} itself" if standard == sheet.id else
            f"the {word} is known from old papers only" if known is None else
            f"against {sheet_words(known)}, the {word}")
        across = max(24, (self.size.width // 2 if self.size.width >= WIDE else self.size.width) - 6)
        out = [Row(((sanitize(sheet_words(sheet)), "strong"),)), *wrap_rows(head, across, "strong")]
        for x in () if one is None else compare_to_standard(one, other):
            first = ((sanitize(f"{x.what}: "), "quiet"),)
            text = x.sheet or "nothing"
            if other is not None:
                text += " · the same" if x.same else f" · {word}: {x.standard or 'nothing'}"
            out += wrap_rows(text, across, "quiet" if x.same else "text",
                             first=((first[0][0], "quiet"),))
        self.query_one("#compared", Rows).set_rows(out)
        self.query_one("#running", Line).set(sanitize(self._to_write(e, sheet)))

    def _to_write(self, e: Edition, sheet: Sheet) -> str:
        """What to write on the sheet in hand; or what a tread does."""
        held = e.holdings.get(sheet.id)
        if held is not None and held.bears is not None:
            return f"{sheet_words(sheet)} is {label_text(e, held.bears)} · the pedal goes on"
        if self._is_proof(sheet):
            return f"{sheet_words(sheet)} → the {CANCELLATION} · the pedal records it"
        n = self._proposed(sheet)
        if n is not None:
            return f"next sheet: {sheet_words(sheet)} → {number_words(e, n)} · the pedal gives it"
        if e.declared is None:
            return "The edition has no size yet. Give it with: benchapp edition --size N"
        return f"{sheet_words(sheet)}: the pedal leaves it as it is"

    def _whole(self, id_: str) -> SheetWhole | None:
        of = of_sheet(id_)
        if of is None:
            return None
        if of[0] not in self._folded:
            self._folded[of[0]] = self.editions.session(of[0])
        s = self._folded[of[0]]
        return None if s is None else sheet_whole(s, of[1])

    def page(self) -> Page | None:
        """The history of the sheet in hand."""
        sheet = self._chosen()
        if sheet is None:
            return None
        name = file_slug(f"{self.editions.title(sheet.print)[0]} {sheet_words(sheet)}")
        return Page(f"sheet-{name}", sheet_page(sheet_paper(
            self.editions, sheet.id, sheet.print, self.desk.settings.studio)))

    # -- deciding ---------------------------------------------------------------------------

    def take_tread(self) -> None:
        sheet, e = self._chosen(), self._edition()
        n = self._proposed(sheet)
        action: a.Action | None = None
        if sheet is not None and e is not None and self._is_proof(sheet):
            action = a.GiveProof(e.id, sheet.id, CANCELLATION)
        elif sheet is not None and e is not None and n is not None:
            action = a.GiveNumbers(e.id, ((sheet.id, n),))
        if action is not None and not self.act(action).ok:
            return
        self._next()

    def _next(self) -> None:
        """On to the next sheet, if there is one."""
        self.follow()
        self.query_one("#list", Rows).action_step(1)
        self._detail()

    def _on_chosen(self, job: Callable[[Edition, Sheet], None]) -> None:
        sheet, e = self._chosen(), self._edition()
        if sheet is not None and e is not None:
            job(e, sheet)

    def _decide(self, action: a.Action, *, on: bool = True) -> None:
        if self.act(action).ok and on:
            self._next()
        self.follow()

    def _typed(self, action: a.Action) -> str | None:
        wrong = self.typed(action)
        if wrong is None:
            self._next()
        self.follow()
        return wrong

    def action_become(self, kind: str) -> None:
        """The next number, or a proof of that kind."""
        self._on_chosen(lambda e, s: self._change(
            e, s, a.GiveNumbers(e.id, ((s.id, None),)) if kind == "edition"
            else a.GiveProof(e.id, s.id, kind)))

    def _change(self, e: Edition, s: Sheet, action: a.GiveNumbers | a.GiveProof) -> None:
        """Do it; a sheet that has a number or a kind already would lose that, so it is asked."""
        held = e.holdings.get(s.id)
        if held is None or held.bears is None or not self.editions.would(action).ok:
            self._decide(action)  # nothing is lost, or it is refused and said why
            return
        was = label_text(e, held.bears)
        becomes = "the next number" if isinstance(action, a.GiveNumbers) else (
            "the BAT" if action.kind == "BAT" else action.kind)

        def take(place: int | None) -> None:
            if place == 0:
                self._decide(action)

        self.app.push_screen(Pick(
            sanitize(f"{sheet_words(s)} is {was}. Change it to {becomes}?"),
            (sanitize(f"yes: {sheet_words(s)} becomes {becomes}, and {was} is free again"),),
            later=f"it stays {was}", by_number=True), take)

    def action_number(self) -> None:
        """A number by hand."""
        def ask(e: Edition, s: Sheet) -> None:
            def do(text: str) -> str | None:
                return self._typed(a.GiveNumbers(e.id, ((s.id, int(text)),)))

            self.app.push_screen(Ask(sanitize(f"Which number does {sheet_words(s)} have?"),
                                     hint=SafeText("a whole number"), check=_figure, do=do))

        self._on_chosen(ask)

    def action_proof(self) -> None:
        """A proof of whichever kind."""
        kinds = tuple(KINDS_OF_PROOF)

        def ask(e: Edition, s: Sheet) -> None:
            def take(place: int | None) -> None:
                if place is not None:
                    self._change(e, s, a.GiveProof(e.id, s.id, kinds[place]))

            self.app.push_screen(Pick(sanitize(f"Keep {sheet_words(s)} as"), tuple(
                sanitize(f"{k}: {KINDS_OF_PROOF[k]}") for k in kinds)), take)

        self._on_chosen(ask)

    def action_back_again(self) -> None:
        """What it was to be is taken back, before it is signed."""
        self._on_chosen(lambda e, s: self._decide(a.TakeNumberBack(e.id, s.id), on=False))

    def action_destroy(self) -> None:
        """It is no more: with the reason, and asked."""
        def ask(e: Edition, s: Sheet) -> None:
            def do(why: str) -> str | None:
                return self._typed(a.Destroy(e.id, s.id, why))

            self.app.push_screen(Ask(
                sanitize(f"Why is {sheet_words(s)} destroyed? You cannot undo this"),
                hint=SafeText("such as: creased under the blankets"), do=do))

        self._on_chosen(ask)

    def action_correct(self) -> None:
        """The book is wrong about it: from a list of what can be wrong."""
        self._on_chosen(lambda e, s: Correcting(self, e.id, s.id, self.follow).begin())

    def action_sign(self) -> None:
        """All numbered sheets of the list that are not signed yet: they are listed and asked."""
        e = self._edition()
        if e is not None:
            ask_to_sign(self, e.id, [s.id for s in self._sheets()], self.follow)


def _figure(text: str) -> str | None:
    return None if text.isascii() and text.isdigit() and 0 < int(text[:6]) < 10_000 else (
        f"{text} is not a count; write a whole number from 1 up")
