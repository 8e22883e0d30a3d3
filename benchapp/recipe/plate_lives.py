"""How many impressions a plate gives: what is published or common practice, and for what metal.

A first guess only; the printer's own `life` and the print's own days say more. A plate made in
several ways is as good as its most delicate one, so the first row that fits is used. Where a figure
is known for another metal that is said; for the rest no figure is known.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from benchapp.recipe.model import Plate, Recipe

NO_FIGURE: Final = "no figure known"
#: Of a first guess by the printer so many in a hundred are given before its end is spoken of
#: (this program's choice).
NEAR_PERCENT: Final = 80
#: Of every impression of an edition one more is pulled for trials, proofs and spoiled ones: one
#: agreement for 20 comes to 35-40 in all (a workshop agreement of the 1960s, Archives of American
#: Art).
PULLED_FOR_EACH: Final = 2


@dataclass(frozen=True, slots=True)
class UsualLife:
    """What plates of a kind give.

    Attributes:
        low / most: Impressions, from a delicate plate to a sturdy one.
        of: What they are known for: `drypoint on copper`.
        source: Who says so: published with the place, or common practice.
        look_for: What shows on a print when the plate is near its end (common practice).
        here: Whether they are known for the metal of the plate asked about.
    """

    low: int
    most: int
    of: str
    source: str
    look_for: str
    here: bool = True

    @property
    def figures(self) -> str:
        """`20-30`, in thousands with their comma."""
        return f"{self.low:,}-{self.most:,}"

    def words(self, metal: str) -> str:
        """`drypoint on copper gives 20-30 (published: Lalanne ss.99)`."""
        other = "" if self.here else f"; no figure known for {metal}"
        return f"{self.of} gives {self.figures} ({self.source}{other})"


#: What to look for where the way a plate was made is not said.
LOOK_FOR: Final = "fine lines that break and tone that pales"
_BURR: Final = "lines that lose their velvet and print thin and grey"
_TONE: Final = "tone that pales and a grain that closes up"
_SOFT: Final = "texture that pales and soft edges that vanish"
_STEEL: Final = ("copper that shows red through the steel: stop, and ask the plater to strip and "
                 "face it again")
_DRYPOINT: Final = re.compile(r"\s*dry[ -]?point\s*", re.IGNORECASE)
_FACED: Final = r"steel[- ]?fac"
_LALANNE: Final = "published: Lalanne ss.99"

#: (technique, metal, metal the figure is known for, low, most, of, source, what to look for).
_LIVES: Final[tuple[tuple[str, str, str, int, int, str, str, str], ...]] = (
    (r"steel", r"", r"", 1000, 4000, "a steel-faced plate", _LALANNE, _STEEL),
    (r"", r"steel[- ]faced", r"", 1000, 4000, "a steel-faced plate", _LALANNE, _STEEL),
    (r"dry ?point", r"alumin|plast|acryl|card|perspex|pvc", r"", 5, 15,
     "drypoint on aluminium or plastic", "common practice", _BURR),
    (r"dry ?point", r"", r"copper", 20, 30, "drypoint on copper", _LALANNE, _BURR),
    (r"aquatint", r"", r"copper", 50, 200, "aquatint on copper", "common practice", _TONE),
    (r"soft[- ]ground", r"", r"copper", 200, 300, "soft ground before steel facing", _LALANNE,
     _SOFT),
)


def is_drypoint(techniques: Sequence[str]) -> bool:
    """Whether a plate is a drypoint and nothing else."""
    return bool(techniques) and all(_DRYPOINT.fullmatch(x) for x in techniques)


def usual_life(plate: Plate) -> UsualLife | None:
    """What a plate made in that way gives, or None: no figure is known."""
    techniques, metal = " ".join(plate.techniques).lower(), plate.metal.lower()
    for technique, on, known, low, most, of, source, look_for in _LIVES:
        if re.search(technique, techniques) and re.search(on, metal):
            return UsualLife(low, most, of, source, look_for, bool(re.search(known, metal)))
    return None


def life_words(plate: Plate) -> str:
    """What is known of such plates, in a few words; `no figure known` for most."""
    usual = usual_life(plate)
    if usual is not None:
        return usual.words(plate.metal)
    made = ", ".join(plate.techniques) or "a plate"
    return f"{made} on {plate.metal}: {NO_FIGURE}"


def ask_about_facing(plate: Plate) -> str:
    """Steel facing as a question for a workshop that does it, with its caution; empty: it is faced.

    Common practice: copper is faced before the burr goes, zinc needs copper first, and a faced
    plate rusts.
    """
    said = " ".join((*plate.techniques, plate.metal)).lower()
    if re.search(_FACED, said) or re.search(r"alumin|plast|acryl|card|perspex|pvc|^steel", said):
        return ""
    first = "; zinc needs copper first" if "zinc" in plate.metal.lower() else ""
    return ("Ask a workshop that steel-faces plates whether it can face this one, before its burr "
            f"or grain goes{first}. A plating bath poisons and burns, and a faced plate rusts: "
            "leave it to them (common practice)")


def passes_of(recipe: Recipe, plate: str) -> int:
    """How often one impression goes over a plate."""
    return sum(step.pulls.count(plate) for step in recipe.each)


def least_impressions(recipe: Recipe, edition: int) -> int:
    """What an edition takes at least: N, the proofs beside it and one day's warm-ups."""
    beside = sum(cap.cap for cap in recipe.print.proofs.values() if not cap.inside)
    return edition + beside + recipe.warm_ups_a_day
