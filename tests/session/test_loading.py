"""The room a program finds in the book is the room another left there."""

from __future__ import annotations

from dataclasses import replace
from functools import reduce

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.book import Book
from benchapp.book.errors import Unwritable
from benchapp.clock import FakeClock
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.fold import apply_entry
from tests.session.acts import DAYS, moves, opens, pass_time
from tests.session.support import DAY, Bench, recipe


@settings(max_examples=min(settings().max_examples, 200))
@given(st.integers(0, len(DAYS) - 1), st.sampled_from([None, 1, 2]), moves(30, two=True))
def test_a_room_loaded_from_the_book_is_the_room_that_was_left(day, wanted, todo):
    """Whatever was done: the same sessions, packs, hands and time, entry for entry."""
    clock, book = FakeClock(), Book.in_memory("x")
    shop = SessionService(book, clock)
    shop.do(opens(day, "s1@x", wanted))
    for wait, action, session in todo:
        pass_time(clock, wait)
        shop.do(action, session=session)
    before = book.last_sequence()
    again = SessionService(book, clock).room
    # Where the machine began anew since the last entry, a start says so first.
    left = reduce(apply_entry, book.entries(since=before), shop.room)
    assert (again.inky, again.helper, again.packs.keys()) == (
        left.inky, left.helper, left.packs.keys())
    assert [s.id for s in again.open_sessions] == [s.id for s in left.open_sessions]
    if len(again.sessions) == len(left.sessions):
        assert replace(again, bench=left.bench) == left


def test_ink_from_a_session_closed_since_is_still_on_the_hands():
    """Two sessions open, the second closed with inky hands: started anew, they are inky."""
    b = Bench(DAY, wanted=1)
    b.open(recipe(each=["{do: Ink, hands: inky}", "{do: Pull, hands: clean, pulls: key}",
                        "{do: Look, hands: clean, asks: [verdict]}"],
                  after=["{do: Slab, hands: inky}"]), wanted=1)
    b.to_close()
    assert b.hands == "inky"
    assert SessionService(b.book, b.clock).room.inky is True


def test_a_closed_session_is_not_looked_through_again():
    """What was closed before the first open session began is not folded at every start."""
    b = Bench(DAY, wanted=1)
    first = b.s.id
    b.to_close()
    b.open(DAY, wanted=1)
    room = SessionService(b.book, b.clock).room
    assert list(room.sessions) == [b.s.id]
    assert first not in room.sessions


def test_a_text_no_book_can_hold_leaves_the_room_as_it_was():
    """Half a character is turned away before anything is folded."""
    b = Bench()
    before = b.room
    with pytest.raises(Unwritable, match="surrogate"):
        b.do(a.Note("\ud800"))
    assert b.room == before
