"""The tree a text is read into: scalars, maps and lists that know where they stand."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass

from benchapp.recipe.problems import Problem


@dataclass(frozen=True, slots=True)
class Scalar:
    """One piece of text. `start` and `end` are its offsets in the file, quotes included.

    `style` is how it was written: "" plain, ' or " quoted, | or > a block.
    """

    text: str
    line: int
    column: int
    start: int
    end: int
    style: str = ""

    @property
    def empty(self) -> bool:
        """True where a value was left out, not where it is quoted and empty."""
        return not self.text and not self.style


@dataclass(frozen=True, slots=True)
class Pair:
    """A key and its value."""

    key: Scalar
    value: Node


@dataclass(frozen=True, slots=True)
class Map:
    """Keys and values in the order written. `flow` where it stands in braces."""

    pairs: tuple[Pair, ...]
    line: int
    column: int
    start: int
    end: int
    flow: bool = False

    def get(self, key: str) -> Node | None:
        """The value of that key, or None."""
        return next((p.value for p in self.pairs if p.key.text == key), None)


@dataclass(frozen=True, slots=True)
class Items:
    """A list. `flow` where it stands in brackets."""

    nodes: tuple[Node, ...]
    line: int
    column: int
    start: int
    end: int
    flow: bool = False


Node = Scalar | Map | Items


@dataclass(frozen=True, slots=True)
class Document:
    """What a text holds.

    Attributes:
        root: The tree; None where the text is empty or could not be read to its end.
        problems: What is wrong with the text as such, in its order.
        whole: False where reading stopped before the end.
    """

    root: Node | None
    problems: tuple[Problem, ...] = ()
    whole: bool = True


class LineOffsets:
    """Offsets to lines and columns; a line ends at LF, CR LF or CR."""

    def __init__(self, text: str) -> None:
        unified = text.replace("\r\n", "\0\n").replace("\r", "\n")
        self._starts = [0]
        at = unified.find("\n")
        while at >= 0:
            self._starts.append(at + 1)
            at = unified.find("\n", at + 1)

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column of an offset, both from 1."""
        line = bisect_right(self._starts, offset)
        return line, offset - self._starts[line - 1] + 1


def walk_nodes(root: Node | None) -> Iterator[tuple[tuple[str | int, ...], Node]]:
    """Every node with its path from the root; items of a list count from 1."""
    waiting: list[tuple[tuple[str | int, ...], Node]] = [((), root)] if root is not None else []
    while waiting:
        path, node = waiting.pop()
        yield path, node
        if isinstance(node, Map):
            waiting.extend(((*path, p.key.text), p.value) for p in reversed(node.pairs))
        elif isinstance(node, Items):
            numbered = list(enumerate(node.nodes, 1))
            waiting.extend(((*path, n), item) for n, item in reversed(numbered))


def find_node(root: Node | None, *path: str | int) -> Node | None:
    """The node at that path, or None; items of a list count from 1."""
    node = root
    for part in path:
        if isinstance(node, Map) and isinstance(part, str):
            node = node.get(part)
        elif isinstance(node, Items) and isinstance(part, int) and 0 < part <= len(node.nodes):
            node = node.nodes[part - 1]
        else:
            return None
    return node
