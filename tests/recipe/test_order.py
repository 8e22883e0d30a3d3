"""What follows what: one plate, two plates wet on wet, waits, and the limits between."""

from __future__ import annotations

import pytest

from benchapp.quantities import Duration
from benchapp.recipe.model import Recipe
from benchapp.recipe.order import (
    boards_step,
    lift_step,
    place_capacities,
    plates_of,
    pull_ids,
    released_by,
    step_limits,
    step_predecessors,
    takes_sheet,
    takes_tread,
)
from benchapp.recipe.reader import read_recipe
from tests.recipe.samples import FULL, LEAST, TWO_PLATES, changed


def minutes(recipe: Recipe) -> dict[tuple[str, str], int]:
    """Limits as (after, step) → minutes."""
    return {(x.after, x.step): x.within.ms // 60_000 for x in step_limits(recipe)}


def test_one_plate_is_a_single_line() -> None:
    """With one plate every step follows the one listed before it."""
    before = step_predecessors(read_recipe(FULL))
    assert before["each.1"] == ()
    for n in range(2, 8):
        assert before[f"each.{n}"] == (f"each.{n - 1}",)


def test_one_plate_is_a_single_line_even_where_steps_name_it() -> None:
    """Naming the only plate on one step and not on the next changes nothing."""
    text = changed("do: Ink, hands: inky", "do: Ink, hands: inky, plate: key", LEAST)
    assert step_predecessors(read_recipe(text))["each.2"] == ("each.1",)


def test_two_plates_go_side_by_side_until_they_meet() -> None:
    """Each plate's steps follow its own; a step of no plate follows all before it."""
    before = step_predecessors(read_recipe(TWO_PLATES))
    assert before["each.1"] == ()
    assert before["each.2"] == ("each.1",)
    assert before["each.3"] == ()
    assert before["each.4"] == ("each.3",)
    assert before["each.5"] == ("each.2", "each.4")
    assert before["each.6"] == ("each.5",)
    assert before["each.7"] == ("each.6",)
    assert before["each.8"] == ("each.7",)


def test_pulls_follow_one_another_as_listed() -> None:
    """The second plate goes through after the first: it is the same sheet."""
    text = changed("  - {do: Take a sheet, hands: clean, uses: sheet}\n", "", TWO_PLATES)
    before = step_predecessors(read_recipe(text))
    assert before["each.5"] == ("each.2",)
    assert before["each.6"] == ("each.4", "each.5")


def test_before_and_after_have_the_same_rule() -> None:
    """Cleaning two plates may be done in either order; rags come after both."""
    before = step_predecessors(read_recipe(TWO_PLATES))
    assert (before["after.1"], before["after.2"]) == ((), ())
    assert before["after.3"] == ("after.1", "after.2")


def test_no_section_reaches_into_another() -> None:
    """The first step of a section follows nothing in the section before."""
    before = step_predecessors(read_recipe(FULL))
    assert (before["before.1"], before["each.1"], before["after.1"]) == ((), (), ())


def test_lift_and_boards_follow_the_last_pull() -> None:
    """The lift is the step after the last pull, boards the step after the lift."""
    assert (lift_step(read_recipe(FULL)), boards_step(read_recipe(FULL))) == ("each.5", "each.6")
    assert (lift_step(read_recipe(TWO_PLATES)),
            boards_step(read_recipe(TWO_PLATES))) == ("each.8", "each.9")
    assert (lift_step(read_recipe(LEAST)), boards_step(read_recipe(LEAST))) == ("each.3", None)


def test_a_pull_at_the_end_has_no_lift() -> None:
    """Where nothing is listed after the pull there is no lift, and the pull frees the plate."""
    text = changed("  - {do: Look, hands: clean, asks: verdict}\n", "", LEAST)
    recipe = read_recipe(changed("pulls: key}", "pulls: key, asks: verdict}", text))
    assert (lift_step(recipe), boards_step(recipe)) == (None, None)
    assert released_by(recipe, "key") == "each.2"


def test_a_plate_is_held_to_the_end_of_the_step_after_its_last_pull() -> None:
    """Blue is free when black has gone through, black when the sheet is lifted."""
    recipe = read_recipe(TWO_PLATES)
    assert released_by(recipe, "blue") == "each.7"
    assert released_by(recipe, "black") == "each.8"


def test_the_only_plate_is_held_to_the_lift() -> None:
    """With one plate every step up to the lift is that plate's, the later ones are not."""
    recipe = read_recipe(FULL)
    assert released_by(recipe, "weir") == "each.5"
    assert [plates_of(recipe, step) for step in recipe.each[3:6]] == [("weir",), ("weir",), ()]


def test_an_unknown_plate_is_a_key_error() -> None:
    """Nothing is guessed about a plate that is not there."""
    with pytest.raises(KeyError):
        released_by(read_recipe(TWO_PLATES), "green")


def test_the_sheet_is_taken_where_it_is_said_or_at_the_first_pull() -> None:
    """`uses: sheet` says where; silent, the first pull takes it."""
    assert takes_sheet(read_recipe(TWO_PLATES)) == "each.5"
    assert takes_sheet(read_recipe(LEAST)) == "each.2"
    assert pull_ids(read_recipe(TWO_PLATES)) == ("each.6", "each.7")


def test_a_second_paper_does_not_take_the_sheet() -> None:
    """Only the first paper is the sheet; chine laid in earlier is not."""
    text = changed("do: Ink, hands: inky", "do: Ink, hands: inky, uses: chine", LEAST)
    assert takes_sheet(read_recipe(text + "papers: {rag: {grain: long}, chine: {grain: long}}\n")) \
        == "each.2"


def test_limits_of_one_plate() -> None:
    """15 min from step to step until the pull, 5 to the lift, 30 to the boards; 9 is said."""
    assert minutes(read_recipe(FULL)) == {
        ("each.1", "each.2"): 15, ("each.2", "each.3"): 9, ("each.3", "each.4"): 15,
        ("each.4", "each.5"): 5, ("each.5", "each.6"): 30,
    }


def test_limits_of_two_plates() -> None:
    """40 min along each plate; the said 3 min count from the pull before."""
    assert minutes(read_recipe(TWO_PLATES)) == {
        ("each.1", "each.2"): 40, ("each.3", "each.4"): 40, ("each.2", "each.6"): 40,
        ("each.6", "each.7"): 3, ("each.7", "each.8"): 5, ("each.8", "each.9"): 30,
    }


def test_only_the_limit_of_a_pull_after_another_runs_to_its_end() -> None:
    """It begins by itself while the sheet waits; every other step has only to begin."""
    assert [(x.after, x.step) for x in step_limits(read_recipe(TWO_PLATES)) if x.to_end] == [
        ("each.6", "each.7")]
    assert not any(x.to_end for x in step_limits(read_recipe(FULL)))


def test_a_said_limit_counts_from_the_plates_own_step() -> None:
    """Said on the first pull, it counts from the step that ends last before it in time."""
    text = changed("  - {do: Take a sheet, hands: clean, uses: sheet}\n", "", TWO_PLATES)
    said = changed("pulls: blue}", "pulls: blue, within: 8 min}", text)
    assert minutes(read_recipe(said))["each.2", "each.5"] == 8


def test_limits_say_where_they_come_from() -> None:
    """A said limit is the recipe's; a silent one is marked common practice."""
    by_step = {limit.step: limit for limit in step_limits(read_recipe(FULL))}
    assert by_step["each.3"].said
    assert by_step["each.3"].within == Duration(540_000)
    assert not by_step["each.5"].said
    assert "common practice" in by_step["each.5"].why
    assert by_step["each.2"].why == "a plate made ready should not wait (common practice: 15 min)"
    assert by_step["each.4"].why == "ink skins on a waiting plate (common practice: 15 min)"


def test_limits_hold_in_before_and_after_where_said() -> None:
    """A limit may be said in any section; none is silent outside `each`."""
    text = changed("do: Clean black, hands: inky", "do: Clean black, within: 2 min, hands: inky",
                   TWO_PLATES)
    assert minutes(read_recipe(text))["after.1", "after.2"] == 2


def test_treads() -> None:
    """A wait that ends itself and a step out of reach take none, a plain wait takes one."""
    recipe = read_recipe(FULL)
    assert not takes_tread(recipe, recipe.each[0])
    assert takes_tread(recipe, recipe.each[1])
    assert not takes_tread(recipe, recipe.each[5])
    waiting = read_recipe(changed("time: 3 min, ends: itself", "time: 3 min"))
    assert takes_tread(waiting, waiting.each[0])


def test_out_of_reach_takes_a_tread_as_the_last_step_of_the_day() -> None:
    """Nothing comes after it to end it too."""
    recipe = read_recipe(changed("{do: Rags, hands: clean, must: [in the can]}",
                                 "{do: Door, hands: clean, out of reach: true}", TWO_PLATES))
    assert takes_tread(recipe, recipe.after[-1])


@pytest.mark.parametrize("after", [
    "{do: Plate, hands: inky, care: Solvent burns}", "{do: Plate with white spirit, hands: inky}",
    "{do: Blankets, hands: clean}"])
def test_out_of_reach_takes_a_tread_before_a_caution_or_a_wash(after: str) -> None:
    """What comes next is read first, and hands are clean only by a wash that was trodden for."""
    rags = "{do: Rags, hands: clean, must: [in the can]}"
    recipe = read_recipe(changed(rags,
                                 f"{{do: Slab, hands: inky, out of reach: true}}\n  - {after}\n"
                                f"  - {rags}", TWO_PLATES))
    slab = next(x for x in recipe.after if x.do == "Slab")
    assert takes_tread(recipe, slab)


def test_places_there_are() -> None:
    """Hot plate, press and tray are there without a word, one each; others are named."""
    assert place_capacities(read_recipe(FULL)) == {"hot plate": 1, "press": 1, "tray": 1, "slab": 1}
    two = read_recipe(changed("places: {slab: 1}", "places: {slab: 1, hot plate: 2}"))
    assert place_capacities(two)["hot plate"] == 2


def test_an_impression_of_several_hundred_steps() -> None:
    """Long lists cost no more than they must."""
    steps = "".join(f"  - {{do: Step {n}, hands: inky, plate: {'blue' if n % 2 else 'black'}}}\n"
                    for n in range(600))
    recipe = read_recipe(TWO_PLATES.replace("each:\n", "each:\n" + steps))
    before = step_predecessors(recipe)
    assert before["each.600"] == ("each.598",)
