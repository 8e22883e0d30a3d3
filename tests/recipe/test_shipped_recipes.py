"""The recipes that come with the program: read without a word, and fit to be copied."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

from benchapp.recipe.hazards import of_caution, of_step, promises_no_harm
from benchapp.recipe.model import Recipe, Step
from benchapp.recipe.reader import read_recipe
from benchapp.recipe.warnings import recipe_warnings

FOLDER = Path(__file__).resolve().parents[2] / "recipes"
FILES = sorted(FOLDER.glob("*.yaml"))
NAMES = [file.stem for file in FILES]

#: What each step of the end of the day speaks of, in the order most printers keep
#: (common practice: heat first, for no solvent is opened by it; then what ruins the plate,
#: ink, press, paper, fire, prints). A mordant that was used is put away after the slab.
END_OF_DAY = (
    r"hot plate off",
    r"plates? clean of all ink and (oiled|waxed)",
    r"slab scraped.*closed",
    r"pressure off, blankets out and hung",
    r"left-over damp sheets",
    r"rags, scrim, paper and gloves",
    r"first blotter change",
)
MORDANT = "Mordant put away"

#: Who has the last word in a caution: never this program.
AUTHORITY = re.compile(r"data sheet|label|local code|fire code", re.IGNORECASE)


def text_of(name: str) -> str:
    return (FOLDER / f"{name}.yaml").read_text(encoding="utf-8")


def shipped(name: str) -> Recipe:
    return read_recipe(text_of(name))


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
    assert [str(w) for w in recipe_warnings(shipped(name))] == []


@pytest.mark.parametrize("name", NAMES)
def test_ends_with_the_end_of_the_day_in_order(name: str) -> None:
    """The after steps are the seven of the end of the day, in that order, and the mordant."""
    done = [step.do.lower() for step in shipped(name).after if step.do != MORDANT]
    assert len(done) == len(END_OF_DAY)
    for said, expected in zip(done, END_OF_DAY, strict=True):
        assert re.search(expected, said), f"{said!r} stands where {expected!r} belongs"


@pytest.mark.parametrize("name", NAMES)
def test_heat_damp_paper_and_rags_ask_for_a_fact(name: str) -> None:
    """What may burn, rot or catch fire overnight can't be passed without a word."""
    facts = {step.do: step.must for step in shipped(name).after if step.must}
    rags = "Rags, scrim, paper and gloves"
    assert set(facts) == {"Hot plate off", "Left-over damp sheets", rags}
    assert facts["Hot plate off"][:2] == ("turned off", "left on")
    assert facts["Left-over damp sheets"] == ("wrapped", "dried", "none")
    assert facts[rags] == (
        "in a lidded metal can outdoors",
        "spread singly clear of walls",
        "out of the building",
    )


@pytest.mark.parametrize("name", NAMES)
def test_every_hurtful_step_has_its_caution(name: str) -> None:
    """By the program's own table: a line of care wherever a step speaks of what hurts."""
    for step in shipped(name).steps:
        if of_step(step):
            assert step.care, f"{step.id} {step.do!r} says nothing of its hurt"


@pytest.mark.parametrize("name", NAMES)
def test_a_caution_names_the_worst_hazard_of_its_step(name: str) -> None:
    """Blade and dust beside it may be left to the reminders; etchant, solvent, heat, nip not."""
    for step in shipped(name).steps:
        grave = [h for h in of_step(step) if h.key not in ("blade", "dust", "ink")]
        if step.care and grave:
            assert {h.key for h in grave} & {h.key for h in of_caution(step.care) or grave}


def test_the_mordant_has_a_step_of_its_own_where_the_plate_is_bitten() -> None:
    """After the slab, with its bottle vented, apart from spirit, the rinse kept."""
    for name in NAMES:
        recipe = shipped(name)
        bites = any(step.at == "etching bath" for step in recipe.steps)
        done = [step.do for step in recipe.after]
        assert (MORDANT in done) == bites
        if bites:
            assert done[done.index(MORDANT) - 1].startswith("Slab")
            said = " ".join(recipe.after[done.index(MORDANT)].lines)
            for word in ("vented", "never beside spirit or rags", "first rinse", "local rules"):
                assert word in said


@pytest.mark.parametrize("name", NAMES)
def test_a_day_ends_with_heat_off_then_inky_work_then_one_wash(name: str) -> None:
    """Hot plate off before any solvent; plate and slab before blankets, so hands turn once."""
    hands = [step.hands for step in shipped(name).after]
    done = [step.do for step in shipped(name).after]
    assert done[0].startswith("Hot plate off")
    assert hands == ["clean"] + ["inky"] * hands.count("inky") + ["clean"] * (
        hands.count("clean") - 1)


def test_retroussage_is_done_over_the_hot_plate() -> None:
    """A cold plate gives none: the step has the place, and its reminder says so."""
    step = next(s for s in shipped("weigh-house").each if s.do.startswith("Retroussage"))
    assert step.at == "hot plate"
    assert "hot plate" in " ".join(step.lines)


def test_a_bite_has_no_one_fixed_time() -> None:
    """Metal, mordant, strength and warmth say how long: a range, and a look before its end."""
    step = next(s for s in shipped("signal-box").each if s.do == "Bite again")
    assert step.time is not None
    assert step.time.low < step.time.usual < step.time.high
    assert "own test strip" in " ".join(step.lines)
    assert step.say == "Look at the bite"


@pytest.mark.parametrize("name", NAMES)
def test_no_spirit_is_opened_while_the_hot_plate_is_on(name: str) -> None:
    """By day oil alone; at the end the plate is off and cold, no flame or pilot light near."""
    recipe = shipped(name)
    for step in (*recipe.before, *recipe.each):
        assert "spirit" not in " ".join((step.do, *step.lines)).lower()
    for step in recipe.after:
        for line in step.lines:
            if "white spirit" in line:
                assert "cold" in line
                assert "no flame or pilot light" in line
                assert "air" in (step.care or "")


@pytest.mark.parametrize("name", NAMES)
def test_the_room_comes_first_where_solvent_or_mordant_is_used(name: str) -> None:
    """Fan, gloves, can; and the eye wash where a plate is bitten."""
    recipe = shipped(name)
    used = any(h.key in ("solvent", "etchant") for s in recipe.steps for h in of_step(s))
    rooms = [step for step in recipe.before if step.do == "The room"]
    if used:
        assert recipe.before[0] in rooms
        said = " ".join(rooms[0].lines)
        assert all(word in said for word in ("fan running", "gloves whole", "can emptied"))
        bites = any(step.at == "etching bath" for step in recipe.steps)
        assert ("eye wash" in said) == bites


@pytest.mark.parametrize("name", NAMES)
def test_marks_are_pencilled_softly_and_nobody_smells_for_mould(name: str) -> None:
    """Soft pencil, lightly, in a corner; musty paper is thrown away, not smelled at."""
    text = text_of(name)
    assert "soft pencil, lightly, in a corner of the margin" in text
    assert "smell for mould" not in text
    assert "in pencil" not in text


@pytest.mark.parametrize("name", NAMES)
def test_a_caution_is_one_line_and_names_who_has_the_last_word(name: str) -> None:
    """Each caution fits one line of 80 columns and defers to sheet, label or code."""
    cares = [step.care for step in shipped(name).steps if step.care]
    assert cares
    for care in cares:
        assert "\n" not in care
        assert len(care) <= 77, care
        assert AUTHORITY.search(care), care
        assert promises_no_harm(care) is None


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
    assert recipe.warm_ups == 0  # its first pulls are its richest (common practice)


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


#: What says where a fact of the trade comes from.
SOURCE = re.compile(
    r"common practice|Lalanne|National Park Service|NEDCC|Roberts & Etherington|arithmetic|turns =",
    re.IGNORECASE,
)
#: Remarks that explain the file or this invented print, by a few of their words.
NO_FACT = (
    "invented studio", "numbered within the 24", "in printing order", "one entry a plate",
    "as for the tone", "two colours on the hands", "both plates lie", "wash comes here by itself",
    "second pull is on the same sheet", "short form of its own", "For a progressive",
    "every impression is counted by", "in the order they go on", "No `edition` yet",
    "only when something was grounded", "Then say the new state", "E.V.", "hung in the passage",
    "Caps beside", "width x height", "by weight", "one whole turn of a screw",
    "this press needs", "asked for whenever inky", "offered, never due", "speaks up",
    "on the 1st", "a wait: it counts down", "Your own words", "Named values", "Sentences you write",
)


def remarks(text: str) -> list[str]:
    """The remarks of a file, those that go over several lines of their own as one."""
    found: list[str] = []
    going_on = False
    for line in text.split("\n"):
        _, sign, said = f" {line}".partition(" # ")
        if not sign:
            going_on = going_on and line.strip() == "#"
        elif going_on and line.strip().startswith("#"):
            found[-1] += f" {said}"
        else:
            found.append(said)
            going_on = True
    return found


@pytest.mark.parametrize("name", NAMES)
def test_a_fact_of_the_trade_names_its_source(name: str) -> None:
    """Published, or common practice; what only explains the file is listed above."""
    for remark in remarks(text_of(name)):
        if not any(words in remark for words in NO_FACT):
            assert SOURCE.search(remark), remark
