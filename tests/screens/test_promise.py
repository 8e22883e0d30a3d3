"""On the Bench: when the wanted number will be met, beside what comes next."""

from __future__ import annotations

import subprocess
import sys

from benchapp.files import breaks_kept, keep_breaks
from benchapp.planning.time_to_finish import breaks_ahead
from benchapp.session import actions as a
from tests.planning.test_time_to_finish import MIN, PROOFING
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.screens.days import small


def test_the_bench_says_when_the_wanted_number_will_be_met() -> None:
    """Three from 10:00: 20 + 3 × 32 + 2 min. Another number, another time; enough, none.

    In one quiet line when all is over and when one more would be; the far view says it too.
    """

    async def day() -> None:
        async with on_the_bench(PROOFING, wanted=3) as here:
            await here.shows("3 by 11:58", "even chance 12:18; a 4th would end at 12:50")
            here.clock.advance(30 * MIN)
            await here.press("space")
            await here.shows("3 by 12:08")
            here.shop.do(a.SetWanted(4))
            await here.shows("4 by 12:40", "even chance 13:00; a 5th would end at 13:32")
            await here.press("f2")
            await here.shows("4 by 12:40")
            assert "all over" not in here.text
            await here.press("f2")
            here.shop.do(a.Enough())
            here.app.screen.follow()
            assert " by 1" not in here.text
            assert "all over" not in here.text

    run(day())


def test_many_steps_without_a_time_are_counted_so_that_the_line_is_whole() -> None:
    """One is named; what mends it still fits at 80 columns."""
    each = "".join(f"  - {{do: {do}, hands: {hands}{more}}}\n" for do, hands, more in (
        ("Ink", "inky", ""), ("Wipe", "inky", ""), ("Lay and pull", "clean", ", pulls: key"),
        ("Lift and look", "clean", ", asks: [verdict]")))
    text = small()
    text = text[: text.index("each:\n")] + "each:\n" + each + text[text.index("after:\n"):]

    async def day() -> None:
        async with on_the_bench(text, wanted=3) as here:
            await here.shows(
                "No plan: no time is known for Ink and 3 more; the Plan asks for a guess")

    run(day())


def test_without_a_time_the_bench_says_which_and_a_guess_mends_it() -> None:
    """No plan for a wipe without a time; F3 asks, `s` has the day go by the guess, marked so."""
    bare = PROOFING.replace("hands: inky, time: 12 min", "hands: inky")

    async def day() -> None:
        async with on_the_bench(bare, wanted=3) as here:
            await here.shows("No plan: no time is known for Wipe; the Plan asks for a guess")
            await here.press("f3")
            await here.shows("How long does one print take you?", "No plan: no time is known")
            for key in "10 min":
                await here.press("space" if key == " " else key)
            await here.press("enter")
            await here.shows("the steps with a time take 22 min a print already")
            await here.press("ctrl+u")
            for key in "34 min":
                await here.press("space" if key == " " else key)
            await here.press("enter")
            await here.shows("3 by 12:18", "By a guess: 34 min a", "guess: 34 min a print")
            await here.press("s")
            await here.shows("3 by 11:58 (guess)")

    run(day())


def test_earlier_days_and_the_break_planned_are_in_the_promise() -> None:
    """A day of the print that took half as long again makes it later; lunch by its length."""
    here = Studio(PROOFING, wanted=1)
    while here.s.closed is None:
        usual = None if here.s.hand is None else here.s.shape.by_id[here.s.hand.step].time
        here.clock.advance(3 * MIN if usual is None else usual.usual.ms * 4 // 3)
        here.shop.tick()
        here.say(a.GoOn())
    here.shop.leave_bench()
    here.clock.advance(24 * 60 * MIN - (here.clock.now().wall_ms - 1_777_795_200_000))
    here.open(PROOFING, 3)
    keep_breaks(here.s.id, ((10 * 60 + 30, 45 * 60),))

    async def day() -> None:
        async with on_the_bench(PROOFING, studio=here) as shown:
            await shown.shows("3 by 1")
            at = shown.text.split("3 by ")[1][:5]
            assert "12:55" < at < "13:35"

    run(day())


def test_what_is_remembered_of_breaks_is_read_carefully(home) -> None:
    """Anything else in its place is no break; one that is over is none either."""
    now = Studio(PROOFING).now
    assert breaks_kept("a") == ()
    keep_breaks("a", ((13 * 60, 2700), (9 * 60, 600)))
    keep_breaks("b", ())
    assert breaks_kept("a") == ((780, 2700), (540, 600))
    assert [(x.at, x.seconds) for x in breaks_ahead(breaks_kept("a"), now)] == [(3 * 3600, 2700)]
    path = home / "state" / "planned.json"
    for text in ("[]", "{", '{"a": 3}', '{"a": [3, [1], ["x", 2], [-1, 5], [2000, 5], [5, 0]]}'):
        path.write_text(text, encoding="utf-8")
        assert breaks_kept("a") == ()


def test_the_first_frame_loads_nothing_that_plans() -> None:
    """The Bench and the Studio are imported without the planner; it comes when it is needed."""
    program = ("import sys, benchapp.screens.bench, benchapp.screens.studio\n"
               "print(*sorted(x for x in sys.modules if 'planning' in x or 'schedule' in x "
               "or x.endswith('.ahead')))")
    found = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True,
                           check=True)
    assert set(found.stdout.split()) <= {
        "benchapp.calls.schedule", "benchapp.planning", "benchapp.planning.pace",
        "benchapp.planning.plate_wear"}
