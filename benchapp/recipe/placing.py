"""A value put where a text has no place for it yet, and one taken out with its key."""

from __future__ import annotations

from collections.abc import Sequence

from benchapp.recipe.document import parse_document
from benchapp.recipe.edits import Value, replace_value, scalar_text
from benchapp.recipe.nodes import Items, Map, Node, Pair, Scalar, find_node

#: Where a value is in a text; items of a list count from 1.
Path = tuple[str | int, ...]


class NoPlaceError(ValueError):
    """A text has something else where a value belongs."""


def put_at(text: str, path: Path, value: Value) -> str:
    """`text` with one value changed, or put into the nearest group there is.

    Args:
        text: The file's text.
        path: Where the value belongs.
        value: The new value; a list is written in brackets.

    Raises:
        RecipeError: The text cannot be read as a text.
        NoPlaceError: The text has something else where its group belongs.
        ValueError: The value holds a line end, a control or a direction mark.
    """
    root = parse_document(text).root
    node = find_node(root, *path)
    if isinstance(node, Scalar) and isinstance(value, str):
        return replace_value(text, node, value)
    if isinstance(node, (Scalar, Items)):
        return _replaced(text, node, value)
    depth = next((n for n in range(len(path) - 1, -1, -1) if find_node(root, *path[:n])), 0)
    group = find_node(root, *path[:depth])
    if node is not None or not isinstance(group, Map) or not group.pairs:
        raise NoPlaceError(f"there is no place for {path[-1]}")
    line = _nested(path[depth:], value)
    if group is root and not group.flow:
        return f"{text.rstrip()}{_newline(text)}{' ' * (group.column - 1)}{line}{_newline(text)}"
    return _inserted(text, group, line)


def drop_at(text: str, path: Path) -> str:
    """`text` without one key and its value, and without a group that had nothing else.

    A value that is not there is no mistake. One that shares its line with a dash stays, empty.

    Raises:
        RecipeError: The text cannot be read as a text.
    """
    root = parse_document(text).root
    group = find_node(root, *path[:-1])
    pair = next((p for p in group.pairs if p.key.text == path[-1]),
                None) if isinstance(group, Map) else None
    if pair is None or not isinstance(group, Map):
        return text
    if len(group.pairs) == 1 and len(path) > 1 and isinstance(path[-2], str):
        return drop_at(text, path[:-1])
    if group.flow:
        return _without_flow(text, group, pair)
    start = text.rfind("\n", 0, pair.key.start) + 1
    if text[start: pair.key.start].strip():  # behind a dash, which has to stay
        return replace_value(text, pair.value, "") if isinstance(pair.value, Scalar) else text
    following = next((p.key for p in group.pairs if p.key.start > pair.key.start), None)
    end = _line_end(text, _end_of(pair.value))
    if following is not None:
        end = min(end, text.rfind("\n", 0, following.start) + 1)
    return text[:start] + text[end:]


def _written(value: Value) -> str:
    return scalar_text(value) if isinstance(value, str) else (
        f"[{', '.join(map(scalar_text, value))}]")


def _nested(path: Sequence[str | int], value: Value) -> str:
    """`damp: {soak: 30 min}`, what is behind the first key in braces."""
    key, *rest = path
    inner = _written(value) if not rest else f"{{{_nested(rest, value)}}}"
    return f"{scalar_text(str(key))}: {inner}"


def _replaced(text: str, node: Scalar | Items, value: Value) -> str:
    gap = " " if text[: node.start].endswith(":") else ""
    return text[: node.start] + gap + _written(value) + text[_end_of(node):]


def _inserted(text: str, group: Map, line: str) -> str:
    """Behind the last value of the group that is on lines of its own; else before the first."""
    if group.flow:
        before = text[: group.end - 1].rstrip()
        comma = " " if before.endswith(",") else ", "
        return before + comma + line + text[group.end - 1:]
    space = " " * (group.pairs[0].key.column - 1)
    newline = _newline(text)
    plain = [p.value for p in group.pairs if _is_short(p.value)]
    if not plain:
        at = group.pairs[0].key.start
        return f"{text[:at]}{line}{newline}{space}{text[at:]}"
    at = _line_end(text, _end_of(plain[-1]))
    gap = "" if text[:at].endswith("\n") else newline
    return f"{text[:at]}{gap}{space}{line}{newline}{text[at:]}"


def _newline(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"


def _is_short(node: Node) -> bool:
    return (bool(node.text) and node.style not in ("|", ">")) if isinstance(node, Scalar) else (
        node.flow)


def _without_flow(text: str, group: Map, pair: Pair) -> str:
    """Out of braces with one of the commas beside it."""
    place = group.pairs.index(pair)
    if place + 1 < len(group.pairs):
        return text[: pair.key.start] + text[group.pairs[place + 1].key.start:]
    start = _end_of(group.pairs[place - 1].value) if place else pair.key.start
    return text[:start] + text[_end_of(pair.value):]


def _end_of(node: Node) -> int:
    """Where a value ends; the parser ends a block at the next line that is not of it."""
    if isinstance(node, Items) and not node.flow and node.nodes:
        return _end_of(node.nodes[-1])
    if isinstance(node, Map) and not node.flow and node.pairs:
        return _end_of(node.pairs[-1].value)
    return node.end


def _line_end(text: str, at: int) -> int:
    """Behind the end of the line that `at` is on; where `at` begins a line, there."""
    if text[:at].endswith("\n"):
        return at
    found = text.find("\n", at)
    return len(text) if found < 0 else found + 1
