"""A recipe that is right is read as it was meant, however it is spelt."""

from __future__ import annotations

import time
from fractions import Fraction

import pytest

from benchapp.quantities import Duration, read_size, read_span
from benchapp.recipe.model import WASH, Drying, ProofCap, ReadingSpec
from benchapp.recipe.reader import read_recipe
from tests.recipe.samples import FULL, LEAST, changed


def test_every_feature_arrives() -> None:
    """What the text says stands in the recipe, exactly."""
    recipe = read_recipe(FULL)
    assert (recipe.print.title, recipe.print.edition) == ("Heron Weir", 30)
    assert recipe.print.proofs == {"AP": ProofCap(3), "PP": ProofCap(1)}
    assert recipe.plates[0].size == read_size("210 x 160 mm")
    assert recipe.plates[0].life == 110
    assert recipe.paper is not None
    assert recipe.paper.damp is not None
    assert (recipe.paper.key, recipe.paper.damp.pack) == ("sheet", 5)
    assert recipe.inks[0].parts[2] == ("plate oil", Fraction(1, 4))
    assert [(name, t.turns) for name, t in recipe.presses[0].sides] == [
        ("near screw", Fraction(5, 2)), ("off screw", Fraction(17, 8))]
    assert recipe.register == (("margins", "40 mm"), ("up", "weir to the wall"))
    assert recipe.drying[1] == Drying("New tissue", None, Duration(86_400_000),
                                      Duration(172_800_000))
    assert recipe.readings[0] == ReadingSpec("foam", "grade 1-5", "Peel")
    assert recipe.varied
    assert recipe.tags["weir"] == ("foam lost", "foam heavy")


def test_every_feature_of_a_step_arrives() -> None:
    """A step keeps its hands, place, time, reminders, pull and limits."""
    recipe = read_recipe(FULL)
    heat, dab, polish, through, peel, flat, weigh = recipe.each
    assert (heat.hands, heat.at, heat.ends_itself) == ("free", "hot plate", True)
    assert (dab.calls, dab.say) == (Duration(60_000), "Dab the weir")
    assert (polish.within, polish.time) == (Duration(540_000), read_span("6/12/20 min"))
    assert through.lines == ("brush the sheet", "tissue, then blankets")
    assert (through.uses, through.pulls, through.returns) == (("sheet",), ("weir",), True)
    assert peel.asks == ("verdict", "tags", "note")
    assert flat.out_of_reach
    assert (weigh.every, weigh.optional, weigh.short) == (4, True, "Weigh")
    assert recipe.after[-1].must == ("in the can", "outside")


def test_what_is_left_out_is_unknown() -> None:
    """Nothing is made up: no edition, no time, no paper; the wash alone has a usual time."""
    recipe = read_recipe(LEAST)
    assert recipe.print.edition is None
    assert recipe.paper is None
    assert recipe.each[0].time is None
    assert recipe.wash == WASH
    assert (recipe.before, recipe.after, recipe.drying, recipe.inks) == ((), (), (), ())


def test_marks_say_where_values_stand() -> None:
    """The place of a value can be found by its path, items counted from 1."""
    recipe = read_recipe(LEAST)
    assert recipe.marks["each", 2, "pulls"] == (6, 37)
    assert recipe.marks["print", "title"] == (2, 16)


BLOCK_PRINT = """\
print:
  # who and what
  title: "Heron Weir"
  artist: 'Nell Ashcombe'   # by herself
  edition: 30
  proofs:
    AP: {cap: 3}
    PP: {cap: 1, inside: false}
"""


@pytest.mark.parametrize(("old", "new"), [
    ("print: {title: Heron Weir, artist: Nell Ashcombe, edition: 30, "
     "proofs: {AP: 3, PP: 1}}\n", BLOCK_PRINT),
    ("wash: 2 min", "wash: 120 s"),
    ("wash: 2 min", "wash: \"2 min\""),
    ("soak: 25 min", "soak: 1500 s"),
    ("keeps: 40 h", "keeps: 1 day 16 h"),
    ("pack: 5", "pack: 5 sheets"),
    ("size: 210 x 160 mm", "size: 210 × 160 mm"),
    ("size: 210 x 160 mm", "size: 21 x 16 cm"),
    ("thickness: 1 mm", "thickness: 0.1 cm"),
    ("time: 6/12/20 min", "time: 360/720/1200 s"),
    ("time: 2 min, out of reach", "time: 2/2/2 min, out of reach"),
    ("near screw: 2.5 turns", "near screw: 2 1/2 turns"),
    ("pulls: weir", "pulls: [weir]"),
    ("    uses: sheet\n", "    uses:\n      - sheet\n"),
    ("lines: [coarse scrim, fine scrim, palm]",
     "lines:\n    - coarse scrim\n    - fine scrim\n    - palm"),
    ("care: They heat by themselves; fire code first.",
     "care: >\n      They heat by\n      themselves; fire code\n      first."),
    ("care: They heat by themselves; fire code first.",
     "care: They heat by\n      themselves; fire code first."),
    ("parts: {carbon black: 9, ", "parts: {carbon black: 9.0, "),
    ("weight: 280 g/m2", "weight: 280 gsm"),
    ("recipe: 1", "\ufeff# mine\nrecipe: \"1\""),
    ("recipe: 1\n", "---\nrecipe: 1\n"),
])
def test_two_spellings_are_one_recipe(old: str, new: str) -> None:
    """Block or flow, quoted or plain, seconds or minutes: the recipe is equal."""
    assert read_recipe(changed(old, new)) == read_recipe(FULL)


@pytest.mark.parametrize("ending", ["\r\n", "\r"])
def test_line_ends_of_other_systems(ending: str) -> None:
    """Lines may end as another system ends them."""
    assert read_recipe(FULL.replace("\n", ending).encode()) == read_recipe(FULL)


def test_another_value_is_another_recipe() -> None:
    """Equality looks at values: one minute more is not the same recipe."""
    assert read_recipe(changed("wash: 2 min", "wash: 3 min")) != read_recipe(FULL)


def test_paper_may_be_one_of_several() -> None:
    """Named papers, as a map or as a list, come in order; the first is the sheet."""
    step = "pulls: key, uses: [sheet, chine]"
    by_name = changed("pulls: key", step, LEAST) + "papers: {rag: {grain: long}, chine: {}}\n"
    by_list = changed("pulls: key", step, LEAST) + (
        "papers:\n  - {key: rag, grain: long}\n  - {key: chine}\n")
    assert [paper.key for paper in read_recipe(by_name).papers] == ["rag", "chine"]
    assert read_recipe(by_name) == read_recipe(by_list)
    assert read_recipe(by_name).each[1].uses == ("rag", "chine")


def test_ink_and_press_may_be_one_a_plate() -> None:
    """Inks and screws by plate; a plate may carry several inks in their order."""
    text = LEAST + (
        "ink: {key: [{name: black, charge: 2 g}, {name: red}]}\npress: {key: {left: 1 turn}}\n")
    recipe = read_recipe(text)
    assert [(ink.plate, ink.name) for ink in recipe.inks] == [("key", "black"), ("key", "red")]
    assert recipe.presses[0].plate == "key"
    assert recipe.presses[0].sides[0][0] == "left"


def test_proof_caps_inside_the_edition() -> None:
    """A cap says whether it counts inside."""
    text = changed("proofs: {AP: 3, PP: 1}", "proofs: {AP: {cap: 3, inside: true}}")
    assert read_recipe(text).print.proofs == {"AP": ProofCap(3, inside=True)}


def test_a_wash_of_no_minutes_is_kept() -> None:
    """`wash: 0 min` is asked and not planned: it is not taken for unsaid."""
    assert read_recipe(changed("wash: 2 min", "wash: 0 min")).wash == Duration(0)


def test_words_of_other_readers_stay_text() -> None:
    """no, off, 010 and dates are text where text belongs."""
    text = changed("title: Heron Weir", "title: no").replace("Nell Ashcombe", "2026-13-45")
    recipe = read_recipe(text)
    assert (recipe.print.title, recipe.print.artist) == ("no", "2026-13-45")


def _reading_s(bytes_: int) -> float:
    """The least of three readings of about so many bytes, in seconds of the processor."""
    line = "  - {do: Wipe, hands: inky, time: 3/5/8 min, lines: [scrim, paper, hand]}\n"
    text = LEAST.replace("each:\n", "each:\n" + line * (bytes_ // len(line)))

    def once() -> float:
        start = time.process_time()
        assert len(read_recipe(text).each) > bytes_ // len(line)
        return time.process_time() - start

    return min(once() for _ in range(3))


def test_a_large_file_takes_no_more_than_its_length() -> None:
    """Four times the steps take about four times as long: sixteen times would be their square."""
    assert _reading_s(58_000) < 9 * _reading_s(14_500)
