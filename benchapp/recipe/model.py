"""The recipe as values: what a printer wrote, read and checked, and nothing more.

Everything here is frozen and compares by meaning: two spellings of one recipe
are equal. What the printer left out is None or empty: unknown is not zero.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final, Literal

from benchapp.quantities import Duration, Grammage, Length, Mass, Percentage, Size, Span, Turns

Hands = Literal["inky", "clean", "free"]
Section = Literal["before", "each", "after"]
#: Where a value stands in the text: line and column, both from 1.
Mark = tuple[int, int]
#: The wash between inky and clean hands where the recipe says nothing (common practice).
WASH: Final = Duration(90_000)
#: Pulls a day begins with that do not count where the recipe says nothing (common practice).
USUAL_WARM_UPS: Final = 2


@dataclass(frozen=True, slots=True)
class ProofCap:
    """How many proofs of one kind there may be, and whether they count inside N."""

    cap: int
    inside: bool = False


@dataclass(frozen=True, slots=True)
class Print:
    """The image that is editioned. `key` names it where title and artist do not suffice."""

    title: str
    artist: str
    key: str | None = None
    edition: int | None = None
    proofs: Mapping[str, ProofCap] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Plate:
    """One metal plate; plates stand in printing order. `size` as it lies on the bed."""

    name: str
    metal: str
    size: Size
    thickness: Length | None = None
    techniques: tuple[str, ...] = ()
    life: int | None = None


@dataclass(frozen=True, slots=True)
class Damp:
    """How sheets are damped. `pack` is sheets a pack, `handling` the minutes in or out."""

    method: Literal["soak", "pack", "spray", "dip"]
    soak: Duration | None = None
    rest: Duration | None = None
    keeps: Duration | None = None
    pack: int | None = None
    handling: Duration | None = None

    @property
    def in_water(self) -> bool:
        """Whether the sheets lie in water: what is sprayed, dipped or packed damp does not.

        The time of a dip is each sheet's own, and over when the sheets are stacked.
        """
        return self.method == "soak" or (self.soak is not None and self.method != "dip")


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper. `key` is the name a step uses it by (`sheet` for the only one)."""

    key: str
    name: str | None = None
    weight: Grammage | None = None
    sheet: Size | None = None
    piece: Size | None = None
    grain: Literal["long", "short"] | None = None
    damp: Damp | None = None


@dataclass(frozen=True, slots=True)
class Ink:
    """One ink. `plate` None: the only plate, or all. `parts` by mass, as written.

    Attributes:
        covers: The part of the plate it goes on, where several inks share one.
    """

    plate: str | None = None
    name: str | None = None
    charge: Mass | None = None
    covers: Percentage | None = None
    parts: tuple[tuple[str, Fraction], ...] = ()


@dataclass(frozen=True, slots=True)
class Press:
    """Screw settings. `sides` by the printer's own names, in the order written."""

    plate: str | None = None
    pitch: Length | None = None
    sides: tuple[tuple[str, Turns], ...] = ()
    zero: str | None = None
    more_is: str | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One line of work.

    Attributes:
        id: `before.1`, `each.3`, `after.2`: section and place in it, from 1.
        do: What to do, in the printer's words.
        hands: inky, clean, or free (a wait).
        at: A place that only so many can use at once.
        time: Low/usual/high; None is unknown.
        ends_itself: A wait that ends at its time without an answer.
        say / short: Spoken words; at most 12 letters for the far view.
        lines: Reminders under it.
        uses: The papers (their keys) of which a sheet is taken here.
        pulls: The plates pulled here, together; empty: no pull.
        returns: The bed goes there and back.
        plate: The plate it works on, where it names one.
        care: One line of caution.
        care_short: The same once it has been read today, where the recipe says it.
        asks: What is asked here: verdict, tags, note.
        must: The facts one of which it must be given.
        within: Begins at most this long after the step before it has ended.
        calls: Calls this long before its usual time is up.
        lasts: What it makes, and how long that is good: a clock of that name starts at its end.
        optional: Offered, not due.
        every: Due on every n-th impression only (the 1st, the n+1st …).
        out_of_reach: Takes no tread of its own.
    """

    id: str
    section: Section
    do: str
    hands: Hands
    at: str | None = None
    time: Span | None = None
    ends_itself: bool = False
    say: str | None = None
    short: str | None = None
    lines: tuple[str, ...] = ()
    uses: tuple[str, ...] = ()
    pulls: tuple[str, ...] = ()
    returns: bool = False
    plate: str | None = None
    care: str | None = None
    care_short: str | None = None
    asks: tuple[str, ...] = ()
    must: tuple[str, ...] = ()
    within: Duration | None = None
    calls: Duration | None = None
    lasts: tuple[str, Duration] | None = None
    optional: bool = False
    every: int | None = None
    out_of_reach: bool = False


@dataclass(frozen=True, slots=True)
class ReadingSpec:
    """A named value to take: `unit` may be `grade 1-5`; `at` is the `do` of a step."""

    name: str
    unit: str | None = None
    at: str | None = None


@dataclass(frozen=True, slots=True)
class Drying:
    """One thing to do to a stack: once `after`, or `every` so long `for_`."""

    do: str
    after: Duration | None = None
    every: Duration | None = None
    for_: Duration | None = None


@dataclass(frozen=True, slots=True)
class Proofing:
    """What the pulls of a proofing recipe are for (TP, WP, SP) and the plate's state."""

    for_: str
    state: str | None = None


@dataclass(frozen=True, slots=True)
class Recipe:
    """One print's recipe, whole. `marks` says where each value stands in the text.

    `takes` is how long one print takes, guessed: for steps without a time of their own.
    `warm_ups` is how many first pulls of a day do not count; None: the program's rule says.
    `marks` is keyed by a path such as `("each", 3, "time")`; it does not take
    part in comparison.
    """

    print: Print
    plates: tuple[Plate, ...]
    each: tuple[Step, ...]
    before: tuple[Step, ...] = ()
    after: tuple[Step, ...] = ()
    papers: tuple[Paper, ...] = ()
    inks: tuple[Ink, ...] = ()
    presses: tuple[Press, ...] = ()
    register: tuple[tuple[str, str], ...] = ()
    wash: Duration = WASH
    places: Mapping[str, int] = field(default_factory=dict)
    drying: tuple[Drying, ...] = ()
    proofing: Proofing | None = None
    varied: bool = False
    tags: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    readings: tuple[ReadingSpec, ...] = ()
    phrases: tuple[str, ...] = ()
    takes: Duration | None = None
    warm_ups: int | None = None
    marks: Mapping[tuple[str | int, ...], Mark] = field(default_factory=dict, compare=False,
                                                        repr=False)

    @property
    def steps(self) -> tuple[Step, ...]:
        """All steps, in the order written."""
        return self.before + self.each + self.after

    def step(self, id: str) -> Step | None:
        """The step of that id, or None."""
        return next((s for s in self.steps if s.id == id), None)

    def plate(self, name: str) -> Plate | None:
        """The plate of that name, or None."""
        return next((p for p in self.plates if p.name == name), None)

    @property
    def warm_ups_a_day(self) -> int:
        """Pulls a day begins with that will not count; a proofing day has none."""
        if self.proofing is not None:
            return 0
        return USUAL_WARM_UPS if self.warm_ups is None else self.warm_ups

    @property
    def paper(self) -> Paper | None:
        """The paper a pull takes where nothing else is said, or None."""
        return self.papers[0] if self.papers else None
