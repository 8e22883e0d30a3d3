"""Every tag has its usual causes, short enough for one screen, and no cure that promises."""

from __future__ import annotations

import pytest

from benchapp.recipe.hazards import promises_no_harm
from benchapp.session.tag_causes import CAUSES
from benchapp.session.tags import GROUPS

TAGS = [tag for tags in GROUPS.values() for tag in tags]


def test_every_tag_of_the_trade_has_causes_and_nothing_else_has() -> None:
    """A tag without a next try leaves the printer where they were."""
    assert list(CAUSES) == TAGS


@pytest.mark.parametrize("tag", TAGS)
def test_a_tag_is_explained_on_one_screen(tag: str) -> None:
    """At most four causes, each with what to try in one line of 80 columns."""
    assert 1 <= len(CAUSES[tag]) <= 4
    for cause, then in CAUSES[tag]:
        assert cause
        assert then
        assert len(f"{cause}: {then}") <= 100
        assert promises_no_harm(f"{cause}: {then}") is None


def test_what_the_trade_agrees_on_comes_first() -> None:
    """Common practice, no source: salty is a dry sheet, a slur a sheet that crept."""
    assert CAUSES["salty"][0][0] == "sheet too dry"
    assert {cause for cause, _ in CAUSES["salty"]} == {
        "sheet too dry", "pressure too light", "plate cold"}
    assert "crept" in CAUSES["slur"][0][0]
    assert CAUSES["one side light"][0][0] == "screws uneven"
    assert "no tissue" in CAUSES["set-off"][0][0]
