"""The evening round: the day's sheets one by one, those not judged first, one key each."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Center, Vertical, VerticalScroll

from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.bound_keys import foot_keys
from benchapp.screens.glyph_dots import DOTS
from benchapp.screens.glyphs import fitting_height
from benchapp.screens.page_base import PageHead
from benchapp.screens.sheet_photos import photos_words
from benchapp.screens.sheet_talk import VERDICTS, WORD_OF, SheetTalk
from benchapp.screens.treading import HearsTread
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.numerals import Numerals
from benchapp.screens.widgets.plain_text import Line, Para
from benchapp.session import actions as a
from benchapp.session.state import Impression, Session
from benchapp.views.sheets import SheetLine, round_order, sheet_lines


class RoundScreen(HearsTread, SheetTalk):
    """One sheet after the other; what is left unjudged may wait for tomorrow."""

    CSS = """
    RoundScreen #sheet { align: center middle; background: $clean; height: 1fr; padding: 0 2; }
    RoundScreen #large { height: auto; margin: 1 0; }
    RoundScreen #mark { color: $mark; }
    RoundScreen #verdict { text-style: bold; color: $clean-text; text-align: center; }
    RoundScreen #for { color: $clean-text; text-align: center; }
    RoundScreen #said { color: $clean-text; text-align: center; }
    RoundScreen #notes { height: auto; max-height: 8; }
    RoundScreen #place { color: $quiet; text-align: center; margin: 1 0 0 0; }
    """
    BINDINGS: ClassVar = [
        *(Binding(key, "on(1)", "leave it, next", show=key == "space")
          for key in ("space", "right", "down")),
        *(Binding(key, "on(-1)", "the one before", show=key == "left") for key in ("left", "up")),
        Binding("escape", "back", "back; the rest can wait", tooltip="back")]
    NO_PEDAL = frozenset({"left", "up"})
    OTHER_KEYS: ClassVar = (("tread keys", "leave it, next"),)

    def __init__(self, session: str | None = None) -> None:
        """Go through that session's sheets; None: those of the one on the Bench."""
        super().__init__()
        self._session = session
        self._order: tuple[int, ...] = ()
        self._at = 0

    @property
    def foot(self) -> tuple[tuple[str, str], ...]:
        """The verdicts, and going on, come first."""
        return foot_keys(type(self), ("k", "d", "s", "space", "left", *"tngfM0lo"))

    def compose(self) -> ComposeResult:
        """The mark large, and what is known of the sheet under it."""
        yield PageHead()
        yield KeyLine(self.foot)
        with Vertical(id="sheet"):
            with Center(id="large"):
                yield Numerals(id="mark")
            yield Line(id="verdict")
            yield Line(id="for")
            with VerticalScroll(id="notes", can_focus=False):
                yield Para(id="said")
            yield Line(id="place")

    def on_mount(self) -> None:
        """Set the order once: a sheet judged on the round stays at its place in it."""
        if self._session is None and self.workshop.room.session is not None:
            self._session = self.workshop.room.session.id
        if self._session is not None:
            self.workshop.look_at(self._session)
        if (s := self.session) is not None:
            self._order = round_order(sheet_lines(s))
        self._show()

    def take_tread(self) -> None:
        """A tread leaves the sheet as it is; a pedal held down goes no further than one."""
        self.action_on(1)

    @property
    def session(self) -> Session | None:
        """The session whose sheets these are."""
        return self.workshop.room.sessions.get(self._session or "")

    def meant(self) -> tuple[Session, Impression] | None:
        """The sheet that stands there."""
        s = self.session
        if s is None or self._at >= len(self._order):
            return None
        imp = s.impression(self._order[self._at])
        return None if imp is None else (s, imp)

    def said(self) -> None:
        """Show it."""
        self._show()

    def action_judge(self, verdict: str) -> None:
        """A verdict takes the round on to the next sheet."""
        meant = self.meant()
        if meant is None or not verdict:
            super().action_judge(verdict)
            return
        s, imp = meant
        if imp.verdict != verdict:
            outcome = self.desk.do(a.Judge(WORD_OF[verdict], imp.ordinal), session=s.id,
                                   gated=True)
            self.tell(outcome)
            if not outcome.ok:
                return
        self.action_on(1)

    def action_on(self, by: int) -> None:
        """The next sheet, or the one before; past the last the round is over."""
        self._at = max(0, min(self._at + by, len(self._order)))
        self._show()

    def _show(self) -> None:
        s = self.session
        lines = {} if s is None else {x.ordinal: x for x in sheet_lines(s)}
        left = sum(1 for x in lines.values() if x.verdict is None)
        self.query_one(PageHead).set(
            SafeText("The round") if s is None else sanitize(f"The round of {s.name} · "
                                                         f"{s.recipe.print.title}"),
            sanitize(f"{left} not judged" if left else "all judged"))
        meant = self.meant()
        if meant is None:
            self._over(len(lines), left)
            return
        self._sheet(lines[meant[1].ordinal])

    def _sheet(self, x: SheetLine) -> None:
        self.query_one(KeyLine).set(self.foot)
        self._mark(x.mark)
        self.query_one("#verdict", Line).set(sanitize(VERDICTS[x.verdict]))
        by = " (by rule)" if x.by_rule else ""
        again = " · to be looked at again" if x.look_again else ""
        self.query_one("#for", Line).set(
            sanitize(f"{x.mark} · no. {x.number} · for {x.purpose}{by}{again}"))
        tags = [", ".join(x.tags)] if x.tags else []
        read = [", ".join(x.readings)] if x.readings else []
        s = self.session
        photos = "" if s is None else photos_words(self.photos(s).get(x.ordinal, ()))
        said = [*tags, *read, *(f"“{n}”" for n in x.notes), *([photos] if photos else ())]
        self.query_one("#said", Para).set(SafeText("\n".join(map(sanitize, said))))
        self.query_one("#place", Line).set(sanitize(f"{self._at + 1} of {len(self._order)}"))

    def _over(self, sheets: int, left: int) -> None:
        self._mark("")
        words = "No sheet was pulled in this session." if not sheets else "The round is done."
        rest = {0: "", 1: "1 sheet is not judged: you find it in the Studio."}.get(
            left, f"{left} sheets are not judged: you find them in the Studio.")
        self.query_one("#verdict", Line).set(sanitize(words))
        self.query_one("#for", Line).set(sanitize(rest))
        self.query_one("#said", Para).set(SafeText(""))
        self.query_one("#place", Line).set(SafeText(""))
        self.query_one(KeyLine).set((("left", "the one before"), ("escape", "back"),
                                     ("question_mark", "help")))

    def _mark(self, text: str) -> None:
        """Large where its signs can be drawn so and there is room; it stands in words as well."""
        numerals = self.query_one("#mark", Numerals)
        drawn = text if text and set(text.upper()) <= set(DOTS) else ""
        height = fitting_height(drawn, self.size.width - 4, self.size.height // 3)
        numerals.display = bool(drawn) and height is not None
        if height is not None:
            numerals.scale(height)
            numerals.set(drawn)
