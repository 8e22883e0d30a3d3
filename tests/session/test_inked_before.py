"""A plate that is inked already, as its impression was given up or ended: said at its inking."""

from __future__ import annotations

import pytest

from benchapp.session import actions as a
from benchapp.session.ink_lying import to_say
from tests.session.support import INK, LIFT, PULL, TWO, WIPE, Bench, recipe

ONE_PLATE = recipe(each=(INK, WIPE, PULL, LIFT))


def said(b: Bench) -> list[str]:
    """What is said of inked plates now."""
    return [x for x in b.view.warnings if "inked already" in x]


def inked(plate: str, ago: str) -> list[str]:
    """The line about one plate."""
    return [f"Plate {plate} is inked already, {ago} ago: skip this step, or ink it again"]


@pytest.mark.parametrize("spoiled", [True, False])
def test_between_two_plates_the_next_inking_of_the_key_says_so(spoiled: bool) -> None:
    """Not that of the tone, whose ink is on the sheet; and not after it is inked anew."""
    b = Bench(TWO, wanted=2)
    b.until("Pull key")
    if spoiled:
        b.say(a.Judge("spoiled"))
    b.say(a.End())
    b.until("Ink tone")
    assert said(b) == []
    b.clock.advance(12 * 60_000)
    b.tread()
    assert (b.hand, said(b)) == ("Ink key", inked("key", "12 min"))
    assert b.view.now.inking.endswith("inked already")
    assert "Plate key is inked already" in [x.text for x in to_say(b.room, b.t)]
    b.until("Ink tone")
    b.tread()
    assert (b.hand, said(b)) == ("Ink key", [])
    assert "already" not in b.view.now.inking
    assert [x.text for x in to_say(b.room, b.t) if "already" in x.text] == []


def test_spoiled_before_its_pull_every_plate_inked_says_so():
    """At its first inky step alone; skipped, it is inked still."""
    b = Bench(ONE_PLATE)
    b.works(["Ink", "Wipe"])
    b.say(a.Judge("spoiled"))
    b.clock.advance(3 * 60_000)
    assert (b.hand, said(b)) == ("Ink", inked("key", "3 min"))
    b.say(a.SkipStep("inked already"))
    assert (b.hand, said(b)) == ("Wipe", inked("key", "3 min"))
    b.tread()
    b.until("Ink")
    assert said(b) == []


def test_nothing_is_said_of_a_plate_that_was_reworked_or_never_inked():
    """Burnished it is clean; a try given up at its first inking left no ink that is known of."""
    b = Bench(ONE_PLATE)
    b.works(["Ink", "Wipe"])
    b.say(a.Judge("spoiled"))
    b.say(a.ReworkPlate("key", "II", "burnished"))
    assert (b.hand, said(b)) == ("Ink", [])
    fresh = Bench(ONE_PLATE)
    fresh.say(a.Judge("spoiled"))
    assert (fresh.hand, said(fresh)) == ("Ink", [])
