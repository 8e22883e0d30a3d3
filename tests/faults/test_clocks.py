"""Days while clocks jump, stand, sleep, travel and start anew: no time measured is ever lost."""

from __future__ import annotations

from typing import Final

import pytest

from benchapp.session.state import StudioState
from tests.faults.clock_history import History

#: So many days, in so many parts, of so many things each; and every time.
MANY: Final = 3_000
PARTS: Final = 3
FEW: Final = 8
THINGS: Final = 14


def tried(seeds: range) -> int:
    """Those days; how often the machine was started anew in them."""
    boots = 0
    for seed in seeds:
        try:
            history = History(seed)
            for _ in range(THINGS):
                history.go()
            history.end()
        except Exception as error:
            error.add_note(f"seed {seed}")
            raise
        boots += history.boots - 1
    return boots


def test_no_clock_takes_measured_time_away() -> None:
    """Some days, every time."""
    assert tried(range(FEW)) > 0


@pytest.mark.full
@pytest.mark.parametrize("part", range(PARTS))
def test_no_clock_takes_measured_time_away_in_three_thousand_days(part: int) -> None:
    """All of them, in parts."""
    seeds = range(part * MANY // PARTS, (part + 1) * MANY // PARTS)
    assert tried(seeds) > len(seeds)


def test_a_room_that_forgets_a_boot_is_found_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """As if a new boot began the count anew, or its length counted as measured."""
    exactly = StudioState.t_at

    def forgetting(room: StudioState, now: object) -> int:
        found = exactly(room, now)  # type: ignore[arg-type]
        return found - min(room.off, default=0)

    monkeypatch.setattr(StudioState, "t_at", forgetting)
    with pytest.raises(AssertionError):
        tried(range(FEW))
    monkeypatch.undo()
    monkeypatch.setattr(StudioState, "exact", lambda room, since, until: True)
    with pytest.raises(AssertionError):
        tried(range(FEW))
