"""The Studio: what stands where, what is asked first, and where its keys lead."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from benchapp.clock import FakeClock
from benchapp.recipe.reader import read_recipe
from benchapp.screens.widgets.rows import Rows
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.views.studio import StudioView, of_interest, studio_view
from tests.screens.days import (
    DAY,
    MINUTE,
    closed,
    on_bench,
    one_day,
    opened,
    printed,
    run,
    screens,
    shipped,
    small,
    workshop,
)
from tests.screens.support import until


def view_of(shop: SessionService) -> StudioView:
    """The Studio as its screen reckons it."""
    room = shop.past([r.id for r in shop.book.sessions()])
    return studio_view(room, shop.now(), shop.book.origin)


# -- the view ------------------------------------------------------------------------------


def test_an_open_session_stands_at_the_press_with_what_comes_next() -> None:
    """Its counts, the number wanted, the next step and the hands it needs."""
    shop, clock = workshop()
    opened(shop, small(), wanted=5)
    printed(shop, clock, 3)
    shop.do(a.LeftOff("scrim is worn"))
    shop.leave_bench()
    [found] = view_of(shop).at_press
    assert (found.title, found.pulled, found.counting, found.wanted) == ("Pear on a Sill", 3, 1, 5)
    assert (found.next, found.hands, found.left_off) == ("Ink", "inky", "scrim is worn")


def test_a_pack_goes_from_the_water_to_ready_to_too_old() -> None:
    """Where it is, since when, and how long still, are reckoned from its entries."""
    shop, clock = workshop()
    recipe = read_recipe(shipped("weigh-house"))
    assert shop.damp_pack(recipe, 6).ok
    clock.advance(10 * MINUTE)
    [pack] = view_of(shop).in_water
    assert (pack.where, pack.sheets, pack.age_ms) == ("in the water", 6, 10 * MINUTE)
    assert pack.ready_ms == 15 * MINUTE  # the recipe soaks 25 min
    clock.advance(20 * MINUTE)
    assert shop.pack_out(pack.id).ok
    assert shop.pack_out(pack.id).refusal is not None
    clock.advance(5 * MINUTE)
    [pack] = view_of(shop).in_water
    assert (pack.where, pack.ready_ms, pack.too_old) == ("resting", 15 * MINUTE, False)
    clock.advance(2 * DAY)
    [pack] = view_of(shop).in_water
    assert (pack.where, pack.too_old) == ("ready", True)  # it keeps 48 h
    assert shop.pack_away(pack.id, "dried").ok
    assert view_of(shop).in_water == ()


def test_a_pack_damped_for_no_session_is_printed_from_the_next_day() -> None:
    """Packs belong to the book: what is damped in the evening is there in the morning."""
    shop, clock = workshop()
    text = shipped("pane-moth")
    assert shop.damp_pack(read_recipe(text), 3).ok
    assert shop.damp_pack(read_recipe(text), 2).ok
    assert len(shop.room.packs) == 2
    clock.advance(DAY)
    opened(shop, text)
    printed(shop, clock, 1)
    assert on_bench(shop).impressions[0].sheets[0] in shop.room.packs
    assert shop.damp_pack(read_recipe(small()), 3).refusal is not None


def test_sheets_stay_under_boards_for_two_weeks() -> None:
    """Of four pulled a spoiled one is not listed; after fourteen days none is."""
    shop, clock, session = one_day(sheets=3)
    shop.look_at(session)
    shop.do(a.Judge("spoiled", 1), session=session)
    shop.do(a.Judge("keep", 2), session=session)
    [boards] = view_of(shop).under_boards
    assert (boards.laid, boards.days, boards.unjudged) == (3, 1, 2)
    clock.advance(14 * DAY)
    assert view_of(shop).under_boards == ()


def test_the_can_is_asked_about_only_the_day_after_and_only_where_there_is_one() -> None:
    """The answer is the recipe's own words; emptied once, it is not asked again."""
    shop, clock = workshop()
    session = opened(shop, small())
    printed(shop, clock, 1)
    closed(shop, clock)
    assert view_of(shop).cans == ()
    clock.advance(20 * 60 * MINUTE)
    assert view_of(shop).cans == (session,)
    shop.do(a.CanEmptied(), session=session)
    assert view_of(shop).cans == ()


def test_what_another_book_opened_is_shown_and_not_asked_about() -> None:
    """Its sessions stand there, but nobody here can say how that day was left."""
    shop, _, session = one_day(facts=False)
    room = shop.past([session])
    assert studio_view(room, shop.now(), shop.book.origin).unsaid != ()
    foreign = studio_view(room, shop.now(), "another")
    assert (foreign.unsaid, foreign.cans, foreign.unjudged) == ((), (), None)
    assert foreign.under_boards != ()


def test_the_studio_reads_only_the_sessions_it_is_about() -> None:
    """Open ones, those of two weeks, and the last; a long book costs nothing."""
    rows = [("old", date(2025, 1, 1), True), ("left", date(2025, 1, 2), False),
            ("late", date(2026, 4, 25), True)]
    assert of_interest(rows, date(2026, 5, 3)) == ["left", "late"]
    assert of_interest(rows[:1], date(2026, 5, 3)) == ["old"]
    assert of_interest([], date(2026, 5, 3)) == []


# -- the screen ----------------------------------------------------------------------------


def test_a_newcomer_sees_the_shipped_recipes_and_begins_by_one_key() -> None:
    """Enter on a recipe lays its set-up card over; passing that opens the session."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("Nothing is being printed", "The Weigh House", "enter print from it")
            await here.press("end")
            await here.press("enter")
            await here.shows("Set-up of The Weigh House")
            assert shop.book.sessions() == []
            await here.press("space")
            await here.shows("CLEAN HANDS")
            assert on_bench(shop).recipe.print.title == "The Weigh House"

    run(work())


def test_what_nobody_said_is_asked_first_thing_by_number() -> None:
    """A tread answers nothing; a number is in the book, about that day's session."""
    shop, _, session = one_day(facts=False)

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("Pear on a Sill, Sunday 3 May: Rags", "1  wet in a lidded metal can")
            await here.press("space", "enter", "f13")
            assert here.kinds(session, "must answered") == [
                {"step": "after.1", "owner": session, "fact": None}]
        async with screens(shop) as here:
            await here.shows("Pear on a Sill, Sunday 3 May: Rags")
            await here.press("2")
            await here.shows("Studio", "At the press")
            assert here.kinds(session, "must answered")[1]["fact"] == "out of the building"
        async with screens(shop) as here:
            await here.shows("Studio", "At the press")

    run(work())


def test_what_is_left_by_escape_is_asked_at_the_next_start() -> None:
    """Nothing is written for a question nobody answered."""
    shop, _, session = one_day(facts=False)

    async def work() -> None:
        for _ in range(2):
            async with screens(shop) as here:
                await here.shows("Sunday 3 May: Rags")
                await here.press("escape")
                await here.shows("Pear on a Sill · not said: Rags")
        assert len(shop.book.stream(f"session/{session}")) == before

    before = len(shop.book.stream(f"session/{session}"))
    run(work())


def test_whoever_looks_round_in_the_demo_sees_the_studio_first() -> None:
    """Nothing lies over it; what nobody said stands under Yesterday, with its key."""
    shop, _, _ = one_day(facts=False)

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("At the press", "Pear on a Sill · not said: Rags")
            await here.press("y")
            await here.shows("Sunday 3 May: Rags")

    run(work())


def test_the_can_is_emptied_by_one_key() -> None:
    """Asked at the start, and later by its key in the Studio."""
    shop, _, session = one_day(emptied=False)

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("Rags went into the can: Pear on a Sill, Sunday 3 May. Did you",
                             "code and label come first")
            await here.press("escape")
            await here.shows("Pear on a Sill · rag can emptied?")
            await here.press("a")
            await here.pilot.pause()
            assert here.kinds(session, "can emptied") == [{}]
            assert "rag can" not in here.text

    run(work())


def test_a_session_is_gone_on_with_by_enter() -> None:
    """The first thing chosen is what stands at the press."""
    shop, clock = workshop()
    session = opened(shop, small())
    printed(shop, clock, 1)
    shop.leave_bench()

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("Pear on a Sill", "pulled 1")
            await here.press("enter")
            await here.shows("INKY HANDS")
            assert on_bench(shop).id == session

    run(work())


def test_paper_is_damped_for_tomorrow_from_a_recipe() -> None:
    """The number of sheets is asked, the recipe's own stands there; a bad one is refused."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop) as here:
            await here.press("end", "d")
            await here.shows("How many sheets go in now for The Weigh House", "6")
            await here.press("backspace")
            await here.typed("many")
            await here.shows("write a whole number")
            await here.press(*["backspace"] * 4)
            await here.typed("8")
            await here.shows("8 sheets in the water", "1 pack")
            assert [p.sheets for p in shop.room.packs.values()] == [8]
            await here.press("left", "o")
            await here.shows("8 sheets resting")
            await here.press("delete", "1")
            await here.shows("No paper is damp")

    run(work())


def test_a_broken_recipe_stands_on_the_shelf_with_what_is_wrong(home: Path) -> None:
    """Its first problem is shown in the list, all of them by Enter or k; nothing is opened."""
    (home / "recipes").mkdir(parents=True)
    (home / "recipes" / "fern.yaml").write_text("recipe: 1\nprnt: {}\n", encoding="utf-8")
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop, size=(120, 40)) as here:
            await here.shows("fern", "! to mend", "1:1: there is no each", "1 recipe")
            await here.press("home", "enter")
            await here.shows("fern: mend this before you print from it", "prnt")
            await here.press("escape", "k")
            await here.shows("mend this before")
            assert shop.book.sessions() == []

    run(work())


def test_which_side_has_the_keys_is_told_without_colours_too() -> None:
    """One sign in the list that takes the keys, another in the one that keeps its place."""
    shop, clock = workshop()
    opened(shop, small())
    printed(shop, clock, 1)
    shop.leave_bench()

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("▸ Pear on a Sill", "· Ferry Lamp")
            await here.press("tab")
            await here.shows("· Pear on a Sill", "▸ Ferry Lamp")

    run(work())


def test_a_pedal_held_down_as_the_day_closes_opens_nothing() -> None:
    """The tread that leaves the Bench is one tread, though Enter is a key of the Studio too."""
    shop, clock = workshop()
    session = opened(shop, small())
    printed(shop, clock, 1)
    closed(shop, clock)
    for ordinal in range(1, len(on_bench(shop).impressions) + 1):
        shop.do(a.Judge("keep", ordinal))

    async def work() -> None:
        async with screens(shop, "bench", gate_ms=5_000) as here:
            await here.shows("The session is closed")
            await here.press(*["enter"] * 6)
            await here.shows("On the shelf", "Ferry Lamp")
            await here.press(*["enter"] * 6)
            assert [r.id for r in shop.book.sessions()] == [session]
            assert not here.app.screen.is_modal

    run(work())


def test_inky_hands_cannot_go_over_to_another_session() -> None:
    """The Bench is changed with clean hands; where the ink is one goes on."""
    shop, clock = workshop()
    first = opened(shop, small("First"))
    printed(shop, clock, 1)
    second = opened_clean(shop, clock)
    shop.leave_bench()
    assert shop.room.inky

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("First", "Second")
            await here.press("home", "enter")
            await here.shows("Hands are inky")
            assert shop.room.bench is None
            await here.press("down", "enter")
            await here.shows("INKY HANDS")
            assert shop.room.bench == second != first

    run(work())


def opened_clean(shop: SessionService, clock: FakeClock) -> str:
    """Open a second session with clean hands, and tread into its ink."""
    while shop.room.inky:
        clock.advance(4 * MINUTE)
        shop.do(a.GoOn())
    return opened(shop, small("Second"))


def test_sheets_out_is_offered_while_a_pack_is_in_the_water_only() -> None:
    """Once they are out, the key that could only refuse is gone from the line."""
    shop, _ = workshop()
    assert shop.damp_pack(read_recipe(shipped("weigh-house")), 3).ok
    [pack] = shop.room.packs

    async def work() -> None:
        async with screens(shop) as here:
            rows = here.app.screen.query_one("#left", Rows)
            rows.focus()
            for _ in range(8):
                if rows.chosen == f"pack {pack}":
                    break
                await here.press("down")
            assert rows.chosen == f"pack {pack}"
            await here.shows("o sheets out", "put away")
            await here.press("o")
            await until(here.pilot, lambda: shop.room.packs[pack].out is not None, what="out")
            await until(here.pilot, lambda: "sheets out" not in here.text, what="no longer offered")
            assert "put away" in here.text

    run(work())


def test_a_pack_that_another_book_damped_is_shown_and_no_key_on_it_ends_the_program() -> None:
    """Its sheets are taken out and put away in that book; here a sentence says so."""
    async def look() -> None:
        there, _ = workshop()
        opened(there, shipped("weigh-house"))
        assert there.do(a.GoOn()).ok
        shop, _ = workshop()
        shop.book.merge(there.book.entries())
        shop = SessionService(shop.book, shop.clock)
        [pack] = view_of(shop).in_water
        before = shop.book.last_sequence()
        async with screens(shop) as it:
            await it.shows("in the water")
            for keys in (("enter",), ("o",), ("delete",)):
                it.app.screen.query_one("#left", Rows).choose(f"pack {pack.id}")
                await it.press(*keys)
                await it.press("escape")
            it.app.screen.query_one("#left", Rows).choose(f"pack {pack.id}")
            await it.press("o")
            await it.shows("That pack was damped in another book")
        assert shop.book.last_sequence() == before

    run(look())
