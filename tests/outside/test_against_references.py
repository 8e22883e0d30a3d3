"""Five hundred and more random questions each, answered by reference libraries.

Quick tier: their answers are kept as data. Full tier: they are asked anew, with another seed,
where they are installed.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import isclose
from typing import Any

import pytest

from benchapp.quantities import Length, Mass, Percentage, Size, Temperature
from benchapp.reckon.air import Air, saturation_pressure
from benchapp.reckon.diffusion import tau_at, uptake
from benchapp.reckon.ink import whole_steps
from benchapp.reckon.ink_need import Used, learn_ink_use
from benchapp.reckon.pchip import MonotoneCurve
from benchapp.reckon.press import LiftCorrection, ThicknessChange
from benchapp.reckon.press import learn_gives as learn_gives
from benchapp.reckon.student import t_below, t_quantile
from tests.outside.data import make_air, make_ink, make_press, make_soak, make_strips, make_student
from tests.outside.data.kept import load


def agree(ours: float, theirs: float, rel: float = 1e-9, absolute: float = 1e-12) -> bool:
    """Equal to the precision asked for."""
    return isclose(ours, theirs, rel_tol=rel, abs_tol=absolute)


def off_air(row: list[Any]) -> bool:
    """Saturation everywhere, the deficit where people print."""
    c100, rh, full, deficit = row
    warmth = Temperature(Fraction(c100, 100))
    good = agree(saturation_pressure(warmth), full)
    if 0 <= c100 <= 4500:
        room = Air(warmth, Percentage(Fraction(rh, 1000)))
        good = good and agree(room.deficit, deficit, absolute=1e-8)
    return not good


def off_student(row: list[Any]) -> bool:
    """The quantile, and the chance below another t."""
    chance, freedom, t, other, below = row
    return not (
        agree(t_quantile(chance, freedom), t, absolute=1e-9)
        and agree(t_below(other, freedom), below)
    )


def off_soak(row: list[Any]) -> bool:
    """The share taken up at a time, and the time of a share."""
    tau, share, wanted, root = row
    return not (agree(uptake(tau), share) and agree(tau_at(wanted), root))


def off_press(row: list[Any]) -> bool:
    """The gives of plate, paper and blankets."""
    seen, gives = row
    corrections = [
        LiftCorrection(ThicknessChange(*(Fraction(v, 1000) for v in layers)), Fraction(lift, 1000))
        for *layers, lift in seen
    ]
    return not all(
        agree(float(ours), theirs, 1e-9, 1e-9)
        for ours, theirs in zip(learn_gives(corrections).layers, gives, strict=True)
    )


def off_forecast(row: list[Any]) -> bool:
    """Grams a square centimetre, and the limit nine days of ten stay under."""
    seen, area, rate, limit = row
    forecast = learn_ink_use(
        [
            Used(Mass(Fraction(cg, 100)), n, Size(Length(Fraction(w)), Length(Fraction(h))))
            for cg, n, w, h in seen
        ]
    )
    assert forecast is not None
    most = forecast.at_most(Fraction(area))
    return not (agree(float(forecast.per_cm2), rate) and most is not None and agree(most, limit))


def off_batch(row: list[Any]) -> bool:
    """No other dealing of whole steps is nearer, where no trace had to be lifted."""
    parts, steps, least = row
    shares = [Fraction(p, sum(parts)) for p in parts]
    dealt, lifted = whole_steps(shares, steps)
    if sum(dealt) != steps or min(dealt) < 1:
        return True
    ours = sum(abs(d - s * steps) for d, s in zip(dealt, shares, strict=True))
    return bool(ours < least - 1e-6 if lifted else not agree(float(ours), least, 1e-6, 1e-6))


def off_strip(row: list[Any]) -> bool:
    """The curve between the patches, and the time of a tone."""
    times, dark, between, values, tone, time = row
    curve = MonotoneCurve(times, dark)
    return not (all(agree(curve(t), value) for t, value in zip(between, values, strict=True))
                and agree(curve.first_reaching(tone), time, 1e-7))


CASES = [
    pytest.param("air", off_air, make_air.rows, ["psychrolib"], id="psychrolib air"),
    pytest.param("strips", off_strip, make_strips.rows, ["scipy"], id="scipy PCHIP"),
    pytest.param("student", off_student, make_student.rows, ["scipy"], id="scipy t"),
    pytest.param("soak", off_soak, make_soak.rows, ["numpy", "scipy"], id="numpy Crank"),
    pytest.param("press", off_press, make_press.rows, ["numpy", "statsmodels"], id="OLS gives"),
    pytest.param(
        "ink_forecasts", off_forecast, make_ink.forecasts, ["numpy", "statsmodels"], id="WLS ink"
    ),
    pytest.param("ink_batches", off_batch, make_ink.batches, ["numpy", "scipy"], id="MILP batch"),
]


@pytest.mark.parametrize(("name", "off", "rows", "needs"), CASES)
def test_the_kept_answers_agree(
    name: str, off: Callable[[Any], bool], rows: Callable[..., Any], needs: list[str]
) -> None:
    """Not one of the kept rows is off."""
    kept = load(name)
    assert len(kept) >= 500
    assert [row for row in kept if off(row)] == []


@pytest.mark.full
@pytest.mark.parametrize(("name", "off", "rows", "needs"), CASES)
@pytest.mark.filterwarnings("default")
def test_the_libraries_agree_when_asked_anew(
    name: str, off: Callable[[Any], bool], rows: Callable[..., Any], needs: list[str]
) -> None:
    """Another seed, asked of the library itself."""
    for library in needs:
        pytest.importorskip(library)
    asked = rows(7, 500)
    assert len(asked) == 500
    assert [row for row in asked if off(row)] == []
