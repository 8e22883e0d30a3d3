"""Two sessions open at one press, on the screen and by lines: what belongs to the room."""

from __future__ import annotations

from benchapp import plain
from benchapp.session import actions as a
from tests.plain.test_plain import Typed
from tests.screens.days import on_bench, opened, run, screens, tread, workshop
from tests.screens.support import until
from tests.session.support import LIFT, PULL, recipe

INK = "{do: Ink, hands: inky, time: 5 min}"
SIDES = "press: {pitch: 2 mm, handle side: 3.25 turns, far side: 3.25 turns}\n"


def print_of(title: str, **about: object) -> str:
    """A small recipe with two screws, by that title."""
    return recipe(each=(INK, PULL, LIFT), extra=SIDES, **about).replace("Slack Water", title)


def test_the_bench_says_how_the_press_was_set_since_and_one_key_sets_it_back() -> None:
    """At 80 columns no figure is cut; the key writes what the printer said by it, and no more."""
    shop, _ = workshop()
    one = opened(shop, print_of("Heron Wall"))
    shop.do(a.Helper(joins=True))
    for side in ("handle side", "far side"):
        shop.do(a.Set(side, "3.5 turns"))
    opened(shop, print_of("Two Gates"))
    shop.do(a.Set("handle side", "2.875 turns"))
    shop.do(a.Set("far side", "3 turns"))

    async def work() -> None:
        async with screens(shop, "bench") as here:
            await here.shows("Two Gates")
            assert "this print had" not in here.text
            await here.press("tab")
            await here.shows("Heron Wall", "! The screws are at handle side 2.875, far side 3",
                             "this print had 3.5", "turns")
            await here.press("f2")
            await until(here.pilot, lambda: "this print had" not in here.text, what="far view")
            await here.press("space")  # to the press: there no far view hides it
            await here.shows("this print had 3.5")
            before = shop.book.last_sequence()
            await here.press("e")
            await here.shows("as this print had it: 3.5 turns")
            assert shop.book.last_sequence() == before
            await here.press("=")
            await until(here.pilot, lambda: "this print had" not in here.text, what="set back")
            await here.shows("handle side: 3.5 turns · far side: 3.5 turns")
            assert here.kinds(one, "setting changed")[2:] == [
                {"name": "handle side", "value": "3.5 turns"},
                {"name": "far side", "value": "3.5 turns"}]
            await here.press("e")
            await here.shows("another setting")
            assert "as this print" not in here.text

    run(work())


def test_by_lines_it_is_said_on_coming_back_and_the_pull_tells_it() -> None:
    """`resume` and `switch` say it before anything else is done."""
    shop, clock = workshop()

    def said(lines: Typed) -> list[str]:
        return [line for answer in lines.answers for line in answer]

    first = Typed(clock, ["set handle side: 3.5 turns", "quit"])
    plain.run_plain(shop, first, "heron", print_of("Heron Wall"), None)
    one = on_bench(shop).id
    other = Typed(clock, ["set handle side: 2.875 turns", "switch", "quit"])
    plain.run_plain(shop, other, "gates", print_of("Two Gates"), None)
    words = "Mind: The screws are at 2.875; this print had 3.5 turns"
    assert words in other.answers[2]
    again = Typed(clock, ["set as before", "set as before", "back", "", "", "", "quit"])
    plain.resume_plain(shop, again, one)
    assert words in again.answers[0]
    assert again.answers[1][0] == "handle side: 3.5 turns"
    assert again.answers[2][0].startswith("Everything is set as this print had it; ")
    assert "handle side: 2.875 turns, as set for Two Gates" in said(again)


END = ("{do: Plate clean, hands: inky}", "{do: 'Pressure off, blankets hung', hands: clean}",
       "{do: 'Rags, scrim and paper', hands: clean, must: [in a lidded metal can, hung singly], "
       "lines: [all of it], care: Oily rags heat and catch fire by themselves; label first.}")


def test_the_last_session_asks_for_both_by_name_and_nothing_is_asked_twice() -> None:
    """The one that closes first says where its question went; its day has the answer too."""
    shop, clock = workshop()
    one = opened(shop, print_of("Heron Wall", after=END), 1)
    shop.do(a.Helper(joins=True))
    other = opened(shop, print_of("Two Gates", after=END), 1)

    def at_the_end() -> None:
        for _ in range(40):
            hand = on_bench(shop).hand
            if hand is not None and hand.step == "after.2":
                return
            tread(shop, clock)
        raise AssertionError("the press was never let off")

    at_the_end()

    async def work() -> None:
        async with screens(shop, "bench") as here:
            await here.shows("Pressure off")
            await here.press("space")
            await here.shows("Rags, scrim and paper: left to Heron Wall", "closed")
            assert here.kinds(other, "must answered") == []
            shop.do(a.SwitchSession(one))
            at_the_end()
            await here.press("space")
            await here.shows("(Heron Wall and Two Gates)", "1  in a lidded metal can", "all of it",
                             "Oily rags")
            await here.press("1")
            await until(here.pilot, lambda: on_bench(shop).closed is not None, what="closed")
            assert here.kinds(other, "must answered") == [
                {"step": "after.3", "owner": other, "fact": "in a lidded metal can"}]

    run(work())
    assert {s: shop.room.sessions[s].musts[s, "after.3"] for s in (one, other)} == dict.fromkeys(
        (one, other), ("in a lidded metal can",))


def test_by_lines_the_session_that_still_asks_is_named_at_the_end() -> None:
    """There one answer is written for both."""
    shop, clock = workshop()
    plain.run_plain(shop, Typed(clock, ["quit"]), "heron", print_of("Heron Wall", after=END), 1)
    one = on_bench(shop).id
    first = Typed(clock, ["helper Ida", *[""] * 12])
    plain.run_plain(shop, first, "gates", print_of("Two Gates", after=END), 1)
    other = on_bench(shop).id
    lines = [line for answer in first.answers for line in answer]
    assert "Rags, scrim and paper: left to Heron Wall" in lines
    assert lines[-1] == "2026-05-03 still asks, for the whole day: Rags, scrim and paper"
    again = Typed(clock, [*[""] * 11, "2"])
    plain.resume_plain(shop, again, one)
    assert [x for x in again.answers[0] if x.startswith("Now: ")] == [
        "Now: Ink · inky · usual 5 min"]
    asked = [line for answer in again.answers for line in answer if "say which" in line]
    assert asked == ["Now: Rags, scrim and paper (Heron Wall and Two Gates) · clean · "
                     "say which: 1 in a lidded metal can / 2 hung singly"]
    assert shop.room.sessions[one].musts[other, "after.3"] == ("hung singly",)
