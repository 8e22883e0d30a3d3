"""Days to plan: the worked day, days made from a seed, and an independent check of a plan."""

from __future__ import annotations

import itertools

from benchapp.recipe.reader import read
from benchapp.reckon.chance import Dice
from benchapp.session.planning_day import Break, Day, DayPlan, Job
from benchapp.session.shape import Shape

MIN = 60
WORKED = """recipe: 1
print: {title: Slack Water, artist: Wren Halloran}
plates: [{name: key, metal: brass, size: 198 x 148 mm}]
wash: 0 min
before: [{do: Set-up, hands: clean, time: 20 min}]
each:
  - {do: Ink, hands: inky, time: 10 min}
  - {do: Warm, hands: free, at: hot plate, time: 3 min, ends: itself}
  - {do: Wipe, hands: inky, time: 12 min}
  - {do: Pull, hands: clean, at: press, time: 4 min, pulls: key}
  - {do: Lift, hands: clean, time: 3 min, asks: [verdict]}
  - {do: Tissue, hands: clean, time: 2 min}
after: [{do: Clean up, hands: inky, time: 20 min}]
"""
#: The same with every limit too wide to matter.
UNLIMITED = "\n".join(
    line.replace("time:", "within: 20 h, time:") if "  - {" in line and "Ink," not in line
    else line for line in WORKED.splitlines())


def shape(text: str) -> Shape:
    """A recipe's shape from its text."""
    return Shape(read(text))


def lunch(at: float = 210, minutes: float = 45) -> Break:
    """A break so many minutes after the day begins."""
    return Break(round(at * MIN), round(minutes * MIN), "lunch")


def worked(pulls: int, *, at: float = 210, text: str = WORKED, helper: bool = False) -> Day:
    """The worked day: 09:30, lunch at 13:00 for 45 min unless said otherwise."""
    return Day((Job("", shape(text), pulls),), (lunch(at),), helper=helper)


def made_up(seed: int) -> Day:
    """A day of 1 to 9 impressions, made from a seed: plates, times, limits, packs, breaks."""
    dice = Dice(seed)

    def some(low: int, high: int) -> int:
        return low + dice.below(high - low + 1)

    two = dice.below(4) == 0
    plates = ("tone", "key") if two else ("key",)
    each: list[str] = []
    for plate in plates:
        mine = f", plate: {plate}" if two else ""
        warm = (f"  - {{do: Warm {plate}, hands: free, at: hot plate, "
                f"time: {some(1, 6)} min, ends: itself{mine}}}")
        ink = f"  - {{do: Ink {plate}, hands: inky, time: {some(3, 14)} min{mine}}}"
        each += [warm, ink] if dice.below(2) else [ink, warm]
        each.append(f"  - {{do: Wipe {plate}, hands: inky, time: {some(4, 20)} min{mine}}}")
    each += [f"  - {{do: Pull {p}, hands: clean, at: press, time: {some(2, 8)} min, pulls: {p}}}"
             for p in plates]
    each.append(f"  - {{do: Lift, hands: clean, time: {some(1, 6)} min, asks: [verdict]}}")
    if dice.below(2):
        each.append(f"  - {{do: Boards, hands: clean, time: {some(1, 8)} min}}")
    damp = ""
    if dice.below(3) == 0:
        damp = (f"paper: {{name: cotton, damp: {{method: soak, soak: {some(5, 40)} min, "
                f"rest: {some(0, 30)} min, keeps: 24 h, pack: {some(2, 6)}, handling: 3 min}}}}\n")
    text = ("recipe: 1\nprint: {title: Made Up, artist: Nobody}\nplates:\n"
            + "".join(f"  - {{name: {p}, metal: zinc, size: 100 x 100 mm}}\n" for p in plates)
            + damp + f"wash: {dice.below(3)} min\n"
            + f"before: [{{do: Set-up, hands: clean, time: {some(0, 40)} min}}]\n"
            + "each:\n" + "\n".join(each)
            + f"\nafter: [{{do: Clean up, hands: inky, time: {some(5, 30)} min}}]\n")
    breaks = [lunch(some(20, 240), some(20, 60))]
    if dice.below(2):
        breaks.append(Break(some(260, 400) * MIN, some(10, 60) * MIN, "appointment"))
    return Day((Job("", shape(text), some(1, 9)),), tuple(breaks), helper=dice.below(5) == 0)


def faults_of(day: Day, plan: DayPlan) -> list[str]:
    """What can't be in a plan, read off its lines by the recipe's words alone."""
    out = []
    job = day.jobs[0]
    at = {x.name[1]: x for x in plan.items}
    for who in ("printer", "helper"):
        mine = sorted((x for x in plan.items if x.who == who and x.seconds), key=lambda x: x.start)
        out += [f"{a.do} and {b.do} at once" for a, b in itertools.pairwise(mine)
                if b.start < a.end]
    for place in ("press", "hot plate"):
        mine = sorted((x for x in plan.items if x.at == place), key=lambda x: x.start)
        out += [f"{place} twice at {b.start}" for a, b in itertools.pairwise(mine)
                if b.start < a.end]
    before = [x for x in plan.items if x.name[1].step.startswith("before")]
    each = [x for x in plan.items if x.name[1].impression and x.name[1].step.startswith("each")]
    after = [x for x in plan.items if x.name[1].step.startswith("after")]
    out += [f"{b.do} before set-up" for a in before for b in each if b.start < a.end]
    out += [f"{b.do} before {a.do}" for a in each for b in after
            if a.hands != "free" and b.start < a.end]
    for step, earlier in job.shape.follows.items():
        for k in (*job.ordinals, None):
            here = next((x for n, x in at.items() if (n.step, n.impression) == (step, k)), None)
            for other in earlier:
                first = next((x for n, x in at.items() if (n.step, n.impression) == (other, k)),
                             None)
                if here and first and here.start < first.end:
                    out.append(f"{here.do} {k} before {first.do}")
    for plate, release in job.shape.release.items():
        mine = [s for s, p in job.shape.plates_of.items() if plate in p]
        for k in job.ordinals[1:]:
            freed = next(x for n, x in at.items() if (n.step, n.impression) == (release, k - 1))
            first = min(x.start for n, x in at.items() if n.step in mine and n.impression == k)
            if first < freed.end:
                out.append(f"{plate} inked for {k} before it is free")
    return out
