"""The worked day, whose ends CP-SAT proved: 09:30 to 17:00, lunch at 13:00 for 45 minutes."""

from __future__ import annotations

import pytest

from benchapp.planning.build import plan_day
from benchapp.planning.what_if import fit_impressions, helper_words
from tests.planning.plans import MIN, UNLIMITED, worked

UNTIL = 450 * MIN


@pytest.mark.parametrize(("day", "fits", "ends"), [
    (worked(0), 10, 437),
    (worked(0, at=215), 11, 442),
    (worked(0, text=UNLIMITED), 11, 440),
    (worked(0, helper=True), 10, 437),
], ids=["with the limits", "lunch 5 min later", "without the limits", "with a helper"])
def test_as_many_fit_as_were_proved_to(day, fits, ends):
    """So many pulls end by 17:00, the last step at the minute proved, no limit broken."""
    found = fit_impressions(day, UNTIL)
    assert found.fits == fits
    assert found.plan is not None
    assert found.plan.end == ends * MIN
    assert found.plan.broken == ()


def test_an_eleventh_would_end_at_minute_469():
    """One more than fits ends 17:19."""
    plan = plan_day(worked(11))
    assert (plan.end, plan.broken, plan.bound) == (469 * MIN, (), 469 * MIN)


def test_the_plate_holds_the_day_up():
    """32.0 min an impression for the plate, 31 for the hands; a helper gains nothing."""
    loads = plan_day(worked(10)).loads
    assert loads.bottleneck == "plate"
    assert (loads.seconds_each, loads.hands) == (32 * MIN, 31 * MIN)
    assert helper_words(worked(10)) == (
        "A second pair of hands gains nothing: the plate is the bottleneck.")
