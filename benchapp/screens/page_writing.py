"""The one key that writes what a screen shows as a page and opens it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Final

from textual.binding import Binding, BindingType

from benchapp.book import BookError
from benchapp.safe_text import SafeText
from benchapp.screens.bound_keys import PAGE_KEY
from benchapp.screens.page_base import PageBase
from benchapp.screens.paper_files import write_page

PAGE_FOOT: Final = (PAGE_KEY, "write page")
"""What stands at the foot."""


@dataclass(frozen=True, slots=True)
class Page:
    """A page to be written.

    Attributes:
        name: What its file is called, without its ending.
        html: All of it.
    """

    name: str
    html: str


class WritesPage(PageBase):
    """A screen that can be written as a page."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(PAGE_KEY, "write_page", "write page")]

    def page(self) -> Page | None:
        """What the screen shows, as a page; None: there is nothing to write yet.

        Raises:
            BookError: The book cannot be read.
        """
        raise NotImplementedError

    def action_write_page(self) -> None:
        """Write it and open it. Inky hands open nothing: the pedal would type into the viewer."""
        if not self.workshop.room.clean and self.workshop.room.open_sessions:
            self.desk.say(SafeText("Hands are inky: wash first"), severity="warning")
            return
        if self.desk.rehearsal:
            self.desk.say(SafeText("This is a rehearsal: no page is written"))
            return
        try:
            page = self.page()
        except BookError as error:
            self.desk.fault = str(error)
            return
        if page is None:
            self.desk.say(SafeText("There is nothing to write as a page yet"))
            return
        write_page(self.desk, page.name, page.html)
