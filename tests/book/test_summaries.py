"""What each kind of stream comes to, straight from its entries."""

from __future__ import annotations

from benchapp.book import Book
from benchapp.book.queries import emptied_streams, packs_of, session_tallies, sessions_of
from benchapp.book.summaries import summarize_stream
from benchapp.session import actions as a
from tests.book.samples import draft, moment, opened
from tests.session.support import DAMP, INK, LIFT, ONE, PULL, SOAK, Bench, recipe


def told(b: Bench, stream: str) -> object:
    """What the entries of a stream come to."""
    return summarize_stream(stream, b.book.stream(stream))


def test_a_session_comes_to_what_it_pulled_and_what_counts() -> None:
    """The first two are warm-ups; a spoiled one does not count either."""
    b = Bench(wanted=9)
    stream = b.book.sessions()[0].stream
    assert told(b, stream) == {"pulled": 0, "counting": 0}
    while len(b.sheets) < 4:
        b.go()
    assert told(b, stream) == {"pulled": 4, "counting": 2}
    b.say(a.Judge("spoiled", 4))
    assert told(b, stream) == {"pulled": 4, "counting": 1}
    b.book.derive()
    assert b.book.derived("session/") == {stream: {"pulled": 4, "counting": 1}}
    known = b.book.sheets_known()[stream]
    assert known.keys() == {"print", "says", "sheets"}
    assert known["sheets"]


def test_a_pack_is_over_when_no_sheet_is_in_it_or_lies_open() -> None:
    """In the water, out of it, one lying open, all dried."""
    b = Bench(recipe(each=(INK, PULL, LIFT), damp=SOAK))
    b.say(a.DampPack(2))
    stream = f"pack/{b.packs[0].id}"
    assert told(b, stream) == {"over": False}
    b.say(a.SheetsOut())
    b.say(a.MoveSheet("out"))
    b.say(a.MoveSheet("out"))
    assert told(b, stream) == {"over": False}  # none in it, two lie open
    b.say(a.MoveSheet("dried"))
    assert told(b, stream) == {"over": False}
    b.book.derive()
    assert emptied_streams(b.book, "pack") == frozenset()
    b.say(a.MoveSheet("dried"))
    assert told(b, stream) == {"over": True}
    b.book.derive()
    assert emptied_streams(b.book, "pack") == {stream}


def test_a_clock_that_runs_and_boards_that_are_up_are_not_over() -> None:
    """Without an entry there is neither."""
    book = Book.in_memory("x")
    book.append([draft("clock/1@x", "started", clock="1@x", name="varnish", ms=60_000)],
                moment(), "time")
    assert summarize_stream("clock/1@x", book.stream("clock/1@x")) == {"over": False}
    assert summarize_stream("clock/1@x", ()) == {"over": True}
    book.append([draft("stack/1@x", "begun", stack="1@x", name="3 May", drying=())],
                moment(), "lay")
    assert summarize_stream("stack/1@x", book.stream("stack/1@x")) == {"over": False}
    assert summarize_stream("stack/1@x", ()) == {"over": True}


def test_what_is_no_such_stream_comes_to_nothing() -> None:
    """A print, and a session of which there is no opening."""
    assert summarize_stream("print/pear", ()) == {}
    assert summarize_stream("session/2026-05-03@x", ()) == {}


def test_a_day_that_cannot_be_read_comes_to_nothing_and_stops_no_other() -> None:
    """It is kept for no one; the days round it are."""
    b = Bench(DAMP)
    b.book.append([draft("session/2026-05-04@x", "opened", session="2026-05-04", letters="E",
                         print="Slack Water", recipe_text="recipe: 9\n")], moment(), "open")
    readable = b.book.sessions()[0].stream
    b.book.derive()
    assert b.book.derived("session/").keys() == {readable}
    tallies = session_tallies(b.book)
    assert tallies == {readable: (0, 0), "session/2026-05-04@x": None}


def test_a_session_has_the_packs_it_damped_and_those_it_took_sheets_from() -> None:
    """Also where such a pack is of another session."""
    b = Bench(recipe(each=(INK, PULL, LIFT), damp=SOAK))
    b.say(a.DampPack(2))
    own = {f"pack/{b.packs[0].id}"}
    b.book.append([draft("pack/2026-05-09@x.1", "sheet out", pack=1)], moment(), "out")
    assert packs_of(b.book, b.s.id) == own  # not another session's
    b.book.append([draft(b.book.sessions()[0].stream, "sheet taken", impression=1,
                         pack="elsewhere.1")], moment(), "take")
    assert packs_of(b.book, b.s.id) == {*own, "pack/elsewhere.1"}
    assert packs_of(b.book, "2026-05-09@x") == {"pack/2026-05-09@x.1"}


def test_what_is_kept_holds_only_until_the_stream_goes_on() -> None:
    """One more entry, and nothing is known of it; the others stay known."""
    b = Bench()
    b.book.append([opened("2026-05-04")], moment(), "open")
    stream = b.book.sessions()[0].stream
    b.book.derive()
    assert stream in b.book.derived("session/")
    b.say(a.Note("rain", to="session"))
    assert stream not in b.book.derived("session/")
    assert stream not in b.book.sheets_known()
    b.book.derive()
    assert stream in b.book.derived("session/")


def test_the_sessions_of_a_print_are_those_of_its_title_and_artist() -> None:
    """In the order opened, without those held elsewhere."""
    b = Bench()
    first, print_ = b.s.id, b.s.recipe.print
    b.say(a.Helper(joins=True))
    b.open(ONE.replace("Slack Water", "Weigh House"))
    b.open(ONE.replace("Wren Halloran", "Idony Threlwick"))
    b.open()
    assert [s.id for s in sessions_of(b.book, print_)] == [first, b.s.id]
    assert [s.id for s in sessions_of(b.book, print_, but=[first])] == [b.s.id]
