"""Days to plan: the worked day, days made from a seed, and an independent check of a plan."""

from __future__ import annotations

import itertools

from benchapp.planning.day import BREAK, Break, DayInputs, DayPlan, Job, usual_time
from benchapp.recipe.reader import read_recipe
from benchapp.reckon.dice import Dice
from benchapp.session.compiled_recipe import WASH, CompiledRecipe
from benchapp.session.state import TaskKey

MIN = 60
WORKED = """recipe: 1
print: {title: Slack Water, artist: Wren Halloran}
plates: [{name: key, metal: copper, size: 198 x 148 mm}]
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


def shape(text: str) -> CompiledRecipe:
    """A recipe's shape from its text."""
    return CompiledRecipe(read_recipe(text))


def lunch(at: float = 210, minutes: float = 45) -> Break:
    """A break so many minutes after the day begins."""
    return Break(round(at * MIN), round(minutes * MIN), "lunch")


def worked(pulls: int, *, at: float = 210, text: str = WORKED, helper: bool = False) -> DayInputs:
    """The worked day: 09:30, lunch at 13:00 for 45 min unless said otherwise."""
    return DayInputs((Job("", shape(text), pulls),), (lunch(at),), helper=helper)


def made_up(seed: int) -> DayInputs:
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
    return DayInputs((Job("", shape(text), some(1, 9)),), tuple(breaks), helper=dice.below(5) == 0)


def faults_of(day: DayInputs, plan: DayPlan) -> list[str]:
    """What can't be in a plan of one session, read off its lines by the recipe's words alone."""
    return [*_at_once(plan), *_not_whole(day, plan), *_out_of_order(day.jobs[0], plan),
            *_plates_in_use(day.jobs[0], plan), *_paper_wrong(day.jobs[0], plan),
            *_limits_not_said(day, plan)]


def _at_once(plan: DayPlan) -> list[str]:
    """Two things done by one pair of hands or in one place, and hands that are not washed."""
    out = []
    for who in ("printer", "helper"):
        mine = sorted((x for x in plan.items if x.who == who and x.seconds), key=lambda x: x.start)
        out += [f"{a.do} and {b.do} at once" for a, b in itertools.pairwise(mine)
                if b.start < a.end]
    for place in ("press", "hot plate"):
        mine = sorted((x for x in plan.items if x.at == place), key=lambda x: x.start)
        out += [f"{place} twice at {b.start}" for a, b in itertools.pairwise(mine)
                if b.start < a.end]
    return out


def _not_whole(day: DayInputs, plan: DayPlan) -> list[str]:
    """Steps that are missing, there twice, too early, or of another length; breaks moved."""
    job, recipe, out = day.jobs[0], day.jobs[0].shape.recipe, []
    for step in (*recipe.before, *recipe.each, *recipe.after):
        for k in job.ordinals if step.section == "each" else (None,):
            key = TaskKey(step.id, k)
            found = [x for x in plan.items if x.name[1] == key]
            if key in job.over:
                out += [f"{step.do} {k} is over and planned" for _ in found]
            elif key in job.running:
                out += [] if [(x.start, x.seconds) for x in found] == [job.running[key]] else [
                    f"{step.do} {k} runs and was moved"]
            elif [x.seconds for x in found] != [usual_time(job.shape, step)] or found[0].start < 0:
                out.append(f"{step.do} {k} planned {[(x.start, x.seconds) for x in found]}")
    rests = [(x.start, x.seconds) for x in plan.items if x.name[1].step == BREAK]
    for x in day.breaks:
        inside = any(s <= x.at and x.at + x.seconds <= s + n for s, n in rests)
        if not inside and not job.running and x.at >= 0:
            out.append(f"{x.name} at {x.at} is not in {rests}")
    washed = job.shape.recipe.wash.ms // 1000
    mine = sorted((x for x in plan.items if x.who == "printer" and x.seconds
                   and x.name[1].step != WASH), key=lambda x: x.start)
    out += [f"{b.do} with unwashed hands" for a, b in itertools.pairwise(mine)
            if (a.hands, b.hands) == ("inky", "clean") and b.start < a.end + washed]
    return out


def _out_of_order(job: Job, plan: DayPlan) -> list[str]:
    """Steps before what they follow."""
    at = {(x.name[1].step, x.name[1].impression): x for x in plan.items}
    before = [x for x in plan.items if x.name[1].step.startswith("before")]
    each = [x for x in plan.items if x.name[1].impression and x.name[1].step.startswith("each")]
    after = [x for x in plan.items if x.name[1].step.startswith("after")]
    out = [f"{b.do} before set-up" for a in before for b in each if b.start < a.end]
    out += [f"{b.do} before {a.do}" for a in each for b in after
            if a.hands != "free" and b.start < a.end]
    return out + [
        f"{here.do} {k} before {first.do}"
        for step, earlier in job.shape.follows.items() for k in (*job.ordinals, None)
        for other in earlier if (here := at.get((step, k))) and (first := at.get((other, k)))
        and here.start < first.end]


def _plates_in_use(job: Job, plan: DayPlan) -> list[str]:
    """Plates inked again before they are free."""
    out = []
    for plate, release in job.shape.release.items():
        mine = [s for s, p in job.shape.plates_of.items() if plate in p]
        for k in job.ordinals[1:]:
            freed = next((x.end for x in plan.items if x.name[1] == TaskKey(release, k - 1)), 0)
            first = min((x.start for x in plan.items if x.name[1].step in mine
                         and x.name[1].impression == k and not x.settled), default=freed)
            if first < freed:
                out.append(f"{plate} inked for {k} before it is free")
    return out


def _paper_wrong(job: Job, plan: DayPlan) -> list[str]:
    """Sheets of no pack or of two, packs too large, and pulls on paper that is not ready."""
    damped = job.shape.damped
    if damped is None or damped.damp is None:
        return []
    damp, out = damped.damp, []
    given = [k for p in plan.packs for k in p.ordinals]
    pulls = {x.name[1].impression: x for x in plan.items
             if x.name[1].step == job.shape.sheet_step and x.name[1] not in job.running}
    if sorted(given) != sorted(k for k in pulls if k is not None):
        out.append(f"sheets for {given}, pulls {sorted(pulls, key=str)}")
    for pack in plan.packs:
        if damp.pack is not None and len(pack.ordinals) > damp.pack:
            out.append(f"pack {pack.id} of {len(pack.ordinals)}")
        if pack.into is not None and damp.soak is not None and damp.rest is not None:
            least = pack.into + damp.soak.ms // 1000 + damp.rest.ms // 1000
            if pack.ready < least + 2 * job.shape.handling.ms // 1000:
                out.append(f"pack {pack.id} is not ready")
        out += [f"pull {k} on paper of {pack.id} that is not ready" for k in pack.ordinals
                if k in pulls and pulls[k].start < pack.ready]
    return out


def _limits_not_said(day: DayInputs, plan: DayPlan) -> list[str]:
    """Limits between steps that the plan breaks without saying so, or says and does not break."""
    job = day.jobs[0]
    at = {x.name[1]: x for x in plan.items}
    late: dict[TaskKey, int] = {}
    for limit in job.shape.limits:
        step = job.shape.by_id[limit.step]
        for k in job.ordinals if step.section == "each" else (None,):
            here = at.get(TaskKey(limit.step, k))
            if here is None or here.settled:
                continue
            over = job.over.get(TaskKey(limit.after, k))
            first = at.get(TaskKey(limit.after, k))
            if over is None and first is None:
                continue
            ends = first.end if first is not None else over or 0
            # The ink of the second plate waits until its own pull is through, not until it begins.
            own = here.seconds if limit.to_end else 0
            by = here.start - ends - max(0, limit.within.ms // 1000 - own)
            if by > 0:
                late[here.name[1]] = late.get(here.name[1], 0) + by
    said: dict[TaskKey, int] = {}
    for b in plan.broken:
        if not b.words.startswith("Sheet"):
            said[b.name[1]] = said.get(b.name[1], 0) + b.by
    return [] if late == said else [f"late {late}, said {said}"]
