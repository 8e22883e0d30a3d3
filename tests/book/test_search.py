"""Words found again: where they stand, all of them, and not what was taken back."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.journal import Draft
from benchapp.session import actions as a
from benchapp.workshop import Workshop
from tests.session.support import INK, LIFT, MIN, PULL, recipe

TEXT = recipe(each=(INK, PULL, LIFT))
OTHER = TEXT.replace("Slack Water", "Blue Heron")


class Studio:
    """Days printed one after the other into one book."""

    def __init__(self) -> None:
        self.clock = FakeClock()
        self.book = Book.in_memory()
        self.shop = Workshop(self.book, self.clock)

    def day(self, text: str = TEXT, sheets: int = 3) -> None:
        """A new day, so many sheets pulled; the day before is over."""
        self.shop.leave_bench()
        if (open_ := next(iter(self.shop.room.open_sessions), None)) is not None:
            self.book.append([_closed(open_.id)], self.clock.now(), "close")
            self.shop.load()
        self.clock.advance(24 * 60 * MIN)
        out = self.shop.open_session("slack", text, None, typed=True)
        assert out.refusal is None, str(out.refusal)
        for _ in range(sheets * 4):
            self.clock.advance(3 * MIN)
            self.shop.do(a.GoOn())

    def say(self, *actions: a.Action) -> None:
        """Do these."""
        for action in actions:
            out = self.shop.do(action)
            assert out.refusal is None, f"{action}: {out.refusal}"

    def found(self, words: str, **kwargs) -> list[tuple[int | None, str, str]]:
        """(number, place, text) of each answer."""
        return [(h.impression, h.where, h.text) for h in self.book.search(words, **kwargs)]


def _closed(session: str) -> Draft:
    return Draft(f"session/{session}", "closed", {})


@pytest.fixture
def studio() -> Studio:
    """Two prints on three days, with words of every kind."""
    s = Studio()
    s.day()
    s.say(a.Note("Salty after lunch, fresh scrim", 2), a.Tag("salty", 2), a.Tag("crevé", 3),
          a.Set("ink tin", "ultramarine, tin 2"), a.Note("half price 50 % off", 1))
    s.day(OTHER)
    s.say(a.Note("the heron's leg", 1), a.Tag("salty", 1), a.Note("dull north light", to="session"))
    s.day()
    s.say(a.Tag("lint", 1), a.LeftOff("scrim to be washed"))
    return s


def test_a_word_is_found_wherever_it_stands(studio):
    """Tags and notes of two prints, the newest day first."""
    assert studio.found("salty") == [
        (1, "tag", "salty"), (2, "note", "Salty after lunch, fresh scrim"), (2, "tag", "salty")]


@pytest.mark.parametrize(("words", "found"), [
    ("salty after lunch", [(2, "note", "Salty after lunch, fresh scrim"), (2, "tag", "salty")]),
    ("LUNCH", [(2, "note", "Salty after lunch, fresh scrim")]),
    ("CREVÉ", [(3, "tag", "crevé")]),
    ("ultramarine", [(None, "setting", "ink tin: ultramarine, tin 2")]),
    ("50 %", [(1, "note", "half price 50 % off")]),
    ("%", [(1, "note", "half price 50 % off")]),
    ("_", []), ("!", []), ('"', []), ("text", []), ("nothing of the kind", []), ("  ", []),
    ("washed", [(None, "left off", "scrim to be washed")]),
    ("north dull", [(None, "note", "dull north light")]),
])  # fmt: skip
def test_all_words_in_any_case_and_no_sign_is_special(studio, words, found):
    """Every word must stand there; signs that mean something to a database mean themselves."""
    assert studio.found(words) == found


def test_words_may_stand_in_the_day_and_the_print(studio):
    """A tag of one print alone: its title is one of the words."""
    assert studio.found("heron salty") == [
        (1, "note", "the heron's leg"), (1, "tag", "salty")]
    assert studio.found("blue salty") == [(1, "tag", "salty")]
    assert (2, "tag", "salty") not in studio.found("blue salty")


def test_a_print_and_days_narrow_it(studio):
    """By a part of the title, by the first and the last day."""
    days = [r.opened.at for r in studio.book.sessions()]
    first = date.fromisoformat(studio.book.sessions()[0].name)
    assert len(days) == 3
    assert studio.found("salty", print_="heron") == [(1, "tag", "salty")]
    assert len(studio.found("salty", until=first)) == 2
    assert studio.found("salty", since=date(2200, 1, 1)) == []


def test_a_sheet_mark_names_its_sheet(studio):
    """A2 is the second pull of the first day."""
    (hit,) = studio.book.search("a2")
    assert (hit.impression, hit.where, hit.text) == (2, "mark", "A2")
    assert hit.session == studio.book.sessions()[0].name


def test_what_was_taken_back_or_off_is_not_found(studio):
    """A note taken back, a tag taken off, and one put on again."""
    studio.say(a.Note("mistaken", 1), a.TakeBack())
    assert studio.found("mistaken") == []
    studio.say(a.Tag("lint", 1, off=True))
    assert studio.found("lint") == []
    studio.say(a.Tag("lint", 1))
    assert studio.found("lint") == [(1, "tag", "lint")]


def test_only_so_many_are_given(studio):
    """The newest first."""
    assert studio.found("salty", most=1) == [(1, "tag", "salty")]


def test_an_answer_is_plain_values(studio):
    """Session, impression, where, text."""
    (hit,) = studio.book.search("lunch")
    assert hit.json() == {"session": hit.session, "impression": 2, "where": "note",
                          "text": "Salty after lunch, fresh scrim"}


def test_an_empty_book_holds_nothing():
    """No error, no answer."""
    assert Book.in_memory().search("salty") == []


TEXTS = st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=12)


@given(st.lists(TEXTS, min_size=1, max_size=6), st.data())
def test_any_part_of_any_note_is_found(notes, data):
    """Whatever a note holds: every note with the part in it is found, and no other."""
    studio = Studio()
    studio.day(sheets=1)
    notes = [n for n in notes if studio.shop.do(a.Note(n, 1)).refusal is None]
    if not notes:
        return
    whole = data.draw(st.sampled_from(notes))
    start = data.draw(st.integers(0, len(whole) - 1))
    part = whole[start : data.draw(st.integers(start + 1, len(whole)))]
    found = [h.text for h in studio.book.search(part) if h.where == "note"]
    assert found == [n for n in notes if part.lower() in n.lower()]
