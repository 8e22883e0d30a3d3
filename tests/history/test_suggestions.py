"""Which times teach a recipe, how far a few of them move it, and what they change in its text."""

from __future__ import annotations

import random
import re

import pytest

from benchapp.files import shipped_recipes
from benchapp.history.suggestions import propose_changes, recipe_lessons
from benchapp.quantities import read_span
from benchapp.recipe.document import parse_document
from benchapp.recipe.edits import change_values
from benchapp.recipe.model import Recipe
from benchapp.recipe.nodes import Scalar, walk_nodes
from benchapp.recipe.reader import read_recipe
from benchapp.session import actions as a
from tests.session.support import LIFT, PULL, WIPE, Bench, recipe

MIN = 60_000
TEXT = recipe(each=(WIPE, PULL, LIFT))


def wiped(*minutes: float) -> Bench:
    """A day whose wipes took so many minutes each, everything else its usual time."""
    b = Bench(TEXT)
    for each in minutes:
        for do, took in (("Wipe", each), ("Wash and dry hands", 1.5), ("Pull", 4), ("Lift", 3)):
            b.advance(took)
            b.work(do)
    return b


def wipe_of(*benches: Bench, now: Recipe | None = None):
    """The lesson of the wipe."""
    found = recipe_lessons([b.room for b in benches], now or read_recipe(TEXT))
    return next(x for x in found if x.what == "Wipe")


def test_times_taken_teach_and_a_few_move_a_little():
    """Recipe 8/10/12; three wipes of 15 move the usual a good way, not all of it."""
    found = wipe_of(wiped(15, 15, 15))
    assert found.taken_ms == (15 * MIN,) * 3
    assert found.new is not None
    assert 12 * MIN <= found.new.usual.ms < 15 * MIN
    assert found.new.low <= found.new.usual <= found.new.high


def test_many_times_of_several_days_move_it_nearly_all_the_way():
    """Three days of ten wipes each at 15: the usual is 15 within the rounding, low and high too."""
    found = wipe_of(*(wiped(*[15] * 10) for _ in range(3)))
    assert found.sessions == 3
    assert found.new is not None
    assert found.new.usual.ms == pytest.approx(15 * MIN, abs=MIN)
    assert found.new.low.ms > 12 * MIN


def test_two_times_are_too_few():
    """Below three nothing is offered."""
    assert wipe_of(wiped(15, 15)).new is None


def test_one_wild_time_moves_nothing_much():
    """The middle is meant: one wipe of 16 among tens leaves the usual at ten."""
    found = wipe_of(wiped(10, 10, 10, 10, 16))
    assert found.new is not None
    assert found.new.usual.ms == 10 * MIN


def test_an_implausibly_quick_step_teaches_nothing():
    """Under a fifth of the low of 8 min a tread was missed."""
    found = wipe_of(wiped(10, 1, 10, 10))
    assert found.taken_ms == (10 * MIN,) * 3
    assert found.left_out == 1


@pytest.mark.parametrize(("answer", "teaches"), [("took", True), ("away", False),
                                                 ("forgot", False), (None, False)])
def test_a_step_asked_about_teaches_only_if_it_took_that_long(answer, teaches):
    """30 min against a high of 12: asked about; away, forgot, and no answer teach nothing."""
    b = wiped(10, 10, 30)
    work = next(w for w in b.s.history if w.question is not None)
    assert work.question == "asked"
    if answer is not None:
        b.say(a.Explain(answer, work.key))
    assert (30 * MIN in wipe_of(b).taken_ms) is teaches


def test_a_step_passed_over_teaches_nothing():
    """Jumped past with *I am here*: its time was not taken."""
    b = wiped(10, 10, 10)
    before = wipe_of(b).taken_ms
    b.advance(10)
    b.say(a.Here(b.id_of("Pull")))
    assert wipe_of(b).taken_ms == before


def test_a_value_changed_since_is_taught_by_the_days_after_alone():
    """The recipe says 9/13/16 now: days printed on 8/10/12 have taught already."""
    now = read_recipe(TEXT.replace("8/10/12", "9/13/16"))
    assert wipe_of(wiped(15, 15, 15), now=now).taken_ms == ()


def test_a_value_taken_over_from_here_is_no_fresh_start():
    """What was offered and taken over goes on being taught by all days, from the first value."""
    early = [wiped(15, 15, 15), wiped(15, 15, 15)]
    offered = wipe_of(*early).new
    text = TEXT.replace("8/10/12 min", str(offered))
    found = wipe_of(*early, now=read_recipe(text))
    assert found.taken_ms == (15 * MIN,) * 6
    assert found.new == found.old  # asked again on the same day, it offers nothing


def test_a_proposal_says_old_new_and_from_how_many():
    """It names the place in the text, and its text reads back as the span it is."""
    found = propose_changes([wiped(15, 15, 15, 15).room], read_recipe(TEXT))
    wipe = next(p for p in found if p.what == "Wipe")
    assert (wipe.path, wipe.old, wipe.count, wipe.of, wipe.sessions) == (
        "each.1.time", "8/10/12 min", 4, "times", 1)
    assert str(read_span(wipe.new)) == wipe.new
    after = read_recipe(change_values(TEXT, {wipe.path: wipe.new}))
    assert str(after.each[0].time) == wipe.new


# -- the text ---------------------------------------------------------------------------------

_PATH = re.compile(r"(before|each|after)\.\d+\.time|wash|paper\.damp\.(soak|handling)")


def _value(dice: random.Random) -> str:
    low = dice.randint(1, 40)
    usual = low + dice.randint(0, 20)
    unit = dice.choice(["min", "s", "h"])
    return dice.choice([f"{low}/{usual}/{usual + dice.randint(0, 30)} {unit}", f"{low} {unit}",
                        f"{low}.5 {unit}"])


def _dressed(text: str, dice: random.Random) -> str:
    """The same recipe as another printer's editor writes it."""
    if dice.random() < 0.3:
        text = re.sub(r"(time: )([\d./]+ min)", r'\1"\2"', text)
    if dice.random() < 0.3:
        text = text.replace("\n\n", "\n# — my own words: äöü, 2 × 3 —   \n\n")
    if dice.random() < 0.3:
        text = text.replace("\n", "\r\n")
    return "\ufeff" + text if dice.random() < 0.3 else text


def rewritten(dice: random.Random) -> None:
    """Change some values of a recipe, and look at every other byte."""
    texts = list(shipped_recipes().values())
    text = _dressed(dice.choice(texts).read_text(encoding="utf-8"), dice)
    nodes = {".".join(map(str, path)): node for path, node in walk_nodes(parse_document(text).root)}
    paths = [p for p, n in nodes.items() if _PATH.fullmatch(p) and isinstance(n, Scalar)]
    changes = {p: _value(dice) for p in dice.sample(paths, dice.randint(1, len(paths)))}
    new, expected, last = change_values(text, changes), [], 0
    for path in sorted(changes, key=lambda p: nodes[p].start):
        expected += [text[last:nodes[path].start], changes[path]]
        last = nodes[path].end
    assert new.encode() == "".join([*expected, text[last:]]).encode()


def test_a_recipe_rewritten_keeps_every_other_byte():
    """Fifty random ways: quotes, comments, line ends, a mark at the start."""
    dice = random.Random(7)
    for _ in range(50):
        rewritten(dice)


@pytest.mark.full
def test_a_recipe_rewritten_a_thousand_ways():
    """The same, a thousand times."""
    dice = random.Random(8)
    for _ in range(1000):
        rewritten(dice)
