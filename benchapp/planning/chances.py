"""How sure a plan is: its order replayed forward many times, with times as they may turn out.

The same replays every time: chance has a seed, and each activity its own stream of it, so that
two plans of one day differ by what differs between them and not by luck. Each stream is spread
evenly over the Gaussian (Latin hypercube; McKay, Beckman & Conover 1979).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import exp, floor, log
from statistics import NormalDist
from typing import Final

from benchapp.planning.pace import Pace
from benchapp.planning.schedule import NONE, Project
from benchapp.planning.schedule_paths import order_arcs
from benchapp.reckon.dice import Dice
from benchapp.reckon.shares import sample_quantile

REPLAYS: Final = 400
SEED: Final = 20_260_503
_GAUSS: Final = NormalDist()


@dataclass(frozen=True, slots=True)
class ReplayedActivity:
    """One activity of a plan, as it is replayed.

    Attributes:
        seconds: Its nominal time.
        step: What its time is learnt by; None where it takes exactly its time.
        stream: What its luck goes by: the same in every plan of the day.
        not_before: It does not begin before this.
        after: What must be over, and how many seconds before it begins.
        least: It takes at least so long: it has been running for that.
    """

    seconds: int
    step: str | None
    stream: str
    not_before: int
    after: tuple[tuple[int, int], ...]
    least: int = 0


@dataclass(frozen=True, slots=True)
class Outcomes:
    """When each activity was over in each replay, by activity; in no order of their own."""

    ends: tuple[tuple[int, ...], ...] = field(repr=False)
    parts: tuple[ReplayedActivity, ...] = field(repr=False)

    def latest(self, which: Sequence[int]) -> list[int]:
        """When the last of some activities is over, in each replay."""
        if not which:
            return [0] * (len(self.ends[0]) if self.ends else 0)
        found = self.ends[which[0]]
        for i in which[1:]:
            found = tuple(map(max, found, self.ends[i]))
        return list(found)


def parts_of(project: Project, starts: Sequence[int], steps: Sequence[str | None],
             streams: Sequence[str]) -> tuple[list[ReplayedActivity], list[int]]:
    """A plan as it is replayed, and the order in which that is reckoned.

    Where the plan holds something back so that a limit is kept, that is held back until
    then in every replay; all else begins as soon as what it waits for is over.

    Args:
        project: The work.
        starts: The plan.
        steps: What each activity's time is learnt by, or None.
        streams: What each activity's luck goes by.
    """
    acts = project.activities
    waits = order_arcs(project, starts)
    for arc in project.arcs:
        waits[arc.after].append((arc.before, arc.least))
    line = sorted(range(len(acts)), key=lambda i: (starts[i], acts[i].at is None,
                                                   acts[i].seconds > 0))
    line = _in_order(line, waits, [a.at is not None and a.ends_day for a in acts])
    parts = []
    for i, act in enumerate(acts):
        fixed = act.at is not None and act.ends_day
        after = () if fixed else tuple(
            (j, w - acts[j].seconds) for j, w in dict.fromkeys(waits[i]) if j != NONE)
        first = max((w for j, w in waits[i] if j == NONE), default=0)
        reached = max((starts[j] + acts[j].seconds + w for j, w in after), default=first)
        held = starts[i] if act.at is not None or starts[i] > max(reached, first) else first
        least = max(0, -starts[i]) if fixed and act.seconds else 0
        parts.append(ReplayedActivity(act.seconds, steps[i], streams[i], held, after, least))
    return parts, line


def _in_order(line: Sequence[int], waits: Sequence[Sequence[tuple[int, int]]],
              fixed: Sequence[bool]) -> list[int]:
    """The activities so that each comes after all it waits for."""
    out: list[int] = []
    seen = [False] * len(line)
    for root in line:
        stack = [root]
        while stack:
            i = stack[-1]
            open_ones = [] if seen[i] or fixed[i] else [
                j for j, _ in waits[i] if j != NONE and not seen[j]]
            if open_ones:
                stack.extend(open_ones)
                continue
            stack.pop()
            if not seen[i]:
                seen[i] = True
                out.append(i)
    return out


def replay_plan(parts: Sequence[ReplayedActivity], line: Sequence[int], pace: Pace, *,
                replays: int = REPLAYS, seed: int = SEED) -> Outcomes:
    """Replay a plan's order forward.

    Args:
        parts: The plan, of `parts_of`.
        line: The order to reckon in, of `parts_of`.
        pace: What is known of how long steps take.
        replays: How many times.
        seed: What chance goes by.
    """
    habits = _habits(parts, pace, replays, seed)
    ends: list[list[int]] = [[] for _ in parts]
    for i in line:
        part = parts[i]
        start = [part.not_before] * replays
        for j, gap in part.after:
            before = ends[j] if not gap else [t + gap for t in ends[j]]
            start = list(map(max, start, before))
        if part.step is None or not part.seconds:
            ends[i] = [t + part.seconds for t in start]
            continue
        habit = habits[part.step]
        luck: Sequence[float] = mirrored_stream(part.stream, replays, seed)
        sd, usual = pace.rest_sd, part.seconds
        if part.least:
            luck = [_known_to_last(part, h, z, sd) for h, z in zip(habit, luck, strict=True)]
        took = [round(usual * exp(h + sd * z)) for h, z in zip(habit, luck, strict=True)]
        if part.least:
            took = [max(part.least, x) for x in took]
        ends[i] = list(map(int.__add__, start, took))
    return Outcomes(tuple(map(tuple, ends)), tuple(parts))


def _known_to_last(part: ReplayedActivity, habit: float, luck: float, sd: float) -> float:
    """The luck of a step that has been running: of all that may be, what lets it last so long.

    A step that has taken its usual time and is not over takes longer; cut off there, half of the
    replays would have it over now (a Gaussian from a point on, by its quantiles).
    """
    if not sd:
        return luck
    gone = _GAUSS.cdf((log(part.least / part.seconds) - habit) / sd)
    share = gone + _GAUSS.cdf(luck) * (1 - gone)
    return _GAUSS.inv_cdf(share) if 0 < share < 1 else luck


def _habits(parts: Sequence[ReplayedActivity], pace: Pace, replays: int,
            seed: int) -> dict[str, list[float]]:
    """For each step its offset and today's pace together, in each replay."""
    steps = tuple(sorted({p.step for p in parts if p.step is not None} - set(pace.steps)))
    known = len(pace.mean)
    names = (*(f"known {i}" for i in range(known - 1)), "pace", *(f"offset {s}" for s in steps))
    own = [[z for z in numbers for _ in (0, 1)][:replays]
           for numbers in independent_streams(names, (replays + 1) // 2, seed)]
    drawn = [[m + sum(a * z[r] for a, z in zip(row, own, strict=False) if a)
              for r in range(replays)] for m, row in zip(pace.mean, pace.root, strict=True)]
    today = drawn[-1]
    made = {s: list(map(float.__add__, drawn[i], today)) for i, s in enumerate(pace.steps)}
    for s, column_of in zip(steps, own[known:], strict=True):
        made[s] = [pace.offset_sd * z + t for z, t in zip(column_of, today, strict=True)]
    return made


@lru_cache(maxsize=4096)
def mirrored_stream(stream: str, count: int, seed: int) -> tuple[float, ...]:
    """A stream in pairs of opposite numbers.

    Both replays of a pair have the same day: what luck does to a slow day is not itself luck
    (antithetic variates; Hammersley & Morton 1956).
    """
    return tuple(x for z in gaussian_column(stream, (count + 1) // 2, seed)
                 for x in (z, -z))[:count]


@lru_cache(maxsize=64)
def independent_streams(streams: tuple[str, ...], count: int,
                        seed: int) -> tuple[tuple[float, ...], ...]:
    """Streams that go with none of each other: what stays for a whole day is drawn only once.

    By chance two of them would go together a little, the same way in every plan (Gram-Schmidt).
    """
    out: list[tuple[float, ...]] = []
    for stream in streams:
        numbers = list(gaussian_column(stream, count, seed))
        for other in out:
            share = sum(map(float.__mul__, numbers, other)) / count
            numbers = [z - share * o for z, o in zip(numbers, other, strict=True)]
        spread = (sum(z * z for z in numbers) / count) ** 0.5 or 1.0
        out.append(tuple(z / spread for z in numbers))
    return tuple(out)


@lru_cache(maxsize=4096)
def gaussian_column(stream: str, count: int, seed: int) -> tuple[float, ...]:
    """Gaussian numbers, evenly spread, in an order that the stream and the seed fix."""
    numbers = list(_spread_evenly(count))
    Dice(seed ^ _fnv(stream)).shuffle(numbers)
    return tuple(numbers)


@lru_cache(maxsize=8)
def _spread_evenly(count: int) -> tuple[float, ...]:
    return tuple(_GAUSS.inv_cdf((i + 0.5) / count) for i in range(count))


def _fnv(text: str) -> int:
    """A number for a text, the same everywhere (FNV-1a, 64 bits)."""
    out = 0xCBF29CE484222325
    for byte in text.encode():
        out = (out ^ byte) * 0x100000001B3 & (1 << 64) - 1
    return out


# -- what is said of them -------------------------------------------------------------------


def chance_until(times: Sequence[int], until: int) -> float:
    """The share of replays over by then."""
    return sum(t <= until for t in times) / len(times) if times else 0.0


def in_fives(part: float) -> int:
    """A chance in per cent, to the nearest 5."""
    return 5 * floor(part * 20 + 0.5)


def end_interval(times: Sequence[int]) -> tuple[int, int]:
    """Between what times the end falls in four cases of five."""
    side, ranked = 0.1, sorted(map(float, times))
    return round(sample_quantile(ranked, side)), round(sample_quantile(ranked, 1 - side))


def falling_chances(by_count: Mapping[int, Sequence[int]], until: int) -> dict[int, float]:
    """The chance of each count by then; no larger count is likelier than a smaller one.

    Where more are likelier by their own plan, so are fewer: who gets the more done has them.
    """
    out: dict[int, float] = {}
    best = 0.0
    for n in sorted(by_count, reverse=True):
        best = max(best, chance_until(by_count[n], until))
        out[n] = best
    return dict(sorted(out.items()))
