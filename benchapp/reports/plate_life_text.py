"""A plate's life in words: first one sentence, then its days, what grew, and its readings. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from benchapp.reports.plate_life import VERDICTS, LifeDay, PlateLife, Verdicts

_COLUMNS: Final = 76


def life_sentence(x: PlateLife) -> str:
    """How many it has given, over what time, and how many the recipe expects."""
    days = x.days
    if not days:
        return f"{x.plate}: no impression of it is in the book"
    first, last = days[0].opened_at[:10], days[-1].opened_at[:10]
    over = f"on {first}" if first == last else f"from {first} to {last}"
    many = "1 session" if len(days) == 1 else f"{len(days)} sessions"
    count = "1 impression" if x.impressions == 1 else f"{x.impressions} impressions"
    before = f", {x.before} of them before the book" if x.before else ""
    expected = ("" if x.expected is None
                else f"; the recipe expects {x.expected} of it")
    return f"{x.plate}: {count}{before}, {many} {over}{expected}"


def kept_words(v: Verdicts) -> str:
    """The share kept of those judged, with its interval: `kept 8 of 12 judged, 67 % (…)`."""
    if v.kept_share is None or v.kept_low is None or v.kept_high is None:
        return "none judged"
    share, low, high = (round(100 * part) for part in (v.kept_share, v.kept_low, v.kept_high))
    return f"kept {v.keep} of {v.judged} judged, {share} % (95 %: {low} to {high})"


def verdict_bar(v: Verdicts, cells: int, *, plain: bool = False) -> str:
    """A day's verdicts as one bar: kept, doubtful, spoiled, not judged, each with its sign."""
    counts = [n for _, n in v.counts()]
    whole = sum(counts)
    if not whole:
        return ""
    ends = [round(cells * sum(counts[: n + 1]) / whole) for n in range(4)]
    return "".join(sign * (end - start)
                   for sign, start, end in zip(_signs(plain), [0, *ends[:-1]], ends, strict=True))


def verdict_bar_words(*, plain: bool = False) -> str:
    """What the signs of a bar mean."""
    return "   ".join(f"{name} {sign}" for sign, name in zip(
        _signs(plain), (*VERDICTS, "not judged"), strict=True))


def _signs(plain: bool) -> str:
    return "kds." if plain else "●◐✕○"


def tags_words(tags: Mapping[str, int], most: int = 3) -> str:
    """The commonest tags of a day with on how many sheets: `wear 4, salty 2`."""
    return ", ".join(f"{t} {n}" for t, n in list(tags.items())[:most])


def grown_words(x: PlateLife) -> list[str]:
    """Tags on more of the later half than of the earlier: as counted, not as proof."""
    return [f"{g.tag}: on {g.earlier} of the earlier half, on {g.later} of the later"
            for g in x.grown]


def day_lines(d: LifeDay) -> list[str]:
    """A day as a line, and what was done to the plate under it."""
    said = ", ".join(f"{n} {name}" for name, n in d.verdicts.counts() if n)
    span = f"{d.from_}" if d.from_ == d.to else f"{d.from_} to {d.to}"
    state = f" · state {d.state}" if d.state else ""
    tags = f" · {tags_words(d.tags)}" if d.tags else ""
    done = [f"  reworked{': ' + r.what if r.what else ''}" for r in d.reworked]
    return [f"{d.session}: {span} · {said}{state}{tags}", *done]
