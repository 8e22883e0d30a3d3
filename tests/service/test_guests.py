"""A session judged in two books: each writes for itself, and brought together they say the same."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.book import Book
from benchapp.book.errors import Unwritable
from benchapp.book.merge import Unfit
from benchapp.clock import FakeClock
from benchapp.commands.show import read_whole_session, session_values
from benchapp.events.entry import Draft, Entry, entry_digest
from benchapp.events.streams import is_said
from benchapp.reports.json_form import json_values
from benchapp.service.editions import EditionService
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.views.sheets import sheet_lines
from tests.session.support import INK, LIFT, MIN, PULL, recipe

TEXT = recipe(each=(INK, PULL, LIFT),
              extra="readings: [{name: tone, unit: grade 1-5, at: Lift}]\n")
DAY_MS = 24 * 60 * MIN


class Studio:
    """A book, a clock of its own, and the workshop over them, opened anew when asked."""

    def __init__(self, origin: str, started_ms: int = 0) -> None:
        self.book = Book.in_memory(origin)
        self.clock = FakeClock()
        self.clock.advance(started_ms)
        self.shop = SessionService(self.book, self.clock)

    def anew(self) -> SessionService:
        """As after a restart."""
        self.shop = SessionService(self.book, self.clock)
        return self.shop

    def print(self, sheets: int = 2) -> str:
        """A day with so many sheets, left open; its id."""
        self.shop.open_session("slack-water", TEXT, None)
        while len([i for i in self.shop.room.session.impressions if i.laid]) < sheets:
            self.clock.advance(3 * MIN)
            self.shop.tick()
            assert self.shop.do(a.GoOn()).ok
        return self.shop.room.session.id

    def say(self, id_: str, action: a.Action) -> None:
        """Say something of a session, of this book or another."""
        self.shop.look_at(id_)
        self.clock.advance(1_000)
        self.shop.do(action, session=id_)

    def whole(self, id_: str) -> dict[str, object]:
        """The session read back."""
        row = next(r for r in self.book.sessions() if r.id == id_)
        return json_values(read_whole_session(self.book, row))


def take(into: Studio, of: Studio) -> None:
    """Bring one book's entries into the other, which is opened anew."""
    into.book.merge(of.book.entries())
    into.anew()


def together(one: Studio, two: Studio) -> None:
    """Each takes in the other."""
    take(one, two)
    take(two, one)


@pytest.fixture
def both() -> tuple[Studio, Studio, str]:
    """A day printed in one book and taken in by another."""
    one, two = Studio("one"), Studio("two", DAY_MS)
    id_ = one.print()
    take(two, one)
    return one, two, id_


def test_what_is_said_of_another_book_s_session_lies_in_a_stream_of_its_own(both):
    """The session's own stream stays as the other book wrote it; both books hold together."""
    one, two, id_ = both
    two.say(id_, a.Judge("keep", 1))
    two.say(id_, a.Note("held to the lamp", 1))
    assert two.book.stream(f"session/{id_}") == one.book.stream(f"session/{id_}")
    said = two.book.stream(f"session/{id_}@two")
    assert [(e.position, e.kind) for e in said] == [(1, "judged"), (2, "noted")]
    assert two.book.verify() == []
    one.say(id_, a.Judge("doubtful", 2))
    assert one.shop.do(a.GoOn()).ok
    together(one, two)
    for studio in (one, two):
        assert [(i["verdict"], i["notes"]) for i in studio.whole(id_)["impressions"]] == [
            ("keep", ["held to the lamp"]), ("doubtful", [])]
        assert studio.book.verify() == []


def test_the_later_word_stands_in_both_books(both):
    """Two verdicts on one sheet: neither is lost, and the one said last is the sheet's."""
    one, two, id_ = both
    two.say(id_, a.Judge("keep", 1))
    one.clock.advance(2 * DAY_MS)
    one.say(id_, a.Judge("spoiled", 1))
    together(one, two)
    assert [s.whole(id_)["impressions"][0]["verdict"] for s in (one, two)] == ["spoiled"] * 2
    two.clock.advance(2 * DAY_MS)
    two.say(id_, a.Judge("doubtful", 1))
    together(one, two)
    assert [s.whole(id_)["impressions"][0]["verdict"] for s in (one, two)] == ["doubtful"] * 2


def test_a_sheet_judged_spoiled_in_another_book_comes_out_of_its_stack_in_both(both):
    """By that book's own entry; judged anew it is where it lay."""
    one, two, id_ = both

    def lying(studio: Studio) -> list[str]:
        return [x.mark for s in EditionService(studio.book, studio.clock).boards.up
                for x in s.sheets]

    for verdict, there in (("spoiled", ["D2"]), ("keep", ["D2", "D1"])):
        two.say(id_, a.Judge(verdict, 1))
        together(one, two)
        assert (lying(one), lying(two)) == (there, there)
    assert one.book.verify() == two.book.verify() == []


def test_a_word_said_by_a_clock_that_is_behind_is_not_lost():
    """The book that judges thinks it is before the day was printed: the word stands all the same,
    after the pull it is about."""
    one, two = Studio("one", DAY_MS), Studio("two")
    id_ = one.print()
    take(two, one)
    two.say(id_, a.Judge("keep", 2))
    two.say(id_, a.Note("fine", 2))
    lines = sheet_lines(two.shop.room.sessions[id_])
    assert (lines[1].verdict, lines[1].notes) == ("keep", ("fine",))
    together(one, two)
    assert one.whole(id_) == two.whole(id_)
    assert one.whole(id_)["impressions"][1]["verdict"] == "keep"
    assert one.anew().room.sessions[id_].impression(2).verdict == "keep"


def test_only_words_about_its_sheets_are_taken(both):
    """Another book's open session is not worked on, washed for or closed here."""
    _, two, id_ = both
    two.shop.look_at(id_)
    for action in (a.GoOn(), a.Pause(), a.Must("x"), a.Enough(), a.Tick(), a.CanEmptied(),
                   a.Set("room", "18 °C"), a.ReworkPlate("key", "II", None), a.SwitchSession(id_)):
        out = two.shop.do(action, session=id_)
        assert (out.ok, out.entries) == (False, ())
    assert str(two.shop.do(a.Enough(), session=id_).refusal) == (
        "That session was opened in another book; continue it there; here you can judge its "
        "sheets and write notes")
    assert two.shop.tick().entries == ()


def test_another_book_s_session_brings_no_ink_and_no_hours_here(both):
    """Looked at beside a session of one's own, it leaves hands, helper and counts alone."""
    one, two, id_ = both
    one.shop.do(a.Helper(joins=True))
    two.print(0)
    two.clock.advance(7 * MIN)
    t = two.shop.room.t_at(two.clock.now())
    before = two.shop.room
    take(two, one)
    two.shop.look_at(id_)
    room = two.shop.room
    assert room.t_at(two.clock.now()) == t
    assert (room.inky, room.helper, room.off) == (before.inky, before.helper, {})
    assert [s.id for s in room.open_sessions] == [s.id for s in before.open_sessions]
    assert len(sheet_lines(room.sessions[id_])) == 2


def test_lists_and_editions_hear_what_was_said(both):
    """A verdict given in the other book counts, also where the day was read before."""
    one, two, id_ = both
    known = EditionService(one.book, one.clock)
    one.say(id_, a.SayFor("edition", impression=1))
    counting = session_values(one.book)[0]["counting"]
    together(one, two)
    two.say(id_, a.Judge("spoiled", 1))
    together(one, two)
    known.load()
    sheet = known.days[0].sheets[0]
    assert (sheet.verdict, session_values(one.book)[0]["counting"]) == ("spoiled", counting - 1)


def test_what_tells_of_no_session_here_is_not_taken_in(both):
    """Its session is missing, or another book wrote it: refused, and the book is as it was."""
    _, two, id_ = both
    two.say(id_, a.Judge("keep", 1))
    said = [e for e in two.book.entries() if is_said(e.stream)]
    empty = Book.in_memory("three")
    with pytest.raises(Unfit, match="which is missing in the book"):
        empty.merge(said)
    assert empty.entries() == ()
    forged = replace(said[0], id="one:9000", action="one:9000")
    forged = replace(forged, sha256=entry_digest("", forged))
    third = Book.in_memory("three")
    third.merge(e for e in two.book.entries() if not is_said(e.stream))
    with pytest.raises(Unfit, match="another book than this one writes"):
        third.merge([forged])


def test_no_book_says_what_only_the_session_s_own_can():
    """A pull is not for another book to tell."""
    studio = Studio("one")
    body = {"step": "x", "impression": 1, "attempt": 1, "pack": None}
    with pytest.raises(Unwritable, match="only the book that began the session writes it"):
        studio.book.append([Draft("session/d@two@one", "step started", body)],
                           studio.clock.now(), "go on")


# -- whatever is said, in whatever order ------------------------------------------------------

SAYINGS: tuple[Callable[[int], a.Action], ...] = (
    lambda n: a.Judge("keep", n), lambda n: a.Judge("spoiled", n), lambda n: a.Judge(None, n),
    lambda n: a.Tag("salty", n), lambda n: a.Tag("salty", n, off=True),
    lambda n: a.Tag("slur", n), lambda n: a.Note("a note", n), lambda n: a.Note("of the day"),
    lambda n: a.LookAgain(n), lambda n: a.TakeReading("tone", str(1 + n), None, n),
    lambda n: a.SayFor("TP", impression=n), lambda n: a.GiveMark(f"Q{n}", n))
DOINGS = st.lists(st.tuples(
    st.integers(0, 1), st.integers(0, len(SAYINGS) - 1), st.sampled_from((1, 1, 2)),
    st.sampled_from((0, 1, 1_000, 5 * MIN)), st.sampled_from(("", "", "", "work", "take", "jump"))),
    min_size=6, max_size=14)


@cache
def printed() -> tuple[Entry, ...]:
    """The day both books judge."""
    one = Studio("one")
    one.print()
    return one.book.entries()


def pair(behind_ms: int = 30 * MIN + 1_500) -> tuple[Studio, Studio, str]:
    """Two books that have it, opened anew a while after; the clock of the other may be behind."""
    one, two = Studio("one", 30 * MIN), Studio("two", behind_ms)
    for studio in (one, two):
        studio.book.merge(printed())
        studio.anew()
    id_ = one.book.sessions()[0].id
    one.shop.resume_session(one.book.sessions()[0])
    return one, two, id_


@settings(max_examples=settings().max_examples // 3)
@given(DOINGS, st.booleans(), st.sampled_from((1_801_500, 5_000, 0)))
def test_two_books_that_judged_one_session_become_equal(todo, turned, behind_ms):
    """Whatever both say, work on, take in between and however their clocks jump: brought
    together in either order they read the same, a second time adds nothing, nothing is lost."""
    one, two, id_ = pair(behind_ms)
    studios = one, two
    for who, what, n, wait, beside in todo:
        studio = studios[who]
        studio.clock.advance(wait)
        studio.say(id_, SAYINGS[what](n))
        if beside == "work" and who == 0:
            one.clock.advance(3 * MIN)
            one.shop.do(a.GoOn(), session=id_)
        elif beside == "take":
            take(studio, studios[1 - who])
        elif beside == "jump":
            studio.clock.step_wall(-3_600_000)
    written = {e.id for s in studios for e in s.book.entries()}
    for into, of in ((two, one), (one, two)) if turned else ((one, two), (two, one)):
        take(into, of)
    assert one.whole(id_) == two.whole(id_)
    heard = one.shop.room.sessions[id_]
    assert len(heard.notes) + sum(len(i.notes) for i in heard.impressions) == sum(
        e.kind == "noted" for e in one.book.entries())
    for studio in studios:
        before = studio.book.entries()
        assert {e.id for e in before} == written
        left = studio.shop.room
        take(studio, studios[0] if studio is two else studios[1])
        assert studio.book.entries() == before
        assert studio.anew().room == left
        assert studio.book.verify() == []
        studio.shop.look_at(id_)
    lines = [sheet_lines(s.shop.room.sessions[id_]) for s in studios]
    assert lines[0] == lines[1]


@settings(max_examples=settings().max_examples // 4)
@given(st.lists(st.tuples(st.integers(0, len(SAYINGS) - 1), st.integers(1, 3),
                          st.sampled_from((0, 1, 1_000))), max_size=8), st.randoms())
def test_the_room_after_each_word_is_the_room_read_anew(todo, dice: random.Random):
    """In the book that judges another's session, live and loaded are the same."""
    _, two, id_ = pair()
    two.shop.look_at(id_)
    for what, n, wait in todo:
        two.clock.advance(wait)
        if dice.random() < 0.2:
            two.clock.step_wall(-10_000)
        two.shop.do(SAYINGS[what](n), session=id_)
        again = SessionService(two.book, two.clock)
        again.look_at(id_)
        assert again.room == two.shop.room
