"""The printer's preferences: one commented file in the home, read as strictly as a recipe.

There need be no such file: then everything stands as it is here.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import time
from fractions import Fraction
from pathlib import Path
from typing import Final, Literal, TypeVar

from benchapp.files import preferences_file, read_bytes, write_over
from benchapp.quantities import (
    Duration,
    Length,
    QuantityError,
    quote_text,
    read_daytime,
    read_daytimes,
    read_duration,
    read_length,
)
from benchapp.recipe.document import scan_document
from benchapp.recipe.edits import Value, put_value
from benchapp.recipe.fields import Fields, Ledger
from benchapp.recipe.nodes import Items
from benchapp.recipe.problems import RecipeError

_FAR: Final = tuple(f"f{n}" for n in range(13, 25))
#: Keys that pedals, presenters and keyboards send for "go on". No arrow up or down: many
#: terminals make those of the scroll wheel.
TREADS: Final = ("space", "enter", "pagedown", "right", "f5", *_FAR)
#: The list as files were written with it at first; who left it so gets the list of today.
_FIRST_TREADS: Final = ("space", "enter", "pagedown", "right", "down", "f5", *_FAR)
FAR_VIEWS: Final = ("by key", "by itself")
BENCHES: Final[tuple[Literal["short", "full"], ...]] = ("short", "full")
SOUNDS: Final[tuple[Literal["ask", "on", "soft", "off"], ...]] = ("ask", "on", "soft", "off")
VOICES: Final[tuple[Literal["on", "off"], ...]] = ("on", "off")
MICE: Final[tuple[Literal["on", "off"], ...]] = ("on", "off")
_KEY: Final = re.compile(r"[a-z0-9_]+(\+[a-z0-9_]+){0,4}")
_KEY_AT_MOST: Final = 40
_GATE_AT_MOST_MS: Final = 10_000
_SLIP_AT_MOST_MS: Final = 60_000
_PACE_MS: Final = 1_000, 60_000
_ROW_AT_MOST_MM: Final = 100
_GRACE_AT_MOST_MS: Final = 24 * 3_600_000
_DAY_AT_LEAST_MS: Final = 3_600_000
#: No hours of the day are silent: a span that is empty.
_NEVER: Final = time(0), time(0)


@dataclass(frozen=True, slots=True)
class Preferences:
    """What the printer prefers.

    Attributes:
        gate: Silence the switch must keep before its next press counts; 0 ms takes all.
        treads: The keys that are the switch, by their names on the screen.
        row_height: How high one row of the terminal is, for how far numerals carry.
        theme: Light signs on dark, or dark on light.
        studio: The name on papers, or None.
        papers_folder: Where pages and calendars go; None: `files.papers_folder` says.
        back_keys / again_keys: Other pedals of a set: *take back* and *look again*.
        slip: How long after a tread far too early the next one takes it back; 0 s: never.
            It is off, too, where the gate is 0 ms: see `slip_ms`.
        far_view: When the far view stands: by its key alone, or by itself while inky.
        walk: How long each answer stands where lift and look walks by itself; None: it does not.
        sound: Of calls, loud, soft or none; `ask`: not said yet, so loud.
        voice: Whether what is to be done is spoken too, where there is a voice.
        player: The program that is tried first for sounds; None: the best that is there.
        boards_first: When boards are changed on the day of their last sheet.
        boards_later: When they are on the days after.
        boards_silent: From when until when they call nobody; equal: there is no such span.
        boards_grace: How long after its hour a change is not yet late.
        printing_day: How long a day of printing is, set-up and cleaning up too.
        mouse: Whether the terminal reports clicks and the wheel; off: it keeps them to itself.
        bench: What the Bench shows: what to do and what comes next, or everything.
    """

    gate: Duration = Duration(750, "ms")
    treads: tuple[str, ...] = TREADS
    row_height: Length = Length(Fraction(5))
    theme: Literal["dark", "light"] = "dark"
    studio: str | None = None
    back_keys: tuple[str, ...] = ()
    again_keys: tuple[str, ...] = ()
    slip: Duration = Duration(4_000, "s")
    far_view: Literal["by key", "by itself"] = "by key"
    walk: Duration | None = None
    sound: Literal["ask", "on", "soft", "off"] = "ask"
    voice: Literal["on", "off"] = "on"
    player: str | None = None
    boards_first: time = time(18)
    boards_later: time = time(9)
    boards_silent: tuple[time, time] = (time(21), time(8))
    boards_grace: Duration = Duration(3_600_000, "h")
    printing_day: Duration = Duration(36_000_000, "h")
    mouse: Literal["on", "off"] = "on"
    papers_folder: str | None = None
    bench: Literal["short", "full"] = "short"

    @property
    def slip_ms(self) -> int:
        """How long a slip can be taken back by the next tread, milliseconds.

        Where every press counts, a machine or a hurry drives the bench: then a second
        press is meant as one, and nothing is taken back.
        """
        return self.slip.ms if self.gate.ms > 0 else 0


STARTER: Final = """\
# Preferences of this studio. Without a line, benchapp uses its own value.

# studio: the name on your papers

# Where pages and calendars go. Without this line: the folder benchapp in your documents.
# If BENCHAPP_HOME is set, they stay in that folder.
# papers folder: ~/Desktop/prints

# How long the pedal must be quiet before the next press counts. A key held down looks
# like many presses: give more if one press goes two steps. 0 ms takes every press.
gate: 750 ms

# The keys that work as the pedal.
treads: [space, enter, pagedown, right, f5,
  f13, f14, f15, f16, f17, f18, f19, f20, f21, f22, f23, f24]

# Other pedals of a set: delete the # and name their keys.
# take back keys: [pageup]
# look again keys: [escape]

# A press that ends a step before its low time is undone by the next press within this
# time. 0 s: never. It is off too if the gate is 0 ms.
slip: 4 s

# The height of one row of your terminal, measured on the screen.
row height: 5 mm

# The far view, with large figures: by key (F2), or by itself while your hands are inky.
far view: by key

# short: what to do now, its count and what comes next. full: also the plan, changes since
# earlier sheets, and every sheet with its sign. F9 on the Bench turns between them.
bench: short

# Judge with the pedal alone: verdicts and tags come one after another, each for this
# time, such as 3 s. A press picks one. off: no such list.
walk: off

# The sound of calls: on, soft or off. ask: the Studio asks once. Calls are always shown.
sound: ask

# Spoken words, if the machine has a voice: on or off.
voice: on

# player: the program to try first for sounds; benchapp calls tries each and keeps one

# When you change the boards: on the day of their last sheet, and on later days. Every
# change is due at one of these hours, on the screen and in the calendar.
boards first day: 18:00
boards later: 09:00

# Between these hours boards are silent. none: they may call at any time.
boards silent: 21:00-08:00

# How long after its hour a change counts as late.
boards grace: 1 h

# How long you print in a day, setting up and cleaning up too. A plan for more prints
# becomes several days. At most 24 h.
printing day: 10 h

# The wheel scrolls and a click chooses a line, never on the Bench. on: hold Shift while you
# drag to select text, in most terminals. off: the terminal keeps the mouse to itself.
mouse: on

# dark or light
theme: dark
"""


def read_preferences(text: str | bytes) -> Preferences:
    """The preferences a file holds; what it leaves out stands as it is by default.

    Raises:
        RecipeError: With all problems, each with its line and column.
    """
    document = scan_document(text)
    ledger = Ledger(document.problems)
    if document.root is None or not document.whole:
        if ledger.problems:
            raise RecipeError(ledger.problems)
        return Preferences()
    fields = Fields(document.root, "this file", ledger, "gate: 750 ms")
    found = _taken(fields)
    fields.finish()
    if ledger.problems:
        raise RecipeError(ledger.problems)
    return found


def _taken(fields: Fields) -> Preferences:
    usual = Preferences()
    gate = fields.read("gate", _at_most(read_duration, Duration(_GATE_AT_MOST_MS, "s")), "750 ms")
    row = fields.read("row height", _row_height, "5 mm")
    slip = fields.read("slip", _at_most(read_duration, Duration(_SLIP_AT_MOST_MS, "s")), "4 s")
    treads = _keys(fields, "treads", ()) or usual.treads
    if treads == _FIRST_TREADS:
        treads = usual.treads
    back = _keys(fields, "take back keys", treads)
    theme = fields.choice("theme", ("dark", "light"))
    return Preferences(
        gate=gate or usual.gate,
        treads=treads,
        back_keys=back,
        again_keys=_keys(fields, "look again keys", (*treads, *back)),
        slip=slip or usual.slip,
        row_height=row or usual.row_height,
        far_view="by itself" if fields.choice("far view", FAR_VIEWS) == "by itself" else "by key",
        bench=_one_of(fields, "bench", BENCHES, usual.bench),
        walk=fields.read("walk", _pace, "3 s"),
        sound=_one_of(fields, "sound", SOUNDS, usual.sound),
        voice=_one_of(fields, "voice", VOICES, usual.voice),
        player=fields.text("player"),
        boards_first=fields.read("boards first day", read_daytime, "18:00") or usual.boards_first,
        boards_later=fields.read("boards later", read_daytime, "09:00") or usual.boards_later,
        boards_silent=fields.read("boards silent", _silence, "21:00-08:00") or usual.boards_silent,
        boards_grace=fields.read("boards grace", _at_most(
            read_duration, Duration(_GRACE_AT_MOST_MS, "h")), "1 h") or usual.boards_grace,
        printing_day=fields.read("printing day", _printing_day, "10 h") or usual.printing_day,
        mouse=_one_of(fields, "mouse", MICE, usual.mouse),
        theme="light" if theme == "light" else "dark",
        studio=fields.text("studio"),
        papers_folder=fields.read("papers folder", _folder, "~/Desktop/prints"),
    )


W = TypeVar("W", bound=str)


def _one_of(fields: Fields, name: str, words: tuple[W, ...], usual: W) -> W:
    """One of a few words, or the usual one where none was given."""
    found = fields.choice(name, words)
    return next((word for word in words if word == found), usual)


def _at_most(reader: Callable[[str], Duration], most: Duration) -> Callable[[str], Duration]:
    def read(text: str) -> Duration:
        found = reader(text)
        if found > most:
            raise QuantityError(f"{quote_text(text)} is too long", f"write at most {most}")
        return found

    return read


def _folder(text: str) -> str:
    if not os.path.isabs(os.path.expanduser(text)):  # noqa: PTH111, PTH117 - a text stays a text
        raise QuantityError(f"{quote_text(text)} does not say where the folder is",
                            "write the whole path, such as ~/Desktop/prints")
    return text


def _printing_day(text: str) -> Duration:
    found = read_duration(text)
    if not _DAY_AT_LEAST_MS <= found.ms <= _GRACE_AT_MOST_MS:
        raise QuantityError(f"{quote_text(text)} is not the length of a day",
                            "write 1 h to 24 h, such as 10 h")
    return found


def _silence(text: str) -> tuple[time, time]:
    return _NEVER if text == "none" else read_daytimes(text)


def _row_height(text: str) -> Length:
    found = read_length(text)
    if not 0 < found.mm <= _ROW_AT_MOST_MM:
        raise QuantityError(f"{quote_text(text)} is not the height of a row",
                            "measure one, such as 5 mm")
    return found


def _pace(text: str) -> Duration | None:
    if text == "off":
        return None
    found = read_duration(text)
    if not _PACE_MS[0] <= found.ms <= _PACE_MS[1]:
        raise QuantityError(f"{quote_text(text)} is not a pace to walk at",
                            "write 1 s to 60 s, or off")
    return found


def _keys(fields: Fields, name: str, taken: tuple[str, ...]) -> tuple[str, ...]:
    """Names of keys; none may do two things."""
    node = fields.take(name)
    empty = isinstance(node, Items) and not node.nodes and name != "treads"
    keys = () if node is None or empty else fields.texts_in(node, name, "space")
    for key in keys:
        if wrong := wrong_key(key):
            fields.ledger.add(fields.node_of(name), f"{name}: {wrong}",
                              "write small letters and digits, such as space, f13 or shift+f1")
        elif key in taken:
            fields.ledger.add(fields.node_of(name),
                              f"{name}: {quote_text(key)} does something else "
                              "already", "give each key one thing to do")
    return keys


def wrong_key(key: str) -> str | None:
    """What is wrong with the name of a key, or None."""
    if len(key) > _KEY_AT_MOST or not _KEY.fullmatch(key):
        return f"{quote_text(key)} is not the name of a key"
    return None


def load_preferences(path: Path | None = None) -> Preferences:
    """The preferences in the home (or at `path`); the defaults where there is no file.

    Raises:
        RecipeError: The file has problems.
        FileProblem: It is there and cannot be read.
    """
    path = path or preferences_file()
    if not os.path.exists(path):  # noqa: PTH110 - says no, where Path.exists() raises
        return Preferences()
    return read_preferences(read_bytes(path))


def save_preferences(changes: Mapping[str, Value], path: Path | None = None) -> Preferences:
    """Change preferences in their file, each value alone; gives all as they stand then.

    Without a file the commented one is written first. What would not be read again is
    not written.

    Args:
        changes: New values by the name in the file; a list for keys.
        path: The file; the home's if None.

    Raises:
        RecipeError: The file has problems, or a new value is one.
        FileProblem: It cannot be read or written.
    """
    path = path or preferences_file()
    there = os.path.exists(path)  # noqa: PTH110 - says no, where Path.exists() raises
    text = read_bytes(path) if there else STARTER.encode()
    try:
        changed = text.decode("utf-8")
    except UnicodeDecodeError:
        read_preferences(text)  # says where, and raises
        raise
    for name, value in changes.items():
        changed = put_value(changed, name, value)
    found = read_preferences(changed)
    write_over(path, changed)
    return found
