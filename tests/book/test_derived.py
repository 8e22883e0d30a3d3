"""What is kept beside the streams is what folding them gives, and nothing rests on it."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.book import Book
from benchapp.book.queries import emptied_streams, session_tallies
from benchapp.book.schema import MIGRATIONS
from benchapp.clock import FakeClock
from benchapp.commands.show import session_values
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.context import on_bench
from benchapp.session.counting import count_impressions, count_pulled
from benchapp.session.decide import decide
from benchapp.session.fold import apply_entry, replay_entries
from tests.book.samples import draft, moment
from tests.session.acts import DAYS, moves, opens, pass_time
from tests.session.support import DAMP, Bench, recipe

EXAMPLES = min(settings().max_examples, 300)


def folded(book: Book) -> dict[str, tuple[int, int]]:
    """How many each session pulled and how many count, by the fold alone."""
    out = {}
    for row in book.sessions():
        s = replay_entries(book.entries(streams=book.streams_of(row.id))).sessions[row.id]
        out[row.stream] = count_pulled(s), count_impressions(s)
    return out


@settings(max_examples=EXAMPLES // 2)
@given(st.integers(0, len(DAYS) - 1), moves(24, two=True), st.sets(st.integers(0, 24), max_size=3))
def test_the_list_of_sessions_is_what_folding_them_gives(day, doings, kept):
    """Whenever it was kept, and whatever was done since."""
    clock, book = FakeClock(), Book.in_memory("x")
    shop = SessionService(book, clock)
    shop.do(opens(day, "s1@x", 2))
    for n, (wait, action, session) in enumerate(doings):
        pass_time(clock, wait)
        shop.do(action, session=session)
        if n in kept:
            book.derive()
            assert book.derived("session/").keys() == {r.stream for r in book.sessions()}
    assert session_tallies(book) == folded(book)
    assert [(x["pulled"], x["counting"])
            for x in session_values(book)] == list(folded(book).values())


@settings(max_examples=EXAMPLES // 2)
@given(st.integers(0, len(DAYS) - 1), moves(24, two=True), moves(4, two=True))
def test_a_room_without_the_packs_that_are_over_decides_the_same(day, doings, then):
    """Packs used up or put away are left out; what can be done and what comes of it is alike."""
    clock, book = FakeClock(), Book.in_memory("x")
    shop = SessionService(book, clock)
    shop.do(opens(day, "s1@x", 2))
    for wait, action, session in doings:
        pass_time(clock, wait)
        shop.do(action, session=session)
    book.derive()
    left, written = shop.room, book.last_sequence()
    again = on_bench(SessionService(book, clock).room, left.bench)
    for entry in book.entries(since=written):  # after a restart: until when time was measured
        left = apply_entry(left, entry)
    gone = {x.partition("/")[2] for x in emptied_streams(book, "pack")}
    assert left.packs.keys() - again.packs.keys() <= gone
    assert {k for k, p in left.packs.items() if p.there or p.open} <= again.packs.keys()
    if len(again.sessions) < len(left.sessions):
        return
    for wait, action, session in then:
        pass_time(clock, wait)
        if not isinstance(action, a.Open):
            session = session or left.bench
            assert decide(again, action, clock.now(), session) == decide(
                left, action, clock.now(), session)


def one_day(path: Path) -> None:
    """A book with a whole day of damp paper in it, closed as it should be."""
    with Book.open(path, write=True, create=True) as book:
        shop = SessionService(book, FakeClock())
        shop.open_session("slack-water", DAMP, 4)
        for _ in range(60):
            shop.clock.advance(4 * 60_000)
            shop.tick()
            shop.do(a.GoOn())
        assert shop.room.session.closed is not None


def rows(path: Path) -> list[tuple[str, str, str]]:
    """What is kept, straight from the file."""
    file = sqlite3.connect(path)
    found = file.execute("SELECT stream, sha256, told FROM derived ORDER BY stream").fetchall()
    file.close()
    return found


def test_it_is_kept_when_a_book_is_closed(tmp_path):
    """Session, packs and stack of the day; read again, no pack is in the room and none folded."""
    path = tmp_path / "book.db"
    one_day(path)
    assert [x[0].partition("/")[0] for x in rows(path)] == [
        "pack", "pack", "session", "sheets", "stack"]
    with Book.open(path, write=True) as book:
        assert session_tallies(book) == folded(book)
        assert SessionService(book, FakeClock()).room.packs == {}
        assert emptied_streams(book, "pack") == set(book.streams("pack"))
        assert emptied_streams(book, "stack") == set()


def test_a_session_looked_at_has_its_packs_all_the_same(tmp_path):
    """They are of that day, whether or not a sheet is left in them."""
    path = tmp_path / "book.db"
    one_day(path)
    with Book.open(path, write=True) as book:
        shop = SessionService(book, FakeClock())
        shop.look_at(book.sessions()[0].id)
        assert len(shop.room.packs) == 2
        assert shop.past([book.sessions()[0].id]).packs.keys() == shop.room.packs.keys()


def test_what_cannot_be_read_or_is_missing_is_folded(tmp_path):
    """Rows spoiled, of another end of the stream, or gone: the list says the same."""
    path = tmp_path / "book.db"
    one_day(path)
    with Book.reading(path) as book:
        right = session_tallies(book)
    for change in ("UPDATE derived SET told = 'no JSON'", "UPDATE derived SET told = '[1]'",
                   "UPDATE derived SET told = '{\"pulled\": \"x\"}'",
                   "UPDATE derived SET sha256 = '', told = '{\"pulled\": 99, \"counting\": 99}'",
                   "DELETE FROM derived"):
        file = sqlite3.connect(path)
        with file:
            file.execute(change)
        file.close()
        with Book.reading(path) as book:
            assert session_tallies(book) == right
            assert book.verify() == []


def test_only_a_stream_that_went_on_is_told_anew(tmp_path):
    """The row of the day that was closed long ago is not even written again."""
    path = tmp_path / "book.db"
    one_day(path)
    file = sqlite3.connect(path)
    file.execute("UPDATE derived SET told = '{\"over\":true}' WHERE stream LIKE 's%'")
    file.commit()
    file.close()
    before = rows(path)
    with Book.open(path, write=True) as book:
        packs = book.streams("pack")
        book.append([draft(packs[0], "taken back", action="x:1")], moment(), "back")
    changed = {new[0] for new, old in zip(rows(path), before, strict=True) if new != old}
    assert changed == {packs[0]}


def test_a_book_of_the_layout_before_is_read_and_then_brought_up(tmp_path):
    """Read as it is, with the same lists and findings; opened to write, it gets what is new."""
    path = tmp_path / "book.db"
    one_day(path)
    with Book.open(path, write=True) as book:
        SessionService(book, FakeClock()).do(a.Judge("keep", 3), session=book.sessions()[0].id)
        right, there = session_values(book), book.search("cotton")
    file = sqlite3.connect(path)
    file.execute("DROP TABLE derived")
    file.execute("DROP TABLE words")
    file.execute(MIGRATIONS[1].statements[0])
    file.execute("DELETE FROM migrations WHERE number > 2")
    file.execute("DELETE FROM meta WHERE key = 'words'")
    file.execute("PRAGMA user_version = 2")
    file.commit()
    file.close()
    with Book.reading(path) as book:
        assert (session_values(book), book.search("cotton")) == (right, there)
    with Book.open(path, write=True) as book:
        assert session_values(book) == right
    assert rows(path)
    with Book.reading(path) as book:
        assert book.verify() == []


def test_a_listing_kept_while_open_is_one_read_anew():
    """Opened, closed, taken back and taken in: the list follows what is written."""
    bench, two = Bench(recipe(), wanted=1), Bench(recipe())
    for _ in range(30):
        bench.book.sessions()
        bench.clock.advance(60_000)
        bench.shop.tick()
        bench.shop.do(a.GoOn())
        fresh = Book.in_memory("x")
        fresh.merge(bench.book.entries())
        assert bench.book.sessions() == fresh.sessions()
    assert bench.book.sessions()[0].closed
    bench.book.merge(two.book.entries())
    assert [r.closed for r in bench.book.sessions()] == [True, False]
