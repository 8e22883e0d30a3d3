"""Entries of another book taken in: as they were, all or none, and the book goes on after."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.book.errors import BookDisk
from benchapp.book.merge import Unfit
from benchapp.clock import FakeClock
from benchapp.events.entry import Entry, entry_digest
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.session.support import ONE


def day(notes: int = 3, started_ms: int = 0) -> Book:
    """A book in memory with a session and so many notes in it."""
    clock = FakeClock()
    clock.advance(started_ms)
    book = Book.in_memory()
    shop = SessionService(book, clock)
    shop.open_session("one", ONE, None)
    for n in range(notes):
        clock.advance(1000)
        shop.do(a.Note(f"note {n}"))
    return book


def test_everything_is_there_as_it_was():
    """Ids, places, digests and order are those of the other book, and the book is sound."""
    one, two = day(), Book.in_memory()
    told = two.merge(one.entries())
    assert two.entries() == one.entries()
    assert (told.added, told.known) == (len(one.entries()), 0)
    assert told.sessions == [one.sessions()[0].stream]
    assert two.verify() == []


def test_taking_in_twice_adds_nothing():
    """By their ids the second time finds all of them."""
    one, two = day(), Book.in_memory()
    two.merge(one.entries())
    told = two.merge(one.entries())
    assert (told.added, told.known) == (0, len(one.entries()))


def test_a_book_with_days_of_its_own_gets_the_others_after_them():
    """Both are there, both chains hold, and what is done next goes on without a clash."""
    one, two = day(), day(2, 86_400_000)
    mine = two.entries()
    two.merge(one.entries())
    assert two.entries() == (*mine, *one.entries())
    assert len(two.sessions()) == 2
    clock = FakeClock()
    clock.advance(90_000_000)
    shop = SessionService(two, clock)
    mine_now = next(r for r in two.sessions() if r.id.endswith(f"@{two.origin}"))
    assert shop.do(a.Note("and on"), session=mine_now.id).refusal is None
    assert two.verify() == []
    assert len({e.id for e in two.entries()}) == len(two.entries())


def test_an_open_day_of_another_book_stays_that_book_s():
    """Its ink is not on these hands, its clocks write nothing here, and it is not continued."""
    one, two = day(), Book.in_memory()
    two.merge(one.entries())
    clock = FakeClock()
    clock.advance(86_400_000)
    shop = SessionService(two, clock)
    assert not shop.room.inky
    assert shop.tick().entries == ()
    assert shop.resume_session(two.sessions()[0]).refusal is not None
    assert shop.open_session("mine", ONE, None).refusal is None
    clock.advance(3_600_000)
    shop.tick()
    assert two.stream(two.sessions()[0].stream) == one.entries()


def test_what_was_added_since_comes_in_later():
    """A second file of the same book brings what is new in it, and that alone."""
    one, two = day(), Book.in_memory()
    two.merge(one.entries()[:3])
    told = two.merge(one.entries())
    assert (told.added, told.known) == (len(one.entries()) - 3, 3)
    assert two.verify() == []


def broken(entries: tuple[Entry, ...]) -> dict[str, tuple[tuple[Entry, ...], str]]:
    """Each way in which a file may not fit, and what is said of it."""
    first, *rest = entries
    changed = replace(rest[0], body={**rest[0].body, "impression": 7})
    strange = replace(first, kind="sneezed")
    strange = replace(strange, sha256=entry_digest("", strange))
    no_recipe = replace(first, body={**first.body, "recipe_text": "recipe: 9"})
    no_recipe = replace(no_recipe, sha256=entry_digest("", no_recipe))
    return {
        "changed": ((first, changed), "was changed since"),
        "gap": ((first, rest[1]), "are missing"),
        "kind": ((strange,), "no kind 'sneezed' is registered"),
        "recipe": ((no_recipe,), "the recipe it was opened on cannot be read"),
        "twice": ((first, first, replace(first, sha256="0" * 64)), "one of the two was changed"),
        "apart": ((first, replace(rest[0], id="other:9", position=1)), "cannot join them"),
    }


@pytest.mark.parametrize("how", ["changed", "gap", "kind", "recipe", "twice", "apart"])
def test_what_does_not_fit_leaves_the_book_as_it_was(how):
    """One entry that does not fit, and none is taken in; the message says which and why."""
    entries, why = broken(day().entries())[how]
    two = day(1, 86_400_000)
    before = two.entries()
    with pytest.raises(Unfit, match=why) as said:
        two.merge(entries)
    assert said.value.place == len(entries)
    assert two.entries() == before
    assert two.verify() == []


def test_an_older_copy_takes_back_its_own_newer_entries_only_in_order(tmp_path: Path):
    """A backup may be brought up to date from an export; a hole in it is refused."""
    path, copy = tmp_path / "one.book", tmp_path / "copy.book"
    with Book.open(path, write=True, create=True) as book:
        shop = SessionService(book, FakeClock())
        shop.open_session("one", ONE, None)
        book.backup(copy)
        shop.do(a.Note("after the copy"))
        entries = book.entries()
    with Book.open(copy, write=True) as old:
        assert old.merge(entries).added == 1
        assert old.entries() == entries
        assert SessionService(old, FakeClock()).room is not None
        assert old.verify() == []


def test_a_book_open_for_reading_takes_nothing_in(tmp_path: Path):
    """It is said, and nothing is made."""
    none = tmp_path / "none.book"
    with Book.reading(none) as book, pytest.raises(BookDisk, match="reading only"):
        book.merge(day().entries())
    assert list(tmp_path.iterdir()) == []
