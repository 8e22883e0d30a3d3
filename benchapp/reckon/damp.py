"""What a sheet weighs when it is damp enough, and how much water a stack drinks.

Moisture is on the wet basis, (wet − dry) / wet, as ISO 287 has it; the dry basis, (wet − dry) /
dry, is another number for the same sheet: 160 g wet of 100 g dry is 37.5 % and 60 %. A sheet's
mass is its grammage times its area (ISO 536), and that is at the moisture it is delivered with,
5 to 7 % in an ordinary room (US National Park Service, *Museum Handbook*). "Feels dry" can hold
10 to 20 %, so one control sheet on the scale is the only test. A light sheet is weighed with its
pack, and for thin paper the printer says how damp it should be. All exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchapp.quantities import Grammage, Mass, Percentage, Size
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.figures import percent_text, refuse_sides, rounded_text
from benchapp.reckon.thin import is_thin

#: As delivered: 5 to 7 % in an ordinary room (US National Park Service).
DELIVERED: Final = Percentage(Fraction(6, 100))
#: Damp enough to print: 30 to 45 % on the wet basis, common practice with no source.
TARGET: Final = Percentage(Fraction(375, 1000))
RANGE: Final = (Percentage(Fraction(30, 100)), Percentage(Fraction(45, 100)))
_DRY_AIR: Final = Percentage(Fraction(20, 100))
_SOAKED: Final = Percentage(Fraction(70, 100))
_GSM: Final = (10, 1500)
_MOST_SHEETS: Final = 2000
#: A sheet below this many grams is weighed with its pack: one alone is a few steps of a scale.
_LIGHT_G: Final = 20


@dataclass(frozen=True, slots=True)
class ControlSheet:
    """A control sheet as it comes from the wrapper: reckoned from its paper, or weighed.

    Attributes:
        size: The sheet or piece that goes into the water.
        grammage: Grams a square metre, from the wrapper. May be absent where it was weighed.
        weighed: What the scale says of one such sheet, undamped; it beats the wrapper.
        delivered: Its moisture then, wet basis.
    """

    size: Size | None = None
    grammage: Grammage | None = None
    weighed: Mass | None = None
    delivered: Percentage | None = None

    def __post_init__(self) -> None:
        _refuse_paper(self)

    @property
    def mass(self) -> Fraction:
        """Grams as delivered, exact."""
        if self.weighed is not None:
            return Fraction(self.weighed.g)
        assert self.size is not None  # noqa: S101  held by __post_init__
        assert self.grammage is not None  # noqa: S101
        return Fraction(self.grammage.gsm * self.size.area_cm2) / 10_000

    @property
    def weight(self) -> Grammage | None:
        """Grams a square metre, by the scale where that tells it, else by the wrapper."""
        if self.weighed is None or self.size is None:
            return self.grammage
        return Grammage(Fraction(self.weighed.g) * 10_000 / self.size.area_cm2)

    @property
    def light(self) -> bool:
        """Whether one sheet alone is too little for a scale."""
        return self.mass < _LIGHT_G

    @property
    def dry(self) -> Fraction:
        """Grams of paper without any water, exact."""
        return self.mass * (1 - (self.delivered or DELIVERED).fraction)


def wet_basis(wet: Mass, dry: Mass) -> Percentage:
    """Moisture content of a sheet, (wet − dry) / wet (ISO 287)."""
    return Percentage(Fraction(wet.g - dry.g) / wet.g)


def dry_basis(wet: Mass, dry: Mass) -> Percentage:
    """Water for each gram of dry paper, (wet − dry) / dry: not what ISO 287 calls moisture."""
    return Percentage(Fraction(wet.g - dry.g) / dry.g)


def damp_weight(sheet: ControlSheet, count: int = 1, *, target: Percentage | None = None) -> Answer:
    """The weight of one control sheet when damp enough, and the water for the stack.

    Args:
        sheet: One sheet as delivered.
        count: Sheets in the stack.
        target: Moisture wanted, wet basis; None: 37.5 %, which is not for thin paper.

    Raises:
        ReckonError: The paper is thin and no target is given; the target is no damper than the
            sheet comes, or wetter than paper holds; the count is out of bounds.
    """
    wanted = target or _usual_target(sheet)
    _refuse_target(sheet, wanted)
    if not 1 <= count <= _MOST_SHEETS:
        raise ReckonError(
            "sheets", f"{count} sheets are not a stack", f"give 1 to {_MOST_SHEETS} sheets"
        )
    damped = _at(sheet, wanted)
    water = damped - sheet.mass
    return Answer(
        sentence=_sentence(sheet, damped, water, count),
        figures={
            "target_g": damped,
            "from_g": None if is_thin(sheet.weight) else _at(sheet, RANGE[0]),
            "to_g": None if is_thin(sheet.weight) else _at(sheet, RANGE[1]),
            "pack_g": damped * count,
            "as_delivered_g": sheet.mass,
            "dry_g": sheet.dry,
            "water_a_sheet_g": water,
            "water_g": water * count,
            "sheets": count,
        },
        inputs=_inputs(sheet, count, target),
        notes=_notes(sheet, count, wanted),
        formula="dry = delivered × (1 − its moisture); damp = dry ÷ (1 − moisture wanted)",
        source="ISO 287 (moisture, wet basis); ISO 536 (grammage)",
    )


def paper_moisture(wet: Mass, dry: Mass) -> Answer:
    """How damp a weighed sheet is, from its weight now and when bone dry.

    Raises:
        ReckonError: The dry sheet is as heavy as the wet one, or weighs nothing.
    """
    if not dry.g:
        raise ReckonError("dry", "the sheet weighs nothing", "give its weight without water")
    if wet.g < dry.g:
        raise ReckonError("wet", f"{wet} is lighter than dry", f"give {dry} or more")
    on_wet, on_dry = wet_basis(wet, dry), dry_basis(wet, dry)
    return Answer(
        sentence=f"The sheet holds {percent_text(on_wet.fraction)} water",
        figures={
            "wet_basis_percent": on_wet.fraction * 100,
            "dry_basis_percent": on_dry.fraction * 100,
        },
        inputs=(
            Input("wet", wet, "", Origin.GIVEN),
            Input("dry", dry, "", Origin.GIVEN),
        ),
        notes=(f"On the dry basis the same sheet is {percent_text(on_dry.fraction)}",),
        formula="(wet − dry) ÷ wet",
        source="ISO 287",
    )


def _at(sheet: ControlSheet, moist: Percentage) -> Fraction:
    """Grams of the sheet at a moisture on the wet basis."""
    return sheet.dry / (1 - moist.fraction)


def _refuse_paper(sheet: ControlSheet) -> None:
    if sheet.weighed is None and (sheet.size is None or sheet.grammage is None):
        raise ReckonError(
            "sheet",
            "the sheet's weight is not known",
            "give size and g/m2, or weigh one sheet as it comes",
        )
    if sheet.size is not None:
        refuse_sides("sheet", sheet.size, 50, 3000, "a sheet")
    if sheet.grammage is not None and not _GSM[0] <= sheet.grammage.gsm <= _GSM[1]:
        raise ReckonError(
            "weight", f"{sheet.grammage} is not a weight of paper",
            f"give {_GSM[0]} to {_GSM[1]} g/m2"
        )
    if sheet.weighed is not None and not 0 < sheet.weighed.g <= 5000:
        raise ReckonError("weighed", f"{sheet.weighed} is not a sheet", "give up to 5000 g")
    if sheet.delivered is not None and sheet.delivered > _DRY_AIR:
        raise ReckonError(
            "delivered", f"paper at {sheet.delivered} is damp already", "give up to 20 %"
        )


def _refuse_target(sheet: ControlSheet, wanted: Percentage) -> None:
    delivered = sheet.delivered or DELIVERED
    if wanted <= delivered:
        raise ReckonError(
            "target",
            f"{wanted} is not damper than the sheet comes, {delivered}",
            f"give {RANGE[0]} to {RANGE[1]}; a part of one such as 0.4 is written 40 %",
        )
    if wanted > _SOAKED:
        raise ReckonError(
            "target",
            f"{wanted} on the wet basis is wetter than a sheet out of the bath",
            f"give {RANGE[0]} to {RANGE[1]}; 60 % on the dry basis is 37.5 % on the wet",
        )


def _usual_target(sheet: ControlSheet) -> Percentage:
    """What printing paper holds; a thin one is asked about."""
    if is_thin(sheet.weight):
        raise ReckonError(
            "target",
            f"{TARGET} is for heavier paper, and no figure is known for {sheet.weight}",
            "give --target; --wet and --dry tell the moisture of a sheet that printed well",
        )
    return TARGET


def _sentence(sheet: ControlSheet, damped: Fraction, water: Fraction, count: int) -> str:
    drinks = f"{count} sheets take" if count != 1 else "it takes"
    each = f"{_grams(damped)} g"
    weighs = (
        f"{count} sheets together weigh {_grams(damped * count)} g, {each} each"
        if sheet.light and count > 1
        else f"one sheet weighs {each}"
    )
    return f"Damp until {weighs}; {drinks} up {_grams(water * count)} g of water"


def _grams(mass: Fraction) -> str:
    """Tenths where they can be told apart on a scale, whole grams above."""
    return rounded_text(mass, 1 if mass < 50 else 0)


def _notes(sheet: ControlSheet, count: int, wanted: Percentage) -> tuple[str, ...]:
    found = [*_range_notes(sheet, count, wanted)]
    if sheet.light and count == 1:
        found.append("Weigh so light a sheet with its pack: give how many with --sheets")
    if sheet.weighed is None:
        found.append("This starts from the wrapper; one sheet on the scale is a better start")
    return tuple(found)


def _range_notes(sheet: ControlSheet, count: int, wanted: Percentage) -> list[str]:
    """The moistures printers use, as weights of what lies on the scale; none for thin paper."""
    if is_thin(sheet.weight):
        return [f"{RANGE[0]} to {RANGE[1]} is for heavier paper; no range is known for thin paper"]
    together = count if sheet.light else 1
    places = 1 if sheet.light else 0
    low, high = (rounded_text(_at(sheet, each) * together, places) for each in RANGE)
    what = "a sheet" if together == 1 else f"for {count} sheets"
    found = [f"{RANGE[0]} to {RANGE[1]} is {low} to {high} g {what} (common practice)"]
    if not RANGE[0] <= wanted <= RANGE[1]:
        found.append(f"{wanted} is outside what printers use, {RANGE[0]} to {RANGE[1]}")
    return found


def _inputs(sheet: ControlSheet, count: int, target: Percentage | None) -> tuple[Input, ...]:
    found = [
        Input("moisture wanted, wet basis", target, "", Origin.GIVEN)
        if target
        else Input("moisture wanted, wet basis", TARGET, "", Origin.PRACTICE, "no source found"),
        Input("moisture as delivered, wet basis", sheet.delivered, "", Origin.GIVEN)
        if sheet.delivered
        else Input(
            "moisture as delivered, wet basis",
            DELIVERED,
            "",
            Origin.PUBLISHED,
            "US National Park Service, 5 to 7 %",
        ),
        Input("sheets", count, "", Origin.GIVEN),
    ]
    for name, value in (
        ("weighed", sheet.weighed),
        ("sheet", sheet.size),
        ("weight", sheet.grammage),
    ):
        if value is not None:
            found.append(Input(name, value, "", Origin.GIVEN))
    return tuple(found)
