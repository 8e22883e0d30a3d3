"""Help on a screen: the page of its topic, and the pages of all others."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from benchapp.help.page import Paragraph, Style, page_lines
from benchapp.help.topics import INDEX, TOPICS, help_page
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.page_base import PageBase, PageHead
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.row import Role
from benchapp.screens.widgets.rows import Row, Rows

_ALL: Final = (INDEX, *TOPICS)
_ROLES: Final[dict[Style, Role]] = {
    "heading": "strong", "text": "text", "label": "mark", "example": "wash"}


class HelpScreen(PageBase):
    """A topic to scroll through."""

    CSS = "HelpScreen Rows { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("question_mark", "back", "back", show=False),
        Binding("left", "topic(-1)", "the topic before", show=False, priority=True),
        Binding("right", "topic(1)", "the next topic", show=False, priority=True),
    ]

    def __init__(self, topic: str = INDEX) -> None:
        """The page of one topic; without one the list of them."""
        super().__init__()
        self._topic = topic

    def compose(self) -> ComposeResult:
        """The text."""
        yield PageHead()
        yield KeyLine((("↑ ↓ page home end", "move"), ("← →", "other topics"), ("escape", "back")))
        yield Rows()

    def on_mount(self) -> None:
        """Keys go to the text."""
        self.query_one(Rows).focus()
        self.follow()

    def action_topic(self, by: int) -> None:
        """Show another topic, round from the last to the first."""
        self._topic = _ALL[(_ALL.index(self._topic) + by) % len(_ALL)]
        self.on_resize()
        self.query_one(Rows).scroll_home(animate=False)

    def follow(self) -> None:
        """Say how much of it is seen."""
        if self.query("Rows") and self.query("PageHead"):
            title = help_page(self._topic).title
            self.query_one(PageHead).set(SafeText(f"Help: {title}" if title != "Help" else title),
                                         sanitize(self.query_one(Rows).place_words))

    def on_resize(self) -> None:
        """Break the lines for the room there is."""
        treads = self.desk.settings.treads
        self.query_one(Rows).set_rows(help_rows(self._topic, treads, self.size.width - 4))
        self.call_after_refresh(self.follow)


def help_rows(topic: str, treads: tuple[str, ...], across: int = 76) -> list[Row]:
    """A topic as lines.

    Args:
        topic: One of the topics, or the list of them.
        treads: The keys that are the switch.
        across: Cells a line has.
    """
    page = help_page(topic, treads)
    whole = replace(page, blocks=(Paragraph(page.summary), *page.blocks))
    return [Row(tuple((sanitize(text), _ROLES[style]) for text, style in line.spans),
                heading=any(style == "heading" for _, style in line.spans))
            for line in page_lines(whole, max(20, across))]
