"""How long this paper soaks until a sheet weighs what it should: from its own weighings only.

The curve is diffusion into a plane sheet (`benchapp.reckon.diffusion`). One weighing of a
sheet whose full weight is known, or two weighings, fix its pace. Sized paper does not obey
the curve well, and two papers never share one, so a paper nobody weighed gets no minutes,
and the printer's own note stands before what is reckoned. At first twice the depth takes four
times as long, as in fine tubes (E. W. Washburn, *Phys. Rev.* 17 (1921) 273); swelling and
sizing break that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchapp.quantities import Duration, Mass, minutes_text
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.diffusion import NEARLY_FULL, rate_of_two, tau_at, uptake
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.figures import rounded_text, to_step

#: Sheets are weighed in grams; more is a mistaken unit.
_HEAVIEST: Final = Mass(Fraction(5000))
_LONGEST: Final = Duration(7 * 24 * 3_600_000, "day")
#: A time this much beyond the last weighing is told as beyond it.
_BEYOND: Final = 2


@dataclass(frozen=True, slots=True)
class SoakWeighing:
    """One sheet, drained and weighed after so long in the water."""

    after: Duration
    mass: Mass


def soak_time(
    before: Mass,
    weighings: Sequence[SoakWeighing],
    target: Mass,
    *,
    full: Mass | None = None,
    note: Duration | None = None,
) -> Answer:
    """Minutes in the water until the sheet weighs `target`.

    Args:
        before: The sheet as it came from the wrapper.
        weighings: One where `full` is given, else two, of that sheet or one like it.
        target: The weight wanted, between `before` and full.
        full: The weight at which it took up no more, if the printer waited for that.
        note: The soak the printer's recipe or note says; it stands first.

    Raises:
        ReckonError: Nobody weighed this paper, the weighings lie on no such curve, or the
            target is not between dry and full.
    """
    taken = _taken(before, weighings, target, full)
    rate, most = _fit(taken, None if full is None else _grams(full) - _grams(before))
    share = (_grams(target) - _grams(before)) / most
    if share >= NEARLY_FULL:
        sheet = rounded_text(_grams(before) + NEARLY_FULL * most)
        raise ReckonError(
            "target",
            f"this sheet is full before it weighs {target}",
            f"ask for less than {sheet} g",
        )
    wanted = Duration(round(1000 * tau_at(share) / rate), "ms")
    return Answer(
        sentence=_sentence(wanted, target, note, full is not None),
        figures={
            "soak_ms": wanted.ms,
            "note_ms": None if note is None else note.ms,
            "share_of_full": share,
            "full_g": _grams(before) + most,
            "rate_per_s": rate,
            "curve": _curve(rate, most, _grams(before)),
        },
        inputs=_inputs(before, weighings, target, full, note),
        notes=_notes(wanted, weighings),
        formula="diffusion into a plane sheet, M/M∞ as a function of D·t/l²",
        source="Crank, The Mathematics of Diffusion (plane sheet)",
    )


def _grams(mass: Mass) -> float:
    return float(mass.g)


def _taken(
    before: Mass, weighings: Sequence[SoakWeighing], target: Mass, full: Mass | None
) -> list[tuple[float, float]]:
    """Seconds and grams taken up, earliest first, every figure looked at."""
    _refuse_count(weighings, full)
    for name, mass in (("before", before), ("target", target), ("full", full)):
        if mass is not None and not 0 < mass.g <= _HEAVIEST.g:
            raise ReckonError(name, f"{mass} is not the weight of a sheet", "give up to 5000 g")
    if target.g <= before.g:
        raise ReckonError(
            "target", f"{target} is not heavier than the sheet was", f"give more than {before}"
        )
    if full is not None and full.g <= before.g:
        raise ReckonError(
            "full", f"{full} is not heavier than the sheet was", f"give more than {before}"
        )
    for weighing in weighings:
        _refuse_weighing(weighing, before, full)
    ordered = sorted(weighings, key=lambda w: w.after.ms)
    return [(w.after.ms / 1000, _grams(w.mass) - _grams(before)) for w in ordered]


def _refuse_count(weighings: Sequence[SoakWeighing], full: Mass | None) -> None:
    needed = 1 if full is not None else 2
    if not weighings:
        raise ReckonError(
            "weighings",
            "nobody has weighed this paper in the water, and minutes from another would be a guess",
            "weigh one sheet before, after some minutes, and once more later",
        )
    if len(weighings) < needed:
        raise ReckonError(
            "weighings",
            "one weighing alone does not show where the paper stops",
            "give a second, later one, or the weight of the sheet when full",
        )
    if len(weighings) > needed:
        raise ReckonError(
            "weighings",
            f"{len(weighings)} weighings are more than the curve is fitted to",
            f"give {needed}: {'one and the full weight' if needed == 1 else 'an early and a late'}",
        )


def _refuse_weighing(weighing: SoakWeighing, before: Mass, full: Mass | None) -> None:
    figure = f"weighing after {weighing.after}"
    if not 0 < weighing.after.ms <= _LONGEST.ms:
        raise ReckonError(figure, "that is not a time in the water", "give 1 s to 7 days")
    if weighing.mass.g <= before.g:
        raise ReckonError(
            figure, f"{weighing.mass} is not heavier than before", f"give more than {before}"
        )
    if full is not None and weighing.mass.g >= full.g:
        raise ReckonError(figure, f"{weighing.mass} is the full weight already", "weigh it earlier")


def _fit(taken: list[tuple[float, float]], most: float | None) -> tuple[float, float]:
    """The rate in 1/s, and the water the sheet takes up in all, in grams."""
    if most is not None:
        seconds, grams = taken[0]
        return tau_at(grams / most) / seconds, most
    (early, one), (late, other) = taken
    rate = rate_of_two(taken[0], taken[1]) if early < late else None
    if rate is not None:
        return rate, other / uptake(rate * late)
    if early == late or one >= other:
        raise ReckonError(
            "weighings",
            "the later weighing is not heavier, so the paper was full at the first",
            "weigh a sheet earlier, or give its full weight",
        )
    raise ReckonError(
        "weighings",
        "the paper drank as fast to the end, so it does not show where it stops",
        "weigh once more, much later",
    )


def _curve(rate: float, most: float, before: float) -> list[dict[str, float]]:
    """The sheet's weight at each tenth of its full uptake, up to nine."""
    return [
        {"minutes": tau_at(tenth / 10) / rate / 60, "g": before + most * tenth / 10}
        for tenth in range(1, 10)
    ]


def _sentence(wanted: Duration, target: Mass, note: Duration | None, full: bool) -> str:
    minutes = _minutes(wanted)
    paper = "one weighing and the full weight" if full else "two weighings"
    if note is None:
        return f"{minutes} in the water until the sheet weighs {target}, from your {paper}"
    return (
        f"{note} as your own note says; from your {paper}, {minutes} until the sheet "
        f"weighs {target}"
    )


def _minutes(time: Duration) -> str:
    """Whole minutes, or half ones below five."""
    if time.minutes < 5:
        return f"{rounded_text(max(to_step(time.minutes, Fraction(1, 2)), Fraction(1, 2)), 1)} min"
    return minutes_text(time.ms)


def _notes(wanted: Duration, weighings: Sequence[SoakWeighing]) -> tuple[str, ...]:
    last = max(w.after.ms for w in weighings)
    beyond = (
        ("This is well beyond the last weighing: weigh a sheet then",)
        if wanted.ms > _BEYOND * last
        else ()
    )
    return (
        *beyond,
        "Sized paper follows the curve only roughly: a sheet on the scale is the test",
        "At first twice the water takes four times as long",
    )


def _inputs(
    before: Mass,
    weighings: Sequence[SoakWeighing],
    target: Mass,
    full: Mass | None,
    note: Duration | None,
) -> tuple[Input, ...]:
    known = [Input("full", full, "", Origin.GIVEN)] if full else []
    own = [Input("soak", note, "", Origin.GIVEN, "your own note")] if note else []
    return (
        Input("wanted", target, "", Origin.GIVEN),
        Input("before", before, "", Origin.GIVEN),
        *(Input(f"after {w.after}", w.mass, "", Origin.GIVEN, "your weighing") for w in weighings),
        *known,
        *own,
    )
