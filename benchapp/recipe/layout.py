"""Slips of layout that a text cannot be read with: all of them that can be told, in our own words.

The reader of YAML stops at its first error, which is often lines away from the slip. So
lines are looked at one by one for slips people make; what can be set right is set right in a
copy, an answer that cannot is set aside there, and the copy is read again for the next error.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from benchapp.quantities import quote_text
from benchapp.recipe.nodes import Items, Map, Node, Scalar, walk_nodes
from benchapp.recipe.problems import Problem
from benchapp.recipe.syntax import explain_error

#: More errors of one text are read for when it is next looked at, as are those of a long one.
_MOST: Final = 8
_LONG_TEXT: Final = 32 * 1024
_LONGEST: Final = 1_000
_NO_SPACE: Final = re.compile(r"(\s*(?:- +)?)([a-z][a-z ]{0,19}):(?=[^\W\d_])")
_NO_SPACE_DASH: Final = re.compile(r"(\s*)-(?=[a-z][a-z ]{0,19}:(?: |$))")
_OTHER_DASH: Final = re.compile(r"(\s*)([–—•*])(?= +[a-z][a-z ]{0,19}:(?: |$))")
_QUOTE: Final = re.compile(r"(?:: +|- +)([\"'])")
_QUOTE_IN_LIST: Final = re.compile(r"(?:: +|- +|[\[{,] *)([\"'])")
_KEY_LINE: Final = re.compile(r"\s*(?:- +)?[a-z][a-z ]{0,19}:(?: |$)")
#: Curly quotes round text that needs straight ones.
_CURLY: Final = re.compile(r"(?:: +|- +|[\[{,] *)([“„«])[^“”»]*[,:] [^“”»]*[“”»]")
_VALUE: Final = re.compile(r"(\s*(?:- +)?[a-z][a-z ]{0,19}: +)\S")
_STEP: Final = re.compile(r"\s*do:(?: |$)")

_OPENING: Final = frozenset("“„‟«")
_CLOSED_BY: Final = frozenset("“”‟»«")
_STRAIGHT: Final = 'write straight quotes: "…"'
_NO_DASH: Final = "this step has no dash before do:"
#: What ends a line for an editor, old ones too.
_LINE_END: Final = re.compile(r"\r\n|\r|\n")
_SECOND_COLON: Final = "a second colon in one line"
_FURTHER_IN: Final = "this line is further in than the one it belongs to"


@dataclass(frozen=True, slots=True)
class _Slip:
    """A slip in a line, and the line without it."""

    problem: Problem
    line: str


def find_layout_problems(
    text: str, error: Exception, read: Callable[[str], Exception | None]
) -> tuple[Problem, ...]:
    """Every layout problem that can be told of a text that could not be read.

    Args:
        text: The text.
        error: What stopped the reading of it.
        read: Reads another text; gives what stops that, or None.
    """
    if len(text) > _LONG_TEXT:
        return (explain_error(error, text),)
    lines = _LINE_END.split(text)
    slips = {n: slip for n, slip in enumerate(_slips(lines)) if slip is not None}
    for n, slip in slips.items():
        lines[n] = slip.line
    problems = [slip.problem for slip in slips.values()]
    found: Exception | None = error if not slips else read("\n".join(lines))
    last = -1
    for _ in range(_MOST):
        if found is None:
            break
        problem = _better(explain_error(found, "\n".join(lines)), lines)
        n = problem.line - 1
        if n <= last or n in slips:
            break
        problems.append(problem)
        last = n
        value = _VALUE.match(lines[n]) if n < len(lines) else None
        if value is None or problem.wrong in (_NO_DASH, _FURTHER_IN):
            break  # what the lines after it belong to is a guess
        lines[n] = f'{value.group(1)}"x"'
        found = read("\n".join(lines))
    return tuple(problems) or (explain_error(error, text),)


def _slips(lines: list[str]) -> Iterator[_Slip | None]:
    """The slip of each line, or None; none inside a text of several lines."""
    block: int | None = None
    for n, line in enumerate(lines):
        indent = len(line) - len(line.lstrip(" "))
        if block is not None and (not line.strip() or indent > block):
            yield None
            continue
        block = indent if re.search(r": +[|>][-+0-9]*\s*$", line[:_LONGEST]) else None
        comment = line.lstrip().startswith("#") or len(line) > _LONGEST
        yield None if comment else _slip(lines, n)


def _slip(lines: list[str], n: int) -> _Slip | None:
    line = lines[n]
    if (found := _NO_SPACE_DASH.match(line)):
        return _made(n, found.end(1), "there is no space after this dash",
                     "write - and a space before the key",
                     f"{found.group(1)}- {line[found.end():]}")
    if (found := _OTHER_DASH.match(line)):
        return _made(n, found.end(1), f"a list does not begin with {found.group(2)}",
                     "write a plain - in its place", f"{found.group(1)}-{line[found.end():]}")
    if (found := _NO_SPACE.match(line)):
        key = found.group(2)
        return _made(n, found.end(2), f"there is no space after {key}:",
                     f"write {key}: and a space before its value",
                     f"{found.group(0)} {line[found.end():]}")
    if (found := _CURLY.search(line)):
        return _made(n, found.start(1), "curly quotes do not hold a text together",
                     _STRAIGHT, re.sub("[“”„‟«»]", '"', line.replace(
                         "‘", "'").replace("’", "'").replace("‚", "'")))
    return _open_quote(lines, n)


def _made(n: int, column: int, wrong: str, mend: str, line: str) -> _Slip:
    return _Slip(Problem(n + 1, column + 1, wrong, mend), line)


def _open_quote(lines: list[str], n: int) -> _Slip | None:
    """A quote that opens in this line and is closed neither here nor in a text that goes on."""
    line, at = lines[n], 0
    opens = _QUOTE_IN_LIST if re.search(r"[\[{]", line) else _QUOTE
    while (found := opens.search(line, at)) is not None:
        quote = found.group(1)
        close = _closing(line, found.end(), quote)
        if close < 0:
            following = lines[n + 1: n + 2]
            if following and not _KEY_LINE.match(following[0]) and following[0].strip() and any(
                    quote in one for one in lines[n + 1: n + 20]):
                return None
            return _made(n, found.start(1), "this quote is never closed",
                         "write the same quote at the end of the text",
                         f'{line[:found.start(1)]}"x"')
        at = close + 1
    return None


def _closing(line: str, at: int, quote: str) -> int:
    """Where a quoted text ends in its line; -1: it does not."""
    while at < len(line):
        if quote == '"' and line[at] == "\\":
            at += 2
            continue
        if line[at] == quote:
            if quote == "'" and line[at + 1: at + 2] == "'":
                at += 2
                continue
            return at
        at += 1
    return -1


def _better(problem: Problem, lines: list[str]) -> Problem:
    """The same with words for what its line shows."""
    line = lines[problem.line - 1] if 0 < problem.line <= len(lines) else ""
    column = len(line) - len(line.lstrip(" ")) + 1
    if problem.wrong.startswith("this line is not in one column with") and _STEP.match(line):
        return missing_dash(problem.line, column, line.partition("do:")[2].strip())
    if problem.wrong.startswith(_SECOND_COLON):
        if len(re.findall(r":(?: |$)", line)) > 1:
            return Problem(problem.line, problem.column, _SECOND_COLON,
                           "put quotes round text that holds a colon and a space")
        return Problem(problem.line, column, _FURTHER_IN,
                       "begin it in the same column as the line above it")
    if problem.wrong.startswith("a comma or") and problem.line > 1 and _KEY_LINE.match(line):
        before = lines[problem.line - 2]
        for opening, closing in ("[]", "{}"):
            if before.count(opening) > before.count(closing) and closing not in line and (
                    not before.rstrip().endswith(",")):
                return Problem(problem.line - 1, before.rindex(opening) + 1,
                               "this bracket is never closed", f"write its closing {closing}")
    return problem


def missing_dash(line: int, column: int, does: str) -> Problem:
    """A step that runs into the one before, because it does not begin with a dash."""
    return Problem(line, column, _NO_DASH,
                   f"write - do: {does or 'and what is done'}, with the dash under the others")


def find_text_problems(text: str, root: Node | None) -> Iterator[tuple[Problem, bool]]:
    """Texts that read otherwise than they were meant: cut off by a #, or parted by a comma.

    Yields:
        The problem, and whether it explains a value that seems empty.
    """
    for node, flow in _plain_texts(root):
        rest = text[node.end: node.end + _LONGEST].split("\n", 1)[0]
        found = re.match(r"[ ]+#(\d[^\s,\]}]*)" if node.text else r"[ ]*#([^\s,\]}]+)", rest)
        if found:
            at = node.end + rest.index("#")
            yield Problem(node.line + text.count("\n", node.start, at),
                          at - text.rfind("\n", 0, at),
                          f"a # begins a remark, so {quote_text('#' + found.group(1))} is not "
                          "part of the text",
                          "put quotes round the whole text; if it is a remark, write a space "
                          "after #"), not node.text
        elif flow and node.text[:1] in _OPENING and not set(node.text[1:]) & _CLOSED_BY:
            yield Problem(node.line, node.column,
                          "curly quotes do not hold a text together, so its comma parts it",
                          _STRAIGHT), False


def _plain_texts(root: Node | None) -> Iterator[tuple[Scalar, bool]]:
    """Each value without quotes, and whether it is inside brackets or braces."""
    for _, node in walk_nodes(root):
        if isinstance(node, Map):
            inside: tuple[Node, ...] = tuple(pair.value for pair in node.pairs)
        elif isinstance(node, Items):
            inside = node.nodes
        else:
            continue
        yield from ((one, node.flow) for one in inside
                    if isinstance(one, Scalar) and not one.style)
