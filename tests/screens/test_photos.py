"""Pictures of a folder on a screen: nothing is tied that nobody confirmed."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from benchapp.edition.pictures import TiedPicture
from benchapp.events.moments import local_time
from benchapp.screens.photos import PhotosScreen
from benchapp.service.photo_folder import look_through
from benchapp.service.pictures import all_pictures
from benchapp.service.sessions import SessionService
from tests.pictures import made
from tests.screens.days import Screens, one_day, run, screens
from tests.screens.support import until


def a_card(shop: SessionService, folder: Path) -> dict[str, str]:
    """Each sheet photographed two minutes after its pull, an hour ahead; names by mark."""
    folder.mkdir()
    names = {}
    for s in shop.editions.register.sheets.values():
        assert s.pulled_ms is not None
        at = local_time(replace(shop.now(), wall_ms=s.pulled_ms)) + timedelta(minutes=62)
        names[s.mark] = f"IMG {s.mark}.jpg"
        (folder / names[s.mark]).write_bytes(made.jpeg(made.app1(made.exif(
            taken=at.strftime("%Y:%m:%d %H:%M:%S")))))
    return names


def tied(here: Screens) -> dict[str, str]:
    """What is tied, from the book: the name of each picture, with the mark of its sheet."""
    sheets = here.shop.editions.register.sheets
    pictures: list[TiedPicture] = [x for _, x in all_pictures(here.shop.editions)]
    return {x.name: sheets[x.about.sheet or ""].mark for x in pictures}


def test_the_clock_is_asked_once_and_the_list_confirmed_by_keys(tmp_path: Path) -> None:
    shop, _, _ = one_day()
    names = a_card(shop, tmp_path / "card")
    found = look_through(shop.editions, tmp_path / "card")
    first = next(iter(names.values()))

    async def work() -> None:
        async with screens(shop, over="photos", found=found, photos=tmp_path / "photos") as here:
            await here.shows("Was the camera's clock right?", "1 h ahead")
            await here.press("2")
            await here.shows(f"{len(names)} pictures of {len(names)} in the list", "1 h ahead")
            assert tied(here) == {}
            await here.press("home", "minus")  # left out
            await here.shows(f"{len(names) - 1} pictures of")
            await here.press("right", "plus", "minus")  # another sheet, in, and out again
            await here.press("1")
            await until(here.pilot, lambda: not isinstance(here.app.screen, PhotosScreen))
            assert tied(here) == {n: m for m, n in names.items() if n != first}
            assert len(list((tmp_path / "photos").iterdir())) == len(names) - 1

    run(work())


def test_without_an_answer_nothing_is_in_the_list_and_escape_ties_nothing(tmp_path: Path) -> None:
    shop, _, _ = one_day()
    names = a_card(shop, tmp_path / "card")
    found = look_through(shop.editions, tmp_path / "card")

    async def work() -> None:
        async with screens(shop, over="photos", found=found, photos=tmp_path / "photos") as here:
            await here.shows("Was the camera's clock right?")
            await here.press("escape")
            await here.shows(f"0 pictures of {len(names)} in the list")
            await here.press("1")
            await here.shows("No picture is in the list")
            await here.press("c", "3")
            await here.shows("How much was the camera's clock off?")
            await here.press(*"soon", "enter")
            await here.shows("says nothing of a clock")
            await here.press("escape", "escape")
            await until(here.pilot, lambda: not isinstance(here.app.screen, PhotosScreen))
            assert tied(here) == {}
            assert not (tmp_path / "photos").exists()

    run(work())
