"""Picking a tag by two keys at most: those used last by one, the rest by group and word.

A tag the sheet bears already is shown so, and picking it takes it off.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from benchapp.screens.laid_over import LaidOver
from benchapp.screens.pick import CARD
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Row, Rows, fit
from benchapp.session.tags import GLOSSES
from benchapp.shown import Shown, visible

_SIGNS: Final = "123456789abcdefghijklmnopqrstuvwxyz"


class TagPick(LaidOver[str | None]):
    """Gives a tag, or None where it was left."""

    DEFAULT_CSS = CARD.format(name="TagPick") + """
    TagPick Rows { margin: 1 0 0 0; height: auto; max-height: 17; background: $surface; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "give_up", show=False)]

    def __init__(self, sheet: Shown, groups: Mapping[str, Sequence[str]], last: Sequence[str] = (),
                 on: Sequence[str] = ()) -> None:
        """Offer tags.

        Args:
            sheet: What the sheet is called.
            groups: All tags by group.
            last: Those used last; offered first.
            on: Those the sheet bears.
        """
        super().__init__()
        self._sheet, self._groups, self._last, self._on = sheet, groups, tuple(last), tuple(on)
        self._group: str | None = None
        self._targets: list[tuple[str, str]] = []

    def compose(self) -> ComposeResult:
        """Words or groups, each with its key."""
        with Vertical(id="card"):
            yield Para(visible(f"Tag for {self._sheet}"), id="title")
            yield Rows(unchosen=True)
            yield KeyLine((("1-9 a-z", "take it"), ("↓ enter", "choose"), ("escape", "back")))

    def on_mount(self) -> None:
        """Begin with those used last."""
        self._show()

    def _show(self) -> None:
        if self._group is None:
            own = [t for t in self._on if t not in self._last]
            self._targets = [("tag", t) for t in (*own, *self._last)]
            self._targets += [("group", g) for g, words in self._groups.items() if words]
        else:
            self._targets = [("tag", t) for t in self._groups[self._group]]
        rows = [self._row(i, kind, name) for i, (kind, name) in enumerate(self._targets)]
        self.query_one(Rows).set_rows(rows)

    def _row(self, place: int, kind: str, name: str) -> Row:
        sign = visible(_SIGNS[place] if place < len(_SIGNS) else " ")
        if kind == "group":
            words = visible(", ".join(self._groups[name]))
            return Row(((Shown(f"{sign}  "), "mark"), (fit(visible(name), 12), "wash"),
                        (words, "quiet")), id=str(place))
        on = name in self._on
        gloss = GLOSSES.get(name, "")
        said = "on it: takes it off" if on else gloss
        return Row(((Shown(f"{sign}  "), "mark"), (Shown("● " if on else "  "), "good"),
                    (fit(visible(name), 24), "strong"), (visible(said), "quiet")), id=str(place))

    def on_key(self, event: events.Key) -> None:
        """A number or letter takes a word, or opens a group."""
        place = _SIGNS.find(event.character or "\0")
        if place >= 0:
            event.stop()
            self._take(place)

    def on_rows_taken(self, event: Rows.Taken) -> None:
        """Enter does the same with the line chosen."""
        event.stop()
        self._take(int(event.row_id))

    def _take(self, place: int) -> None:
        if place >= len(self._targets):
            return
        kind, name = self._targets[place]
        if kind == "tag":
            self.dismiss(name)
        else:
            self._group = name
            self._show()

    def action_give_up(self) -> None:
        """From a group back to the groups, from them away."""
        if self._group is None:
            self.dismiss(None)
        else:
            self._group = None
            self._show()
