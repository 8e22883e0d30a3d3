"""Broken recipes and preferences: refused with places and mends, or taken and read alike again."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import pytest

from benchapp.recipe import document
from benchapp.recipe.build import build_recipe
from benchapp.recipe.edits import put_value
from benchapp.recipe.model import Recipe
from benchapp.recipe.problems import Problem, RecipeError
from benchapp.recipe.reader import read_recipe
from benchapp.recipe.treads import treads_per_impression
from benchapp.recipe.warnings import recipe_warnings
from benchapp.safe_text import character_fault
from benchapp.settings import STARTER, read_preferences
from tests.faults.broken_texts import HUGE_ONE_IN, break_text

#: So many texts of each: cut recipes, whole ones, preferences.
CUT: Final = 15_000
WHOLE: Final = 1_000
PREFERENCES: Final = 44_000
#: In parts of so many at most.
PART: Final = 5_000
#: And every time; of whole recipes fewer.
FEW: Final = 40
FEW_WHOLE: Final = 6
#: Calls of functions one text may take: at first, and for each byte. Sound recipes take 22 a byte.
STEPS: Final = 20_000
STEPS_A_BYTE: Final = 150
#: Steps are counted in one text of so many, and in every one that is too much of something.
COUNTED_ONE_IN: Final = 25

_SHIPPED: Final = tuple(p.read_text(encoding="utf-8") for p in sorted(
    (Path(__file__).parents[2] / "recipes").glob("*.yaml")))
_NEWLINE: Final = re.compile(r"\r\n|\r|\n")
#: The parts no recipe is without.
_NEEDED: Final = ("recipe", "print", "plates", "each")


def _cut(text: str) -> Iterator[str]:
    """The recipe's needed parts with each of the others, without remarks: quick to read."""
    bare = "".join(x for x in text.splitlines(keepends=True) if x.strip() and x.strip()[0] != "#")
    parts = {x.partition(":")[0]: x for x in re.split(r"(?m)^(?=\w)", bare) if x}
    needed = [parts[x] for x in _NEEDED]
    for name, part in parts.items():
        made = "".join([*needed, part] if name not in _NEEDED else needed)
        try:
            read_recipe(made)
        except RecipeError:
            continue  # it names what is left out
        yield made


def _preferences() -> Iterator[str]:
    """The commented file, and one without remarks that says everything."""
    yield STARTER
    yield "studio: Slack Water\ntake back keys: [pageup]\nlook again keys: [escape]\n" + "".join(
        f"{x}\n" for x in STARTER.splitlines() if x and x[0] != "#")
    yield "gate: 0 ms\nboards silent: none\nwalk: off\nplayer: aplay\ntreads: [space]\n"


@dataclass(frozen=True)
class Kind:
    """Texts of one kind: sound ones, how many are broken, and what is done with one taken."""

    name: str
    sound: tuple[str, ...]
    many: int
    read: Callable[[bytes], object]
    hold: Callable[[bytes, object], None]


def hold_recipe(data: bytes, recipe: object) -> None:
    """What is taken builds to the same from its text, and can be looked at."""
    assert isinstance(recipe, Recipe)
    text = data.decode()
    assert build_recipe(text) == recipe
    hold_problems(data, recipe_warnings(recipe))
    assert treads_per_impression(recipe) >= 0


def hold_preferences(data: bytes, found: object) -> None:
    """What is taken is read the same as text, and one value of it can be changed."""
    text = data.decode()
    assert read_preferences(text) == found
    changed = read_preferences(put_value(text, "theme", "light"))
    assert changed.theme == "light"
    assert changed.gate == read_preferences(text).gate


KINDS: Final = (
    Kind("cut recipes", tuple(x for text in _SHIPPED for x in _cut(text)), CUT, read_recipe,
         hold_recipe),
    Kind("whole recipes", _SHIPPED, WHOLE, read_recipe, hold_recipe),
    Kind("preferences", tuple(_preferences()), PREFERENCES, read_preferences, hold_preferences),
)


def hold_problems(data: bytes, problems: Iterable[Problem]) -> None:
    """Each is at a place in the text, and says what is wrong and what to do, fit to be shown."""
    try:
        text = data.decode()
    except UnicodeDecodeError as error:
        text = data[: error.start].decode()
    lines = _NEWLINE.split(text.removeprefix("\ufeff"))
    for p in problems:
        assert 1 <= p.line <= len(lines), p
        assert 1 <= p.column <= len(lines[p.line - 1]) + 1, p
        assert p.wrong, p
        assert p.mend, p
        assert all(character_fault(c) is None for c in str(p)), p


@contextmanager
def counted(data: bytes, counts: bool) -> Iterator[None]:
    """Hold that what is done within takes steps in measure with the text."""
    steps = 0

    def step(frame: object, event: str, argument: object) -> None:
        nonlocal steps
        steps += event == "call" or event == "c_call"

    if counts:
        sys.setprofile(step)
    try:
        yield
    finally:
        if counts:
            sys.setprofile(None)
        assert steps <= STEPS + STEPS_A_BYTE * len(data), steps


def hold(kind: Kind, seed: int) -> bool:
    """Whether the broken text of that seed was taken; all that must be so of it is held."""
    data = break_text(kind.sound, seed)
    try:
        with counted(data, seed % COUNTED_ONE_IN == 0 or seed % HUGE_ONE_IN == 0):
            found = kind.read(data)
    except RecipeError as error:
        hold_problems(data, error.problems)
        return False
    kind.hold(data, found)
    return True


def tried(kind: Kind, seeds: range) -> int:
    """Texts of these seeds; how many of them were taken."""
    taken = 0
    for seed in seeds:
        try:
            taken += hold(kind, seed)
        except Exception as error:
            error.add_note(f"{kind.name}, seed {seed}: {break_text(kind.sound, seed)[:2000]!r}")
            raise
    return taken


@pytest.mark.parametrize("kind", KINDS, ids=lambda k: k.name)
def test_a_broken_text_is_refused_with_its_mend_or_read_alike(kind: Kind) -> None:
    """Some of them, every time."""
    few = FEW_WHOLE if kind.many == WHOLE else FEW
    assert tried(kind, range(few)) < few


@pytest.mark.full
@pytest.mark.parametrize(("kind", "first"), [
    pytest.param(kind, first, id=f"{kind.name} from {first}")
    for kind in KINDS for first in range(0, kind.many, PART)])
def test_sixty_thousand_broken_texts(kind: Kind, first: int) -> None:
    """All of them, in parts."""
    assert sum(k.many for k in KINDS) >= 60_000
    seeds = range(first, min(kind.many, first + PART))
    assert .1 < tried(kind, seeds) / len(seeds) < .9


def test_a_reader_that_lets_an_error_through_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """As if the errors of the parser were not caught, and as if they had no place."""
    kind = KINDS[2]
    with monkeypatch.context() as weak:
        weak.setattr(document, "find_layout_problems",
                     lambda text, error, read: (_ for _ in ()).throw(error))
        with pytest.raises(Exception, match=r"(?s)while|found|expected"):
            tried(kind, range(FEW))
    with monkeypatch.context() as weak:
        weak.setattr(document, "find_layout_problems",
                     lambda text, error, read: (Problem(10**6, 1, "x", "y"),))
        with pytest.raises(AssertionError):
            tried(kind, range(FEW))
