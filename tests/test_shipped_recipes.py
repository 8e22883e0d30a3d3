"""The recipes that come with the program: read without a word, and fit to be copied."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

from benchapp.recipe.model import Recipe, Step
from benchapp.recipe.reader import read
from benchapp.recipe.warnings import eyebrows

FOLDER = Path(__file__).resolve().parent.parent / "recipes"
FILES = sorted(FOLDER.glob("*.yaml"))
NAMES = [file.stem for file in FILES]

#: What each step of the end of the day speaks of, in the order most printers keep
#: (common practice: what ruins the plate first, then heat, press, ink, paper, fire, prints).
END_OF_DAY = (
    r"plates? clean of all ink and (oiled|waxed)",
    r"hot plate off",
    r"pressure off, blankets out and hung",
    r"slab scraped.*closed",
    r"left-over damp sheets",
    r"rags",
    r"first blotter change",
)

#: Heat, etchant, solvent, blades and oily rags, where a step or its reminders speak of them.
HURTFUL = re.compile(
    r"hot plate|warm the|spirit|solvent|\bbite\b|etchant|^rags$|knife|blade|scrape|burnish",
    re.IGNORECASE | re.MULTILINE,
)
#: Places where hands can be crushed, burnt or bitten.
HURTFUL_PLACES = {"press", "hot plate", "etching bath"}
#: Who has the last word in a caution: never this program.
AUTHORITY = re.compile(r"data sheet|label|local code|fire code", re.IGNORECASE)


def text_of(name: str) -> str:
    return (FOLDER / f"{name}.yaml").read_text(encoding="utf-8")


def shipped(name: str) -> Recipe:
    return read(text_of(name))


def hands_steps(recipe: Recipe) -> list[Step]:
    """The steps of an impression that are due every time and take a tread."""
    return [
        s
        for s in recipe.each
        if s.hands != "free" and not s.optional and s.every is None and not s.out_of_reach
    ]


def washes(steps: list[Step]) -> int:
    """How often inky hands meet a clean step in one impression."""
    return sum(a.hands == "inky" and b.hands == "clean" for a, b in pairwise(steps))


def test_there_are_the_kinds_of_day_a_newcomer_looks_for() -> None:
    """At least five flat recipes, by short kebab-case names."""
    assert len(FILES) >= 5
    assert "three-steps" in NAMES
    assert all(re.fullmatch(r"[a-z]+(-[a-z]+)*", name) for name in NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_reads_without_error_or_raised_eyebrow(name: str) -> None:
    """A shipped recipe gives no problem and no warning."""
    assert [str(w) for w in eyebrows(shipped(name))] == []


@pytest.mark.parametrize("name", NAMES)
def test_ends_with_the_end_of_the_day_in_order(name: str) -> None:
    """The after steps are the seven of the end of the day, in that order."""
    done = [step.do.lower() for step in shipped(name).after]
    assert len(done) == len(END_OF_DAY)
    for said, expected in zip(done, END_OF_DAY, strict=True):
        assert re.search(expected, said), f"{said!r} stands where {expected!r} belongs"


@pytest.mark.parametrize("name", NAMES)
def test_heat_damp_paper_and_rags_ask_for_a_fact(name: str) -> None:
    """What may burn, rot or catch fire overnight can't be passed without a word."""
    facts = {step.do: step.must for step in shipped(name).after if step.must}
    assert set(facts) == {"Hot plate off", "Left-over damp sheets", "Rags"}
    assert facts["Hot plate off"][:2] == ("turned off", "left on")
    assert facts["Left-over damp sheets"] == ("wrapped", "dried", "none")
    assert facts["Rags"] == (
        "wet in a lidded metal can",
        "hung singly and open",
        "out of the building",
    )


@pytest.mark.parametrize("name", NAMES)
def test_every_hurtful_step_has_its_caution(name: str) -> None:
    """Ink on skin, heat, the nip, solvent, etchant, blades, oily rags: a line of care each."""
    for step in shipped(name).steps:
        spoken = "\n".join((step.do, *step.lines))
        if step.hands == "inky" or step.at in HURTFUL_PLACES or HURTFUL.search(spoken):
            assert step.care, f"{step.id} {step.do!r} says nothing of its hurt"


@pytest.mark.parametrize("name", NAMES)
def test_a_caution_is_one_line_and_names_who_has_the_last_word(name: str) -> None:
    """Each caution fits one line of 80 columns and defers to sheet, label or code."""
    cares = [step.care for step in shipped(name).steps if step.care]
    assert cares
    for care in cares:
        assert "\n" not in care
        assert len(care) <= 77, care
        assert AUTHORITY.search(care), care


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_called_harmless(name: str) -> None:
    """No line of a shipped recipe, comments included, promises safety."""
    assert "safe" not in text_of(name).lower()


@pytest.mark.parametrize("name", NAMES)
def test_few_treads_an_impression(name: str) -> None:
    """At most five hands steps; with one plate printed as it is, five with wash and calls."""
    recipe = shipped(name)
    steps = hands_steps(recipe)
    assert len(steps) <= 5
    if len(recipe.plates) == 1 and recipe.proofing is None:
        answered = sum(step.calls is not None for step in steps)
        assert len(steps) + washes(steps) + answered <= 5


@pytest.mark.parametrize("name", NAMES)
def test_far_view_and_voice_have_their_words(name: str) -> None:
    """Every step has a short form, and every due hands step of an impression is spoken."""
    recipe = shipped(name)
    for step in recipe.steps:
        assert step.short, f"{step.id} {step.do!r} has no short form"
        assert len(step.short) <= 12
    assert all(step.say for step in hands_steps(recipe))


@pytest.mark.parametrize("name", NAMES)
def test_reminders_and_facts_are_whole(name: str) -> None:
    """No reminder, fact or phrase was cut at a comma: none is empty or ends in mid-air."""
    recipe = shipped(name)
    said = [text for step in recipe.steps for text in (*step.lines, *step.must)]
    for text in [*said, *recipe.phrases]:
        assert text == text.strip()
        assert len(text) >= 3, text
        assert not text.endswith((" and", " or", ":", ";")), text


def test_three_steps_has_three() -> None:
    """The shortest day: ink and wipe, lay and pull, lift and look; paper ready."""
    recipe = shipped("three-steps")
    assert [s.do for s in recipe.each] == ["Ink and wipe", "Lay and pull", "Lift and look"]
    assert recipe.paper is None or recipe.paper.damp is None


def test_two_plates_meet_on_one_sheet() -> None:
    """Wet on wet: two inks and settings, one sheet taken, each plate pulled once, tone first."""
    recipe = shipped("ferry-lamp")
    assert [plate.name for plate in recipe.plates] == ["tone", "key"]
    assert [ink.plate for ink in recipe.inks] == ["tone", "key"]
    assert [press.plate for press in recipe.presses] == ["tone", "key"]
    assert [step.uses for step in recipe.each if step.uses] == [("sheet",)]
    assert [step.pulls for step in recipe.each if step.pulls] == [("tone",), ("key",)]


def test_drypoint_is_small_varied_and_damped_the_evening_before() -> None:
    """A pack of 12 h or more (Lalanne K n.24); 20 to 30 impressions on copper (Lalanne ss.99)."""
    recipe = shipped("thistle-heads")
    plate = recipe.plates[0]
    assert recipe.varied
    assert recipe.paper is not None
    assert recipe.paper.damp is not None
    assert recipe.paper.damp.method == "pack"
    assert recipe.paper.damp.rest is not None
    assert recipe.paper.damp.rest.seconds >= 12 * 3600
    assert plate.metal == "copper"
    assert plate.life is not None
    assert 20 <= plate.life <= 30


def test_proofing_day_names_its_state_and_reworks_the_plate() -> None:
    """State proofs from state II on, with looking and reworking among the steps."""
    recipe = shipped("signal-box")
    assert recipe.proofing is not None
    assert (recipe.proofing.for_, recipe.proofing.state) == ("SP", "II")
    done = [step.do for step in recipe.each]
    assert done.index("Lift and look") < done.index("Clean the plate and rework")


def test_chine_takes_two_papers_in_one_pull_and_two_inks_on_one_plate() -> None:
    """Chine collé: sheet and chine together; à la poupée: inks in the order they go on."""
    recipe = shipped("pane-moth")
    assert [paper.key for paper in recipe.papers] == ["sheet", "chine"]
    assert [step.uses for step in recipe.each if step.pulls] == [("sheet", "chine")]
    assert [ink.name for ink in recipe.inks] == ["window brown", "moth ochre"]
    assert {ink.plate for ink in recipe.inks} == {"moth"}


def test_damping_is_shown_all_four_ways() -> None:
    """Soak, pack, spray and dip each stand in some recipe to be copied."""
    methods = {paper.damp.method for name in NAMES for paper in shipped(name).papers if paper.damp}
    assert methods == {"soak", "pack", "spray", "dip"}
