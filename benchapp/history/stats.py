"""What a print's own sessions teach the day's arithmetic: counts and weighings, nothing guessed.

Pure: folded sessions in, numbers out. What nobody judged or weighed teaches nothing, and what
cannot be is left out and said (`doubts`). Weighings are readings by a name: `ink used 84 g`
(`NAME used` where a print has several inks), `control sheet 127 g` (damp enough to print) and
`dry sheet 80 g` (as it comes from the wrapper). A later one of a session stands for an earlier.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from benchapp.quantities import Mass, Percentage, QuantityError, read_mass
from benchapp.recipe.model import Ink, Plate, Recipe
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.ink_need import WHOLE, Used
from benchapp.reckon.press import GUESS, Gives
from benchapp.reckon.sheets import Record
from benchapp.session.counting import is_complete
from benchapp.session.press_settings import Good, last_good, learnt_gives
from benchapp.session.state import NOT_COUNTED, SPOILED_TRY, Session
from benchapp.session.weighing import CONTROL, DRY, INK_USED


def weighing_names(recipe: Recipe) -> tuple[str, ...]:
    """The weighings that teach something about this print, by name; all in grams."""
    damped = recipe.paper is not None and recipe.paper.damp is not None
    return (*(each.reading for each in inked_plates(recipe)), *((CONTROL, DRY) if damped else ()))


@dataclass(frozen=True, slots=True)
class Inked:
    """One ink on one plate, and what its weighing is called.

    Attributes:
        covers: The part of the plate it goes on: the whole where no other ink does and the recipe
            does not say; None where nobody has said.
    """

    ink: Ink
    plate: Plate
    reading: str
    covers: Percentage | None


@dataclass(frozen=True, slots=True)
class Weighed:
    """A sheet on the scale, and the session it was in."""

    session: str
    mass: Mass


@dataclass(frozen=True, slots=True)
class Learnt:
    """What the sessions of one print say.

    Attributes:
        record: Sheets spoiled, of sheets judged that would have counted.
        ink: What each session used, by the name of the reading.
        good: The settings the last good session ended with, by plate; `None` for all plates.
        gives: What corrections of the screws taught, the guesses where there are none.
        control: Control sheets weighed when damp enough, the oldest first.
        dry: Sheets weighed as they come from the wrapper.
        doubts: What was written down and cannot be, a sentence each.
    """

    record: Record = Record(0, 0)  # noqa: RUF009 - frozen
    ink: Mapping[str, tuple[Used, ...]] = field(default_factory=dict)
    good: Mapping[str | None, Good] = field(default_factory=dict)
    gives: Gives = GUESS
    control: tuple[Weighed, ...] = ()
    dry: tuple[Weighed, ...] = ()
    doubts: tuple[str, ...] = ()


NOTHING: Final = Learnt()


def learn_stats(sessions: Sequence[Session]) -> Learnt:
    """What these sessions of one print teach.

    Args:
        sessions: Folded, in the order opened; open ones may be among them.
    """
    if not sessions:
        return NOTHING
    doubts: list[str] = []
    return Learnt(
        record=_record(sessions),
        ink=_ink(sessions, doubts),
        good=last_good(sessions, doubts),
        gives=learnt_gives(sessions, doubts),
        control=_weighed(sessions, CONTROL, doubts),
        dry=_weighed(sessions, DRY, doubts),
        doubts=tuple(dict.fromkeys(doubts)),
    )


def inked_plates(recipe: Recipe) -> tuple[Inked, ...]:
    """Every ink with every plate it goes on, in the order of the recipe."""
    pairs = [(ink, plate) for ink in recipe.inks for plate in recipe.plates
             if ink.plate in (None, plate.name)]
    if len(pairs) == 1:
        return (Inked(*pairs[0], INK_USED, pairs[0][0].covers or WHOLE),)
    named = [ink.name for ink, _ in pairs]
    on = Counter(plate.name for _, plate in pairs)
    return tuple(Inked(ink, plate, _used(ink, plate, named.count(ink.name) == 1),
                       ink.covers or (WHOLE if on[plate.name] == 1 else None))
                 for ink, plate in pairs)


def _used(ink: Ink, plate: Plate, alone: bool) -> str:
    if ink.name and alone:
        return f"{ink.name} used"
    return f"{f'{plate.name} {ink.name}' if ink.name else f'{plate.name} ink'} used"


# -- sheets ---------------------------------------------------------------------------------


def _record(sessions: Iterable[Session]) -> Record:
    """Sheets that would have counted and were judged, and those of them that were spoiled."""
    spoiled = judged = days = 0
    for s in sessions:
        bad, good = _judged(s)
        spoiled, judged, days = spoiled + bad, judged + bad + good, days + bool(bad + good)
    return Record(spoiled, judged, days)


def _judged(s: Session) -> tuple[int, int]:
    """Spoiled and good sheets. A try that cost a sheet before its pull is a spoiled one."""
    bad = good = 0
    for i in s.impressions:
        if i.ended == SPOILED_TRY:
            bad += bool(i.sheets)
        elif i.purpose not in NOT_COUNTED and i.pulled:
            bad += i.verdict == "spoiled"
            good += i.verdict in ("keep", "doubtful") and is_complete(s, i)
    return bad, good


# -- weighings --------------------------------------------------------------------------------


def session_readings(s: Session, name: str) -> list[tuple[int, str]]:
    """Every value read or set by that name, with the number of the sheet it came after or with.

    A value given before the first pull is kept by the session, one given later by its sheet.
    """
    wanted = name.casefold()
    found = [(x.since - 1, x.value) for x in s.settings if x.name.casefold() == wanted]
    found += [(i.number or 0, f"{r.value} {r.unit or ''}".strip())
              for i in s.impressions for r in i.readings if r.name.casefold() == wanted]
    return sorted(found, key=lambda x: x[0])


def _mass(s: Session, name: str, doubts: list[str]) -> Mass | None:
    """The last weighing of that name in a session."""
    found = session_readings(s, name)
    if not found:
        return None
    try:
        return read_mass(found[-1][1])
    except QuantityError as error:
        doubts.append(f"{s.name}: {name}: {error}")
        return None


def _weighed(sessions: Iterable[Session], name: str, doubts: list[str]) -> tuple[Weighed, ...]:
    masses = ((s, _mass(s, name, doubts)) for s in sessions)
    return tuple(Weighed(s.name, mass) for s, mass in masses if mass is not None and mass.g)


def _ink(sessions: Iterable[Session], doubts: list[str]) -> dict[str, tuple[Used, ...]]:
    found: dict[str, tuple[Used, ...]] = {}
    for s in sessions:
        for each in inked_plates(s.recipe):
            grams = _mass(s, each.reading, doubts)
            if grams is None:
                continue
            try:
                used = Used(grams, _inkings(s, each.plate), each.plate.size, s.name)
            except ReckonError as error:
                doubts.append(f"{s.name}: {each.reading}: {error.wrong}; {error.mend}")
            else:
                found[each.reading] = (*found.get(each.reading, ()), used)
    return found


def _inkings(s: Session, plate: Plate) -> int:
    """How often that plate was inked and pulled; a ghost takes no ink."""
    return sum(1 for i in s.impressions if i.purpose != "ghost"
               for p in i.pulls if plate.name in p.plates)
