"""The form of a new recipe: what it says is missing, what it offers, and the file it writes."""

from __future__ import annotations

from pathlib import Path

from benchapp import files
from benchapp.recipe.reader import read_recipe
from tests.screens.days import (
    Screens,
    one_day,
    opened,
    printed,
    run,
    screens,
    small,
    tread,
    workshop,
)


async def _filled(here: Screens) -> None:
    """The four that are needed, typed with enter between, and a guess."""
    for said in ("Slate Roof", "Ada Penhallow", "zinc", "198 x 148 mm"):
        await here.typed(said)
    for _ in range(7):
        await here.press("enter")


def test_what_the_form_writes_runs_at_once() -> None:
    """Enter leads from question to question and at the last one writes; the recipe is chosen."""
    shop, _, _ = one_day()

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.press("n")
            await here.shows("New recipe", "4 to fill in or mend", "The print needs a title",
                             "title:    # what the print is called")
            await _filled(here)
            await here.shows("ready: slate-roof.yaml", "How long does one print take you?")
            await here.typed("40 min")
            await here.shows("Written: slate-roof", "On the shelf: yours")
            await here.press("enter")
            await here.shows("Set-up of Slate Roof")
            await here.press("space")
            assert here.shop.room.session is not None

    run(work())
    made = read_recipe((files.recipes_folder() / "slate-roof.yaml").read_text(encoding="utf-8"))
    assert (made.print.title, made.plates[0].metal, str(made.takes)) == (
        "Slate Roof", "zinc", "40 min")


def test_nothing_is_written_while_something_is_missing() -> None:
    """The first fault is gone to, and said in full; what was typed is kept on the way out."""
    shop, _, _ = one_day()

    async def work() -> None:
        async with screens(shop, asking=False, size=(120, 40)) as here:
            await here.press("n")
            await here.typed("Slate Roof")
            await here.press("down", "down")
            await here.press(*"198")
            await here.shows("write width x height")
            await here.press("f8")
            await here.shows("3 to fill in or mend")
            await here.press("escape")
            await here.shows("At the press")
            await here.press("n")
            await here.shows("Slate Roof", "198", "title: Slate Roof")

    run(work())
    assert not files.recipes_folder().exists()


def test_the_last_recipe_is_offered_and_not_taken_unasked() -> None:
    """Its artist, metal and press, by one key each; its title and size belong to it."""
    shop, _, _ = one_day()

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.press("n")
            await here.shows("F9: Idony Threlwick", "F9: copper",
                             "F9: pitch: 2 mm, left side: 3 turns")
            assert "100 x 140 mm" not in here.text
            await here.press("down", "ctrl+l")
            await here.shows("artist: Idony Threlwick")
            await here.press("up", "ctrl+l")
            await here.shows("The last recipe says nothing that fits here")

    run(work())


def test_a_taken_name_gets_a_number() -> None:
    """No recipe is written over, and no shipped one hidden."""
    shop, _, _ = one_day()
    files.write_new(files.recipes_folder() / "slate-roof.yaml", "mine")

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.press("n")
            await _filled(here)
            await here.shows("ready: slate-roof-2.yaml")
            await here.press("f8")
            await here.shows("Written: slate-roof-2")

    run(work())
    assert (files.recipes_folder() / "slate-roof.yaml").read_text(encoding="utf-8") == "mine"


def test_a_folder_that_cannot_be_written_loses_no_answer() -> None:
    """It says why, and the answers stay where they are."""
    shop, _, _ = one_day()
    home: Path = files.recipes_folder()
    home.parent.mkdir(parents=True, exist_ok=True)
    home.write_text("in the way", encoding="utf-8")

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.press("n")
            await _filled(here)
            await here.press("f8")
            await here.shows("your answers are kept here", "Ada Penhallow")

    run(work())


def test_inky_hands_open_no_form() -> None:
    """Typing needs clean hands."""
    shop, clock = workshop()
    opened(shop, small())
    printed(shop, clock, 1)
    while shop.room.clean:
        tread(shop, clock)
    shop.leave_bench()

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.press("n")
            await here.shows("Hands are inky")

    run(work())



def test_help_comes_from_the_form_and_goes_back_to_what_was_typed() -> None:
    """? is a sign of a title; F12 opens the topic."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop) as here:
            await here.press("n")
            await here.shows("New recipe")
            await here.typed("Why not?")
            await here.shows("Why not?")
            await here.press("f12")
            await here.shows("Help: ", "The form, n in the Studio")
            await here.press("escape")
            await here.shows("New recipe", "Why not?")

    run(work())


def test_from_an_empty_home_to_the_first_tread_takes_few_keys() -> None:
    """At most forty beside the texts: the form, the set-up card, the first step done."""
    shop, _ = workshop()
    pressed: list[str] = []

    async def work() -> None:
        async with screens(shop, asking=True) as here:
            async def press(*keys: str) -> None:
                pressed.extend(keys)
                await here.press(*keys)

            await press("n")
            await here.shows("New recipe")
            for said in ("Slate Roof", "Ada Penhallow", "zinc", "198 x 148 mm", *[""] * 7,
                         "40 min"):
                await here.typed(said)
                pressed.append("enter")
            await here.shows("Written: slate-roof")
            await press("enter")
            await here.shows("Set-up of Slate Roof")
            for _ in range(10):
                await press("space")
                session = here.shop.room.session
                if session is not None and session.history:
                    break

    run(work())
    assert shop.room.session is not None
    assert shop.room.session.history[0].how == "done"
    assert len(pressed) <= 40
