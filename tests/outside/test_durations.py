"""Durations against the standards that define them."""

from __future__ import annotations

import pytest

from benchapp.quantities import Duration


@pytest.mark.parametrize(
    ("ms", "text"), [(720_000, "PT12M"), (3 * 86_400_000, "P3D"), (5_400_000, "PT1H30M"),
                     (0, "PT0S"), (750, "PT0.75S"), (90_061_000, "P1DT1H1M1S"),
                     # The example of RFC 5545 section 3.3.6, without its idle 0 minutes.
                     (1_314_020_000, "P15DT5H20S")]
)  # fmt: skip
def test_durations_leave_as_iso_8601(ms, text):
    """Each part only where it is not nothing, T only before a time (ISO 8601-1:2019, 5.5.2)."""
    assert Duration(ms).iso() == text
