"""Time while benchapp was closed: nobody says that it was work, so no step is timed by it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from benchapp import plain
from benchapp.history.suggestions import recipe_lessons
from benchapp.reports.json_form import json_values
from benchapp.reports.review import review_session
from benchapp.reports.review_blocks import review_text
from benchapp.screens.bench import BenchScreen
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.screens.bench_support import Studio, on_the_bench, run
from tests.screens.support import until
from tests.session.support import INK, PULL, recipe

TIMED = "{do: Lift and look, hands: clean, time: 2/4/8 min, asks: [verdict, tags, note]}"
UNTIMED = "{do: Lift and look, hands: clean, asks: [verdict, tags, note]}"
SECOND = 1_000


def at_the_lift(step: str = TIMED) -> Studio:
    """Half a minute into the lift of the first sheet."""
    here = Studio(recipe(each=(INK, PULL, step)))
    here.until("Lift and look")
    here.clock.advance(30 * SECOND)
    return here


async def leave(here: Studio, *keys: str) -> None:
    """Leave the program at the lift: by Ctrl+Q, or by these keys."""
    async with on_the_bench("", studio=here):
        here.app.look_again()
        await here.press(*keys or ("ctrl+q",))
        await until(here.pilot, lambda: here.app._exit, what="left")


def come_back(here: Studio, seconds: int) -> None:
    """A new program so many seconds later, with the session on the Bench again."""
    here.clock.advance(seconds * SECOND)
    here.shop = SessionService(here.book, here.clock)
    assert here.shop.resume_session(here.book.sessions()[0]).ok


def lift(here: Studio) -> dict[str, Any]:
    """The lift as the review has it."""
    found = json_values(review_session(here.book.entries(), here.s.id))
    return next(x for x in found["steps"] if x["step"] == "Lift and look")


@pytest.mark.parametrize("step", [TIMED, UNTIMED])
def test_minutes_with_benchapp_closed_are_no_work(step: str) -> None:
    """Ctrl+Q at the lift, 4 min closed, a tread: not taken for the review, text and lessons."""
    here = at_the_lift(step)

    async def work() -> None:
        await leave(here)
        come_back(here, 240)
        async with on_the_bench("", studio=here):
            here.clock.advance(20 * SECOND)
            await here.press("space")
            await here.shows("Lift and look: done, time not taken")

    run(work())
    found = lift(here)
    assert (found["taken"], found["seconds"]) == (False, None)
    [entry] = [e for e in here.entries("step finished") if e.body["step"] == here.id_of(
        "Lift and look")]
    assert entry.body["taken"] is False
    text = "\n".join(review_text(review_session(here.book.entries(), here.s.id)))
    assert "Lift and look" in text
    assert "not taken" in text
    taught = recipe_lessons([here.room], here.s.recipe)
    assert next(x for x in taught if x.what == "Lift and look").taken_ms == ()
    assert here.view.question is None


def test_nor_are_they_where_the_studio_was_opened_first() -> None:
    """The program marks that it is alive in the Studio too, before the session is gone on with."""
    here = at_the_lift()

    async def work() -> None:
        await leave(here, "escape", "q")  # the Bench, then the Studio
        here.clock.advance(240 * SECOND)
        here.shop = SessionService(here.book, here.clock)
        async with on_the_bench("", studio=here, start="studio"):
            here.shop.tick()
            here.clock.advance(10 * SECOND)
            await here.shows("2026-05-03")
            await here.press("enter")
            await until(here.pilot, lambda: isinstance(here.app.screen, BenchScreen))
            await here.press("space")
            await here.shows("Lift and look: done, time not taken")

    run(work())
    assert lift(here)["taken"] is False


def test_a_short_way_out_and_in_keeps_the_time_of_a_step() -> None:
    """After a crash within the minute of the mark, nothing of a long step is lost."""
    here = at_the_lift()
    here.shop.tick()
    here.clock.advance(59 * SECOND)  # seen alive; then it died
    come_back(here, 20)
    here.tread()
    assert lift(here)["seconds"] == 30 + 59 + 20


def test_leaving_marks_the_moment_so_that_a_minute_and_a_half_is_known() -> None:
    """The mark of each minute could be 59 s old; the one at leaving is not."""
    for seconds, taken in ((80, True), (95, False)):
        here = at_the_lift()
        here.shop.tick()
        here.clock.advance(59 * SECOND)
        run(leave(here))
        come_back(here, seconds)
        here.tread()
        assert lift(here)["taken"] is taken, seconds


def test_a_pause_said_before_leaving_keeps_the_time() -> None:
    """The printer said when work stood still: what is left of it is known."""
    here = at_the_lift()
    here.say(a.Pause())
    run(leave(here))
    come_back(here, 240)
    here.tread()
    here.clock.advance(20 * SECOND)
    here.tread()
    assert lift(here)["seconds"] == 30 + 20


def test_a_step_begun_after_coming_back_is_timed() -> None:
    """Only what was in hand while benchapp was closed loses its time."""
    here = at_the_lift()
    run(leave(here))
    come_back(here, 240)
    here.tread()
    assert here.hand == "Ink"
    here.clock.advance(300 * SECOND)
    here.tread()
    assert [w.taken for w in here.ended("Ink")] == [True, True]


def test_a_book_from_before_reads_as_it_did() -> None:
    """There the end of a step said that its time was taken: that stands."""
    here = at_the_lift()
    come_back(here, 240)
    here.tread()
    assert lift(here)["taken"] is False
    old = [e if e.kind != "step finished" else replace(e, body={**e.body, "taken": True})
           for e in here.book.entries()]
    steps = json_values(review_session(old, here.s.id))["steps"]
    assert next(x for x in steps if x["step"] == "Lift and look")["seconds"] == 270


class _Typed:
    """Lines for the plain Bench; what it answered."""

    def __init__(self, *lines: str) -> None:
        self.lines, self.said = iter(lines), list[str]()

    def take(self) -> str | None:
        return next(self.lines, None)

    def give(self, text: str) -> None:
        self.said.append(text)


def test_by_lines_likewise() -> None:
    """`quit` at the lift, 4 min closed, an empty line."""
    here = at_the_lift()
    row = here.book.sessions()[0]
    plain.resume_plain(here.shop, _Typed("quit"), row.id)
    here.clock.advance(240 * SECOND)
    here.shop = SessionService(here.book, here.clock)
    lines = _Typed("")
    plain.resume_plain(here.shop, lines, row.id)
    assert "Lift and look: done, time not taken" in lines.said
    assert lift(here)["taken"] is False
