"""A session with nothing pulled is discarded in the Studio, by a key that asks first."""

from __future__ import annotations

from benchapp.session import actions as a
from tests.screens.days import (
    DAY,
    MINUTE,
    closed,
    opened,
    printed,
    run,
    screens,
    set_up,
    shipped,
    small,
    tread,
    workshop,
)


def clean() -> str:
    """The small recipe with clean work before the ink."""
    return small().replace("each:", "before:\n  - {do: Screws, hands: clean}\neach:")


def test_a_session_with_nothing_pulled_is_discarded_by_a_figure_alone() -> None:
    """Neither a tread nor enter discards; what is asked no more is said before."""
    shop, clock = workshop()
    session = opened(shop, clean())
    shop.do(a.LeftOff("scrim is worn"))
    shop.leave_bench()

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("▸ Pear on a Sill", "2026-05-03", "delete discard")
            await here.press("delete")
            await here.shows("Discard 2026-05-03, Pear on a Sill?", "Its entries stay in the book",
                             "You will not be", "asked about: Rags.")
            await here.press("space", "enter", "f13", "escape")
            await here.shows("▸ Pear on a Sill")
            assert here.kinds(session, "discarded") == []
            await here.press("delete", "1")
            await here.shows("Nothing is being printed", "2026-05-03 is discarded")
            assert here.kinds(session, "discarded") == [{}]
            assert "scrim is worn" not in here.text
            assert "In the book" not in here.text
        clock.advance(DAY)
        async with screens(shop) as here:  # the morning asks nothing of that day
            await here.shows("Studio", "Nothing is being printed")
            assert "2026-05-03" not in here.text
            assert "Rags" not in here.text

    run(work())


def test_inky_hands_discard_nothing() -> None:
    """The hands gate holds in the Studio: the reason is said and nothing is asked."""
    shop, _ = workshop()
    session = opened(shop, small())
    shop.leave_bench()
    assert shop.room.inky

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("▸ Pear on a Sill")
            await here.press("delete")
            await here.shows("Hands are inky; wash first, then go on")
            assert not here.app.screen.is_modal
            assert here.kinds(session, "closed") == []

    run(work())


def test_once_something_was_pulled_it_says_why_not() -> None:
    """The key is not offered there, and pressed all the same it names what was pulled."""
    shop, clock = workshop()
    session = opened(shop, small())
    printed(shop, clock, 2)
    shop.do(a.Helper(joins=True))
    shop.leave_bench()

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("pulled 2")
            assert "delete discard" not in here.text
            await here.press("delete")
            await here.shows("2 sheets were pulled in it; close it with enough")
            assert not here.app.screen.is_modal
            assert here.kinds(session, "discarded") == []

    run(work())


def test_its_pack_stays_in_the_water_and_calls() -> None:
    """The paper belongs to the book: it is listed, counted, and answered where it calls."""
    shop, clock = workshop()
    session = opened(shop, shipped("weigh-house"), wanted=4)
    for _ in range(20):
        if shop.room.packs:
            break
        tread(shop, clock)
    assert shop.room.packs
    assert shop.room.clean
    shop.leave_bench()

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("in the water", "delete discard")
            await here.press("home", "delete")
            await here.shows("Its paper stays where it is and still calls")
            await here.press("1")
            await here.shows("Nothing is being printed", "in the water")
            clock.advance(40 * MINUTE)
            await here.shows("sheets in the water", "F6 out")
            await here.press("f6")
            await here.shows("resting")
            assert here.kinds(session, "discarded") == [{}]

    run(work())


def test_the_next_set_up_card_shows_the_last_real_time() -> None:
    """What was set in a discarded session does not stand there; its name and letters stay used."""
    shop, clock = workshop()
    opened(shop, small())
    shop.do(a.Set("left side", "2.5 turns"))
    printed(shop, clock, 1)
    closed(shop, clock)
    clock.advance(DAY)
    second = opened(shop, small())
    shop.do(a.Set("left side", "9 turns"))
    assert shop.do(a.Discard(), session=second).ok
    shop.leave_bench()

    async def work() -> None:
        async with set_up(shop, small()) as here:
            await here.shows("These are the last values of 2026-05-03.", "2.5 turns")
            assert "9 turns" not in here.text

    run(work())
    third = opened(shop, small())
    assert (shop.room.sessions[third].name, shop.room.sessions[third].letters) == (
        "2026-05-04b", "G")
