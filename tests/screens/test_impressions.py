"""The sheets of a session: one line each, all of one beside it, and what can be said of them."""

from __future__ import annotations

import pytest

from benchapp.session import actions as a
from benchapp.views.sheets import sheet_lines, sheet_whole
from tests.screens.days import (
    MINUTE,
    closed,
    on_bench,
    one_day,
    opened,
    printed,
    run,
    screens,
    shipped,
    workshop,
)


def test_a_sheet_has_its_settings_pulls_and_packs() -> None:
    """What was in force at its pull, where its paper came from, and when it was pulled."""
    shop, clock = workshop()
    opened(shop, shipped("weigh-house"))
    shop.do(a.Set("room", "19 °C"))
    printed(shop, clock, 1)
    shop.do(a.Set("room", "21 °C"))
    shop.do(a.TakeReading("tone", "4", None, 1))
    shop.do(a.SayFor("TP", impression=1))
    printed(shop, clock, 2)
    s = on_bench(shop)
    first, second = sheet_whole(s, 1), sheet_whole(s, 2)
    assert first is not None
    assert second is not None
    assert (first.settings, second.settings) == ((("room", "19 °C"),), (("room", "21 °C"),))
    assert (first.line.mark, first.line.purpose, first.line.by_rule) == ("D1", "TP", False)
    assert (second.line.purpose, second.line.by_rule) == ("warm-up", True)
    assert first.line.readings == ("tone 4",)
    assert first.line.packs == ("pack 1",)
    assert [p.plates for p in first.pulls] == [("key",)]
    assert first.pulls[0].at == first.line.pulled_at
    assert sheet_whole(s, 99) is None


def test_a_pull_whose_time_nobody_took_has_none() -> None:
    """Passed over by *I am here* it is a sheet with a mark, and no time."""
    shop, clock = workshop()
    opened(shop, shipped("three-steps"))
    while on_bench(shop).hand is None or on_bench(shop).hand.step != "each.2":  # type: ignore[union-attr]
        clock.advance(MINUTE)
        shop.do(a.GoOn())
    assert shop.do(a.Here("each.3")).ok
    [line] = sheet_lines(on_bench(shop))
    assert (line.mark, line.pulled_at) == ("D1", None)


def test_verdict_tag_note_for_and_mark_are_said_by_keys_of_a_closed_session() -> None:
    """What the keys said of the sheet chosen is what the book holds."""
    shop, _, session = one_day()

    async def work() -> None:
        async with screens(shop, over="impressions", session=session) as here:
            await here.shows("Sheets of 2026-05-03", "D1", "warm-up (rule)", "○ not judged")
            await here.press("home", "k")
            await here.shows("● keep")
            await here.press("t", "2", "3")
            await here.shows("salty")
            await here.press("n")
            await here.typed("good blacks")
            await here.shows("1 note", "“good blacks”")
            await here.press("down", "s")
            await here.shows("✕ spoiled")
            await here.press("down", "f", "2")
            await here.press("M")
            await here.typed("z 9")
            await here.shows("Z9", "TP")
            await here.press("l")
            await here.shows("look again")
            await here.press("home", "0", "t", "p")
            await here.pilot.pause()
        s = shop.room.sessions[session]
        one, two, three = s.impressions[:3]
        assert (one.verdict, one.tags, one.notes) == (None, (), ("good blacks",))
        assert two.verdict == "spoiled"
        assert (three.mark, three.purpose, three.look_again) == ("Z9", "TP", True)
        assert here.kinds(session, "judged")[0] == {"impression": 1, "verdict": "keep"}

    run(work())


def test_a_mark_is_used_once_in_the_book() -> None:
    """Also against the sheets of a session that is not in the room."""
    shop, clock, first = one_day()
    second = opened(shop, shipped("three-steps"))
    printed(shop, clock, 1)
    closed(shop, clock)
    assert shop.bearer("D1", (second, 1)) == first
    assert shop.bearer("E1", (second, 1)) is None

    async def work() -> None:
        async with screens(shop, over="impressions", session=second) as here:
            await here.shows("E1")
            await here.press("M")
            await here.typed("d1")
            await here.shows("used once in the book")
            assert here.kinds(second, "marked") == []

    run(work())


def test_a_book_begun_with_letters_of_paper_sizes_keeps_them(
    monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its sheets stay A1 and G1 as pencilled; a session opened now takes letters nobody has."""
    monkeypatch.setattr("benchapp.service.sessions.free_letters", lambda n, _taken: "AG"[n])
    shop, clock, old = one_day()
    opened(shop, shipped("three-steps"))
    printed(shop, clock, 1)
    closed(shop, clock)
    monkeypatch.undo()
    new = opened(shop, shipped("three-steps"))
    printed(shop, clock, 1)
    closed(shop, clock)
    assert shop.bearer("A1", (new, 1)) == old

    async def work() -> None:
        async with screens(shop, over="impressions", session=old) as here:
            await here.shows("A1")
        async with screens(shop, over="impressions", session=new) as here:
            await here.shows("H1")
            await here.press("M")
            await here.typed("a1")
            await here.shows("used once in the book")

    run(work())


def test_inky_hands_judge_nothing_in_the_list_either() -> None:
    """The gate is the room's, not a screen's."""
    shop, clock = workshop()
    session = opened(shop, shipped("three-steps"))
    printed(shop, clock, 1)
    while not shop.room.inky:
        clock.advance(MINUTE)
        shop.do(a.GoOn())

    async def work() -> None:
        async with screens(shop, "bench", over="impressions") as here:
            await here.shows("D1")
            await here.press("s")
            await here.shows("Hands are inky")
            await here.press("n")
            assert not here.app.screen.is_modal
            assert here.kinds(session, "judged") == []

    run(work())
