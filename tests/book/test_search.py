"""Words found again: where they stand, all of them, and not what was taken back."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from benchapp.book import Book
from benchapp.book.folding import fold_text
from benchapp.clock import FakeClock
from benchapp.events.entry import Draft
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.fold import replay_entries
from tests.book.samples import draft, moment, note, opened
from tests.session.support import INK, LIFT, MIN, PULL, recipe

TEXT = recipe(each=(INK, PULL, LIFT))
OTHER = TEXT.replace("Slack Water", "Blue Heron")


class Studio:
    """Days printed one after the other into one book."""

    def __init__(self) -> None:
        self.clock = FakeClock()
        self.book = Book.in_memory()
        self.shop = SessionService(self.book, self.clock)

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
    ("CREVÉ", [(3, "tag", "crevé")]), ("creve", [(3, "tag", "crevé")]),
    ("crevè", [(3, "tag", "crevé")]),
    ("ＬＵＮＣＨ", [(2, "note", "Salty after lunch, fresh scrim")]),
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
    """D2 is the second pull of the first day."""
    (hit,) = studio.book.search("d2")
    assert (hit.impression, hit.where, hit.text) == (2, "mark", "D2")
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
    """Session, print, impression, where, text."""
    (hit,) = studio.book.search("lunch")
    assert hit.json() == {"session": hit.session, "print": "Slack Water", "impression": 2,
                          "where": "note", "text": "Salty after lunch, fresh scrim"}


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
    words = fold_text(part).split()
    found = {h.text for h in studio.book.search(part) if h.where == "note"}
    assert found == {n for n in notes if any(word in fold_text(n) for word in words)}
    assert not words or whole in found


# -- verdicts, readings of the day, words of several books ------------------------------------


def test_a_verdict_is_found_as_it_stands_now(studio):
    """The last one of a sheet, by any part of the word; none where it was taken away."""
    studio.say(a.Judge("keep", 1), a.Judge("doubtful", 2))
    assert studio.found("doubt") == [(2, "verdict", "doubtful")]
    assert studio.found("keep") == [(1, "verdict", "keep")]
    studio.say(a.Judge("spoiled", 1), a.Judge(None, 2))
    assert studio.found("spoiled") == [(1, "verdict", "spoiled")]
    assert studio.found("keep") == studio.found("doubtful") == []
    studio.say(a.TakeBack(), a.TakeBack())
    assert studio.found("keep") == [(1, "verdict", "keep")]


def test_a_verdict_and_a_tag_of_one_sheet_are_found_together(studio):
    """Spoiled and salty: the sheet that is both, and no other."""
    studio.say(a.Tag("salty", 2), a.Tag("salty", 3), a.Judge("spoiled", 3))
    assert studio.found("spoiled salty") == [(3, "tag", "salty"), (3, "verdict", "spoiled")]


def test_a_weighing_of_the_day_is_found(studio):
    """And so is a reading of one sheet, with its number."""
    studio.say(a.TakeReading("control sheet", "127", "g"), a.TakeReading("tone", "127", None, 1))
    assert studio.found("127") == [
        (None, "setting", "control sheet: 127 g"), (1, "reading", "tone: 127")]


def by_fold(book: Book, part: str) -> set[tuple[str, int, str, str]]:
    """Tags and verdicts with a part in them, by the fold alone."""
    out = set()
    for row in book.sessions():
        s = replay_entries(book.entries(streams=book.streams_of(row.id))).sessions[row.id]
        for i in s.impressions:
            out |= {(row.id, i.number, "tag", x) for x in i.tags if part in x.lower()}
            if part in (i.verdict or ""):
                out.add((row.id, i.number, "verdict", i.verdict))
    return out


def pulled(book: Book) -> int:
    """The sheets of a book that are pulled, by the fold alone."""
    return sum(i.pulled for row in book.sessions() for i in replay_entries(
        book.entries(streams=book.streams_of(row.id))).sessions[row.id].impressions)


def test_a_pull_taken_back_gives_its_sheet_no_number(studio):
    """What is said of the sheet in hand then is found, and by no number or mark."""
    studio.day(sheets=1)
    studio.say(a.Tag("slur", 1), a.TakeBack(), a.TakeBack())
    while studio.shop.room.session.impressions[0].pulled:
        studio.say(a.TakeBack())
    studio.say(a.Tag("slur", 1))
    assert studio.found("slur") == [(None, "tag", "slur")]
    letters = studio.shop.room.session.letters
    assert studio.found(f"{letters}1") == []


SAID = st.lists(st.tuples(st.integers(0, 1), st.integers(0, 5), st.sampled_from((1, 1, 2)),
                          st.sampled_from((0, 1_000))), min_size=3, max_size=12)


@settings(max_examples=settings().max_examples // 2)
@example([(0, 5, 1, 0), (0, 5, 1, 0), (1, 0, 2, 0)])
@given(SAID)
def test_what_is_found_is_what_the_fold_has(todo):
    """Tags and verdicts of two books about one day, whatever was said in what order."""
    one, two = Studio(), Studio()
    one.day(sheets=2)
    two.book.merge(one.book.entries())
    two.clock.advance(24 * 60 * MIN + 500)
    id_ = one.book.sessions()[0].id
    two.shop.look_at(id_)
    for who, what, n, wait in todo:
        studio = (one, two)[who]
        studio.clock.advance(wait)
        action = (a.Tag("salty", n), a.Tag("salty", n, off=True), a.Judge("keep", n),
                  a.Judge("spoiled", n), a.Judge(None, n), a.TakeBack())[what]
        studio.shop.do(action, session=id_)
    one.book.merge(two.book.entries())
    two.book.merge(one.book.entries())
    for book in (one.book, two.book):
        for part in ("salt", "keep", "spoil"):
            found = [(h.id, h.impression, h.where, h.text) for h in book.search(part)]
            assert len(found) == len(set(found))
            # What one book says of a sheet whose pull the other took back meanwhile is found,
            # and by no number: the fold has no such sheet.
            numbered = {x for x in found if x[1] is not None}
            assert numbered == {x for x in by_fold(book, part) if x[1] is not None}
            assert numbered == set(found) or pulled(book) < 2


# -- many days --------------------------------------------------------------------------------


def test_the_oldest_of_many_days_is_found():
    """Far down the list; and no more is looked for than is wanted."""
    book = Book.in_memory()
    for n in range(90):
        name = f"{2000 + n}-05-03"
        text = "dull north light" if n in (1, 89) else "salty"
        book.append([opened(name), note(text, f"session/{name}")], moment(n), "open")
    assert [h.session for h in book.search("north light")] == ["2089-05-03", "2001-05-03"]
    assert [h.session for h in book.search("north light", most=1)] == ["2089-05-03"]
    assert len(book.search("salty")) == 88
    assert len(book.search("salty", most=70)) == 70


def test_a_print_without_a_session_is_found_by_its_artist():
    """By what was declared last; its title stands with it."""
    book = Book.in_memory()
    for artist in ("Nobody", "Idony Threlwick"):
        book.append([draft("print/pear", "declared", print="pear", title="Pear", artist=artist,
                           caps={}, roman=False, roman_proofs=False, over=[])], moment(), "edition")
    hits = book.search("threlwick")
    assert {(h.print, h.where, h.text) for h in hits} == {
        ("Pear", "print", "Pear, Idony Threlwick"),
        ("Pear", "edition", "Pear, Idony Threlwick: an open edition")}
