"""What a YAML error means to someone who has never heard of YAML."""

from __future__ import annotations

import re
from typing import Final

import yaml
from yaml.reader import ReaderError

from benchapp.recipe.nodes import LineOffsets
from benchapp.recipe.problems import Problem

_QUOTE: Final = 'put quotes round the whole text: "…"'
#: (pattern over "context: problem", what is wrong, how to mend it, place of the context?)
_MEANINGS: Final[tuple[tuple[str, str, str, bool], ...]] = (
    (r"quoted scalar.*unexpected (end|document)", "this quote is never closed",
     "write the same quote at the end of the text", True),
    (r"unknown escape character '(.+)'", r"\\\1 means nothing inside double quotes",
     r"write \\\\ for a backslash, or use single quotes", False),
    (r"expected escape sequence", "this escape is cut short", "write the character itself", False),
    (r"found character '(.)' that cannot start", r"a text cannot begin with \1 unquoted",
     _QUOTE, False),
    (r"mapping values are not allowed",
     "a second colon in one line, or a line further in than the one it belongs to",
     "put quotes round text that holds a colon and a space; or line the keys up", False),
    (r"flow (sequence|mapping).*got '<stream end>'", "this bracket is never closed",
     "write its closing ] or }", True),
    (r"flow sequence.*got '(.+)'", r"a comma or ] is missing before this \1",
     "close the list, or put quotes round text that holds , : [ ] { }", False),
    (r"flow mapping.*got '(.+)'", r"a comma or } is missing before this \1",
     "close the braces, or put quotes round text that holds , : [ ] { }", False),
    (r"found '<scalar>'", "text goes on after a closing quote",
     "put all of it inside one pair of quotes", False),
    (r"sequence entries are not allowed", "a list begins in the middle of a line",
     "begin it on a line of its own, further in; put quotes round text that begins with -", False),
    (r"expected the node content|expected '<document start>', but found '[\]}]'",
     "a closing bracket without an opening one", "take it out, or put quotes round the text",
     False),
    (r"expected <block end>|expected '<document start>'",
     "this line is not in one column with the others of its group",
     "begin it in the same column as they do", False),
    (r"could not find expected ':'", "a line without a colon",
     "write key: value, or move the text further in so that it belongs to the line above", True),
    (r"block scalar", "only | or > may end this line",
     "begin the text on the next line, further in", False),
    (r"scanning an (alias|anchor)", "a text cannot begin with & or * unquoted", _QUOTE, True),
    (r"(parsing|scanning) a tag", "a text cannot begin with ! unquoted", _QUOTE, True),
)


def explain_error(error: Exception, text: str) -> Problem:
    """The problem that a parser's error stands for; `text` is what it was reading."""
    if text.startswith("%"):
        return Problem(1, 1, "a % line is not read here", "take it out")
    if not isinstance(error, yaml.MarkedYAMLError):
        return _unmarked(error, text)
    said = f"{error.context or ''}: {error.problem or ''}"
    for pattern, wrong, mend, at_context in _MEANINGS:
        found = re.search(pattern, said, re.DOTALL)
        if found:
            mark = error.context_mark if at_context else error.problem_mark
            return _problem(mark or error.problem_mark, found.expand(wrong), found.expand(mend))
    return _problem(error.problem_mark or error.context_mark,
                    f"this cannot be read ({error.problem})", "look at this line and the one above")


def _problem(mark: yaml.Mark | None, wrong: str, mend: str) -> Problem:
    if mark is None:
        return Problem(1, 1, wrong, mend)
    return Problem(mark.line + 1, mark.column + 1, wrong, mend)


def _unmarked(error: Exception, text: str) -> Problem:
    """Errors that come without a place: found again by what makes them."""
    if isinstance(error, ReaderError):
        return _at(error.position, text, "there is only half a character here",
                   "take it out")
    escape = re.search(r"\\U[0-9A-Fa-f]{8}", text)
    if escape and isinstance(error, (ValueError, OverflowError)):
        return _at(escape.start(), text, f"there is no character {escape.group()}",
                   "write the character itself")
    return Problem(1, 1, f"this cannot be read ({type(error).__name__})",
                   "look for very long numbers or very many brackets")


def _at(offset: int, text: str, wrong: str, mend: str) -> Problem:
    return Problem(*LineOffsets(text).place(offset), wrong, mend)
