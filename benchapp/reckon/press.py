"""Turns of the screws for another plate, paper or blanket, and what corrections teach.

A change of thickness asks for that much lift: turns = Σ give × change ÷ pitch. The give says
how much of a change the roller has to make room for: a metal plate all of it, paper and
blankets less, since they are squeezed. The gives are guesses (plate 1, paper 0.6, blankets
0.35) until the printer's corrections replace them, by least squares with the guesses as
prior (ridge regression towards them; A. E. Hoerl & R. W. Kennard, *Technometrics* 12 (1970) 55,
from memory): minimise Σ (lift − Σ give·change)² + Σ λ·(give − guess)², solved in fractions.

Pressure in the nip is not computed. Contact formulas for bare metal rollers are a hundred times
off under blankets, and a figure that wrong is worse than none: screws, thicknesses and the
verdict on the print are the record.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from benchapp.quantities import Length, Turns
from benchapp.reckon.answer import Answer, Input, Origin
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.figures import rounded_text

MoreIs = Literal["tighter", "looser"]
LAYERS: Final = ("plate", "paper", "blankets")

#: λ = (scatter of a correction / doubt of the guess)². A printer corrects to about 0.1 mm; a
#: plate's give is doubted by 0.1, that of paper and blankets by 0.25.
RIDGE: Final = (Fraction(1), Fraction(4, 25), Fraction(4, 25))
_THICKEST: Final = (Fraction(8), Fraction(5), Fraction(25))
_PITCH: Final = (Fraction(1, 2), Fraction(12))
_MOST_TURNS: Final = 40


@dataclass(frozen=True, slots=True)
class ThicknessChange:
    """What became thicker, in millimetres; below nothing: thinner.

    Raises:
        ReckonError: More than such a thing can differ: a unit was mistaken.
    """

    plate: Fraction = Fraction(0)
    paper: Fraction = Fraction(0)
    blankets: Fraction = Fraction(0)

    def __post_init__(self) -> None:
        for name, value, most in zip(LAYERS, self.layers, _THICKEST, strict=True):
            if abs(value) > most:
                raise ReckonError(
                    name,
                    f"{rounded_text(abs(value), 2)} mm is not a change of {name}",
                    f"give up to {most} mm, and look whether inches were meant",
                )

    @property
    def layers(self) -> tuple[Fraction, Fraction, Fraction]:
        """All three, in the order of `LAYERS`."""
        return Fraction(self.plate), Fraction(self.paper), Fraction(self.blankets)


def added_thickness(old: Length, new: Length) -> Fraction:
    """Millimetres by which `new` is thicker than `old`."""
    return Fraction(new.mm - old.mm)


@dataclass(frozen=True, slots=True)
class Gives:
    """How much of a change in each layer the roller makes room for.

    Attributes:
        plate: 1 for a metal plate.
        paper: Of the damp sheet.
        blankets: Of all blankets together.
        learnt_from: For each layer, the corrections in which it changed.
    """

    plate: Fraction = Fraction(1)
    paper: Fraction = Fraction(6, 10)
    blankets: Fraction = Fraction(35, 100)
    learnt_from: tuple[int, int, int] = (0, 0, 0)

    @property
    def layers(self) -> tuple[Fraction, Fraction, Fraction]:
        """All three, in the order of `LAYERS`."""
        return self.plate, self.paper, self.blankets

    def lift(self, change: ThicknessChange) -> Fraction:
        """Millimetres the roller rises for a change, exact."""
        return sum(
            (g * d for g, d in zip(self.layers, change.layers, strict=True)), start=Fraction(0)
        )


GUESS: Final = Gives()


@dataclass(frozen=True, slots=True)
class LiftCorrection:
    """A change, and the lift with which it printed right in the end.

    Attributes:
        change: What had become thicker.
        lift: Millimetres the roller was let up from before the change; the turns × pitch.
    """

    change: ThicknessChange
    lift: Fraction


@dataclass(frozen=True, slots=True)
class Sides:
    """The screws as they stood when it last printed well, by the printer's own names.

    Attributes:
        readings: Name and turns, in the printer's order.
        origin: Where they were read.
        detail: Which session or recipe.
    """

    readings: tuple[tuple[str, Turns], ...]
    origin: Origin = Origin.GIVEN
    detail: str = ""


def learn_gives(corrections: Sequence[LiftCorrection]) -> Gives:
    """The gives that fit the corrections best, held by the guesses where those say little."""
    size = range(len(LAYERS))
    rows = [c.change.layers for c in corrections]
    square = [
        [sum((r[i] * r[j] for r in rows), start=RIDGE[i] if i == j else Fraction(0)) for j in size]
        for i in size
    ]
    right = [
        sum(
            (r[i] * c.lift for r, c in zip(rows, corrections, strict=True)),
            start=RIDGE[i] * GUESS.layers[i],
        )
        for i in size
    ]
    plate, paper, blankets = _solve(square, right)
    seen = [sum(1 for r in rows if r[i]) for i in size]
    return Gives(plate, paper, blankets, (seen[0], seen[1], seen[2]))


def press_turns(
    change: ThicknessChange,
    pitch: Length,
    *,
    sides: Sides | None = None,
    more_is: MoreIs | None = None,
    gives: Gives = GUESS,
) -> Answer:
    """Turns of both screws for a change, and where they stand then.

    Args:
        change: What became thicker.
        pitch: How far one whole turn lifts the roller.
        sides: The last good settings; None: only the turns are given.
        more_is: Whether a higher reading is tighter or looser; None: not known, no readings.
        gives: What the printer's corrections taught, or the guesses.

    Raises:
        ReckonError: The pitch is none, or the change asks for more turns than a screw has.
    """
    if not _PITCH[0] <= pitch.mm <= _PITCH[1]:
        raise ReckonError("pitch", f"{pitch} is not the pitch of a press screw", "give 0.5 to "
                                                                                 "12 mm")
    lift = gives.lift(change)
    turns = lift / pitch.mm
    if abs(turns) > _MOST_TURNS:
        raise ReckonError(
            "change", f"it asks for {rounded_text(abs(turns))} turns",
            "look again at thickness and pitch"
        )
    now = _readings(sides, turns, more_is)
    return Answer(
        sentence=_sentence(turns, now, sides),
        figures={
            "lift_mm": lift,
            "turns": turns,
            "degrees": turns * 360,
            "sides": now,
            "gives": dict(zip(LAYERS, gives.layers, strict=True)),
        },
        inputs=_inputs(change, pitch, sides, gives),
        notes=_notes(sides, more_is, now, gives),
        formula="turns = Σ give × change of thickness ÷ pitch",
        source="definition of pitch; the gives by least squares on your corrections",
    )


def _readings(
    sides: Sides | None, turns: Fraction, more_is: MoreIs | None
) -> dict[str, Fraction] | None:
    """Where each side stands after the change; None where that cannot be said."""
    if sides is None or (more_is is None and turns):
        return None
    way = -1 if more_is == "tighter" else 1
    return {name: Fraction(was.turns) + way * turns for name, was in sides.readings}


def _sentence(turns: Fraction, now: dict[str, Fraction] | None, sides: Sides | None) -> str:
    if not turns:
        same = [f"{name} {was}" for name, was in sides.readings] if sides else []
        when = "the recipe has them" if sides and sides.origin is Origin.RECIPE else "last time"
        return f"Screws as {when}{': ' if same else ''}{', '.join(same)}"
    way = "up" if turns > 0 else "down"
    told = (f"Let the roller {way} {rounded_text(abs(turns) * 360)}°, "
            f"{rounded_text(abs(turns), 2)} turn, both sides")
    if now is None or sides is None:
        return told
    stand = (
        f"{name} {rounded_text(was.turns, 3)} to {rounded_text(now[name], 2)} turns" for name,
        was in sides.readings
    )
    return f"{told}: {', '.join(stand)}"


def _notes(
    sides: Sides | None, more_is: MoreIs | None, now: dict[str, Fraction] | None, gives: Gives
) -> tuple[str, ...]:
    found = [
        f"{name} would be {rounded_text(-turns, 2)} turn below its zero: read the screws again"
        for name, turns in (now or {}).items()
        if turns < 0
    ]
    if sides is not None and now is None and more_is is None:
        found.append("Nobody has recorded whether more is tighter or looser, so it gives no "
                     "readings")
    found += [
        f"The give of {name} came out as {rounded_text(give, 2)}: check what you noted"
        for name, give in zip(LAYERS, gives.layers, strict=True)
        if not 0 <= give <= Fraction(3, 2)
    ]
    if not any(gives.learnt_from):
        found.append("The gives are guesses: go by proofs, and note what you end with")
    return (*found, "Pressure is not reckoned: under blankets the formulas are a hundred times off")


def _inputs(change: ThicknessChange, pitch: Length, sides: Sides | None,
            gives: Gives) -> tuple[Input, ...]:
    changed = [
        Input(f"{name} thicker by", value, "mm", Origin.GIVEN)
        for name, value in zip(LAYERS, change.layers, strict=True)
        if value
    ]
    given = [
        _give(name, give, seen)
        for name, give, seen, value in zip(
            LAYERS, gives.layers, gives.learnt_from, change.layers, strict=True
        )
        if value
    ]
    stood = (
        [Input(name, was, "", sides.origin, sides.detail) for name, was in sides.readings]
        if sides
        else []
    )
    return (*changed, Input("pitch", pitch, "", Origin.GIVEN), *given, *stood)


def _give(name: str, give: Fraction, seen: int) -> Input:
    value = rounded_text(give, 2)
    if not seen:
        return Input(f"give of {name}", value, "", Origin.PRACTICE, "a guess to be learnt")
    count = f"{seen} correction{'s' if seen != 1 else ''}"
    return Input(f"give of {name}", value, "", Origin.LEARNT, count)


def _solve(square: list[list[Fraction]], right: list[Fraction]) -> list[Fraction]:
    """Gauss-Jordan elimination, exact; the ridge keeps every pivot above nothing."""
    rows = [[*row, value] for row, value in zip(square, right, strict=True)]
    for i, pivot in enumerate(rows):
        rows[i] = [value / pivot[i] for value in pivot]
        for j, row in enumerate(rows):
            if j != i:
                rows[j] = [a - row[i] * b for a, b in zip(row, rows[i], strict=True)]
    return [row[-1] for row in rows]
