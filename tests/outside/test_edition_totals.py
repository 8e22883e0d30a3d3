"""How many impressions an edition of 20 comes to, against a workshop agreement of the 1960s."""

from __future__ import annotations

import pytest

from benchapp.edition.figures import planned_impressions
from benchapp.edition.state import Cap

#: A 1960s workshop agreement (Archives of American Art): an edition of 20 with one BAT,
#: nine for the workshop, one cancelled, 1-3 AP, 2 TP, one PP, up to 3 presentation proofs.
FIXED = {"BAT": Cap(1), "workshop": Cap(9), "cancellation proof": Cap(1), "TP": Cap(2),
         "PP": Cap(1)}


@pytest.mark.parametrize(("ap", "presentation", "expected"), [(1, 0, 35), (3, 3, 40)])
def test_an_edition_of_20_comes_to_35_to_40(ap, presentation, expected):
    """About twice the denominator."""
    caps = {**FIXED, "AP": Cap(ap), "presentation": Cap(presentation)}
    assert planned_impressions(20, caps) == expected


def test_proofs_inside_the_total_add_nothing_to_it():
    """Inside (Print Council of America, 1961/64) or outside (Tamarind and later use)."""
    assert planned_impressions(20, {"AP": Cap(2, inside=True)}) == 20
    assert planned_impressions(20, {"AP": Cap(2)}) == 22
