"""Editions as the book has them: sheets from sessions, decided, written, read again."""

from __future__ import annotations

from benchapp.edition import acts as a
from benchapp.edition.figures import figures
from benchapp.edition.numbers import taken
from benchapp.edition.state import Cap
from tests.edition_days import PEAR, Studio, pear


def test_every_sheet_of_every_day_is_in_the_register():
    """Warm-ups and counting sheets, each once, by session and ordinal, over its one plate."""
    studio = Studio()
    first, second = studio.day(wanted=1), studio.day(wanted=2)
    sheets = studio.editions.register.sheets
    assert [s.mark for s in sheets.values()] == ["A1", "A2", "A3", "B1", "B2", "B3", "B4"]
    assert list(sheets)[:3] == [f"{first}#{n}" for n in (1, 2, 3)]
    third = sheets[f"{second}#3"]
    assert (third.print, third.purpose, third.plates, third.session) == (
        PEAR, "edition", ("pear",), "2026-05-04")


def test_the_size_is_what_the_first_recipe_says_and_is_written_with_the_first_number():
    """Shown before anything is written; then in the book, in the action that rests on it."""
    studio = Studio()
    day = studio.day(pear("edition: 5, proofs: {AP: {cap: 2, inside: true}}"))
    editions = studio.editions
    e = editions.register.edition(PEAR)
    assert (e.size, e.caps, e.by) == (5, {"AP": Cap(2, inside=True)}, "recipe")
    assert studio.book.streams("print") == []
    done = editions.do(a.GiveNumbers(PEAR, ((f"{day}#3", 4),)))
    assert [x.kind for x in done.entries] == ["declared", "number given"]
    assert len({x.action for x in done.entries}) == 1
    again = studio.editions
    assert again.register.edition(PEAR).holdings[f"{day}#3"].bears.number == 4
    assert again.register == editions.register


def test_a_later_recipe_that_says_otherwise_is_told_and_changes_nothing():
    """N stays; the session whose recipe differs is named."""
    studio = Studio()
    day = studio.day(pear("edition: 5"))
    studio.day(pear("edition: 9, proofs: {AP: 1}"))
    editions = studio.editions
    assert editions.otherwise(PEAR) == ("This recipe says an edition of 9; it stays 5 (2026-05-04)",
                                        "This recipe says AP 1; declared is none (2026-05-04)")
    assert editions.do(a.GiveNumbers(PEAR, ((f"{day}#3", None),))).ok
    assert editions.register.edition(PEAR).size == 5
    lowered = editions.do(a.Lower(PEAR, 4, "the plate is worn"))
    assert lowered.ok
    assert editions.register.edition(PEAR).size == 4
    assert len(editions.otherwise(PEAR)) == 2


def test_a_short_edition_before_anything_was_numbered_lowers_what_the_recipe_says():
    """The size of the recipe is in the book first, so nothing is said by two."""
    studio = Studio()
    studio.day(pear("edition: 5"))
    editions = studio.editions
    assert editions.would(a.Lower(PEAR, 3, "worn")).ok
    assert studio.book.streams("print") == []
    assert editions.do(a.Lower(PEAR, 3, "worn")).ok
    e = studio.editions.register.edition(PEAR)
    assert (e.size, e.sizes) == (3, ())


def test_a_refusal_writes_nothing():
    """A warm-up takes no number, and the book does not grow for being asked."""
    studio = Studio()
    day = studio.day()
    editions, before = studio.editions, studio.book.last_sequence()
    refused = editions.do(a.GiveNumbers(PEAR, ((f"{day}#1", 1),)))
    assert refused.refusal is not None
    assert refused.refusal.rule == "for"
    assert studio.book.last_sequence() == before


def test_without_a_size_anywhere_it_is_declared_by_the_printer():
    """A recipe with no edition declares nothing; the printer does, and then numbers go."""
    studio = Studio()
    day = studio.day(pear(""))
    editions = studio.editions
    assert editions.do(a.GiveNumbers(PEAR, ((f"{day}#3", 1),))).refusal.rule == "size"
    assert editions.do(a.Declare(PEAR, *editions.title(PEAR), 12)).ok
    assert editions.do(a.GiveNumbers(PEAR, ((f"{day}#3", 1),))).ok
    e = editions.register.edition(PEAR)
    assert (taken(e).taken, taken(e).next, e.by) == ((1,), 2, "printer")


def test_what_is_written_meanwhile_is_read_again():
    """A day printed after the register was read joins it."""
    studio = Studio()
    studio.day(wanted=1)
    editions = studio.editions
    assert figures(editions.register, PEAR).printed == 3
    studio.day(wanted=1)
    editions.load()
    assert figures(editions.register, PEAR).printed == 6
