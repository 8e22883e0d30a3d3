"""The sheets of one session: a table, and beside it all that is known of the one chosen."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, Vertical, VerticalScroll

from benchapp.events.entry import Moment
from benchapp.events.moments import local_time
from benchapp.files import file_slug
from benchapp.reports.documentation import sheet_page
from benchapp.reports.edition_papers import sheet_paper
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.page_base import WIDE, PageHead
from benchapp.screens.page_writing import Page, WritesPage
from benchapp.screens.sheet_photos import photos_words
from benchapp.screens.sheet_talk import VERDICTS, SheetTalk
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Role, Row, Rows, fit_cells
from benchapp.session.counting import count_impressions, count_pulled, target_count
from benchapp.session.edition_links import recipe_print_id, sheet_id
from benchapp.session.state import Impression, Session
from benchapp.views.sheets import SheetLine, SheetWhole, sheet_lines, sheet_whole

_ROLES: dict[str | None, Role] = {"keep": "good", "spoiled": "fault", "doubtful": "wash",
                                  None: "quiet"}
_COLUMNS = Row(((SafeText(
    "  mark   no   for            verdict       time   tags, readings, notes"),
                 "quiet"),))


class ImpressionsScreen(WritesPage, SheetTalk):
    """All sheets pulled in a session, open or closed."""

    CSS = """
    ImpressionsScreen #both { layout: vertical; }
    ImpressionsScreen.wide #both { layout: horizontal; }
    ImpressionsScreen #list { height: 1fr; padding: 0 1; }
    ImpressionsScreen #columns { height: 1; }
    ImpressionsScreen #detail { height: 40%; max-height: 9; background: $surface; padding: 0 2; }
    ImpressionsScreen.wide #detail { width: 44; height: 1fr; max-height: 100%; }
    ImpressionsScreen #whole { color: $foreground; }
    """
    BINDINGS: ClassVar = [
        Binding("R", "round", "round"), Binding("V", "review", "review"),
        Binding("ampersand", "beside", "side by side")]

    def __init__(self, session: str | None = None) -> None:
        """Show that session's sheets; None: those of the one on the Bench."""
        super().__init__()
        self._session = session
        self._shown: object = None

    def compose(self) -> ComposeResult:
        """Table and detail."""
        yield PageHead()
        yield KeyLine(self.foot)
        with Horizontal(id="both"):
            with Vertical(id="list"):
                yield Rows([_COLUMNS], id="columns").unfocusable()
                yield Rows(id="sheets")
            with VerticalScroll(id="detail", can_focus=False):
                yield Para(id="whole")

    def on_mount(self) -> None:
        """Hold the session in the room, and show its sheets, the last one chosen."""
        if self._session is None and self.workshop.room.session is not None:
            self._session = self.workshop.room.session.id
        if self._session is not None:
            self.workshop.look_at(self._session)
        rows = self.query_one("#sheets", Rows)
        rows.focus()
        self.follow()
        rows.action_edge(1)
        self.follow()

    def on_resize(self) -> None:
        """Side by side where there is room."""
        self.set_class(self.size.width >= WIDE, "wide")

    @property
    def session(self) -> Session | None:
        """The session shown."""
        return self.workshop.room.sessions.get(self._session or "")

    def meant(self) -> tuple[Session, Impression] | None:
        """The sheet chosen."""
        s, chosen = self.session, self.query_one("#sheets", Rows).chosen
        imp = None if s is None or chosen is None else s.impression(int(chosen))
        return None if s is None or imp is None else (s, imp)

    def said(self) -> None:
        """Show it."""
        self.follow()

    def follow(self) -> None:
        """Show how the session stands now; nothing is drawn that is the same."""
        s = self.session
        state = None if s is None else (s.impressions, s.settings, s.closed, s.wanted)
        if self._shown is not None and self._shown == state:
            return
        self._shown = state
        head, rows = self.query_one(PageHead), self.query_one("#sheets", Rows)
        if s is None:
            head.set(SafeText("Sheets"))
            rows.set_rows((Row(((SafeText("No session is on the Bench."), "quiet"),)),))
            return
        head.set(sanitize(f"Sheets of {s.name} · {s.recipe.print.title}"), sanitize(_counts(s)))
        lines = sheet_lines(s)
        photos = self.photos(s)
        rows.set_rows([impression_row(x, photos_words(photos.get(x.ordinal, ())))
                       for x in lines] or [
            Row(((SafeText("No sheet has been pulled yet."), "quiet"),))])
        self._detail()

    def on_rows_moved(self) -> None:
        """Another sheet is chosen."""
        self._detail()

    def _detail(self) -> None:
        meant = self.meant()
        whole = None if meant is None else sheet_whole(meant[0], meant[1].ordinal)
        self.query_one("#whole", Para).set(
            SafeText("") if meant is None or whole is None else detail_text(
                whole, photos_words(self.photos(meant[0]).get(meant[1].ordinal, ()))))
        self.query_one("#detail").scroll_home(animate=False)

    def page(self) -> Page | None:
        """The history of the sheet chosen."""
        meant = self.meant()
        if meant is None:
            return None
        session, impression = meant
        editions, sheet = self.workshop.editions, sheet_id(session.id, impression.ordinal)
        name = file_slug(f"{session.recipe.print.title} {session.name} {impression.mark}")
        return Page(f"sheet-{name}", sheet_page(sheet_paper(
            editions, sheet, recipe_print_id(session.recipe), self.desk.settings.studio)))

    def action_round(self) -> None:
        """The evening round of these sheets."""
        if self._session is not None:
            self.desk.over("round", session=self._session)

    def action_review(self) -> None:
        """The whole session read back."""
        if self._session is not None:
            self.desk.over("review", session=self._session)

    def action_beside(self) -> None:
        """The sheet chosen beside another, and beside the standard."""
        meant = self.meant()
        if meant is not None:
            self.desk.over("beside", session=meant[0].id, number=meant[1].number)


def _counts(s: Session) -> str:
    wanted = target_count(s)
    return f"pulled {count_pulled(s)} · counting {count_impressions(s)}" + (
        "" if wanted is None else f" · wanted {wanted}")


def clock_text(at: Moment | None) -> str:
    """A time of day, or that it was not taken."""
    return "  —  " if at is None else local_time(at).strftime("%H:%M")


def impression_row(x: SheetLine, photos: str = "") -> Row:
    """A sheet as a line of the table; `photos`: how many pictures it has, in words."""
    purpose = x.purpose + (" (rule)" if x.by_rule else "")
    notes = f"{len(x.notes)} note{'s' if len(x.notes) > 1 else ''}" if x.notes else ""
    extra = " · ".join(t for t in (
        "look again" if x.look_again else "", x.ended or "", ", ".join(x.tags),
        ", ".join(x.readings), notes, photos) if t)
    return Row((
        (fit_cells(sanitize(x.mark), 6), "mark"),
        (fit_cells(sanitize(f"{x.number:>3}  "), 6), "text"),
        (fit_cells(sanitize(purpose), 15), "text"),
        (fit_cells(sanitize(VERDICTS[x.verdict]), 14), _ROLES[x.verdict]),
        (fit_cells(sanitize(clock_text(x.pulled_at)), 7), "quiet"), (sanitize(extra), "text"),
    ), id=str(x.ordinal))


def detail_text(w: SheetWhole, photos: str = "") -> SafeText:
    """One sheet whole, as lines fit to be shown; `photos`: how many pictures it has."""
    x = w.line
    by = " (by rule)" if x.by_rule else ""
    out = [f"{x.mark} · no. {x.number} · {VERDICTS[x.verdict]}",
           f"for {x.purpose}{by} · {'counts' if x.counts else 'does not count'}"]
    out += ["to be looked at again"] if x.look_again else []
    out += [x.ended] if x.ended else []
    out += [f"tags: {', '.join(x.tags)}"] if x.tags else []
    out += [f"read: {', '.join(x.readings)}"] if x.readings else []
    out += [f"“{note}”" for note in x.notes]
    out += [photos] if photos else []
    out += [f"{_pull_words(p.do, p.plates, len(w.pulls))}: {_when(p.at)}" for p in w.pulls]
    out += [f"from {', '.join(x.packs)}"] if x.packs else []
    out += ["laid to dry"] if w.laid and x.verdict != "spoiled" else []
    out += ["set: " + ", ".join(f"{name} {value}" for name, value in w.settings)
            ] if w.settings else []
    return SafeText("\n".join(map(sanitize, out)))


def _pull_words(do: str, plates: tuple[str, ...], pulls: int) -> str:
    return f"pulled, {' and '.join(plates)}" if pulls > 1 else do.lower() or "pulled"


def _when(at: Moment | None) -> str:
    return "time not taken" if at is None else local_time(at).strftime("%H:%M:%S")
