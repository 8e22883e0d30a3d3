"""Recipes at random: valid ones read back equal, broken ones raise nothing but our own error."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from benchapp.recipe.order import step_limits, step_predecessors
from benchapp.recipe.problems import Problem, RecipeError
from benchapp.recipe.reader import read_recipe
from benchapp.recipe.warnings import recipe_warnings
from tests.recipe.samples import FULL, LEAST, TWO_PLATES
from tests.recipe.spelling import recipe, write

SHIPPED = [file.read_text(encoding="utf-8")
           for file in sorted((Path(__file__).parents[2] / "recipes").glob("*.yaml"))]
SHORT = [FULL, LEAST, TWO_PLATES]
#: What people mistype and what machines send.
PIECES = [
    "{", "}", "[", "]", ":", ": ", ",", "- ", "\n", "\t", "#", '"', "'", "&a ", "*a", "!!int ",
    "<<: ", "---\n", "...\n", "%YAML 1.1\n", "|\n", ">\n", "? ", "1:30", "0x1F", "-1", "1e9",
    "null", "~", "\x00", "\x1b[31m", "\u202e", "\ud800", "\ufeff", "\x85", "\u2028",
    '"\\e[2J"', '"\\ud800"', '"\\U99999999"', "9" * 5000, "[" * 40, "{a: " * 20, " " * 3000,
    "é", "½", "²", "٣ min", "1/0 min", "0/0 turn", "1 min " * 30, "recipe: 1\n", "2026-13-45", "😀",
]


def broken(text: str, rng: random.Random) -> str:
    """The text with one to four pieces cut, doubled, swapped or put in."""
    for _ in range(rng.randint(1, 4)):
        a = rng.randrange(len(text) + 1)
        b = min(len(text), a + rng.choice([0, 1, 2, 5, 20, 80]))
        choice = rng.randrange(5)
        if choice == 0:
            text = text[:a] + text[b:]
        elif choice == 1:
            text = text[:b] + text[a:b] + text[b:]
        elif choice == 2:
            lines = text.split("\n")
            lines.pop(rng.randrange(len(lines)))
            lines.insert(rng.randint(0, len(lines)), rng.choice(lines or [""]))
            text = "\n".join(lines)
        else:
            text = text[:a] + rng.choice(PIECES) + text[a if choice == 3 else b:]
    return text


def are_told(problems: tuple[Problem, ...]) -> None:
    """There are problems; each has its place and mend, in order, fit for a terminal."""
    assert problems
    assert all(p.line >= 1 and p.column >= 1 and p.wrong and p.mend for p in problems)
    assert list(problems) == sorted(problems)
    assert all(str(p).isprintable() for p in problems)


def holds(text: str | bytes) -> bool:
    """Reads; where it reads, everything computed from it works too. Our own error else."""
    try:
        found = read_recipe(text)
    except RecipeError as error:
        are_told(error.problems)
        return False
    recipe_warnings(found)
    step_limits(found)
    assert set(step_predecessors(found)) == {step.id for step in found.steps}
    return True


def many_broken(count: int, seed: int, texts: list[str]) -> int:
    rng = random.Random(seed)
    return sum(not holds(broken(rng.choice(texts), rng)) for _ in range(count))


def many_bytes(count: int, seed: int) -> None:
    rng = random.Random(seed)
    for _ in range(count):
        data = bytearray(rng.choice(SHORT).encode())
        for _ in range(rng.randint(1, 3)):
            data[rng.randrange(len(data))] = rng.randrange(256)
        holds(bytes(data))


def equal_spellings(count: int, seed: int) -> None:
    for n in range(count):
        tree = recipe(random.Random(seed + n))
        first = read_recipe(write(tree, random.Random(n)))
        assert first == read_recipe(write(tree, random.Random(n + 10_000)))
        assert [step.hands for step in first.each] == [step["hands"] for step in tree["each"]]
        assert first.print.title == tree["print"]["title"]


def test_spellings_are_equal() -> None:
    """A recipe at random, written twice in different ways, reads as one value."""
    equal_spellings(30, 1)


def test_broken_recipes_raise_our_own_error() -> None:
    """600 broken inputs: each reads or gives problems with places, and nothing else."""
    assert many_broken(540, 7, [*SHORT, LEAST, LEAST, TWO_PLATES]) > 360
    many_bytes(60, 8)


@pytest.mark.full
def test_many_spellings_are_equal() -> None:
    """The same with a thousand recipes."""
    equal_spellings(1000, 100_000)


@pytest.mark.full
def test_many_broken_recipes_raise_our_own_error() -> None:
    """More than 20,000 broken inputs, of the shipped recipes too."""
    assert many_broken(18_000, 1000, SHORT) > 12_000
    assert many_broken(2000, 1001, SHIPPED) > 1000
    many_bytes(2500, 1002)


@pytest.mark.parametrize("text", [
    "title: '" + " " * 200_000 + "x'", "a: " + "1" * 200_000, "[" * 200_000, "{" * 200_000,
    "- " * 100_000, "? " * 100_000, "a:\n" * 60_000, "&a " * 80_000, "'" * 200_000,
    "{" + ",".join(f"k{n}" for n in range(30_000)) + "}",
    "{" + ",".join(f"k{n}:" for n in range(9_000)) + "}",
    LEAST.replace("hands: inky", "time: " + "1 h " * 40_000 + ", hands: inky"),
    LEAST.replace("title: Stone", "title: '" + " \n" * 80_000 + "'"),
    LEAST.replace("hands: clean, pulls", "at: " + "x" * 200_000 + ", hands: clean, pulls"),
    LEAST + "".join(f"k{n}: x\n" for n in range(9_000)),
], ids=range(15))
def test_endless_inputs_end(text: str) -> None:
    """What is made to keep a reader busy is answered like anything else."""
    assert not holds(text)
