"""Words found again while they are typed: from the Studio to the sheet's session."""

from __future__ import annotations

from typing import Any

import pytest

from benchapp.book.search import Finder, Hit
from benchapp.screens.search import LISTED
from benchapp.session import actions as a
from benchapp.workshop import Workshop
from tests.screens.days import closed, opened, printed, run, screens, small, workshop


def two_days() -> tuple[Workshop, str, str]:
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
            await here.press("f")
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
            await here.shows("Nothing written down holds bluex", "0 found")
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
            await here.shows("note     … lain then a salty corn",
                             "then a salty corner")

    run(work())


def test_an_empty_book_is_searched_without_harm() -> None:
    """Nothing is found, and Enter opens nothing."""
    shop, _ = workshop()

    async def work() -> None:
        async with screens(shop, over="search", words="blue") as here:
            await here.shows("Nothing written down holds blue")
            await here.press("enter", "down")
            await here.shows("0 found")

    run(work())
