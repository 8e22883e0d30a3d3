"""The machine is started anew while clocks run: what was measured stays, the rest is bounded."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.recipe.reader import read_recipe
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.fold import replay_entries
from benchapp.views.clocks import ClockView, clock_views
from benchapp.views.status import count_text
from benchapp.views.studio import studio_view
from tests.screens.days import shipped
from tests.session.support import INK, LIFT, MIN, PULL, recipe

HOUR = 60 * MIN
SOAK = 25 * MIN
STAND = "{do: Stand, hands: free, time: 60 min}"


def damped() -> tuple[SessionService, FakeClock]:
    """A pack of a soak of 25 min, put in a moment ago."""
    clock = FakeClock()
    shop = SessionService(Book.in_memory(), clock)
    assert shop.damp_pack(read_recipe(shipped("weigh-house")), 6).ok
    return shop, clock


def run_for(shop: SessionService, clock: FakeClock, minutes: int) -> None:
    """Nothing is pressed; the program marks each minute that it is alive."""
    for _ in range(minutes):
        clock.advance(MIN)
        shop.book.heartbeat(shop.now())


def shown(shop: SessionService) -> ClockView:
    [found] = clock_views(shop.room, shop.room.t_at(shop.now()))
    return found


@pytest.mark.parametrize(("off", "words"), [
    (-48 * HOUR, "≈ 5:00 left, perhaps less"), (0, "≈ 5:00 left"),
    (3 * MIN, "≈ 2:00 left, 5:00 at most"),
    (4 * HOUR, "≈ over since 3:55:00, 5:00 at most")])
def test_a_soak_keeps_the_minutes_that_were_measured_before_a_restart(off: int, words: str) -> None:
    """20 of 25 min had run; the clock on the wall comes back behind, right, or ahead."""
    shop, clock = damped()
    run_for(shop, clock, 20)
    clock.reboot(off)
    again = SessionService(shop.book, clock)
    assert count_text(shown(again).count) == words
    assert count_text(shown(SessionService(shop.book, clock)).count) == words  # and stays so
    [pack] = studio_view(again.room, again.now()).in_water
    assert words.endswith(pack.at_most)
    assert (pack.at_most == "") == (off == 0)
    clock.advance(MIN)
    assert shown(again).count.ms == 4 * MIN - max(0, off)


def test_nothing_is_written_where_no_clock_runs_or_no_time_passed() -> None:
    """An empty book, a book just closed, and the same boot again."""
    clock = FakeClock()
    book = Book.in_memory()
    SessionService(book, clock)
    run_for(SessionService(book, clock), clock, 2)
    clock.reboot(MIN)
    SessionService(book, clock)
    assert book.last_sequence() == 0
    shop, clock = damped()
    run_for(shop, clock, 3)
    before = shop.book.last_sequence()
    SessionService(shop.book, clock)
    assert shop.book.last_sequence() == before


def test_a_wait_and_a_timer_of_the_studio_keep_theirs() -> None:
    """A wait of an open session of 60 min with 20 run, and a timer started beside it."""
    clock = FakeClock()
    shop = SessionService(Book.in_memory(), clock)
    shop.open_session("pear", recipe(each=(INK, STAND, PULL, LIFT)), 1)
    assert shop.do(a.GoOn()).ok
    assert shop.start_timer("varnish", 60 * MIN).ok
    run_for(shop, clock, 20)
    clock.reboot(-HOUR)
    again = SessionService(shop.book, clock)
    assert {c.name: c.count.ms for c in clock_views(again.room, again.room.t_at(again.now()))
            if c.count.down} == {"Stand": 40 * MIN, "varnish": 40 * MIN}


def test_a_soak_that_had_just_begun_is_not_exact_after_a_restart() -> None:
    """Nothing was written since it began, and the clock on the wall is behind."""
    shop, clock = damped()
    clock.advance(30_000)
    clock.reboot(-HOUR)
    assert count_text(shown(SessionService(shop.book, clock)).count) == "≈ 24:59 left, perhaps less"


@given(st.lists(st.tuples(st.integers(1, 12), st.integers(-2880, 2880)), min_size=1, max_size=4))
def test_no_measured_minute_is_lost_and_no_refold_differs(boots: list[tuple[int, int]]) -> None:
    """So many minutes in each boot, then off for so many by a wall clock that may be anything."""
    shop, clock = damped()
    measured = sure = 0
    for minutes, off in boots:
        run_for(shop, clock, minutes)
        measured, sure = measured + minutes * MIN, sure + max(0, off * MIN)
        clock.reboot(off * MIN)
        shop = SessionService(shop.book, clock)
    [pack] = shop.room.packs.values()
    t = shop.room.t_at(shop.now())
    assert t - pack.put_in_t == measured + sure
    unsure = shop.room.unsure_ms(pack.put_in_t, t)
    assert unsure == (None if any(off < 0 for _, off in boots) else sure)
    assert replay_entries(shop.book.entries()).t == shop.room.t
