"""Text to a tree of nodes: YAML held to what a person writes by hand.

Every scalar stays text until the field it belongs to reads it, because the
usual reading turns `1:30` into 90 and `no` into false. Every node knows its
place, so that a problem can be pointed at and one value be changed alone.
Recipes and preferences are both read through here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import islice
from typing import Any, Final

import yaml

from benchapp.quantities import quote_text
from benchapp.recipe.layout import find_layout_problems, missing_dash
from benchapp.recipe.nodes import Document, Items, LineOffsets, Map, Node, Pair, Scalar
from benchapp.recipe.problems import Problem, RecipeError
from benchapp.safe_text import character_fault

MOST_BYTES: Final = 256 * 1024
MOST_NODES: Final = 20_000
MOST_DEPTH: Final = 16
#: A file with more problems than this is not a recipe; the rest is not listed.
MOST_PROBLEMS: Final = 200
_COLON: Final = re.compile(r"\s*:")
_DECIMAL_COMMA: Final = re.compile(r"[0-9],[0-9]")


def parse_document(text: str | bytes) -> Document:
    """The tree of a text that has no problems as such.

    Raises:
        RecipeError: With all problems found, each with line and column.
    """
    document = scan_document(text)
    if document.problems:
        raise RecipeError(document.problems)
    return document


def scan_document(text: str | bytes) -> Document:
    """The tree of a text as far as it can be read, and its problems beside it. Raises nothing."""
    decoded = _decoded(text)
    if isinstance(decoded, Problem):
        return Document(None, (decoded,), whole=False)
    return _Growing(decoded).document()


def _decoded(text: str | bytes) -> str | Problem:
    data = text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass")
    if len(data) > MOST_BYTES:
        return Problem(1, 1, f"the file is larger than {MOST_BYTES // 1024} KiB",
                       "keep one print in one file, and notes elsewhere")
    if isinstance(text, str):
        return text
    try:
        return text.decode("utf-8")
    except UnicodeDecodeError as error:
        before = text[: error.start].decode("utf-8").removeprefix("\ufeff")
        line, column = LineOffsets(before).place(len(before))
        return Problem(line, column, "the file is not UTF-8 from here on",
                       "save it as UTF-8 in your editor")


def _refused(text: str, allowed: str) -> Iterator[tuple[int, str]]:
    """Each character that is not taken, as its offset and its name."""
    if text.isprintable():
        return
    for offset, character in enumerate(text):
        if not character.isprintable() and character not in allowed:
            name = character_fault(character)
            if name:
                yield offset, name


@dataclass(slots=True)
class _Open:
    """A map or list whose end has not come yet."""

    event: yaml.MappingStartEvent | yaml.SequenceStartEvent
    nodes: list[Node] = field(default_factory=list)
    pairs: list[Pair] = field(default_factory=list)
    key: Node | None = None
    lines: dict[str, int] = field(default_factory=dict)
    runs_on: bool = False


def _spot(mark: Any) -> tuple[int, int, int]:
    """Line and column from 1, and the offset. Every event of the parser has its marks."""
    return (mark.line + 1, mark.column + 1, mark.index) if mark else (1, 1, 0)


def _what_stops(text: str) -> Exception | None:
    """What ends the reading of a text before its end."""
    try:
        for _ in islice(yaml.parse(text, Loader=yaml.SafeLoader), MOST_NODES):
            pass
    except (yaml.YAMLError, ValueError, OverflowError, RecursionError) as error:
        return error
    return None


class _StopError(Exception):
    """Reading has to end here; the problem is already written down."""


class _Growing:
    """One reading of one text, event by event and without recursion."""

    def __init__(self, text: str) -> None:
        self._shift = 1 if text.startswith("\ufeff") else 0
        self._text = text[self._shift:]
        self._problems: list[Problem] = []
        self._open: list[_Open] = []
        self._root: Node | None = None
        self._count = 0

    def document(self) -> Document:
        clean = self._without_refused()
        whole = clean is not None and self._grown(clean)
        problems = tuple(sorted(set(self._problems)))[:MOST_PROBLEMS]
        return Document(self._root if whole else None, problems, whole)

    def _problem(self, line: int, column: int, wrong: str, mend: str) -> None:
        self._problems.append(Problem(line, column, wrong, mend))

    def _without_refused(self) -> str | None:
        """The text with each refused character as a space, so that reading can go on.

        None where tabs indent: what belongs to what is then a guess.
        """
        found = list(islice(_refused(self._text, "\n\r"), MOST_PROBLEMS))
        if not found:
            return self._text
        lines = LineOffsets(self._text)
        clean, indented = list(self._text), False
        for offset, name in found:
            line, column = lines.place(offset)
            tab = self._text[offset] == "\t"
            self._problem(line, column, f"{name} is not allowed here",
                          "write spaces instead" if tab else "take it out")
            before = self._text[offset - column + 1: offset]
            indented = indented or (tab and not before.strip(" \t-"))
            clean[offset] = " "
        return None if indented or len(found) == MOST_PROBLEMS else "".join(clean)

    def _grown(self, clean: str) -> bool:
        """Reads to the end. The one border where a YAML error is caught."""
        try:
            for event in yaml.parse(clean, Loader=yaml.SafeLoader):
                self._take(event)
        except _StopError:
            return False
        except (yaml.YAMLError, ValueError, OverflowError, RecursionError) as error:
            if not self._problems:
                self._problems.extend(find_layout_problems(clean, error, _what_stops))
            return False
        return True

    def _take(self, event: yaml.Event) -> None:
        if isinstance(event, yaml.NodeEvent):
            self._limits(event)
        match event:
            case yaml.ScalarEvent():
                self._place(self._scalar(event))
            case yaml.MappingStartEvent() | yaml.SequenceStartEvent():
                self._open.append(_Open(event))
            case yaml.MappingEndEvent() | yaml.SequenceEndEvent():
                self._close(event)
            case yaml.AliasEvent():
                line, column, offset = _spot(event.start_mark)
                self._place(Scalar("", line, column, offset, offset, style="*"))
            case yaml.DocumentStartEvent():
                self._document_start(event)

    def _document_start(self, event: yaml.DocumentStartEvent) -> None:
        line, column, _ = _spot(event.start_mark)
        if self._root is not None:
            self._problem(line, column, "a second document begins here",
                          "take the line --- out, or put the second one into a file of its own")
            raise _StopError
        if event.version or event.tags:
            self._problem(line, column, "a % line is not read here", "take it out")

    def _limits(self, event: yaml.NodeEvent) -> None:
        line, column, _ = _spot(event.start_mark)
        self._count += 1
        if self._count > MOST_NODES:
            self._problem(line, column, f"there are more than {MOST_NODES:,} values up to here",
                          "keep one print in one file")
            raise _StopError
        if len(self._open) >= MOST_DEPTH and not isinstance(event, yaml.ScalarEvent):
            self._problem(line, column, f"this is more than {MOST_DEPTH} levels deep",
                          "a recipe needs four; look for brackets that never close")
            raise _StopError
        if isinstance(event, yaml.AliasEvent):
            self._problem(line, column, f"*{event.anchor} points to another place",
                          "write the value out here")
        elif event.anchor:
            self._problem(line, column, f"&{event.anchor} names a value for use elsewhere",
                          "take the name out and write values where they belong")
        tag = getattr(event, "tag", None)
        if tag:
            self._problem(line, column, f"the tag {tag} is not read here",
                          "take it out; put quotes round text that begins with !")

    def _scalar(self, event: yaml.ScalarEvent) -> Scalar:
        line, column, start = _spot(event.start_mark)
        for _, name in islice(_refused(event.value, "\n"), 1):
            self._problem(line, column, f"an escape writes {name} here",
                          "take out what begins with \\")
        return Scalar(event.value, line, column, start + self._shift,
                      _spot(event.end_mark)[2] + self._shift, event.style or "")

    def _close(self, event: yaml.Event) -> None:
        done = self._open.pop()
        line, column, start = _spot(done.event.start_mark)
        where = (line, column, start + self._shift, _spot(event.end_mark)[2] + self._shift,
                 bool(done.event.flow_style))
        if isinstance(done.event, yaml.MappingStartEvent):
            self._place(Map(tuple(done.pairs), *where))
        else:
            self._place(Items(tuple(done.nodes), *where))

    def _place(self, node: Node) -> None:
        if len(self._problems) >= MOST_PROBLEMS:
            raise _StopError
        if not self._open:
            self._root = node
            return
        top = self._open[-1]
        if isinstance(top.event, yaml.SequenceStartEvent):
            top.nodes.append(node)
        elif top.key is None:
            top.key = node
        else:
            key, top.key = top.key, None
            self._pair(top, key, node)

    def _pair(self, top: _Open, key: Node, value: Node) -> None:
        if not isinstance(key, Scalar):
            self._problem(key.line, key.column, "a key is a list or a map here",
                          "write one word or a few before the colon")
        elif key.style == "*":
            return
        elif key.text == "<<" and not key.style:
            self._problem(key.line, key.column, "<< takes values from another place",
                          "write the values out here")
        elif not key.text.strip():
            self._problem(key.line, key.column, "there is nothing before the colon",
                          "write what the value is called")
        elif self._is_comma(top, key, value):
            self._comma(key)
        elif key.text in top.lines and key.text == "do" and not top.event.flow_style:
            top.runs_on = True
            does = value.text if isinstance(value, Scalar) else ""
            self._problems.append(missing_dash(key.line, key.column, does))
        elif key.text in top.lines and top.runs_on:
            return  # of the step that runs on, which has been said
        elif key.text in top.lines:
            self._problem(key.line, key.column,
                          f"{quote_text(key.text)} is written twice, in line {top.lines[key.text]} "
                          f"and in line {key.line}", "keep one of them")
        else:
            top.lines[key.text] = key.line
            top.pairs.append(Pair(key, value))

    def _is_comma(self, top: _Open, key: Scalar, value: Node) -> bool:
        if not top.event.flow_style or not isinstance(value, Scalar) or not value.empty:
            return False
        return not _COLON.match(self._text, key.end - self._shift)

    def _comma(self, key: Scalar) -> None:
        """`{do: Lay paper, blankets}`: what looks like a key is the text after a comma."""
        before = self._text[: key.start - self._shift].rstrip()
        if not before.endswith(","):
            self._problem(key.line, key.column,
                          f"{quote_text(key.text)} is in {{}} without a value",
                          f"write {key.text}: and its value")
            return
        line, column = LineOffsets(before).place(len(before) - 1)
        mend = "put quotes round the whole text, or write it in block form, a line a key"
        if _DECIMAL_COMMA.match(self._text, max(len(before) - 2, 0)):
            mend = "write a decimal with a point"
        self._problem(line, column, f"this comma inside {{}} makes a key of {quote_text(key.text)}",
                      mend)
