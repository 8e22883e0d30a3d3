"""A planned day drawn over the clock: what stands in which row, from which cell to which."""

from __future__ import annotations

from dataclasses import replace

import pytest

from benchapp.planning.build import plan_day
from benchapp.planning.day import BREAK, DayInputs, DayPlan, Job, PackPlan, Planned
from benchapp.planning.rows import LABEL, day_rows
from benchapp.recipe.model import Hands
from benchapp.session.compiled_recipe import WASH
from benchapp.session.state import TaskKey
from tests.planning.plans import MIN, shape
from tests.session.support import INK, LIFT, PULL, SOAK, TWO, WARM, recipe

ONE = shape(recipe(each=(INK, WARM, PULL, LIFT), damp=SOAK))


def step(key: TaskKey, hands: Hands, start: int, minutes: int, at: str | None = None,
         who: str = "printer") -> Planned:
    """A line of a plan, by its minutes."""
    return Planned(("", key), "…", hands, who if hands != "free" else "", at, start * MIN,
                   minutes * MIN)


def drawn(items: list[Planned], end: int, *packs: PackPlan, sh=ONE, begins: int = 9 * 60 + 30,
          until: int | None = None, plain: bool = False, columns: int | None = None) -> list[str]:
    """These lines drawn, a cell a minute unless told otherwise."""
    def clock(second: int) -> str:
        minute = begins + second // 60
        return f"{minute // 60:02}:{minute % 60:02}"

    plan: DayPlan = replace(plan_day(DayInputs((Job("", sh, 1),))), items=tuple(items),
                            packs=packs, end=end * MIN)
    whole = max(end, until or 0)
    return day_rows(plan, sh, clock, columns or LABEL + whole, plain=plain,
                    until=None if until is None else until * MIN)


INKED = [
    step(TaskKey("taken"), "free", 2, 5, "press"),
    step(TaskKey("each.1", 1), "inky", 0, 5), step(TaskKey("each.2", 1), "free", 5, 2, "hot plate"),
    step(TaskKey(WASH, 1), "clean", 7, 2), step(TaskKey("each.3", 1), "clean", 9, 4, "press"),
    step(TaskKey("each.4", 1), "clean", 13, 3),
    step(TaskKey(BREAK), "clean", 20, 5),
    step(TaskKey("each.1", 2), "inky", 25, 5), step(TaskKey("each.3", 2), "clean", 31, 4, "press"),
    step(TaskKey("each.4", 2), "clean", 35, 3)]


def test_each_row_shows_who_and_what_is_busy_when() -> None:
    """A plate is held until the lift; a place that others take has no number."""
    assert drawn(INKED, 40, until=44) == [
        "          09:30          09:45          10:00",
        "Hands     █████  ~~▒▒▒▒▒▒▒    ×××××█████ ▒▒▒▒▒▒▒     |",
        "Plate     1▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒         2▒▒▒▒▒▒▒▒▒▒▒▒     |",
        "Hot plate      1▒                                    |",
        "Press       ×××××  1▒▒▒                  2▒▒▒        |",
        "          █ inky   ▒ clean   ~ wash   × break",
        "          ▒ in use   × taken",
        "          a number begins an impression   | 10:14"]


def test_a_day_in_plain_signs() -> None:
    """Where only ASCII is to be had; nothing is marked where the day has no end asked for."""
    assert drawn(INKED[1:6], 40, plain=True) == [
        "          09:30          09:45          10:00",
        "Hands     #####  ~~=======",
        "Plate     1===============",
        "Hot plate      1=",
        "Press              1===",
        "          # inky   = clean   ~ wash   = in use",
        "          a number begins an impression"]


def test_two_plates_and_a_helper_have_rows_of_their_own() -> None:
    """Each plate by its name; a break is everyone's."""
    items = [step(TaskKey("each.1", 1), "inky", 0, 5), step(TaskKey("each.2", 1), "inky", 5, 5),
             step(TaskKey("each.3", 1), "clean", 10, 4, "press", "helper"),
             step(TaskKey("each.4", 1), "clean", 14, 4, "press", "helper"),
             step(TaskKey("each.5", 1), "clean", 18, 3, None, "helper"),
             step(TaskKey(BREAK), "clean", 25, 5)]
    assert drawn(items, 40, sh=shape(TWO))[1:6] == [
        "Hands     ██████████               ×××××",
        "Helper              ▒▒▒▒▒▒▒▒▒▒▒    ×××××",
        "tone      1▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒",
        "key            1▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒",
        "Press               1▒▒▒1▒▒▒"]


def test_packs_are_in_the_water_rest_and_are_ready_until_their_last_sheet() -> None:
    """One put in; one in the water already; one that is damp; one that nothing is taken from."""
    def pulls(*ordinals: int) -> list[Planned]:
        return [step(TaskKey("each.3", k), "clean", 30 + 2 * k, 1, "press") for k in ordinals]

    packs = (PackPlan("a", 4, (1, 2), 0, 10 * MIN, 15 * MIN),
             PackPlan("b", 4, (3,), None, 6 * MIN, 12 * MIN),
             PackPlan("c", 4, (4,), 5 * MIN, None, 20 * MIN),
             PackPlan("d", 4, (), None, None, 0), PackPlan("e", 4, (5,), None, None, 0))
    rows = drawn(pulls(1, 2, 3, 4, 5), 45, *packs)
    assert [row for row in rows if row.startswith("Pack")] == [
        "Pack 1    ~~~~~~~~~~-----···················",
        "Pack 2    ~~~~~~------························",
        "Pack 3         ---------------··················",
        "Pack 5    ········································"]


@pytest.mark.parametrize(("minutes", "begins", "times"), [
    (40, 570, "09:30          09:45          10:00"),
    (80, 570, "09:30  09:45   10:00  10:15   10:30"),
    (400, 500, "          10:00       12:00       14:00"),
    (4000, 9 * 60, " 12:00   24:00  36:00  48:00  60:00"),
])
def test_round_times_stand_over_their_cells(minutes: int, begins: int, times: str) -> None:
    """The wider a cell, the rarer the times; none is cut."""
    rows = drawn(INKED[:1], minutes, begins=begins, columns=LABEL + 40)
    assert rows[0][LABEL:] == times
    assert rows[1].startswith("Press")


def test_a_row_is_never_narrower_than_it_can_be_read() -> None:
    """Asked for ten columns it takes forty; a long name is cut, and numbers never meet."""
    long = shape(recipe(plates=("the very long one",)).replace("pulls: key",
                                                              "pulls: the very long one"))
    items = [step(TaskKey("each.1", k), "inky", 1 * k, 1) for k in range(8, 13)]
    rows = drawn(items, 120, sh=long, columns=10)
    assert max(map(len, rows[1:3])) <= 40
    assert rows[1].startswith("Hands       ██")
    two = shape(TWO.replace("tone", "the very long one"))
    rows = drawn([step(TaskKey("each.1", k), "inky", 2 * k, 2) for k in (8, 9, 10)], 40, sh=two)
    assert rows[2].startswith("the very…")
    assert rows[2][LABEL:].rstrip() == " " * 16 + "8▒9▒10"
