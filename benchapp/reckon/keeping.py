"""How long damp paper keeps before it must be looked at for mould.

Above 21 °C and 60 % relative humidity mould can show within 48 h (US National Park Service,
*Museum Handbook*, disaster primer). The warning at 48 h is kept in cooler air too, since a
wrapped pack makes its own; when it is hot it is looked at from 24 h on. Refrigerated packs
keep 5 to 7 days (common practice); the shorter end warns.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from benchapp.quantities import Duration, Percentage, Temperature, minutes_text
from benchapp.reckon.air import Air
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError

_HOUR: Final = 3_600_000
MOULD: Final = Duration(48 * _HOUR, "h")
_MUSTY: Final = "look; if it smells musty, throw the paper away"
SMELL: Final = Duration(24 * _HOUR, "h")
COLD: Final = Duration(5 * 24 * _HOUR, "day")
#: Mould within 48 h above both (US National Park Service).
WARM: Final = Temperature(Fraction(21))
HUMID: Final = Percentage(Fraction(60, 100))
#: Hot, our choice: well above the warmth at which 48 h was published.
HOT: Final = Temperature(Fraction(27))
_OLDEST: Final = Duration(60 * 24 * _HOUR, "day")


def paper_keeping(
    age: Duration,
    *,
    air: Air | None = None,
    refrigerated: bool = False,
    keeps: Duration | None = None,
) -> Answer:
    """Whether damp paper of this age may still be trusted.

    Args:
        age: Since it came out of the water.
        air: The room it lies in; None: not known, and the warning stays at 48 h.
        refrigerated: It lies cold; the room's air does not count then.
        keeps: What the printer's own recipe says it keeps; shown beside, never instead.

    Raises:
        ReckonError: Older than two months: a unit was mistaken.
    """
    if age > _OLDEST:
        raise ReckonError("age", f"{age} is not an age of damp paper", "give hours or days")
    warn, look = _limits(air, refrigerated)
    return Answer(
        sentence=_sentence(age, warn, look),
        figures={
            "age_ms": age.ms,
            "warns": age >= warn,
            "look_and_smell": age >= look,
            "warn_after_ms": warn.ms,
            "look_after_ms": look.ms,
            "left_ms": max(0, warn.ms - age.ms),
            "warm_and_humid": _warm_and_humid(air) if air is not None else None,
            "keeps_ms": None if keeps is None else keeps.ms,
        },
        inputs=_inputs(age, air, refrigerated, keeps, warn, look),
        notes=_notes(air, refrigerated, keeps, age),
        formula="age against 48 h; when hot, look from 24 h; refrigerated, 5 days",
        source="US National Park Service, Museum Handbook (mould within 48 h when warm and humid)",
    )


def _warm_and_humid(air: Air) -> bool:
    return air.warmth > WARM and air.humidity > HUMID


def _limits(air: Air | None, refrigerated: bool) -> tuple[Duration, Duration]:
    """When to warn, and from when to look for mould."""
    if refrigerated:
        return COLD, COLD
    hot = air is not None and air.warmth > HOT
    return MOULD, SMELL if hot else MOULD


def _sentence(age: Duration, warn: Duration, look: Duration) -> str:
    if age >= warn:
        return f"Damp for {minutes_text(age.ms)}: mould is possible; {_MUSTY}"
    if age >= look:
        return f"Damp for {minutes_text(age.ms)} in hot air: {_MUSTY}"
    left = minutes_text(look.ms - age.ms)
    return f"Good for another {left}, then {_MUSTY}"


def _notes(
    air: Air | None, refrigerated: bool, keeps: Duration | None, age: Duration
) -> tuple[str, ...]:
    found = []
    if keeps is not None and age >= keeps:
        found.append(f"Your recipe says it keeps {keeps}")
    if refrigerated:
        return (*found, "Refrigerated paper keeps 5 to 7 days (common practice)")
    if air is None:
        found.append("The room's warmth and humidity are not known, so 48 h is for any room")
    elif _warm_and_humid(air):
        found.append("Warmer than 21 °C and above 60 %: mould comes within 48 h (published)")
    else:
        found.append("Not both warm and humid, but a wrapped pack makes its own air, so 48 h is "
                     "right")
    return tuple(found)


def _inputs(
    age: Duration,
    air: Air | None,
    refrigerated: bool,
    keeps: Duration | None,
    warn: Duration,
    look: Duration,
) -> tuple[Input, ...]:
    cold = [Input("lies", "refrigerated", "", Origin.GIVEN)] if refrigerated else []
    own = [Input("keeps", keeps, "", Origin.RECIPE)] if keeps is not None else []
    warned = (
        (Origin.PRACTICE, "5 to 7 days") if refrigerated else (Origin.PUBLISHED, "Park Service")
    )
    hot = [Input("look for mould from", look, "", Origin.CHOSEN, "hot: above 27 °C")]
    return (
        Input("age", age, "", Origin.GIVEN),
        *(air.inputs() if air is not None else ()),
        *cold,
        *own,
        Input("warning at", warn, "", *warned),
        *(hot if look != warn else ()),
    )
