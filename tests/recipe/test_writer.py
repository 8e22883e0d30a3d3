"""New recipes from plain answers, and changes that touch one value alone."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from benchapp.recipe.document import parse_document
from benchapp.recipe.edits import change_values, replace_value, scalar_text
from benchapp.recipe.hazards import HAZARDS, of_step
from benchapp.recipe.nodes import Scalar, find_node, walk_nodes
from benchapp.recipe.problems import RecipeError
from benchapp.recipe.questions import (
    FORM,
    QUESTIONS,
    find_faults,
    known_answers,
    shown_answers,
)
from benchapp.recipe.reader import read_recipe
from benchapp.recipe.warnings import recipe_warnings
from benchapp.recipe.writer import line_of_answer, new_text, recipe_like
from tests.recipe.samples import FULL
from tests.recipe.spelling import WORDS

ANSWERS = {"title": 'Rain: "two" {of} it', "artist": "Ada #3", "edition": "30",
           "metal": "copper", "size": "198 x 148 mm", "technique": "line, then aquatint",
           "paper": "no", "weight": "300 g/m2", "piece": "280 x 380 mm", "soak": "30 min",
           "takes": "40 min"}
SHIPPED = sorted((Path(__file__).parents[2] / "recipes").glob("*.yaml"))


def test_at_most_eleven_questions() -> None:
    """Eleven plain questions, each with a key of its own."""
    assert len(QUESTIONS) == 11
    assert len({question.key for question in QUESTIONS}) == len(QUESTIONS)
    assert set(ANSWERS) == {question.key for question in QUESTIONS}


def test_every_answer_arrives() -> None:
    """The recipe says what was answered, awkward text too, and raises no eyebrow."""
    recipe = read_recipe(new_text(ANSWERS))
    assert (recipe.print.title, recipe.print.artist) == (ANSWERS["title"], ANSWERS["artist"])
    assert (recipe.print.edition, recipe.plates[0].metal) == (30, "copper")
    assert recipe.plates[0].techniques == ("line", "then aquatint")
    assert recipe.paper is not None
    assert recipe.paper.damp is not None
    assert (recipe.paper.name, str(recipe.paper.damp.soak)) == ("no", "30 min")
    assert str(recipe.takes) == "40 min"
    assert all(step.time is None for step in recipe.each), "no step has a time nobody said"
    assert recipe_warnings(recipe) == ()


def test_every_step_that_hurts_has_its_caution() -> None:
    """By the program's own table, and in its words: nip, ink, heat, solvent, rags."""
    recipe = read_recipe(new_text(ANSWERS))
    for step in recipe.steps:
        found = of_step(step)
        assert bool(step.care) == bool(found), step.do
        if step.care:
            assert step.care in {hazard.full for hazard in HAZARDS}
    done = [step.do for step in recipe.after]
    assert done.index("Hot plate off") < done.index("Plate clean of all ink and oiled")
    text = new_text(ANSWERS)
    for words in ("fan running", "soft pencil, lightly, in a corner of the margin",
                  "in a lidded metal can outdoors, spread singly clear of walls",
                  "Mordant put away", "first rinse kept with the spent bath",
                  "if it smells musty, throw the paper away", "Steel facing is a plater's job"):
        assert words in text


def test_nothing_unsaid_is_written() -> None:
    """Without answers what a recipe needs is empty, and reading names each place."""
    with pytest.raises(RecipeError) as caught:
        read_recipe(new_text({}))
    assert [problem.wrong for problem in caught.value.problems] == [
        "title is empty", "artist is empty", "metal is empty", "size is empty"]


def test_what_was_not_said_is_shown_as_it_could_be_written() -> None:
    """Its keys as a recipe takes them, behind a #: taken off, the line reads."""
    text = new_text({key: ANSWERS[key] for key in ("title", "artist", "metal", "size")})
    for line in ("    # techniques: [aquatint]", "    # life: 120 impressions",
                 "  # damp: {method: soak, soak: 30 min, rest: 15 min, keeps: 48 h, pack: 6}"):
        assert line in text.splitlines()
    opened = text.replace("# paper:", "paper:").replace("  # damp:", "  damp:").replace(
        "  # life", "  life")
    assert read_recipe(opened).plates[0].life == 120


@pytest.mark.parametrize(("technique", "warm_ups"), [
    ("drypoint", 0), ("Dry point", 0), ("aquatint, drypoint", None), ("", None)])
def test_a_new_drypoint_counts_its_first_pulls(technique: str, warm_ups: int | None) -> None:
    """Its first pulls are its richest (common practice), and the recipe says so beside."""
    text = new_text({**ANSWERS, "technique": technique})
    assert read_recipe(text).warm_ups == warm_ups
    assert ("richest" in text) is (warm_ups == 0)


@pytest.mark.parametrize("left_out", ["edition", "technique", "paper", "weight", "piece", "soak",
                                      "takes"])
def test_any_other_answer_may_stay_empty(left_out: str) -> None:
    """What a recipe can do without is a remark, and it reads."""
    recipe = read_recipe(new_text({**ANSWERS, left_out: "  "}))
    assert recipe.print.title == ANSWERS["title"]
    assert left_out != "edition" or recipe.print.edition is None


def test_a_recipe_without_paper_answers_has_no_paper() -> None:
    """Four empty paper answers leave the section a remark: paper ready."""
    bare = {k: v for k, v in ANSWERS.items() if k not in ("paper", "weight", "piece", "soak")}
    assert read_recipe(new_text(bare)).paper is None


@pytest.mark.parametrize(("key", "answer", "said"), [
    ("edition", "many", '"many" is not a whole number; write one such as 30'),
    ("size", "198", '"198" is not a width and a height; write width x height, as 198 x 148 mm'),
    ("takes", "40", '"40" has no unit; write 40 min, or one of s, min, h, days '
     'or weeks'),
    ("takes", "3 days", '"3 days" cannot be the time of one print; write one such as 40 min'),
    ("soak", "1:30", '"1:30" can be read two ways; write 1 h 30 min or 90 s'),
    ("title", "a\x1b[31m", "character 2 is a control character (ESC, U+001B); leave it out"),
    ("title", "", None), ("size", " ", None), ("weight", "300 g/m2", None),
])
def test_an_answer_is_checked_as_it_is_given(key: str, answer: str, said: str | None) -> None:
    """Wrong answers say what is wrong and what to write; empty ones are always right."""
    (question,) = [q for q in QUESTIONS if q.key == key]
    assert question.check(answer) == said


def test_like_keeps_a_guess_that_the_model_has_no_place_for() -> None:
    """It becomes a line of its own; one that is there is changed alone."""
    made = recipe_like(FULL, {"title": "Other", "takes": "40 min"})
    assert str(read_recipe(made).takes) == "40 min"
    assert made.endswith("\none print takes: 40 min\n")
    again = recipe_like(made, {"title": "Third", "takes": "50 min"})
    assert str(read_recipe(again).takes) == "50 min"
    assert again.count("one print takes") == 1


def test_like_keeps_everything_but_the_title() -> None:
    """Only the title's own text differs: comments, order and spacing stay."""
    remark = FULL.replace("wash: 2 min", "wash: 2 min   # mine")
    made = recipe_like(remark, {})
    assert made == remark.replace("title: Heron Weir", 'title: ""')
    with pytest.raises(RecipeError) as caught:
        read_recipe(made)
    assert [str(p) for p in caught.value.problems] == [
        "2:16: title is empty; write such as Slack Tide"]


def test_like_writes_the_answers_given() -> None:
    """Answers replace values, and all else is as it was."""
    made = read_recipe(recipe_like(FULL,
                                   {"title": "Lock, Late", "size": "10 x 12 in", "edition": "12"}))
    assert (made.print.title, made.print.edition) == ("Lock, Late", 12)
    assert str(made.plates[0].size) == "10 × 12 in"
    assert made.each == read_recipe(FULL).each


#: The model with two plates and the shortest one every time, the others with the heavy counts.
_QUICK = ("ferry-lamp", "three-steps")


@pytest.mark.parametrize("file", [
    pytest.param(file, id=file.stem,
                 marks=() if file.stem in _QUICK else pytest.mark.full) for file in SHIPPED])
def test_like_loses_no_answer(file: Path) -> None:
    """What the model has no place for gets one, and what is emptied goes, with nothing else."""
    text = file.read_text(encoding="utf-8")
    made = recipe_like(text, ANSWERS)
    assert {q.key: shown_answers(made)[q.key] for q in QUESTIONS} == ANSWERS
    read_recipe(made)
    may_go = {q.key: "" for q in QUESTIONS if not q.needed}
    bare = recipe_like(made, {"title": "Bare", **may_go})
    assert set(shown_answers(bare)) - {"press"} == {"title", "artist", "metal", "size"}
    assert {s.do for s in read_recipe(bare).steps} == {s.do for s in read_recipe(text).steps}


def test_like_leaves_what_is_shown_and_kept() -> None:
    """Answers that are what the text says already change nothing of it, spacing included."""
    text = FULL.replace("edition: 40", "edition:   40  # so far")
    shown = shown_answers(text)
    assert recipe_like(text, {**shown, "title": "Other"}) == recipe_like(text, {"title": "Other"})


def test_an_answer_without_a_place_stays_as_a_remark() -> None:
    """The text says something else there, so the printer decides."""
    made = recipe_like("paper: cotton\n", {"title": "Other", "weight": "300 g/m2"})
    assert made.startswith("paper: cotton\n")
    assert "# Weight: 300 g/m2    (write it where it belongs)\n" in made


def test_what_one_recipe_offers_the_next() -> None:
    """Artist, metal, paper and press, as a form could give them; never what makes it its own."""
    offered = known_answers((SHIPPED[0].parent / "weigh-house.yaml").read_text(encoding="utf-8"))
    assert set(offered) == {"artist", "metal", "paper", "weight", "piece", "soak", "press"}
    assert find_faults({**ANSWERS, **offered}) == {}
    assert "press" not in known_answers("press: {key: {pitch: 2 mm}}\n")
    made = read_recipe(new_text({**ANSWERS, **offered}))
    assert offered["press"].startswith(f"pitch: {made.presses[0].pitch}")


def test_every_answer_has_its_line_in_the_file() -> None:
    """Given or not: the line it is on, or the remark that shows how it would be written."""
    for said in ({}, ANSWERS):
        text = new_text(said)
        lines = [text.split("\n")[line_of_answer(text, q) - 1] for q in FORM]
        assert [q.key for q, line in zip(FORM, lines, strict=True)
                if str(q.path[-1]) not in line] == []


def test_what_keeps_a_recipe_from_running_is_said_by_question() -> None:
    """The four that are needed, and whatever cannot be read; nothing else."""
    assert set(find_faults({})) == {"title", "artist", "metal", "size"}
    assert find_faults(ANSWERS) == {}
    assert find_faults({**ANSWERS, "metal": " ", "soak": "1:30"}) == {
        "metal": "What is the plate made of?",
        "soak": '"1:30" can be read two ways; write 1 h 30 min or 90 s'}


@pytest.mark.parametrize("file", SHIPPED, ids=[file.stem for file in SHIPPED])
def test_like_a_shipped_recipe(file: Path) -> None:
    """Every shipped recipe can be made after, and differs in its title alone."""
    text = file.read_text(encoding="utf-8")
    made = recipe_like(text, {"title": "Another"})
    assert read_recipe(made).print.title == "Another"
    changed = [(a, b) for a, b in zip(text.split("\n"), made.split("\n"), strict=True) if a != b]
    assert len(changed) == 1


@pytest.mark.parametrize("new", [*WORDS, "", "a 'b' \"c\"", "x\\y", "true", "  spaced  ", "😀",
                                 "a #b", "a:", ":a", "?", "-", "&a", "*a", "!a", "%a", "@a", "`a"])
def test_any_value_anywhere_can_be_replaced(new: str) -> None:
    """Plain, quoted, block or flow: the new value reads back, all others are as they were."""
    text = ("a: plain   # remark\nb: 'single'\nc: \"double\"\nd: {e: in braces, f: [g, 'h']}\n"
            "i: |\n  a block\n  of two lines\n\n# remark\nj: >-\n  folded\n\nk:\nl:   # empty\n"
            "m: a text\n  of two lines\nn: end\n")
    before = dict(walk_nodes(parse_document(text).root))
    for path, node in before.items():
        if not isinstance(node, Scalar):
            continue
        made = replace_value(text, node, new)
        after = dict(walk_nodes(parse_document(made).root))
        assert set(after) == set(before)
        found = find_node(parse_document(made).root, *path)
        assert isinstance(found, Scalar)
        assert found.text == new
        for other, was in before.items():
            if other != path and isinstance(was, Scalar):
                assert after[other].text == was.text  # type: ignore[union-attr]
        assert made.count("# remark") == text.count("# remark")


def test_replacing_at_random_in_a_whole_recipe() -> None:
    """Twenty values of a full recipe, one at a time: nothing else of the tree moves."""
    rng = random.Random(5)
    values = [(p, n) for p, n in walk_nodes(parse_document(FULL).root) if isinstance(n, Scalar)]
    texts = {path: node.text for path, node in values}
    for path, node in rng.sample(values, 20):
        new = rng.choice(WORDS)
        made = {p: n.text for p,
                n in walk_nodes(parse_document(replace_value(FULL, node, new)).root)
                if isinstance(n, Scalar)}
        assert made == {**texts, path: new}


def test_several_changes_at_once() -> None:
    """Changes are found in the text as it was, whatever their lengths."""
    made = change_values(FULL,
                         {"print.title": "A very much longer title than before", "wash": "3 min",
                                "each.2.do": "Ink", "no.such": "x", "each.99.do": "x"})
    recipe = read_recipe(made)
    assert (recipe.each[1].do, recipe.wash.ms) == ("Ink", 180_000)


@pytest.mark.parametrize("new", ["a\nb", "\x1b", "\u202e", "\ud800", "\ufffe", "\t"])
def test_what_no_file_may_hold_is_not_written(new: str) -> None:
    """The door is shut on the way out as well."""
    with pytest.raises(ValueError, match="character"):
        scalar_text(new)
