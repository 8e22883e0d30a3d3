"""What a report is made of before it is text, a page or lines of a screen: a few kinds of block.

A report says once what stands where; a renderer knows blocks and no report. Words of the
printer's own are `Said`, so that a page can hold each apart: text written from right to left
turns nothing round that stands beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

from benchapp.reports.charts import Chart
from benchapp.reports.review_day import DayChart

#: Where a report goes: lines of a terminal, or a page that stands by itself. A screen has the
#: blocks of its own parts.
Medium = Literal["text", "page"]


@dataclass(frozen=True, slots=True)
class Said:
    """The printer's own words."""

    text: str


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture on a page. Lines of text have none.

    Attributes:
        source: What an `src` says: all of the picture as `data:`, or a file beside the page.
        words: What it shows, for its caption and for who can't see it.
    """

    source: str
    words: str

    @property
    def text(self) -> str:
        """In a line of text there is no picture."""
        return ""


#: Words: pieces of ours and of the printer's; in a cell also pictures.
Words = str | Said | Photo | tuple[str | Said | Photo, ...]
#: A new line within a cell.
BREAK: Final = "\n"


@dataclass(frozen=True, slots=True)
class Title:
    """What a report is about, and a line under it."""

    title: Words
    under: Words


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence, or a line of figures.

    Attributes:
        words: Without its full stop, which a page sets; aside, as they stand.
        aside: It is less important than what stands above.
        wraps: Text breaks it where a line is full.
    """

    words: Words
    aside: bool = False
    wraps: bool = False


@dataclass(frozen=True, slots=True)
class Items:
    """A list, each item in one line.

    Attributes:
        texts: The items.
        wraps: Text breaks one where a line is full; what goes on stands further in.
    """

    texts: tuple[str, ...]
    wraps: bool = False


@dataclass(frozen=True, slots=True)
class Drawn:
    """Lines drawn with signs, cell under cell."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Numbers:
    """Values by what they belong to, as `1: 4`: never broken within one.

    Attributes:
        values: Each with its number.
        lead: Stands before them.
        deep: They are told of the line above.
    """

    values: tuple[str, ...]
    lead: str = ""
    deep: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Cells under their heads.

    Attributes:
        head: What each column is.
        rows: The cells, as many as there are heads.
        figures / short: Columns that hold figures, or short words never broken.
        quiet: Columns that matter less, on a screen.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[Words, ...], ...]
    figures: frozenset[int] = frozenset()
    short: frozenset[int] = frozenset()
    quiet: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Facts:
    """Names, each with what is known of it.

    Attributes:
        rows: The names and what is known.
        listed: There may be many, each short: on a page they run on in columns.
    """

    rows: tuple[tuple[str, str], ...]
    listed: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """A chart with every value beside it.

    Attributes:
        chart: The chart.
        numbers: Its values.
        aligned: Text has the values in columns.
        told: What a screen tells between them, where one looks for the reason.
    """

    chart: Chart
    numbers: Numbers
    aligned: bool = False
    told: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Charts:
    """Charts, each under its title, and what is to be known of them."""

    charts: tuple[Chart, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Photos:
    """Pictures in a row, each over its caption; small: many of them, as on a contact sheet."""

    photos: tuple[Photo, ...]
    small: bool = False


@dataclass(frozen=True, slots=True)
class DayDrawing:
    """The rows of a day."""

    day: DayChart


@dataclass(frozen=True, slots=True)
class Whole:
    """Blocks that the end of a page does not part."""

    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """Blocks under a name; one without blocks is left out.

    Attributes:
        name: Their name.
        blocks: What stands under it.
        whole: The end of a page does not part it.
    """

    name: Words
    blocks: tuple[Block, ...]
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Beside:
    """Two columns of blocks beside one another, where it is a page; one without blocks is empty."""

    left: tuple[Block, ...]
    right: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Signatures:
    """Lines to sign on, each with what is signed there, and a note under them."""

    names: tuple[str, ...]
    note: str


Block = (Title | Sentence | Items | Numbers | Facts | Table | Figure | Charts | DayDrawing | Drawn
         | Photos | Whole | Section | Beside | Signatures)


def photo_section(name: Words, photos: Iterable[Photo], *, small: bool = False) -> Section:
    """A part that is pictures; left out where there are none."""
    found = tuple(photos)
    return Section(name, (Photos(found, small),) if found else ())


def list_section(name: str, texts: Iterable[str]) -> Section:
    """A part that is a list of texts; left out where there are none."""
    items = tuple(texts)
    return Section(name, (Items(items),) if items else ())


def plain_words(words: Words) -> str:
    """Words as one text."""
    return "".join(piece if isinstance(piece, str) else piece.text for piece in word_pieces(words))


def word_pieces(words: Words) -> Iterator[str | Said | Photo]:
    """Their pieces, in order."""
    yield from words if isinstance(words, tuple) else (words,)


def join_said(texts: Iterable[str], between: str = "; ") -> tuple[str | Said, ...]:
    """Several texts of the printer's in one cell."""
    out: list[str | Said] = []
    for text in texts:
        out += [*([between] if out else []), Said(text)]
    return tuple(out)
