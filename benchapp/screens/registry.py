"""Every screen by name: where its class is, imported when it is first opened.

The app opens screens by these names alone, and the tests open every one of
them. A class is made with the keyword arguments given to `make`; what it needs
besides it takes from its app (`benchapp.screens.app.Benchapp`). A screen with a
method `follow()` has it called four times a second while it can be seen.
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from textual.screen import Screen


@dataclass(frozen=True, slots=True)
class Place:
    """Where a screen's class is.

    Attributes:
        module: Full name of its module.
        cls: Name of the class in it.
    """

    module: str
    cls: str

    def make(self, **about: Any) -> Screen[Any]:
        """A new screen of that class, made with these keyword arguments."""
        made: Screen[Any] = getattr(import_module(self.module), self.cls)(**about)
        return made


_HERE: Final = "benchapp.screens"

SCREENS: Final = {
    "studio": Place(f"{_HERE}.studio", "StudioScreen"),
    "bench": Place(f"{_HERE}.bench", "BenchScreen"),
    "set-up": Place(f"{_HERE}.setup_card", "SetupCard"),
    "impressions": Place(f"{_HERE}.impressions", "ImpressionsScreen"),
    "round": Place(f"{_HERE}.round", "RoundScreen"),
    "review": Place(f"{_HERE}.review", "ReviewScreen"),
    "beside": Place(f"{_HERE}.beside", "BesideScreen"),
    "beside days": Place(f"{_HERE}.beside_days", "BesideDaysScreen"),
    "plate life": Place(f"{_HERE}.plate_life", "PlateLifeScreen"),
    "search": Place(f"{_HERE}.search", "SearchScreen"),
    "sort": Place(f"{_HERE}.sort", "SortScreen"),
    "boards": Place(f"{_HERE}.boards", "BoardsScreen"),
    "edition": Place(f"{_HERE}.edition", "EditionScreen"),
    "where": Place(f"{_HERE}.whereabouts", "WhereScreen"),
    "plan": Place(f"{_HERE}.plan", "PlanScreen"),
    "prepare": Place(f"{_HERE}.prepare", "PrepareScreen"),
    "preferences": Place(f"{_HERE}.preferences_page", "PreferencesScreen"),
    "switch": Place(f"{_HERE}.switch_page", "SwitchScreen"),
    "help": Place(f"{_HERE}.help", "HelpScreen"),
}
"""Name to place. The classes of one file stand in it under the names used here."""

ALONE: Final = frozenset({"switch"})
"""Those that a command opens by themselves: the app ends with them."""

MAIN: Final = frozenset({"studio", "bench"})
"""Those that take the whole app over; the others lie on top and go away again."""
