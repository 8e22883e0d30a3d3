"""Each preference as a line: what it is, how it stands, what it may be. Pure."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from benchapp.quantities import daytime_text
from benchapp.recipe.edits import Value, put_value
from benchapp.recipe.problems import RecipeError
from benchapp.screens.angle import carry_words
from benchapp.screens.glyphs import HEIGHTS
from benchapp.screens.switch_rows import keys_text
from benchapp.settings import BENCHES, FAR_VIEWS, MICE, Preferences, read_preferences


@dataclass(frozen=True, slots=True)
class Preference:
    """One line.

    Attributes:
        name: As it is called in the file.
        about: What it is, for a printer.
        stands: How it stands, as it would be typed.
        words: The answers there are; empty where it is typed.
        example: What may be typed.
        keys: Whether it is a list of keys.
    """

    name: str
    about: str
    stands: Callable[[Preferences], str]
    words: tuple[str, ...] = ()
    example: str = ""
    keys: bool = False

    def value(self, typed: str) -> Value:
        """What is kept for what was typed or chosen."""
        if not self.keys:
            return typed
        return [key for part in typed.split(",") if (key := part.strip())]

    def wrong(self, typed: str) -> str | None:
        """What is wrong with it, in the words of the file's own reader; None: nothing."""
        try:
            read_preferences(put_value("", self.name, self.value(typed)))
        except RecipeError as error:
            return "; ".join(f"{p.wrong}; {p.mend}" for p in error.problems)
        except ValueError as error:
            return str(error)
        return None


def _pace(settings: Preferences) -> str:
    return "off" if settings.walk is None else str(settings.walk)


def _silence(settings: Preferences) -> str:
    begin, end = settings.boards_silent
    return "none" if begin == end else f"{daytime_text(begin)}-{daytime_text(end)}"


PREFERENCES: Final = (
    Preference("treads", "Keys of the pedal that goes on", lambda p: ", ".join(p.treads),
               example="such as space, f13", keys=True),
    Preference("take back keys", "A second pedal: undo", lambda p: ", ".join(p.back_keys),
               example="such as pageup; empty: none", keys=True),
    Preference("look again keys", "A third pedal: look again", lambda p: ", ".join(p.again_keys),
               example="such as escape; empty: none", keys=True),
    Preference("gate", "Silence before the next press counts", lambda p: str(p.gate),
               example="750 ms to 10 s; 0 ms takes every press"),
    Preference("slip", "A second press this soon undoes a press made much too early",
               lambda p: str(p.slip), example="such as 4 s; 0 s: never"),
    Preference("walk", "Answers at lift and look come one by one, each for this long", _pace,
               example="such as 3 s, or off"),
    Preference("far view", "The far view: by F2, or by itself while hands are inky",
               lambda p: p.far_view, FAR_VIEWS),
    Preference("bench", "What the Bench shows: short, or everything (F9 turns it)",
               lambda p: p.bench, BENCHES),
    Preference("sound", "The sound of calls; the screen always shows them", lambda p: p.sound,
               ("on", "soft", "off")),
    Preference("voice", "Spoken words, where the machine has a voice", lambda p: p.voice,
               ("on", "off")),
    Preference("player", "The player to try first; to hear each: benchapp calls",
               lambda p: p.player or "", example="such as aplay"),
    Preference("boards first day", "Change boards at this hour on the first day",
               lambda p: daytime_text(p.boards_first), example="such as 18:00"),
    Preference("boards later", "Change boards at this hour on later days",
               lambda p: daytime_text(p.boards_later), example="such as 09:00"),
    Preference("boards silent", "Boards do not call between these hours", _silence,
               example="such as 21:00-08:00, or none"),
    Preference("boards grace", "Time after its hour before a change counts as late",
               lambda p: str(p.boards_grace), example="such as 1 h, at most 24 h"),
    Preference("printing day", "How long you print in a day; more prints take several days",
               lambda p: str(p.printing_day), example="such as 10 h"),
    Preference("row height", "Height of a row of your terminal, measured on the glass",
               lambda p: str(p.row_height), example="such as 5 mm or 1/4 in"),
    Preference("mouse", "Wheel and clicks, never on the Bench; off: left to the terminal",
               lambda p: p.mouse, MICE),
    Preference("papers folder", "Where pages and calendars go; not said: your documents",
               lambda p: p.papers_folder or "", example="such as ~/Desktop/prints"),
    Preference("theme", "Light signs on dark, or dark on light", lambda p: p.theme,
               ("dark", "light")),
    Preference("studio", "The name printed on papers", lambda p: p.studio or "",
               example="such as Tollerbank Etching Room"),
)


def stands_text(one: Preference, settings: Preferences) -> str:
    """How it stands, as it is shown."""
    if one.keys:
        return keys_text(one.value(one.stands(settings)))
    said = one.stands(settings)
    if one.name == "slip" and not settings.slip_ms and settings.slip.ms:
        return f"{said}, off while the gate is 0 ms"
    return said or "not said"


def reading_distance(settings: Preferences) -> str:
    """How far the figures are read, by the height of a row."""
    row = settings.row_height
    return (f"With rows {row} high you can read figures from: "
            f"{carry_words(float(row.mm), HEIGHTS)} (16 arcminutes, NUREG-0700). "
            "The far view draws five rows and more.")
