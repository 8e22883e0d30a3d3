"""Putting right what the book says of a sheet: chosen from a list of what can be wrong about it.

Every question names its sheet, and the reason is asked last: without it nothing is written.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition import corrections as c
from benchapp.edition.conflicts.finding import settled_clashes
from benchapp.edition.numbers import label_text, number_words, place_word, sheet_words
from benchapp.edition.state import KINDS_OF_PROOF, WITHOUT_NUMBER, Edition
from benchapp.edition.view import found_sheet
from benchapp.events.moments import local_time
from benchapp.quantities import QuantityError
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.edition_base import EditionBase
from benchapp.screens.pick import Pick
from benchapp.screens.widgets.ask import Ask
from benchapp.session.actions import FOR_WORDS, SayFor
from benchapp.session.edition_links import of_sheet

_AT_HOME: Final = SafeText("stays at home, and the reason too. Empty: not known")
_WHY: Final = SafeText("what you saw, or the mistake. The record shows both")
_DAY: Final = SafeText("such as friday, 3 May or 2026-05-03. Empty: not known")


def name_with_label(e: Edition, sheet: str, fallback: str) -> str:
    """Which sheet a question is about: `K7, 12/40`."""
    h = e.holdings.get(sheet) or e.withdrawn.get(sheet)
    if h is None or h.bears is None or h.papers is not None:
        return fallback if h is None else sheet_words(h)
    return f"{sheet_words(h)}, {label_text(e, h.bears)}"


def correct_void(page: EditionBase, print_: str, number: int, then: Callable[[], None]) -> None:
    """A number that no sheet has was voided by mistake: why, and it is free again."""
    def do(why: str) -> str | None:
        refused = page.typed(a.UnvoidNumber(print_, number, why))
        then()
        return refused

    words = number_words(page.editions.register.edition(print_), number)
    page.app.push_screen(Ask(sanitize(f"{words} is not void. Why?"), hint=_WHY, do=do))


def correct_edition(page: EditionBase, print_: str, then: Callable[[], None]) -> None:
    """Its plate is not cancelled, or a clash is not settled: which, and why."""
    register = page.editions.register
    title = page.editions.title(print_)[0]
    known: list[tuple[str, a.ByMistake]] = []
    if register.edition(print_).cancellings:
        known.append(("its plate is not cancelled",
                      a.ByMistake(print_, "plate cancelled", None, "")))
    known += [(f"not settled: {x.text}", a.ByMistake(print_, "clash settled", x.key, ""))
              for x in settled_clashes(register, print_)]
    if not known:
        page.desk.say(sanitize(f"{title}: to correct a sheet, press w and choose it"))
        return

    def why(place: int | None) -> None:
        if place is None:
            return
        words, action = known[place]

        def do(text: str) -> str | None:
            refused = page.typed(replace(action, why=text))
            then()
            return refused

        page.app.push_screen(Ask(sanitize(f"{title}: {words}. Why?"), hint=_WHY, do=do))

    page.app.push_screen(Pick(sanitize(f"{title}: what is true?"), [sanitize(x) for x, _ in known],
                              SafeText("To correct a sheet, press w in the list of editions")), why)


class Correcting:
    """One correction, from the list to the reason."""

    def __init__(self, page: EditionBase, print_: str, sheet: str,
                 then: Callable[[], None]) -> None:
        """Of that sheet; `then` is called when it was put right."""
        self._page, self._print, self._sheet, self._then = page, print_, sheet, then
        register = page.editions.register
        self._e = register.edition(print_)
        known = register.sheets.get(sheet)
        self._name = name_with_label(self._e, sheet, sheet if known is None else
                                     sheet_words(known))

    def begin(self) -> None:
        """List what can be wrong about it."""
        listed = c.can_be_wrong(self._page.editions.register, self._print, self._sheet)
        held = self._e.holdings.get(self._sheet)
        about = None if held is None else found_sheet(self._e, held)
        lines = () if about is None else (about.text, *about.corrected[-2:])
        self._pick(f"{self._name}: what is true?", [w.text for w in listed],
                   lambda place: self._ask(listed[place]), " · ".join(lines))

    # -- what is true -----------------------------------------------------------------------

    def _ask(self, wrong: c.Wrong) -> None:
        title = c.asked_of(wrong, self._name)
        if wrong.asks == "nothing":
            self._why(wrong, "")
        elif wrong.asks == "place":
            self._pick(title, [place_word(p) for p in c.PLACES],
                       lambda place: self._why(wrong, c.PLACES[place]))
        elif wrong.asks == "kind":
            kinds = tuple(KINDS_OF_PROOF)
            self._pick(title, [f"{k}: {KINDS_OF_PROOF[k]}" for k in kinds],
                       lambda place: self._number_of(wrong, kinds[place]))
        elif wrong.asks == "pulled for":
            self._pick(title, [FOR_WORDS[x] for x in c.PULLED_FOR],
                       lambda place: self._why(wrong, c.PULLED_FOR[place]))
        elif wrong.asks == "number":
            self._type(wrong, title, SafeText("such as 13, 13/40 or AP 2"))
        else:
            day = wrong.asks == "day"
            self._type(wrong, title, _DAY if day else SafeText("such as consignment") if
                       wrong == c.TERMS else _AT_HOME, empty=c.NOT_KNOWN)

    def _number_of(self, wrong: c.Wrong, kind: str) -> None:
        if kind in WITHOUT_NUMBER:
            self._why(wrong, kind)
            return
        self._type(wrong, f"Which number of its kind does {self._name} have?",
                   SafeText(f"such as 2. Empty: no number after {kind}"), before=f"{kind} ",
                   empty="")

    def _type(self, wrong: c.Wrong, title: str, hint: SafeText, *, before: str = "",
              empty: str | None = None) -> None:
        def said(text: str) -> str:
            return c.day_text(wrong, before + (text or empty or ""),
                              local_time(self._page.desk.now()).date())

        def check(text: str) -> str | None:
            try:
                meant = said(text)
            except QuantityError as error:
                return str(error)
            action = c.correction_of(self._page.editions.register, self._print, self._sheet,
                                     wrong, meant, "looked")
            refused = action if isinstance(action, Refusal) else (
                self._page.editions.would(action).refusal)
            return None if refused is None else str(refused)

        def take(text: str | None) -> None:
            if text is not None:
                self._why(wrong, said(text))

        self._page.app.push_screen(Ask(sanitize(title), hint=hint, check=check,
                                       empty=empty is not None), take)

    # -- why, and done -----------------------------------------------------------------------

    def _why(self, wrong: c.Wrong, said: str) -> None:
        what = wrong.text if wrong.asks == "nothing" else f"{wrong.words} {said}"
        self._page.app.push_screen(Ask(
            sanitize(f"{self._name}: {what}. Why?"),
            hint=_WHY,
            do=lambda why: self._do(wrong, said, why)))

    def _do(self, wrong: c.Wrong, said: str, why: str) -> str | None:
        page = self._page
        if wrong == c.PULLED:
            refused = self._pulled_for(said, why)
        else:
            action = c.correction_of(page.editions.register, self._print, self._sheet, wrong,
                                     said, why)
            refused = str(action) if isinstance(action, Refusal) else page.typed(action)
        self._then()
        return refused

    def _pulled_for(self, purpose: str, why: str) -> str | None:
        """What a pull was for is told in its session, also after that was closed."""
        of = of_sheet(self._sheet)
        if of is None:
            return "No session pulled it"
        self._page.workshop.look_at(of[0])
        refused = self._page.desk.do(SayFor(purpose, None, of[1], why), session=of[0],
                                     gated=True).refusal
        return None if refused is None else str(refused)

    def _pick(self, title: str, answers: Sequence[str], do: Callable[[int], None],
              about: str = "") -> None:
        def take(place: int | None) -> None:
            if place is not None:
                do(place)

        self._page.app.push_screen(Pick(sanitize(title), [sanitize(x) for x in answers],
                                        sanitize(about)), take)
