"""The morning after: Yesterday in the Studio, and the questions it asks."""

from __future__ import annotations

import pytest

from benchapp.drying.actions import TakeDown
from benchapp.recipe.reader import read_recipe
from benchapp.session import actions as a
from tests.screens.days import (
    DAY,
    MINUTE,
    closed,
    on_bench,
    one_day,
    opened,
    printed,
    run,
    screens,
    shipped,
    small,
    workshop,
)

LINES = ("At the press", "Yesterday", "In the water and damp", "Under boards")
HOT = """\
recipe: 1
print: {title: Ebb Tide, artist: Idony Threlwick}
plates: [{name: key, metal: copper, size: 100 x 140 mm}]
before:
  - {do: The room, hands: clean, must: [can emptied last night, can not emptied]}
each:
  - {do: Ink, hands: inky, time: 5 min}
  - {do: Pull, hands: clean, pulls: key}
  - {do: Lift, hands: clean, asks: [verdict]}
after:
  - {do: Hot plate off, hands: clean, must: [turned off, left on]}
  - {do: Rags, hands: clean, must: [out of the building, in a lidded metal can]}
"""


# -- Yesterday, a head of its own -------------------------------------------------------------


def test_what_yesterday_left_stands_under_its_own_head_each_with_its_print() -> None:
    """Facts, the can, sheets, the sentence and damp paper; no line of it above the places."""
    shop, clock = workshop()
    opened(shop, small())
    printed(shop, clock, 3)
    shop.do(a.LeftOff("scrim is worn"))
    closed(shop, clock)
    shop.do(a.Judge("keep", 1))
    other = opened(shop, small("Ebb Tide"))
    printed(shop, clock, 1)
    closed(shop, clock, facts=False)
    assert on_bench(shop).id == other
    assert shop.damp_pack(read_recipe(shipped("pane-moth")), 3).ok
    shop.leave_bench()
    clock.advance(20 * 60 * MINUTE)

    async def work() -> None:
        async with screens(shop, asking=False, size=(120, 40)) as here:
            await here.shows("Yesterday ", "Sunday 3 May", "Pear on a Sill · rag can emptied?",
                             "Pear on a Sill · 3 sheets not judged",
                             "Pear on a Sill · left off: “scrim is worn”",
                             "Ebb Tide · not said: Rags", "Ebb Tide · 2 sheets not judged",
                             "Damp paper · 3 sheets still damp, mould-made cotton")
            head = here.text.index("Yesterday ")
            assert here.text.index("At the press") < head < here.text.index("Pear on a Sill · rag")

    run(work())


@pytest.mark.parametrize(("row", "opens"), [
    ("unsaid", "Pear on a Sill, Sunday 3 May: Rags"),
    ("judge", "The round of"),
    ("sentence", "Review"),
])
def test_enter_opens_what_answers_the_line(row: str, opens: str) -> None:
    """A fact is asked, sheets are judged, a sentence is read in its day."""
    shop, clock = workshop()
    session = opened(shop, small())
    printed(shop, clock, 2)
    shop.do(a.LeftOff("scrim is worn"))
    closed(shop, clock, facts=False)
    shop.leave_bench()
    clock.advance(20 * 60 * MINUTE)

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("Yesterday")
            left = here.app.screen.query_one("#left")
            left.focus()
            left.choose(f"{row} {session}")  # type: ignore[attr-defined]
            await here.press("enter")
            await here.shows(opens)

    run(work())


def test_enter_on_the_can_asks_and_its_answer_is_written() -> None:
    """By number; the line goes away, and the day's review stands there instead."""
    shop, _, session = one_day(emptied=False)
    shop.look_at(session)
    for ordinal in range(1, 5):
        shop.do(a.Judge("keep", ordinal), session=session)

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("Pear on a Sill · rag can emptied?")
            await here.press("left", "enter")
            await here.shows("Rags went into the can", "1  emptied")
            assert here.kinds(session, "can emptied") == []
            await here.press("1")
            await here.shows("Pear on a Sill · 4 pulled")
            assert here.kinds(session, "can emptied") == [{}]
            await here.press("enter")
            await here.shows("Review")

    run(work())


def test_damp_paper_left_is_asked_what_is_left_of_it() -> None:
    """Enter asks; escape leaves the pack as it is."""
    shop, clock = workshop()
    assert shop.damp_pack(read_recipe(shipped("pane-moth")), 3).ok
    [id_] = shop.room.packs
    clock.advance(DAY)

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("Yesterday", "3 sheets still damp")
            await here.press("left", "home", "enter")
            await here.shows("What is left of this pack")
            await here.press("escape")
            assert shop.room.packs[id_].away is None
            await here.press("enter", "1")
            await here.shows("No paper is damp")
            assert "Yesterday" not in here.text

    run(work())


def test_a_day_whose_sheets_were_all_taken_down_is_found() -> None:
    """Without its stack, Yesterday leads to its review and to its sheets to judge."""
    shop, _, session = one_day()
    [stack] = shop.stacks().up
    assert shop.editions.on_boards(TakeDown(stack.id)).ok

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("Yesterday", "Pear on a Sill · 4 sheets not judged")
            assert "In the book" not in here.text  # one place for one day
            await here.press("left", "v")
            await here.shows("Review", "Pear on a Sill")
            await here.press("escape", "enter")
            await here.shows("The round of 2026-05-03")
            await here.press("k")
            assert [x["verdict"] for x in here.kinds(session, "judged")] == ["keep"]

    run(work())


def test_a_day_with_no_sheet_under_boards_is_found() -> None:
    """All were spoiled: no line under boards, nothing left to judge, and its day stands there."""
    shop, _, session = one_day()
    shop.look_at(session)
    for ordinal in range(1, 5):
        assert shop.do(a.Judge("spoiled", ordinal), session=session).ok

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("Yesterday", "Pear on a Sill · 4 pulled")
            await here.press("left", "enter")
            await here.shows("Review", "Pear on a Sill")

    run(work())


def test_the_day_before_a_day_off_is_not_called_yesterday() -> None:
    """Its head says so, with its date."""
    shop, clock, _ = one_day()
    clock.advance(2 * DAY)

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("The last day ", "Sunday 3 May",
                             "Pear on a Sill · 4 sheets not judged")
            assert "Yesterday" not in here.text

    run(work())


def test_all_heads_are_seen_at_eighty_by_twenty_four() -> None:
    """A whole shipped day with everything left, and paper of both kinds: no head goes."""
    shop, clock = workshop()
    opened(shop, shipped("weigh-house"), wanted=3)
    printed(shop, clock, 3)
    shop.do(a.LeftOff("scrim is worn; buy more of it before the next day, and look at the felts"))
    closed(shop, clock, facts=False)
    assert shop.damp_pack(read_recipe(shipped("pane-moth")), 3).ok
    shop.leave_bench()
    clock.advance(16 * 60 * MINUTE)

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows(*LINES)
            await here.press("left", "home")
            await here.shows(*LINES, "The Weigh House · not said", "4 sheets not judged")

    run(work())


def test_a_day_closed_today_is_not_yesterday() -> None:
    """What it left stands on top, with its print, until the morning."""
    shop, clock = workshop()
    opened(shop, small())
    printed(shop, clock, 1)
    shop.do(a.LeftOff("scrim is worn"))
    closed(shop, clock, facts=False)
    shop.leave_bench()

    async def work() -> None:
        async with screens(shop, asking=False) as here:
            await here.shows("not answered yet: Rags (Pear on a Sill)",
                             "2 sheets of Pear on a Sill not judged: go round them",
                             "Pear on a Sill left off: “scrim is worn”")
            assert "Yesterday" not in here.text

    run(work())


# -- the questions of the morning -------------------------------------------------------------


def answered_day(rags: str) -> tuple[str, list[str]]:
    """A day whose facts were all given; what its morning asks of it."""
    shop, clock = workshop()
    session = opened(shop, HOT)
    for _ in range(40):
        if on_bench(shop).closed is not None:
            break
        clock.advance(4 * MINUTE)
        refusal = shop.do(a.GoOn()).refusal
        if refusal is not None and refusal.must:
            fact = rags if rags in refusal.must else refusal.must[0]
            assert shop.do(a.Must(fact)).ok
        if len([i for i in on_bench(shop).impressions if i.laid]) == 1:
            shop.do(a.Enough())
    assert on_bench(shop).closed is not None
    shop.leave_bench()
    clock.advance(20 * 60 * MINUTE)
    seen: list[str] = []

    async def work() -> None:
        async with screens(shop) as here:
            await here.pilot.pause()
            seen.append(here.text)

    run(work())
    return session, seen


def test_what_was_answered_on_the_day_is_not_asked_again() -> None:
    """Out of the building and turned off; the can that was empty before is none with rags."""
    _, [seen] = answered_day("out of the building")
    assert "At the press" in seen
    assert "Rags went into the can" not in seen
    _, [seen] = answered_day("in a lidded metal can")
    assert "Rags went into the can: Ebb Tide, Sunday 3 May." in seen


def test_the_can_question_names_every_print_it_is_about() -> None:
    """One answer is written for each of the days it named."""
    shop, clock = workshop()
    both = []
    for title in ("Pear on a Sill", "Ebb Tide"):
        both.append(opened(shop, small(title)))
        printed(shop, clock, 1)
        closed(shop, clock)
    shop.leave_bench()
    clock.advance(20 * 60 * MINUTE)

    async def work() -> None:
        async with screens(shop, size=(120, 40)) as here:
            await here.shows("Rags went into the can: Pear on a Sill and Ebb Tide, Sunday 3 May.")
            await here.press("1")
            await here.shows("At the press")
            assert [here.kinds(x, "can emptied") for x in both] == [[{}], [{}]]

    run(work())


def test_a_can_emptied_the_same_evening_is_asked_about_no_more() -> None:
    """Its key is there as soon as rags lie in the can; one emptying is for all prints."""
    shop, clock = workshop()
    for title in ("Pear on a Sill", "Ebb Tide"):
        last = opened(shop, small(title))
        printed(shop, clock, 1)
        closed(shop, clock)
    shop.leave_bench()

    async def evening() -> None:
        async with screens(shop) as here:
            await here.shows("a can emptied")
            assert "Rags went into the can" not in here.text
            await here.press("a")
            assert here.kinds(last, "can emptied") == [{}]
            await here.shows("At the press")
            assert "can emptied" not in here.text

    async def morning() -> None:
        async with screens(shop) as here:
            await here.shows("At the press", "Yesterday")
            assert "emptied" not in here.text

    run(evening())
    clock.advance(20 * 60 * MINUTE)
    run(morning())


def test_a_can_emptied_before_the_rags_went_in_is_asked_about() -> None:
    """What was emptied at noon holds the rags of the evening."""
    shop, clock = workshop()
    opened(shop, small())
    printed(shop, clock, 1)
    shop.do(a.CanEmptied())
    clock.advance(5 * MINUTE)
    closed(shop, clock)
    shop.leave_bench()
    clock.advance(20 * 60 * MINUTE)

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("Rags went into the can")

    run(work())


def test_not_known_any_more_has_a_key_that_never_moves() -> None:
    """It is 0, however many answers a step has."""
    shop, _, session = one_day(facts=False)

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("2  out of the building", "0  not known any more", "1-2 0 answer")
            await here.press("0")
            await here.shows("At the press")
            assert [x["fact"] for x in here.kinds(session, "must answered")] == [None, None]

    run(work())


def test_rags_said_in_the_morning_to_lie_in_the_can_are_asked_about_at_once() -> None:
    """The second question follows the answer to the first."""
    shop, _, _ = one_day(facts=False, emptied=False)

    async def work() -> None:
        async with screens(shop) as here:
            await here.shows("Pear on a Sill, Sunday 3 May: Rags")
            await here.press("1")
            await here.shows("Rags went into the can")

    run(work())
