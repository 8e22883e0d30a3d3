"""How long an answer that is asked for once is searched for, and that it is worth it."""

from __future__ import annotations

from benchapp.planning.build import bench_tries, search_tries
from benchapp.planning.what_if import fit_impressions
from tests.planning.plans import MIN, made_up

#: A seed, and the minute its window ends.
LOST = ((8, 300), (33, 300))


def test_an_answer_asked_for_once_is_searched_for_longer():
    """By work, not by clock; a day that is ten times as large gets about a tenth."""
    assert search_tries(85) >= 30 * bench_tries(85)
    assert search_tries(20) == 1000
    assert search_tries(5000) >= bench_tries(5000)


def test_a_longer_search_finds_impressions_that_the_bench_misses():
    """Made-up days with windows in which a quick look loses one; none has fewer for it."""
    quick = [fit_impressions(made_up(seed), at * MIN) for seed, at in LOST]
    found = [fit_impressions(made_up(seed), at * MIN, thorough=True) for seed, at in LOST]
    assert [f.fits for f in found] == [q.fits + 1 for q in quick]
    assert all(f.plan is not None and f.plan.end <= at * MIN
               for f, (_, at) in zip(found, LOST, strict=True))
