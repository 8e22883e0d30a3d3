"""Anything a printer, a typist, the clock or a stray key may do, as hypothesis makes it."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import strategies as st

from benchapp.clock import FakeClock
from benchapp.session import actions as a
from benchapp.session.state import FORS, TaskKey
from tests.session import support as lib

#: The days the properties are tried on: each leans on other rules of the bench.
DAYS = (
    lib.recipe(before=[lib.SCREWS], after=[lib.PLATE_CLEAN, lib.SHEETS, lib.RAGS], damp=lib.SOAK),
    lib.recipe(each=(lib.WARM, lib.INK, lib.SETTLE, lib.WIPE, lib.OPEN_WAIT, lib.PULL, lib.LIFT,
                     "{do: Boards, hands: free, time: 3 min, ends: itself}"),
               after=[lib.RAGS], damp=lib.SOAK),
    lib.recipe(each=lib.TWO_EACH, plates=("tone", "key"), after=[lib.PLATE_CLEAN, lib.RAGS]),
    lib.recipe(each=(lib.INK, "{do: Bevels, hands: inky, every: 2}",
                     "{do: Dust, hands: clean, optional: true}",
                     "{do: Lay, hands: clean, out of reach: true, uses: sheet}",
                     "{do: Pull, hands: clean, out of reach: true, pulls: key}", lib.LIFT),
               after=["{do: Put out, hands: clean, out of reach: true}"], damp=lib.SOAK,
               extra="proofing: {for: SP, state: II}\n"
                     "readings: [{name: tone, unit: grade 1-5, at: Lift}]\n"),
)

STEPS = (*(f"{part}.{n}" for part in ("each", "before", "after") for n in range(1, 6)),
         "wash", "damp.in", "damp.out", "no such step", "")
SESSIONS = ("s1@x", "s2@x", "s3@x")
_TEXT = st.sampled_from(["", "  ", "a hair in the nip", "[/b]", "x" * 300, "ö ≈ ×"])
_WHICH = st.sampled_from([None, None, None, 1, 2, 3, 0, -1, 99])
_PACK = st.sampled_from([None, None, "s1@x.1", "s1@x.2", "s2@x.1", "p9", "no such pack"])
_COUNT = st.sampled_from([None, 1, 2, 3, 4, 6, 0, -1, 10**30])
_MS = st.sampled_from([1, 60_000, 300_000, 0, -5, 10**30])
_KEYS = st.builds(TaskKey, st.sampled_from(STEPS), _WHICH, _PACK)
_STEP = st.sampled_from(STEPS)
#: Steps that may come; hardly ever one that does.
_COMING = st.builds(TaskKey, st.sampled_from(["each.1", "each.2", "each.3", "after.1", "after.2"]),
                    st.sampled_from([None, 1, 2, 3]))

COMMON: st.SearchStrategy[a.Action] = st.sampled_from(
    [a.GoOn(), a.GoOn(), a.GoOn(), a.GoOn(), a.GoOn(), a.TakeBack(), a.Tick(), a.Must(None)])

SPOKEN: st.SearchStrategy[a.Action] = st.one_of(
    st.builds(a.LookAgain, _WHICH), st.just(a.Pause()), st.just(a.Resume()),
    st.builds(a.Note, _TEXT, _WHICH, st.sampled_from(["impression", "session"])),
    st.builds(a.Tag, st.sampled_from(["salty", "lint", ""]), _WHICH, st.booleans()),
    st.builds(a.Judge, st.sampled_from([None, "keep", "doubtful", "spoiled"]), _WHICH),
    st.builds(a.SpoilTry, st.sampled_from([1, 2, 3, 99]), _TEXT, st.booleans()),
    st.builds(a.SayFor, st.sampled_from([*FORS, "", "BAT"]), st.sampled_from([None, "III"]),
              _WHICH),
    st.just(a.Ghost()),
    st.builds(a.ReworkPlate, st.sampled_from([None, "key", "tone", "no"]),
              st.sampled_from([None, "", "II"]), st.sampled_from([None, "", "burnished"])),
    st.builds(a.TakeReading, st.sampled_from(["tone", "room", ""]),
              st.sampled_from(["3", "9", "x", "", "21.5"]), st.sampled_from([None, "C", ""]),
              _WHICH),
    st.builds(a.Set, st.sampled_from(["screws", "", " "]), st.sampled_from(["3 turns", ""])),
    st.just(a.SetAsBefore()),
    st.builds(a.GiveMark, st.sampled_from(["D1", "D2", "D3", "E1", "x", "", " d2 "]), _WHICH,
              st.sampled_from([None, None, "sheet 3 of 2026-05-01"])),
    st.builds(a.SkipStep, _TEXT), st.builds(a.SkipStep, _TEXT, _COMING | _KEYS),
    st.builds(a.Choose, _COMING, st.booleans()), st.builds(a.Redo, _STEP), st.builds(a.Here, _STEP),
    st.builds(a.Extend, _MS, st.none() | _KEYS), st.builds(a.StartClock, _MS, _TEXT),
    st.builds(a.Choose, _KEYS), st.builds(a.DampPack, _COUNT), st.builds(a.SheetsOut, _PACK),
    st.builds(a.MoveSheet, st.sampled_from(["out", "back", "sprayed", "dried"]), _PACK),
    st.builds(a.SetWanted, _COUNT), st.just(a.Enough()), st.just(a.OneMore()), st.just(a.End()),
    st.builds(a.Helper, st.booleans(), st.sampled_from([None, "", "Ida"])),
    st.builds(a.Mute, st.sampled_from([None, "clock 1", "step each.3 1"]), st.none() | _MS),
    st.builds(a.LeftOff, _TEXT),
    st.builds(a.Must, st.sampled_from([None, "in the can", "dried", "wrapped", "none", "no"]),
              st.none() | _STEP),
    st.builds(a.LeaveStep, st.sampled_from(SESSIONS), st.none() | _COMING | _KEYS),
    st.builds(a.Explain, st.sampled_from(["took", "away", "forgot"]), st.none() | _KEYS),
    st.builds(a.SwitchSession, st.sampled_from([*SESSIONS, "nowhere"])), st.just(a.CanEmptied()),
    st.builds(a.Continue, st.sampled_from([None, 0, 1_777_795_200_000, 10**15])),
)


def opens(day: int, sid: str, wanted: int | None) -> a.Open:
    """The opening of the session `sid` on one of the days."""
    text = DAYS[day]
    return a.Open(sid, sid[:2], "DEG"[SESSIONS.index(sid)], "slack-water", text, "0" * 64, wanted)


OPENS: st.SearchStrategy[a.Action] = st.builds(
    opens, st.integers(0, len(DAYS) - 1), st.sampled_from(SESSIONS),
    st.sampled_from([None, 1, 2, 0, -3]))

#: Something that happens to the clocks before the action, in milliseconds.
Wait = Callable[[FakeClock], object]
WAITS: st.SearchStrategy[tuple[str, int]] = st.one_of(
    st.tuples(st.just("advance"), st.sampled_from([0, 0, 1, 60_000, 300_000, 900_000, 3_600_000])),
    st.tuples(st.sampled_from(["sleep", "step_wall", "reboot"]),
              st.sampled_from([0, 3_000, 1_200_000])),
    st.tuples(st.just("step_wall"), st.just(-7_200_000)),
)


@st.composite
def _move(draw: st.DrawFn, two: bool) -> tuple[tuple[str, int], a.Action, str | None]:
    wait = draw(WAITS)
    kind = draw(st.integers(0, 9))
    if two and kind == 9:
        action = draw(OPENS | st.builds(a.SwitchSession, st.sampled_from(SESSIONS)))
    else:
        action = draw(COMMON if kind < 6 else SPOKEN)
    session = draw(st.sampled_from([None] * 12 + [*SESSIONS, "nowhere"])) if two else None
    return wait, action, session


def moves(most: int, *, two: bool = False, least: int | None = None
          ) -> st.SearchStrategy[list[tuple[tuple[str, int], a.Action, str | None]]]:
    """Moves: how time passed, the action, and the session it names; half of `most` at least."""
    return st.lists(_move(two), min_size=most // 2 if least is None else least, max_size=most)


def pass_time(clock: FakeClock, wait: tuple[str, int]) -> None:
    """Let the clocks do what the move says."""
    getattr(clock, wait[0])(wait[1])
