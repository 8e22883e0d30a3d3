"""Changing one value's text alone, and nothing of what the printer wrote round it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

from benchapp.recipe.document import parse_document
from benchapp.recipe.nodes import Items, Map, Node, Scalar, find_node
from benchapp.safe_text import why_refused

#: A value as it is put into a file: one text, or a list of them.
Value = str | Sequence[str]
#: Text that every reader of YAML takes as the same text without quotes.
_PLAIN: Final = re.compile(r"[^\W_](?:[\w .×%()/’'-]*[\w.%)])?")
#: Words and figures some readers take for something else than text.
_TAKEN: Final = re.compile(r"(?i)true|false|yes|no|on|off|null|y|n|[-+.\d_:ex]+")
_FIGURE: Final = re.compile(r"[1-9]\d*(\.\d+)?|0\.\d+")


def scalar_text(text: str) -> str:
    """The text as it stands in a file: plain where that is clear, else in double quotes.

    Raises:
        ValueError: It holds a line end, a control or a direction mark.
    """
    wrong = why_refused(text) or _no_character(text)
    if wrong:
        raise ValueError(wrong)
    plain = _FIGURE.fullmatch(text) or (_PLAIN.fullmatch(text) and not _TAKEN.fullmatch(text))
    if plain:
        return text
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _no_character(text: str) -> str | None:
    """The two code points that no file may hold, though nothing shows them as wrong."""
    bad = set(text) & {"\ufffe", "\uffff"}
    return "it holds something that is not a character" if bad else None


def replace_value(text: str, node: Scalar, new: str) -> str:
    """`text` with the value at `node` changed to `new`, all else as it was.

    Args:
        text: The file's text, the one `node` was read from.
        node: The value to change.
        new: The new value, on one line.

    Raises:
        ValueError: `new` holds a line end, a control or a direction mark.
    """
    before, old, after = text[: node.start], text[node.start: node.end], text[node.end:]
    written = scalar_text(new)
    if node.style in ("|", ">"):
        written += old[len(old.rstrip()):]
    if before.endswith(":"):
        written = " " + written
    return before + written + after


def change_values(text: str, changes: Mapping[str, str]) -> str:
    """`text` with several values changed, each alone.

    Args:
        text: The file's text.
        changes: New values by path, such as `print.title` or `plates.1.size`. Paths
            that the text has no value for are left out.

    Raises:
        RecipeError: The text cannot be read as a text.
        ValueError: A new value holds a line end, a control or a direction mark.
    """
    root = parse_document(text).root
    edits = [(node, new) for path, new in changes.items()
             if isinstance(node := node_at(root, path), Scalar)]
    for node, new in sorted(edits, key=lambda edit: -edit[0].start):
        text = replace_value(text, node, new)
    return text


def node_at(root: Node | None, path: str) -> Node | None:
    """The node at a path such as `each.3.time`; items of a list count from 1."""
    parts = [int(part) if part.isdigit() else part for part in path.split(".")]
    return find_node(root, *parts) if isinstance(root, Map) else None


def put_value(text: str, name: str, value: Value) -> str:
    """`text` with the value of one key at its top level changed, or the key put at its end.

    Args:
        text: The file's text.
        name: The key.
        value: Its new value; a list is written in brackets.

    Raises:
        RecipeError: The text cannot be read as a text.
        ValueError: A new value holds a line end, a control or a direction mark.
    """
    root = parse_document(text).root
    written = scalar_text(value) if isinstance(value,
                                               str) else f"[{', '.join(map(scalar_text, value))}]"
    node = node_at(root, name)
    if isinstance(node, Scalar) and isinstance(value, str):
        return replace_value(text, node, value)
    if node is not None:
        last = node if not isinstance(node, Items) or node.flow else node.nodes[-1]
        gap = " " if text[: node.start].endswith(":") else ""
        return text[: node.start] + gap + written + text[last.end:]
    line = f"{scalar_text(name)}: {written}"
    if isinstance(root, Map) and root.flow:
        comma = ", " if root.pairs else ""
        return text[: root.end - 1] + comma + line + text[root.end - 1:]
    end = "\r\n" if "\r\n" in text else "\n"
    gap = "" if not text or text.endswith("\n") else end
    further_in = " " * (root.column - 1) if isinstance(root, Map) else ""
    return f"{text}{gap}{further_in}{line}{end}"
