"""What is to be known about the book's file is said on the screen, whichever is shown."""

from __future__ import annotations

import shutil
from pathlib import Path

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.service.sessions import SessionService
from tests.screens.days import run, screens


def test_a_copy_without_its_log_says_so_in_the_studio(tmp_path: Path) -> None:
    """Opened on the screen, it says what may be missing and how to copy an open book."""
    path, copy = tmp_path / "one.book", tmp_path / "copy.book"
    Book.open(path, write=True, create=True).close()
    with Book.open(path, write=True):
        shutil.copyfile(path, copy)

    async def work() -> None:
        with Book.open(copy, write=True) as cold:
            async with screens(SessionService(cold, FakeClock())) as here:
                await here.shows("Its log is not beside it", "backup FILE")

    run(work())
