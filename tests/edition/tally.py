"""Sheets of an edition counted by hand, and the figures of a list read back from its words.

A sheet is a plain dict: kind and number pencilled on it, signed (None: not known), gone, place,
and whether it is known from old papers alone.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from typing import Any

HERE = ("drawer", "framed", "boards")
AWAY = ("gallery", "given", "sold")
ALWAYS = ("printed", "numbered", "signed", "in the studio", "out", "destroyed")
PAGE = {"Impressions printed": "sheets", "Numbered": "numbered", "Signed": "signed",
        "In the studio": "in_studio", "Out": "out", "Lost": "lost", "Destroyed": "destroyed"}


def where(r: dict[str, Any]) -> str:
    """Where a sheet counts."""
    if r["gone"]:
        return "destroyed"
    if r["place"] is None:
        return "unknown" if r["old"] else "studio"
    return "studio" if r["place"] in HERE else str(r["place"])


def tally(rows: Iterable[dict[str, Any]]) -> dict[str, int]:
    """The figures of those sheets, by the fields of JSON."""
    mine = [*rows]
    at = Counter(where(r) for r in mine)
    return {"sheets": len(mine), "numbered": sum(r["kind"] == "edition" for r in mine),
            "signed": sum(r["signed"] is True for r in mine), "in_studio": at["studio"],
            "out": sum(at[p] for p in AWAY), **{p: at[p] for p in AWAY}, "lost": at["lost"],
            "destroyed": at["destroyed"], "place_not_known": at["unknown"],
            "signature_not_known": sum(r["signed"] is None for r in mine)}


def shown(line: str) -> dict[str, int]:
    """The figures of a line: `printed 5 · numbered 3 · …`."""
    return {k.strip(): int(n) for k, n in re.findall(r"([a-z ]+?) (\d+)(?: ·|$)", line)}


def words(t: dict[str, int]) -> dict[str, int]:
    """The tally by the words of the list."""
    return {"printed": t["sheets"], "numbered": t["numbered"], "signed": t["signed"],
            "signature not known": t["signature_not_known"], "in the studio": t["in_studio"],
            "out": t["out"], "lost": t["lost"], "destroyed": t["destroyed"],
            "place not known": t["place_not_known"]}


def listed(text: str) -> list[int]:
    """`1 to 4, 9` as numbers."""
    found: list[int] = []
    for part in () if text == "none" else text.split(", "):
        first, _, last = part.partition(" to ")
        found += range(int(first), int(last or first) + 1)
    return found
