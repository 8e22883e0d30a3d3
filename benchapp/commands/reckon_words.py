"""The arguments of `reckon`, with the formula and the source of each answer in its help."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import Any, Final

from benchapp.commands.reckon_read import (
    Figure,
    read_after,
    read_area,
    read_change,
    read_natural,
    read_part,
    read_patch,
    read_piece,
    read_reading,
    read_side,
    read_tone,
    read_used,
)
from benchapp.quantities import (
    read_duration,
    read_grammage,
    read_length,
    read_mass,
    read_minutes,
    read_percentage,
    read_size,
)
from benchapp.quantities.climate import read_humidity, read_temperature
from benchapp.quantities.numbers import read_number
from benchapp.quantities.volumes import read_volume
from benchapp.reckon.questions import QUESTIONS
from benchapp.reckon.strength import SCALES, THINNED
from benchapp.reckon.strip import Scale

_Parser = argparse.ArgumentParser


class _Asked:
    """One question's parser, given its options one by one."""

    def __init__(self, one: _Parser) -> None:
        self.one = one

    def recipe(self) -> None:
        """A recipe may stand for the figures."""
        self.one.add_argument("recipe", metavar="RECIPE", nargs="?",
                              help="take the figures from this recipe and its sessions")

    def figure(self, flag: str, read: Callable[[str], Any], metavar: str, help: str,
               *, many: bool = False) -> None:
        """One option that is a figure; `many`: it may be given several times."""
        more: dict[str, Any] = {"action": "append", "default": []} if many else {}
        self.one.add_argument(flag, type=Figure(flag, read), metavar=metavar, help=help, **more)

    def word(self, flag: str, words: tuple[str, ...], help: str) -> None:
        """One option that is one of a few words."""
        self.one.add_argument(flag, choices=words, help=help, metavar="|".join(words))

    def switch(self, flag: str, help: str) -> None:
        """One option without a value."""
        self.one.add_argument(flag, action="store_true", help=help)


def add_questions(reckon: _Parser) -> None:
    """Give `reckon` its questions."""
    made = reckon.add_subparsers(dest="what", metavar="question", required=True)
    for name, options in _QUESTIONS.items():
        text = QUESTIONS[name]
        one = made.add_parser(name, help=text.partition(".")[0].lower(), description=text,
                              formatter_class=argparse.RawDescriptionHelpFormatter)
        one.set_defaults(within=one)
        one.add_argument("--book", metavar="FILE", default=argparse.SUPPRESS,
                         help="use another book than the studio's")
        options(_Asked(one))
        form = one.add_mutually_exclusive_group()
        form.add_argument("--json", action="store_true", help="one JSON document")
        form.add_argument("--why", action="store_true",
                          help="show every figure it rests on, and where each comes from")


def _tear(ask: _Asked) -> None:
    ask.recipe()
    ask.figure("--sheet", read_size, "SIZE", "the full sheet, such as 560 x 760 mm")
    ask.figure("--piece", read_piece, "SIZE[:N]", "a piece, and how many are wanted, such as "
               "280 x 380 mm: 6; up to four sizes", many=True)
    ask.word("--grain", ("free", "fixed"), "free: pieces may be turned by a quarter (free)")
    ask.figure("--tolerance", read_length, "LENGTH", "more for a torn side (0 mm)")
    ask.figure("--edge", read_length, "LENGTH", "torn off each edge first (0 mm)")
    ask.figure("--deckles", read_natural, "N", "deckled edges each piece keeps (0)")
    ask.word("--deckled", ("all", "long", "short"), "which edges have a deckle (all)")
    ask.figure("--wanted", read_natural, "N", "with a recipe: pieces wanted")


def _sheets(ask: _Asked) -> None:
    ask.recipe()
    ask.figure("--good", read_natural, "N", "good impressions wanted")
    ask.figure("--spoilage", read_percentage, "PERCENT", "known rate, such as 10%%")
    ask.figure("--sure", read_percentage, "PERCENT", "how sure you want to be (90%%)")


def _damp(ask: _Asked) -> None:
    ask.recipe()
    ask.figure("--sheet", read_size, "SIZE", "sheet or piece, such as 560 x 760 mm")
    ask.figure("--weight", read_grammage, "G/M2", "from the wrapper, such as 300 g/m2")
    ask.figure("--weighed", read_mass, "MASS", "one sheet as it comes, on the scale")
    ask.figure("--delivered", read_percentage, "PERCENT", "its moisture then (6%%)")
    ask.figure("--sheets", read_natural, "N", "sheets in the stack (1)")
    ask.figure("--target", read_percentage, "PERCENT", "moisture wanted, wet basis (37.5%%)")
    ask.figure("--wet", read_mass, "MASS", "to see how damp it is: a sheet now …")
    ask.figure("--dry", read_mass, "MASS", "… and without any water")
    ask.figure("--plate", read_size, "SIZE", "to see how it shrinks: the plate, width x height")
    ask.word("--grain", ("width", "height"), "which side of the plate the grain runs along")
    ask.figure("--across", read_percentage, "PERCENT", "growth you measured across the grain")
    ask.figure("--along", read_percentage, "PERCENT", "and along it")
    ask.figure("--age", read_duration, "TIME", "to see if it keeps: how long it has been damp")
    ask.figure("--warmth", read_temperature, "TEMPERATURE", "of the room, such as 20 °C")
    ask.figure("--humidity", read_humidity, "PERCENT", "of its air, such as 60%%")
    ask.switch("--cold", "it is in a refrigerator")


def _soak(ask: _Asked) -> None:
    ask.recipe()
    ask.figure("--before", read_mass, "MASS", "the sheet as it comes")
    ask.figure("--after", read_after, "TIME:MASS", "in the water so long it weighed, such as "
               "5 min: 150 g; two of them, or one and --full", many=True)
    ask.figure("--full", read_mass, "MASS", "its weight when it takes up no more water")
    ask.figure("--target", read_mass, "MASS", "the weight wanted")
    ask.figure("--note", read_duration, "TIME", "your own note; with a recipe its soak")


def _ink(ask: _Asked) -> None:
    ask.recipe()
    ask.figure("--part", read_part, "NAME:PARTS", "an ingredient and its parts by mass", many=True)
    ask.figure("--total", read_mass, "MASS", "the batch")
    ask.figure("--step", read_mass, "MASS", "one step of the scale (0.1 g)")
    ask.figure("--plate", read_size, "SIZE", "a day: the plate")
    ask.figure("--impressions", read_natural, "N", "pulls of it, warm-ups and all")
    ask.figure("--charge", read_mass, "MASS", "your own grams on the plate before wiping")
    ask.figure("--used", read_used, "MASS:N", "ink one session used, and its impressions",
               many=True)


def _press(ask: _Asked) -> None:
    ask.recipe()
    ask.figure("--pitch", read_length, "LENGTH", "how far one whole turn lifts the roller")
    for name in ("plate", "paper", "blankets"):
        ask.figure(f"--{name}", read_change, "A to B", f"how thick the {name} "
                   f"{'were and are' if name == 'blankets' else 'was and is'}, "
                   "such as 1.2 mm to 1.5 mm")
    ask.figure("--side", read_side, "NAME:TURNS", "a screw and its turns, such as "
               "handle side: 3.25 turns", many=True)
    ask.word("--more-is", ("tighter", "looser"), "what a higher reading means")


def _weight(ask: _Asked) -> None:
    ask.figure("--board", read_size, "SIZE", "the board, or the stack if that is smaller")
    ask.figure("--mass", read_mass, "MASS", "the weight at hand, such as 40 kg")
    ask.figure("--day", read_natural, "N", "days under boards, the first day 1")
    ask.figure("--warmth", read_temperature, "TEMPERATURE", "of the room, such as 20 °C")
    ask.figure("--humidity", read_humidity, "PERCENT", "of its air, such as 60%%")


def _strip_options(ask: _Asked) -> None:
    ask.figure("--patch", read_patch, "TIME:READING", "a patch of the strip, bitten so long in "
               "all, such as 5 min: 60", many=True)
    ask.word("--reading", tuple(Scale), "what a reading is; reflectance in percent falls, the "
             "others rise (reflectance)")
    ask.figure("--strip-warmth", read_temperature, "TEMPERATURE", "of the bath at the strip")
    ask.figure("--warmth", read_temperature, "TEMPERATURE", "of the bath now; an estimate only")


def _strip(ask: _Asked) -> None:
    _strip_options(ask)
    ask.figure("--tone", read_reading, "READING", "the reading wanted", many=True)


def _bite(ask: _Asked) -> None:
    ask.figure("--area", read_area, "NAME:TIME", "an area and its time in all, such as "
               "sky: 3 min; 0 min is stopped out first", many=True)
    ask.figure("--stop-out", read_duration, "TIME", "from out of the bath until in again")
    ask.figure("--from", read_minutes, "HH:MM", "when the plate goes in first")
    _strip_options(ask)
    ask.figure("--tone", read_tone, "NAME:READING", "with --patch: an area and the reading it is "
               "to have", many=True)


def _strength(ask: _Asked) -> None:
    ask.figure("--baume", read_number, "DEGREES", "degrees Baumé, such as 42")
    ask.figure("--gravity", read_number, "FIGURE", "specific gravity, such as 1.41")
    ask.word("--scale", tuple(SCALES), "the modulus of the Baumé scale (145, US heavy)")
    ask.figure("--to-baume", read_number, "DEGREES", "thin it to this")
    ask.figure("--volume", read_volume, "VOLUME", "the solution there is, such as 1 l")
    ask.figure("--percent", read_percentage, "PERCENT", "its strength by mass")
    ask.figure("--to-percent", read_percentage, "PERCENT", "thin it to this")
    ask.figure("--mass", read_mass, "MASS", "how much of the weaker one you want")
    ask.one.add_argument("--of", metavar="NAME", help="what it is a solution of: "
                         + ", ".join(THINNED))


_QUESTIONS: Final[dict[str, Callable[[_Asked], None]]] = {
    "tear": _tear, "sheets": _sheets, "damp": _damp, "soak": _soak, "ink": _ink, "press": _press,
    "weight": _weight, "bite": _bite, "strip": _strip, "strength": _strength,
}
