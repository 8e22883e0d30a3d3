"""Paper damped for no session, and what its packs refuse."""

from __future__ import annotations

from benchapp.decision import Refusal
from benchapp.session.damping import damp_pack, pack_away, pack_out
from tests.session.support import DAMP, ONE, SOAK, Bench, recipe


def test_what_goes_into_the_water_waits_there_and_what_is_sprayed_does_not() -> None:
    """One entry for a soak; a pack that is sprayed is out at once."""
    soaked = damp_pack(Bench(DAMP).s.recipe, "p1", 4)
    assert not isinstance(soaked, Refusal)
    assert [type(d.event).__name__ for d in soaked] == ["PackPutIn"]
    sprayed = SOAK.replace("method: soak, soak: 30 min", "method: spray")
    both = damp_pack(Bench(recipe(damp=sprayed)).s.recipe, "p1", None)
    assert not isinstance(both, Refusal)
    assert [type(d.event).__name__ for d in both] == ["PackPutIn", "PackOut"]


def test_paper_that_is_not_damped_and_an_empty_pack_are_refused() -> None:
    """And nothing is written."""
    dry, none = damp_pack(Bench(ONE).s.recipe, "p1", 4), damp_pack(Bench(DAMP).s.recipe, "p1", 0)
    assert isinstance(dry, Refusal)
    assert "not damped" in str(dry)
    assert isinstance(none, Refusal)
    assert "at least one sheet" in str(none)


def test_a_pack_goes_out_and_away_once() -> None:
    """In a way that is known."""
    b = Bench(DAMP, wanted=4)
    b.work("Sheets into the water")
    [pack] = b.packs
    assert not isinstance(pack_out(pack), Refusal)
    assert not isinstance(pack_away(pack, "dried"), Refusal)
    assert "as thrown" in str(pack_away(pack, "thrown"))
    b.advance(30)
    b.until("Sheets out of the water")
    b.tread()
    [pack] = b.packs
    assert "out of the water already" in str(pack_out(pack))
