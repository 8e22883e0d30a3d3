"""What the simulated printer sees on a sheet: verdict, tags, a note and the readings.

The sentences are invented; the tags are the trade's usual words and the recipe's own.
"""

from __future__ import annotations

import random
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from benchapp.recipe.model import ReadingSpec, Recipe
from benchapp.session.state import Impression, Verdict

GOOD_NOTES: Final = (
    "Even all over, this is how they should be.",
    "Clean margins for once.",
    "Wiped a shade lighter than the last, better for it.",
    "Plate warmer this time and the ink let go at once.",
    "Nearest to the one on the wall so far.",
    "Held against the window: line full to the corners.",
    "Same hand, same count of strokes as the one before, and it shows.",
    "Blotted the sheet twice; the blacks sit deeper.",
)
#: What may pass once it is dry: the tag, and what is written to it.
DOUBTFUL: Final[Mapping[str, str]] = {
    "under-wiped": "Wiped in a hurry, the lights are closing up.",
    "plate-tone uneven": "Tone lies unevenly along the upper edge; wait for daylight.",
    "salty": "White specks lower left. Sheet had lain out too long.",
    "lint": "One thread in the light part, may pick out with a needle when dry.",
    "ink weak": "A little grey beside the others, look again when it is dry.",
    "too dry": "Paper felt drier than the others.",
    "one side light": "Paler towards the far side; screws read again, both as written.",
    "skew": "Slightly askew on the sheet, may pass once it is trimmed.",
}
SPOILED: Final[Mapping[str, str]] = {
    "finger mark": "Thumb on the margin. My own fault.",
    "blanket mark": "Blanket had a fold in it, mark right across.",
    "slur": "Sheet crept under the roller, every line dragged.",
    "bevel ink": "Bevel not cleaned, black rim on two sides.",
    "tear": "Corner torn while lifting.",
    "over-wiped": "Took the tone out with the line. Too dry a hand.",
}
FIRST_NOTES: Final = (
    "Cold plate, as always with the first.",
    "Scrim still too clean, took too much out.",
    "Blankets settling; the next will tell.",
)
WORN: Final[Mapping[str, str]] = {
    "wear": "Had to leave more ink on to get the old depth.",
    "aquatint worn": "Light parts meet where there used to be a step between them.",
}
BURR: Final[Mapping[str, str]] = {
    "wear": "Line is turning thin and dry where it was velvet.",
    "burr gone": "Nothing soft left on the left side of it.",
}
GHOST_NOTE: Final = "Pale, but all of it is there. Keep for hand colouring."
GOOD_TAGS: Final = ("plate-tone thin", "ink dense", "ink warm")

_GRADE: Final = re.compile(r"grade (\d+)-(\d+)")
#: From here on wear is seen on the sheet.
_WORN_FROM: Final = 0.5


@dataclass(frozen=True, slots=True)
class Seen:
    """What is said of one sheet; a verdict of None: it is not judged now."""

    verdict: Verdict | None
    tags: tuple[str, ...] = ()
    note: str | None = None


class Eye:
    """Looks at sheets. Everything by chance comes from the `rng` given."""

    def __init__(self, rng: random.Random) -> None:
        self._rng = rng

    def look(self, recipe: Recipe, sheet: Impression, wear: float, *, judged: int = 10) -> Seen:
        """One sheet at the lift.

        Args:
            recipe: Its recipe, for the recipe's own tags.
            sheet: The sheet; what it is for decides how strictly it is taken.
            wear: 0 a new plate, 1 a worn one.
            judged: How many of ten get a verdict.
        """
        rng = self._rng
        if sheet.purpose == "ghost":
            return Seen("keep", ("ink weak",), GHOST_NOTE)
        if sheet.ended is not None:
            return Seen("keep")
        verdict = self._verdict(sheet, wear)
        tags, note = self._why(sheet, verdict)
        if wear > _WORN_FROM and rng.random() < wear * 0.6:
            burr = any("drypoint" in p.techniques for p in recipe.plates)
            tag, worn = rng.choice(tuple((BURR if burr else WORN).items()))
            tags, note = (*tags, tag), note or worn
        tags += self._own(recipe, verdict, wear)
        said = rng.random() < judged / 10
        return Seen(verdict if said else None, tuple(dict.fromkeys(tags)),
                    note if rng.random() < 0.7 else None)

    def by_tags(self, sheet: Impression) -> Verdict:
        """The verdict of the morning after, as its tags have it."""
        if any(tag in SPOILED for tag in sheet.tags):
            return "spoiled"
        return "doubtful" if any(tag in DOUBTFUL for tag in sheet.tags) else "keep"

    def _verdict(self, sheet: Impression, wear: float) -> Verdict:
        good = 0.25 if sheet.purpose == "warm-up" else 0.82 - 0.3 * wear
        drawn = self._rng.random()
        if drawn < good:
            return "keep"
        return "doubtful" if drawn < good + (1 - good) * 0.65 else "spoiled"

    def _why(self, sheet: Impression, verdict: Verdict) -> tuple[tuple[str, ...], str | None]:
        """A tag and the words that go with it, so that one never says other than the other."""
        rng = self._rng
        if verdict != "keep":
            tag, note = rng.choice(tuple((DOUBTFUL if verdict == "doubtful" else SPOILED).items()))
            return (tag,), note
        tags = (rng.choice(GOOD_TAGS),) if rng.random() < 0.3 else ()
        if sheet.purpose == "warm-up":
            return tags, rng.choice(FIRST_NOTES)
        return tags, rng.choice(GOOD_NOTES) if rng.random() < 0.6 else None

    def _own(self, recipe: Recipe, verdict: Verdict, wear: float) -> tuple[str, ...]:
        """One of the recipe's own words; of a group about the burr the one that fits the wear."""
        rng = self._rng
        if not recipe.tags or verdict == "keep" or rng.random() > 0.5:
            return ()
        group = rng.choice(tuple(recipe.tags))
        words = recipe.tags[group]
        if not words:
            return ()
        if group == "burr":
            return (words[min(len(words) - 1, int(wear * len(words)))],)
        return (rng.choice(words),)

    def read(self, reading: ReadingSpec, wear: float) -> str:
        """A figure as the printer writes it: a grade drifts down with wear, a length is small."""
        rng = self._rng
        grade = _GRADE.fullmatch(reading.unit or "")
        if grade is not None:
            low, high = int(grade[1]), int(grade[2])
            return str(min(high, max(low, round(rng.gauss(high - 0.4 - 2.6 * wear, 0.5)))))
        if reading.unit == "°C":
            return f"{rng.gauss(19, 2):.1f}"
        return f"{abs(rng.gauss(0, 0.35 + wear / 2)):.1f}"
