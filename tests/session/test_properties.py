"""What holds after anything at all was done at the bench, in whatever order."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.book.checks import check_drafts
from benchapp.clock import FakeClock
from benchapp.decision import Refusal
from benchapp.events.entry import Draft, Entry, Moment
from benchapp.session import actions as a
from benchapp.session.context import on_bench, worked_ms
from benchapp.session.counting import needs_next
from benchapp.session.decide import bench_after, decide
from benchapp.session.fold import NOT_TAKEN_BACK, apply_entry, replay_entries
from benchapp.session.names import step_of
from benchapp.session.state import Session, StudioState
from benchapp.views.bench import bench_view
from tests.session.acts import DAYS, moves, opens, pass_time
from tests.session.support import hold_damp_sheets

QUICK, FULL = 25, 3_000
#: What no take-back undoes: time, and who stands at the Bench.
PASSED_OVER = (a.Open, a.Continue, a.Tick, a.SwitchSession, a.TakeBack)


class Journal:
    """A room and its entries, numbered as a book would."""

    def __init__(self) -> None:
        self.room = StudioState()
        self.positions: dict[str, int] = {}

    def entries(self, drafts: tuple[Draft, ...], at: Moment, word: str) -> list[Entry]:
        """The drafts as entries that follow the last."""
        out: list[Entry] = []
        first = f"x-{len(self.room.journal) + 1}"
        positions = dict(self.positions)
        for n, d in enumerate(check_drafts(drafts, at, word), len(self.room.journal) + 1):
            positions[d.stream] = positions.get(d.stream, 0) + 1
            out.append(Entry(f"x-{n}", d.stream, positions[d.stream], first, word, d.kind, at,
                             d.body))
        return out

    def do(self, action: a.Action, now: Moment, session: str | None) -> list[Entry]:
        """Decide, check and fold; none where it was refused."""
        before = self.room
        decided = decide(before, action, now, session)
        assert self.room is before
        if isinstance(decided, Refusal):
            assert decided.why
            return []
        entries = self.entries(decided, now, a.action_word(action))
        after = on_bench(before, bench_after(before, action))
        for entry in entries:
            _begun_only_if_needed(after, entry)
            after = apply_entry(after, entry)
        _hands_only_by_wash(before, after, entries, action)
        _time_goes_on(before, after, now, action)
        if not isinstance(action, PASSED_OVER):
            self._taken_back(before, after, entries, now)
        self.room = after
        for entry in entries:
            self.positions[entry.stream] = entry.position
        return entries

    def _taken_back(self, before: StudioState, after: StudioState, entries: list[Entry],
                    now: Moment) -> None:
        """On a branch thrown away: what was just done, taken back, was never done."""
        if not entries:
            return
        done = [s.id for s in after.sessions.values()
                if s.actions and s.actions[-1].action == entries[0].id]
        assert len(done) == 1, f"{entries[0].word} can be taken back in {done}"
        sid = done[0]
        if after.sessions[sid].closed is not None:
            return
        after = on_bench(after, sid)
        back = decide(after, a.TakeBack(), now, sid)
        assert not isinstance(back, Refusal), f"{entries[0].word}: {back}"
        branch = Journal()
        branch.room, branch.positions = after, dict(self.positions)
        room = after
        for entry in branch.entries(back, now, "back"):
            room = apply_entry(room, entry)
        assert outside_time(room) == outside_time(before), entries[0].word


def outside_time(room: StudioState) -> dict[str, Any]:
    """The room but for the clocks, the journal and what can be taken back."""
    return {
        "sessions": {k: replace(s, actions=()) for k, s in room.sessions.items()},
        "packs": room.packs, "inky": room.inky, "helper": room.helper,
    }


def _begun_only_if_needed(room: StudioState, entry: Entry) -> None:
    """No impression is begun that is not needed."""
    if entry.kind == "impression begun":
        assert needs_next(room.sessions[entry.stream.partition("/")[2]])


def _hands_only_by_wash(before: StudioState, after: StudioState, entries: list[Entry],
                        action: a.Action) -> None:
    """Inky hands are clean after a wash, or when nothing is open any more."""
    if before.inky and not after.inky and not isinstance(action, a.TakeBack):
        washed = any(e.kind == "step finished" and e.body["step"] == "wash"
                     and e.body["how"] in ("done", "passed", "out of reach") for e in entries)
        assert washed or not after.open_sessions


def _time_goes_on(before: StudioState, after: StudioState, now: Moment, action: a.Action) -> None:
    """No length grows shorter, whatever the clocks on the wall do.

    Going on after a pause may be taken back: then the pause never ended, and what
    was counted since belongs to it.
    """
    assert after.t >= before.t
    for sid, s in before.sessions.items():
        paused_again = s.paused_t is None and after.sessions[sid].paused_t is not None
        if isinstance(action, a.TakeBack) and paused_again:
            continue
        for key, work in s.work.items():
            later = after.sessions[sid].work.get(key)
            if work.running and later is not None and later.started_t == work.started_t:
                assert (worked_ms(after.sessions[sid], later, after.t_at(now))
                        >= worked_ms(s, work, before.t))


def _holds(room: StudioState, now: Moment) -> None:
    """What is true of every room."""
    marks: list[str] = []
    running = []
    for s in room.sessions.values():
        _sheets_hold(s)
        marks += [i.mark for i in s.impressions if i.mark is not None]
        for key, work in s.work.items():
            step = step_of(s, key)
            if work.running and step is not None and step.hands != "free":
                running.append((s.id, key))
                assert s.closed is not None or s.hand == key
    assert len(running) <= 1, running
    assert len(marks) == len(set(marks)), marks
    hold_damp_sheets(room)
    shown = bench_view(room, now)
    assert (shown is None) == (room.bench is None)


def _sheets_hold(s: Session) -> None:
    """Every pull is in one impression, and numbers have no gap."""
    numbers = sorted(i.number for i in s.impressions if i.number is not None)
    assert numbers == list(range(1, len(numbers) + 1))
    assert [i.ordinal for i in s.impressions] == list(range(1, len(s.impressions) + 1))
    assert all(k.impression is None or s.impression(k.impression) is not None for k in s.work)
    for imp in s.impressions:
        assert bool(imp.pulls) == imp.pulled == (imp.mark is not None)
        assert not (imp.laid and imp.aside)
        assert (imp.ended, imp.verdict) != ("progressive", "spoiled")


def _run(day: int, wanted: int | None, todo: list[Any]) -> None:
    clock, journal = FakeClock(), Journal()
    journal.do(opens(day, "s1@x", wanted), clock.now(), None)
    for wait, action, session in todo:
        pass_time(clock, wait)
        journal.do(action, clock.now(), session)
        assert replay_entries(journal.room.journal, journal.room.bench) == journal.room
        _holds(journal.room, clock.now())


CASES = (st.integers(0, len(DAYS) - 1), st.sampled_from([None, 1, 2]))


@settings(max_examples=QUICK)
@given(*CASES, moves(30))
def test_anything_done_to_one_session_keeps_it_whole(day, wanted, todo):
    """Total, replayable, gapless, clean only by washing, and taken back without a trace."""
    _run(day, wanted, todo)


@settings(max_examples=QUICK)
@given(*CASES, moves(30, two=True))
def test_anything_done_to_several_sessions_keeps_the_room_whole(day, wanted, todo):
    """The same with sessions opened, switched and named, and packs shared between them."""
    _run(day, wanted, todo)


@pytest.mark.full
@settings(max_examples=FULL)
@given(*CASES, st.booleans().flatmap(lambda two: moves(40, two=two, least=40)))
def test_three_thousand_days_of_forty_moves_stay_whole(day, wanted, todo):
    """The same of one session or several, at length."""
    _run(day, wanted, todo)


def test_no_word_of_an_action_is_two_actions_word():
    """What a take-back passes over is told by the word: it is nobody else's."""
    spoken = {spec.word for spec in a.REGISTRY} | {"not judged"}
    words = [spec.word for spec in a.SPECS]
    assert len(words) == len(set(words))
    assert spoken <= set(words)
    assert spoken & NOT_TAKEN_BACK == {"back", "switch"}
