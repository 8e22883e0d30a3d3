"""Pictures of a folder on a screen: nothing is tied that nobody confirmed."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.edition.pictures import TiedPicture
from benchapp.events.moments import local_time
from benchapp.files import photos_folder
from benchapp.screens.photos import PhotosScreen
from benchapp.service.photo_folder import look_through, tie_to_sheets
from benchapp.service.pictures import FoundPicture, all_pictures, look_at_files
from benchapp.service.sessions import SessionService
from tests.pictures import made
from tests.screens.days import Screens, closed, one_day, opened, printed, run, screens, small
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


def test_a_sheet_says_how_many_it_has_and_a_key_opens_them(tmp_path: Path) -> None:
    clock = FakeClock()
    with Book.open(tmp_path / "book.db", write=True, create=True) as book:
        shop = SessionService(book, clock)
        session = opened(shop, small())
        printed(shop, clock, 2)
        closed(shop, clock)
        for n in (1, 2):
            (tmp_path / f"{n}.jpg").write_bytes(made.jpeg(made.segment(0xDD, bytes((0, n)))))
        found = [x for x in look_at_files(tmp_path / f"{n}.jpg" for n in (1, 2))
                 if isinstance(x, FoundPicture)]
        first = next(s.id for s in shop.editions.register.sheets.values() if s.mark == "D1")
        folder = photos_folder(tmp_path / "book.db")
        assert tie_to_sheets(shop.editions, folder, [(x, first) for x in found]).ok
        shown: list[Path] = []

        async def work() -> None:
            async with screens(shop, asking=False) as here:
                here.app.open_file = lambda path: shown.append(path) is None
                here.app.over("impressions", session=session)
                await here.shows("2 pictures")
                await here.press("home", "o")
                assert sorted(shown) == sorted(folder.iterdir())
                await here.press("down", "o")
                await here.shows("D2 has no pictures")
                await here.press("R")
                await here.shows("2 pictures")
                await here.press("o")
                assert len(shown) == 4

        run(work())
