"""What one step may say, seen alone: its section, its hands and its time."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from benchapp.recipe.model import Step

Note = Callable[[Step, str, str, str], None]
Found = Iterable[tuple[str, str, str]]


def check_step(step: Step, note: Note) -> None:
    """Calls `note(step, key, wrong, mend)` for each thing this step cannot say."""
    for rule in (_section, _hands, _wait, _time, _left_out, _tread):
        for key, wrong, mend in rule(step):
            note(step, key, wrong, mend)


def _section(step: Step) -> Found:
    """Only an impression has a sheet, a pull and a verdict."""
    if step.section == "each":
        return
    for key, said in (("pulls", step.pulls), ("uses", step.uses), ("asks", step.asks),
                      ("every", step.every), ("return", step.returns)):
        if said:
            yield (key, f"{key}: there is no impression in {step.section}",
                   "move the step to each:, or take this line out")


def _hands(step: Step) -> Found:
    """Questions need clean hands, so that the wash comes first."""
    if step.hands == "clean":
        return
    for key, said in (("asks", step.asks), ("must", step.must)):
        if said:
            yield (key, f"{key}: nothing is asked while hands are {step.hands}",
                   "write hands: clean, or ask in a step of its own after this one")


def _wait(step: Step) -> Found:
    if step.hands != "free":
        if step.ends_itself:
            yield "ends", "ends: only a wait ends itself", "write hands: free, or take it out"
        return
    for key, said in (("pulls", step.pulls), ("uses", step.uses)):
        if said:
            yield (key, f"{key}: no hands work at this step",
                   "write hands: clean, or move it to a step of hands")
    if step.calls is not None:
        yield "calls", "calls: a wait calls when its time is up", "take it out"
    if step.ends_itself and step.time is None:
        yield "ends", "ends: a wait without a time never ends itself", "write time: 2 min"


def _time(step: Step) -> Found:
    if step.calls is None or step.hands == "free":
        return
    if step.time is None:
        yield ("calls", "calls: there is no time to call before",
               "write time: low/usual/high, such as 8/14/27 min")
    elif step.calls >= step.time.usual:
        yield ("calls", f"calls: {step.calls} is not shorter than the step's usual time, "
                        f"{step.time.usual}",
               "write a shorter time")


def _left_out(step: Step) -> Found:
    if not step.pulls:
        if step.returns:
            yield "return", "return: nothing is pulled in this step", "write pulls:, or take it out"
        return
    for key, said in (("optional", step.optional), ("every", step.every is not None)):
        if said:
            yield (key, f"{key}: a pull is never left out",
                   "take it out; any impression may end after an earlier pull")


def _tread(step: Step) -> Found:
    if not step.out_of_reach:
        return
    for key, said in (("must", step.must), ("asks", step.asks)):
        if said:
            yield (key, f"{key}: a step out of reach has nobody to ask",
                   "take out of reach away, or ask in the step after it")
