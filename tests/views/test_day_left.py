"""What the last day left for the morning, as the Studio shows it."""

from __future__ import annotations

from benchapp.session import actions as a
from benchapp.views.day_left import in_the_can
from benchapp.views.studio import studio_view
from tests.session.support import DAMP, HOUR, INK, LIFT, PULL, RAGS, Bench, recipe

DAY_MS = 24 * HOUR


def left_at_night(b: Bench) -> list[tuple[str, str]]:
    """What the Studio says in the next morning of the days before."""
    b.clock.advance(DAY_MS)
    b.shop.tick()
    return [(x.what, x.words) for x in studio_view(b.room, b.now).yesterday]


def small_day(*, after: tuple[str, ...] = (), judged: bool = True, stop: str = "") -> Bench:
    """A day of few sheets, each judged or none; to its close, or until a step is in hand."""
    b = Bench(recipe(each=(INK, PULL, LIFT), after=after), wanted=1)
    sid = b.s.id
    for _ in range(60):
        if b.room.sessions[sid].closed is not None or b.hand == stop:
            return b
        if judged and b.hand == "Lift":
            b.say(a.Judge("keep"))
        b.go()
    raise AssertionError("the day never ended")


def test_sheets_nobody_judged_and_the_sentence_are_left() -> None:
    """In that order; today's own day is not yesterday's."""
    b = small_day(judged=False, stop="Lift")
    b.say(a.LeftOff("ink II first"))
    b.to_close()
    pulled = sum(len(s.impressions) for s in b.room.sessions.values())
    assert studio_view(b.room, b.now).yesterday == ()
    assert left_at_night(b) == [("judge", f"{pulled} sheets not judged"),
                                ("sentence", "left off: “ink II first”")]


def test_a_day_that_left_nothing_stands_there_itself() -> None:
    """With how many sheets were pulled, for two weeks."""
    b = small_day()
    pulled = sum(len(s.impressions) for s in b.room.sessions.values())
    assert left_at_night(b) == [("day", f"{pulled} pulled")]
    b.clock.advance(14 * DAY_MS)
    assert studio_view(b.room, b.now).yesterday == ()


def test_rags_in_the_can_are_left_and_a_fact_nobody_gave() -> None:
    """The can by the words of the answer; rags that hang open are in no can."""
    said = small_day(after=(RAGS,), stop="Rags")
    said.say(a.Must("in the can"))
    said.to_close()
    assert len(in_the_can(tuple(said.room.sessions.values()))) == 1
    assert left_at_night(said) == [("can", "rag can emptied?")]
    hung = small_day(after=(RAGS,), stop="Rags")
    hung.say(a.Must("hung open"))
    assert in_the_can(tuple(hung.room.sessions.values())) == ()
    assert left_at_night(small_day(after=(RAGS,))) == [("unsaid", "not said: Rags")]


def test_damp_paper_is_left_of_its_print() -> None:
    """While it is in the water, and with how many sheets."""
    b = Bench(DAMP, wanted=4)
    b.work("Sheets into the water")
    assert left_at_night(b) == [("damp", "4 sheets in the water")]
