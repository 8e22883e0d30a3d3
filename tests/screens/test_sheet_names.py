"""One name for a sheet everywhere: its mark, and the day only where two sheets have that mark."""

from __future__ import annotations

import pytest

from benchapp.clock import FakeClock
from benchapp.edition.actions import GiveNumbers
from benchapp.edition.numbers import mark_words, sheet_words
from benchapp.edition.state import NUMBERED
from benchapp.edition.view import running_list
from benchapp.service.sessions import SessionService
from benchapp.session.edition_links import sheet_id
from tests.screens.days import closed, opened, printed, run, screens, shipped, workshop

DAY = 24 * 60 * 60_000
SIZE = (100, 40)


def day_of(shop: SessionService, clock: FakeClock, recipe: str) -> str:
    """A day closed, with four sheets laid to dry."""
    session = opened(shop, recipe)
    printed(shop, clock, 4)
    closed(shop, clock)
    shop.leave_bench()
    clock.advance(DAY)
    return session


def two_days(recipe: str, *, apart: bool) -> tuple[SessionService, list[str]]:
    """Two days of a print in one book; `apart`: the first was printed with another book."""
    shop, clock = workshop()
    if not apart:
        return shop, [day_of(shop, clock, recipe) for _ in range(2)]
    away, then = workshop()
    first = day_of(away, then, recipe)
    clock.advance(DAY)
    second = day_of(shop, clock, recipe)
    shop.book.merge(away.book.entries())
    return SessionService(shop.book, clock), [first, second]


def test_a_name() -> None:
    """As people say it."""
    assert mark_words("K7", "2026-05-03", shared=False) == "K7"
    assert mark_words("K7", "2026-05-03b", shared=True) == "K7 of 3 May 2026 b"
    assert mark_words("", "2026-05-03", shared=False) == "a sheet of 3 May 2026"


@pytest.mark.parametrize(("apart", "names"), [
    (False, ("D3", "E3")), (True, ("D3 of 3 May 2026", "D3 of 4 May 2026"))])
def test_lists_refusals_and_screens_name_a_sheet_one_way(
    apart: bool, names: tuple[str, str]
) -> None:
    """Boards, Sort, the list to write from, a refusal and the editions: the same words."""
    recipe = shipped("three-steps").replace(
        "artist: Idony Threlwick", "artist: Idony Threlwick, edition: 5")
    shop, days = two_days(recipe, apart=apart)
    editions = shop.editions
    (print_,) = editions.prints()
    sheets = [sheet_id(day, 3) for day in days]
    register = editions.register
    assert [sheet_words(register.sheets[x]) for x in sheets] == list(names)
    assert running_list(register, print_, [(sheets[0], 1)]) == (f"{names[0]} → 1/5",)
    assert editions.do(GiveNumbers(print_, ((sheets[0], 1),))).ok
    refused = editions.do(GiveNumbers(print_, ((sheets[1], 1),))).refusal
    assert refused is not None
    assert refused.why.startswith(f"1/5 is {names[0]}; a number is used once")
    (held,) = (h for h in editions.register.edition(print_).holdings.values())
    assert (held.bears is not None and held.bears.kind, sheet_words(held)) == (NUMBERED, names[0])

    async def work() -> None:
        async with screens(shop, over="boards", size=SIZE) as here:
            await here.shows("Under boards", names[0])
            assert (" of 3 May 2026" in here.text) == apart
        async with screens(shop, over="sort", size=SIZE) as here:
            await here.shows("Sort · Pear on a Sill", "○ not judged", "the pedal")
            assert (" May 2026  ○ not judged" in here.text) == apart
            assert (" May 2026: the pedal" in here.text) == apart

    run(work())
