"""What a print's sessions teach about the press: settings that printed well, and corrections.

A session was good when it kept at least half of the sheets that were to count. Where plate,
paper or blankets became thicker from one kept sheet to a later one, and the screws with them,
that is a correction, and the gives are learnt from it. Thickness of paper and blankets comes
from the settings `paper thickness` and `blankets thickness`; the same words about them, said
twice, are no change; anything else is not known, and teaches nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from benchapp.quantities import Length, QuantityError, Turns, read_length, read_turns
from benchapp.recipe.model import Press, Recipe
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.press import Gives, LiftCorrection, MoreIs, ThicknessChange, added_thickness
from benchapp.reckon.press import learn_gives as learn_gives
from benchapp.session.compiled_recipe import paper_of
from benchapp.session.counting import is_complete
from benchapp.session.state import NOT_COUNTED, NOT_KNOWN, Impression, Session

#: Something with a thickness that is known, something known by its words, or not known.
Layer = Length | str | None
_THICKNESS: Final = " thickness"


@dataclass(frozen=True, slots=True)
class Good:
    """How the press stood when a good session pulled its last kept sheet.

    Attributes:
        session: Its name.
        sides: Turns by the printer's own names, in the order of the recipe.
        from_recipe: The sides nobody said that day; they stand as its recipe had them.
        layers: Plate, paper and blankets then.
        kept / of: Sheets kept, of those that were to count.
    """

    session: str
    sides: tuple[tuple[str, Turns], ...]
    from_recipe: tuple[str, ...]
    layers: tuple[Layer, Layer, Layer]
    kept: int
    of: int


def more_is(press: Press) -> MoreIs | None:
    """Whether a higher reading is tighter or looser; None: the recipe does not say."""
    word = (press.more_is or "").strip().casefold()
    return "tighter" if word == "tighter" else "looser" if word == "looser" else None


def setting_name(recipe: Recipe, press: Press, side: str) -> str:
    """What a screw's setting is called: with its plate where the print has several."""
    return f"{press.plate} {side}" if press.plate and len(recipe.plates) > 1 else side


def last_good(sessions: Sequence[Session], doubts: list[str]) -> dict[str | None, Good]:
    """The last good session's settings, for each press of its recipe by plate.

    Where a screw was written in a way nobody can read, nothing is known of that press: an older
    figure is not the last one. The doubt says so.
    """
    found: dict[str | None, Good] = {}
    for s in sessions:
        kept, of = _kept(s)
        if not kept or len(kept) * 2 < of:
            continue
        for press in s.recipe.presses:
            unread = _unread(s, press, kept[-1])
            doubts += unread
            stand = None if unread else _stand(s, press, kept[-1])
            if unread:
                found.pop(press.plate, None)
            if stand is not None:
                sides, silent = stand
                layers = layers_at(s, press, kept[-1].number or 0)
                found[press.plate] = Good(s.name, sides, silent, layers, len(kept), of)
    return found


def learnt_gives(sessions: Sequence[Session], doubts: list[str]) -> Gives:
    """The gives that the printer's own corrections fit; the guesses where there is none."""
    return learn_gives(list(lift_corrections(sessions, doubts)))


def lift_corrections(sessions: Sequence[Session], doubts: list[str]) -> Iterator[LiftCorrection]:
    """Every change of a layer between kept sheets, with the lift it ended with."""
    for plate in dict.fromkeys(p.plate for s in sessions for p in s.recipe.presses):
        for old, new in pairwise(_stood(sessions, plate)):
            found = _correction(old, new, doubts)
            if found is not None:
                yield found


@dataclass(frozen=True, slots=True)
class _Stood:
    """The press at the last kept sheet of an unbroken row with the same layers."""

    session: str
    press: Press
    sides: tuple[tuple[str, Turns], ...]
    layers: tuple[Layer, Layer, Layer]


def _stood(sessions: Sequence[Session], plate: str | None) -> Iterator[_Stood]:
    """The rows of kept sheets between changes of a layer, each by its last sheet."""
    row: _Stood | None = None
    for s in sessions:
        for press in (p for p in s.recipe.presses if p.plate == plate):
            for sheet in _kept(s)[0]:
                stand = _stand(s, press, sheet)
                if stand is None or stand[1]:  # a screw nobody read is no correction
                    continue
                layers = layers_at(s, press, sheet.number or 0)
                if row is not None and row.layers != layers:
                    yield row
                row = _Stood(s.name, press, stand[0], layers)
    if row is not None:
        yield row


def _correction(old: _Stood, new: _Stood, doubts: list[str]) -> LiftCorrection | None:
    way, pitch = more_is(new.press), new.press.pitch
    if way is None or pitch is None or [n for n, _ in old.sides] != [n for n, _ in new.sides]:
        return None
    change = _change(old.layers, new.layers, new.session, doubts)
    if change is None or not any(change.layers):
        return None
    turned = [Fraction(b.turns) - a.turns
              for (_, a), (_, b) in zip(old.sides, new.sides, strict=True)]
    up = sum(turned, start=Fraction(0)) / len(turned) * (-1 if way == "tighter" else 1)
    return LiftCorrection(change, up * pitch.mm)


def change_from(old: tuple[Layer, Layer, Layer], recipe: Recipe, press: Press) -> ThicknessChange:
    """What is thicker by the recipe than it was: the plate; the rest is not said yet.

    Raises:
        ReckonError: More than plates differ by.
    """
    return ThicknessChange(plate=_thicker(old[0], _plate(recipe, press)) or Fraction(0))


def _change(old: Sequence[Layer], new: Sequence[Layer], session: str,
            doubts: list[str]) -> ThicknessChange | None:
    """How much thicker each layer became; None where one changed and nobody said by how much."""
    by = [_thicker(a, b) for a, b in zip(old, new, strict=True)]
    plate, paper, blankets = by
    if plate is None or paper is None or blankets is None:
        return None
    try:
        return ThicknessChange(plate, paper, blankets)
    except ReckonError as error:
        doubts.append(f"{session}: {error}")
        return None


def _thicker(old: Layer, new: Layer) -> Fraction | None:
    if isinstance(old, Length) and isinstance(new, Length):
        return added_thickness(old, new)
    return Fraction(0) if old == new else None


# -- how it stood at one sheet ----------------------------------------------------------------


def layers_at(s: Session, press: Press, number: int) -> tuple[Layer, Layer, Layer]:
    """Plate, paper and blankets under the sheet of that number."""
    said = in_force_at(s, number)
    recipe = s.recipe
    paper = None if recipe.paper is None else paper_of(recipe, recipe.paper)
    return (_plate(recipe, press), _layer(said, "paper") or paper, _layer(said, "blankets"))


def _plate(recipe: Recipe, press: Press) -> Layer:
    plate = recipe.plate(press.plate) if press.plate else (
        recipe.plates[0] if len(recipe.plates) == 1 else None)
    return None if plate is None else plate.thickness


def _layer(said: Mapping[str, str], name: str) -> Layer:
    """Its thickness where that was said in a length, else the words about it."""
    text = said.get(name + _THICKNESS)
    if text is not None:
        try:
            return read_length(text)
        except QuantityError:
            return text
    return said.get(name)


def in_force_at(s: Session, number: int) -> dict[str, str]:
    """The settings in force at the sheet of that number, and readings of the day before it."""
    return {x.name.casefold(): x.value for x in s.settings if x.since <= number}


def _stand(s: Session, press: Press, sheet: Impression
           ) -> tuple[tuple[tuple[str, Turns], ...], tuple[str, ...]] | None:
    """The screws at that sheet, and which of them only the recipe says; None: nobody said any."""
    said = in_force_at(s, sheet.number or 0)
    sides, silent = [], []
    for side, by_recipe in press.sides:
        turns = _turns(said.get(setting_name(s.recipe, press, side).casefold()))
        if turns is None:
            silent.append(side)
        sides.append((side, turns or by_recipe))
    return (tuple(sides), tuple(silent)) if len(silent) < len(sides) else None


def _unread(s: Session, press: Press, sheet: Impression) -> list[str]:
    """What was written of these screws and cannot be read, a sentence each."""
    said = in_force_at(s, sheet.number or 0)
    out = []
    for side, _ in press.sides:
        name = setting_name(s.recipe, press, side)
        text = said.get(name.casefold())
        if text == NOT_KNOWN:
            out.append(f"{s.name}: {name}: not known")
            continue
        try:
            read_turns(text if text is not None else "1 turn")
        except QuantityError as error:
            out.append(f"{s.name}: {name}: {error}")
    return out


def _turns(text: str | None) -> Turns | None:
    if text is None:
        return None
    try:
        return read_turns(text)
    except QuantityError:
        return None


def _kept(s: Session) -> tuple[list[Impression], int]:
    """Sheets kept, in pulling order, and how many were to count."""
    meant: Iterable[Impression] = [
        i for i in s.impressions if i.purpose not in NOT_COUNTED and is_complete(s, i)]
    kept = sorted((i for i in meant if i.verdict == "keep"), key=lambda i: i.number or 0)
    return kept, len(list(meant))
