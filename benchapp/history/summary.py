"""What the days of a print say besides times: ink used, sheets spoiled, tags, session by session.

Pure. Ink is weighed by the day (`ink used`); what was used an impression is less than what was
charged on, since some is carded back. So a recipe's charge is only called too small: no less can
have been charged than was used up.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final

from benchapp.history.stats import Inked, inked_plates, learn_stats
from benchapp.history.suggestions import Proposal
from benchapp.quantities import Mass
from benchapp.recipe.model import Recipe
from benchapp.reckon.ink_need import ENOUGH, Used
from benchapp.session.state import NOT_COUNTED, Session

#: A charge is weighed to half a gram.
_STEP: Final = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class InkLesson:
    """What one ink's weighings say.

    Attributes:
        inked: The ink on its plate, and what its weighing is called.
        used: One a session that was weighed, the oldest first.
    """

    inked: Inked
    used: tuple[Used, ...]

    @property
    def each(self) -> Fraction | None:
        """Grams an impression over all these sessions; None: nothing was weighed."""
        pulls = sum(u.impressions for u in self.used)
        return sum((u.grams.g for u in self.used), Fraction(0)) / pulls if pulls else None


@dataclass(frozen=True, slots=True)
class DayTold:
    """One session in figures.

    Attributes:
        session: Its name.
        pulled: Sheets pulled.
        judged / spoiled: Of those that would have counted, judged, and spoiled of these.
        tags: How many sheets bear each tag, the most first.
    """

    session: str
    pulled: int
    judged: int
    spoiled: int
    tags: tuple[tuple[str, int], ...]


def ink_lessons(sessions: Sequence[Session], recipe: Recipe) -> tuple[InkLesson, ...]:
    """What each ink of a recipe was used up by, over the sessions of its print."""
    used = learn_stats(sessions).ink
    return tuple(InkLesson(x, used[x.reading]) for x in inked_plates(recipe) if used.get(x.reading))


def charge_proposals(sessions: Sequence[Session], recipe: Recipe) -> tuple[Proposal, ...]:
    """The charges that are less than what was used up an impression, weighed in three sessions."""
    out = []
    for lesson in ink_lessons(sessions, recipe):
        each, charge = lesson.each, lesson.inked.ink.charge
        if charge is None or each is None or len(lesson.used) < ENOUGH or each <= charge.g:
            continue
        new = Mass(_STEP * ceil(each / _STEP), charge.unit)
        pulls = sum(u.impressions for u in lesson.used)
        out.append(Proposal(_charge_path(lesson.inked, recipe), _charge_words(lesson.inked, recipe),
                            str(charge), str(new), pulls, "pulls", len(lesson.used)))
    return tuple(out)


def _charge_path(x: Inked, recipe: Recipe) -> str:
    plate = x.ink.plate
    alone = plate is None or ("ink", "charge") in recipe.marks
    return "ink.charge" if alone else f"ink.{plate}.charge"


def _charge_words(x: Inked, recipe: Recipe) -> str:
    return "Charge" if len(recipe.inks) == 1 else f"Charge of {x.ink.plate or x.ink.name}"


def days_told(sessions: Sequence[Session]) -> tuple[DayTold, ...]:
    """Each session's sheets, those spoiled, and its tags."""
    return tuple(_day(s) for s in sessions)


def _day(s: Session) -> DayTold:
    sheets = [i for i in s.impressions if i.pulled and i.counterproof is None]
    judged = [i for i in sheets if i.verdict is not None and i.purpose not in NOT_COUNTED]
    tags = Counter(tag for i in sheets for tag in i.tags)
    return DayTold(s.name, len(sheets), len(judged), sum(i.verdict == "spoiled" for i in judged),
                   tuple(sorted(tags.items(), key=lambda x: (-x[1], x[0]))))
