"""Editions as the book has them: sheets from sessions, decided, written, read again."""

from __future__ import annotations

import json

import pytest

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.edition import actions as a
from benchapp.edition.figures import edition_figures
from benchapp.edition.holding import SheetLabel
from benchapp.edition.numbers import taken_numbers
from benchapp.edition.state import Cap, Sheet
from benchapp.recipe.reader import read_recipe
from benchapp.service.editions import EditionService
from benchapp.session import actions as s
from benchapp.session.edition_links import (
    declared_by,
    pack_sheets,
    said_packed,
    said_unpacked,
    unpack_sheets,
)
from benchapp.session.state import Session
from tests.service.edition_days import PEAR, Studio, pear


def test_every_sheet_of_every_day_is_in_the_register():
    """Warm-ups and counting sheets, each once, by session and ordinal, over its one plate."""
    studio = Studio()
    first, second = studio.day(wanted=1), studio.day(wanted=2)
    sheets = studio.editions.register.sheets
    assert [s.mark for s in sheets.values()] == ["D1", "D2", "D3", "E1", "E2", "E3", "E4"]
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
                                        "This recipe says AP 1; you declared none (2026-05-04)")
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
    assert (taken_numbers(e).taken, taken_numbers(e).next, e.by) == ((1,), 2, "printer")


def test_warnings_are_of_the_editions_as_they_are_then():
    """Making a clash names it, also beforehand; mending it does not."""
    studio = Studio()
    day = studio.day()
    editions = studio.editions
    k, other = f"{day}#3", f"{day}#4"
    editions.do(a.GiveNumbers(PEAR, ((k, 1), (other, 2))))
    clash = "2/5 is on D3 and D4"
    wrong = a.Correct(PEAR, k, SheetLabel("edition", 2), "it says 2")
    assert editions.would(wrong).warnings == editions.do(wrong).warnings == (clash,)
    assert editions.to_sign(a.Sign(PEAR, (other,)))[1] == ("No BAT is approved yet", clash)
    mended = a.Correct(PEAR, k, SheetLabel("edition", 1), "it says 1 after all")
    assert editions.would(mended).warnings == editions.do(mended).warnings == ()


def test_a_sheet_that_is_somewhere_else_or_no_more_leaves_its_stack():
    """In the same action; one that is under the boards stays there."""
    studio = Studio()
    day = studio.day(pear(drying="  - {do: Change blotters, after: 3 h}"))
    editions = studio.editions
    ids = [f"{day}#{n}" for n in range(1, 6)]

    def lying() -> list[str]:
        (stack,) = studio.editions.boards.up
        assert editions.boards == studio.editions.boards
        return [x.mark for x in reversed(stack.sheets)]

    assert lying() == ["D1", "D2", "D3", "D4", "D5"]
    for move, left in ((a.Put(PEAR, ids[4], "boards"), 5), (a.HandOut(PEAR, ids[4], "sold"), 4),
                       (a.HandOut(PEAR, ids[3], "given"), 3), (a.Destroy(PEAR, ids[2], "torn"), 2),
                       (a.Put(PEAR, ids[1], "drawer"), 1)):
        done = editions.do(move)
        assert done.ok
        assert len({x.action for x in done.entries}) == 1
        assert len(lying()) == left


def test_what_is_written_meanwhile_is_read_again():
    """A day printed after the register was read joins it."""
    studio = Studio()
    studio.day(wanted=1)
    editions = studio.editions
    assert edition_figures(editions.register, PEAR).printed == 3
    studio.day(wanted=1)
    editions.load()
    assert edition_figures(editions.register, PEAR).printed == 6


# -- what is kept in the book ------------------------------------------------------------------


def kept(book: Book) -> list[str]:
    """The sessions that had to be folded to read the editions of a book."""
    folded: list[str] = []

    class Watched(EditionService):
        def session(self, id_: str) -> Session | None:
            folded.append(id_)
            return super().session(id_)

    watched = Watched(book, FakeClock())
    assert watched.register.sheets
    assert all(d.recipe.print.title == "Pear on a Sill" for d in watched.days)
    return folded


def test_a_book_put_away_gives_its_sheets_without_folding_a_day(tmp_path):
    """The same register, whether days are folded or what they came to is read."""
    path = tmp_path / "b.db"
    with Book.open(path, write=True, create=True) as book:
        studio = Studio(book)
        first = studio.day(wanted=2)
        studio.workshop.look_at(first)
        studio.workshop.do(s.Judge("spoiled", 3), session=first)
        studio.workshop.do(s.GiveMark("X9", 4), session=first)
        assert kept(book) == [first]
        live = studio.editions
    with Book.reading(path) as book:
        assert kept(book) == []
        again = EditionService(book, studio.clock)
        assert again.register == live.register
        assert [d.sheets for d in again.days] == [d.sheets for d in live.days]
    with Book.open(path, write=True) as book:
        shop = Studio(book).workshop
        shop.look_at(first)
        assert shop.do(s.Judge("keep", 3), session=first).ok
        assert kept(book) == [first]  # it went on: what was kept holds no more
        assert EditionService(book, studio.clock).register.sheets[f"{first}#3"].verdict == "keep"


@pytest.mark.parametrize("told", [
    None, "no list", [["1"]], [[1, "D1", "edition", None, None, None, []]],
    [["1", "D1", "edition", None, None, "early", []]],
])
def test_what_was_kept_wrongly_is_no_sheet(told):
    """Whoever reads it folds the day instead."""
    assert unpack_sheets(told, "2026-05-03@x", "2026-05-03", PEAR) is None


def test_sheets_come_back_from_plain_values_as_they_were():
    """Proofs with their state, times that nobody took, several plates."""
    sheets = (
        Sheet("d@x#1", "D1", "d", PEAR, "SP", "II", None, None, ("tone", "key", "key")),
        Sheet("d@x#2", "D2", "d", PEAR, "edition", None, "keep", 1_777_795_200_000, ()))
    assert unpack_sheets(json.loads(json.dumps(pack_sheets(sheets))), "d@x", "d", PEAR) == sheets


@pytest.mark.parametrize("edition", ["edition: 5, proofs: {AP: {cap: 2, inside: true}, PP: 1}", ""])
def test_what_a_recipe_says_comes_back_from_plain_values(edition):
    """A size with its proofs, or nothing: without the recipe being read again."""
    recipe = read_recipe(pear(edition))
    plain = json.loads(json.dumps(said_packed(recipe)))
    assert said_unpacked(plain, PEAR) == (declared_by(recipe),)


def test_a_recipe_declares_which_proofs_count_inside() -> None:
    """A cap inside takes of the edition's own numbers, one outside does not."""
    declared = declared_by(read_recipe(pear(
        "edition: 5, proofs: {AP: {cap: 2, inside: true}, PP: 1}")))
    assert declared is not None
    assert declared.caps == {"AP": Cap(2, inside=True), "PP": Cap(1, inside=False)}


@pytest.mark.parametrize("said", [None, "x", [1], ["a", "b", 5, "open", {}],
                                  ["a", "b", 5, "limited", {"AP": [1, 1]}]])
def test_what_was_kept_wrongly_is_read_from_the_recipe(said):
    """It says neither a size nor that there is none."""
    assert said_unpacked(said, PEAR) == ()
