"""What a pause does, and which caution is the worst: as the Bench and the far view say it."""

from __future__ import annotations

from benchapp.recipe.hazards import HAZARDS
from benchapp.session import actions as a
from benchapp.views.cautions import CareView, care_views, worst_hazard
from benchapp.views.cut_short import cut_by
from benchapp.views.offered import offered_now
from benchapp.views.warnings import pause_words
from tests.session.support import INK, LIFT, PULL, SETTLE, WARM, Bench, recipe


def test_a_pause_says_what_it_does_to_hands_plate_and_hot_plate() -> None:
    """Only while it runs."""
    b = Bench(recipe(each=(WARM, INK, PULL, LIFT)), wanted=1)
    b.until("Ink")
    assert pause_words(b.room, b.s, b.t) == ()
    b.say(a.Pause())
    assert pause_words(b.room, b.s, b.t) == (
        "Ink on your hands: wash before you go", "The inked plate stiffens while it waits",
        "The hot plate stays on unless you turn it off")
    assert offered_now(b.room, b.s, b.t) == ()


def test_a_tread_that_ends_a_wait_early_says_so() -> None:
    """By how much; over its time it ends nothing early, and what is refused ends nothing."""
    b = Bench(recipe(before=[SETTLE], each=(INK, PULL, LIFT)), wanted=1)
    if "Settle" not in b.waits:
        b.until("Settle")
    b.clock.advance(2 * 60_000)
    assert cut_by(b.room, a.GoOn(), b.now) == "ends Settle 4 min early"
    assert cut_by(b.room, a.Resume(), b.now) == ""


def test_no_caution_stands_on_a_closed_day_and_the_worst_is_named() -> None:
    """A hazard nobody ranked comes after those that are."""
    b = Bench(recipe(each=(INK, PULL, LIFT)), wanted=1)
    b.to_close()
    closed = next(iter(b.room.sessions.values()))
    assert care_views(closed) == ()
    least, most = HAZARDS[-1].name, HAZARDS[0].name
    cares = [CareView("", "", name) for name in ("unranked", least, most)]
    assert worst_hazard(cares) == most
    assert worst_hazard(cares[:2]) == least
    assert worst_hazard(()) == ""
