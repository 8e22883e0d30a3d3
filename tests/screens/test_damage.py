"""A damaged book on the screens: said at the top, read, never written in; the day goes on."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchapp.book import Book, BookDamaged
from benchapp.clock import FakeClock
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.screens.days import opened, printed, run, screens, small

_NOTE = "the tarlatan was new"


def a_book(path: Path, clock: FakeClock) -> SessionService:
    """A day at work in a book on disk, with a note to be damaged."""
    with Book.open(path, write=True, create=True, state=path.parent, now=clock.now()) as book:
        shop = SessionService(book, clock)
        opened(shop, small())
        assert shop.do(a.Note(_NOTE)).ok
        printed(shop, clock, 1)
    return shop


def scribbled(path: Path) -> bytes:
    """One letter of the note changed, behind the program's back; what is in the file then."""
    data = path.read_bytes().replace(_NOTE.encode(), b"the tarlatan was mew")
    path.write_bytes(data)
    return data


def test_damage_found_in_the_course_of_a_day(tmp_path: Path) -> None:
    """It is said large and stays; treads go on into the file beside; the end is 3."""
    path, clock = tmp_path / "studio.book", FakeClock()
    a_book(path, clock)
    scribbled(path)
    book = Book.open(path, write=True, state=tmp_path, now=clock.now())

    async def day() -> None:
        shop = SessionService(book, clock)
        row, = book.sessions()
        assert shop.resume_session(row).ok
        book.watch(later_s=0)
        async with screens(shop, "bench") as s:
            await s.shows("The book is damaged: benchapp writes nothing more")
            then = path.read_bytes()
            before = len(book.entries())
            await s.press("enter")
            await s.shows("The book is damaged: benchapp", "When you leave, benchapp says what")
            assert len(book.entries()) > before
            assert path.read_bytes() == then

    run(day())
    then = path.read_bytes()
    with pytest.raises(BookDamaged, match=r"benchapp-spill-.* benchapp book restore FILE"):
        book.close()
    assert path.read_bytes() == then


def test_a_damaged_book_in_the_studio(tmp_path: Path) -> None:
    """Opened to read, it shows its sessions and what to do; what is asked is not recorded."""
    path, clock = tmp_path / "studio.book", FakeClock()
    a_book(path, clock)
    data = scribbled(path)
    book = Book.reading(path, because=f"The book {path} is damaged. Nothing is written in it.")

    async def look() -> None:
        async with screens(SessionService(book, clock), "studio") as s:
            await s.shows("Nothing is written in it", "Pear on a Sill")
            clock.advance(120_000)
            await s.pilot.pause()
            outcome = s.app.do(a.Note("lost?"), session=book.sessions()[0].id)
            assert outcome.refusal is not None
            await s.shows("Nothing is written in it")

    run(look())
    with pytest.raises(BookDamaged):
        book.close()
    assert path.read_bytes() == data
