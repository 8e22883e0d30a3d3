"""Through whole simulated days: packs are told in time, and no sheet is too old unannounced."""

from __future__ import annotations

import random
import re
from dataclasses import dataclass, field

import pytest

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.demo.day import SimulatedDay
from benchapp.demo.printer import Printer
from benchapp.events.moments import local_time
from benchapp.files import read_text, shipped_recipes
from benchapp.planning.remaining import day_of_room
from benchapp.planning.sentences import too_old
from benchapp.planning.time_to_finish import Ahead, forecast_finish
from benchapp.service.outcome import Outcome
from benchapp.service.sessions import SessionService
from benchapp.session.compiled_recipe import DAMP_IN

pytestmark = pytest.mark.full
SEEDS = range(1, 9)
#: A pack is spoken of from so many seconds before the plan has it go in.
SOON = 45 * 60
_BY = re.compile(r"(?:First|Next) pack must go in by (\d\d:\d\d)")


@dataclass
class Watched:
    """A simulated day and what the Bench would have said after each action.

    Attributes:
        told: For each pack put in after the first: the latest moment told before, and when its
            going in began; None where nothing was told. Left out are packs that the plan had far
            later: the Bench asks by its own rule, the sheets that are left, and is early then.
        old: For each sheet taken: by how many ms it was too old, and whether the last plan
            before said so.
        ends: Promised ends of the number wanted, in minutes of the day.
    """

    told: list[tuple[str | None, str]] = field(default_factory=list)
    old: list[tuple[int, bool]] = field(default_factory=list)
    ends: list[str] = field(default_factory=list)


def _until_planned(before: Ahead, t: int) -> float:
    """Seconds from `t` until the plan before has the next pack go in."""
    into = next((p.into for p in before.plan.packs if p.into is not None and p.ordinals), 0)
    return into - (t - before.t) / 1000


def watched(seed: int, keeps: str, pack: int) -> Watched:
    """A day of seven wanted of a shipped recipe, its paper kept and packed so."""
    text = read_text(shipped_recipes()["weigh-house"])
    text = text.replace("keeps: 48 h", f"keeps: {keeps}").replace("pack: 6", f"pack: {pack}")
    clock = FakeClock()
    shop = SessionService(Book.in_memory(), clock)
    out = Watched()
    before: Ahead | None = None
    by: str | None = None
    late: frozenset[int] = frozenset()

    def look(outcome: Outcome) -> None:
        nonlocal before, by, late
        room, now = shop.room, clock.now()
        for e in outcome.entries:
            if e.kind == "step started" and e.body["step"] == DAMP_IN and room.packs:
                if (by is not None or before is None
                        or _until_planned(before, room.t_at(now)) < SOON):
                    out.told.append((by, f"{local_time(now):%H:%M}"))
                by = None
            if e.kind == "sheet taken":
                lying = room.packs[e.body["pack"]]
                over = room.t_at(now) - (lying.out_t or 0) - (lying.keeps_ms or 0)
                out.old.append((over, e.body["impression"] in late))
        before = forecast_finish(room, now, before)
        if before is None:
            return
        found = [m[1] for note in before.notes if (m := _BY.fullmatch(note))]
        by = found[0] if found else by
        late = frozenset(too_old(day_of_room(room, before.t), before.plan))
        out.ends.append(before.words)

    shop.listen(look)
    Printer(shop, clock, random.Random(seed), SimulatedDay(wanted=7)).print_day("weigh-house", text)
    return out


@pytest.mark.parametrize("seed", SEEDS)
def test_every_pack_is_told_before_it_must_be_in(seed: int) -> None:
    """Each pack after the first was spoken of before it went in, and went in by then."""
    found = watched(seed, "48 h", 4)
    assert found.told
    for by, at in found.told:
        assert by is not None
        assert at <= by
    assert all(over <= 0 and not said for over, said in found.old)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_sheet_is_too_old_that_the_plan_said_would_not_be(seed: int) -> None:
    """Paper that keeps 150 minutes in a pack of eight: every sheet too old was told of before."""
    found = watched(seed, "150 min", 8)
    assert any(over > 0 for over, _ in found.old)
    assert all(said for over, said in found.old if over > 0)
    assert any(not said for _, said in found.old)
