"""A sheet and the standard side by side, in words. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from benchapp.views.sheets import SheetWhole


@dataclass(frozen=True, slots=True)
class BesideRow:
    """One thing said of both; empty: nothing was. `same`: the two do not differ in it."""

    what: str
    sheet: str
    standard: str

    @property
    def same(self) -> bool:
        """Whether both say the same."""
        return self.sheet == self.standard


def compare_to_standard(sheet: SheetWhole, standard: SheetWhole | None) -> tuple[BesideRow, ...]:
    """Verdict, tags, readings, notes and the settings in force, of both.

    Args:
        sheet: The one in hand.
        standard: What it is held against; None: there is none, and its side stays empty.
    """
    left, right = _said(sheet), {} if standard is None else _said(standard)
    names = [*left, *(x for x in right if x not in left)]
    return tuple(BesideRow(x, left.get(x, ""), right.get(x, "")) for x in names
                 if left.get(x) or right.get(x))


def _said(x: SheetWhole) -> dict[str, str]:
    line = x.line
    return {"for": line.purpose, "verdict": line.verdict or "not judged",
            "tags": ", ".join(line.tags), "readings": ", ".join(line.readings),
            "notes": "; ".join(line.notes), **dict(x.settings)}
