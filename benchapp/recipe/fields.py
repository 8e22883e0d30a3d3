"""Reading one map of a tree field by field, every problem noted and none of them fatal."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from benchapp.quantities import QuantityError, join_words, quote_text, read_count
from benchapp.recipe.document import MOST_PROBLEMS
from benchapp.recipe.nodes import Items, Map, Node, Scalar
from benchapp.recipe.problems import Problem

Value = TypeVar("Value")
#: A whole number, alone or with a word behind it.
_WHOLE = re.compile(r"[0-9]+(?![0-9.,:/])")

#: `do:Wipe`: a key, but no space behind its colon.
_NO_SPACE = re.compile(r"([a-z][a-z ]{0,19}):(?=[^\W\d_])")


class Ledger:
    """The problems found so far. `full` when there are so many that looking on is no help.

    `unsure` holds the keys of which at least one value could not be read, so that a
    check that rests on such values can stay silent instead of blaming what is right.
    """

    def __init__(self, problems: Iterable[Problem] = ()) -> None:
        self.problems: list[Problem] = list(problems)
        self.unsure: set[str] = set()

    @property
    def full(self) -> bool:
        return len(self.problems) >= MOST_PROBLEMS

    def add(self, node: Node | None, wrong: str, mend: str, key: str | None = None) -> None:
        """Notes a problem where `node` stands; None is the whole file, at 1:1.

        `key` is the field that is unknown because of it.
        """
        if key:
            self.unsure.add(key)
        if not self.full:
            line, column = (node.line, node.column) if node else (1, 1)
            self.problems.append(Problem(line, column, wrong, mend))


def nearest_word(word: str, words: Iterable[str]) -> str | None:
    """The one of `words` that `word` is most likely meant for, or None."""
    folded = {w.casefold(): w for w in words}
    swapped = [w for f, w in folded.items() if sorted(f) == sorted(word.casefold())]
    if swapped:
        return swapped[0]
    close = difflib.get_close_matches(word[:60].casefold(), folded, n=1, cutoff=0.6)
    return folded[close[0]] if close else None


def one_line(text: str) -> str:
    """A text that was written over several lines, as one."""
    return " ".join(filter(None, (line.strip() for line in text.strip().split("\n"))))


def count_reader(example: str, *nouns: str, bare: bool = True) -> Callable[[str], int]:
    """A reader of whole numbers above nothing; `bare` where no noun has to follow."""

    def reader(text: str) -> int:
        if not _WHOLE.match(text):
            raise QuantityError(f"{quote_text(text)} is not a whole number",
                                f"write one such as {example}")
        alone = bare and text.isascii() and text.isdigit()
        number = read_count(text) if alone else read_count(text, *nouns)
        if number < 1:
            raise QuantityError(f"{quote_text(text)} is too small", "write 1 or more")
        return number

    return reader


def _empty(node: Node) -> bool:
    return isinstance(node, Scalar) and not node.text.strip()


def _alias(node: Node) -> bool:
    """Stands for a value elsewhere: refused already, so nothing more is said about it."""
    return isinstance(node, Scalar) and node.style == "*"


class Fields:
    """The fields of one map. Each is asked for once; `finish` reports what nobody asked for.

    Args:
        node: The map, or whatever stands where one should.
        name: What it is called in a sentence, such as `print` or `step 3 of each`.
        ledger: Where problems go.
        example: What a map here looks like.
    """

    def __init__(self, node: Node, name: str, ledger: Ledger, example: str = "") -> None:
        self.node = node
        self.name = name
        self.ledger = ledger
        self.known: list[str] = []
        self._examples: dict[str, str] = {}
        self._map = node if isinstance(node, Map) else None
        self._by_key = {p.key.text: p for p in self._map.pairs} if self._map else {}
        if _alias(node):
            ledger.unsure.add(name)
        elif self._map is None:
            mend = f"write such as {example}" if example else "write key: value under it"
            wrong = f"{name} is empty" if _empty(node) else f"{name} has no keys under it"
            if isinstance(node, Scalar) and (found := _NO_SPACE.match(node.text)):
                wrong = f"there is no space after {found.group(1)}:"
                mend = f"write {found.group(1)}: and a space before its value"
            ledger.add(node, wrong, mend, name)

    @property
    def readable(self) -> bool:
        """False where the node is no map: nothing is missing then but the map itself."""
        return self._map is not None

    def has(self, key: str) -> bool:
        return key in self._by_key

    def node_of(self, key: str) -> Node:
        """Where a problem with that field is shown: its value, or else the map."""
        return self._by_key[key].value if key in self._by_key else self.node

    def take(self, key: str) -> Node | None:
        """The node of a field, or None where it is absent."""
        self.known.append(key)
        pair = self._by_key.get(key)
        return pair.value if pair else None

    def rest(self) -> list[tuple[Scalar, Node]]:
        """The fields nobody has asked for yet, where a map has keys of the printer's own."""
        return [(p.key, p.value) for k, p in self._by_key.items() if k not in self.known]

    def need(self, key: str, mend: str) -> None:
        """Notes that a field is missing if it is."""
        if self.readable and not self.has(key):
            where = None if not self.name else self.node
            whose = f"{self.name} has no {key}" if self.name else f"there is no {key}:"
            self.ledger.add(where, whose, mend, key)

    def finish(self) -> None:
        """Notes every key that nobody asked for, with the nearest right one."""
        for key, _ in self.rest():
            if self.ledger.full:
                return
            self.unknown(key)

    def unknown(self, key: Scalar) -> None:
        meant = nearest_word(key.text, self.known)
        missing = [k for k in self.known if k not in self._by_key]
        example = self._examples.get(meant, "") if meant else ""
        mend = (f"write {meant}: {example}" if example else f"write {meant}" if meant
                else f"take it out, or write {join_words(missing[:6], 'or')}")
        self.ledger.add(key, f"{quote_text(key.text)} is not known in {self.name or 'a recipe'}",
                        mend,
                        meant)

    # -- kinds of field ----------------------------------------------------

    def text(self, key: str, example: str = "") -> str | None:
        """Text on one line, or None."""
        self._noted(key, example)
        node = self.take(key)
        return self.text_in(node, key, example) if node is not None else None

    def _noted(self, key: str, example: str) -> None:
        if example:
            self._examples[key] = example

    def text_in(self, node: Node, key: str, example: str = "") -> str | None:
        mend = f"write such as {example}" if example else "write it, or take the line out"
        if not isinstance(node, Scalar):
            kind = "a list" if isinstance(node, Items) else "made of keys"
            self.ledger.add(node, f"{key} is {kind}, not text", mend, key)
            return None
        if _alias(node):
            self.ledger.unsure.add(key)
            return None
        text = one_line(node.text)
        if not text:
            self.ledger.add(node, f"{key} is empty", mend, key)
            return None
        return text

    def read(self, key: str, reader: Callable[[str], Value], example: str) -> Value | None:
        """A value that `reader` makes of the text, or None where it is absent or wrong."""
        self._noted(key, example)
        node = self.take(key)
        return self.read_in(node, key, reader, example) if node is not None else None

    def read_in(self, node: Node, key: str, reader: Callable[[str], Value],
                example: str) -> Value | None:
        text = self.text_in(node, key, example)
        if text is None:
            return None
        try:
            return reader(text)
        except QuantityError as error:
            self.ledger.add(node, f"{key}: {error.wrong}", error.mend, key)
            return None

    def judged(self, key: str, judge: Callable[[str], str], example: str) -> str | None:
        """A text that `judge` may refuse and that is kept all the same, or None.

        For what a text must hold beyond being one: days in the book may have it as it is.
        """
        self._noted(key, example)
        node = self.take(key)
        text = None if node is None else self.text_in(node, key, example)
        if node is not None and text is not None:
            try:
                judge(text)
            except QuantityError as error:
                self.ledger.add(node, f"{key}: {error.wrong}", error.mend, key)
        return text

    def count(self, key: str, example: str, *nouns: str, bare: bool = True) -> int | None:
        """A whole number above nothing; `bare` where it may stand without its noun."""
        return self.read(key, count_reader(example, *nouns, bare=bare), example)

    def choice(self, key: str, words: Sequence[str]) -> str | None:
        """One of `words`, or None."""
        self._noted(key, join_words(words, "or"))
        node = self.take(key)
        return self.choice_in(node, key, words) if node is not None else None

    def choice_in(self, node: Node, key: str, words: Sequence[str]) -> str | None:
        text = self.text_in(node, key, words[0])
        if text is None or text in words:
            return text
        meant = nearest_word(text, words)
        mend = f"write {meant}" if meant and len(words) > 3 else f"write {join_words(words, 'or')}"
        self.ledger.add(node, f"{key}: {quote_text(text)} is not one of its words", mend, key)
        return None

    def flag(self, key: str) -> bool:
        """True where the field says true; false where it says false or is absent."""
        return self.choice(key, ("true", "false")) == "true"

    def texts(self, key: str, example: str = "") -> tuple[str, ...]:
        """A list of different texts; one text alone is a list of one."""
        self._noted(key, example)
        node = self.take(key)
        return self.texts_in(node, key, example) if node is not None else ()

    def texts_in(self, node: Node, key: str, example: str = "") -> tuple[str, ...]:
        nodes: Sequence[Node] = node.nodes if isinstance(node, Items) else (node,)
        if not nodes:
            self.ledger.add(node, f"{key} is empty", "write it, or take the line out",
                            key)
        found: list[str] = []
        for item in nodes:
            text = self.text_in(item, key, example)
            if text is None:
                continue
            if any(text.casefold() == other.casefold() for other in found):
                self.ledger.add(item, f"{quote_text(text)} is in {key} twice",
                                "keep one of them")
            else:
                found.append(text)
        return tuple(found)

    def maps(self, key: str, name: str, example: str) -> list[Fields]:
        """A list of maps, numbered in their names: `step 1 of each`."""
        node = self.take(key)
        if node is None:
            return []
        if _alias(node):
            self.ledger.unsure.add(key)
            return []
        if not isinstance(node, Items):
            wrong = f"{key} is empty" if _empty(node) else f"{key} is not a list"
            self.ledger.add(node, wrong, f"begin each with -, such as - {example}", key)
            return []
        return [Fields(item, name.format(n), self.ledger, example)
                for n, item in enumerate(node.nodes, 1)]
