"""The proved ends of the projects of `projects.py`, by the CP-SAT solver of OR-Tools.

`python -m tests.outside.data.make_projects` writes `projects.json` anew: for each project
its cell, its numbers, and its earliest end.
"""

from __future__ import annotations

import json
import sys

from tests.outside.data.days import plain
from tests.outside.data.kept import HERE
from tests.outside.data.make_day_plans import best
from tests.outside.data.projects import CELLS, made


def main() -> None:
    """Write the data anew; what is not proved in time is left out, and said."""
    rows = []
    for seed, cell in enumerate(CELLS):
        project = made(*cell, seed)
        found = best(project)
        print(seed, cell, found, file=sys.stderr, flush=True)
        if found is not None:
            row = {"cell": cell, "project": plain(project), "end": found[1]}
            rows.append(json.dumps(row, separators=(",", ":")))
    (HERE / "projects.json").write_text("[\n" + ",\n".join(rows) + "\n]\n", encoding="utf-8")


if __name__ == "__main__":
    main()
