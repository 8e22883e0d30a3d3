"""How much a sheet grows when damped, and what that does to the image once it is dry.

Damp paper grows, across the grain several times more than along it (Roberts & Etherington,
*Bookbinding and the Conservation of Books*). Growth e is the added length over the dry length
(ISO 8226): a dry length L grows by L·e, and a plate of length P printed on the damp sheet is
P / (1 + e) long when the sheet has dried. How much a paper grows is its own affair: 1 to 3 %
across for sized rag paper is common practice, and the printer's ruler replaces it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from benchapp.quantities import Percentage, Size
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.figures import refuse_sides, rounded_text

#: Which side the grain runs along: the width or the height as it lies on the bed.
Grain = Literal["width", "height"]

_MOST: Final = Percentage(Fraction(10, 100))


@dataclass(frozen=True, slots=True)
class Growth:
    """Growth of a paper from dry to damp, each a part of the dry length.

    Raises:
        ReckonError: More than 10 %, or more along the grain than across it.
    """

    across: Percentage
    along: Percentage

    def __post_init__(self) -> None:
        for name, value in (("across", self.across), ("along", self.along)):
            if value > _MOST:
                raise ReckonError(
                    name, f"no paper grows {value}", "give up to 10 %; 1 to 3 % across is usual"
                )
        if self.along > self.across:
            raise ReckonError(
                "along",
                f"{self.along} is more than {self.across} across the grain",
                "swap the two, or check which way the grain runs",
            )

    def of(self, side: Grain, grain: Grain) -> Fraction:
        """The growth of one side, when the grain runs along `grain`."""
        return Fraction(self.along.fraction if side == grain else self.across.fraction)


def _usual(across: int, along: Fraction) -> Growth:
    return Growth(Percentage(Fraction(across, 100)), Percentage(along / 100))


#: Sized rag paper, wetted: least, middle, most. Along: a quarter of it, our reading of
#: "several times more across".
LEAST: Final = _usual(1, Fraction(1, 4))
MIDDLE: Final = _usual(2, Fraction(1, 2))
MOST: Final = _usual(3, Fraction(3, 4))


def paper_growth(
    plate: Size, grain: Grain, *, own: Growth | None = None, sheet: Size | None = None
) -> Answer:
    """How long image and plate mark are when the sheet has dried.

    Args:
        plate: The plate, width and height as it lies on the bed.
        grain: Which of the two sides the paper's grain runs along.
        own: The growth the printer measured; None: common practice, with its range.
        sheet: The dry sheet, where its growth on the bed matters (register, margins).

    Raises:
        ReckonError: A size is none of a plate or a sheet.
    """
    refuse_sides("plate", plate, 5, 2000, "a plate")
    if sheet is not None:
        refuse_sides("sheet", sheet, 50, 3000, "a sheet")
    grows = own or MIDDLE
    dry = _dried(plate, grains=grain, grows=grows)
    figures: dict[str, object] = {
        "dry_mm": dry,
        "shrinks_mm": [plate.width.mm - dry[0], plate.height.mm - dry[1]],
    }
    if own is None:
        figures["dry_from_mm"] = _dried(plate, grains=grain, grows=MOST)
        figures["dry_to_mm"] = _dried(plate, grains=grain, grows=LEAST)
    if sheet is not None:
        figures["sheet_grows_mm"] = [
            sheet.width.mm * grows.of("width", grain),
            sheet.height.mm * grows.of("height", grain),
        ]
    return Answer(
        sentence=_sentence(plate, dry, own),
        figures=figures,
        inputs=_inputs(plate, grain, own, sheet),
        notes=_notes(sheet, figures, own),
        formula="dry length = plate ÷ (1 + growth); growth on the bed = dry sheet × growth",
        source="ISO 8226 (hygroexpansivity); Roberts & Etherington",
    )


def _dried(plate: Size, *, grains: Grain, grows: Growth) -> list[Fraction]:
    """Width and height of the plate's mark on the dry sheet, exact."""
    return [
        plate.width.mm / (1 + grows.of("width", grains)),
        plate.height.mm / (1 + grows.of("height", grains)),
    ]


def _two(sides: list[Fraction]) -> str:
    return " × ".join(rounded_text(side, 1) for side in sides)


def _sentence(plate: Size, dry: list[Fraction], own: Growth | None) -> str:
    about = "" if own else "about "
    return f"The plate of {plate} leaves {about}{_two(dry)} mm when the sheet is dry"


def _notes(sheet: Size | None, figures: dict[str, object], own: Growth | None) -> tuple[str, ...]:
    found = []
    if sheet is not None:
        grown = figures["sheet_grows_mm"]
        assert isinstance(grown, list)  # noqa: S101  made above
        found.append(f"The sheet itself grows by {_two(grown)} mm on the bed")
    if own is None:
        found.append(
            "A guess between 1 and 3 % across the grain: measure a plate mark damp and dry once"
        )
    return (*found, "Wet on dry, both dampings must match or the colours part")


def _inputs(plate: Size, grain: Grain, own: Growth | None, sheet: Size | None) -> tuple[Input, ...]:
    grows = own or MIDDLE
    across = (Origin.GIVEN, "") if own else (Origin.PRACTICE, "sized rag paper, 1 to 3 %")
    along = (
        (Origin.GIVEN, "") if own else (Origin.CHOSEN, "a quarter; published: several times less")
    )
    on_bed = [Input("sheet", sheet, "", Origin.GIVEN)] if sheet is not None else []
    return (
        Input("plate", plate, "", Origin.GIVEN),
        Input("grain along the", grain, "", Origin.GIVEN),
        Input("growth across the grain", grows.across, "", *across),
        Input("growth along it", grows.along, "", *along),
        *on_bed,
    )
