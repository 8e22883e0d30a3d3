"""Day projects as plain lists, so that they are kept as data and outlive changes of the planner."""

from __future__ import annotations

from typing import Any

from benchapp.planning.schedule import Activity, Arc, Project, StartLimit


def plain(project: Project) -> dict[str, Any]:
    """A project as JSON holds it."""
    return {
        "activities": [[a.seconds, list(map(list, a.uses)), a.inky, a.at, a.ends_day]
                       for a in project.activities],
        "capacities": list(project.capacities),
        "arcs": [[x.before, x.after, x.least] for x in project.arcs],
        "limits": [[x.before, x.after, x.most] for x in project.limits],
        "hands": project.hands, "wash": project.wash, "inky": project.inky,
    }


def project_of(kept: dict[str, Any]) -> Project:
    """The project that was kept."""
    acts = tuple(Activity(s, tuple((r, n) for r, n in uses), inky, at, ends)
                 for s, uses, inky, at, ends in kept["activities"])
    return Project(acts, tuple(kept["capacities"]), tuple(Arc(*x) for x in kept["arcs"]),
                   tuple(StartLimit(*x) for x in kept["limits"]), kept["hands"], kept["wash"],
                   kept["inky"])
