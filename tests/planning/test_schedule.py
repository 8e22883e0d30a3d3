"""Scheduling by small days reckoned by hand, and the proof of small ones."""

from __future__ import annotations

import pytest

from benchapp.planning.schedule import Activity, Arc, Project, StartLimit
from benchapp.planning.schedule_cycles import find_contradictions
from benchapp.planning.schedule_search import solve_schedule
from tests.planning.legal import faults

HANDS = ((0, 1),)


def test_a_limit_is_kept_by_beginning_later():
    """A break from 10 to 60: what must be done within 5 of what takes 8 is put behind it."""
    acts = (Activity(8, HANDS), Activity(4, HANDS), Activity(50, HANDS, at=10, ends_day=False))
    project = Project(acts, (1,), (Arc(0, 1, 8),), (StartLimit(0, 1, 8 + 5),))
    found = solve_schedule(project).schedule
    assert found.starts == (60, 68, 10)
    assert found.broken == ()


def test_a_limit_that_counts_from_what_is_over_is_broken_and_said():
    """What runs till 8 can't be put off: its successor waits for the break, 47 too late."""
    acts = (Activity(8, HANDS, at=0), Activity(4, HANDS),
            Activity(50, HANDS, at=10, ends_day=False))
    project = Project(acts, (1,), (Arc(0, 1, 8),), (StartLimit(0, 1, 8 + 5),))
    found = solve_schedule(project).schedule
    assert found.starts[1] == 60
    assert [(b.limit, b.by) for b in found.broken] == [(StartLimit(0, 1, 13), 47)]


def test_hands_are_washed_between_inky_and_clean_and_not_back():
    """Inky 5, wash 2, clean 3, inky 4: 14."""
    acts = (Activity(5, HANDS, inky=True), Activity(3, HANDS, inky=False),
            Activity(4, HANDS, inky=True))
    project = Project(acts, (1,), (Arc(0, 1, 5), Arc(1, 2, 3)), hands=0, wash=2)
    assert solve_schedule(project).schedule.starts == (0, 7, 10)


def test_hands_inky_at_the_beginning_are_washed_first():
    """Clean work does not begin before the wash is over."""
    project = Project((Activity(3, HANDS, inky=False),), (1,), hands=0, wash=2, inky=True)
    assert solve_schedule(project).schedule.starts == (2,)


def test_of_two_places_two_are_used_and_not_three():
    """Three of 10 on two places take 20."""
    project = Project(tuple(Activity(10, ((0, 1),)) for _ in range(3)), (2,))
    found = solve_schedule(project)
    assert (found.schedule.end, found.bound) == (20, 15)
    assert sorted(found.schedule.starts) == [0, 0, 10]


def test_a_contradiction_names_its_circle():
    """Three steps of 10 in a row, the third within 5 of the beginning of the first."""
    acts = tuple(Activity(10) for _ in range(3))
    project = Project(acts, (), (Arc(0, 1, 10), Arc(1, 2, 10)), (StartLimit(0, 2, 5),))
    (found,) = find_contradictions(project)[1]
    assert (found.circle, found.by) == ((0, 1, 2), 15)
    assert [b.by for b in solve_schedule(project).schedule.broken] == [15]


def test_least_lags_that_run_in_a_circle_are_refused():
    """No day can begin each of two things after the other."""
    project = Project((Activity(1), Activity(1)), (), (Arc(0, 1, 1), Arc(1, 0, 1)))
    with pytest.raises(ValueError, match="circle"):
        solve_schedule(project)


@pytest.mark.parametrize(("starts", "fault"), [
    ((0, 3), "0 is used too much"), ((0, 5), "unwashed"), ((-1, 9), "before the day"),
])
def test_the_checker_sees_what_is_wrong(starts, fault):
    """Two at once, no time for a wash, a beginning before the day."""
    project = Project((Activity(5, HANDS, inky=True), Activity(3, HANDS, inky=False)), (1,),
                      hands=0, wash=2)
    assert any(fault in x for x in faults(project, starts))


def test_the_same_seed_gives_the_same_schedule():
    """Chance is no excuse for another answer."""
    acts = tuple(Activity(3 + 7 * i % 11, ((i % 3, 1),)) for i in range(18))
    arcs = tuple(Arc(i, i + 6, acts[i].seconds) for i in range(12))
    project = Project(acts, (1, 1, 1), arcs)
    assert solve_schedule(project, tries=50) == solve_schedule(project, tries=50)


def test_a_day_of_two_machines_is_planned_as_well_as_can_be():
    """Two jobs on two machines: one after the other they end at 13, as they should at 9."""
    acts = (Activity(2, ((0, 1),)), Activity(5, ((1, 1),)), Activity(4, ((0, 1),)),
            Activity(2, ((1, 1),)))
    project = Project(acts, (1, 1), (Arc(0, 1, 2), Arc(2, 3, 4)))
    found = solve_schedule(project).schedule
    assert found.end == 9
    assert list(faults(project, found.starts)) == []
