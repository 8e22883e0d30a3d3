"""What soak the packs of past days teach, through days of damping and printing."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import pytest

from benchapp.history.suggestions import Proposal, propose_changes, recipe_lessons
from benchapp.recipe.edits import change_values
from benchapp.recipe.reader import read_recipe
from benchapp.session import actions as a
from benchapp.session.state import StudioState, Verdict
from tests.session.support import INK, LIFT, PULL, SOAK, Bench, recipe

#: Nothing but paper and one sheet; the recipe soaks half an hour.
TEXT = recipe(each=(INK, PULL, LIFT), damp=SOAK)


@cache
def soaked(minutes: float, verdict: Verdict | None = "keep", tag: str | None = None,
           text: str = TEXT) -> StudioState:
    """A day with one pack that was so long in the water, and one sheet of it judged."""
    b = Bench(text, wanted=1)
    b.say(a.DampPack(2))
    b.advance(minutes)
    b.say(a.SheetsOut())
    b.advance(20)
    b.until("Lift")
    sheet = b.sheets[0]
    assert sheet.sheets == (b.packs[0].id,)
    if verdict is not None:
        b.say(a.Judge(verdict, sheet.ordinal))
    if tag is not None:
        b.say(a.Tag(tag, sheet.ordinal))
    return b.room


def proposed(rooms: Sequence[StudioState], text: str = TEXT) -> Proposal | None:
    """The soak that is offered, if one is."""
    return next((p for p in propose_changes(rooms, read_recipe(text)) if p.what == "Soak"), None)


def test_packs_that_were_good_after_a_longer_soak_offer_it() -> None:
    """The middle of three days; the value can be put into the text."""
    rooms = [soaked(40), soaked(45), soaked(50)]
    assert proposed(rooms) == Proposal(
        "paper.damp.soak", "Soak", "30 min", "45 min", 3, "packs", 3)
    changed = read_recipe(change_values(TEXT, {"paper.damp.soak": "45 min"}))
    assert str(changed.papers[0].damp.soak) == "45 min"  # type: ignore[union-attr]


def test_two_packs_are_too_few() -> None:
    """A pack told of by two of the rooms is one pack."""
    two = [soaked(40), soaked(45)]
    assert proposed(two) is None
    assert proposed([*two, two[0]]) is None


@pytest.mark.parametrize("minutes", [(30, 30, 30), (25, 30, 45), (28, 31, 33), (30, 30, 50)])
def test_a_soak_within_chance_is_left(minutes: tuple[int, ...]) -> None:
    """The recipe's half hour lies among them."""
    assert proposed([soaked(x) for x in minutes]) is None


def test_a_soak_that_rounds_to_the_recipes_is_left() -> None:
    """A few seconds over each time are no other value."""
    assert proposed([soaked(30.2) for _ in range(3)]) is None


@pytest.mark.parametrize(("verdict", "tag"), [
    ("spoiled", None), ("doubtful", None), (None, None), ("keep", "too wet"),
    ("keep", "too dry")])
def test_a_pack_whose_sheets_were_not_good_teaches_nothing(
        verdict: Verdict | None, tag: str | None) -> None:
    """Not kept, not judged, or kept with the paper's fault on it."""
    good = [soaked(40), soaked(45)]
    assert proposed([*good, soaked(50, verdict, tag)]) is None
    assert proposed([*good, soaked(50, "keep", "salty")]) is not None


def test_a_pack_of_another_soak_or_paper_teaches_nothing() -> None:
    """The recipe said otherwise on that day."""
    good = [soaked(40), soaked(45)]
    assert proposed([*good, soaked(50, text=TEXT.replace("soak: 30 min", "soak: 20 min"))]) is None
    assert proposed([*good, soaked(50, text=TEXT.replace("name: cotton", "name: kozo"))]) is None


def test_a_recipe_without_a_soak_is_offered_none() -> None:
    """Dry paper, or sprayed."""
    rooms = [soaked(40), soaked(45), soaked(50)]
    sprayed = "{method: spray, rest: 60 min, pack: 4}"
    assert proposed(rooms, recipe(each=(INK, PULL, LIFT))) is None
    assert proposed(rooms, recipe(each=(INK, PULL, LIFT), damp=sprayed)) is None


@pytest.mark.parametrize(("papers", "path"), [
    ("papers:\n  cotton: {damp: %s}\n  tissue: {weight: 12 g/m2}\n", "papers.cotton.damp"),
    ("papers:\n  - {name: cotton, damp: %s}\n  - {name: gampi}\n", "papers.1.damp"),
])
def test_of_several_papers_the_damped_one_is_named(papers: str, path: str) -> None:
    """By its name where papers have names, else by its number; for what handling took too."""
    text = recipe(each=(INK, PULL, LIFT), extra=papers % SOAK)
    found = proposed([soaked(x, text=text) for x in (40, 45, 50)], text)
    assert found is not None
    assert found.path == f"{path}.soak"
    paths = {x.what: x.path for x in recipe_lessons([], read_recipe(text))}
    assert (paths["Sheets into the water"], paths["Sheets out of the water"]) == (
        f"{path}.handling",) * 2
