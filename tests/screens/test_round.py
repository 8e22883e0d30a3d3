"""The evening round: unjudged first, one key each, and what is left may wait."""

from __future__ import annotations

from benchapp.session import actions as a
from benchapp.views.sheets import round_order, sheet_lines
from tests.screens.days import one_day, run, screens


def test_unjudged_sheets_come_first_each_in_pulling_order() -> None:
    """A verdict puts a sheet behind those that have none."""
    shop, _, session = one_day()
    shop.look_at(session)
    shop.do(a.Judge("keep", 2), session=session)
    assert round_order(sheet_lines(shop.room.sessions[session])) == (1, 3, 4, 2)


def test_one_key_judges_and_goes_on_and_space_leaves_unjudged() -> None:
    """Four sheets, four keys; the one left has no verdict in the book."""
    shop, _, session = one_day()

    async def work() -> None:
        async with screens(shop, over="round", session=session) as here:
            await here.shows("The round of 2026-05-03", "4 not judged", "D1 · no. 1", "1 of 4")
            await here.press("k")
            await here.shows("D2 · no. 2", "3 not judged")
            await here.press("space")
            await here.shows("D3 · no. 3", "3 not judged")
            await here.press("d", "s")
            await here.shows("The round is done", "1 sheet is not judged")
            await here.press("left", "left", "left")
            await here.shows("D2 · no. 2", "○ not judged")
            await here.press("escape")
            await here.shows("Pear on a Sill · 1 sheet not judged")
        assert [i.verdict for i in shop.room.sessions[session].impressions] == [
            "keep", None, "doubtful", "spoiled"]

    run(work())


def test_a_pedal_held_down_leaves_one_sheet_only() -> None:
    """Its repeats come too soon to be treads, here as at the bench."""
    shop, _, session = one_day()

    async def work() -> None:
        async with screens(shop, over="round", session=session, gate_ms=5_000) as here:
            await here.shows("1 of 4")
            await here.press(*["space"] * 6)
            await here.shows("2 of 4")

    run(work())


def test_tags_and_notes_can_be_given_on_the_round() -> None:
    """They keep the sheet where it is; the mark stands large above."""
    shop, _, session = one_day()

    async def work() -> None:
        async with screens(shop, over="round", session=session, size=(120, 40)) as here:
            await here.shows("D1 · no. 1", "█")
            await here.press("t", "2", "1")
            await here.shows("over-wiped", "1 of 4")
            await here.press("n")
            await here.typed("lift earlier")
            await here.shows("“lift earlier”", "1 of 4")
        assert shop.room.sessions[session].impressions[0].tags == ("over-wiped",)

    run(work())
