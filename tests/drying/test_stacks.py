"""Prints under boards: changes at the printer's hours, control sheets, earliest days."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from benchapp.clock import FakeClock
from benchapp.decision import Refusal
from benchapp.drying import actions as b
from benchapp.drying.calls import after_silent_hours
from benchapp.drying.dryness import (
    USUAL,
    DryStep,
    Hours,
    StackChange,
    change_hour,
    stack_changes,
)
from benchapp.drying.stacks import (
    apply_board_entry,
    due_changes,
    replay_boards,
    shared_marks,
    sheet_names,
    stack_dryness,
    stack_earliest_days,
    wall_time,
)
from benchapp.events.entry import Entry
from benchapp.events.kinds import KINDS
from benchapp.events.streams import stream_family

MIN = 60_000
HOUR = 60 * MIN
DAY_MS = 24 * HOUR
START_MS = 1_777_795_200_000  # Sunday 2026-05-03, 10:00 on a wall two hours east of UTC
LIST = (DryStep("Change blotters", after_ms=3 * HOUR),
        DryStep("Change blotters and tissue", every_ms=DAY_MS, for_ms=3 * DAY_MS),
        DryStep("Sign if a test tissue stays clean", after_ms=10 * DAY_MS))
S = "stack 1@home"


class Rack:
    """Boards for tests: what is decided is folded, and kept to be replayed."""

    def __init__(self, drying: tuple[DryStep, ...] = LIST, origin: str = "home",
                 book: Iterable[Entry] = ()) -> None:
        """One stack is begun; or the book has what another book wrote till now."""
        self.clock = FakeClock(START_MS)
        self.origin = origin
        self.entries = list(book)
        self.boards = replay_boards(self.entries)
        if not self.entries:
            self.do(b.Begin(S, "Slack Water, 3 May", drying))

    def try_(self, action: b.Action) -> Refusal | None:
        """Do it; the refusal, where there is one."""
        decided = b.decide_boards(self.boards, action, self.clock.now(), origin=self.origin)
        if isinstance(decided, Refusal):
            return decided
        n = f"{self.origin}:{len(self.entries) + 1}"
        for draft in decided:
            kind = KINDS[stream_family(draft.stream), draft.kind]
            assert set(kind.fields) <= set(draft.body) <= {*kind.fields, *kind.optional}
            self.write(draft.stream, draft.kind, draft.body, n)
        return None

    def write(self, stream: str, kind: str, body: object, action: str) -> None:
        """An entry is in the book."""
        n = len(self.entries) + 1
        entry = Entry(f"{self.origin}:{n}", stream, n, action, "", kind, self.clock.now(), body)
        self.entries.append(entry)
        self.boards = apply_board_entry(self.boards, entry)
        assert self.boards == replay_boards(self.entries)

    def do(self, *actions: b.Action) -> None:
        """Do them; none may be refused."""
        for action in actions:
            refusal = self.try_(action)
            assert refusal is None, f"{action}: {refusal}"

    def lay(self, *marks: str) -> None:
        """Sheets go on top."""
        self.do(b.Lay(S, tuple((m, m) for m in marks)))

    def wants(self) -> list[tuple[str, str, int]]:
        """What is on the list now: do, state, missed."""
        now = wall_time(self.clock.now())
        return [(d.change.do, d.state, d.missed) for d in due_changes(self.boards.up, now)]


def at(day: int, hour: int, minute: int = 0) -> datetime:
    """A time on the wall in May 2026."""
    return datetime(2026, 5, day, hour, minute)  # noqa: DTZ001 (the wall has no offset)


# -- when -------------------------------------------------------------------------------


@pytest.mark.parametrize(("last", "offset", "expected"), [
    (at(3, 14), timedelta(hours=3), at(3, 18)),
    (at(3, 15, 30), timedelta(hours=3), at(3, 18)),  # half an hour sooner than its list: grace
    (at(3, 16, 30), timedelta(hours=3), at(4, 9)),
    (at(3, 18, 20), timedelta(minutes=30), at(4, 9)),  # never before its last sheet
    (at(3, 0, 30), timedelta(hours=3), at(3, 18)),
    (at(3, 10), timedelta(days=1), at(4, 9)),
    (at(3, 23, 50), timedelta(days=1), at(4, 9)),
    (at(3, 10), timedelta(days=10), at(13, 9)),
    (at(3, 10), timedelta(hours=36), at(5, 9)),
])
def test_changes_are_gathered_at_the_printers_hours(last, offset, expected):
    """18:00 the same day, then 09:00; whole days are counted by the calendar."""
    assert change_hour(last, offset) == expected


def test_a_list_of_changes_becomes_times():
    """The evening of the day, the three mornings after it, and the tenth."""
    found = stack_changes(LIST, at(3, 14))
    assert [(c.index, c.nth, c.at) for c in found] == [
        (0, 1, at(3, 18)), (1, 1, at(4, 9)), (1, 2, at(5, 9)), (1, 3, at(6, 9)), (2, 1, at(13, 9))]


def test_the_drying_days_of_the_trade():
    """Evening; days 1, 2, 3; day 10-14 to sign (sequence after Tamarind; days common practice)."""
    rack = Rack()
    rack.lay("K1")
    found = stack_earliest_days(rack.boards.stacks[S])
    assert (found.sign.day, found.sign.source) == (date(2026, 5, 13), "recipe")
    assert (found.sort.day, found.sort.source) == (date(2026, 5, 10), "common practice")
    assert (found.ship.day, found.ship.source) == (date(2026, 5, 31), "common practice")


def test_nothing_is_signed_before_it_is_sorted():
    """A list that sorts late puts signing off."""
    rack = Rack((DryStep("Hold each against the standard", after_ms=20 * DAY_MS),))
    rack.lay("K1")
    days = stack_earliest_days(rack.boards.stacks[S])
    assert days.sign == days.sort


def test_the_printers_own_hours():
    """Other hours, and a silence that does not go over midnight."""
    own = Hours(time(19), time(7, 30), time(1), time(6), timedelta(minutes=10))
    assert change_hour(at(3, 15, 50), timedelta(hours=3), own) == at(3, 19)
    assert change_hour(at(3, 16, 30), timedelta(hours=3), own) == at(4, 7, 30)
    assert own.silent(at(3, 2))
    assert not own.silent(at(3, 23))
    assert USUAL.silent(at(3, 21))
    assert not USUAL.silent(at(3, 8))


@example(datetime(2000, 1, 1, 11, 0, 0, 1), [DryStep("x", None, 1, 86_400_000)])  # noqa: DTZ001
@given(st.datetimes(datetime(2000, 1, 1), datetime(2100, 1, 1)),  # noqa: DTZ001
       st.lists(st.builds(DryStep, st.just("x"), st.none() | st.integers(0, 10**11),
                          st.none() | st.integers(-5, 10**10), st.none() | st.integers(-5, 10**12)),
                max_size=2))
def test_no_change_is_before_its_last_sheet_or_off_the_hours(last, listed):
    """For any list: in order, at 18:00 or 09:00, never twice at once for one line."""
    found = stack_changes(listed, last)
    assert list(found) == sorted(found, key=lambda c: c.at)
    assert len({(c.index, c.at) for c in found}) == len(found)
    for c in found:
        assert c.at.time() in (time(18), time(9))
        assert c.at >= last
        assert (c.at.time() == time(18)) <= (c.at.date() == last.date())


# -- the list ---------------------------------------------------------------------------


def test_one_list_for_all_stacks_says_what_is_due_late_and_coming():
    """Due at its hour, late after its grace, silent at night."""
    rack = Rack()
    rack.lay("K1", "K2")
    assert rack.wants() == [("Change blotters", "coming", 0)]
    rack.clock.advance(8 * HOUR)  # 18:00
    assert rack.wants()[0] == ("Change blotters", "due", 0)
    rack.clock.advance(2 * HOUR)  # 20:00
    assert rack.wants()[0] == ("Change blotters", "late", 0)
    (line, _) = due_changes(rack.boards.up, at(3, 20))
    assert line.calls
    assert line.sheets == 2
    assert not due_changes(rack.boards.up, at(3, 22))[0].calls


def test_a_change_is_counted_from_the_last_sheet():
    """A sheet laid later moves the whole list."""
    rack = Rack()
    rack.lay("K1")
    rack.clock.advance(7 * HOUR)  # 17:00
    rack.lay("K2")
    assert [c.at for c in rack.boards.stacks[S].changes()][:2] == [at(4, 9), at(4, 9)]
    assert rack.boards.stacks[S].lays == 2


def test_done_late_and_skipped_are_entries():
    """What was done after its grace is late; what was missed is skipped by the next one."""
    rack = Rack()
    rack.lay("K1")
    rack.clock.advance(8 * HOUR)
    rack.do(b.Changed(S))
    assert rack.try_(b.Changed(S)).mend == "next: Change blotters and tissue, 2026-05-04 09:00"
    rack.clock.advance(2 * DAY_MS + 6 * HOUR)  # Wednesday, 00:00: two mornings were missed
    assert rack.wants()[0] == ("Change blotters and tissue", "late", 1)
    rack.do(b.Changed(S))
    answers = rack.boards.stacks[S].answers
    assert [(k[1:], a.how, a.why) for k, a in answers.items()] == [
        ((0, 1), "done", None), ((1, 1), "skipped", None), ((1, 2), "late", None)]
    rack.do(b.Changed(S, 1, 3))
    rack.clock.advance(30 * DAY_MS)
    assert rack.try_(b.SkipChange(S, "")).rule == "reason"
    rack.do(b.SkipChange(S, "signed already"))
    assert rack.wants() == []


def test_an_empty_or_taken_down_stack_wants_nothing():
    """Lifting the last sheet ends its calls, and so does taking it down."""
    rack = Rack()
    rack.lay("K1", "K2")
    rack.clock.advance(20 * HOUR)
    assert rack.wants()
    rack.do(b.Lift(S, "K1"), b.Lift(S, "K2"))
    assert rack.wants() == []
    rack.lay("K1")
    rack.do(b.TakeDown(S))
    rack.clock.advance(20 * HOUR)
    assert rack.wants() == []
    assert rack.try_(b.Lay(S, (("K3", "K3"),))).rule == "down"


def test_a_sheet_lies_in_one_stack():
    """The refusal says in which."""
    rack = Rack()
    rack.lay("K1")
    rack.do(b.Begin("stack 2@home", "Second"))
    no = rack.try_(b.Lay("stack 2@home", (("K1", "K1"),)))
    assert str(no) == "K1 is already in Slack Water, 3 May; lift it there first"
    assert rack.try_(b.Lift("stack 2@home", "K1")).rule == "sheet"


def test_an_action_of_the_bench_taken_back_never_counted():
    """The sheet it laid does not lie there, whatever came after."""
    rack = Rack()
    rack.lay("K1")
    rack.lay("K2")
    taken_back = rack.entries[-1].action
    rack.do(b.Weight(S, 12_000))
    back = {"stack": S, "action": taken_back, "over": []}
    rack.write(f"stack/{S}", "taken back", back, "home:99")
    assert [x.mark for x in rack.boards.stacks[S].sheets] == ["K1"]
    assert rack.boards.stacks[S].grams == 12_000


# -- dry or not -------------------------------------------------------------------------


def test_dry_to_the_room_is_a_mass_kept_over_24_hours():
    """Not sooner, and not while it still loses more than a step of the scale."""
    rack = Rack()
    rack.lay("K1")
    stack = lambda: rack.boards.stacks[S]  # noqa: E731
    assert stack_dryness(stack()).state == "not weighed"
    seen = []
    for hours, mg in ((0, 131_200), (23, 109_800), (2, 109_000), (24, 106_500), (24, 106_400)):
        rack.clock.advance(hours * HOUR)
        rack.do(b.Weigh(S, "K1", mg))
        seen.append((stack_dryness(stack()).state, stack_dryness(stack()).lost_mg))
    assert seen == [("too soon", None), ("too soon", None), ("drying", 22_200), ("drying", 2_500),
                    ("dry", 100)]


def test_a_mass_that_moved_in_between_is_not_constant():
    """Equal at both ends of the day is not enough."""
    rack = Rack()
    rack.lay("K1")
    for mg in (106_400, 106_900, 106_400):
        rack.do(b.Weigh(S, "K1", mg))
        rack.clock.advance(12 * HOUR)
    assert stack_dryness(rack.boards.stacks[S]).state == "drying"


def test_a_control_sheet_lies_in_the_stack_and_weighs_something():
    """Slips of the hand are refused."""
    rack = Rack()
    rack.lay("K1")
    assert rack.try_(b.Weigh(S, "K9", 100_000)).rule == "sheet"
    assert rack.try_(b.Weigh(S, "K1", 0)).rule == "count"
    assert rack.try_(b.Weight(S, -1)).rule == "count"
    assert rack.try_(b.Begin("s3", "bad\x1b[2J")).rule == "text"


@pytest.mark.parametrize(("action", "rule", "said"), [
    (b.Lay("stack 9@home", (("K1", "K1"),)), "stack",
     "There is no such stack; list the stacks: benchapp boards"),
    (b.Begin("stack 2@home", "  "), "text", "The name of the stack: empty; type it again"),
    (b.Begin(S, "Slack Water"), "stack", "There is a stack Slack Water already; lay sheets on it"),
    (b.Lay(S, ()), "sheet", "No sheet is named; name "),
    (b.Lay(S, (("K2", "K2"), ("K2", "K2"))), "sheet", "One sheet is named twice; name it once"),
    (b.Lay(S, (("K1", "K1"),)), "sheet",
     "K1 is already in Slack Water, 3 May; lift it there first"),
    (b.Lift(S, "K9"), "sheet", "That sheet is not in Slack Water, 3 May; name one that does"),
    (b.SkipChange(S, " "), "reason", "A skipped change needs a reason; say why"),
    (b.Lift("stack 3@home", "K1"), "down", "Old was taken down; begin another stack"),
])
def test_a_refusal_at_the_boards_says_what_to_do(
    action: b.Action, rule: str, said: str
) -> None:
    """And nothing is written."""
    rack = Rack()
    rack.do(b.Lay(S, (("K1", "K1"),)), b.Begin("stack 3@home", "Old"),
            b.TakeDown("stack 3@home"))
    before = rack.boards
    refusal = rack.try_(action)
    assert refusal is not None
    assert (refusal.rule, str(refusal)[:len(said)]) == (rule, said)
    assert rack.boards == before


def test_an_entry_of_another_family_changes_no_stack() -> None:
    """Nor does the beginning of a stack that is there, or a word about one that is not."""
    rack = Rack()
    begun = rack.entries[0]
    assert apply_board_entry(rack.boards, replace(begun, stream="print/pear")) == rack.boards
    again = apply_board_entry(rack.boards, replace(begun, id="x:9", action="x:9"))
    assert again.stacks == rack.boards.stacks
    nowhere = replace(begun, kind="taken down", body={"stack": "stack 9@home", "over": []})
    assert apply_board_entry(rack.boards, nowhere).stacks == rack.boards.stacks


def test_a_stack_without_a_sheet_has_no_changes() -> None:
    """Nor an answer to one."""
    stack = Rack().boards.stacks[S]
    assert (stack.last_local, stack.changes()) == (None, ())
    assert stack.answer(StackChange(0, 1, "Turn", datetime(2026, 5, 3, 18))) is None  # noqa: DTZ001


def test_a_change_beyond_the_calendar_is_none() -> None:
    """A clock set to the last year there is; the silent hours of its last day have no end."""
    last = datetime(9999, 12, 31, 23)  # noqa: DTZ001 - of the wall
    assert change_hour(last, timedelta(days=1)) is None
    assert change_hour(last, timedelta(hours=3)) is None
    assert after_silent_hours(last, Hours()).date() == date.max


def test_sheets_are_named_with_their_day_where_two_have_one_mark() -> None:
    """The top one first; a mark that only one sheet has is enough."""
    rack = Rack()
    rack.do(b.Lay(S, (("2026-05-03@home#1", "D1"), ("2026-05-03@home#2", "D2"),
                      ("2026-05-04@away#1", "D1"))))
    assert shared_marks(rack.boards) == {"D1"}
    stack = rack.boards.stacks[S]
    assert sheet_names(stack) == ("D1", "D2", "D1")
    top, middle, low = sheet_names(stack, shared_marks(rack.boards))
    assert (middle, top != low, top.startswith("D1"), low.startswith("D1")) == (
        "D2", True, True, True)
