"""The end of a day as `new` writes it, in an order of few washes.

Common practice: the hot plate is off before any solvent is opened, plate and slab follow while the
hands are inky, and everything after the one wash is clean. Every new recipe takes its `after`
from here.
"""

from __future__ import annotations

from typing import Final

from benchapp.recipe.hazards import BY_KEY


def care_line(key: str) -> tuple[str]:
    """The caution of a step that needs one, as the table of hazards has it."""
    return (f"    care: {BY_KEY[key].full}",)


#: The lines of an `after` section, each step with its caution.
END_OF_DAY: Final = (
    "after:                        # the end of the day; must asks for one of its words",
    "  - do: Hot plate off",
    "    hands: clean",
    "    must: [turned off, left on, never on today]",
    "    lines: [cold before any spirit is opened]",
    *care_line("hot plate"),
    "  - do: Plate clean of all ink and oiled",
    "    hands: inky",
    "    lines: [vegetable oil first, spirit only away from flame and pilot light, air and gloves]",
    *care_line("solvent"),
    "  - do: Slab scraped and tins closed",
    "    hands: inky",
    *care_line("ink"),
    "  # Etched today? - do: Mordant put away",
    "  #                 hands: clean",
    "  #                 lines: [its own bottle vented, never with spirit or rags,",
    "  #                         first rinse kept with the spent bath, local rules]",
    f"  #                 care: {BY_KEY['etchant'].full}",
    "  - do: Pressure off and blankets hung",
    "    hands: clean",
    *care_line("nip"),
    "  - do: Left-over damp sheets",
    "    hands: clean",
    "    must: [wrapped, dried, none]",
    "  - do: Rags, scrim, paper and gloves",
    "    hands: clean",
    "    lines: [rags, scrim (tarlatan), wiping paper and gloves, all of it]",
    "    must: [in a lidded metal can outdoors, spread singly clear of walls, out of the building]",
    *care_line("oily rags"),
    "",
)
