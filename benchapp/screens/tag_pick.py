"""Picking a tag by two keys: its group, then the word; one used today already by one key.

Every key is fixed (`session/tags.py`); what has none is chosen from the list with Enter. A tag
the sheet bears already is shown so, and picking it takes it off.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar, Final, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from benchapp.book import BookError
from benchapp.book.queries import sessions_of
from benchapp.recipe.model import Print
from benchapp.reports.tag_advice import advice_blocks, advise_on_tag
from benchapp.safe_text import SafeText, cell_width, clip_text, sanitize
from benchapp.screens.block_rows import render_rows
from benchapp.screens.desk import Desk
from benchapp.screens.laid_over import Menu
from benchapp.screens.pick import CARD, ToldLines
from benchapp.screens.widgets.keys import KeyLine
from benchapp.screens.widgets.plain_text import Para
from benchapp.screens.widgets.rows import Row, Rows, fit_cells
from benchapp.session.state import Session
from benchapp.session.tags import GLOSSES, TagGroup

_WORD_CELLS: Final = 24
#: The card's widest; its frame, title and the two empty lines; and its line of keys.
_CARD_MOST: Final = 92
_FRAME: Final = 5
_FOOT_CELLS: Final = 56


class TagPick(Menu[str | None]):
    """Gives a tag, or None where it was left."""

    DEFAULT_CSS = CARD.format(name="TagPick") + """
    TagPick Rows { margin: 1 0 0 0; height: auto; background: $surface; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "give_up", "back", show=False),
        Binding("f9", "why", "why, and what to try", show=False)]

    def __init__(self, sheet: SafeText, menu: Sequence[TagGroup],
                 used: Mapping[str, str] | None = None, on: Sequence[str] = (), *,
                 print_: Print | None = None) -> None:
        """Offer tags.

        Args:
            sheet: What the sheet is called.
            menu: All tags by group, each with its key.
            used: Those used today by keys of their own.
            on: Those the sheet bears.
            print_: The print whose days are read where a tag is explained; None: none.
        """
        super().__init__()
        self._sheet, self._menu, self._used, self._on = sheet, menu, used or {}, tuple(on)
        self._group: TagGroup | None = None
        self._print = print_

    def compose(self) -> ComposeResult:
        """Groups or words, each with its key; below the groups what was used today."""
        with Vertical(id="card"):
            yield Para(sanitize(f"Tag for {self._sheet}"), id="title")
            yield Rows(unchosen=True)
            yield Para(id="about")
            yield KeyLine((("its key", "take it"), ("↓ enter", "choose"), ("f9", "why"),
                           ("escape", "back")))

    def on_mount(self) -> None:
        """Begin with the groups."""
        self._show()

    def _show(self) -> None:
        group = self._group
        if group is None:
            # What is on the sheet and has no key here, such as a tag of another book.
            keyed = {*self._used.values(), *(tag for g in self._menu for _, tag in g.tags)}
            rows = [_group_row(i, x) for i, x in enumerate(self._menu)]
            rows += [self._tag_row("", tag) for tag in self._on if tag not in keyed]
        else:
            rows = [self._tag_row(key, tag) for key, tag in group.tags]
        self.query_one(Rows).set_rows(rows)
        about = self.query_one("#about", Para)
        about.display = group is None and bool(self._used)
        lines = self._used_lines() if about.display else []
        about.set(SafeText("\n".join(lines)))
        self._fit(len(lines))

    def _across(self) -> int:
        """Cells a line of the card has."""
        return max(10, min(_CARD_MOST, self.app.size.width * 9 // 10) - 4)

    def _used_lines(self) -> list[SafeText]:
        """What was used today, as many tags a line as fit."""
        lines = [SafeText("used today:")]
        for key, tag in self._used.items():
            on = " (on it)" if tag in self._on else ""
            word = sanitize(f"   {key} {clip_text(sanitize(tag), _WORD_CELLS)}{on}")
            if cell_width(lines[-1]) + cell_width(word) <= self._across():
                lines[-1] = SafeText(lines[-1] + word)
            else:
                lines.append(SafeText(word[1:]))
        return lines

    def on_resize(self) -> None:
        """The list gives way, so that the keys of what was used stay in sight."""
        self._show()

    def _fit_list(self) -> None:
        """As `_fit` has it: the tags used today stay, on a low screen too."""

    def _fit(self, used: int) -> None:
        """Leave the list what the card has beside its frame, title, keys and tags used."""
        foot = 1 if self._across() >= _FOOT_CELLS else 2
        high = self.app.size.height - _FRAME - used - foot
        self.query_one(Rows).styles.max_height = max(2, high)

    def _tag_row(self, key: str, tag: str) -> Row:
        on = tag in self._on
        said = "on it: takes it off" if on else GLOSSES.get(tag, "")
        return Row(((sanitize(f"{key or ' '}  "), "mark"),
                    (fit_cells(sanitize(tag), _WORD_CELLS), "strong"), (sanitize(said), "quiet")),
                   id=f"tag {tag}")

    def on_key(self, event: events.Key) -> None:
        """A key takes a word, or opens a group."""
        sign, opened = event.character or "", None
        if self._group is not None:
            tag = dict(self._group.tags).get(sign) if sign else None
        else:
            tag = self._used.get(sign)
            opened = next((g for g in self._menu if sign and g.key == sign), None)
        if self.is_stray(event, answers=tag is not None or opened is not None):
            event.stop()
            self.say_stray(sanitize(f"Tag for {self._sheet}"), event)
        elif opened is not None:
            event.stop()
            self._open(opened)
        elif tag is not None:
            event.stop()
            self.dismiss(tag)

    def on_rows_taken(self, event: Rows.Taken) -> None:
        """Enter does the same with the line chosen."""
        event.stop()
        kind, _, name = event.row_id.partition(" ")
        if kind == "tag":
            self.dismiss(name)
        else:
            self._open(self._menu[int(name)])

    def _open(self, group: TagGroup) -> None:
        self._group = group
        self._show()

    def action_why(self) -> None:
        """What causes the tag of the chosen line, or the last one on the sheet; nothing is done."""
        chosen = self.query_one(Rows).chosen or ""
        kind, _, name = chosen.partition(" ")
        tag = name if kind == "tag" else self._on[-1] if self._on else ""
        if tag:
            self.app.push_screen(ToldLines(sanitize(f"Why {tag}"), why_rows(
                cast("Desk", self.app), self._print, tag, self._across())))

    def action_give_up(self) -> None:
        """From a group back to the groups, from them away."""
        if self._group is None:
            self.dismiss(None)
        else:
            self._group = None
            self._show()


def why_rows(desk: Desk, print_: Print | None, tag: str, across: int) -> list[Row]:
    """What is known of a tag, as rows; a book that cannot be read shows what is usual."""
    sessions: tuple[Session, ...] = ()
    try:
        sessions = () if print_ is None else sessions_of(desk.workshop.book, print_)
    except BookError as error:
        desk.fault = str(error)
    title = None if print_ is None else print_.title
    return render_rows(advice_blocks(advise_on_tag(tag, sessions, title)), across)


def _group_row(place: int, group: TagGroup) -> Row:
    words = sanitize(", ".join(tag for _, tag in group.tags))
    return Row(((sanitize(f"{group.key or ' '}  "), "mark"),
                (fit_cells(sanitize(group.name), 12), "wash"),
                (words, "quiet")), id=f"group {place}")
