"""What can be said of a sheet from a list of sheets: verdict, tags, note, for, mark, reading."""

from __future__ import annotations

from typing import ClassVar, Final

from textual.binding import Binding, BindingType

from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.page_base import PageBase
from benchapp.screens.pick import Pick
from benchapp.screens.sheet_photos import SheetPhotos, open_photos, session_photos
from benchapp.screens.tag_pick import TagPick
from benchapp.screens.widgets.ask import Ask
from benchapp.service.outcome import Outcome
from benchapp.session import actions as a
from benchapp.session.decide import hands_gate
from benchapp.session.marks import read_mark
from benchapp.session.state import FORS, Impression, Session, Verdict
from benchapp.session.tags import tag_menu, used_tags
from benchapp.session.values import about_day

#: How a verdict is written: a shape and a word, so that neither colour nor shape speaks alone.
VERDICTS: Final[dict[str | None, str]] = {
    "keep": "● keep", "doubtful": "◐ doubtful", "spoiled": "✕ spoiled", None: "○ not judged",
}
WORD_OF: Final[dict[str, Verdict]] = {"keep": "keep", "doubtful": "doubtful", "spoiled": "spoiled"}


class SheetTalk(PageBase):
    """A screen on which one sheet is the chosen one."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("k", "judge('keep')", "keep"),
        Binding("d", "judge('doubtful')", "doubtful"),
        Binding("s", "judge('spoiled')", "spoiled"),
        Binding("0", "judge('')", "not judged"),
        Binding("t", "tag", "tag"),
        Binding("n", "note", "note"),
        Binding("g", "reading", "reading"),
        Binding("f", "say_for", "for"),
        Binding("M", "mark", "mark"),
        Binding("l", "look_again", "look again"),
        Binding("o", "photos", "open its pictures"),
    ]

    #: The pictures of a session, and when they were read.
    _photos: tuple[object, SheetPhotos] | None = None

    def meant(self) -> tuple[Session, Impression] | None:
        """The sheet that is chosen, with its session."""
        raise NotImplementedError

    def said(self) -> None:
        """Something was said of a sheet: show it."""
        raise NotImplementedError

    def do(self, action: a.Action) -> None:
        """Say it in the book, or say why not."""
        meant = self.meant()
        if meant is None:
            return
        self.tell(self.desk.do(action, session=meant[0].id, gated=True))
        self.said()

    def _do_typed(self, session: str, action: a.Action) -> str | None:
        """Say it of a sheet of that session; why not, for the line it was typed in."""
        refusal = self.desk.do(action, session=session, gated=True).refusal
        self.said()
        return None if refusal is None else str(refusal)

    def asking(self) -> tuple[Session, Impression] | None:
        """The sheet chosen, where something may be asked about it: not with inky hands."""
        refusal = hands_gate(self.workshop.room, a.Note(""))
        if refusal is not None:
            self.tell(Outcome(refusal=refusal))
            return None
        return self.meant()

    def photos(self, s: Session) -> SheetPhotos:
        """The pictures of the sheets of a session; read again when something was written."""
        seen = s.id, self.workshop.book.last_sequence()
        if self._photos is None or self._photos[0] != seen:
            self._photos = seen, session_photos(self.workshop, s)
        return self._photos[1]

    def action_photos(self) -> None:
        """Open the pictures of the sheet. Inky hands open nothing: a pedal types in a viewer."""
        if (meant := self.asking()) is not None:
            s, imp = meant
            open_photos(self.desk, impression_name(imp), self.photos(s).get(imp.ordinal, ()))

    # -- by one key --------------------------------------------------------------------

    def action_judge(self, verdict: str) -> None:
        """Keep, doubtful, spoiled; or no verdict after all."""
        if (meant := self.meant()) is not None and meant[1].verdict != WORD_OF.get(verdict):
            self.do(a.Judge(WORD_OF.get(verdict), meant[1].ordinal))

    def action_look_again(self) -> None:
        """To be looked at again."""
        if (meant := self.meant()) is not None:
            self.do(a.LookAgain(meant[1].ordinal))

    # -- asking first --------------------------------------------------------------------

    def action_tag(self) -> None:
        """Put a tag on, or take one off."""
        if (meant := self.asking()) is None:
            return
        s, imp = meant

        def take(tag: str | None) -> None:
            if tag is not None:
                self.do(a.Tag(tag, imp.ordinal, off=tag in imp.tags))

        used = used_tags(self.workshop.room.journal, s)
        self.app.push_screen(TagPick(impression_name(imp), tag_menu(s.recipe), used, imp.tags,
                                     print_=s.recipe.print),
                             take)

    def action_note(self) -> None:
        """Free text on the sheet; the arrows bring the recipe's sentences."""
        if (meant := self.asking()) is None:
            return
        s, imp = meant
        self.app.push_screen(Ask(
            sanitize(f"Note on {impression_name(imp)}"), phrases=s.recipe.phrases,
            draft=f"note {s.id} {imp.ordinal}",
            do=lambda text: self._do_typed(s.id, a.Note(text, imp.ordinal))))

    def action_say_for(self) -> None:
        """What the pull was for."""
        if (meant := self.asking()) is None:
            return
        _, imp = meant

        def take(place: int | None) -> None:
            if place is not None:
                self.do(a.SayFor(FORS[place], impression=imp.ordinal))

        self.app.push_screen(Pick(sanitize(f"{impression_name(imp)} was pulled for"),
                                  [sanitize(a.FOR_WORDS[x]) for x in FORS]), take)

    def action_mark(self) -> None:
        """The mark that stands on the sheet, where it is another."""
        if (meant := self.asking()) is None:
            return
        s, imp = meant

        def write(text: str) -> str | None:
            mark = read_mark(text) or text
            other = self.workshop.bearer(mark, (s.id, imp.ordinal))
            name = None if other is None else f"on a sheet of {other.partition('@')[0]}"
            return self._do_typed(s.id, a.GiveMark(mark, imp.ordinal, taken_by=name))

        self.app.push_screen(Ask(sanitize(f"The mark on the back of {impression_name(imp)}"),
                                 hint=SafeText("The pencilled mark is right; the book "
                                            "follows it."),
                                 check=_short_mark, do=write))

    def action_reading(self) -> None:
        """A named value: the recipe's readings by number."""
        if (meant := self.asking()) is None:
            return
        s, imp = meant
        readings = s.recipe.readings
        if not readings:
            self.desk.say(SafeText("This recipe has no readings. Write them in it under "
                                   "readings:"))
            return

        def pick(place: int | None) -> None:
            if place is not None:
                ask(readings[place].name, readings[place].unit)

        def ask(name: str, unit: str | None) -> None:
            of, ordinal = about(name)
            self.app.push_screen(Ask(
                sanitize(f"{name} of {of}"), hint=sanitize(unit or ""),
                do=lambda value: self._do_typed(s.id, a.TakeReading(name, value, None, ordinal))))

        def about(name: str) -> tuple[str, int | None]:
            return ("the day",
                    None) if about_day(s.recipe, name) else (impression_name(imp), imp.ordinal)

        if len(readings) == 1:
            ask(readings[0].name, readings[0].unit)
            return
        answers = [sanitize(f"{r.name}{f' ({r.unit})' if r.unit else ''} of {about(r.name)[0]}")
                   for r in readings]
        self.app.push_screen(Pick(SafeText("Which reading"), answers), pick)


def impression_name(imp: Impression) -> SafeText:
    """What a sheet is called."""
    return sanitize(imp.mark or f"no. {imp.number}")


def _short_mark(text: str) -> str | None:
    return "a mark has at most 12 letters and figures" if len(text) > 12 else None
