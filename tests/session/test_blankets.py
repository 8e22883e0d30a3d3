"""Blankets: washed and swapped by one word, and the pulls since counted over all sessions."""

from __future__ import annotations

import pytest

from benchapp.decision import Refusal
from benchapp.events.entry import Entry
from benchapp.plain.words import parse_line
from benchapp.service.blankets import blankets_at
from benchapp.session import actions as a
from benchapp.session.actions.asking import ChoiceQuestion
from benchapp.session.actions.typed import NotUnderstood, ParseContext, ParsedLine
from benchapp.session.blankets import blanket_use, blanket_words, presses
from benchapp.views.messages import describe_change
from benchapp.views.questions import reply_to
from tests.session.support import INK, LIFT, PULL, Bench, recipe
from tests.session.test_counting import pull


def counts(entries: tuple[Entry, ...], place: str = "press") -> tuple[int | None, int | None]:
    """Pulls since washed and since swapped."""
    use = blanket_use(entries, place)
    return (None if use.washed is None else use.washed.pulls,
            None if use.swapped is None else use.swapped.pulls)


def test_pulls_are_counted_since_each_and_not_before_anyone_said():
    """Not known until it was said; a wash of those swapped out tells nothing of these."""
    b = Bench(wanted=9)
    pull(b, 2)
    assert counts(b.room.journal) == (None, None)
    assert "not known since when they were washed or swapped" in blanket_words(
        blanket_use(b.room.journal, "press"))
    b.say(a.SeeToBlankets("washed"))
    pull(b, 1)
    assert counts(b.room.journal) == (1, None)
    b.say(a.SeeToBlankets("swapped"))
    pull(b, 2)
    assert counts(b.room.journal) == (None, 2)
    b.say(a.SeeToBlankets("washed"))
    pull(b, 1)
    assert counts(b.room.journal) == (1, 3)
    told = blanket_words(blanket_use(b.room.journal, "press"))
    assert "1 pull since you washed them on " in told
    assert "3 pulls since you swapped them on " in told
    assert "common practice, no source" in told


def test_a_counterproof_counts_and_what_was_taken_back_does_not():
    """Neither a pull nor a wash that never was."""
    b = Bench(wanted=9)
    b.say(a.SeeToBlankets("swapped"))
    pull(b, 1)
    b.say(a.Counterproof())
    assert counts(b.room.journal) == (None, 2)
    b.back()
    assert counts(b.room.journal) == (None, 1)
    b.say(a.SeeToBlankets("swapped"))
    assert counts(b.room.journal) == (None, 0)
    b.back()
    assert counts(b.room.journal) == (None, 1)


def test_they_are_of_a_press():
    """Another press has its own; with two, which one has to be said."""
    other = PULL.replace("at: press", "at: small press")
    two = Bench(recipe(each=(INK, other, LIFT), extra="places: {small press: 1}\n"), wanted=3)
    assert presses(two.s.recipe) == ("small press",)
    assert isinstance(two.do(a.SeeToBlankets("washed", "press")).refusal, Refusal)
    two.say(a.SeeToBlankets("washed"))
    pull(two, 1)
    assert counts(two.room.journal, "small press") == (1, None)
    assert counts(two.room.journal) == (None, None)


def test_it_is_told_and_may_be_said_of_a_closed_day():
    """They are washed when the day is over, too."""
    b = Bench(wanted=1)
    b.to_close()
    assert b.s.closed is not None
    before = b.room
    entries = b.do(a.SeeToBlankets("washed")).entries
    assert describe_change(before, b.room, entries)[0] == "Blankets washed"


@pytest.mark.parametrize(("line", "means"), [
    ("blankets washed", a.SeeToBlankets("washed")),
    ("blankets Swapped: small press", a.SeeToBlankets("swapped", "small press"))])
def test_its_word(line: str, means: a.SeeToBlankets):
    """Washed or swapped, and which press."""
    b = Bench()
    assert parse_line(ParseContext(b.room, b.now), line) == ParsedLine(means)


@pytest.mark.parametrize("line", ["blankets", "blankets new", "blankets : press"])
def test_what_was_done_has_to_be_said(line: str):
    """With what to write."""
    b = Bench()
    with pytest.raises(NotUnderstood, match="blankets washed, or blankets swapped"):
        parse_line(ParseContext(b.room, b.now), line)


def test_the_key_asks_which():
    """Two answers on one press."""
    b = Bench()
    asked = reply_to(b.room, b.s, "blankets", b.now)
    assert isinstance(asked, ChoiceQuestion)
    assert [reply for _, reply in asked.answers] == [
        a.SeeToBlankets("washed", "press"), a.SeeToBlankets("swapped", "press")]


def test_the_book_counts_over_all_prints_on_the_press():
    """Sessions opened later are counted; what was pulled before is not."""
    b = Bench(wanted=9)
    pull(b, 2)
    assert blankets_at(b.book, "press").swapped is None
    b.advance(1)
    b.say(a.SeeToBlankets("swapped"))
    b.advance(1)
    pull(b, 1)
    b.until("Pull")
    b.say(a.Enough())
    b.open(recipe().replace("Slack Water", "Neap"), 9)
    pull(b, 3)
    found = blankets_at(b.book, "press")
    assert found.swapped is not None
    assert (found.swapped.pulls, found.washed) == (4, None)
    assert blankets_at(b.book, "small press").swapped is None
