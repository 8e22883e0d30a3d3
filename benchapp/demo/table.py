"""The printer at the table, days after printing: boards changed, sheets sorted, signed, sent out.

Everything goes through `EditionService` and the workshop, as from the screens and the
command line. Which sheets a thing is done to is found by what the book says of
them, so that it holds for any year; where there is none of the kind, nothing is done.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Final, Literal

from benchapp.clock import FakeClock
from benchapp.demo.printer import Printer, PrinterError
from benchapp.drying import actions as b
from benchapp.drying.stacks import Stack, wall_time
from benchapp.edition import actions as acts
from benchapp.edition.holding import IN_STUDIO, Holding
from benchapp.edition.numbers import taken_numbers
from benchapp.edition.state import AT_THE_PRESS, NUMBERED, Edition, Sheet
from benchapp.service.editions import EditionDay, EditionService
from benchapp.service.outcome import Outcome
from benchapp.session import actions as a
from benchapp.session.edition_links import of_sheet

_MINUTE: Final = 60_000
#: Whoever does not come at the hour comes so much later.
_LATE: Final = timedelta(hours=2, minutes=10)
#: What is not signed with the rest: it goes to nobody yet.
_UNSIGNED: Final = ("HC", "progressive")


class SortingTable:
    """The table on which a session's sheets are gone through, long after it.

    Attributes:
        editions: Of the book; one for the whole year, so that no day is folded twice.
    """

    def __init__(self, editions: EditionService, printer: Printer, clock: FakeClock,
                 rng: random.Random) -> None:
        """Sit down to the sheets that `printer` printed last. `clock` is moved from here."""
        self.editions = editions
        self._printer = printer
        self._clock = clock
        self._rng = rng
        self._session = printer.session.id
        editions.load()

    # -- under the boards -----------------------------------------------------------------

    def changes(self, late: frozenset[int],
                skips: dict[int, str]) -> Iterator[tuple[datetime, b.Action]]:
        """When the boards are seen to, and what is done; changes are counted from 1."""
        stack = self._stack()
        if stack is None:
            return
        for nth, change in enumerate(stack.changes(self.editions.hours), 1):
            after = _LATE if nth in late else timedelta(minutes=self._rng.randrange(4, 30))
            if nth in skips:
                skip = b.SkipChange(stack.id, skips[nth], change.index, change.nth)
                yield change.at + after, skip
            else:
                yield change.at + after, b.Changed(stack.id, change.index, change.nth)

    def see_to(self, action: b.Action) -> None:
        """Do that to a stack."""
        self._went(self.editions.on_boards(action), action)

    def weight(self, kg: int) -> None:
        """So much goes onto the boards."""
        if (stack := self._stack()) is not None:
            self.see_to(b.Weight(stack.id, kg * 1_000))

    def weigh(self, grams: float) -> None:
        """The sheet laid first is the control sheet: it goes on the scale."""
        if (stack := self._stack()) is not None and stack.sheets:
            self.see_to(b.Weigh(stack.id, stack.sheets[-1].sheet, round(grams * 1_000)))

    def take_down(self) -> None:
        """Nothing lies under these boards any more."""
        if (stack := self._stack()) is not None:
            self.see_to(b.TakeDown(stack.id))

    def _stack(self) -> Stack | None:
        mine = f"{self._session}."
        return next((s for s in self.editions.boards.up if s.id.startswith(mine)), None)

    # -- sorting --------------------------------------------------------------------------

    def look_again(self) -> None:
        """What was doubtful when it was wet is judged dry: one passes, the next does not."""
        doubtful = [s for s in self._day.sheets
                    if s.verdict == "doubtful" and s.purpose not in AT_THE_PRESS]
        for n, sheet in enumerate(doubtful):
            of = of_sheet(sheet.id)
            if of is not None:
                self._clock.advance(2 * _MINUTE)
                self._printer.do(a.Judge("spoiled" if n % 2 else "keep", impression=of[1]))
        self.editions.load()

    def approve(self, by: str) -> None:
        """The last sheet kept on this day is the BAT, and is signed as that."""
        kept = [s.id for s in self._day.sheets if s.verdict == "keep"]
        if kept:
            self._do(acts.GiveProof(self._print, kept[-1], "BAT", by=by))
            self._do(acts.Sign(self._print, (kept[-1],)))
            self._do(acts.Put(self._print, kept[-1], "framed"))

    def declare_open(self) -> None:
        """However many are asked for: this print has no number."""
        title, artist = self.editions.title(self._print)
        self._do(acts.Declare(self._print, title, artist, None, "open"))

    def short(self, why: str) -> None:
        """No more than the sheets there are to number now."""
        size = len(self._numbered()) + len(self._ready())
        if 0 < size < (self._edition.size or 0):
            self._do(acts.Lower(self._print, size, why))

    def number(self, most: int | None = None, *, passes_over: bool = False) -> None:
        """The next numbers, to `most` of the day's sheets that were kept.

        Args:
            most: None: all.
            passes_over: A number is left out before the first of them, by mistake.
        """
        sheets = self._ready()[:most]
        now = taken_numbers(self._edition).next
        if not sheets or now is None:
            return
        pairs = tuple((s, now + n) for n, s in enumerate(sheets, passes_over))
        self._do(acts.GiveNumbers(self._print, pairs))

    def keep_as(self, kind: str, whose: str | None = None) -> None:
        """The last of those kept becomes a proof."""
        ready = self._ready()
        if ready:
            self._do(acts.GiveProof(self._print, ready[-1], kind, whose=whose))

    def keep_progressives(self) -> None:
        """Sheets that went through with one plate only stay what they are."""
        for s in self._day.sheets:
            if s.verdict == "keep" and not self._whole(s):
                self._do(acts.GiveProof(self._print, s.id, "progressive"))

    def standard(self) -> None:
        """The first sheet numbered on this day is held against the others from now on."""
        first = next((s.id for s in self._day.sheets if s.id in self._edition.holdings
                      and self._whole(s)), None)
        if first is not None:
            self._do(acts.NameStandard(self._print, first))

    def void(self, why: str) -> None:
        """Numbers passed over are never used."""
        now = taken_numbers(self._edition)
        for number in [n for n in now.free if n < max(now.taken, default=0)]:
            self._do(acts.VoidNumber(self._print, number, why))

    def destroy(self, why: str) -> None:
        """The last of the day's numbers: the number stays used."""
        mine = {s.id for s in self._day.sheets}
        numbered = [h for h in self._numbered() if h.sheet in mine]
        if numbered:
            self._do(acts.Destroy(self._print, numbered[-1].sheet, why))

    def sign(self) -> None:
        """Whatever bears a number or a kind is signed; all of it goes into the drawer."""
        e = self._edition
        bare = [s.id for s in self._day.sheets if e.form == "open" and s.verdict == "keep"
                and s.purpose == NUMBERED]
        ready = (*bare, *(h.sheet for h in e.holdings.values()
                          if h.bears is not None and h.bears.kind not in _UNSIGNED
                          and h.signed is None and h.destroyed is None))
        if not ready:
            return
        self._clock.advance(len(ready) * 2 * _MINUTE)
        self._do(acts.Sign(self._print, ready))
        for h in self._edition.holdings.values():
            if h.place is None and h.destroyed is None:
                self._do(acts.Put(self._print, h.sheet, "drawer"))

    # -- out of the studio ----------------------------------------------------------------

    def hand_out(self, place: Literal["gallery", "given", "sold"], to: str, *,
                 kind: str | None = NUMBERED, of: str | None = None,
                 due_in: int | None = None) -> None:
        """One signed sheet goes out: the lowest number of its kind that is here.

        Args:
            place: gallery (on consignment), given or sold.
            to: To whom: the printer's own words.
            kind: A number of the edition, a kind of proof, or None: it bears nothing.
            of: Title of the print; None: the day's.
            due_in: Days until it is due back.
        """
        print_ = next((p for p in self.editions.prints() if self.editions.title(p)[0] == of),
                      self._print)
        here = sorted((h for h in self._here(print_)
                       if (None if h.bears is None else h.bears.kind) == kind), key=_place)
        if not here:
            return
        day = wall_time(self._clock.now()).date()
        due = None if due_in is None else (day + timedelta(days=due_in)).isoformat()
        self._do(acts.HandOut(
            print_, here[0].sheet, place, terms="consignment" if place == "gallery" else None,
            day=day.isoformat(), due=due, words={"to": to}))

    # -- what there is --------------------------------------------------------------------

    @property
    def _day(self) -> EditionDay:
        return next(d for d in self.editions.days if d.row.id == self._session)

    @property
    def _print(self) -> str:
        return self._day.print

    @property
    def _edition(self) -> Edition:
        return self.editions.register.edition(self._print)

    def _whole(self, sheet: Sheet) -> bool:
        return len(set(sheet.plates)) == len(self._day.recipe.plates)

    def _ready(self) -> tuple[str, ...]:
        """The day's sheets of the edition that were kept, and nothing was made of yet."""
        held = self._edition.holdings
        return tuple(s.id for s in self._day.sheets
                     if s.verdict == "keep" and s.purpose not in AT_THE_PRESS
                     and self._whole(s) and s.id not in held)

    def _numbered(self) -> list[Holding]:
        """The sheets there that bear a number, the lowest first."""
        return sorted((h for h in self._edition.holdings.values() if h.destroyed is None
                       and h.bears is not None and h.bears.kind == NUMBERED), key=_place)

    def _here(self, print_: str) -> list[Holding]:
        held = self.editions.register.edition(print_).holdings.values()
        return [h for h in held if h.signed is not None and h.destroyed is None
                and h.place is not None and h.place.place in IN_STUDIO]

    def _do(self, action: acts.Action) -> None:
        self._clock.advance(_MINUTE)
        self._went(self.editions.do(action), action)

    @staticmethod
    def _went(answer: Outcome, action: object) -> None:
        if answer.refusal is not None:
            raise PrinterError(f"{action}: {answer.refusal}")


def _place(held: Holding) -> int:
    """Its number among its kind."""
    return 0 if held.bears is None else held.bears.number or 0
