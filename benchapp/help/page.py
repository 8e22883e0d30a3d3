"""A help page: its text as blocks, and the blocks as lines of any width. Pure.

The form of a text: the title on the first line, one sentence about it on the second, then blocks
with an empty line between them. A line that begins with `# ` is a heading, lines that begin with
four spaces are an example, `- ` begins an item of a list, `label | words` is a row of a table, and
`@name` puts in what the program knows. Everything else is a paragraph.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

Style = Literal["heading", "text", "label", "example"]
#: Columns a label takes at most before it has a line of its own.
_LABEL_MOST: Final = 26
_INDENT: Final = 4


@dataclass(frozen=True, slots=True)
class Heading:
    """The head of a part."""

    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Sentences."""

    text: str


@dataclass(frozen=True, slots=True)
class Items:
    """A list."""

    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Labels with what they mean."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Example:
    """Lines as they are typed, or as they stand in a file."""

    lines: tuple[str, ...]


Block = Heading | Paragraph | Items | Table | Example
Part = Callable[[], Sequence[Block]]


@dataclass(frozen=True, slots=True)
class HelpPage:
    """One topic."""

    title: str
    summary: str
    blocks: tuple[Block, ...]

    @property
    def examples(self) -> tuple[str, ...]:
        """Every line of every example, in order."""
        return tuple(line for block in self.blocks if isinstance(block, Example)
                     for line in block.lines)


@dataclass(frozen=True, slots=True)
class HelpLine:
    """A line as it is shown: pieces of text, each with its style."""

    spans: tuple[tuple[str, Style], ...] = ()

    @property
    def text(self) -> str:
        """The line without its styles."""
        return "".join(text for text, _ in self.spans).rstrip()


def read_page(text: str, parts: Mapping[str, Part]) -> HelpPage:
    """A page from its text.

    Args:
        text: In the form that the module's docstring describes.
        parts: What `@name` puts in.

    Raises:
        KeyError: The text names a part that is not there.
    """
    title, summary, rest = text.split("\n", 2)
    blocks = [block for raw in rest.strip("\n").split("\n\n") for block in _blocks(raw, parts)]
    return HelpPage(title, summary, tuple(blocks))


def _blocks(raw: str, parts: Mapping[str, Part]) -> Iterator[Block]:
    lines = [line for line in raw.split("\n") if line.strip()]
    if lines and lines[0].startswith("# "):
        yield Heading(lines.pop(0)[2:])
    if not lines:
        return
    first = lines[0]
    if first.startswith("@"):
        yield from parts[first[1:]]()
    elif first.startswith(" " * _INDENT):
        yield Example(tuple(line.removeprefix(" " * _INDENT) for line in lines))
    elif first.startswith("- "):
        joined = " ".join(line.strip() for line in lines)
        yield Items(tuple(joined.removeprefix("- ").split(" - ")))
    elif " | " in first:
        pairs = (line.partition(" | ") for line in lines)
        yield Table(tuple((label, words) for label, _, words in pairs))
    else:
        yield Paragraph(" ".join(lines))


def page_lines(page: HelpPage, across: int) -> list[HelpLine]:
    """A page as lines of at most so many columns.

    Args:
        page: The topic.
        across: Columns of a line, at least 20.
    """
    out: list[HelpLine] = []
    for block in page.blocks:
        if out:
            out.append(HelpLine())
        out += _lines(block, across)
    return out


def _lines(block: Block, across: int) -> list[HelpLine]:
    match block:
        case Heading(text):
            return [HelpLine(((line, "heading"),)) for line in _wrap(text, across)]
        case Paragraph(text):
            return [HelpLine(((line, "text"),)) for line in _wrap(text, across)]
        case Items(texts):
            return [HelpLine(((("- " if first else "  ") + line, "text"),)) for text in texts
                    for first, line in _first(_wrap(text, across - 2))]
        case Table(rows):
            return _table(rows, across)
        case Example(lines):
            return [HelpLine(((" " * _INDENT + piece, "example"),)) for line in lines
                    for piece in _example(line, across - _INDENT)]


def _table(rows: Sequence[tuple[str, str]], across: int) -> list[HelpLine]:
    widest = max((len(label) for label, _ in rows), default=0)
    column = min(widest, _LABEL_MOST, across // 3)
    out: list[HelpLine] = []
    for label, words in rows:
        if len(label) > column:
            out += [HelpLine(((line, "label"),)) for line in _wrap(label, across)]
            label = ""
        out += [HelpLine((((label if first else "").ljust(column + 2), "label"), (line, "text")))
                for first, line in _first(_wrap(words, across - column - 2))]
    return out


def _first(lines: Sequence[str]) -> list[tuple[bool, str]]:
    return [(number == 0, line) for number, line in enumerate(lines)]


def _wrap(text: str, across: int) -> list[str]:
    return textwrap.wrap(text, across, break_on_hyphens=False) or [""]


def _example(line: str, across: int) -> list[str]:
    """The line as it is; where it does not fit it goes on, further in."""
    if len(line) <= across:
        return [line]
    own = len(line) - len(line.lstrip())
    return textwrap.wrap(line, across, drop_whitespace=False, break_on_hyphens=False,
                         subsequent_indent=" " * min(own + 2, across // 2)) or [""]
