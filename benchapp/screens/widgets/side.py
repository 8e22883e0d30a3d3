"""One side of the Bench: what to do now, as large as it fits; or quiet, with the other clocks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical

from benchapp.screens.bench_fit import GAP, Sizes, in_two, sizes
from benchapp.screens.bench_words import Panel, Role, wrap
from benchapp.screens.widgets.band import Band
from benchapp.screens.widgets.numerals import Numerals
from benchapp.screens.widgets.plain_text import Line, Para
from benchapp.shown import Shown

_ROLES: Final[tuple[Role, ...]] = ("text", "choice", "strong", "care", "quiet")


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
        self._laid: tuple[bool, bool] | None = None

    def compose(self) -> ComposeResult:
        """All the parts; those without anything to show are hidden."""
        yield Band(self._kind, Shown(""))
        yield Line(classes="do")
        yield Numerals(classes="named first")
        yield Numerals(classes="named second gap")
        with Horizontal(classes="large"):
            yield Numerals(classes="counted")
            with Vertical(classes="marked"):
                yield Numerals(classes="mark")
                yield Line(classes="under")
        for role in _ROLES:
            yield Para(classes=role)

    def rest(self, words: Shown, clocks: Sequence[Shown]) -> None:
        """Show nothing to do: the name of the side, and clocks that run elsewhere."""
        if self._is_shown(("rest", words, tuple(clocks))):
            return
        self.query_one(Band).set("none", words)
        self._hide_all()
        self._put("text", list(clocks))

    def show(self, panel: Panel, band_kind: str) -> None:
        """Show what to do now."""
        across, lines = self._room()
        if self._is_shown(("panel", panel, band_kind, across, lines)):
            return
        self.query_one(Band).set(band_kind, Shown(panel.band))
        text = {role: _lines(panel, role, across) for role in _ROLES}
        found, name = _fitted(panel, across, lines, sum(map(len, text.values())))
        self._put_name(panel, found, name)
        self._figures(panel, found)
        left = found.text
        for role in _ROLES:
            taken = text[role][:left]
            left -= len(taken)
            self._put(role, taken)

    def _room(self) -> tuple[int, int]:
        """Cells across and rows below the head."""
        band = self.query_one(Band)
        return self.content_size.width, self.content_size.height - max(1, band.size.height)

    def _is_shown(self, wanted: tuple[object, ...]) -> bool:
        same = wanted == self._shown
        self._shown = wanted
        return same

    def _hide_all(self) -> None:
        for part in self.query("Line, Numerals, Para, Horizontal"):
            part.display = False

    def _put_name(self, panel: Panel, found: Sizes, name: str) -> None:
        plain, drawn = self.query_one(".do", Line), list(self.query(".named").results(Numerals))
        plain.display = not (found.name and _says_all(panel))
        plain.set(panel.do)
        parts = name.split("\n")
        for place, numerals in enumerate(drawn):
            numerals.display = bool(found.name) and place < len(parts)
            if numerals.display:
                numerals.scale(found.name)
                numerals.set(parts[place])

    def _figures(self, panel: Panel, found: Sizes) -> None:
        both = self.query_one(".large", Horizontal)
        both.display = bool(found.count or found.mark)
        self._lay(both, found)
        for name, text, high in (("counted", panel.count, found.count),
                                 ("mark", panel.mark, found.mark)):
            numerals = self.query_one(f"Numerals.{name}", Numerals)
            numerals.display = bool(high)
            if high:
                numerals.scale(high)
                numerals.set(text)
        self.query_one(".marked", Vertical).display = bool(found.mark)
        under = self.query_one(".under", Line)
        under.display = bool(found.mark)
        under.set(panel.under_mark)

    def _lay(self, both: Horizontal, found: Sizes) -> None:
        """Count and mark beside each other, or the mark below; below a drawn name, a gap."""
        laid = (found.beside, bool(found.name))
        if laid != self._laid:
            self._laid = laid
            both.styles.layout = "horizontal" if found.beside else "vertical"
            both.styles.margin = (1 if found.name else 0, 0, 0, 0)
            marked = self.query_one(".marked", Vertical)
            marked.styles.margin = (0, 0, 0, GAP if found.count else 0) if found.beside else (
                1, 0, 0, 0)

    def _put(self, role: Role, lines: Sequence[Shown]) -> None:
        para = self.query_one(f"Para.{role}", Para)
        para.display = bool(lines)
        para.set(Shown("\n".join(lines)))


def _lines(panel: Panel, role: Role, across: int) -> list[Shown]:
    return [line for kind, text in panel.text if kind == role for line in wrap(text, across)]


def _fitted(panel: Panel, across: int, lines: int, text: int) -> tuple[Sizes, str]:
    """The heights, and the name in one line or, where only that fits, in two.

    A name that says less than the whole words has them on a line above it.
    """
    above = 0 if _says_all(panel) else 1
    for name in dict.fromkeys((panel.name, in_two(panel.name))):
        found = sizes(across, lines - above, name=name, count=panel.count, mark=panel.mark,
                      text=text)
        if found.name:
            return found, name
    return sizes(across, lines, count=panel.count, mark=panel.mark, text=text), ""


def _says_all(panel: Panel) -> bool:
    return panel.do.upper() == panel.name
