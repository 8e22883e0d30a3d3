"""Menus: a key means one thing for good, and one that comes too late does nothing."""

from __future__ import annotations

import pytest
from textual import events

from benchapp.screens.after_menu import AFTER_MS, AfterMenu
from benchapp.session import actions as a
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.screens.support import until
from tests.session.support import MIN, PULL, RAGS, WIPE, recipe

LIFT = "{do: Lift, hands: clean, time: 3 min, asks: [verdict, tags, note]}"
TAGS = "tags: {sky: [sky too grey, sky too pale], wiping: [dull]}\n"
TEXT = recipe(each=[WIPE, PULL, LIFT], after=[RAGS], extra=TAGS)


async def key_at(here: Studio, seconds: float, key: str) -> None:
    """Press a key at that moment of the keys' own clock, as the terminal sends it."""
    event = events.Key(key, "," if key == "comma" else key if len(key) == 1 else None)
    event.time = 1000 + seconds
    here.app.post_message(event)
    await here.pilot.pause()
    await here.pilot.pause()


def test_the_same_keys_mean_the_same_tag_whatever_was_used() -> None:
    """`t 2 3` is salty at first, and still when five others were used since."""

    async def tags() -> None:
        async with on_the_bench(TEXT) as here:
            await here.press("space", "space", "space")
            await here.press("t", "2", "3")
            assert here.last.tags == ("salty",)
            for keys in ("11", "13", "51", "81", "91"):
                await here.press("t", *keys)
            assert here.last.tags == (
                "salty", "plate-tone heavy", "plate-tone uneven", "slur", "hair", "sky too grey")
            await here.press("t")
            await here.shows("1  tone", "2  wiping", "8  sheet", "9  sky", "used today:",
                             "p salty (on it)", "u sky too grey (on it)")
            await here.press("2")
            await here.shows("3  salty", "takes it off", "6  dull")
            await here.press("3")
            assert "salty" not in here.last.tags

    run(tags())


@pytest.mark.parametrize("size", [pytest.param((80, 24), marks=pytest.mark.full), (60, 20)])
def test_groups_used_tags_and_keys_stand_on_one_screen(size: tuple[int, int]) -> None:
    """Six tags on the sheet: the list does not push out what was used, nor the keys."""

    async def tags() -> None:
        async with on_the_bench(TEXT, size=size) as here:
            await here.press("space", "space", "space")
            for keys in ("23", "11", "13", "51", "81", "91"):
                await here.press("t", *keys)
            await here.press("t")
            await here.shows("1  tone", "9  sky", "p salty", "u sky too grey", "esc back")

    run(tags())


def test_a_tag_on_the_sheet_without_a_key_is_in_the_list() -> None:
    """Of no group, and used after the keys had run out: it can be taken off all the same."""

    async def tags() -> None:
        async with on_the_bench(TEXT) as here:
            await here.press("space", "space", "space")
            for n in range(11):
                here.say(a.Tag(f"own {n}"))
            here.say(a.Tag("of another book"))
            await here.press("t", "up", "enter")
            assert here.last.tags == tuple(f"own {n}" for n in range(11))

    run(tags())


def test_a_word_beyond_the_keys_is_taken_from_the_list() -> None:
    """The thirtieth own word of a group has no key; the arrows and Enter reach it."""
    many = ", ".join(f"spot {n}" for n in range(30))
    text = recipe(each=[WIPE, PULL, LIFT], after=[RAGS], extra=f"tags: {{sky: [{many}]}}\n")

    async def tags() -> None:
        async with on_the_bench(text) as here:
            await here.press("space", "space", "space", "t", "9", "up", "end", "enter")
            assert here.last.tags == ("spot 29",)

    run(tags())


def test_a_key_just_after_a_menu_does_nothing_and_later_it_does() -> None:
    """A digit left over is no grade; half a second later the same key is one."""

    async def late() -> None:
        async with on_the_bench(TEXT, gate_ms=750) as here:
            here.shop.do(a.GoOn())
            here.clock.advance(8 * MIN)
            here.shop.do(a.GoOn())
            here.shop.do(a.GoOn())
            await here.settled()
            for seconds, key in ((1.0, "t"), (1.2, "2"), (1.4, "3"), (1.5, "2"), (1.89, "4")):
                await key_at(here, seconds, key)
            await until(here.pilot, lambda: here.last.tags == ("salty",))
            await here.settled()
            assert here.last.readings == ()
            await key_at(here, 1.9, "4")
            await until(here.pilot, lambda: [r.value for r in here.last.readings] == ["4"])

    run(late())


def test_a_figure_typed_into_a_menu_of_grades_is_no_grade() -> None:
    """`8,4`: no grade of 8, and no 4 a moment later; after half a second 4 is one."""

    async def typed() -> None:
        async with on_the_bench(TEXT, gate_ms=750) as here:
            here.shop.do(a.GoOn())
            here.clock.advance(8 * MIN)
            here.shop.do(a.GoOn())
            here.shop.do(a.GoOn())
            await here.settled()
            for seconds, key in ((1.0, "g"), (3.0, "8"), (3.4, ","), (3.8, "4")):
                await key_at(here, seconds, key)
            await here.shows("grade", "4 is not an answer")
            assert here.last.readings == ()
            await key_at(here, 4.4, "4")
            await until(here.pilot, lambda: [r.value for r in here.last.readings] == ["4"])

    run(typed())


def test_a_word_typed_into_the_tags_is_no_tag() -> None:
    """`t`, then `x2 3`: x is no group, and 2 and 3 right after it are none either."""

    async def typed() -> None:
        async with on_the_bench(TEXT, gate_ms=750) as here:
            here.shop.do(a.GoOn())
            here.clock.advance(8 * MIN)
            here.shop.do(a.GoOn())
            here.shop.do(a.GoOn())
            await here.settled()
            for seconds, key in ((1.0, "t"), (2.0, "x"), (2.4, "2"), (2.8, "3")):
                await key_at(here, seconds, key)
            await here.shows("Tag for", "3 is not an answer", "1  tone")
            assert here.last.tags == ()

    run(typed())


def test_a_menu_that_was_left_holds_off_the_pedal_too() -> None:
    """Escape, and a tread at once: it does nothing, nor do its repeats."""

    async def late() -> None:
        async with on_the_bench(TEXT, gate_ms=750) as here:
            here.shop.do(a.GoOn())
            here.clock.advance(8 * MIN)
            here.shop.do(a.GoOn())
            here.shop.do(a.GoOn())
            await here.settled()
            hand = here.hand
            for seconds, key in ((1.0, "t"), (2.0, "escape"), (2.3, "space"), (2.8, "space")):
                await key_at(here, seconds, key)
            assert not here.app.screen.is_modal
            assert here.hand == hand
            await key_at(here, 3.6, "space")
            await until(here.pilot, lambda: here.hand != hand)

    run(late())


def test_a_text_opened_from_a_menu_takes_every_key() -> None:
    """What is typed into a line at once is text, and all of it."""

    async def typed() -> None:
        async with on_the_bench(TEXT, gate_ms=750) as here:
            here.shop.do(a.GoOn())
            here.clock.advance(8 * MIN)
            here.shop.do(a.GoOn())
            here.shop.do(a.GoOn())
            await here.settled()
            await key_at(here, 1.0, "e")
            await here.shows("another setting …")
            await key_at(here, 1.2, "0")
            await here.shows("Which setting")
            for n, sign in enumerate("rack"):
                await key_at(here, 1.25 + n / 100, sign)
            await here.shows("rack")

    run(typed())


def test_steps_have_the_key_of_their_place_in_the_recipe() -> None:
    """`here` lists one step less each time; the pull keeps its key."""
    text = recipe(before=["{do: Screws, hands: clean}"], each=[WIPE, PULL, LIFT], after=[RAGS])

    async def steps() -> None:
        async with on_the_bench(text) as here:
            here.say(a.Helper(joins=True))
            await here.press("space", "i")
            await here.shows("3  Pull", "4  Lift")
            await here.press("3")
            assert here.hand == "Pull"
            await here.press("i")
            await here.shows("4  Lift")
            assert "3  Pull" not in here.text

    run(steps())


def test_a_setting_keeps_its_key_when_others_come_and_go() -> None:
    """One that was taken back leaves its key empty."""

    async def settings() -> None:
        async with on_the_bench(recipe(before=["{do: Screws, hands: clean}"])) as here:
            here.say(a.Set("rack", "low"))
            here.say(a.TakeBack())
            here.say(a.Set("stove", "on"))
            await here.press("e")
            await here.shows("0  another setting …", "5  stove: on")
            assert "rack" not in here.text

    run(settings())


def test_half_a_second_is_counted_from_the_key_that_closed_the_menu() -> None:
    """Not from keys swallowed since, nor before any menu closed."""
    after = AfterMenu().key(1_000.0)
    assert not after.too_soon(1_001.0)
    shut = after.closed()
    assert shut.too_soon(1_000.0 + AFTER_MS - 1)
    assert not shut.too_soon(1_000.0 + AFTER_MS)


def test_a_figure_typed_at_the_bench_without_a_line_is_no_grade() -> None:
    """`8,4` at lift and look, too quickly to be three answers: 8 is refused, the rest does nothing.

    A grade after half a second of silence is one.
    """

    async def figures() -> None:
        async with on_the_bench(TEXT, gate_ms=750) as here:
            for n, minutes in enumerate((10, 2, 4)):
                here.clock.advance(minutes * MIN)
                await key_at(here, 2.0 * n, "space")
            await here.shows("Pencil D1")
            for n, key in enumerate(("8", "comma", "4")):
                await key_at(here, 20 + .15 * n, key)
            await here.shows("8 is not a grade 1-5")
            assert here.last.readings == ()
            await key_at(here, 22, "4")
            await until(here.pilot, lambda: [r.value for r in here.last.readings] == ["4"])

    run(figures())
