"""What an action is told as: short lines, each true to its entries."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.views.bench import bench_view
from benchapp.views.messages import describe_change, status_lines

MIN = 60_000
RECIPE = """\
recipe: 1
print: {title: Slack Water, artist: Wren Halloran}
plates:
  - {name: key, metal: copper, size: 198 x 148 mm}
paper:
  name: cotton
  damp: {method: soak, soak: 30 min, rest: 15 min, pack: 4, handling: 3 min}
before:
  - {do: Screws, hands: clean, time: 15/20/30 min}
each:
  - {do: Warm, hands: free, time: 2 min, ends: itself}
  - {do: Ink, hands: inky, time: 5 min, care: "Ink is not for skin, data sheet first"}
  - {do: Pull, hands: clean, at: press, time: 4 min, pulls: key}
  - {do: Lift, hands: clean, time: 3 min, asks: [verdict, tags, note]}
after:
  - {do: Rags, hands: clean, time: 2 min, must: [in the can, hung open]}
"""


PAPER = RECIPE[RECIPE.index("paper:"):RECIPE.index("before:")]
DRY = RECIPE.replace(PAPER, "")


class Room:
    """A bench that tells what each action did."""

    def __init__(self, recipe: str = RECIPE) -> None:
        self.clock = FakeClock()
        self.workshop = SessionService(Book.in_memory(), self.clock)
        before = self.workshop.room
        outcome = self.workshop.open_session("slack-water", recipe, 2)
        self.opened = describe_change(before, self.workshop.room, outcome.entries)

    def do(self, *actions: a.Action, after_min: int = 0) -> tuple[str, ...]:
        """The lines of the last of these actions, and of the time before it."""
        said: tuple[str, ...] = ()
        for action in actions:
            self.clock.advance(after_min * MIN)
            said = self._told(a.Tick()) + self._told(action)
        return said

    def _told(self, action: a.Action) -> tuple[str, ...]:
        before = self.workshop.room
        outcome = self.workshop.do(action)
        assert outcome.ok, outcome.refusal
        return describe_change(before, self.workshop.room, outcome.entries)


def test_an_opening_names_the_session_and_what_comes_first() -> None:
    """Name, print, marks, wanted; then the first thing to do."""
    assert Room().opened == (
        "2026-05-03 open · Slack Water, Wren Halloran · marks D · wanted 2",
        "Now: Sheets into the water: 4 · clean · usual 3 min · the recipe's pack")


def test_a_step_tells_how_long_it_took_and_what_begins() -> None:
    """The pack goes in, its own time is said, and the next step with its caution."""
    assert Room().do(a.GoOn(), after_min=4) == (
        "4 sheets in the water, 30 min", "Sheets into the water: 4 min",
        "Now: Screws · clean · usual 20 min")
    room = Room()
    assert room.do(a.GoOn(), a.GoOn(), after_min=4) == ("Screws: 4 min", "Wait: Warm, 2 min")
    assert room.do(a.GoOn(), after_min=1) == (
        "Warm: cut short after 1 min", "Now: Ink · inky · usual 5 min · 4 damp sheets",
        "Care: Ink is not for skin, data sheet first")


def test_a_caution_is_short_once_it_was_read() -> None:
    """The first ink of the day has it whole, the second the harm and the one thing to do."""
    room = Room(DRY)
    said = [line for _ in range(12) for line in room.do(a.GoOn())]
    assert said.count("Care: Ink is not for skin, data sheet first") == 1
    assert said.count("Care: Ink harms skin: gloves") == 2  # the second sheet, the third


def test_taking_a_resume_back_says_that_it_is_paused() -> None:
    """What is in hand is not called now while its count stands still."""
    room = Room()
    room.do(a.Pause(), a.Resume())
    assert room.do(a.TakeBack()) == ("Undone: resume", "It is paused; press the pedal to go on")


def test_a_wait_that_ends_itself_is_told_by_time() -> None:
    """Time alone ends it, and the next step begins."""
    room = Room()
    room.do(a.GoOn(), a.GoOn())
    room.clock.advance(3 * MIN)
    assert room.do(a.Tick())[:2] == (
        "Warm: 3 min", "Now: Ink · inky · usual 5 min · 4 damp sheets")
    assert [x.split(" · ")[0] for x in status_lines(room.workshop.room, room.clock.now())][:3] == [
        "2026-05-03 open", "Hands inky", "Now: Ink"]


def at_the_lift() -> Room:
    room = Room(DRY)
    room.do(*[a.GoOn()] * 4)
    said = room.do(a.GoOn())
    assert said[0] == "Pulled D1 for warm-up (by rule)"
    return room


@pytest.mark.parametrize(("action", "line"), [
    (a.Judge("keep"), "D1: keep; a warm-up does not count (to count it: for edition)"),
    (a.Judge(None), "D1: not judged"),
    (a.Tag("salty"), "D1: salty"),
    (a.Note("a little stiff"), "Note on D1: a little stiff"),
    (a.Note("rain", to="session"), "Note on the session: rain"),
    (a.LookAgain(), "D1: look again"),
    (a.TakeReading("tone", "3", "grade 1-5"), "D1 tone: 3"),
    (a.SayFor("SP", "II"), "D1: for SP II"),
    (a.GiveMark("E9"), "The sheet has the mark E9 now"),
    (a.Set("room", "18 °C"), "room: 18 °C"),
    (a.ReworkPlate("key", "II", "burnished"), "Plate key is in state II: burnished"),
    (a.StartClock(5 * MIN, "varnish"), "Clock: 5 min varnish"),
    (a.LeftOff("ink the key"), "Left off: ink the key"),
    (a.Pause(), "Paused: your working time stops, waits go on"),
    (a.Helper(joins=True, name="Maud"), "Maud is in, with clean hands"),
    (a.Enough(), "Enough: benchapp starts no more impressions"),
    (a.OneMore(), "One more: 3 should count"),
    (a.Ghost(), "The next pull is a ghost: do not ink"),
    (a.SetWanted(None), "Wanted: until you say enough"),
    (a.SetWanted(7), "Wanted 7"),
])
def test_each_word_is_told_in_one_line(action: a.Action, line: str) -> None:
    """What was said comes back, with the sheet it is about."""
    assert at_the_lift().do(action)[0] == line


def test_packs_are_told_with_their_times() -> None:
    """More time in the water, out of it, and a sheet out and back."""
    room = Room()
    room.do(a.GoOn())
    assert room.do(a.Extend(5 * MIN)) == ("5 min more in the water",)
    assert "Clock: 4 sheets in the water, 35:00 left" in status_lines(
        room.workshop.room, room.clock.now())
    assert room.do(a.SheetsOut())[0] == "4 sheets out of the water, rest 15 min"
    assert room.do(a.MoveSheet("out"))[0] == "A sheet is out of its pack; 3 sheets left there"
    assert room.do(a.MoveSheet("back"))[0] == "Sheet back in its pack; 4 sheets there"


def test_a_take_back_says_what_and_where_one_stands() -> None:
    """The word taken back, and what is in hand again."""
    room = at_the_lift()
    room.do(a.Judge("spoiled"))
    assert room.do(a.TakeBack()) == ("Undone: spoiled", "Now: Lift · clean · usual 3 min · D1")


def test_a_spoiled_try_gets_no_number() -> None:
    """Before its pull the try ends, and another begins."""
    room = at_the_lift()
    room.do(a.GoOn(), a.GoOn(), a.GoOn())
    said = room.do(a.Judge("spoiled"))
    assert "This try is spoiled before its pull: it gets no number" in said


def run_to_the_end(room: Room) -> list[str]:
    said: list[str] = []
    for _ in range(60):
        s = room.workshop.room.session
        if s is None or s.closed is not None:
            return said
        must = s.hand is not None and s.hand.step == "after.1"
        said += room.do(a.Must("hung open") if must else a.GoOn())
    raise AssertionError("the day did not end")


def test_facts_and_the_closing_are_told() -> None:
    """The fact with its step; the counts at the close."""
    said = run_to_the_end(Room())
    assert "Rags: hung open" in said
    assert said[-1] == "2026-05-03 closed · pulled 4 · counting 2 · wanted 2"
    assert len([x for x in said if x.startswith("Pulled ")]) == 4
    assert "D4 is under the boards" in said


def test_status_says_all_that_stands() -> None:
    """Hands, what is in hand, next, clocks, counts."""
    room = at_the_lift()
    room.clock.advance(2 * MIN)
    lines: Sequence[str] = status_lines(room.workshop.room, room.clock.now())
    assert lines[0] == "2026-05-03 open · Slack Water, Wren Halloran"
    assert "Hands clean" in lines
    assert "Now: Lift · 2:00, usual 3 min · D1 for warm-up (by rule)" in lines
    assert "pulled 1 · counting 0 · wanted 2" in lines


def test_what_another_session_does_bears_its_name() -> None:
    """A fact of a session that is not on the Bench is told with that session's name."""
    room = Room()
    run_to_the_end(room)
    first = room.workshop.book.sessions()[0].id
    room.workshop.open_session("slack-water", RECIPE)
    before = room.workshop.room
    outcome = room.workshop.do(a.Judge("doubtful", 1), session=first)
    told = describe_change(before, room.workshop.room, outcome.entries)
    assert told == ("2026-05-03: D1: doubtful",)


def test_plate_and_ink_are_told_at_inking_as_the_recipe_says_it() -> None:
    """On the line of the step that begins, in the status, and in what is spoken."""
    room = Room(DRY.replace("before:", "ink: {name: warm black}\nbefore:"))
    told = room.do(a.GoOn(), a.GoOn())
    assert "Now: Ink · inky · warm black · usual 5 min" in told
    shown = bench_view(room.workshop.room, room.clock.now())
    assert shown is not None
    assert shown.now.say == "Ink, warm black"
    assert "warm black" in status_lines(room.workshop.room, room.clock.now())
