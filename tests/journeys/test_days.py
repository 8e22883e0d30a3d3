"""Whole days by a script of what a printer does: the export is the script, line by line."""

from __future__ import annotations

import re
from typing import Any

import pytest

from benchapp.reports.json_form import json_values
from benchapp.reports.reading import read_back
from tests.journeys.script import Act, AtScreen, ByLines, Day, exported, meant, read_script
from tests.screens.bench_support import run

SIZES = ((80, 24), (100, 30))
DAYS = ("one_plate", "colour", "chine", "proofing", "drypoint", "two_sessions")
#: What the quick tier works at the screen: the shortest day.
QUICK = {("drypoint", (100, 30))}


@pytest.mark.parametrize("name", DAYS)
def test_by_lines_the_book_says_the_script_and_nothing_else(name: str) -> None:
    """Each line at its minute, the time between passing as it does."""
    acts = read_script(name)
    day = ByLines(acts)
    day.work()
    hold(day, acts)


@pytest.mark.parametrize(("name", "size"), [
    pytest.param(name, size, marks=() if (name, size) in QUICK else pytest.mark.full)
    for name in DAYS for size in SIZES])
def test_at_the_screen_the_book_says_the_script_and_nothing_else(
        name: str, size: tuple[int, int]) -> None:
    """Keys at human times, with the gate shut, waits, pauses and mistakes."""

    async def whole() -> None:
        acts = read_script(name)
        day = AtScreen(acts, size)
        await day.work()
        hold(day, acts)

    run(whole())


def hold(day: Day, acts: list[Act]) -> None:
    """The export is the script, and each day read back says the same of sheets and steps."""
    said = meant(acts, day.not_for)
    assert exported(day.book) == said
    assert day.book.verify() == []
    for row in day.book.sessions():
        letters = row.opened.body["letters"]
        told = json_values(read_back(day.book, row))
        mine = [x.split(" ", 2)[2] for x in counted(acts, day.not_for)
                if x.split(" ", 2)[1] == letters]
        hold_sheets(told, mine)
        facts = [f"{m['step']}: {m['fact']}" for m in told["musts"]]
        assert sorted(facts) == sorted(x for x in mine if x in facts)
        hold_steps(told, [x for x in counted(acts, day.not_for) if f" {letters} " in x])


def counted(acts: list[Act], not_for: str) -> list[str]:
    """What the book has to say, without what the printer took back."""
    kept: list[Act] = []
    for act in acts:
        if act.word == "back":
            kept.pop()
        else:
            kept.append(act)
    return meant(kept, not_for)


def hold_sheets(told: dict[str, Any], said: list[str]) -> None:
    """Of each sheet: its plates, what it was for, and all that was said of it."""
    pulls: dict[str, list[str]] = {}
    about: dict[str, dict[str, Any]] = {}
    begun: dict[str, str] = {}
    for line in said:
        if found := re.fullmatch(r"pulled (#\d+) (\w+) (\S+) (.+) \((\w+)\)", line):
            sheet, mark, plates, purpose, by = found.groups()
            begun[sheet] = mark
            pulls.setdefault(mark, []).append(plates)
            about[mark] = {"for": purpose, "by": by, "verdict": None, "tags": [], "notes": [],
                           "readings": []}
    for line in said:
        found = re.fullmatch(r"(judged|tagged|noted|read) (\S+): (.+)", line)
        sheet = found and begun.get(found[2], found[2])
        if found and sheet in about:
            match found[1]:
                case "judged":
                    about[sheet]["verdict"] = found[3]
                case "read":
                    about[sheet]["readings"].append(found[3].split(" ", 2)[:2])
                case kind:
                    about[sheet]["tags" if kind == "tagged" else "notes"].append(found[3])
    sheets = told["impressions"]
    assert {i["mark"]: [p["plate"] for p in i["pulls"]] for i in sheets} == pulls
    assert about == {i["mark"]: {
        "for": " ".join(x for x in (i["for"], i["state"]) if x), "by": i["for_by"],
        "verdict": i["verdict"], "tags": i["tags"], "notes": i["notes"],
        "readings": [[r["name"], str(r["value"])] for r in i["readings"]]} for i in sheets}
    assert len(told["tries"]) == sum("spoiled before the pull" in x for x in said)
    assert told["helpers"] == [
        x.split()[-1] for x in said if x.startswith(("helper joined ", "helper present "))]


def hold_steps(told: dict[str, Any], said: list[str]) -> None:
    """Each step has the minutes it began and ended; what was done, no other."""
    done = [f"{x['finished_at'][11:16]} {x['step']} since {x['started_at'][11:16]}"
            for x in told["steps"] if x["finished_at"] and x["started_at"] and x["taken"]]
    mine = [re.sub(r" (#\d+|P\d+)(?= since)", "", f"{x[:5]} {x.split(' ', 2)[2]}") for x in said
            if " since " in x and not x.endswith(" no time") and "put off" not in x]
    assert sorted(done) == sorted(x.removesuffix(" ended itself") for x in mine)
