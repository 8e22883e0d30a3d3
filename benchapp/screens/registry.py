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
class ScreenPlace:
    """Where a screen's class is.

    Attributes:
        module: Full name of its module.
        cls: Name of the class in it.
        topic: The help topic that is about it.
    """

    module: str
    cls: str
    topic: str

    def make(self, **about: Any) -> Screen[Any]:
        """A new screen of that class, made with these keyword arguments."""
        made: Screen[Any] = getattr(import_module(self.module), self.cls)(**about)
        return made


_HERE: Final = "benchapp.screens"

SCREENS: Final = {
    "studio": ScreenPlace(f"{_HERE}.studio", "StudioScreen", "studio"),
    "bench": ScreenPlace(f"{_HERE}.bench", "BenchScreen", "bench"),
    "set-up": ScreenPlace(f"{_HERE}.setup_card", "SetupCard", "bench"),
    "impressions": ScreenPlace(f"{_HERE}.impressions", "ImpressionsScreen", "review"),
    "round": ScreenPlace(f"{_HERE}.round", "RoundScreen", "review"),
    "review": ScreenPlace(f"{_HERE}.review", "ReviewScreen", "review"),
    "beside": ScreenPlace(f"{_HERE}.beside", "BesideScreen", "review"),
    "beside days": ScreenPlace(f"{_HERE}.beside_days", "BesideDaysScreen", "review"),
    "plate life": ScreenPlace(f"{_HERE}.plate_life", "PlateLifeScreen", "review"),
    "search": ScreenPlace(f"{_HERE}.search", "SearchScreen", "studio"),
    "sort": ScreenPlace(f"{_HERE}.sort", "SortScreen", "editions"),
    "boards": ScreenPlace(f"{_HERE}.boards", "BoardsScreen", "drying"),
    "edition": ScreenPlace(f"{_HERE}.edition", "EditionScreen", "editions"),
    "where": ScreenPlace(f"{_HERE}.whereabouts", "WhereScreen", "editions"),
    "plan": ScreenPlace(f"{_HERE}.plan", "PlanScreen", "plan"),
    "prepare": ScreenPlace(f"{_HERE}.prepare", "PrepareScreen", "reckon"),
    "stock": ScreenPlace(f"{_HERE}.stock", "StockScreen", "stock"),
    "new recipe": ScreenPlace(f"{_HERE}.recipe_form", "RecipeFormScreen", "recipes"),
    "preferences": ScreenPlace(f"{_HERE}.preferences_page", "PreferencesScreen", "files"),
    "photos": ScreenPlace(f"{_HERE}.photos", "PhotosScreen", "photos"),
    "switch": ScreenPlace(f"{_HERE}.switch_page", "SwitchScreen", "pedal"),
    "help": ScreenPlace(f"{_HERE}.help", "HelpScreen", "topics"),
}
"""Name to place. The classes of one file stand in it under the names used here."""

ALONE: Final = frozenset({"switch"})
"""Those that a command opens by themselves: the app ends with them."""

MAIN: Final = frozenset({"studio", "bench"})
"""Those that take the whole app over; the others lie on top and go away again."""


def topic_of(screen: object) -> str:
    """The help topic of a screen; for one that has no name here, the list of them."""
    own = [cls.__name__ for cls in type(screen).__mro__]
    return next((place.topic for place in SCREENS.values() if place.cls in own), "topics")
