"""The preferences: each changed by keys, in the printer's own file, value by value."""

from __future__ import annotations

from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from benchapp import settings as preferences
from benchapp.files import FileProblem
from benchapp.recipe.problems import RecipeError
from benchapp.safe_text import SafeText, cell_width, sanitize
from benchapp.screens.page_base import PageBase, PageHead
from benchapp.screens.pick import Pick
from benchapp.screens.preference_lines import PREFERENCES, Preference, reading_distance, stands_text
from benchapp.screens.widgets.ask import Ask
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.rows import Row, Rows, Span, fit_cells, titled_rows, wrap_rows

_BY_NAME: Final = {one.name: one for one in PREFERENCES}


class PreferencesScreen(PageBase):
    """One line a preference."""

    CSS = "PreferencesScreen Rows { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("s", "switch", "learn the switch"),
    ]

    def compose(self) -> ComposeResult:
        """The lines."""
        yield PageHead()
        yield KeyLine((("enter", "change"), *self.foot))
        yield Rows()

    def on_mount(self) -> None:
        """Keys go to the lines."""
        self.query_one(Rows).focus()
        self._show()

    def on_resize(self) -> None:
        """Break the lines for the room there is."""
        self._show()

    def on_screen_resume(self) -> None:
        """Back from the switch: it may be another."""
        self._show()

    def _show(self) -> None:
        if not self.is_mounted or not self.query(Rows):
            return
        settings, across = self.desk.settings, self.size.width - 4
        lines = [row for one in PREFERENCES
                 for row in _rows(one, stands_text(one, settings), across - 3)]
        self.query_one(Rows).set_rows([*lines, Row(),
                                       *wrap_rows(reading_distance(settings), across, "quiet")])
        self.call_after_refresh(self.follow)

    def follow(self) -> None:
        """Say how much of it is seen, where that is not all."""
        if self.query("Rows") and self.query("PageHead"):
            self.query_one(PageHead).set(SafeText("Preferences"), sanitize(
                self.query_one(Rows).place_words or "preferences.yaml"))

    # -- changing ------------------------------------------------------------------------------

    def on_rows_taken(self, event: Rows.Taken) -> None:
        """Enter: another value for the line chosen."""
        event.stop()
        one = _BY_NAME[event.row_id]
        if one.words:
            self._choose(one)
        else:
            self._ask(one)

    def _choose(self, one: Preference) -> None:
        def take(place: int | None) -> None:
            if place is not None and (wrong := self._keep(one, one.words[place])) is not None:
                self.desk.say(sanitize(wrong), severity="warning")

        self.app.push_screen(
            Pick(sanitize(f"{one.name}: {one.about}"), [sanitize(word) for word in one.words]),
            take)

    def _ask(self, one: Preference) -> None:
        self.app.push_screen(Ask(
            sanitize(f"{one.name}: {one.about}"), hint=sanitize(one.example),
            value=one.stands(self.desk.settings), check=one.wrong,
            empty=one.keys and one.name != "treads", do=lambda text: self._keep(one, text)))

    def _keep(self, one: Preference, typed: str) -> str | None:
        """Keep it in the file; why not."""
        try:
            self.desk.prefer(preferences.save_preferences({one.name: one.value(typed)}))
        except (FileProblem, RecipeError) as error:
            return str(error)
        self._show()
        return None

    def action_switch(self) -> None:
        """What the pedals send."""
        self.desk.over("switch")


def _rows(one: Preference, stands: str, across: int) -> list[Row]:
    """A preference, how it stands and what it is: on one line where all of it fits."""
    name: Span = (fit_cells(sanitize(one.name), 17), "strong")
    about: Span = (sanitize(f"  {one.about}"), "quiet")
    whole: tuple[Span, ...] = (name, (sanitize(stands), "good"), about)
    if sum(cell_width(text) for text, _ in whole) <= across:
        return [Row(whole, id=one.name)]
    return [*titled_rows((name,), stands, across, "good", id=one.name),
            *wrap_rows(one.about, across, "quiet", first=((SafeText("      "), "text"),))]
