"""Strength of a mordant: degrees Baumé, specific gravity, and a solution made weaker by water.

Degrees Baumé of a liquid heavier than water are m − m ÷ SG, and SG = m ÷ (m − °Bé). The modulus
m has had several values in print; 145 is the heavy scale of the United States (Roberts &
Etherington, "Baumé"), the others are 144, 144.3 and 146.78. So a strength is kept as a specific
gravity, and degrees name their scale.

Degrees do not average. Masses and volumes do, if the volume lost on mixing is left out of account:
40 °Bé with as much water again is 23.2 °Bé, not 20.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchapp.quantities import Mass, Percentage, number_text
from benchapp.quantities.volumes import Volume
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.figures import rounded_text, to_step

US_HEAVY: Final = Fraction(145)
#: Scales in print by their modulus.
SCALES: Final[Mapping[str, Fraction]] = {
    "145": US_HEAVY, "144": Fraction(144), "144.3": Fraction(1443, 10),
    "146.78": Fraction(14678, 100),
}
_MOST_BAUME: Final = 70
_LIGHTEST, _HEAVIEST = Fraction(1), Fraction(2)
#: Solutions that a studio thins with water. Everything else gets no figure.
THINNED: Final = ("ferric chloride", "copper sulphate", "salt")
_THINNED_TOO: Final = {"perchloride of iron": "ferric chloride", "iron perchloride":
                       "ferric chloride", "ferric": "ferric chloride",
                       "copper sulfate": "copper sulphate"}
_NOTES: Final = (
    "A degree Baumé is read at the temperature on the hydrometer's stem; warm liquid reads weaker "
    "(common practice)",
)
_THINNING: Final = (
    "The volume lost on mixing is left out of account: measure again when it is cool",
    "Strength alone does not give a biting time; bite a strip (common practice)",
)
FORMULA: Final = "specific gravity = modulus ÷ (modulus − °Bé)"
SOURCE: Final = "Roberts & Etherington, Bookbinding and the Conservation of Books, Baumé"


def baume_gravity(degrees: Fraction, modulus: Fraction = US_HEAVY) -> Fraction:
    """The specific gravity of so many degrees Baumé, exact."""
    return modulus / (modulus - degrees)


def gravity_baume(gravity: Fraction, modulus: Fraction = US_HEAVY) -> Fraction:
    """The degrees Baumé of a specific gravity, exact."""
    return modulus - modulus / gravity


def water_by_volume(before: Fraction, after: Fraction) -> Fraction:
    """Volumes of water to one volume, from one specific gravity down to another.

    Mass is kept, and so is volume, as if nothing were lost on mixing.
    """
    return (before - after) / (after - 1)


def mixed_gravity(before: Fraction, water: Fraction) -> Fraction:
    """The specific gravity of one volume with so many volumes of water."""
    return (before + water) / (1 + water)


@dataclass(frozen=True, slots=True)
class Scale:
    """A Baumé scale by its modulus, as it is typed: `145`."""

    name: str = "145"

    @property
    def modulus(self) -> Fraction:
        """Its modulus, exact."""
        return SCALES[self.name]

    @property
    def words(self) -> str:
        """As an answer names it."""
        return "US heavy scale, 145" if self.modulus == US_HEAVY else f"scale of {self.name}"

    def input(self, given: bool) -> Input:
        """As a figure an answer rests on."""
        return Input("scale", self.words, "", Origin.GIVEN if given else Origin.CHOSEN)


def strength_of(*, baume: Fraction | None = None, gravity: Fraction | None = None,
                scale: Scale | None = None) -> Answer:
    """Degrees to specific gravity, or the other way.

    Raises:
        ReckonError: Neither or both are given, or no mordant is so strong.
    """
    on = scale or Scale()
    found, degrees = _strength("baume", baume, gravity, on)
    first = f"{number_text(to_step(degrees, Fraction(1, 10)))} °Bé"
    second = f"specific gravity {_three(found)}"
    told = f"{first} is {second}" if baume is not None else f"S{second[1:]} is {first}"
    given = (Input("degrees", baume, "°Bé", Origin.GIVEN) if baume is not None
             else Input("specific gravity", gravity, "", Origin.GIVEN))
    return Answer(
        sentence=f"{told} ({on.words})",
        figures={"specific_gravity": to_step(found, Fraction(1, 1000)),
                 "baume": to_step(degrees, Fraction(1, 10))},
        inputs=(given, on.input(scale is not None)), notes=_NOTES, formula=FORMULA, source=SOURCE)


def thinned_by_volume(of: str, before: Fraction, after: Fraction, volume: Volume,
                      scale: Scale | None = None) -> Answer:
    """Water for a volume of so many degrees, to bring it down to fewer.

    Args:
        of: What the solution is of.
        before: Its degrees Baumé.
        after: Those wanted.
        volume: How much of it there is.
        scale: The scale of both; None: the US heavy scale.

    Raises:
        ReckonError: It gets no figure, or water does not bring it there.
    """
    name, on = _thinned(of), scale or Scale()
    first, _ = _strength("baume", before, None, on)
    last, _ = _strength("to-baume", after, None, on)
    if not 0 < after < before:
        raise ReckonError("to-baume", f"water does not bring {number_text(before)} °Bé to "
                          f"{number_text(after)}", "give fewer degrees, and more than 0")
    water = Volume(volume.ml * water_by_volume(first, last), volume.unit)
    return Answer(
        sentence=f"Put {volume.rounded} of {name} into {water.rounded} of water, for "
                 f"{number_text(after)} °Bé ({on.words})",
        figures={"water_ml": water.ml, "from_gravity": first, "to_gravity": last},
        inputs=(Input("solution", volume, "", Origin.GIVEN),
                Input("degrees", before, "°Bé", Origin.GIVEN),
                Input("wanted", after, "°Bé", Origin.GIVEN), on.input(scale is not None)),
        notes=(f"Degrees do not average: with as much water again it would be {_halved(first, on)} "
               "°Bé", *_THINNING, *_NOTES),
        formula="water ÷ solution = (gravity before − gravity wanted) ÷ (gravity wanted − 1)",
        source=f"mass is kept on mixing; {SOURCE}")


def thinned_by_mass(of: str, before: Percentage, after: Percentage, mass: Mass) -> Answer:
    """Solution and water to weigh out for a mass of a weaker solution, in percent by mass.

    Args:
        of: What the solution is of.
        before: Its strength, by mass.
        after: The strength wanted.
        mass: How much of the weaker solution is wanted.

    Raises:
        ReckonError: It gets no figure, or water does not bring it there.
    """
    name = _thinned(of)
    first, last = Fraction(before.fraction), Fraction(after.fraction)
    if not 0 < last < first:
        raise ReckonError("to-percent", f"water does not bring {before} to {after}",
                          "give a lower percentage, above 0 %")
    part = Mass(Fraction(mass.g) * last / first, mass.unit)
    water = Mass(Fraction(mass.g) - part.g, mass.unit)
    return Answer(
        sentence=f"Put {_weighed(part)} of {name} into {_weighed(water)} of water, for {mass} of "
                 f"{after}",
        figures={"solution_g": part.g, "water_g": water.g},
        inputs=(Input("wanted", mass, "", Origin.GIVEN),
                Input("strength", before, "", Origin.GIVEN),
                Input("strength wanted", after, "", Origin.GIVEN)),
        notes=_THINNING[1:],
        formula="solution = mass wanted × strength wanted ÷ strength",
        source="mass is kept on mixing")


def _strength(figure: str, baume: Fraction | None, gravity: Fraction | None,
              on: Scale) -> tuple[Fraction, Fraction]:
    """Specific gravity and degrees."""
    if (baume is None) == (gravity is None):
        raise ReckonError("strength", "degrees or a specific gravity is asked for",
                          "give --baume or --gravity")
    if baume is not None:
        if not 0 <= baume <= _MOST_BAUME:
            raise ReckonError(figure, f"no mordant has {number_text(baume)} °Bé",
                              f"give 0 to {_MOST_BAUME}")
        return baume_gravity(baume, on.modulus), baume
    assert gravity is not None  # noqa: S101 - one of the two is there
    if not _LIGHTEST <= gravity <= _HEAVIEST:
        raise ReckonError("gravity", f"no mordant has a specific gravity of {number_text(gravity)}",
                          "give 1 to 2, such as 1.381")
    return gravity, gravity_baume(gravity, on.modulus)


def _thinned(of: str) -> str:
    """The solution's name.

    Raises:
        ReckonError: It is none that gets a figure.
    """
    plain = " ".join(of.casefold().split())
    name = _THINNED_TOO.get(plain, plain)
    if name in THINNED:
        return name
    wrong = (f"{of} gets no figure here: concentrated acid is bought diluted" if "acid" in plain
             or "nitric" in plain or "hydrochloric" in plain or "sulph" in plain
             else f"{of} gets no figure here")
    raise ReckonError("of", wrong, f"known are {', '.join(THINNED)}; ask the supplier of any other "
                      "for it ready to use, with its data sheet")


def _halved(gravity: Fraction, on: Scale) -> str:
    """The degrees of a solution with as much water again."""
    return rounded_text(gravity_baume(mixed_gravity(gravity, Fraction(1)), on.modulus), 1)


def _three(gravity: Fraction) -> str:
    return f"{float(to_step(gravity, Fraction(1, 1000))):.3f}"


def _weighed(mass: Mass) -> str:
    """To a gram, as it is weighed."""
    return f"{rounded_text(Fraction(mass.g))} g"
