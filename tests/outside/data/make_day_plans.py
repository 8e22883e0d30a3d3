"""Print days and their proved best plans, by the CP-SAT solver of OR-Tools.

`python -m tests.outside.data.make_day_plans` writes `day_plans.json` anew: for each day its
project, and the fewest seconds of broken limits with the earliest end of those.
"""

from __future__ import annotations

import json
import sys
from dataclasses import replace
from typing import Any

from benchapp.planning.build import plan_day
from benchapp.planning.schedule import NONE, Project
from tests.outside.data.days import plain
from tests.outside.data.kept import HERE
from tests.planning.plans import made_up

DAYS = 48
#: Seconds CP-SAT may take for one day; one it can't prove in that time is left out.
PATIENCE = 40


def day(seed: int) -> Project:
    """A day of 4 to 12 impressions."""
    made = made_up(5000 + seed)
    job = replace(made.jobs[0], more=4 + seed % 9)
    return plan_day(replace(made, jobs=(job,)), tries=1).made.project


def best(project: Project) -> tuple[int, int] | None:
    """The least broken, and the earliest end of those; None: not proved in time."""
    from ortools.sat.python import cp_model

    acts = project.activities
    horizon = 2 * sum(a.seconds for a in acts) + max((a.at or 0) for a in acts) + 7200
    model = cp_model.CpModel()
    starts = [model.new_constant(a.at) if a.at is not None
              else model.new_int_var(0, horizon, f"s{i}") for i, a in enumerate(acts)]
    for r, capacity in enumerate(project.capacities):
        mine = [(i, n) for i, a in enumerate(acts) for q, n in a.uses if q == r and a.seconds]
        spans = [model.new_fixed_size_interval_var(starts[i], acts[i].seconds, f"i{r}.{i}")
                 for i, _ in mine]
        if capacity == 1:
            model.add_no_overlap(spans)
        else:
            model.add_cumulative(spans, [n for _, n in mine], capacity)
        if r == project.hands and project.wash:
            _washes(model, project, [i for i, _ in mine], starts)
    for x in project.arcs:
        if acts[x.after].at is None:
            model.add(starts[x.after] >= starts[x.before] + x.least)
    late = []
    for k, limit in enumerate(project.limits):
        over = model.new_int_var(0, horizon, f"l{k}")
        model.add(over >= starts[limit.after] - starts[limit.before] - limit.most)
        late.append(over)
    end = model.new_int_var(0, horizon, "end")
    for i, a in enumerate(acts):
        if a.ends_day:
            model.add(end >= starts[i] + a.seconds)
    total = sum(late)
    first = _solved(model, total)
    if first is None:
        return None
    model.add(total == first)
    last = _solved(model, end)
    return None if last is None else (first, last)


def _washes(model: Any, project: Project, mine: list[int], starts: list[Any]) -> None:
    """Between inky and clean work there is a wash, whatever else lies between."""
    acts = project.activities
    for i in mine:
        if project.inky and acts[i].inky is False and acts[i].at is None:
            model.add(starts[i] >= project.change(NONE, i))
        for j in mine:
            settled = acts[i].at is not None and acts[j].at is not None
            if acts[i].inky and acts[j].inky is False and not settled:
                first = model.new_bool_var("")
                model.add(starts[j] >= starts[i] + acts[i].seconds + project.wash
                          ).only_enforce_if(first)
                model.add(starts[i] >= starts[j] + acts[j].seconds).only_enforce_if(~first)


def _solved(model: Any, aim: Any) -> int | None:
    """The proved least of something, or None."""
    from ortools.sat.python import cp_model

    model.minimize(aim)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = PATIENCE
    solver.parameters.num_workers = 1
    if solver.solve(model) != cp_model.OPTIMAL:
        return None
    return round(solver.objective_value)


def main() -> None:
    """Write the data anew."""
    rows = []
    for seed in range(DAYS):
        project = day(seed)
        found = best(project)
        print(seed, len(project.activities), found, file=sys.stderr, flush=True)
        if found is not None:
            rows.append({"project": plain(project), "late": found[0], "end": found[1]})
    lines = ",\n".join(json.dumps(row, separators=(",", ":")) for row in rows)
    (HERE / "day_plans.json").write_text(f"[\n{lines}\n]\n", encoding="utf-8")


if __name__ == "__main__":
    main()
