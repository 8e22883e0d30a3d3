"""What will happen on one simulated day: everything a printer cannot foresee, said beforehand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

#: Which try is meant: impressions in the order begun, from 1.
Ordinal = int
Ordinals = frozenset[Ordinal]


@dataclass(frozen=True, slots=True)
class SimulatedRework:
    """What is done to the plate after an impression: its new state, and in words."""

    after: Ordinal
    state: str
    what: str


@dataclass(frozen=True, slots=True)
class HelpIn:
    """A clean-handed helper, in from one impression's pull to another's."""

    name: str
    since: Ordinal
    until: Ordinal


@dataclass(frozen=True, slots=True)
class SimulatedDay:
    """One day of a simulated printer. The default is a day on which nothing goes wrong.

    A day that names an impression it never comes to passes that by.

    Attributes:
        wanted: Counting impressions wanted; None: `enough_at` ends the day.
        enough_at: At the lift of that impression the printer says *enough*, if not done before.
        pace: Over 1 a slow day, under 1 a quick one.
        wear: How worn the plate is at the first pull: 0 as new, 1 worn out.
        wear_a_pull: What each pull adds to it.
        judged: How many of ten sheets get a verdict at the lift.
        purpose: What the pulls are said to be for, at the press; None: what is proposed stands.
        state: The state the plates are said to be in before printing.
        reworks: What is done to the plate between impressions.
        settings: Said at the first clean step: name to value.
        changes: Settings changed at a pull: (impression, name, value).
        helper: Who helps, and for how long.
        lunch_at: At that lift the printer pauses for lunch.
        ghosts: After these a ghost is pulled.
        progressives: These stay as they are after their first pull (two plates and more).
        spoils: These are spoiled before the pull.
        redoes: At the pull of these the step before is done again.
        takes_back: At the pull of these a tread comes too early and is taken back.
        forgets: During the inky work on these the printer forgets to tread.
        away: At the lift of these the printer is called away and did not say so.
        looks_again: These are marked to be looked at again.
        one_more: At the lift of the last impression one more is asked for.
        extends: The first pack is given five minutes more in the water.
        clock: A clock started at the first lift: (minutes, name).
        facts: The answers to what must be said, by a word of the step's text; None: not said.
        left_off: The sentence for the next time, written at the first
            fact asked after printing, or when leaving.
        leaves_at: At that lift the session is left open: paused, and the printer goes home.
        says: Notes said at the lift of these: good sheets all.
        inks: Grams used an impression, by what the weighing is called; weighed after printing.
        control: Grams the control sheet weighed when it was damp enough; None: not weighed.
    """

    wanted: int | None = None
    enough_at: Ordinal | None = None
    pace: float = 1.0
    wear: float = 0.0
    wear_a_pull: float = 0.005
    judged: int = 10
    purpose: str | None = None
    state: str | None = None
    reworks: tuple[SimulatedRework, ...] = ()
    settings: Mapping[str, str] = field(default_factory=dict)
    changes: tuple[tuple[Ordinal, str, str], ...] = ()
    helper: HelpIn | None = None
    lunch_at: Ordinal | None = None
    ghosts: Ordinals = frozenset()
    progressives: Ordinals = frozenset()
    spoils: Ordinals = frozenset()
    redoes: Ordinals = frozenset()
    takes_back: Ordinals = frozenset()
    forgets: Ordinals = frozenset()
    away: Ordinals = frozenset()
    looks_again: Ordinals = frozenset()
    one_more: Ordinal | None = None
    extends: bool = False
    clock: tuple[int, str] | None = None
    facts: Mapping[str, str | None] = field(default_factory=dict)
    left_off: str | None = None
    leaves_at: Ordinal | None = None
    says: Mapping[Ordinal, str] = field(default_factory=dict)
    inks: Mapping[str, float] = field(default_factory=dict)
    control: float | None = None
