"""Durations against the standards that define them."""

from __future__ import annotations

import pytest

from benchapp.quantities import Duration, QuantityError, iso_to_duration


def test_the_example_of_the_calendar_standard():
    """P15DT5H0M20S is 15 days, 5 hours and 20 seconds (RFC 5545 section 3.3.6)."""
    duration = iso_to_duration("P15DT5H0M20S")
    assert duration.seconds == 1_314_020
    assert duration.seconds == 15 * 86_400 + 5 * 3_600 + 20


def test_the_weeks_example_of_the_calendar_standard():
    """P7W is 7 weeks (RFC 5545 section 3.3.6)."""
    assert iso_to_duration("P7W").seconds == 7 * 7 * 24 * 3_600


@pytest.mark.parametrize(
    ("text", "ms"),
    [
        ("PT1H30M", 5_400_000),
        ("PT36H", 129_600_000),  # a carry-over is not needed: PT36H and P1DT12H are one duration
        ("P1DT12H", 129_600_000),
        ("PT0S", 0),
        ("PT0.5S", 500),
        ("PT1M", 60_000),
    ],
)
def test_designators_of_iso_8601(text, ms):
    """Days before T, hours, minutes and seconds after it (ISO 8601-1:2019, 5.5.2; from memory)."""
    assert iso_to_duration(text) == Duration(ms)


@pytest.mark.parametrize("text", ["P", "PT", "P1Y", "P1M", "1H", "P1H", "PT1D", "P1DT", "PT1.5M",
                                  "-PT1H", "P1W2D", "pt1h", "PT1S1M"])  # fmt: skip
def test_what_the_standards_do_not_allow_is_refused(text):
    """No empty ones, no years or months, T before times only, weeks alone (RFC 5545 3.3.6)."""
    with pytest.raises(QuantityError, match="is no ISO 8601 duration; write one such as PT1H30M"):
        iso_to_duration(text)


@pytest.mark.parametrize(
    ("ms", "text"), [(720_000, "PT12M"), (3 * 86_400_000, "P3D"), (5_400_000, "PT1H30M"),
                     (0, "PT0S"), (750, "PT0.75S"), (90_061_000, "P1DT1H1M1S")]
)  # fmt: skip
def test_durations_leave_as_iso_8601(ms, text):
    """Each part only where it is not nothing, T only before a time (ISO 8601-1:2019, 5.5.2)."""
    assert Duration(ms).iso() == text
