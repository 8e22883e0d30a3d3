"""What the Plan screen has typed: a question for each thing a key alone cannot say. Pure."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from benchapp.planning.question import DayQuestion
from benchapp.planning.times import ASK
from benchapp.quantities import minutes_text
from benchapp.screens import plan_window as w


@dataclass(frozen=True, slots=True)
class PlanQuestion:
    """One question.

    Attributes:
        title: What is asked.
        hint: An example; says it where nothing is an answer too.
        value: What stands there already.
        said: Makes of an answer the day asked for; a `QuantityError` says what is wrong.
    """

    title: str
    hint: str
    value: str
    said: Callable[[str], DayQuestion]


def plan_questions(asked: DayQuestion, today: date, least: int = 0) -> dict[str, PlanQuestion]:
    """The questions by name, about the day as it is asked now.

    Args:
        asked: The day.
        today: The day it is.
        least: What the steps with a time take of a print, in milliseconds.
    """
    size = w.asked_pack_size(asked)
    return {
        "wanted": PlanQuestion("How many counting impressions do you want?",
                               "empty: as many as fit",
                               "" if asked.wanted is None else str(asked.wanted),
                               lambda text: w.wanted_said(asked, text)),
        "from": PlanQuestion("When does the day begin?", "such as 09:30 or 9 am",
                             w.hhmm(asked.zero.minutes), lambda text: w.begins_said(asked, text)),
        "until": PlanQuestion("When must the day be over, with cleaning up?",
                              "such as 17:00, 17 or 5 pm; empty: any time",
                              "" if asked.until is None else w.hhmm(asked.until),
                              lambda text: w.over_said(asked, text)),
        "breaks": PlanQuestion("Breaks, with commas between them",
                               "such as 13:00 45 min; empty: no break",
                               ", ".join(map(w.break_words, asked.breaks)),
                               lambda text: w.lunch_said(asked, text)),
        "pack": PlanQuestion("How many sheets in a pack, this day?", "empty: as in the recipe",
                             "" if size is None else str(size),
                             lambda text: w.pack_said(asked, text)),
        "each": PlanQuestion(ASK, "such as 40 min; a guess will do",
                             "" if asked.each_ms is None else minutes_text(asked.each_ms),
                             lambda text: w.each_said(asked, text, least)),
        "day": PlanQuestion("Which day?", "such as tomorrow, friday, 3 May or 2026-05-03",
                            asked.zero.on.isoformat(), lambda text: w.day_said(asked, text, today)),
    }
