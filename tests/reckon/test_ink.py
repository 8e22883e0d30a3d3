"""Ink: grams on the scale, and grams for a day."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.quantities import Mass, Percentage, read_mass, read_size
from benchapp.reckon.additives import additive_caution
from benchapp.reckon.answer import Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.ink import Ingredient, mix_ink, smallest_batch, whole_steps
from benchapp.reckon.ink_need import Used, ink_need, learn_ink_use
from benchapp.reckon.student import t_below, t_quantile

PLATE = read_size("250 x 190 mm")


def parts(**shares: str) -> list[Ingredient]:
    """Parts by name."""
    return [Ingredient(name, Fraction(share)) for name, share in shares.items()]


def test_the_answer_reads_as_a_list_for_the_scale():
    """First the sentence, then a line a part."""
    found = mix_ink(parts(black="880", oil="100"), read_mass("980 g"), read_mass("0.1 g"))
    assert found.sentence == "880 g black, 100 g oil: 980 g in all"
    assert found.body == ("880 g  black", "100 g  oil")
    assert found.json()["grams"] == {"black": 880, "oil": 100}
    assert "oil is 10.2 % of the mass; 2 to 8 % is usual (common practice)" in found.notes


def test_a_trace_gets_one_step_and_a_warning():
    """Nothing that was asked for is left out of the ink."""
    found = mix_ink(parts(black="1000", violet="1"), read_mass("20 g"), read_mass("0.1 g"))
    assert found.figures["grams"] == {"black": Fraction("19.9"), "violet": Fraction("0.1")}
    assert any(n.startswith("violet is less than one step") for n in found.notes)
    assert any("within 2 % only from 2,502.5 g on" in n for n in found.notes)


def test_a_batch_large_enough_has_nothing_to_warn_of():
    """At the smallest honest batch the caution is gone."""
    mixture = parts(a="7", b="2", c="0.1")
    assert mix_ink(mixture, read_mass("227.5 g")).notes == ()
    assert len(mix_ink(mixture, read_mass("227.4 g")).notes) == 1


@given(st.lists(st.integers(1, 5000), min_size=1, max_size=12), st.integers(0, 20_000))
def test_the_total_is_always_exact_and_nothing_is_missing(shares, more):
    """Every part has a step, all steps are dealt, none is more than one off unless lifted."""
    steps = len(shares) + more
    exact = [Fraction(s, sum(shares)) for s in shares]
    dealt, lifted = whole_steps(exact, steps)
    assert sum(dealt) == steps
    assert min(dealt) >= 1
    if not lifted:
        assert all(abs(d - e * steps) < 1 for d, e in zip(dealt, exact, strict=True))


@given(st.lists(st.integers(1, 500), min_size=1, max_size=6), st.sampled_from(["0.01", "0.1", "1"]))
def test_half_a_step_is_two_percent_of_the_smallest_part_at_most(shares, step):
    """In the smallest honest batch, and no longer in one a step smaller."""
    exact, scale = [Fraction(s, sum(shares)) for s in shares], Mass(Fraction(step))
    batch = smallest_batch(exact, scale).g
    assert scale.g / 2 <= min(exact) * batch * Fraction(2, 100)
    assert scale.g / 2 > min(exact) * (batch - scale.g) * Fraction(2, 100)


@pytest.mark.parametrize(
    ("shares", "total", "step", "told"),
    [
        ({}, "100 g", "0.1 g", "parts: 0 parts are not a mixture"),
        ({"black": "0"}, "100 g", "0.1 g", "part black: it has no parts"),
        ({"black": "1"}, "100.05 g", "0.1 g", "cannot show 100.05 g; ask for 100 or 100.1 g"),
        ({"black": "1"}, "0.05 g", "0.1 g", "cannot show 0.05 g; ask for 0.1 g"),
        ({"a": "1", "b": "1", "c": "1"}, "0.2 g", "0.1 g", "is 2 steps of the scale for 3 parts"),
        ({"black": "1"}, "0 g", "0.1 g", "total: 0 g is not a batch of ink"),
        ({"black": "1"}, "980 kg", "0.1 g", "total: 980 kg is not a batch of ink"),
        ({"black": "1"}, "100 g", "0 g", "step: no scale shows steps of 0 g"),
    ],
)
def test_a_mixture_that_cannot_be_weighed_is_refused(shares, total, step, told):
    """Which figure is wrong and what would be possible."""
    with pytest.raises(ReckonError, match=told):
        mix_ink(parts(**shares), read_mass(total), read_mass(step))


def test_a_part_named_twice_is_refused():
    """One of them would be lost in the answer."""
    twice = [Ingredient("black", Fraction(1)), Ingredient("black", Fraction(2))]
    with pytest.raises(ReckonError, match="part black: it is named twice"):
        mix_ink(twice, read_mass("100 g"))


@pytest.mark.parametrize(
    ("name", "percent", "told"),
    [
        ("burnt plate oil", 8, None),
        ("burnt plate oil", 9, "2 to 8 % is usual"),
        ("plate oil", 13, "above the cap of about 12 %"),
        ("magnesium carbonate", 4, None),
        ("Magnesium Carbonate", 11, "above the cap of about 10 %"),
        ("transparent extender", 60, None),
        ("transparent extender", 70, "10 to 60 % is usual"),
        ("cobalt drier", 3, "0.5 to 2 % is usual"),
        ("oil of cloves", 1, "1 to 3 drops in 50 g"),
        ("bone black", 90, None),
        ("spoil", 90, None),
    ],
)
def test_additives_above_what_is_usual_are_cautioned(name, percent, told):
    """By the words of their names, whole words only."""
    found = additive_caution(name, Fraction(percent, 100))
    assert found is None if told is None else found is not None and told in found


def used(*sessions: tuple[str, int, str]) -> list[Used]:
    """(grams, impressions, session) on one plate."""
    return [Used(read_mass(grams), pulls, PLATE, name) for grams, pulls, name in sessions]


THREE = used(("45 g", 10, "2026-05-03"), ("62 g", 12, "2026-05-09"), ("38 g", 9, "2026-05-20"))


def test_before_any_weighing_it_is_common_practice():
    """A range, marked as a guess, with the recipe's own charge beside it."""
    found = ink_need(PLATE, 10, charge=read_mass("9 g"))
    assert found.sentence == ("34 to 68 g of ink for 10 impressions; 50 g by the recipe's charge")
    assert found.figures["recipe_g"] == Fraction("49.5")
    assert (found.figures["grams"], found.figures["at_most_g"]) == (None, None)
    assert found.notes == (
        "A guess: weigh the ink before and after three sessions and they replace it",
    )


def test_one_or_two_sessions_are_told_and_not_forecast_from():
    """One gives no limit, and says so."""
    one, two = ink_need(PLATE, 10, weighings=THREE[:1]), ink_need(PLATE, 10, weighings=THREE[:2])
    assert one.figures["grams"] is two.figures["grams"] is None
    assert one.notes == (
        "Your one session used 9.5 mg/cm2; 3 are needed to forecast, and one gives no limit",
    )
    assert two.notes[0].endswith("3 are needed to forecast")
    assert learn_ink_use(THREE[:1]).at_most(Fraction(1000)) is None


def test_after_three_sessions_it_is_the_printers_own():
    """With a limit nine days of ten, and the recipe's number still beside it."""
    found = ink_need(PLATE, 10, weighings=THREE, charge=read_mass("9 g"))
    assert found.sentence == (
        "47 g of ink for 10 impressions, at most 58 g nine days of ten; 50 g by the recipe's charge"
    )
    (rate,) = (i for i in found.inputs if i.source is Origin.LEARNT)
    assert rate.detail == "2026-05-03, 2026-05-09, 2026-05-20"
    assert found.figures["grams"] < found.figures["at_most_g"]


def test_a_plate_twice_as_large_takes_twice_the_ink():
    """Ink goes by area; the limit grows less than the area does."""
    one, two = (ink_need(p, 10, weighings=THREE).figures
                for p in (PLATE, read_size("500 x 190 mm")))  # fmt: skip
    assert two["grams"] == 2 * one["grams"]
    assert one["at_most_g"] < two["at_most_g"] < 2 * one["at_most_g"]


def test_sessions_that_agree_have_no_scatter():
    """The limit is the forecast itself."""
    same = used(("45 g", 10, "a"), ("45 g", 10, "b"), ("90 g", 20, "c"))
    found = ink_need(PLATE, 10, weighings=same).figures
    assert found["grams"] == 45
    assert found["at_most_g"] == pytest.approx(45, rel=1e-12)


@pytest.mark.parametrize(
    ("grams", "pulls", "plate", "told"),
    [
        ("45 kg", 10, "250 x 190 mm", "weighing 3 May: 45 kg is 9,473.7 mg on each square centi"),
        ("45 g", 0, "250 x 190 mm", "weighing 3 May: 0 impressions cannot have used ink"),
        ("45 g", 10, "250 x 190 in", "larger than a plate can be"),
        ("0 g", 10, "250 x 190 mm", "look again at grams, impressions and the plate"),
    ],
)
def test_a_weighing_that_cannot_be_is_refused(grams, pulls, plate, told):
    """A mistaken unit would spoil every later forecast."""
    with pytest.raises(ReckonError, match=told):
        Used(read_mass(grams), pulls, read_size(plate), "3 May")


def test_a_day_that_cannot_be_is_refused():
    """No impressions need no ink."""
    with pytest.raises(ReckonError, match="impressions: 0 is not a day's work"):
        ink_need(PLATE, 0)


@given(st.floats(0.001, 0.999), st.integers(1, 60))
def test_the_quantile_turns_the_distribution_round(chance, freedom):
    """There and back, and the same on both sides of nothing."""
    t = t_quantile(chance, freedom)
    assert t_below(t, freedom) == pytest.approx(chance, rel=1e-9)
    assert t_quantile(1 - chance, freedom) == pytest.approx(-t, rel=1e-6, abs=1e-9)


def test_what_is_no_chance_has_no_quantile():
    """Certainty is infinitely far off, and no weighings have no freedom."""
    with pytest.raises(ReckonError, match="chance: 1 is not a chance"):
        t_quantile(1, 3)
    with pytest.raises(ReckonError, match="freedom: 0 degrees of freedom are too few"):
        t_below(1.0, 0)


def test_an_ink_that_shares_the_plate_gets_no_range_of_the_whole():
    """Two inks on one plate: by the part the printer says, by the charge, or no figure."""
    plate = read_size("120 x 160 mm")
    whole = ink_need(plate, 8).figures
    part = ink_need(plate, 8, covers=Percentage(Fraction(1, 4)))
    assert part.figures["practice_to_g"] * 4 == whole["practice_to_g"]
    unknown = ink_need(plate, 8, covers=None)
    assert unknown.figures["practice_to_g"] is None
    assert "does not say which part" in unknown.sentence
    assert "covers: 40 %" in unknown.notes[0]
    charged = ink_need(plate, 8, covers=None, charge=Mass(Fraction(1, 2)))
    assert charged.sentence == "2.3 g of ink for 8 impressions by the recipe's charge"
