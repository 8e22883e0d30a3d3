"""What is next for clean hands, and what paper is damped first: as the far view and card say it."""

from __future__ import annotations

from benchapp.session import actions as a
from benchapp.views.inky_next import inky_next
from benchapp.views.paper import first_pack_words
from tests.session.support import DAMP, INK, LIFT, PULL, Bench, recipe


def test_an_inky_step_is_named_while_it_only_has_to_be_begun() -> None:
    """Not while one is in hand or the day is paused; nor what clean hands do next."""
    b = Bench(recipe(each=(INK, PULL, LIFT)), wanted=1)
    seen = []
    for _ in range(8):
        seen.append((b.hand, b.hands, inky_next(b.room, b.now)))
        b.clock.advance(3 * 60_000)
        b.do(a.GoOn())
    assert {words for hand, hands, words in seen if hand is not None or hands == "inky"} == {None}
    clean = Bench(DAMP, wanted=1)
    assert inky_next(clean.room, clean.now) is None


def test_what_is_damped_first_is_said_before_a_session_opens() -> None:
    """How many sheets, by the number wanted; what is in packs already; nothing of dry paper."""
    b = Bench(DAMP, wanted=2)
    assert first_pack_words(b.room, b.s, b.t) == "Damp first: 4 sheets (the recipe's pack)"
    dry = Bench(recipe(), wanted=2)
    assert first_pack_words(dry.room, dry.s, dry.t) == ""
    b.until("Sheets out of the water")
    b.work("Sheets out of the water", 35)
    assert first_pack_words(b.room, b.s, b.t) == "Damp already: 4 sheets"
