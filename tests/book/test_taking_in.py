"""Entries that come from elsewhere: another book, a spill file, another copy."""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.book.append import StreamEnds, commit_entries, no_fault, roll_back
from benchapp.book.errors import Unwritable
from benchapp.book.keeping import missing_entries, sorted_out
from benchapp.book.merge import Merged, Unfit
from benchapp.book.read import sequence_of
from benchapp.book.schema import migrate
from benchapp.book.search_index import is_indexed
from benchapp.book.spill import (
    Spill,
    SpilledEntries,
    find_spills,
    hand_over,
    places_of,
    set_aside,
    stem_of,
)
from benchapp.book.taken import TakenNames, read_taken_names, taken_in, write_taken
from benchapp.book.validation import find_wrong_field
from benchapp.events.entry import Draft, Entry, Moment, entry_digest
from tests.book.samples import DAY, draft, moment, no_space, note
from tests.book.test_said_to_printers import has
from tests.session.support import ONE

HOME = f"{DAY}@x"


def opening(**said: object) -> Draft:
    """A session as its book opens it."""
    return draft(HOME, "opened", **{"session": "2026-05-03", "letters": "D", "print": "Slack Water",
                                    "artist": "Wren Halloran", "recipe": "slack-water",
                                    "recipe_text": ONE, "recipe_sha256": "", **said})


def written(*drafts: Draft, origin: str = "x") -> tuple[Entry, ...]:
    """The entries of these, an action each."""
    book = Book.in_memory(origin)
    for n, one in enumerate(drafts):
        book.append([one], moment(n), "word")
    return book.entries()


def chained(entry: Entry, before: str = "", **said: object) -> Entry:
    """The entry otherwise, with the digest that holds for that."""
    bare = replace(entry, **said)  # type: ignore[arg-type]
    return replace(bare, sha256=entry_digest(before, bare))


def refused(book: Book, entries: tuple[Entry, ...], place: int, why: str) -> None:
    """None of them is taken in; the message has the place and the facts, `…` between them."""
    before = book.entries()
    with pytest.raises(Unfit) as told:
        book.merge(entries)
    assert told.value.place == place
    assert str(told.value) == f"entry {place}: {told.value.why}"
    assert has(told.value.why, why)
    assert book.entries() == before


def test_what_does_not_fit_is_named_by_its_place_and_why() -> None:
    """The first that does not, in the words of what is wrong with it."""
    first, second, third = written(opening(), note("a", HOME), note("b", HOME))
    book = Book.in_memory("y")
    refused(book, (first, third), 2, f"before it in {HOME}…missing")
    refused(book, (first, replace(second, body={"impression": None, "text": "c"})), 2,
            "…or the entry before it")
    refused(book, (chained(first, kind="nodded"),), 1, "'nodded'…'session'…later version")
    refused(book, (chained(first, id="no id"),), 1,
            "id: …book:number")
    refused(book, written(opening(recipe_text="recipe: 1")), 1,
            "the recipe…cannot be read")
    refused(Book.in_memory("x"), (first, chained(second, first.sha256, id="x:5")), 2,
            "this book itself…newer copy…benchapp book restore FILE")
    assert book.merge((first, second, third)) == Merged(3, 0, [HOME], {})
    refused(book, (chained(first, word="other"),), 1,
            "another x:1…changed")
    refused(book, (chained(second, first.sha256, id="x:9"),), 1,
            f"{HOME}…in this book and in that one…join")
    assert book.merge((first, third)) == Merged(0, 2, [], {})


def test_what_a_book_tells_of_another_needs_the_day_and_its_writer() -> None:
    """Both in the file, in their order, or the day in the book already."""
    home = written(opening())
    told, = written(draft(f"{HOME}@z", "judged", impression=1, verdict="keep"), origin="z")
    book = Book.in_memory("y")
    refused(book, (told,), 1, f"{HOME}…before it")
    refused(book, (*home, chained(told, id="w:1", action="w:1")), 2,
            f"another book…{HOME}@z")
    assert book.merge((*home, told)) == Merged(2, 0, [HOME], {})
    assert book.verify() == []


def test_of_a_damaged_book_the_streams_that_are_whole_are_taken_in() -> None:
    """The others are named, each with what is wrong."""
    first, second, third = written(opening(), note("a", HOME), note("b", HOME))
    other, = written(replace(opening(session="2026-05-04"), stream="session/2026-05-04@w"),
                     origin="w")
    book = Book.in_memory("y")
    told = book.merge_whole((first, third, other), {HOME: 3, other.stream: 1})
    assert (told.added, list(told.left_out)) == (1, [HOME])
    assert has(told.left_out[HOME], f"before it in {HOME}…missing")
    told = book.merge_whole((first, second), {HOME: 3})
    assert (told.added, list(told.left_out)) == (0, [HOME])
    assert has(told.left_out[HOME], "its end")
    assert book.merge_whole((first, second, third), {HOME: 3}) == Merged(3, 0, [HOME], {})


@pytest.mark.parametrize(("said", "wrong"), [
    ({}, None),
    ({"id": "x"}, "id: not of the form book:number"),
    ({"id": "x:0"}, "id: not of the form book:number"),
    ({"action": "x: 1"}, "action: not of the form book:number"),
    ({"body": {"impression": None, "text": 7}}, "noted: text must be a text"),
    ({"at": moment(wall_ms=-1)}, "at: wall_ms must lie between the years 1970 and 9998"),
    ({"at": moment(wall_ms=0)}, None),
    ({"at": Moment(1, 1440, 1, "b", 1)}, "at: offset_min must be less than a day"),
    ({"at": Moment(1, -1439, 1, "b", 1)}, None),
    ({"at": Moment(1, -1440, 1, "b", 1)}, "at: offset_min must be less than a day"),
])
def test_what_no_book_of_ours_would_write(said: dict[str, object], wrong: str | None) -> None:
    """The field, and what it must be."""
    entry, = written(note("a"))
    assert find_wrong_field(replace(entry, **said)) == wrong  # type: ignore[arg-type]


@pytest.mark.parametrize(("id_", "number"), [
    ("x:12", 12), ("x:y:3", 3), ("x:", 0), ("x:a", 0), ("x:²", 0), ("x:٣", 0), ("7", 7)])
def test_the_number_in_an_id(id_: str, number: int) -> None:
    """None is 0."""
    entry, = written(note("a"))
    assert sequence_of(replace(entry, id=id_)) == number


@pytest.mark.parametrize(("change", "says"), [
    (lambda: Book.in_memory().append([note("a")], moment(), ""), "the action's word is empty"),
    (lambda: Book.in_memory().append([note("a")], moment(), "a\0"),
     "the action's word: the text holds a NUL character; take it out"),
    (lambda: Book.in_memory().append([note("a")], moment(boot="\ud800"), "note"),
     "boot_id: the character at place 1 is half a character (a lone surrogate); take it out or "
     "type it again"),
    (lambda: Book.in_memory().append([note("a")], Moment(2**63, 0, 0, "b", 0), "note"),
     f"wall_ms: {2**63} is too large; the largest number kept is {2**63 - 1}"),
    (lambda: Book.in_memory().append([note("a")], Moment(0, 0, 0, "b", 2**63), "note"), "mono_ns"),
])
def test_what_no_book_can_hold(change: Callable[[], object], says: str) -> None:
    """It is named, with what to do."""
    with pytest.raises(Unwritable, match=re.escape(says)):
        change()


# -- entries that waited -----------------------------------------------------------------------


def keeper(entries: tuple[Entry, ...]) -> tuple[sqlite3.Connection, StreamEnds]:
    """A book that has these, and where it ends."""
    connection = sqlite3.connect(":memory:", isolation_level=None)
    migrate(connection, "x")
    commit_entries(connection, entries)
    ends = StreamEnds("x")
    ends.advance(entries)
    return connection, ends


def left(*entries: Entry) -> SpilledEntries:
    """A file with these in it."""
    return SpilledEntries(Path("a"), entries, whole=True)


def test_of_what_waited_what_follows_is_taken_in_its_order() -> None:
    """What is in the book, or in two files, counts once; what does not follow is a stray."""
    a, b, c, d = written(*(note(x) for x in "abcd"))
    connection, ends = keeper((a,))
    with closing(connection):
        assert missing_entries(connection, (a, b)) == [b]
        assert sorted_out(connection, [left(c, b), left(a, b)], ends) == ((b, c), set())
        assert sorted_out(connection, [left(b), left(d)], ends) == ((b,), {"x:4"})
        assert sorted_out(connection, [left(replace(b, sha256="y"))], ends) == ((), {"x:2"})
        twice = left(b, chained(b, a.sha256, word="other"))
        assert sorted_out(connection, [twice], ends) == ((b,), {"x:2"})
        assert (ends.sequence, ends.heads) == (1, {DAY: (1, a.sha256)})


def test_an_entry_follows_that_could_come_next_here() -> None:
    """Of this book, with the next number, in its place, with its digest."""
    a, b = written(note("a"), note("b"))
    ends = StreamEnds("x")
    assert ends.follows(a)
    assert not ends.follows(b)
    assert not StreamEnds("y").follows(a)
    assert not StreamEnds("x", 4).follows(a)
    ends.advance([a])
    assert ends.follows(b)
    assert not ends.follows(chained(b, a.sha256, position=3))
    assert not ends.follows(replace(b, sha256=a.sha256))


def test_a_commit_that_fails_leaves_nothing_and_no_change_open() -> None:
    """The connection can go on."""
    a, b = written(note("a"), note("b"))
    connection, _ = keeper((a,))
    with closing(connection):
        with pytest.raises(sqlite3.IntegrityError):
            commit_entries(connection, (b, b))
        assert not connection.in_transaction
        roll_back(connection)
        commit_entries(connection, (b,))
        assert not connection.in_transaction
        assert connection.execute("SELECT count(*) FROM entries").fetchone() == (2,)
        assert not is_indexed(connection)


def test_entries_are_kept_in_the_first_place_that_takes_them(tmp_path: Path) -> None:
    """A line an action in one file, named after book and place, for this person alone."""
    book = tmp_path / "book.db"
    places = places_of(book, tmp_path / "state", tmp_path / "temp")
    assert [(x.name, x.folder) for x in places] == [
        ("beside", tmp_path), ("state", tmp_path / "state"), ("temp", tmp_path / "temp")]
    assert places[1].tag == places[2].tag != places[0].tag
    assert [x.name for x in places_of(book, None, tmp_path)] == ["beside", "temp"]

    def full(point: str) -> None:
        if point == "spill beside":
            raise no_space()

    a, b, c = written(note("a"), note("b"), note("c"))
    spill = Spill(stem_of("x"), book, places, full)
    for one in (a, b):
        spill.keep([one])
    file, = spill.files
    assert (file.parent, file.stat().st_mode & 0o777) == (tmp_path / "state", 0o600)
    assert re.fullmatch(rf"benchapp-spill-x-{places[1].tag}-[0-9a-f]{{8}}\.jsonl", file.name)
    assert (spill.pending, spill.unsaved) == ((a, b), ())
    assert json.loads(file.read_text("utf-8").splitlines()[0]) == {"book": str(book)}
    found = SpilledEntries(file, (a, b), whole=True, book=str(book))
    assert find_spills(stem_of("x"), places) == ([found], [])
    assert find_spills(stem_of("y"), places) == ([], [])
    book.touch()  # a copy of the book, elsewhere: the file is the first one's
    copy = places_of(tmp_path / "copy.db", tmp_path / "state", tmp_path / "temp")
    assert find_spills(stem_of("x"), copy) == ([], [found])
    book.unlink()
    assert find_spills(stem_of("x"), copy) == ([found], [])
    with file.open("ab") as end:
        end.write(b'\n[{"id":')
    torn, = find_spills(stem_of("x"), places)[0]
    assert (torn.entries, torn.whole, torn.ids) == ((a, b), False, {"x:1", "x:2"})
    spill.clear()
    assert (file.exists(), spill.pending, spill.files) == (False, (), [])
    spill.keep([c])
    assert [x.parent for x in spill.files] == [tmp_path / "state"]


def test_what_no_place_takes_waits_in_memory(tmp_path: Path) -> None:
    """And goes with the next that is taken, before it."""
    broken = True

    def full(_: str) -> None:
        if broken:
            raise no_space()

    a, b = written(note("a"), note("b"))
    places = places_of(tmp_path / "book.db", None, tmp_path / "temp")
    spill = Spill(stem_of("x"), tmp_path / "book.db", places, full)
    spill.keep([a])
    assert (spill.pending, spill.unsaved, spill.files) == ((a,), (a,), [])
    broken = False
    spill.keep([b])
    assert (spill.pending, spill.unsaved) == ((a, b), ())
    one, = find_spills(stem_of("x"), places)[0]
    assert (one.path.parent, one.entries) == (tmp_path, (a, b))


def test_a_file_that_waits_goes_with_its_book(tmp_path: Path) -> None:
    """Under the name of the place it is moved to; one set aside is tried no more."""
    old, new = tmp_path / "old.db", tmp_path / "new.db"
    old.touch()
    places = places_of(old, None, tmp_path / "temp")
    spill = Spill(stem_of("x"), old, places, no_fault)
    spill.keep(written(note("a")))
    to = places_of(new, None, tmp_path / "temp")
    hand_over(stem_of("x"), places, to)
    one, = find_spills(stem_of("x"), to)[0]
    assert one.path.name.startswith(f"benchapp-spill-x-{to[0].tag}-")
    assert set_aside(one.path) == one.path.with_name(one.path.name + ".aside")
    assert find_spills(stem_of("x"), to) == ([], [])


# -- names given elsewhere ----------------------------------------------------------------------


def test_names_and_letters_that_other_copies_gave() -> None:
    """Of sessions; also of a mark a printer pencilled; kept in the book as they are."""
    entries = written(opening(), draft(HOME, "marked", impression=1, mark="qz12"),
                      draft(HOME, "marked", impression=2, mark="12"))
    taken = taken_in(entries)
    assert taken == TakenNames(frozenset({"2026-05-03"}), frozenset({"D", "QZ"}))
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as connection:
        migrate(connection, "x")
        assert read_taken_names(connection) == TakenNames()
        for more in (taken, taken | TakenNames(frozenset({"2026-05-04"}))):
            write_taken(connection, more)
            assert read_taken_names(connection) == more
