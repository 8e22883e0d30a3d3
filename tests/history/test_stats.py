"""What a print's own sessions teach, and what is proposed by it at the bench."""

from __future__ import annotations

from fractions import Fraction

import pytest

from benchapp.book.queries import sessions_of
from benchapp.history.stats import Learnt, inked_plates, learn_stats, weighing_names
from benchapp.quantities import Mass
from benchapp.reckon.press import GUESS
from benchapp.session import actions as a
from benchapp.session.actions import notes
from benchapp.session.actions import settings as set_actions
from benchapp.views.bench import bench_view
from benchapp.views.setup_card import setup_card
from benchapp.views.status import status_lines
from tests.session.support import INK, LIFT, PULL, SOAK, TWO_EACH, WARM, Bench, recipe

PRESS = "press: {pitch: 2 mm, left: 3 turns, right: 3.5 turns, more is: tighter}\n"
MIX = "{do: Mix the ink, hands: inky, time: 10 min}"
SCREWS = "{do: Blankets and both screws, hands: clean, time: 15 min}"
TEAR = "{do: Tear paper, hands: clean, time: 10 min}"
INKS = "ink: {name: warm black, charge: 9 g, parts: {black: 10, oil: 1}}\n"
DAY = recipe(before=[SCREWS, MIX], extra=PRESS + INKS)
TITLE = "{title: Slack Water, artist: Wren Halloran}"
SHOT = DAY.replace("198 x 148 mm", "198 x 148 mm, thickness: 1.2 mm")


def day(bench: Bench, verdicts: str, *said: a.Action) -> None:
    """Print a sheet for each letter, `k`eep, `d`oubtful, `s`poiled or `-`, and close.

    The first two are warm-ups by rule.
    """
    for action in said:
        bench.say(action)
    for n, letter in enumerate(verdicts, 1):
        bench.until("Lift")
        if letter in "kds":
            bench.say(a.Judge({"k": "keep", "d": "doubtful", "s": "spoiled"}[letter], n))
        if n == len(verdicts):  # else the next one is begun with this tread
            bench.say(a.Enough())
        bench.tread()
    bench.to_close()


def taught(bench: Bench) -> Learnt:
    """What all sessions of the print in the book teach."""
    return learn_stats(sessions_of(bench.book, bench.room.sessions[next(
        iter(bench.room.sessions))].recipe.print))


def reading(name: str, value: str, unit: str | None = "g") -> a.TakeReading:
    """A weighing, as it is said."""
    return a.TakeReading(name, value, unit)


# -- sheets ---------------------------------------------------------------------------------


def test_spoiled_and_judged_sheets_are_the_record() -> None:
    """Warm-ups and sheets nobody judged teach nothing; doubtful ones are not spoiled."""
    bench = Bench(DAY)
    day(bench, "ssks-dk")
    assert taught(bench).record.spoiled == 1
    assert taught(bench).record.pulled == 4  # the third, fourth, sixth and seventh
    assert taught(bench).record.sessions == 1


def test_a_sheet_spoiled_before_its_pull_is_a_spoiled_one() -> None:
    """Where its sheet was lost; one without a sheet, or put back into its pack, cost none."""
    bench = Bench(recipe(each=[INK, PULL, LIFT], damp=SOAK))
    bench.until("Ink")
    bench.say(a.Judge("spoiled"))
    assert taught(bench).record.pulled == 0
    bench.tread()
    bench.advance(60)
    bench.until("Pull")
    assert bench.s.impressions[1].sheets
    bench.say(a.Judge("spoiled"))
    assert taught(bench).record.pulled == 0
    bench.back()
    bench.say(a.SpoilTry(2, lost=True))
    assert (taught(bench).record.spoiled, taught(bench).record.pulled) == (1, 1)


def test_a_taken_back_verdict_teaches_nothing() -> None:
    """The record follows the book."""
    bench = Bench(DAY)
    for _ in range(3):
        bench.until("Lift")
        bench.tread()
    bench.say(a.Judge("spoiled", 3))
    assert taught(bench).record.pulled == 1
    bench.back()
    assert taught(bench).record.pulled == 0


def test_only_sessions_of_the_same_print_teach() -> None:
    """Another title is another print."""
    bench = Bench(DAY)
    day(bench, "--ss")
    bench.open(DAY.replace("Slack Water", "Spring Tide"))
    assert learn_stats(sessions_of(bench.book, bench.s.recipe.print)).record.pulled == 0
    assert bench.shop.learnt().record.pulled == 0


# -- weighings --------------------------------------------------------------------------------


def test_ink_used_is_learnt_with_the_pulls_it_went_into() -> None:
    """Every inked pull counts, warm-ups too; a later weighing stands for an earlier."""
    bench = Bench(DAY)
    day(bench, "--kk", reading("ink used", "30"), reading("Ink used", "42"))
    (used,) = taught(bench).ink["ink used"]
    assert (used.grams, used.impressions) == (Mass(Fraction(42)), 4)
    assert used.session == "2026-05-03"


def test_a_weighing_is_the_days_whatever_sheet_is_in_hand() -> None:
    """It goes to no sheet; a reading of another name does."""
    bench = Bench(DAY)
    bench.until("Lift")
    bench.say(reading("control sheet", "127"))
    bench.say(reading("tone", "3", None))
    assert [r.name for r in bench.sheets[0].readings] == ["tone"]
    assert {x.name: x.value for x in bench.s.settings} == {"control sheet": "127 g"}
    assert [str(w.mass) for w in taught(bench).control] == ["127 g"]


def test_a_weighing_named_with_its_sheet_is_found_too() -> None:
    """The printer may give it to a sheet, later and by its mark."""
    bench = Bench(DAY)
    day(bench, "--k")
    bench.say(a.TakeReading("ink used", "42", "g", 3), bench.s.id)
    assert len(taught(bench).ink["ink used"]) == 1


@pytest.mark.parametrize(("value", "unit", "said"), [
    ("84", None, "no unit"), ("84", "mm", "not a unit"), ("84", "kg", "no inking comes near"),
    ("0", "g", "no inking comes near"),
])  # fmt: skip
def test_what_cannot_be_is_left_out_and_said(
    value: str, unit: str | None, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One wrong unit would spoil every day after it; older books have such readings."""
    monkeypatch.setattr(notes, "wrong_reading", lambda *_: None)
    bench = Bench(DAY)
    day(bench, "--k", reading("ink used", value, unit))
    found = taught(bench)
    assert not found.ink
    assert [said in doubt and "2026-05-03" in doubt for doubt in found.doubts] == [True]


def test_each_ink_is_weighed_by_its_name() -> None:
    """Two inks on two plates; two on one plate."""
    one = Bench(DAY).s.recipe
    two = Bench(recipe(
        each=("{do: Ink, hands: inky}", "{do: A, hands: clean, pulls: tone}",
              "{do: B, hands: clean, pulls: key}", LIFT), plates=("tone", "key"),
        extra="ink:\n  tone: {name: dusk blue}\n  key: {charge: 5 g}\n")).s.recipe
    assert [x.reading for x in inked_plates(one)] == ["ink used"]
    assert [(x.reading, x.plate.name) for x in inked_plates(two)] == [
        ("dusk blue used", "tone"), ("key ink used", "key")]
    assert weighing_names(one) == ("ink used",)
    damped = Bench(recipe(damp=SOAK, extra=INKS)).s.recipe
    assert weighing_names(damped) == ("ink used", "control sheet", "dry sheet")


def test_the_set_up_card_does_not_weigh_anew() -> None:
    """Last time's weighing does not stand on today's card; a setting does."""
    bench = Bench(DAY)
    day(bench, "--k", reading("ink used", "42"), a.Set("room", "18 °C"))
    last = bench.s
    bench.open(DAY)
    names = [x.name for x in setup_card(bench.s, last)]
    assert "room" in names
    assert "ink used" not in names


# -- the press ----------------------------------------------------------------------------------


def screws(left: str, right: str) -> tuple[a.Action, ...]:
    """Both screws, as they are set."""
    return a.Set("left", left), a.Set("right", right)


def test_the_last_good_session_gives_the_screws() -> None:
    """Half of the sheets that were to count were kept; a worse later day does not replace it."""
    bench = Bench(DAY)
    day(bench, "--kks", *screws("3.25 turns", "3.75 turns"))
    bench.open(DAY)
    day(bench, "--kss", *screws("4 turns", "4 turns"))
    good = taught(bench).good[None]
    assert (good.session, good.kept, good.of) == ("2026-05-03", 2, 3)
    assert [(n, str(t)) for n, t in good.sides] == [("left", "3.25 turns"),
                                                    ("right", "3.75 turns")]
    assert good.from_recipe == ()


def test_a_screw_nobody_set_stands_as_the_recipe_had_it_and_is_said() -> None:
    """Where none was set at all nothing is claimed."""
    bench = Bench(DAY)
    day(bench, "--kk", a.Set("left", "3.25 turns"))
    good = taught(bench).good[None]
    assert [str(t) for _, t in good.sides] == ["3.25 turns", "3.5 turns"]
    assert good.from_recipe == ("right",)
    silent = Bench(DAY)
    day(silent, "--kk")
    assert not taught(silent).good


def test_the_setting_at_the_last_kept_sheet_is_the_good_one() -> None:
    """What was tried on a spoiled sheet after it is not."""
    bench = Bench(DAY)
    for action in screws("3.25 turns", "3.75 turns"):
        bench.say(action)
    for n in range(1, 5):
        bench.until("Lift")
        bench.say(a.Judge("keep", n))
        bench.tread()
    bench.say(a.Set("left", "5 turns"))
    bench.until("Lift")
    bench.say(a.Judge("spoiled", 5))
    bench.say(a.Enough())
    bench.to_close()
    assert str(taught(bench).good[None].sides[0][1]) == "3.25 turns"


def test_a_screw_of_an_old_book_that_cannot_be_read_is_no_older_figure(
    monkeypatch: pytest.MonkeyPatch
) -> None:
    """Written with a comma, as it was taken then: nothing is called the last one, and why."""
    bench = Bench(DAY)
    day(bench, "--kk", *screws("3.5 turns", "3.5 turns"))
    bench.open(DAY)
    monkeypatch.setattr(set_actions, "wrong_setting", lambda *_: None)
    monkeypatch.setattr(set_actions, "recorded_setting", lambda _, __, value: value)
    day(bench, "--kk", *screws("3,25 turns", "3.5 turns"))
    found = taught(bench)
    assert not found.good
    assert found.doubts == (
        '2026-05-03b: left: "3,25" has a decimal comma; write a point: 3.25',)


def test_corrections_are_learnt_from_thickness_and_screws() -> None:
    """Blankets 2 mm thicker, roller let up 1 mm: the give moves from .35 towards .5."""
    bench = Bench(SHOT)
    day(bench, "--kk", *screws("4 turns", "4 turns"), a.Set("blankets thickness", "9 mm"))
    bench.open(SHOT)
    day(bench, "--kk", *screws("3.5 turns", "3.5 turns"), a.Set("blankets thickness", "11 mm"))
    gives = taught(bench).gives
    assert gives.learnt_from == (0, 0, 1)
    # Ridge of one observation: (λ·guess + d·lift) / (λ + d²), λ = 4/25, d = 2, lift = 1.
    expected = (Fraction(4, 25) * Fraction(35, 100) + 2) / (Fraction(4, 25) + 4)
    assert gives.blankets == expected


@pytest.mark.parametrize("change", ["new felts", "11 turns"])
def test_a_change_nobody_measured_teaches_nothing(change: str) -> None:
    """Other words about the blankets are a change of unknown size."""
    bench = Bench(SHOT)
    day(bench, "--kk", *screws("4 turns", "4 turns"), a.Set("blankets", "old felts"))
    bench.open(SHOT)
    day(bench, "--kk", *screws("3.5 turns", "3.5 turns"), a.Set("blankets", change))
    assert taught(bench).gives == GUESS


# -- at the bench ------------------------------------------------------------------------------


def proposed(bench: Bench) -> tuple[str, ...]:
    """What stands beside the step in hand."""
    seen = bench_view(bench.room, bench.now, bench.shop.learnt())
    assert seen is not None
    return seen.now.proposals


def test_the_step_that_mixes_ink_is_told_how_much() -> None:
    """Ten wanted are 15 sheets by the prior: the recipe's 9 g give 72 g for 15 (9·16/2)."""
    bench = Bench(DAY, wanted=10)
    bench.until("Mix the ink")
    grams, parts = proposed(bench)
    assert grams.startswith("Mix 72 g of warm black: ")
    assert grams.endswith("72 g by the recipe's charge")
    assert parts == "65.5 g black, 6.5 g oil: 72 g in all"
    assert grams in status_lines(bench.room, bench.now, bench.shop.learnt())


def test_the_set_up_step_is_told_the_screws() -> None:
    """By the recipe first; by the last good session once there is one."""
    bench = Bench(DAY)
    assert proposed(bench) == ("Screws as the recipe has them: left 3 turns, right 3.5 turns",)
    day(bench, "--kk", *screws("3.25 turns", "3.75 turns"))
    bench.open(DAY)
    assert proposed(bench) == ("Screws as last time: left 3.25 turns, right 3.75 turns",)


def test_screws_of_two_plates_are_told_with_their_plate() -> None:
    """The same figures twice would not say which plate they are for."""
    bench = Bench(recipe(
        before=["{do: Both screws, hands: clean}"], each=TWO_EACH, plates=("tone", "key"),
        extra="press:\n" + "".join(
            f"  {plate}: {{pitch: 2 mm, left: 3 turns}}\n" for plate in ("tone", "key"))))
    assert proposed(bench) == ("tone: Screws as the recipe has them: left 3 turns",
                               "key: Screws as the recipe has them: left 3 turns")


def test_damping_is_told_the_sheets_beside_the_recipes_pack() -> None:
    """The control sheet weighed on the bench stands in the very next answer."""
    text = recipe(damp=SOAK).replace(
        "name: cotton", "name: cotton\n  weight: 300 g/m2\n  piece: 280 x 380 mm")
    bench = Bench(text, wanted=10)
    assert bench.hand == "Sheets into the water"
    sheets, weigh = proposed(bench)
    assert sheets == ("15 sheets, 2 of them to warm up: 90 % for 10 good; a further sheet +3 %")
    assert weigh == "Damp until one sheet weighs 48 g; 4 sheets take up 64 g of water"
    assert bench.view.now.do == "Sheets into the water: 4"
    bench.say(reading("control sheet", "47"))
    assert proposed(bench)[2] == "The control sheet of 2026-05-03 weighed 47 g"
    bench.say(reading("dry sheet", "31"))
    assert proposed(bench)[1].startswith("Damp until one sheet weighs 46.6 g")


def test_nothing_is_proposed_where_no_number_is_wanted_or_no_step_asks() -> None:
    """Without a number there is nothing to reckon with; wiping asks for none."""
    bench = Bench(recipe(before=[MIX, TEAR], each=[WARM, INK, PULL, LIFT], extra=INKS))
    assert bench.hand == "Mix the ink"
    assert proposed(bench) == ()
    bench.say(a.SetWanted(4))
    assert len(proposed(bench)) == 2
    bench.until("Tear paper")
    assert proposed(bench) == ()
    bench.until("Ink")
    assert proposed(bench) == ()


def test_odd_figures_of_a_recipe_propose_nothing() -> None:
    """A pitch no press has: the bench goes on, `reckon` says which figure it is."""
    bench = Bench(DAY.replace("pitch: 2 mm", "pitch: 200 mm"))
    assert proposed(bench) == ()


def test_a_verdict_on_an_earlier_day_is_heard_at_once() -> None:
    """Sheets judged late change the proposal of the day on the bench."""
    bench = Bench(DAY)
    day(bench, "------------")
    first = bench.s.id
    bench.open(DAY, wanted=10)
    assert bench.shop.learnt().record.pulled == 0
    bench.shop.look_at(first)
    for n in range(3, 9):
        bench.say(a.Judge("spoiled", n), first)
    assert (bench.shop.learnt().record.spoiled, bench.shop.learnt().record.pulled) == (6, 6)
