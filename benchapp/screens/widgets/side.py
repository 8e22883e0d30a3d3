"""One side of the Bench: what to do now, as large as it fits; or quiet, with the other clocks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widget import Widget

from benchapp.safe_text import SafeText, cell_width, sanitize
from benchapp.screens.bench_fit import GAP, Sizes, choose_sizes, in_two
from benchapp.screens.bench_words import Panel, Role, wrap_text
from benchapp.screens.glyphs import glyph_width as drawn
from benchapp.screens.widgets.band import Band
from benchapp.screens.widgets.numerals import Numerals
from benchapp.screens.widgets.plain_text import Line, Para

_ROLES: Final[tuple[Role, ...]] = ("text", "choice", "strong", "care", "quiet")
#: Who gets the rows there are: what hurts first, then what is asked.
_FIRST: Final[tuple[Role, ...]] = ("care", "choice", "text", "strong", "quiet")

class Side(Vertical):
    """A side, or the middle where both meet."""

    DEFAULT_CSS = """
    Side { height: 1fr; padding: 0 1; }
    Side .large { height: auto; }
    Side .marked { width: auto; height: auto; }
    Side .counted { color: $count; }
    Side .named, Side .do { text-style: bold; }
    Side .do { margin-bottom: 0; }
    Side .mark { color: $mark; }
    Side .under { color: $mark; text-style: bold; width: auto; min-width: 24; }
    Side .strong, Side .choice { text-style: bold; }
    Side .care { color: $fault; text-style: bold; }
    Side .gap { margin-top: 1; }
    """

    def __init__(self, kind: str, *, id: str) -> None:
        """Make an empty side.

        Args:
            kind: `inky`, `clean` or `wash`: what its head looks like.
            id: Name in the widget tree.
        """
        super().__init__(id=id)
        self._kind = kind
        self._shown: tuple[object, ...] = ()
        self._last: tuple[Panel, str] | None = None
        self._laid: tuple[bool, bool, bool] | None = None
        self._band = Band(kind, SafeText(""))
        self._do = Line(classes="do")
        self._names = Numerals(classes="named"), Numerals(classes="named gap")
        self._large = Horizontal(classes="large")
        self._count = Numerals(classes="counted")
        self._marked = Vertical(classes="marked")
        self._mark = Numerals(classes="mark")
        self._under = Line(classes="under")
        self._paras = {role: Para(classes=role) for role in _ROLES}

    def compose(self) -> ComposeResult:
        """All the parts; those without anything to show are hidden."""
        yield self._band
        yield self._do
        yield from self._names
        with self._large:
            yield self._count
            with self._marked:
                yield self._mark
                yield self._under
        yield from self._paras.values()

    def rest(self, words: SafeText, clocks: Sequence[SafeText]) -> None:
        """Show nothing to do: the name of the side, and clocks that run elsewhere."""
        self._last = None
        if self._is_shown(("rest", words, tuple(clocks))):
            return
        self._band.set("none", words)
        self._hide_others()
        self._put("text", list(clocks))

    def show(self, panel: Panel, band_kind: str) -> None:
        """Show what to do now."""
        self._last = panel, band_kind
        across, lines = self._room()
        if self._is_shown(("panel", panel, band_kind, across, lines)):
            return
        self._band.set(band_kind, SafeText(panel.band))
        text = {role: _lines(panel, role, across) for role in _ROLES}
        found, name = _fitted(panel, across, lines, sum(map(len, text.values())),
                              len(text["care"]) + len(text["choice"]))
        self._put_name(panel, found, name)
        self._figures(panel, found)
        left = found.text
        for role in _FIRST:
            taken = text[role][:left]
            left -= len(taken)
            self._put(role, taken)

    def on_resize(self) -> None:
        """Fit the same again: strips above or below have come or gone, and nothing is cut."""
        if self._last is not None:
            self.show(*self._last)

    def _room(self) -> tuple[int, int]:
        """Cells across and rows below the head."""
        return self.content_size.width, self.content_size.height - max(1, self._band.size.height)

    def _is_shown(self, wanted: tuple[object, ...]) -> bool:
        same = wanted == self._shown
        self._shown = wanted
        return same

    def _hide_others(self) -> None:
        """All but the plain lines: hidden and shown again they would move the whole layout."""
        others = (p for role, p in self._paras.items() if role != "text")
        for part in (self._do, *self._names, self._large, *others):
            _display(part, on=False)

    def _put_name(self, panel: Panel, found: Sizes, name: str) -> None:
        _display(self._do, on=not (found.name and _says_all(panel)))
        # A count that nowhere fits as a picture still stands in figures, before the words.
        figures = f"{panel.count}  " if panel.count and not found.count else ""
        self._do.set(SafeText(f"{figures}{panel.do}"))
        parts = name.split("\n")
        for place, numerals in enumerate(self._names):
            on = bool(found.name) and place < len(parts)
            _display(numerals, on=on)
            if on:
                numerals.scale(found.name)
                numerals.set(parts[place])

    def _figures(self, panel: Panel, found: Sizes) -> None:
        _display(self._large, on=bool(found.count or panel.mark))
        self._lay(found)
        for numerals, text, high in ((self._count, panel.count, found.count),
                                     (self._mark, panel.mark, found.mark)):
            _display(numerals, on=bool(high))
            if high:
                numerals.scale(high)
                numerals.set(text)
        _display(self._marked, on=bool(panel.mark))
        beside = drawn(panel.count, found.count) + GAP if found.count and found.beside else 0
        fits = cell_width(panel.under_mark) <= self._room()[0] - beside
        short = sanitize(f"Pencil {panel.mark}") if panel.under_mark else SafeText("")
        self._under.set(panel.under_mark if fits else short)

    def _lay(self, found: Sizes) -> None:
        """Count and mark beside each other, or the mark below; below a drawn name, a gap."""
        laid = (found.beside, bool(found.name), bool(found.count))
        if laid == self._laid:
            return
        self._laid = laid
        self._large.styles.layout = "horizontal" if found.beside else "vertical"
        self._large.styles.margin = (1 if found.name else 0, 0, 0, 0)
        self._marked.styles.margin = (0, 0, 0, GAP if found.count else 0) if found.beside else (
            1, 0, 0, 0)

    def _put(self, role: Role, lines: Sequence[SafeText]) -> None:
        _display(self._paras[role], on=bool(lines))
        self._paras[role].set(SafeText("\n".join(lines)))


def _display(part: Widget, *, on: bool) -> None:
    if part.display != on:
        part.display = on


def _lines(panel: Panel, role: Role, across: int) -> list[SafeText]:
    return [line for kind, text in panel.text if kind == role for line in wrap_text(text, across)]


def _fitted(panel: Panel, across: int, lines: int, text: int, least: int) -> tuple[Sizes, str]:
    """The heights, and the name in one line or, where only that fits, in two.

    A name that says less than the whole words has them on a line above it. Of the text
    the `least` rows, cautions and questions, stay.
    """
    above = 0 if _says_all(panel) else 1
    for name in dict.fromkeys((panel.name, in_two(panel.name))):
        found = choose_sizes(across, lines - above, name=name, count=panel.count, mark=panel.mark,
                             text=text, least=least)
        if found.name:
            return found, name
    return choose_sizes(across, lines, count=panel.count, mark=panel.mark, text=text,
                        least=least), ""


def _says_all(panel: Panel) -> bool:
    return panel.do.upper() == panel.name
