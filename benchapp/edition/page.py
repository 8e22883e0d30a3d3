"""The page a decision about an edition is written on: drafts, and the register with them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Final

from benchapp.edition.fold import apply_edition_entry
from benchapp.edition.holding import Holding, SheetLabel
from benchapp.edition.state import Edition, Register, Sheet
from benchapp.edition.streams import print_stream, private_stream
from benchapp.events.entry import Draft, Entry, Moment

#: Stands for the action being decided, which has no id yet, and begins those of its drafts.
PENDING: Final = "?"


@dataclass(slots=True)
class EditionContext:
    """Drafts in the making, for the print `id`."""

    register: Register
    id: str
    now: Moment
    word: str
    drafts: list[Draft] = field(default_factory=list)

    @property
    def e(self) -> Edition:
        """The edition as it will be."""
        return self.register.edition(self.id)

    def write(self, kind: str, /, **body: object) -> None:
        """Draft an entry of the print; each is folded at once, as it will be from disk."""
        self._draft(print_stream(self.id, self.register.origin), kind, body)

    def tell(self, sheet: str, words: Mapping[str, str]) -> None:
        """Draft the printer's own words on what this action did to a sheet, if there are any."""
        said = {k: v.strip() for k, v in words.items() if v.strip()}
        if said:
            self._draft(private_stream(self.id, self.register.origin), "told in private",
                        {"sheet": sheet, "words": said})

    def reword(self, sheet: str, words: Mapping[str, str], over: list[str]) -> None:
        """Draft words in place of those of some actions."""
        self._draft(private_stream(self.id, self.register.origin), "told in private",
                    {"sheet": sheet, "words": words, "over": over})

    def _draft(self, stream: str, kind: str, said: Mapping[str, object]) -> None:
        body = {"print": self.id, **said}
        self.drafts.append(Draft(stream, kind, body))
        id = f"{PENDING}{len(self.drafts)}"
        entry = Entry(id, stream, 0, PENDING, self.word, kind, self.now, body)
        self.register = apply_edition_entry(self.register, entry)

    def holding(self, sheet: str) -> Holding | None:
        """The sheet as the register has it, or as the sessions do; None: no such sheet."""
        held = self.e.holdings.get(sheet) or self.e.withdrawn.get(sheet)
        if held is not None:
            return held
        known = self.register.sheets.get(sheet)
        return None if known is None else Holding(
            known.id, known.mark, known.session, shared=known.shared)

    def sheet(self, sheet: str) -> Sheet | None:
        """What the sessions say of it; None: it is known from old papers, or not at all."""
        return self.register.sheets.get(sheet)

    @staticmethod
    def of(holding: Holding) -> dict[str, object]:
        """The fields that name a sheet."""
        return {"sheet": holding.sheet, "mark": holding.mark, "session": holding.session}

    def tells(self, holding: Holding) -> dict[str, object]:
        """The same, of an entry that tells of the sheet over what is told of it now.

        Now: also over what this action took back for it.
        """
        now = self.holding(holding.sheet) or holding
        return {**self.of(now), "over": written_ids(now.over)}


def written_ids(ids: Iterable[str]) -> list[str]:
    """Those of the entries that are in the book: what this very action drafts has no id yet."""
    return [x for x in ids if not x.startswith(PENDING)]


def body_of(bears: SheetLabel | None) -> dict[str, object] | None:
    """What stands on a sheet, as a body has it."""
    return None if bears is None else {
        "kind": bears.kind, "number": bears.number, "of": bears.of}
