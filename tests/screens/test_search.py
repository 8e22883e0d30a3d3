"""Words found again while they are typed: from the Studio to the sheet's session."""

from __future__ import annotations

from typing import Any

import pytest

from benchapp.book.search import Finder, Hit
from benchapp.drying import actions as b
from benchapp.edition import actions as acts
from benchapp.screens.search import LISTED
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.screens.days import closed, opened, printed, run, screens, small, workshop
from tests.screens.test_editions import PEAR, dried


def two_days() -> tuple[SessionService, str, str]:
    """Two prints on two days; the first is salty and blue, the second blue alone."""
    shop, clock = workshop()
    ids = []
    for title in ("Pear on a Sill", "Quince"):
        ids.append(opened(shop, small(title)))
        printed(shop, clock, 2)
        shop.do(a.Note("a touch more blue in it", 1))
        if title == "Quince":
            shop.do(a.Set("left side", "3.25 turns"))
        else:
            shop.do(a.Tag("salty", 2))
        closed(shop, clock)
        shop.do(a.CanEmptied())
        shop.leave_bench()
        clock.advance(24 * 60 * 60_000)
    return shop, ids[0], ids[1]


def test_each_key_narrows_the_answers_and_enter_opens_the_review() -> None:
    """From the Studio: a word, another, the line chosen, the day it stands in, and back."""
    shop, _, _ = two_days()

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("search")
            await here.press("f4")
            await here.shows("Search", "Type words, or parts of them")
            await here.press(*"blu")
            await here.shows("2 found", "Pear on a Sill", "Quince", "no. 1", "more blue")
            assert here.text.index("Quince") < here.text.index("Pear"), "the newest first"
            await here.press("space", *"pear")
            await here.shows("1 found", "Pear on a Sill")
            assert "Quince" not in here.text
            await here.press("enter")
            await here.shows("Review of 2026-05-03", "Pear on a Sill", "▸D1", "more blue")
            await here.press("escape")
            await here.shows("Search", "more blue")
            await here.press("escape")
            await here.shows("Studio")

    run(work())


def test_the_arrows_choose_while_the_words_keep_the_keys() -> None:
    """The second answer is the other day's; the next letter still goes into the words."""
    shop, _, _ = two_days()

    async def work() -> None:
        async with screens(shop, over="search", words="blue") as here:
            await here.shows("2 found")
            await here.press("down", "enter")
            await here.shows("Review of 2026-05-03")
            await here.press("escape")
            await here.press("x")
            await here.shows("Nothing found for bluex", "0 found")
            await here.press("enter")
            await here.shows("Search")

    run(work())


def test_the_book_is_made_ready_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """However many keys are typed; each of them is answered."""
    shop, _, _ = two_days()
    made: list[Finder] = []
    asked: list[str] = []
    finder, find = shop.book.finder, Finder.find

    def finder_once() -> Finder:
        made.append(finder())
        return made[-1]

    def found(self: Finder, words: str, **about: Any) -> list[Hit]:
        asked.append(words)
        return find(self, words, **about)

    monkeypatch.setattr(shop.book, "finder", finder_once)
    monkeypatch.setattr(Finder, "find", found)

    async def work() -> None:
        async with screens(shop, over="search") as here:
            await here.press(*"sal")
            await here.shows("1 found")

    run(work())
    assert len(made) == 1
    assert asked[-1] == "sal"


def test_more_than_fit_say_so() -> None:
    """The first fifty are listed, and the head says that there are more."""
    shop, clock = workshop()
    opened(shop, small())
    printed(shop, clock, 1)
    for n in range(LISTED + 5):
        shop.do(a.Note(f"blue {n}", 1))

    async def work() -> None:
        async with screens(shop, over="search", words="blue") as here:
            await here.shows(f"{LISTED} of more: add a word", "blue 0", "▼")
            await here.press("pagedown", "pagedown", "pagedown")
            await here.shows(f"blue {LISTED - 1}", "▲")

    run(work())


def test_a_word_far_into_a_long_note_is_in_sight() -> None:
    """The line begins near it, and the note stands whole at the foot."""
    shop, clock = workshop()
    opened(shop, small())
    printed(shop, clock, 1)
    shop.do(a.Note(f"{'plain ' * 20}then a salty corner", 1))

    async def work() -> None:
        async with screens(shop, over="search", words="salty") as here:
            await here.shows("note      … lain then a salty cor",
                             "then a salty corner")

    run(work())


def test_an_empty_book_is_searched_without_harm() -> None:
    """Nothing is found, and Enter opens nothing."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop, over="search", words="blue") as here:
            await here.shows("Nothing found for blue")
            await here.press("enter", "down")
            await here.shows("0 found")

    run(work())


def sent_out() -> tuple[SessionService, str]:
    """A day whose third sheet is 1/5 and with a gallery, to somebody; its session's id."""
    shop, session = dried()
    sheet = f"{session}#3"
    for action in (acts.GiveNumbers(PEAR, ((sheet, 1),)),
                   acts.HandOut(PEAR, sheet, "gallery", "consignment", words={"to": "Zoë Brück"}),
                   acts.VoidNumber(PEAR, 4, "pencilled twice")):
        assert shop.editions.do(action).ok
    shop.do(a.Note("Crevé by the stalk", 4), session=session)
    return shop, session


def test_accents_and_capitals_make_no_difference() -> None:
    """`creve` finds crevé."""
    shop, _ = sent_out()

    async def work() -> None:
        async with screens(shop, over="search", words="creve") as here:
            await here.shows("1 found", "no. 4", "Crevé by the stalk")

    run(work())


def test_a_number_and_a_mark_open_the_session_at_their_sheet() -> None:
    """`1/5`, and `a3`: the same sheet, read back."""
    shop, _ = sent_out()

    async def work() -> None:
        async with screens(shop, over="search") as here:
            for typed in ("1/5", "d3"):
                await here.press(*typed)
                await here.shows("1 found", "no. 3")
                await here.press("enter")
                await here.shows("Review of 2026-05-03", "▸D3")
                await here.press("escape", *["backspace"] * 3)
                await here.shows("Type words")

    run(work())


def test_what_is_said_of_an_edition_or_a_stack_opens_there() -> None:
    """Where a sheet is, why a number is void, what lies on the boards."""
    shop, session = sent_out()
    assert shop.editions.on_boards(b.Weight(f"{session}.1", 12_000)).ok

    async def work() -> None:
        async with screens(shop, over="search", words="consignment") as here:
            await here.shows("1 found", "where", "with a gallery, consignment")
            await here.press("enter")
            await here.shows("Where · Pear on a Sill", "own words: o shows them")
            await here.press("escape", *["backspace"] * 11, *"twice")
            await here.shows("1 found", "void", "4: pencilled twice")
            await here.press("enter")
            await here.shows("Editions", "Pear on a Sill", "pencilled twice")
            await here.press("escape", *["backspace"] * 5, *"12 kg")
            await here.shows("1 found", "weight", "12 kg")
            await here.press("enter")
            await here.shows("Change blotters", "12 kg")

    run(work())


def test_own_words_about_people_are_found_after_a_key_alone() -> None:
    """Typed, `o` is a letter; after tab it is the key, and tab goes back to the words."""
    shop, _ = sent_out()

    async def work() -> None:
        async with screens(shop, over="search", words="zo") as here:
            await here.shows("Nothing found for zo", "0 found")
            await here.press("o")
            await here.shows("Nothing found for zoo")
            await here.press("backspace", "tab")
            await here.shows("o: search your own words", "tab: type again")
            await here.press("o")
            await here.shows("Search, with your own words", "own words", "to: Zoë Brück")
            await here.press("tab", "e", *" br")
            await here.shows("1 found", "zoe br")
            await here.press("enter")
            await here.shows("Where · Pear on a Sill", "own words: o shows them")
            await here.press("escape", "tab", "o", "tab")
            await here.shows("Nothing found for zoe br")
            await here.press("tab", "question_mark")
            await here.shows("Help")
            await here.press("escape")
            await here.shows("o: search your own words")
            await here.press("o")
            await here.shows("Search, with your own words", "to: Zoë Brück")

    run(work())
