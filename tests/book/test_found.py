"""What a search finds, in a book of a few entries: claims with their totals, names, days, order."""

from __future__ import annotations

from datetime import date

import pytest

from benchapp.book import Book
from benchapp.book.search import Hit
from benchapp.book.search_terms import WantedWord, wanted_words
from benchapp.events.entry import Draft
from benchapp.events.kinds import KINDS
from tests.book.samples import DAY, draft, moment, note, opened

SHEET = "2026-05-03#1"


def pear(word: str, /, **said: object) -> Draft:
    """An entry of the edition, about the one sheet where it is about any."""
    fields = KINDS["print", word].fields
    about = {"print": "pear", "sheet": SHEET, "over": ()}
    return Draft("print/pear", word, {
        **dict.fromkeys(fields), **{k: v for k, v in about.items() if k in fields}, **said})


def declared(size: int | None, **said: object) -> Draft:
    """The edition."""
    return pear("declared", **{"title": "Pear on a Sill", "artist": "Idony Threlwick",
                               "form": "standard", "size": size, "caps": {}, **said})


def pulled(impression: int, number: int, mark: str) -> Draft:
    """A pull."""
    return draft(DAY, "pulled", impression=impression, number=number, mark=mark, step="each.1",
                 plates=("key",), **{"for": "edition", "for_by": "rule"})


def book_of(*drafts: Draft) -> Book:
    """A book with these entries, each of its own action, after a session with one sheet."""
    book = Book.in_memory("x")
    for n, one in enumerate((opened(), pulled(1, 1, "A1"), *drafts)):
        book.append([one], moment(n), "word")
    return book


def claims(book: Book, words: str) -> list[str]:
    """The numbers that are found."""
    return [hit.text for hit in book.search(words) if hit.where == "number"]


def test_a_number_is_told_with_the_one_total_declared() -> None:
    """Two books that declare apart: each total finds it, and none is told with it."""
    one = [declared(15), pear("number given", number=3)]
    assert claims(book_of(*one), "3/15") == ["3/15"]
    assert claims(book_of(*one), "3/20") == []
    apart = book_of(*one, declared(20))
    assert claims(apart, "3/15") == claims(apart, "3/20") == claims(apart, "3") == ["3"]
    assert claims(apart, "3/40") == []
    later = book_of(*one, declared(20, over=("x:3",)))
    assert claims(later, "3") == ["3/20"]
    lowered = book_of(*one, pear("lowered", size=6, why="burr gone", over=("x:3",)))
    assert (claims(lowered, "3"), claims(lowered, "3/15")) == (["3/6"], [])


def test_an_open_edition_has_no_total() -> None:
    """The number is told alone, and asked for with a total it is not found."""
    book = book_of(declared(None), pear("number given", number=3))
    assert claims(book, "3") == ["3"]
    assert claims(book, "3/15") == []


def test_a_proof_has_the_total_of_its_own_kind() -> None:
    """Without a cap it has none, and without a number no total either."""
    caps = {"AP": {"cap": 4, "inside": False}, "BAT": {"cap": 1, "inside": False}}
    book = book_of(declared(15, caps=caps), pear("proof given", kind="AP", number=2),
                   pear("proof given", sheet="2026-05-03#2", kind="PP", number=1),
                   pear("proof given", sheet="2026-05-03#3", kind="BAT"))
    assert claims(book, "AP 2") == claims(book, "ap II/IV") == ["AP 2/4"]
    assert claims(book, "AP 2/15") == []
    assert claims(book, "PP 1") == ["PP 1"]
    assert claims(book, "bat") == ["BAT"]


def test_what_was_signed_keeps_the_total_on_it() -> None:
    """Whatever is declared since."""
    book = book_of(declared(15), pear("signed", kind="edition", number=3, of=15, open=False),
                   declared(20, over=("x:3",)))
    assert claims(book, "3") == claims(book, "3/15") == ["3/15"]
    assert claims(book, "3/20") == []


def test_a_hit_says_where_it_is_and_what_tells_it() -> None:
    """A sheet of a session told of by its edition; a note; a text of the edition; a stack."""
    book = book_of(declared(15), pear("number given", number=3), note("hair in the nip"),
                   pear("lowered", size=6, why="burr gone", over=("x:3",)),
                   draft("stack/1@x", "begun", stack="1@x", name="boards of May", drying=()),
                   draft("stack/1@x", "change skipped", stack="1@x", why="too damp still"))
    one, = (hit for hit in book.search("3/6") if hit.where == "number")
    assert one == Hit("2026-05-03", "2026-05-03", "Slack Water", 1, "number", "3/6",
                      SHEET, "pear", "")
    assert book.search("hair") == [
        Hit("2026-05-03", "2026-05-03", "Slack Water", None, "note", "hair in the nip")]
    assert book.search("burr") == [
        Hit("", "", "Pear on a Sill", None, "short", "burr gone", "", "pear", "")]
    assert book.search("damp") == [
        Hit("", "", "boards of May", None, "skipped", "too damp still", "", "", "1@x")]


def test_a_sheet_is_known_by_its_number_though_it_was_begun_later() -> None:
    """The second begun was pulled first; sheets come in the order begun."""
    book = Book.in_memory("x")
    for n, one in enumerate((opened(), pulled(2, 1, "A1"), pulled(1, 2, "A2"),
                             draft(DAY, "tagged", impression=2, tag="salty"),
                             draft(DAY, "tagged", impression=1, tag="salty"))):
        book.append([one], moment(n), "word")
    assert [(h.impression, h.sheet) for h in book.search("salty")] == [
        (2, "2026-05-03#1"), (1, "2026-05-03#2")]
    assert [h.text for h in book.search("a2")] == ["A2"]


def test_days_prints_and_number_narrow_what_is_found() -> None:
    """By the day on the wall there: at 23:30 UTC it is the next day two hours east."""
    late = 1_777_800_000_000 + 14 * 3_600_000 + 10 * 60_000
    book = book_of(note("rain"))
    book.append([opened("2026-05-04"), note("rain again", "session/2026-05-04")],
                moment(wall_ms=late), "open")
    found = {1: ["rain"], 2: ["rain again"]}
    assert [h.text for h in book.search("rain", since=date(2026, 5, 4))] == found[2]
    assert [h.text for h in book.search("rain", until=date(2026, 5, 3))] == found[1]
    assert [h.text for h in book.search("rain")] == found[2] + found[1]
    assert [h.text for h in book.search("rain", most=1)] == found[2]
    assert book.search("rain", print_="pear") == []
    assert len(book.search("rain", print_="SLACK")) == 2
    assert book.search("") == []


def test_what_no_opening_tells_of_is_found_without_a_title() -> None:
    """A text of an edition, or of a session, whose first entry the book does not have."""
    book = Book.in_memory("x")
    book.append([pear("lowered", size=6, why="burr gone"), note("burr")], moment(), "word")
    assert book.search("burr") == [
        Hit("2026-05-03", "", "", None, "note", "burr"),
        Hit("", "", "", None, "short", "burr gone", "", "pear", "")]


def test_own_words_about_people_are_found_only_when_asked() -> None:
    """They stay at home."""
    book = book_of(declared(15), pear("told in private", words={"to": "Zoë"}))
    assert book.search("zoe") == []
    assert [h.text for h in book.search("zoe", private=True)] == ["to: Zoë"]


@pytest.mark.parametrize(("typed", "wanted"), [
    ("Salty", [WantedWord("salty")]),
    ("k7 K7", [WantedWord("k7", ("k", 7))]),
    ("abcd7", [WantedWord("abcd7")]),
    ("k07", [WantedWord("k07")]),
    ("12", [WantedWord("12", None, ("edition", 12))]),
    ("12/40", [WantedWord("12/40", None, ("edition", 12), 40)]),
    ("XII/XL", [WantedWord("xii/xl", None, ("edition", 12), 40)]),
    ("mix", [WantedWord("mix")]),
    ("AP II", [WantedWord("ap ii", None, ("AP", 2))]),
    ("ap 2/4 salty", [WantedWord("ap 2/4", None, ("AP", 2), 4), WantedWord("salty")]),
    ("bat", [WantedWord("bat", None, ("BAT", None))]),
    ("e.v. 3", [WantedWord("3", None, ("edition", 3))]),
    ("e.v.", [WantedWord("e.v.")]),
    ("", []),
])
def test_what_is_typed_is_read(typed: str, wanted: list[WantedWord]) -> None:
    """Words, marks, numbers with their totals, proofs of two words."""
    assert wanted_words(typed) == wanted
