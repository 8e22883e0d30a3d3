"""A whole day with a recipe of one's own: the book says what was meant, and nothing else."""

from __future__ import annotations

from typing import Any

import pytest

from benchapp.events.entry import Entry
from benchapp.reports.json_form import json_values
from benchapp.reports.reading import read_back
from tests.journeys.own_day import LETTER_S, Printer, at_the_card
from tests.screens.bench_support import run

SAID = ("noted", "tagged", "untagged", "judged", "read", "setting changed", "for said",
        "marked to look again", "must answered", "timed", "wanted set", "left off", "paused",
        "resumed", "helper joined", "helper left", "taken back", "time explained")


async def sheet_ready(p: Printer) -> None:
    """Go on, each step for its usual time, until the next sheet is in hand to be looked at."""
    before = len(p.here.sheets)
    await p.go_on(lambda now: len(p.here.sheets) > before and "verdict" in now.asks)
    await p.here.shows(f"Pencil {p.sheet.mark}")


async def until_inky(p: Printer) -> None:
    """Go on until hands are in ink."""
    await p.go_on(lambda now: now.side == "inky")


def what_was_said(p: Printer) -> list[tuple[Any, ...]]:
    """The entries the printer brought about by words, in the order they were written."""
    marks = {i.ordinal: i.mark for i in p.here.s.impressions}

    def told(e: Entry) -> tuple[Any, ...]:
        body = e.body
        sheet = marks.get(body.get("impression")) if "impression" in body else None
        match e.kind:
            case "noted":
                return "noted", sheet, body["text"]
            case "tagged" | "untagged":
                return e.kind, sheet, body["tag"]
            case "judged":
                return "judged", sheet, body["verdict"]
            case "read":
                return "read", sheet, body["name"], body["value"], body["unit"]
            case "setting changed":
                return e.kind, body["name"], body["value"]
            case "must answered":
                return e.kind, body["fact"]
            case "timed":
                return e.kind, body["name"], body["ms"]
            case "wanted set":
                return e.kind, body["wanted"]
            case "left off":
                return e.kind, body["text"]
            case "for said":
                return e.kind, sheet, body["for"]
            case "time explained":
                return e.kind, body["answer"]
            case _:
                return (e.kind,)

    return [told(e) for e in p.here.entries() if e.kind in SAID]


async def first_sheet(p: Printer) -> None:
    """The card and the first sheet, key by key."""
    here = p.here
    # The card: one screw said anew, in words that teach, and the tin as free words.
    await p.wait(1)
    await p.key("1")
    await p.words("3.25 turns")
    p.say("setting changed", "left side", "3.25 turns")
    await p.key("space")
    await here.shows("CLEAN HANDS")
    await until_inky(p)
    # First sheet: a warm-up. A note that begins with a digit, and one with a colon.
    await sheet_ready(p)
    first = p.sheet.mark
    await p.key("s")
    p.say("judged", first, "spoiled")
    await p.key("n")
    await p.words("1 drop more oil")
    p.say("noted", first, "1 drop more oil")
    await p.key("n")
    await p.words("sky: thin, 2 o'clock")
    p.say("noted", first, "sky: thin, 2 o'clock")
    await p.keys("t", "2", "3")
    p.say("tagged", first, "salty")
    # A digit too many, straight after the menu: it is no grade.
    await p.key("2", 0.2)
    await p.wait(1)
    await p.key("4")
    p.say("read", first, "tone", "4", "grade 1-5")


async def day(p: Printer) -> None:
    """The whole day, key by key."""
    here = p.here
    await first_sheet(p)
    await until_inky(p)
    # Second: own words, the same keys for the same tag, one taken off again.
    await sheet_ready(p)
    second = p.sheet.mark
    await p.key("k")
    p.say("judged", second, "keep")
    await p.keys("t", "2", "3")
    p.say("tagged", second, "salty")
    await p.keys("t", "9", "1")
    p.say("tagged", second, "sky thin")
    await p.keys("t", "2", "3")
    p.say("untagged", second, "salty")
    await p.key("l")
    p.say("marked to look again",)
    # A setting that cannot be read stays in its line until it can.
    await p.keys("e", "1")
    await p.words("1,500 turns")
    await here.shows("1,500")
    await p.key("escape")
    await p.keys("e", "1")
    await p.words("3.5 turns")
    p.say("setting changed", "left side", "3.5 turns")
    await until_inky(p)
    # Lunch, with the pause said; nothing else is.
    await p.key("p")
    p.say("paused",)
    await p.wait(46)
    await p.key("p")
    p.say("resumed",)
    await sheet_ready(p)
    third = p.sheet.mark
    await p.key("d")
    p.say("judged", third, "doubtful")
    await p.key("backspace")
    p.say("taken back",)
    await p.key("k")
    p.say("judged", third, "keep")
    await p.key("5")
    p.say("read", third, "tone", "5", "grade 1-5")
    await p.key("c")
    await p.words("3 min varnish")
    p.say("timed", "varnish", 180000)
    # A value that is no number of the reading stays in its line, and is mended there.
    await p.keys("g", "2")
    await p.words("1,200")
    await here.shows("1,200")
    for _ in range(5):
        await p.key("backspace", LETTER_S)
    await p.words("1.2")
    p.say("read", third, "line depth", "1.2", "D")
    await until_inky(p)
    # A helper joins by name, and leaves; the pedal typed beside an open line writes nothing.
    await sheet_ready(p)
    fourth = p.sheet.mark
    await p.key("j")
    await p.words("Odo")
    p.say("helper joined",)
    await p.key("n")
    await p.words("Odo: \"darker\"; [b]rope[/b] = lost?")
    p.say("noted", fourth, "Odo: \"darker\"; [b]rope[/b] = lost?")
    await p.key("j")
    p.say("helper left",)
    await p.key("k")
    p.say("judged", fourth, "keep")
    # Enough; what the day ends with is asked, and a tread does not answer it.
    await p.key("q")
    for fact in ("wrapped", "wet in a lidded metal can"):
        await p.go_on(lambda now: bool(now.must))
        await p.key("space", 2.0)
        assert here.view.now.must
        await p.key("1")
        p.say("must answered", fact)
    await p.go_on_to_close()


def test_the_book_says_of_the_first_sheet_what_was_meant() -> None:
    """The beginning of that day: a setting, a verdict, two notes, a tag and a grade."""

    async def beginning() -> None:
        async with at_the_card((80, 24), wanted=4) as here:
            p = Printer(here)
            await first_sheet(p)
            assert what_was_said(p) == p.meant

    run(beginning())


@pytest.mark.full
@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
def test_the_book_says_what_was_meant_and_nothing_else(size: tuple[int, int]) -> None:
    """Every note, tag, reading and setting of a day at human times, at three sizes."""

    async def whole() -> None:
        async with at_the_card(size, wanted=4) as here:
            p = Printer(here)
            await day(p)
            assert what_was_said(p) == p.meant
            hold_the_review(p)

    run(whole())


def hold_the_review(p: Printer) -> None:
    """What is read back of the day says the same, sheet by sheet."""
    told = json_values(read_back(p.here.book, p.here.book.sessions()[-1]))
    sheets = [i for i in told["impressions"] if i["number"] is not None]
    assert [i["verdict"] for i in sheets] == ["spoiled", "keep", "keep", "keep"]
    assert [i["for"] for i in sheets] == ["warm-up", "warm-up", "warm-up", "edition"]
    assert [i["tags"] for i in sheets] == [["salty"], ["sky thin"], [], []]
    assert [i["notes"] for i in sheets] == [
        ["1 drop more oil", "sky: thin, 2 o'clock"], [], [],
        ["Odo: \"darker\"; [b]rope[/b] = lost?"]]
    assert [[(r["name"], r["value"]) for r in i["readings"]] for i in sheets] == [
        [("tone", 4)], [], [("tone", 5), ("line depth", 1.2)], []]
    assert [i["look_again"] for i in sheets] == [False, True, False, False]
    assert [i["settings"]["left side"] for i in sheets] == [
        "3.25 turns", "3.25 turns", "3.5 turns", "3.5 turns"]
