"""The key that writes a page: where it goes, what it never does, and what the screen says."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchapp.screens.page_writing import PAGE_KEY
from tests.screens.days import run, screens
from tests.screens.test_editions import PEAR, dried

#: Each screen with what it is about, and a word of its page.
_WHERE = {"edition": "Documentation of the edition", "sort": "History of one impression",
          "impressions": "History of one impression", "review": "Pear on a Sill",
          "plate life": "Its days"}


@pytest.mark.parametrize("name", _WHERE)
def test_a_page_is_written_and_opened(name: str, home: Path) -> None:
    """In the home that is named, whole, and its path is said; the viewer gets that very file."""
    shop, session = dried()
    opened: list[Path] = []

    def open_file(path: Path) -> bool:
        opened.append(path)
        return True

    async def work() -> None:
        about = {"print_": PEAR} if name == "edition" else {"session": session}
        async with screens(shop, over=name, size=(200, 24), **about) as here:
            here.app.open_file = open_file
            await here.press(PAGE_KEY)
            await here.shows("Written and opened:", ".html")
            (page,) = (home / "papers").iterdir()
            assert opened == [page]
            assert _WHERE[name] in page.read_text(encoding="utf-8")

    run(work())


def test_no_file_is_written_over(home: Path) -> None:
    """The same page is only opened again; beside another file of its name it gets a number."""
    shop, session = dried()
    taken = home / "papers" / "review-2026-05-03-pear-on-a-sill.html"
    taken.parent.mkdir(parents=True)
    taken.write_text("mine", encoding="utf-8")

    async def work() -> None:
        async with screens(shop, over="review", size=(200, 24), session=session) as here:
            await here.press(PAGE_KEY)
            await here.shows("Written:", "There is no viewer here", "sill-2.html")
            await here.press(PAGE_KEY)
            assert sorted(p.name for p in taken.parent.iterdir()) == [
                "review-2026-05-03-pear-on-a-sill-2.html", taken.name]
            assert taken.read_text(encoding="utf-8") == "mine"

    run(work())


def test_a_folder_that_cannot_be_written_is_said(home: Path) -> None:
    """In words, and nothing is opened."""
    shop, session = dried()
    home.mkdir(exist_ok=True)
    (home / "papers").write_text("", encoding="utf-8")

    async def work() -> None:
        async with screens(shop, over="review", size=(200, 24), session=session) as here:
            here.app.open_file = lambda _: pytest.fail("nothing was written")
            await here.press(PAGE_KEY)
            await here.shows("a file is where a folder belongs")

    run(work())
