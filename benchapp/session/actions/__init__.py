"""Everything a printer can do, one file a family, and the one registry of it.

A family declares its actions: the values, what each does, and one row a word (`SPECS`), with its
key and its rules. Bench keys, footer, help, README and `--plain` read `REGISTRY`, the decider
reads `RULES`.
"""

from __future__ import annotations

from typing import Final

from benchapp.session.actions import (
    blankets,
    clocks,
    counterproof,
    end_of_day,
    hands,
    judge,
    notes,
    paper,
    press,
    sessions,
    settings,
    steps,
)
from benchapp.session.actions.blankets import *
from benchapp.session.actions.clocks import *
from benchapp.session.actions.counterproof import *
from benchapp.session.actions.end_of_day import *
from benchapp.session.actions.hands import *
from benchapp.session.actions.judge import *
from benchapp.session.actions.notes import *
from benchapp.session.actions.paper import *
from benchapp.session.actions.press import *
from benchapp.session.actions.sessions import *
from benchapp.session.actions.settings import *
from benchapp.session.actions.spec import Action as Action
from benchapp.session.actions.spec import ActionSpec as ActionSpec
from benchapp.session.actions.spec import Rule as Rule
from benchapp.session.actions.steps import *

#: The families, in the order help lists them.
_FAMILIES: Final = (
    steps, hands, judge, notes, press, counterproof, blankets, settings, clocks, paper, end_of_day,
    sessions,
)  # fmt: skip
SPECS: Final[tuple[ActionSpec, ...]] = tuple(spec for family in _FAMILIES for spec in family.SPECS)
"""Each word an entry may keep of the action that caused it."""

REGISTRY: Final[tuple[ActionSpec, ...]] = tuple(spec for spec in SPECS if spec.listed)
"""Each word a printer can say, with its key."""

RULES: Final[dict[type[Action], Rule]] = {
    rule.action: rule for spec in SPECS for rule in spec.rules}
"""What the decider knows of each class of action."""

WHILE_INKY: Final = tuple({made: None for spec in SPECS if spec.inky for made in spec.means})
"""What inky hands may do: nothing to answer, nothing that could hurt."""


def spec_of(word: str) -> ActionSpec:
    """The row of the registry with that word.

    Raises:
        LookupError: It is no word of the registry.
    """
    found = next((spec for spec in REGISTRY if spec.word == word), None)
    if found is None:
        raise LookupError(word)
    return found


def action_word(action: Action) -> str:
    """The word an entry keeps of the action that caused it."""
    return next(spec.word for spec in SPECS if spec.names(action))
