"""How many grams of ink a day takes: from the printer's own weighings, once there are three.

With g grams used on a inked area in all (plate area × impressions) in each session, ink used
grows with area and so does its variance; then the best k is Σg / Σa, and the next day's grams
on area A lie below

    k·A + t(.9, n−1) · s · √(A + A²/Σa),   s² = Σ (g − k·a)² / a / (n − 1)

nine days of ten (weighted least squares through the origin; W. G. Cochran, *Sampling
Techniques*, ratio estimators, from memory). One session gives no limit at all and two give
one too wide to use, so until the third the answer is common practice: 13 to 26 mg/cm² charged
on before wiping, half of it carded back to the slab (derived from film thickness, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt
from typing import Final

from benchapp.quantities import Mass, Percentage, Size
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.figures import refuse_sides, rounded_text
from benchapp.reckon.student import t_quantile

#: Grams a square centimetre charged on before wiping.
CHARGED: Final = (Fraction(13, 1000), Fraction(26, 1000))
CARDED_BACK: Final = Fraction(1, 2)
#: Sessions weighed before they are forecast from.
ENOUGH: Final = 3
LIMIT: Final = Percentage(Fraction(90, 100))
WHOLE: Final = Percentage(Fraction(1))
_MOST_IMPRESSIONS: Final = 5000
#: Grams a square centimetre no inking comes near: a unit or a count was mistaken.
_ABSURD: Final = (Fraction(1, 10_000), Fraction(2, 10))


@dataclass(frozen=True, slots=True)
class Used:
    """The ink one session used up: what left the slab and did not come back.

    Attributes:
        grams: Weighed before less weighed after.
        impressions: Pulled with it.
        plate: The plate they were pulled from.
        session: The session's name, for the answer to list.
    """

    grams: Mass
    impressions: int
    plate: Size
    session: str = ""

    def __post_init__(self) -> None:
        where = f"weighing {self.session}".rstrip()
        if not 1 <= self.impressions <= _MOST_IMPRESSIONS:
            raise ReckonError(
                where, f"{self.impressions} impressions cannot have used ink", "give 1 or more"
            )
        refuse_sides(where, self.plate, 5, 2000, "a plate")
        if not _ABSURD[0] <= self.grams.g / self.area <= _ABSURD[1]:
            mg = rounded_text(self.grams.g / self.area * 1000, 1)
            raise ReckonError(
                where,
                f"{self.grams} is {mg} mg on each square centimetre, which no inking comes near",
                "look again at grams, impressions and the plate",
            )

    @property
    def area(self) -> Fraction:
        """Square centimetres inked in all."""
        return Fraction(self.plate.area_cm2) * self.impressions


@dataclass(frozen=True, slots=True)
class Forecast:
    """Grams a square centimetre learnt, and how they scatter.

    Attributes:
        per_cm2: k, exact.
        scatter: s, in grams for the root of a square centimetre; None for one session.
        area: Σa, square centimetres weighed so far.
        sessions: How many.
    """

    per_cm2: Fraction
    scatter: float | None
    area: Fraction
    sessions: int

    def at_most(self, area: Fraction) -> float | None:
        """Grams that `area` stays under nine days of ten; None where nothing says so."""
        if self.scatter is None:
            return None
        spread = self.scatter * sqrt(float(area + area**2 / self.area))
        return float(self.per_cm2 * area) + t_quantile(float(LIMIT.fraction), self.freedom) * spread

    @property
    def freedom(self) -> int:
        """Degrees of freedom of the scatter."""
        return self.sessions - 1


def learn_ink_use(weighings: Sequence[Used]) -> Forecast | None:
    """k and its scatter from the sessions weighed; None where there is none."""
    if not weighings:
        return None
    area = sum(w.area for w in weighings)
    rate = sum(Fraction(w.grams.g) for w in weighings) / Fraction(area)
    if len(weighings) == 1:
        return Forecast(rate, None, Fraction(area), 1)
    squares = sum((w.grams.g - rate * w.area) ** 2 / w.area for w in weighings)
    return Forecast(
        rate, sqrt(float(squares / (len(weighings) - 1))), Fraction(area), len(weighings)
    )


def ink_need(
    plate: Size,
    impressions: int,
    *,
    weighings: Sequence[Used] = (),
    charge: Mass | None = None,
    covers: Percentage | None = WHOLE,
) -> Answer:
    """Grams of ink to mix for a day.

    Args:
        plate: The plate to be inked.
        impressions: How many will be pulled, warm-ups and all.
        weighings: What this ink's own sessions used, any plates.
        charge: The recipe's grams on the plate before wiping; shown beside.
        covers: The part of the plate the ink goes on; None: nobody has said, and common practice
            then says nothing. Weighings are of this ink, so they need no part.

    Raises:
        ReckonError: The plate is none, or the number is out of bounds.
    """
    refuse_sides("plate", plate, 5, 2000, "a plate")
    if not 1 <= impressions <= _MOST_IMPRESSIONS:
        raise ReckonError(
            "impressions", f"{impressions} is not a day's work", f"give 1 to {_MOST_IMPRESSIONS}"
        )
    area = Fraction(plate.area_cm2) * impressions
    practice = None if covers is None else (
        _practice(CHARGED[0] * plate.area_cm2 * covers.fraction, impressions),
        _practice(CHARGED[1] * plate.area_cm2 * covers.fraction, impressions))
    learnt = learn_ink_use(weighings)
    trusted = learnt if learnt is not None and learnt.sessions >= ENOUGH else None
    own = None if charge is None else _practice(Fraction(charge.g), impressions)
    return Answer(
        sentence=_sentence(impressions, area, practice, own, trusted),
        figures={
            "grams": trusted.per_cm2 * area if trusted else None,
            "at_most_g": trusted.at_most(area) if trusted else None,
            "practice_from_g": practice and practice[0],
            "practice_to_g": practice and practice[1],
            "recipe_g": own,
            "mg_per_cm2": learnt.per_cm2 * 1000 if learnt else None,
            "impressions": impressions,
            "sessions": learnt.sessions if learnt else 0,
        },
        inputs=_inputs(plate, impressions, weighings, charge, trusted, covers),
        notes=_notes(learnt, trusted, own, covers),
        formula="grams = k × inked area, k = Σ grams ÷ Σ area, limit by Student's t at 90 %"
        if trusted
        else "charge × (impressions + 1) ÷ 2: half of each charge is carded back and used again",
        source="Cochran, Sampling Techniques (ratio estimator)" if trusted else "common practice",
    )


def _practice(charge: Fraction, impressions: int) -> Fraction:
    """Grams for so many chargings, when half of each but the last comes back to the slab."""
    return charge * (1 + (impressions - 1) * (1 - CARDED_BACK))


def _sentence(
    impressions: int,
    area: Fraction,
    practice: tuple[Fraction, Fraction] | None,
    own: Fraction | None,
    learnt: Forecast | None,
) -> str:
    pulls = f"{impressions} impression{'s' if impressions != 1 else ''}"
    recipe = f"; {_g(own)} g by the recipe's charge" if own is not None else ""
    if learnt is None:
        if practice is not None:
            return f"{_g(practice[0])} to {_g(practice[1])} g of ink for {pulls}{recipe}"
        return (f"{_g(own)} g of ink for {pulls} by the recipe's charge" if own is not None else
                "no figure: the recipe does not say which part of the plate this ink covers")
    most = learnt.at_most(area)
    limit = f", at most {_g(most)} g nine days of ten" if most is not None else ""
    return f"{_g(learnt.per_cm2 * area)} g of ink for {pulls}{limit}{recipe}"


def _g(grams: Fraction | float) -> str:
    return rounded_text(grams, 0 if grams >= 20 else 1)


def _notes(
    learnt: Forecast | None, trusted: Forecast | None, own: Fraction | None,
    covers: Percentage | None,
) -> tuple[str, ...]:
    if trusted is not None:
        return ("By the recipe's charge, half of each is carded back and used "
                "again",) if own else ()
    if learnt is None and covers is None:
        return ("Several inks share the plate: write the part of each, such as covers: 40 %, or "
                "weigh each before and after three sessions",)
    if learnt is None:
        return ("A guess: weigh the ink before and after three sessions and they replace it",)
    weighed = "one session" if learnt.sessions == 1 else "two sessions"
    mg = rounded_text(learnt.per_cm2 * 1000, 1)
    none = ", and one gives no limit" if learnt.sessions == 1 else ""
    return (f"Your {weighed} used {mg} mg/cm2; {ENOUGH} are needed to forecast{none}",)


def _inputs(
    plate: Size,
    impressions: int,
    weighings: Sequence[Used],
    charge: Mass | None,
    trusted: Forecast | None,
    covers: Percentage | None,
) -> tuple[Input, ...]:
    own = [Input("charge", charge, "", Origin.RECIPE)] if charge is not None else []
    names = ", ".join(w.session for w in weighings if w.session)
    count = f"{len(weighings)} session{'s' if len(weighings) != 1 else ''}"
    rate = []
    if trusted:
        rate = [Input("ink used", rounded_text(trusted.per_cm2 * 1000, 1), "mg/cm2", Origin.LEARNT,
                      names or count)]
    elif covers is not None:
        rate = [Input("charged on before wiping", "13 to 26", "mg/cm2", Origin.PRACTICE,
                      "no source")]
        if covers != WHOLE:
            rate.append(Input("covers", covers, "of the plate", Origin.RECIPE))
    back = [] if charge is None and (trusted or covers is None) else [_carded()]
    return (
        Input("plate", plate, "", Origin.GIVEN),
        Input("impressions", impressions, "", Origin.GIVEN),
        *rate,
        *back,
        *own,
    )


def _carded() -> Input:
    return Input("carded back", Percentage(CARDED_BACK), "", Origin.PRACTICE, "about half")
