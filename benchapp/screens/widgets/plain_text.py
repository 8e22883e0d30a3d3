"""Text on a screen that is never read as markup.

A plain string given to the framework's own labels is parsed: `[/b]` in a title
ends the app and `[@click=app.quit]` becomes a live link. These two take only
text that went through `visible`, and show it letter by letter.
"""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from benchapp.safe_text import SafeText, cell_width, clip_text


class Para(Widget):
    """Text that wraps, of one line or several."""

    DEFAULT_CSS = """
    Para {
        width: 1fr;
        height: auto;
    }
    """

    def __init__(
        self,
        text: SafeText = SafeText(""),  # noqa: B008 - a constant, and immutable
        *,
        id: str | None = None,
        classes: str | None = None,
    ) -> None:
        """Show a text.

        Args:
            text: What stands there at first; may hold line ends.
            id: Name in the widget tree.
            classes: Style classes.
        """
        super().__init__(id=id, classes=classes)
        self._text = text

    @property
    def text(self) -> SafeText:
        """What stands there now, whole."""
        return self._text

    def set(self, text: SafeText) -> None:
        """Show another text; nothing is repainted when it is the same."""
        if text != self._text:
            rows = self._rows(text)
            moved = rows is None or rows != self._rows(self._text)
            self._text = text
            self.refresh(layout=moved)
            if moved and not self.is_mounted:
                # Laid out already, mounted not yet: until then the framework keeps the height
                # it measured, and the rows that came since would never be seen.
                self.call_next(self._measure_again)

    def _measure_again(self) -> None:
        self.refresh(layout=True)

    def _rows(self, text: SafeText) -> int | None:
        """How many rows a text takes; None where that hangs on how it wraps.

        A list of clocks changes every second and its rows never do: without this
        the whole screen was laid out anew each time.
        """
        across = self.styles.width
        lines = text.split("\n")
        if not text or across is None or across.is_auto:
            return None
        fits = all(cell_width(line) <= self.content_size.width for line in lines)
        return len(lines) if fits else None

    def render(self) -> Content:
        """The text without any markup."""
        return Content(self._text)


class Line(Para):
    """Text of one line, cut with an ellipsis where it does not fit."""

    DEFAULT_CSS = """
    Line {
        width: 1fr;
        height: 1;
    }
    """

    def set(self, text: SafeText) -> None:
        """Show another text; the layout moves only when the width hangs on it."""
        if text != self._text:
            self._text = text
            across = self.styles.width
            self.refresh(layout=across is not None and across.is_auto)

    def get_content_width(self, container: Size, viewport: Size) -> int:
        """The cells of the whole text, where the style sheet lets it decide."""
        return cell_width(self._text)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Always one row."""
        return 1

    def render(self) -> Content:
        """The text cut to the cells there are."""
        return Content(clip_text(self._text, self.content_size.width))
