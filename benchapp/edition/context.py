"""What a decision about an edition is made in: the drafts, and the register with them. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TypedDict

from benchapp.decision import DecisionContext, written_ids
from benchapp.edition.fold import apply_edition_entry
from benchapp.edition.holding import Holding, SheetLabel
from benchapp.edition.state import Edition, Register, Sheet
from benchapp.edition.streams import print_stream, private_stream
from benchapp.events.edition import ToldInPrivate
from benchapp.events.entry import Entry
from benchapp.events.event import BookEvent
from benchapp.events.field_types import ABSENT, LabelFields


class SheetFields(TypedDict):
    """The fields that name a sheet."""

    print: str
    sheet: str
    mark: str | None
    session: str | None


class SheetFieldsOver(SheetFields):
    """The same, with the entries that what is told is written over."""

    over: tuple[str, ...]


@dataclass(slots=True)
class EditionContext(DecisionContext[Register]):
    """Drafts in the making, for the print `id`."""

    id: str

    @property
    def e(self) -> Edition:
        """The edition as it will be."""
        return self.state.edition(self.id)

    def fold(self, entry: Entry) -> Register:
        """The register after one more entry."""
        return apply_edition_entry(self.state, entry)

    def emit(self, event: BookEvent) -> None:
        """Draft an entry of the print."""
        self.emit_to(print_stream(self.id, self.state.origin), event)

    def tell(self, sheet: str, words: Mapping[str, str]) -> None:
        """Draft the printer's own words on what this action did to a sheet, if there are any."""
        said = {k: v.strip() for k, v in words.items() if v.strip()}
        if said:
            self.reword(sheet, said, None)

    def reword(self, sheet: str, words: Mapping[str, str], over: Iterable[str] | None) -> None:
        """Draft words in place of those of some actions; None: they are said for the first time."""
        self.emit_to(private_stream(self.id, self.state.origin), ToldInPrivate(
            print=self.id, sheet=sheet, words=words,
            over=ABSENT if over is None else written_ids(over)))

    def holding(self, sheet: str) -> Holding | None:
        """The sheet as the register has it, or as the sessions do; None: no such sheet."""
        held = self.e.holdings.get(sheet) or self.e.withdrawn.get(sheet)
        if held is not None:
            return held
        known = self.state.sheets.get(sheet)
        return None if known is None else Holding(
            known.id, known.mark, known.session, shared=known.shared)

    def sheet(self, sheet: str) -> Sheet | None:
        """What the sessions say of it; None: it is known from old papers, or not at all."""
        return self.state.sheets.get(sheet)

    def of(self, holding: Holding) -> SheetFields:
        """The fields that name a sheet."""
        return {"print": self.id, "sheet": holding.sheet, "mark": holding.mark,
                "session": holding.session}

    def over(self, holding: Holding, ids: Iterable[str]) -> SheetFieldsOver:
        """The same, of an entry that is written over these, as far as they are in the book."""
        return {**self.of(holding), "over": written_ids(ids)}

    def tells(self, holding: Holding) -> SheetFieldsOver:
        """The same, of an entry that tells of the sheet over what is told of it now.

        Now: also over what this action took back for it.
        """
        now = self.holding(holding.sheet) or holding
        return self.over(now, now.over)


def label_fields(label: SheetLabel | None) -> LabelFields | None:
    """What stands on a sheet, as an entry has it."""
    return None if label is None else {
        "kind": label.kind, "number": label.number, "of": label.of}
