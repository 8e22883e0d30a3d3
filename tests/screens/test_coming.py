"""Keys about an inky step that comes: skip, left to and next ask which step, by name."""

from __future__ import annotations

from benchapp.session import actions as a
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.screens.days import shipped
from tests.session.support import INK, LIFT, MIN, PLATE_CLEAN, PULL, RAGS, SCREWS, WARM, recipe

EVENING = recipe(
    before=[SCREWS], each=(WARM, INK, PULL, LIFT), after=[
        "{do: Sweep, hands: clean, time: 2 min}", PLATE_CLEAN,
        "{do: Slab, hands: inky, time: 5 min}", RAGS])


def test_the_last_proof_is_not_reworked_and_the_book_says_why() -> None:
    """Enough, then skip, asked which by name; back after a tread too many; nothing was worked."""

    async def day() -> None:
        async with on_the_bench(shipped("signal-box")) as here:
            here.until("Lift and look")
            await here.settled()
            await here.press("q")
            await here.press("space")
            await here.shows("INKY HANDS", "Clean the plate and rework")
            here.clock.advance(MIN)
            await here.press("x")
            await here.shows("Hands are inky: wash first. Not begun yet? Press backspace")
            await here.press("backspace")
            await here.shows("CLEAN HANDS", "□ hands clean")
            await here.press("x")
            await here.shows("Skip this one or the next?", "1  Lift and look · this one",
                             "2  Clean the plate and rework · the next")
            await here.press("2")
            await here.shows("Why is Clean the plate and rework skipped")
            await here.typed("last proof")
            await here.shows("Clean the plate and rework: will be skipped, last proof",
                             "Next: Hot plate off")
            await here.press("x")
            await here.shows("Clean the plate and rework · do it after all")
            await here.press("escape")
            here.clock.advance(MIN)
            await here.press("space")
            await here.shows("1  turned off", "□ hands clean")
            assert [(w.how, w.why, w.taken) for w in here.ended("Clean the plate and rework")] == [
                ("skipped", "last proof", False)]
            begun = [e.body["step"] for e in here.entries("step started")
                     if e.action not in here.room.void]
            assert here.id_of("Clean the plate and rework") not in begun

    run(day())


def test_the_slab_is_left_to_the_other_session_and_the_plates_change_places() -> None:
    """Both from the clean moment before; with one step to choose nothing is asked."""

    async def evening() -> None:
        studio = Studio(EVENING, 1)
        first = studio.s.id
        studio.open(EVENING, 1)
        studio.until("Sweep")
        async with on_the_bench("", studio=studio) as here:
            await here.press("greater_than_sign")
            await here.shows("Leave this one or the next?", "1  Sweep · this one",
                             "2  Plate clean · the next", "3  Slab · later")
            await here.press("3")
            await here.shows(f"Slab: will be left to {first.partition('@')[0]}")
            await here.press("space")
            await here.shows("INKY HANDS", "usual 10 min")
            await here.press("space")
            assert [w.how for w in here.ended("Slab")] == ["left"]

    run(evening())


def test_a_menu_keeps_the_end_of_a_wait_from_turning_hands_inky() -> None:
    """The answer is taken; once it is given, the step it was about does not begin."""

    async def waiting() -> None:
        async with on_the_bench(EVENING, wanted=3) as here:
            here.until("Lift")
            here.tread()
            await here.settled()
            await here.press("x")
            await here.shows("Why is Ink skipped")
            here.clock.advance(3 * MIN)
            here.app._time_passed()
            assert here.hands == "clean"
            await here.typed("dry proof")
            here.app._time_passed()
            await here.shows("Pull")
            assert (here.hands, here.ended("Ink")[-1].why) == ("clean", "dry proof")
            here.say(a.TakeBack())

    run(waiting())


def test_what_stands_in_place_of_the_next_is_chosen_before_it() -> None:
    """The step in hand is done first; the one that comes is named, so are those in its place."""
    two = recipe(plates=("tone", "key"), each=(
        "{do: Ink tone, hands: inky, plate: tone}", "{do: Ink key, hands: inky, plate: key}",
        "{do: Pull tone, hands: clean, pulls: tone}", "{do: Pull key, hands: clean, pulls: key}",
        LIFT))

    async def turned() -> None:
        async with on_the_bench(two) as here:
            here.until("Lift")
            await here.settled()
            await here.press("o")
            await here.shows("In place of this one or the next?", "2  Ink tone · the next")
            await here.press("2")
            await here.shows("In place of Ink tone", "Ink key")
            await here.press("2")
            await here.shows("Next: Ink key, after Lift")
            await here.press("space")
            await here.shows("INKY HANDS")
            assert here.hand == "Ink key"

    run(turned())


def test_a_proofing_day_shows_its_own_keys_first_and_asks_the_state_after_a_rework() -> None:
    """At 80×24: state, reworked, skip, enough before verdicts; the question from the wash on."""

    async def day() -> None:
        async with on_the_bench(shipped("signal-box")) as here:
            here.until("Lift and look")
            await here.settled()
            foot = " ".join(here.text.split("space go on")[1].split())
            assert foot.startswith("w state, reworked x skip q enough 1-5 grade")
            here.until("Clean the plate and rework")
            here.until("Wash and dry hands")
            await here.settled()
            await here.shows("Which state is key in now? · after the wash: w")
            here.until("Lay and pull")
            await here.settled()
            assert "you can also do" not in here.text  # the plate is inked for this proof
            await here.shows("Which state is key in now? · w",
                             "this pull: SP, state not known (by rule)")
            await here.press("w")
            await here.typed("III: burnished the sky")
            await here.shows("this pull: SP III (by rule)")
            assert "Which state" not in here.text
            await here.press("space")
            assert (here.last.purpose, here.last.state) == ("SP", "III")

    run(day())
