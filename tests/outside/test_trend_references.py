"""Trends against NIST's examples, Wilson's figures, and 600 random series of three libraries."""

from __future__ import annotations

from math import isclose
from typing import Any

import pytest

from benchapp.reckon.normal import normal_quantile
from benchapp.reckon.shares import sample_quantile, wilson_interval
from benchapp.reckon.trend_charts import ewma, ewma_limits, individual_limits, mean_moving_range
from benchapp.reckon.trend_line import fit_line, meet_tolerance
from benchapp.reckon.trend_rank import mann_kendall, theil_sen
from tests.outside.data import make_trend
from tests.outside.data.kept import COUNT, load

#: NIST/SEMATECH e-Handbook, 6.3.2.2: flowrate data of ten batches.
FLOW = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
#: NIST 6.3.2.4: what came before them, and the twenty averages printed there.
BEFORE = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5]
AVERAGES = [50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33,
            50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99]


def test_the_individuals_chart_of_the_handbook():
    """Mean 50.81, mean moving range 1.8778, limits 45.8159 and 55.8041 (NIST 6.3.2.2)."""
    found = individual_limits(FLOW)
    assert found.middle == pytest.approx(50.81)
    assert mean_moving_range(FLOW) == pytest.approx(1.8778, abs=5e-5)
    assert (found.low, found.high) == pytest.approx((45.8159, 55.8041), abs=5e-5)


def test_the_moving_average_of_the_handbook():
    """Twenty averages with λ .3 from 50, limits 47.4115 and 52.5884 (NIST 6.3.2.4)."""
    assert ewma([*BEFORE, *FLOW], 50) == pytest.approx(AVERAGES, abs=5.1e-3)
    limits = ewma_limits(50, 2.0539)
    assert (limits.low, limits.high) == pytest.approx((47.4115, 52.5884), abs=1e-3)


def test_wilson_s_own_interval():
    """0 of 10 gives 0 to .27753, 4 of 20 gives .08066 to .41602 (Wilson 1927)."""
    assert wilson_interval(0, 10) == pytest.approx((0, 0.27753), abs=5e-6)
    assert wilson_interval(4, 20) == pytest.approx((0.08066, 0.41602), abs=5e-6)


def near(ours: float, theirs: float) -> bool:
    """Equal to nine places."""
    return isclose(ours, theirs, rel_tol=1e-9, abs_tol=1e-9)


def off_ranks(row: list[Any]) -> bool:
    """S, p, slope, intercept and Sen's interval."""
    values, s, p, *slope = row
    ours, line_ = mann_kendall(values), theil_sen(range(1, len(values) + 1), values)
    mine = (line_.slope, line_.intercept, line_.low, line_.high)
    return not (ours.s == s and near(ours.p, p) and all(map(near, mine, slope)))


def off_lines(row: list[Any]) -> bool:
    """The line; and at both ends of the interval the theorem's equation holds with their t."""
    xs, ys, tolerance, slope, intercept, spread, t = row
    found = fit_line(xs, ys)
    good = all(map(near, (found.slope, found.intercept, found.spread), (slope, intercept, spread)))
    meeting = meet_tolerance(found, tolerance)
    if meeting is None:
        return not good or slope**2 > (t * spread) ** 2 / found.across * 1.000001
    mean, across = sum(xs) / len(xs), sum((x - sum(xs) / len(xs)) ** 2 for x in xs)
    for x in (meeting.low, meeting.high):
        room = (t * spread) ** 2 * (1 / len(xs) + (x - mean) ** 2 / across)
        good = good and isclose((intercept + slope * x - tolerance) ** 2, room, rel_tol=1e-6,
                                abs_tol=1e-9)
    return not (good and isclose(meeting.at, (tolerance - intercept) / slope, rel_tol=1e-6)
                and meeting.low <= meeting.at <= meeting.high)


def off_shares(row: list[Any]) -> bool:
    """Wilson's interval, a quantile of type 7, a normal quantile."""
    part, whole, low, high, values, share, value, chance, z = row
    return not (all(map(near, wilson_interval(part, whole), (low, high)))
                and near(sample_quantile(values, share),
                         value) and near(normal_quantile(chance), z))


CASES = [("trend_ranks", "ranks", off_ranks), ("trend_lines", "lines", off_lines),
         ("trend_shares", "shares", off_shares)]


@pytest.mark.parametrize(("kept", "_", "off"), CASES, ids=[c[0] for c in CASES])
def test_what_the_libraries_said_when_asked(kept, _, off):
    """Every one of 600 kept rows agrees to nine places."""
    rows = load(kept)
    assert len(rows) == COUNT
    assert [row for row in rows if off(row)] == []


@pytest.mark.full
@pytest.mark.parametrize(("_", "make", "off"), CASES, ids=[c[1] for c in CASES])
def test_the_libraries_asked_anew(_, make, off):
    """Other rows, where scipy, numpy and pymannkendall are installed."""
    pytest.importorskip("scipy")
    pytest.importorskip("pymannkendall")
    rows = getattr(make_trend, make)(7, 1000)
    assert [row for row in rows if off(row)] == []
