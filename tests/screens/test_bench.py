"""The Bench by its keys: a day, the hands gate, what is asked, what is shown."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from textual import events

from benchapp.reports.json_form import json_values
from benchapp.reports.review import review_session
from benchapp.screens.notices import NoticeBar
from benchapp.session import actions as a
from benchapp.session.actions import WHILE_INKY
from tests.screens.bench_support import Studio, on_the_bench, run, wide_at_most
from tests.screens.contrast import LEAST, contrast
from tests.screens.support import colour_pairs, until
from tests.session.support import INK, LIFT, MIN, PULL, RAGS, SETTLE, SOAK, WIPE, recipe

SHIPPED = Path(__file__).parents[2] / "recipes"
THREE = (SHIPPED / "three-steps.yaml").read_text(encoding="utf-8")
WEIGH = (SHIPPED / "weigh-house.yaml").read_text(encoding="utf-8")
HOSTILE = "[/b] [@click=app.quit]x[/] "
HOSTILE_SEEN = "[/b] [@click=app.quit]x[/]"
BARE = recipe(each=[WIPE, PULL, "{do: Lift, hands: clean, time: 3 min, asks: [verdict]}"],
              after=[RAGS])


@pytest.mark.parametrize(("key", "character"), [("n", "n"), ("space", " "), ("1", "1")])
def test_a_key_that_comes_after_the_bench_was_left_is_for_nobody(key: str, character: str) -> None:
    """Under a flood of keys the Bench hears some that waited while it was left."""

    async def day() -> None:
        async with on_the_bench(THREE, wanted=1) as here:
            await here.shows("CLEAN HANDS")
            bench = here.app.screen
            await here.press("escape")
            await here.shows("At the press")
            before = len(here.entries())
            bench.take_key(events.Key(key, character))
            assert len(here.entries()) == before
            await here.shows("At the press")

    run(day())


def test_a_whole_three_step_day_by_keys() -> None:
    """What the keys did is what the book holds: marks, verdicts, tags, notes, facts, times."""

    async def day() -> None:
        async with on_the_bench(THREE, wanted=1) as here:
            await here.shows("Blankets and both screws", "CLEAN HANDS", "usual 20 min")
            here.clock.advance(18 * MIN)
            await here.press("space")
            await here.shows("INKY HANDS", "hands inky")
            for _ in range(3):
                here.clock.advance(9 * MIN)
                await here.press("space")
                await here.shows("WASH")
                here.clock.advance(MIN)
                await here.press("enter")
                here.clock.advance(3 * MIN)
                await here.press("pagedown")
                await here.shows(f"Pencil {here.last.mark} on the back")
                await here.press("s" if here.last.number == 1 else "k", "4")
                await here.press("n")
                await here.typed(f"sheet {here.last.number}")
                here.clock.advance(2 * MIN)
                await here.press("space")
            await here.shows("1  turned off")
            await here.press("space")
            await here.shows("Hot plate off: which?")
            await here.press("1", "space", "space", "space", "space")  # plate, slab, wash, press
            await here.shows("1  wrapped")
            await here.press("3")
            await here.press("1", "space")
            await here.shows("The session is closed")
            assert [(i.mark, i.verdict, i.notes) for i in here.sheets] == [
                ("D1", "spoiled", ("sheet 1",)), ("D2", "keep", ("sheet 2",)),
                ("D3", "keep", ("sheet 3",))]
            assert [i.readings[0].value for i in here.sheets] == ["4", "4", "4"]
            assert [i.purpose for i in here.sheets] == ["warm-up", "warm-up", "edition"]
            facts = [e.body["fact"] for e in here.entries("must answered")]
            assert facts == ["turned off", "none", "in a lidded metal can outdoors"]
            inking = here.ended("Ink and wipe")
            assert [(w.finished_t or 0) - w.started_t for w in inking] == [9 * MIN] * 3
            assert here.s.closed is not None

    run(day())


def test_nothing_but_five_things_is_done_with_inky_hands() -> None:
    """Fifty presses of every kind change nothing but by those five, pause and its end together."""
    rng = random.Random(7)
    letters = [*"abcdefghijklmnoqrstuvwxyz0123456789", "escape", "tab", "comma", "f1", "delete",
               "question_mark", "equals_sign", "plus", "full_stop", "up", "left", "ctrl+q", "K"]

    async def presses() -> None:
        async with on_the_bench(BARE, wanted=2) as here:
            assert here.hands == "inky"
            before = here.book.last_sequence()
            screen = here.app.screen
            await here.press(*rng.choices([k for k in letters if k != "l"], k=50))
            assert here.app.screen is screen
            assert here.book.last_sequence() == before
            assert here.app.is_running
            await here.press("k")
            await here.shows("Hands are inky: wash first")
            for key in rng.choices(["l", "p", "space", "backspace"], k=50):
                room = here.room
                await here.press(key)
                done = [e for e in here.book.entries() if e not in room.journal]
                assert {e.word for e in done} <= {"look again", "pause", "go on", "back"}
                if here.room.clean:
                    break

    run(presses())
    assert {x.__name__ for x in WHILE_INKY} == {
        "GoOn", "AnswerCall", "TakeBack", "LookAgain", "Pause", "Resume", "Tick"}


def test_with_a_helper_the_keys_are_live_and_the_hands_stay_inky() -> None:
    """The helper's clean hands make the keyboard live; the printer's stay inky."""

    async def helped() -> None:
        async with on_the_bench(recipe(before=["{do: Screws, hands: clean}"])) as here:
            await here.press("j")
            await here.typed("Ana")
            await here.press("space", "space")
            assert (here.hands, here.hand) == ("inky", "Pull")
            await here.shows("CLEAN HANDS: THE HELPER'S", "hands inky + helper")
            await here.press("n")
            await here.typed("dry corner")
            assert here.s.impressions[0].notes == ("dry corner",)
            await here.press("j")
            await here.shows("WASH")

    run(helped())


def test_one_press_held_down_is_one_tread() -> None:
    """Repeats of a held key find the gate shut; the next press after silence counts."""

    async def held() -> None:
        async with on_the_bench(BARE, gate_ms=750) as here:
            here.clock.advance(20 * MIN)  # the step was due to end: no slip
            for ms in (0, 500, 530, 560, 1200):
                event = events.Key("space", " ")
                event.time = 1000 + ms / 1000
                here.app.screen.post_message(event)
                await here.pilot.pause()
            assert here.hand is None or here.s.hand is not None
            treads = [e for e in here.entries() if e.word == "go on"]
            assert len({e.action for e in treads}) == 1
            event = events.Key("space", " ")
            event.time = 1000 + 1.2 + 0.76
            here.app.screen.post_message(event)
            await until(here.pilot, lambda: len(
                {e.action for e in here.entries() if e.word == "go on"}) == 2)

    run(held())


def test_a_fact_is_answered_by_its_number_alone() -> None:
    """Treads ask again; a number out of range answers nothing; the right one is in the book."""

    async def asked() -> None:
        async with on_the_bench(BARE, wanted=1) as here:
            await here.press("space", "space", "space", "space")
            while not here.view.now.must:
                await here.press("space")
            await here.shows("1  in the can", "2  hung open")
            await here.press("space")
            assert here.view.now.must
            await here.press("9")
            await here.shows("Answer with 1 to 2")
            assert here.entries("must answered") == []
            await here.press("2")
            assert [e.body["fact"] for e in here.entries("must answered")] == ["hung open"]

    run(asked())


def test_tags_by_two_keys_and_one_used_today_by_one() -> None:
    """Group then word; used once it has a key of its own; the same again takes it off."""

    async def tags() -> None:
        async with on_the_bench(BARE) as here:
            await here.press("space", "space", "space", "t")
            await here.shows("wiping", "register")
            await here.press("2")
            await here.shows("salty", "white specks")
            await here.press("3")
            assert here.last.tags == ("salty",)
            await here.press("t")
            await here.shows("used today:", "p salty (on it)")
            await here.press("p")
            assert here.last.tags == ()

    run(tags())


def test_a_tread_into_an_open_list_is_not_lost_silently() -> None:
    """A pedal pressed while a list lies open says so; so does one that moves in a text, at its end.

    One that types nothing treads with a text open: see the tests of lines.
    """

    async def trodden() -> None:
        async with on_the_bench(BARE) as here:
            await here.press("space", "space", "space", "t")
            before = here.book.last_sequence()
            await here.press("f13")
            await here.shows("Close what is open here")
            await here.press("escape", "n", "right")
            await here.shows("You are writing")
            assert here.book.last_sequence() == before

    run(trodden())


def test_keys_that_answer_a_list_or_a_text_are_no_lost_treads() -> None:
    """Down and Enter choose from a list, Enter takes a text, blanks are written: no warning."""

    async def answered() -> None:
        async with on_the_bench(BARE) as here:
            await here.press("space", "space", "space", "t", "down", "enter", "down", "enter")
            assert len(here.last.tags) == 1
            await here.press("n", *"a b", "left", "right", "enter")
            assert here.last.notes == ("a b",)
            assert not list(here.app.screen.query(NoticeBar))

    run(answered())


def test_the_last_sheets_values_are_one_key_away() -> None:
    """`=` gives the sheet in hand the verdict, tags and grade of the one before."""

    async def copied() -> None:
        async with on_the_bench(BARE) as here:
            await here.press("space", "space", "space", "k", "4")
            here.say(a.Tag("salty"))
            await here.press("space", "space", "space", "space")
            await here.shows("= as D1", "keep: salty")
            await here.press("equals_sign")
            one, two = here.sheets
            assert (two.verdict, two.tags) == (one.verdict, one.tags) == ("keep", ("salty",))
            assert [r.value for r in two.readings] == ["4"]

    run(copied())


def test_every_key_that_asks_does_what_its_word_says() -> None:
    """For, setting, clock, wanted, skip, left off, more time: each leaves its entry."""

    async def said() -> None:
        async with on_the_bench(recipe(before=["{do: Screws, hands: clean}",
                                               "{do: Blankets, hands: clean}"])) as here:
            await here.press("b")
            await here.typed("3")
            assert here.s.wanted == 3
            await here.press("c")
            await here.typed("5 min varnish")
            assert [x.name for x in here.s.timed.values()] == ["varnish"]
            await here.shows("5:00 varnish")
            await here.press("e")
            await here.shows("0  another setting …")
            await here.press("0")
            await here.typed("drying rack")
            await here.typed("upper half")
            assert [(x.name, x.value) for x in here.s.settings] == [("drying rack", "upper half")]
            await here.press("full_stop")
            await here.typed("blankets half on")
            assert here.s.left_off == "blankets half on"
            await here.press("x")
            await here.typed("done last night")
            assert here.ended("Screws")[0].why == "done last night"
            await here.press("backspace")
            assert here.hand == "Screws"

    run(said())


def test_waits_are_given_more_time_and_their_calls_stand_full_width() -> None:
    """A wait that ran out calls on a line of its own; `+` gives it more."""
    text = recipe(before=["{do: Screws, hands: clean}", SETTLE])

    async def waits() -> None:
        async with on_the_bench(text) as here:
            await here.press("space")
            here.clock.advance(6 * MIN)
            here.shop.tick()
            here.clock.advance(2 * MIN)
            await here.settled()
            await here.shows("Settle: 2 min over")
            call = next(pair for pair, text in colour_pairs(here.app).items()
                        if "Settle: 2 min over" in text)
            assert call == ("#1c1204", "#f5bd4f")
            await here.press("plus", "3")
            assert here.entries("step extended")[0].body["by_ms"] == 7 * MIN

    run(waits())


def test_a_question_is_answered_by_one_key_when_hands_are_clean() -> None:
    """A step far over its high time: took that long, away, or forgot."""

    async def long() -> None:
        async with on_the_bench(BARE) as here:
            here.clock.advance(40 * MIN)
            await here.press("space")
            assert "8 away" not in here.text
            await here.press("space")
            await here.shows("40 min", "8 away")
            await here.press("8")
            assert [e.body["answer"] for e in here.entries("time explained")] == ["away"]
            await here.shows("you were away; this time is not counted as work")
            hours = json_values(review_session(here.book.entries(), here.s.id))["hours"]
            assert (hours["hands_seconds"], hours["away_seconds"]) == (0, 40 * 60)

    run(long())


def test_a_last_tick_while_the_app_ends_does_nothing() -> None:
    """The timer may fire once more when every screen is gone already."""

    async def ended() -> None:
        async with on_the_bench(BARE) as here:
            await here.shows("INKY HANDS")
        before = here.book.last_sequence()
        here.clock.advance(40 * MIN)
        here.app._time_passed()
        assert not here.app.writing
        assert here.book.last_sequence() == before

    run(ended())


def test_pause_stands_across_and_says_what_it_does() -> None:
    """A pause over an inked plate says so and asks for the wash; one tread goes on."""

    async def paused() -> None:
        async with on_the_bench(BARE, size=(120, 40)) as here:
            here.clock.advance(2 * MIN)
            await here.press("p")
            await here.shows("PAUSED", "The inked plate stiffens", "wash before you go")
            await here.press("space")
            assert here.s.paused_t is None
            await here.shows("INKY HANDS")

    run(paused())


def test_leaving_the_bench_needs_clean_hands_and_keeps_the_session_open() -> None:
    """Escape says why not while inky; with clean hands the Studio comes, nothing is closed."""

    async def leaves() -> None:
        async with on_the_bench(BARE) as here:
            await here.press("escape")
            await here.shows("Hands are inky: wash first")
            sid = here.s.id
            await here.press("space", "space", "escape")
            await until(here.pilot, lambda: type(here.app.screen).__name__ == "StudioScreen")
            assert here.room.bench is None
            assert [s.id for s in here.room.open_sessions] == [sid]

    run(leaves())


def test_another_session_is_named_and_comes_by_tab() -> None:
    """Its clocks are shown with its name; Tab brings it to the Bench."""

    async def two() -> None:
        studio = Studio(recipe(before=["{do: Screws, hands: clean}"]), None)
        studio.say(a.StartClock(5 * MIN, "bath"))
        studio.open(THREE)
        async with on_the_bench("", studio=studio) as here:
            await here.shows("also open: 2026-05-03", "bath", "(2026-05-03)")
            await here.press("tab")
            assert here.s.name == "2026-05-03"
            await here.shows("Slack Water")

    run(two())


@pytest.mark.parametrize(("size", "theme"), [
    ((80, 24), "dark"), pytest.param((120, 40), "light", marks=pytest.mark.full)])
def test_every_state_of_a_day_fits_and_can_be_read(size: tuple[int, int], theme: str) -> None:
    """No line is too wide, the count is drawn, every pair of colours keeps 7:1."""
    run(_a_day_on_screen(THREE, size, theme, 1, {"inky", "wash", "clean", "none"}))


@pytest.mark.full
@pytest.mark.parametrize(("size", "theme"), [((80, 24), "light"), ((120, 40), "dark")])
@pytest.mark.parametrize("name", sorted(p.stem for p in SHIPPED.glob("*.yaml")))
def test_every_state_of_every_day_fits(size: tuple[int, int], theme: str, name: str) -> None:
    """The same for each shipped recipe, small and light, large and dark."""
    text = (SHIPPED / f"{name}.yaml").read_text(encoding="utf-8")
    run(_a_day_on_screen(text, size, theme, 2, {"inky", "wash", "clean", "none"}))


async def _a_day_on_screen(
    text: str, size: tuple[int, int], theme: str, wanted: int, sides: set[str]
) -> None:
    pairs: dict[tuple[str, str], str] = {}
    seen = set()
    async with on_the_bench(text, wanted=wanted, size=size, theme=theme) as here:
        for _ in range(400):
            here.clock.advance(3 * MIN)
            here.shop.tick()
            await here.settled()
            shown = here.view
            seen.add(shown.now.side)
            assert wide_at_most(here.text, size[0])
            if shown.now.count is not None:
                assert sum("█" in line for line in here.text.splitlines()) >= 5, here.text
            if shown.mark is not None:
                assert (f"Pencil {shown.mark} on the back" in here.text) == shown.lifted
            pairs |= colour_pairs(here.app)
            if here.s.closed is not None:
                break
            here.say(a.Must(shown.now.must[0]) if shown.now.must else a.GoOn())
        assert here.s.closed is not None
    assert sides <= seen
    low = {pair: words[:40] for pair, words in pairs.items() if contrast(*pair) < LEAST}
    assert not low


def test_text_from_people_is_shown_letter_by_letter_on_the_bench() -> None:
    """Markup in title, step, caution, lines, tag, note, helper and clock neither acts nor ends."""
    h = HOSTILE
    steps = [f"{{do: '{h}do', hands: inky, lines: ['{h}line'], care: '{h}care'}}",
             f"{{do: '{h}pull', hands: clean, pulls: key}}",
             f"{{do: '{h}lift', hands: clean, asks: [verdict], lines: ['{h}{'x' * 300}']}}"]
    end = f"{{do: End, hands: clean, must: ['{h}a', '{h}b']}}"
    text = recipe(each=steps, after=[end]).replace("title: Slack Water", f"title: '{h}title'")

    async def shown() -> None:
        studio = Studio(text, 1)
        # What an old or foreign book holds: controls that no door of ours lets in.
        evil = "\x1b]52;c;QUJD\x07\u202etxet[/b]"
        async with on_the_bench("", studio=studio, size=(120, 40)) as here:
            await here.shows(HOSTILE_SEEN + " title", HOSTILE_SEEN + " do")
            await here.press("space", "space", "space")
            here.say(a.Tag(evil))
            here.say(a.Note(evil))
            here.say(a.StartClock(5 * MIN, evil))
            here.say(a.Helper(joins=True, name=evil))
            here.say(a.LeftOff(evil))
            await here.settled()
            await here.shows("␛]52;c;QUJD␇\ufffdtxet[/b]")
            await here.press("t")
            await here.shows("␛]52")
            await here.press("escape", "n")
            await here.press("escape", "full_stop")
            await here.pilot.pause()
            assert "\x1b" not in here.text
            assert "\u202e" not in here.text
            await here.press("escape")
            assert here.app.is_running

    run(shown())


@pytest.mark.parametrize("size", [
    (80, 24), pytest.param((120, 40), marks=pytest.mark.full)])
def test_a_window_that_does_not_hear_says_so_until_it_does(size: tuple[int, int]) -> None:
    """Large words when the terminal's keys go elsewhere; gone when they come back."""

    async def blurred() -> None:
        async with on_the_bench(BARE, size=size) as here:
            here.app.post_message(events.AppBlur())
            await here.shows("the pedal go to another window")
            foot = here.text.splitlines()[-12:]
            assert sum("█" in line for line in foot) >= 5, here.text
            here.app.post_message(events.AppFocus())
            await until(here.pilot, lambda: "another window" not in here.text)

    run(blurred())


def test_the_foot_names_only_keys_that_do_something() -> None:
    """Each key of the foot, tried on a room like it, is not refused and not unknown."""

    async def tried() -> None:
        async with on_the_bench(BARE, size=(120, 40)) as here:
            foot = "\n".join(here.text.splitlines()[-3:])
            assert "go on" in foot
            assert "pause" in foot
            assert "keep" not in foot
            await here.press("space", "space", "space")
            await here.settled()
            foot = "\n".join(here.text.splitlines()[-4:])
            for words in ("k keep", "t tag", "? help", "esc Studio"):
                assert words in foot
            assert "mute" not in foot
            assert "switch" not in foot

    run(tried())


def test_sheets_out_of_the_water_by_one_key() -> None:
    """The pack in the water is out at the key, and its rest begins."""
    text = recipe(before=["{do: Screws, hands: clean}"], damp=SOAK)

    async def out() -> None:
        async with on_the_bench(text, wanted=2) as here:
            await here.shows("Sheets into the water")
            await here.press("a")
            await here.typed("")
            here.clock.advance(30 * MIN)
            await here.press("u")
            assert [e.kind for e in here.entries("out")] == ["out"]

    run(out())


def test_ink_that_lies_is_told_in_plain_words_and_counted_until_the_pull() -> None:
    """How long, and the limit; the count stays while the sheet is being laid, and then goes."""
    text = recipe(plates=("pear",), each=(
        INK, WIPE, "{do: Pull, hands: clean, pulls: pear, within: 7 min}", LIFT))

    async def lying() -> None:
        async with on_the_bench(text, size=(120, 40)) as here:
            await here.press("space", "space")
            here.clock.advance(8 * MIN)
            here.app._time_passed()
            await here.shows("! The ink on pear has waited 8 min, limit 7", "since pear was")
            await here.press("space")
            await until(here.pilot, lambda: here.hand == "Pull")
            await here.shows("since pear was")
            assert "has waited" not in here.text
            await here.press("space")
            await until(here.pilot, lambda: here.hand == "Lift")
            await here.settled()
            assert "since pear was" not in here.text

    run(lying())


def test_a_grade_is_seen_on_its_sheet() -> None:
    """What was read of a sheet stands beside its verdict, so that a wrong one is noticed."""
    text = recipe(each=[WIPE, PULL, LIFT], after=[RAGS])

    async def work() -> None:
        async with on_the_bench(text) as here:
            await here.press("space", "space", "space", "k", "3")
            await here.shows(f"{here.last.mark} ● keep: grade 3")

    run(work())
