"""A print of two plates on the Bench: which plate and ink is in hand, and the sheet that waits."""

from __future__ import annotations

from tests.screens.bench_support import on_the_bench, run
from tests.session.support import MIN, recipe

INKS = """ink:
  tone: {name: dusk blue, parts: {ultramarine: 1}}
  key: {name: brown black, parts: {bone black: 1}}
"""
TWO = recipe(plates=("tone", "key"), extra=INKS, each=(
    "{do: Ink and wipe the tone, hands: inky, plate: tone, time: 16 min, short: Tone, "
    "say: 'Tone plate, dusk blue', lines: [dab and card, its own scrim, bevels and back]}",
    "{do: Ink and wipe the key, hands: inky, plate: key, time: 16 min, short: Key}",
    "{do: Tone through, hands: clean, at: press, pulls: tone, time: 4 min}",
    "{do: Key through, hands: clean, at: press, pulls: key, time: 90 s, within: 2 min}",
    "{do: Lift, hands: clean, time: 3 min, asks: [verdict]}"))


def test_plate_and_ink_stand_beside_every_inking_near_and_from_afar() -> None:
    """As the recipe says it, and what it leaves unsaid; spoken as the step begins."""

    async def day() -> None:
        async with on_the_bench(TWO) as here:
            await here.shows("Tone plate, dusk blue", "dab and card")
            await here.press("f2")
            await here.shows("Tone plate, dusk blue")
            assert "dab and card" not in here.text
            await here.press("f2")
            here.clock.advance(15 * MIN)
            await here.press("space")
            await here.settled()
            assert "brown black" in [x.partition("┃")[0].strip() for x in here.text.splitlines()]
            assert here.view.now.say == "Ink and wipe the key, brown black"
            await here.press("space")
            await here.shows("WASH")
            assert "brown black" not in here.text

    run(day())


def test_the_sheet_that_waits_for_its_second_plate_counts_calls_and_takes_no_tread() -> None:
    """From the first pull on, near and from afar; one tread ends the second pull and the call."""

    async def day() -> None:
        async with on_the_bench(TWO) as here:
            for minutes in (15, 15, 1.5):
                here.clock.advance(round(minutes * MIN))
                await here.press("space")
            await here.shows("Tone through")
            here.clock.advance(4 * MIN)
            await here.press("space")
            await here.shows("Key through", "2:00 Sheet", "waits for key")
            here.clock.advance(MIN)
            await here.shows("1:00 Sheet")
            here.clock.advance(MIN)
            await here.shows("CALLS", "Sheet waits for key: now", "F6 answer")
            assert "Next: answer" not in here.text
            here.clock.advance(MIN)
            await here.shows("Sheet waits for key: 1 min over",
                             "! Sheet waits for key: 3 min, limit 2")
            await here.press("f2")
            await here.shows("CALLS", "Sheet waits for key")
            await here.press("f2", "space")
            await here.shows("D1: pulled from key too")
            assert "waits for key" not in here.text
            assert [len(i.pulls) for i in here.sheets] == [2]

    run(day())
