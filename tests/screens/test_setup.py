"""The set-up card: what stands in it, one key for all, and a tread that passes it."""

from __future__ import annotations

from benchapp.edition import actions as acts
from benchapp.recipe.reader import read_recipe
from benchapp.session import actions as a
from benchapp.session.edition_links import recipe_print_id, sheet_id
from benchapp.session.setting_names import recipe_settings
from benchapp.views.setup_card import SetupLine, setup_card, unlike_settings
from tests.screens.days import (
    DAY,
    closed,
    on_bench,
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
from tests.screens.support import until


def by_name(lines: tuple[SetupLine, ...]) -> dict[str, SetupLine]:
    """The lines by their names."""
    return {x.name: x for x in lines}


def test_last_times_settings_stand_before_the_recipes() -> None:
    """In force at the end of the last session of the print; the rest as the recipe has it."""
    shop, _ = workshop()
    opened(shop, shipped("weigh-house"))
    shop.do(a.Set("left side", "3 turns"))
    shop.do(a.Set("left side", "3.5 turns"))
    shop.do(a.Set("blankets", "two new ones"))
    last = on_bench(shop)
    shop.do(a.Set("right side", "9 turns"))
    opened(shop, shipped("weigh-house"), wanted=8)
    shop.do(a.Set("room", "18 °C"))
    found = by_name(setup_card(on_bench(shop), last))
    assert (found["left side"].value, found["left side"].origin) == ("3.5 turns", "last time")
    assert (found["right side"].value, found["right side"].origin) == ("3.375 turns", "recipe")
    assert found["blankets"].value == "two new ones"
    assert (found["room"].value, found["room"].origin) == ("18 °C", "said")
    assert (found["ink tin"].value, found["ink tin"].origin) == ("", "empty")
    assert (found["wanted"].value, found["wanted"].origin) == ("8", "said")


def test_two_plates_have_their_own_press_and_ink() -> None:
    """Each line says which plate it is about."""
    found = recipe_settings(read_recipe(shipped("ferry-lamp")))
    assert {name for name in found if name.startswith("tone ")} >= {"tone ink"}
    assert {name for name in found if name.startswith("key ")} >= {"key ink"}
    assert found["paper"].startswith("mould-made cotton")


def test_a_tread_passes_the_card_and_nothing_is_said() -> None:
    """Also `wanted` stays empty; the Bench lies under it."""
    shop, _ = workshop()

    async def work() -> None:
        async with set_up(shop, shipped("weigh-house")) as here:
            await here.shows("Set-up of The Weigh House", "3.25 turns", "recipe says",
                             "until you say enough")
            assert here.app.focused is None
            await here.press("space")
            await here.shows("CLEAN HANDS")
            session = on_bench(shop).id
            assert here.kinds(session, "setting changed") == []
            assert here.kinds(session, "step finished") == []
            assert on_bench(shop).wanted is None

    run(work())


def test_a_held_key_passes_the_card_once_and_no_step() -> None:
    """The gate is one for all screens: a pedal held down is one tread."""
    shop, _ = workshop()

    async def work() -> None:
        async with set_up(shop, shipped("weigh-house"), gate_ms=5_000) as here:
            await here.shows("Set-up of")
            await here.press(*["space"] * 6)
            await here.shows("CLEAN HANDS")
            session = on_bench(shop).id
            assert here.kinds(session, "step finished") == []

    run(work())


def test_one_key_says_all_the_same() -> None:
    """All that stands there is in the book, in force from the first pull; the empty are not."""
    shop, clock = workshop()
    opened(shop, small())
    shop.do(a.Set("left side", "3.25 turns"))
    shop.do(a.Set("blankets", "old pair"))
    printed(shop, clock, 1)
    closed(shop, clock)
    clock.advance(DAY)

    async def work() -> None:
        async with set_up(shop, small()) as here:
            await here.shows("These are the last values of 2026-05-03", "3.25 turns",
                             "as last time")
            await here.press("a")
            await here.shows("said")
            await here.press("a", "space")
            await until(
                here.pilot, lambda: shop.room.session, what="the session is open")
            session = on_bench(shop).id
            assert here.kinds(session, "setting changed") == [
                {"name": "left side", "value": "3.25 turns"},
                {"name": "blankets", "value": "old pair"}]

    run(work())


def test_a_line_is_changed_by_its_key_and_wanted_by_w() -> None:
    """What was typed is what is in force; no number that is none is taken."""
    shop, _ = workshop()

    async def work() -> None:
        async with set_up(shop, small()) as here:
            await here.shows("1  left side", "3 turns")
            await here.press("1", "home")  # what stands there is selected: this writes on
            await here.typed("1")
            await here.shows("13 turns")
            await here.press("2")
            await here.typed("three of them and a bit")
            await here.shows("three of them and a bit")
            await here.press("w")
            await here.typed("none")
            await here.shows("write a whole number")
            await here.press(*["backspace"] * 4)
            await here.typed("12")
            await here.shows("wanted", "12")
            await here.press("space")
            await until(here.pilot, lambda: shop.room.session, what="the session is open")
            session = on_bench(shop).id
            assert here.kinds(session, "setting changed") == [
                {"name": "left side", "value": "13 turns"},
                {"name": "blankets", "value": "three of them and a bit"}]
            assert on_bench(shop).wanted == 12

    run(work())


def test_escape_on_the_card_opens_nothing() -> None:
    """From the Studio, also after something was said there: no entry is left behind."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("The Weigh House")
            await here.press("end")
            await here.press("enter")
            await here.shows("Set-up of The Weigh House", "esc open nothing")
            await here.press("a", "w")
            await here.typed("9")
            await here.shows("wanted", "9")
            await here.press("escape")
            await here.shows("Nothing is being printed")
            assert shop.book.entries() == ()
            assert shop.room.sessions == {}

    run(work())


def test_the_first_step_begins_when_the_card_is_passed() -> None:
    """Time on the card is no work; the last word on each line is the one that is written."""
    shop, clock = workshop()

    async def work() -> None:
        async with set_up(shop, small(), wanted=4) as here:
            await here.shows("Set-up of Pear on a Sill", "4")
            await here.press("1")
            await here.typed("3.5 turns")
            await here.press("1")
            await here.typed("3.25 turns")
            clock.advance(10 * 60_000)
            await here.press("space")
            await until(here.pilot, lambda: shop.room.session, what="the session is open")
            s = on_bench(shop)
            assert s.opened.wall_ms == clock.now().wall_ms
            assert here.kinds(s.id, "setting changed") == [
                {"name": "left side", "value": "3.25 turns"}]
            assert (s.wanted, [x["wanted"] for x in here.kinds(s.id, "opened")]) == (4, [4])

    run(work())


def test_only_what_both_have_and_differs_is_unlike_the_standard() -> None:
    """Names are one in any case; not known, not said and the same are left out."""
    card = (SetupLine("left side", "3.5 turns", "said"), SetupLine("right side", "3 turns", "said"),
            SetupLine("ink tin", "", "empty"), SetupLine("room", "18 °C", "said"),
            SetupLine("paper", "lot 2", "last time"))
    then = (("Left side", "3 turns"), ("right side", "3 turns"), ("ink tin", "tin 3"),
            ("room", "not known"), ("wiping", "by hand"), ("paper", "lot 1"))
    assert unlike_settings([(x.name, x.value) for x in card], then) == (
        ("left side", "3 turns"), ("paper", "lot 1"))


def test_the_card_says_what_is_not_as_for_the_bat_and_no_more() -> None:
    """Nothing without a BAT, nor once the value is as it was then."""
    shop, clock = workshop()
    opened(shop, small())
    shop.do(a.Set("left side", "3.25 turns"))
    shop.do(a.Set("blankets", "old pair"))
    printed(shop, clock, 1)
    shop.do(a.Set("left side", "3.5 turns"))
    printed(shop, clock, 2)
    first = on_bench(shop)
    closed(shop, clock)
    clock.advance(DAY)

    async def work() -> None:
        async with set_up(shop, small()) as here:
            await here.shows("3.5 turns", "as last time")
            assert "Not as for" not in here.text
        bat = acts.GiveProof(recipe_print_id(first.recipe), sheet_id(first.id, 1), "BAT")
        assert shop.editions.do(bat).ok
        async with set_up(shop, small()) as here:
            await here.shows("Not as for the BAT D1: left side was 3.25 turns.")
            assert "blankets was" not in here.text
            await here.press("1")
            await here.typed("3.25 turns")
            await until(here.pilot, lambda: "Not as for" not in here.text,
                        what="the card says nothing of the BAT")
            await here.shows("3.25 turns", "as last time")

    run(work())


def test_the_card_tells_of_the_blankets_and_a_key_says_what_was_done() -> None:
    """Not known until it was said; then the pulls since, and what was said goes into the book."""
    shop, clock = workshop()

    async def work() -> None:
        async with set_up(shop, small()) as here:
            await here.shows("Blankets: not known since when")
            await here.press("asterisk")
            await here.shows("The blankets were")
            await here.press("2")
            await here.shows("Blankets: swapped for today.")
            await here.press("space")
            await here.shows("INKY HANDS")
        clock.advance(1000)
        printed(shop, clock, 2)
        closed(shop, clock)
        clock.advance(DAY)
        async with set_up(shop, small()) as here:
            await here.shows("3 pulls since you")

    run(work())


def test_the_lift_says_what_is_not_as_for_the_bat_and_no_more() -> None:
    """Only while the sheet is looked at, and only what differs."""
    shop, clock = workshop()
    opened(shop, small())
    shop.do(a.Set("left side", "3.25 turns"))
    shop.do(a.Set("blankets", "old pair"))
    printed(shop, clock, 1)
    first = on_bench(shop)
    closed(shop, clock)
    bat = acts.GiveProof(recipe_print_id(first.recipe), sheet_id(first.id, 1), "BAT")
    assert shop.editions.do(bat).ok
    clock.advance(DAY)
    opened(shop, small())
    shop.do(a.Set("left side", "3.5 turns"))
    shop.do(a.Set("blankets", "old pair"))

    async def work() -> None:
        async with screens(shop, "bench", asking=False) as here:
            await here.shows("INKY HANDS")
            assert "Not as for" not in here.text
        while not (key := on_bench(shop).hand) or not on_bench(shop).shape.by_id[key.step].asks:
            tread(shop, clock)
        async with screens(shop, "bench", asking=False) as here:
            await here.shows("Not as for the BAT D1: left side was 3.25 turns.")
            assert "blankets was" not in here.text

    run(work())
