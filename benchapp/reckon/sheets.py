"""How many sheets to damp so that enough of them come out good.

The smallest n with P(at least N good of n) as high as the printer wants it. The chance of
spoiling a sheet is either given, or learnt from this print's own sessions on top of a stated
prior: one spoiled and nine good sheets, that is a mean of 10 % worth 10 sheets. Laws and
sources: `benchapp.reckon.waiting`.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchapp.quantities import Percentage
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.waiting import FromRecord, KnownRate, Law, smallest_count

#: The prior: spoiled and good sheets a printer without a record is taken to have seen.
PRIOR_SPOILED: Final = 1
PRIOR_GOOD: Final = 9
SURE: Final = Percentage(Fraction(9, 10))
MOST_GOOD: Final = 5000
MOST_SHEETS: Final = 20_000
_FURTHER: Final = 3


@dataclass(frozen=True, slots=True)
class Record:
    """What this print's own sessions say: sheets spoiled, of sheets pulled and judged.

    Raises:
        ReckonError: More spoiled than pulled, or a count below nothing.
    """

    spoiled: int
    pulled: int
    sessions: int = 0

    def __post_init__(self) -> None:
        if min(self.spoiled, self.pulled, self.sessions) < 0:
            raise ReckonError("record", "a count is below 0", "give counts of 0 or more")
        if self.spoiled > self.pulled:
            raise ReckonError(
                "record",
                f"{self.spoiled} spoiled of {self.pulled} cannot be",
                f"give at most {self.pulled} spoiled",
            )

    def __str__(self) -> str:
        return f"{self.spoiled} spoiled of {self.pulled}"


def reckon_sheets(
    good: int,
    *,
    sure: Percentage | None = None,
    spoilage: Percentage | None = None,
    record: Record | None = None,
    warm_ups: int = 0,
) -> Answer:
    """The smallest number of sheets that gives `good` good ones as surely as asked.

    Args:
        good: Good impressions wanted, 1 to 5,000.
        sure: How likely that must be, above 0 % and below 100 %; None: 90 %.
        spoilage: The known chance that a sheet is spoiled, below 100 %. None: learnt from
            `record` on top of the prior.
        record: This print's own sheets so far; None: no record.
        warm_ups: Sheets pulled before any counts, added on top.

    Raises:
        ReckonError: A figure is out of bounds, or more than 20,000 sheets would be needed.
    """
    _refuse(good, sure, spoilage, warm_ups)
    asked = (sure or SURE).fraction
    law, origin = _law(spoilage, record or Record(0, 0))
    number, reached = _smallest(law, good, Fraction(asked))
    wanted = Input("good impressions wanted", good, "", Origin.GIVEN)
    certainty = Input("how sure", sure or SURE, "", Origin.GIVEN if sure else Origin.CHOSEN)
    warm = [Input("warm-ups", warm_ups, "", Origin.PRACTICE)] if warm_ups else []
    return Answer(
        sentence=_sentence(number, warm_ups, good, reached),
        figures={
            "sheets": number + warm_ups,
            "for_good": number,
            "warm_ups": warm_ups,
            "good": good,
            "chance": float(reached[0]),
            "further": [
                {"sheets": number + warm_ups + i, "chance": float(c)}
                for i, c in enumerate(reached[1:], 1)
            ],
        },
        inputs=(wanted, certainty, *origin, *warm),
        notes=_notes(good, Fraction(asked), record, spoilage),
        formula="smallest n with P(at least N good of n) ≥ how sure; "
        + ("negative binomial" if spoilage else "beta-binomial, prior 1 spoiled and 9 good"),
        source="Penn State STAT 414, lesson 11"
        if spoilage
        else "Johnson, Kemp & Kotz, Univariate Discrete Distributions (from memory)",
    )


def _refuse(good: int, sure: Percentage | None, spoilage: Percentage | None, warm: int) -> None:
    if not 1 <= good <= MOST_GOOD:
        raise ReckonError(
            "good", f"{good} impressions are outside what it can reckon", "ask for 1 to "
                                                                          f"{MOST_GOOD}"
        )
    if sure is not None and not 0 < sure.fraction < 1:
        raise ReckonError(
            "sure",
            f"no number of sheets is {sure} sure",
            "ask for more than 0 % and less than 100 %, such as 95 %",
        )
    if spoilage is not None and not 0 <= spoilage.fraction < 1:
        raise ReckonError(
            "spoilage", f"{spoilage} spoiled leaves no good sheet", "give less than 100 %"
        )
    if warm < 0:
        raise ReckonError("warm-ups", "a count is below 0", "give 0 or more")


def _law(spoilage: Percentage | None, record: Record) -> tuple[Law, tuple[Input, ...]]:
    """The law of spoiling, and the inputs that say what it was made of."""
    if spoilage is not None:
        return KnownRate(Fraction(spoilage.fraction)), (
            Input("spoilage", spoilage, "", Origin.GIVEN),
        )
    spoiled = PRIOR_SPOILED + record.spoiled
    kept = PRIOR_GOOD + record.pulled - record.spoiled
    prior = Input(
        "spoilage before any record",
        Percentage(Fraction(PRIOR_SPOILED, PRIOR_SPOILED + PRIOR_GOOD)),
        "",
        Origin.PRACTICE,
        f"worth {PRIOR_SPOILED + PRIOR_GOOD} sheets",
    )
    if not record.pulled:
        return FromRecord(spoiled, kept), (prior,)
    count = f"{record.sessions} session{'s' if record.sessions != 1 else ''}"
    learnt = Input(
        "this print's record", str(record), "", Origin.LEARNT, count if record.sessions else ""
    )
    return FromRecord(spoiled, kept), (learnt, prior)


def _smallest(law: Law, good: int, sure: Fraction) -> tuple[int, list[Fraction]]:
    """The smallest number of sheets, and the chance with it and with each of a few more."""
    number, reached = smallest_count(law, good, sure, MOST_SHEETS, _FURTHER)
    if number is None:
        raise ReckonError(
            "sure",
            f"it would take more than {MOST_SHEETS} sheets",
            f"with {MOST_SHEETS} it is {_percent(reached[0])}; ask for less, or look at the "
            "spoilage",
        )
    return number, reached


def _sentence(number: int, warm: int, good: int, reached: list[Fraction]) -> str:
    """`33 sheets: 93 % for 30 good; a further sheet +2 %`."""
    added = reached[1] - reached[0]
    each = "+" + _percent(added) if added >= Fraction(1, 100) else "adds less than 1 %"
    told = f"{_percent(reached[0])} for {good} good; "
    told += "no further one adds anything" if not added else f"a further sheet {each}"
    if not warm:
        return f"{_count(number)}: {told}"
    return f"{_count(number + warm)}, {warm} of them to warm up: {told}"


def _count(number: int) -> str:
    return f"{number} sheet{'s' if number != 1 else ''}"


def _percent(chance: Fraction) -> str:
    """A chance in whole percent, cut and not rounded: it never promises more than is so."""
    return f"{int(chance * 100 + Fraction(1, 1 << 200))} %"


def _notes(
    good: int, sure: Fraction, record: Record | None, spoilage: Percentage | None
) -> tuple[str, ...]:
    seen = record if record and record.pulled else None
    if spoilage is None:
        guess = "No record of this print yet: the spoilage is a guess that the first days replace"
        return () if seen else (guess,)
    notes = ["The spoilage given is taken as certain; a day can be worse than its average"]
    if seen:
        own = _smallest(_law(None, seen)[0], good, sure)[0]
        notes.append(f"This print's own record ({seen}) would say {own}, without warm-ups")
    return tuple(notes)
