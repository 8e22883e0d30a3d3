"""The pictures of a folder, each with the sheet it seems to show, to be confirmed as one list.

Only the figure 1 ties, so that no press of the pedal does. What is not sure is left out until
somebody says so.
"""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from benchapp.decision import Refusal
from benchapp.files import FileProblem
from benchapp.pictures.matching import PictureProposal
from benchapp.quantities import QuantityError, items_text
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.edition_base import EditionBase
from benchapp.screens.page_base import PageHead
from benchapp.screens.pick import Pick
from benchapp.screens.widgets.ask import Ask
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.rows import Row, Rows, fit_cells, wrap_rows
from benchapp.service.outcome import Outcome
from benchapp.service.photo_folder import (
    HOW_TO_SAY_CLOCK,
    PhotoFolder,
    after_words,
    read_shift,
    shift_words,
    tie_to_sheets,
)
from benchapp.service.pictures import FoundPicture

_MARK = 8
_NONE = PhotoFolder((), 0, (), (), {})


class PhotosScreen(EditionBase):
    """A list of pictures with the sheet of each; nothing is tied that nobody confirmed."""

    DEFAULT_CSS = """
    PhotosScreen Rows { padding: 0 1; }
    PhotosScreen #about { height: auto; max-height: 3; background: $surface; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("1", "tie", "tie those in the list"),
        Binding("plus", "add(True)", "add this one", tooltip="add this picture"),
        Binding("minus", "add(False)", "leave this one out",
                tooltip="leave this picture out"),
        Binding("left", "other(-1)", "another sheet", tooltip="the sheet before"),
        Binding("right", "other(1)", "another sheet", tooltip="the next sheet"),
        Binding("o", "open_picture", "open the picture"),
        Binding("c", "clock", "clock of the camera")]

    def __init__(self, found: PhotoFolder = _NONE, photos: Path | None = None,
                 shift: timedelta | None = None) -> None:
        """Show what was found.

        Args:
            found: In the folder.
            photos: Where pictures are kept beside the book; None: nowhere, nothing can be tied.
            shift: What was said of the camera's clock; None: it is asked.
        """
        super().__init__()
        self._found, self._photos = found, photos
        self._proposed: dict[str, PictureProposal] = {}
        self._sheet: dict[str, str] = {}
        self._in: set[str] = set()
        self._propose(shift)

    def compose(self) -> ComposeResult:
        """What the camera's clock is taken for, over the list."""
        yield PageHead()
        yield KeyLine(self.foot)
        yield Rows(id="about").unfocusable()
        yield Rows(id="pictures")

    def on_mount(self) -> None:
        """Ask about the clock first, if anything depends on it."""
        self.query_one("#pictures", Rows).focus()
        self._show()
        if self._found.asks_clock and self._shift is None:
            self.call_after_refresh(self.action_clock)

    def on_resize(self) -> None:
        """Other widths."""
        if self.is_mounted:
            self._show()

    def follow(self) -> None:
        """Nothing here changes by itself."""

    # -- showing --------------------------------------------------------------------------

    def _propose(self, shift: timedelta | None) -> None:
        """Propose anew: what was said of the clock changes every picture without a zone."""
        self._shift = shift
        self._proposed = {x.sha256: p for x, p in zip(
            self._found.pictures, self._found.propose(shift), strict=True)}
        self._sheet = {k: p.moment.sheet for k, p in self._proposed.items() if p.moment}
        self._in = {k for k, p in self._proposed.items() if p.sure}

    def _show(self) -> None:
        n, all_ = len(self._in), self._found.pictures
        self.query_one(PageHead).set(
            sanitize(f"Pictures · {items_text(n, 'picture')} of {len(all_)} in the list"),
            sanitize("" if self._shift is None else
                     f"the camera's clock: {shift_words(self._shift)}"))
        across = max(24, self.size.width - 4)
        told = [
            "Nothing is tied yet. What benchapp is not sure of is left out until you add it.",
            *([f"{items_text(self._found.tied, 'picture')} tied before"] if self._found.tied
              else ()),
            *([f"{items_text(len(self._found.others), 'file')} refused"]
              if self._found.others else ())]
        self.query_one("#about", Rows).set_rows(wrap_rows(". ".join(
            x.rstrip(".") for x in told) + ".", across, "quiet"))
        self.query_one("#pictures", Rows).set_rows([self._row(x) for x in all_] or [
            Row(((SafeText("No new picture is in that folder."), "quiet"),))])

    def _row(self, x: FoundPicture) -> Row:
        sheet, tied = self._sheet.get(x.sha256), x.sha256 in self._in
        proposal = self._proposed[x.sha256]
        own = proposal.moment is not None and proposal.moment.sheet == sheet
        mark = "—" if sheet is None else self._found.marks.get(sheet, sheet)
        why = after_words(proposal) if own or sheet is None else "chosen by you"
        return Row((
            (fit_cells(sanitize(mark), _MARK), "mark" if tied else "quiet"),
            (fit_cells(SafeText("in" if tied else "?" if sheet else ""), 4),
             "good" if tied else "wash"),
            (sanitize(f"{x.name}  {x.taken.text[:16].replace('T', ' ')}"), "text"),
            (sanitize(f"  {why}{' (time of the file)' if x.taken.by == 'file' else ''}"), "quiet"),
        ), id=x.sha256)

    @property
    def _chosen(self) -> FoundPicture | None:
        chosen = self.query_one("#pictures", Rows).chosen
        return next((x for x in self._found.pictures if x.sha256 == chosen), None)

    # -- keys -----------------------------------------------------------------------------

    def action_add(self, add: bool) -> None:
        """Add the picture chosen to the list, or leave it out."""
        x = self._chosen
        if x is None:
            return
        if add and x.sha256 not in self._sheet:
            self.desk.say(SafeText("First choose its sheet with ← and →"))
            return
        (self._in.add if add else self._in.discard)(x.sha256)
        self._show()

    def action_other(self, by: int) -> None:
        """Another sheet for the picture chosen; it has to be added then."""
        x, sheets = self._chosen, list(self._found.marks)
        if x is None or not sheets:
            return
        now = self._sheet.get(x.sha256)
        at = sheets.index(now) + by if now in sheets else (0 if by > 0 else len(sheets) - 1)
        self._sheet[x.sha256] = sheets[at % len(sheets)]
        self._in.discard(x.sha256)
        self._show()

    def action_open_picture(self) -> None:
        """Look at the picture itself."""
        x = self._chosen
        if x is not None and not self.desk.open_file(x.path):
            self.desk.say(sanitize(f"There is no viewer here. The file is {x.path}"))

    def action_clock(self) -> None:
        """Say whether the camera's clock was right."""
        if not self._found.asks_clock:
            self.desk.say(SafeText("These times need no clock"))
            return
        first = next(x for x in self._found.pictures if x.taken.at.tzinfo is None)
        guess = self._found.guess
        offered = [timedelta(0), *([guess] if guess else [])]
        answers = ["It was right", *([f"It was {shift_words(guess)}: then most pictures fit the "
                                      "sheets"] if guess else []), "Another time: write it"]

        def take(answer: int | None) -> None:
            if answer is None:
                return
            if answer < len(offered):
                self._say_clock(offered[answer])
            else:
                self.app.push_screen(Ask(
                    SafeText("How much was the camera's clock off?"),
                    hint=sanitize(HOW_TO_SAY_CLOCK), do=self._type_clock))

        self.app.push_screen(Pick(
            SafeText("Was the camera's clock right?"), [sanitize(x) for x in answers],
            sanitize(f"It says that {first.name} was taken on "
                     f"{first.taken.text[:16].replace('T', ' at ')}."),
            later="not sure: then nothing is in the list"), take)

    def _type_clock(self, text: str) -> str | None:
        try:
            self._say_clock(read_shift(text))
        except QuantityError as error:
            return str(error)
        return None

    def _say_clock(self, shift: timedelta) -> None:
        self._propose(shift)
        self._show()

    def action_tie(self) -> None:
        """Tie what is in the list."""
        photos = self._photos
        ties = [(x, self._sheet[x.sha256]) for x in self._found.pictures if x.sha256 in self._in]
        if photos is None or not ties:
            self.desk.say(SafeText("No picture is in the list"))
            return

        def tie() -> Outcome:
            try:
                return tie_to_sheets(self.editions, photos, ties)
            except FileProblem as problem:
                return Outcome(refusal=Refusal(str(problem), "nothing was tied", rule="file"))

        if self._told(tie).ok:
            self.desk.say(self.desk.done(f"{items_text(len(ties), 'picture')} tied"))
            self.dismiss(None)
