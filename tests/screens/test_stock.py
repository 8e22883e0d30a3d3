"""The stock on the screen: opened by one key, counted, corrected and mixed there."""

from __future__ import annotations

import pytest

from benchapp.recipe.reader import read_recipe
from benchapp.screens.stock import stock_rows
from benchapp.screens.widgets.rows import Rows
from benchapp.service.sessions import SessionService
from benchapp.service.stock import StockService
from benchapp.stock.actions import Count
from benchapp.stock.left import Uses, all_left
from tests.screens.days import closed, opened, printed, run, screens, shipped, workshop
from tests.stock.test_left import COTTON as SHORT
from tests.stock.test_left import Shelf

COTTON = "soft cotton, lightly sized, 230 g/m2"


def stock_of(shop: SessionService) -> StockService:
    """The stock of its book."""
    return StockService(shop.book, shop.clock, [read_recipe(shipped("thistle-heads"))])


def left_of(shop: SessionService, item: str) -> float | None:
    """What is left of a thing, by the book."""
    found = next((x.left for x in stock_of(shop).left() if x.item == item), None)
    return None if found is None else float(found)


def test_a_paper_is_counted_from_the_studio_by_keys_alone() -> None:
    """The papers of recipes are there to be chosen; what cannot be is said in the line."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop, size=(80, 40)) as here:
            await here.press("w")
            await here.shows("Stock", "not counted yet", COTTON, "count it", "count another thing")
            while here.app.screen.query_one(Rows).chosen != COTTON:
                await here.press("down")
            await here.press("enter")
            await here.shows("How much is there?")
            await here.typed("12 g")
            await here.shows("A paper is counted in sheets or pieces")
            await here.press(*["backspace"] * 4)
            await here.typed("12 sheets")
            await here.shows("12 sheets left", "1 thing")
            assert left_of(shop, COTTON) == 12
            await here.press("escape")
            await here.shows("Studio")

    run(work())


def test_a_day_s_sheets_are_taken_off_and_what_is_missing_stands_there() -> None:
    """As the command says it."""
    shop, clock = workshop()
    stock_of(shop).do(Count(COTTON, 1, "sheets"))
    opened(shop, shipped("thistle-heads"))
    printed(shop, clock, 3)
    closed(shop, clock)
    pulled = sum(1 for i in shop.room.sessions[shop.room.bench or ""].impressions if i.pulled)
    shop.leave_bench()
    assert left_of(shop, COTTON) == max(0, 1 - pulled / 4)

    async def work() -> None:
        async with screens(shop, over="stock", size=(80, 24)) as here:
            await here.shows("used since", "order 1 sheet before the next day")

    run(work())


def test_a_new_thing_is_said_to_be_one_and_a_near_name_is_offered() -> None:
    """Neither is guessed."""
    shop, _ = workshop()
    stock_of(shop).do(Count("newsprint", 200, "items"))

    async def work() -> None:
        async with screens(shop, over="stock") as here:
            await here.shows("counted 200")
            await here.press("n")
            await here.typed("newsprnt 180")
            await here.shows("Which thing is newsprnt?", "1  newsprint", "a new thing")
            await here.press("1")
            await here.shows("counted 180")
            await here.press("n")
            await here.typed("blotters")
            await here.shows("How much of blotters?")
            await here.typed(" 24")
            await here.shows("a new thing, called blotters")
            await here.press("1")
            await here.shows("counted 24", "2 things")

    run(work())


def test_a_count_is_corrected_with_its_reason_and_its_history_stays() -> None:
    """Another amount; then none, as it was never meant."""
    shop, _ = workshop()
    stock_of(shop).do(Count("newsprint", 200, "items"))

    async def work() -> None:
        async with screens(shop, over="stock") as here:
            await here.shows("counted 200")
            await here.press("c")
            await here.typed("180")
            await here.shows("Why was it wrong?")
            await here.typed("read wrong")
            await here.shows("counted 180", "corrected: read wrong")
            await here.press("h")
            await here.shows("180 on 2026-05-03")
            await here.press("escape", "c")
            await here.typed("none")
            await here.shows("Why was it wrong?")
            await here.typed("of the school")
            await here.shows("not counted yet")
            assert stock_of(shop).stock.names() == ()

    run(work())


def test_a_batch_is_mixed_of_what_is_known() -> None:
    """A slip in a name is told with the nearest."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop, over="stock") as here:
            await here.shows("Stock")
            await here.press("m")
            await here.typed("warm 1")
            await here.shows("What is in warm 1?")
            await here.typed("bone blakc 60 g")
            await here.shows("did you mean bone black?")
            await here.press(*["backspace"] * 7)
            await here.typed("ck 60 g + raw umber 9,5 g")
            await here.shows("69.5 g left", "mixed on 2026-05-03 from bone black 60 g")

    run(work())


def test_of_several_lots_one_is_chosen() -> None:
    """Counted and corrected by itself."""
    shop, clock = workshop()
    for lot in ("spring", "autumn"):
        stock_of(shop).do(Count(COTTON, 5, "sheets", lot=lot))
    clock.advance(60_000)

    async def work() -> None:
        async with screens(shop, over="stock", size=(120, 40)) as here:
            await here.shows("10 sheets left")
            await here.press("enter")
            await here.shows("which lot?", "1  spring", "2  autumn")
            await here.press("2")
            await here.shows("lot autumn")
            await here.typed("3 sheets")
            await here.shows("8 sheets left")
            await here.press("c", "1")
            await here.typed("none")
            await here.typed("given away")
            await here.shows("3 sheets left")

    run(work())


@pytest.mark.parametrize("size", [
    (60, 20), (80, 24), pytest.param((120, 40), marks=pytest.mark.full)])
def test_it_stands_in_any_window(size: tuple[int, int]) -> None:
    """What is left of a long name is beside it, or below it; nothing is cut."""
    shop, _ = workshop()
    stock_of(shop).do(Count(COTTON, 37, "sheets"))

    async def work() -> None:
        async with screens(shop, over="stock", size=size) as here:
            await here.shows(COTTON, "37 sheets left", "counted 37 sheets on 2026-05-03")
            await here.press("enter")
            await here.shows(COTTON, "How much is there?")
            await here.press("escape")
            await here.press("question_mark")
            await here.shows("Help: Stock")

    run(work())


def test_an_empty_stock_without_recipes_says_what_to_do() -> None:
    """And a thing that is short stands out by a sign, not by colour alone."""
    assert "Press n" in "".join(text for text, _ in stock_rows((), (), 60)[0].spans)
    shelf = Shelf()
    shelf.do(Count(SHORT, 0, "sheets"))
    shelf.print_(4)
    rows = stock_rows(all_left(shelf.stock, Uses(tuple(shelf.uses), (), (SHORT,))), (), 60)
    assert any("".join(text for text, _ in row.spans).startswith("  ! order 1 sheet")
               for row in rows)
