"""The arguments of the commands about editions and boards."""

from __future__ import annotations

import argparse
from typing import Final

from benchapp.commands.days import coming_day_text, past_day_text

PLACES: Final = ("boards", "drawer", "framed", "gallery", "given", "sold", "lost")
_NAMES: Final = "its mark (K7), its number (12/40, AP II), or session and pull (last:3)"
_SHEET: Final = f"a sheet: {_NAMES}"
#: Where it is written out: argparse never breaks a group of choices over two lines.
_USAGE: Final = "%(prog)s [-h] [--book FILE] {}"


def add_common_options(one: argparse.ArgumentParser, *, print_: bool = True) -> None:
    """What every one of these commands takes."""
    one.add_argument("--json", action="store_true", help="one JSON document")
    if print_:
        one.add_argument("--print", metavar="PRINT", dest="print_",
                         help="another print than the last session's, by its title")
    one.add_argument("--yes", action="store_true",
                     help="do not ask before what cannot be undone")


def add_edition_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `edition`."""
    one.usage = _USAGE.format("[PRINT] [what you declare ...]")
    one.add_argument("print_", metavar="PRINT", nargs="?", help="show this print; without it, all")
    say = one.add_mutually_exclusive_group()
    one.add_argument("--size", type=_number, metavar="N",
                     help="the size of the edition; with --settle, which of two is right")
    one.add_argument("--artist", metavar="WHO",
                     help="with --size: the artist; for a PRINT without any session in "
                          "this book")
    one.add_argument("--key", metavar="WORDS",
                     help="with --artist: the key: of its recipe, so that they are one "
                          "print")
    say.add_argument("--open", action="store_true", dest="open_", help="declare it open")
    say.add_argument("--short", type=_number, metavar="N",
                     help="make the edition smaller, before the first signature (--why)")
    say.add_argument("--cut-short", type=_end, metavar="N",
                     help="after the first signature: the edition ends at N, the numbers above "
                          "are void and the total stays (--why); none: it goes on after all")
    say.add_argument("--settle", metavar="TEXT",
                     help="keep a clash as it is: words that name it (--why)")
    say.add_argument("--from-paper", metavar="FILE", dest="recall",
                     help="read a table (CSV) of sheets from old papers: all, or none")
    say.add_argument("--csv", metavar="FILE",
                     help="write the register as a table (CSV), which --from-paper reads; - prints "
                          "it")
    say.add_argument("--template", metavar="FILE",
                     help="write the table to fill in, with examples")
    one.add_argument("--paper", metavar="WORDS",
                     help="with --from-paper: the name of the old paper (old papers)")
    one.add_argument("--force", action="store_true",
                     help="with --template or --csv: replace a file of that name")
    _declare(one)
    one.add_argument("--why", metavar="WORDS", help="the reason")
    one.add_argument("--private", action="store_true",
                     help="include your own words about people; otherwise they stay at home")
    add_common_options(one, print_=False)


def _declare(one: argparse.ArgumentParser) -> None:
    """What can be declared of a print beside its size."""
    form = one.add_mutually_exclusive_group()
    form.add_argument("--varied", action="store_true", help="declare it varied (E.V.)")
    form.add_argument("--limited", action="store_true", help="declare that it is not varied")
    one.add_argument("--numbers", choices=("figures", "roman"),
                     help="how its numbers are pencilled")
    one.add_argument("--roman", action="store_const", const="roman", dest="numbers",
                     help="the same as --numbers roman")
    one.add_argument("--proof-numbers", choices=("figures", "roman"),
                     help="the same for the numbers of its proofs (roman)")
    one.add_argument("--proof", metavar="KIND=N", action="append", default=[],
                     help="how many proofs of a kind, as AP=4; AP=4:inside counts them in the "
                          "total; AP=none: no number is declared")
    one.add_argument("--plate", metavar="NAME", help="say of a plate: --before N, --state WORDS")
    one.add_argument("--before", type=_pulls, metavar="N",
                     help="with --plate: the impressions it gave before there was this book")
    one.add_argument("--state", metavar="WORDS",
                     help="with --plate: the state it is in, as steel-faced")
    one.add_argument("--beside", metavar="PRINT",
                     help="with --size and --relation: the edition it is beside (a PRINT that is "
                          "not in the book is begun); none: it is beside no other")
    one.add_argument("--relation", metavar="WORD",
                     help="with --beside: second edition, colourway, paper …")
    one.add_argument("--shares", metavar="PLATE", action="append",
                     help="a plate it shares with the edition beside it; once for each plate; "
                          "none: it shares none")
    one.add_argument("--standard", metavar="SHEET",
                     help=f"the sheet others are held against until there is a BAT: {_NAMES}; "
                          "none: without a standard")


def add_number_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `number`."""
    one.add_argument("words", metavar="SHEET [NUMBER]", nargs="+",
                     help=f"{_SHEET}; then its number, else the next; several sheets take the "
                          "next numbers in turn")
    one.add_argument("--as", metavar="KIND", dest="kind",
                     help="as a proof: BAT, AP, PP, HC, presentation, progressive, archive …")
    one.add_argument("--by", metavar="WHO", help="with --as BAT: who passed it")
    one.add_argument("--replace", metavar="WHY", dest="instead",
                     help="with --as BAT: why it replaces the BAT there is, which keeps what is "
                          "pencilled on it")
    one.add_argument("--whose", metavar="WHO",
                     help="with --as: the owner of the proof; stays at home")
    one.add_argument("--back", action="store_true",
                     help="undo a number or kind, before it is signed")
    # Its way of before: the command that has taken its place is named.
    one.add_argument("--correct", metavar="SEEN", help=argparse.SUPPRESS)
    add_common_options(one)


def add_photo_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `photo`."""
    one.usage = _USAGE.format("SHEET [FILE ...]")
    one.add_argument("words", metavar="SHEET FILE", nargs="*",
                     help=f"{_SHEET}; then its pictures; without a FILE, list those it has")
    one.add_argument("--plate", metavar="NAME",
                     help="instead of SHEET: pictures of a plate of the print")
    one.add_argument("--state", metavar="WORDS", help="with --plate: the state it shows")
    one.add_argument("--session", metavar="SESSION", help="instead of SHEET: pictures of a day")
    one.add_argument("--untie", action="store_true",
                     help="the picture named does not show it (--why); its copy stays")
    one.add_argument("--why", metavar="WORDS", help="with --untie: the reason")
    add_common_options(one)


def add_photos_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `photos`."""
    one.add_argument("folder", metavar="FOLDER", help="the folder with pictures of sheets")
    one.add_argument("--clock", metavar="WORDS",
                     help='how the camera\'s clock was: right, "1 h ahead" or "20 min behind"')
    one.add_argument("--list", action="store_true", help="list them, and tie nothing")
    one.add_argument("--json", action="store_true", help="one JSON document")
    one.add_argument("--yes", action="store_true", help="tie all that are sure, and ask nothing")


def add_sort_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `sort`."""
    one.add_argument("what", metavar="SESSION|PRINT", nargs="*",
                     help="the sheets of a session, or of a print; else those pulled last")
    one.add_argument("--list", action="store_true",
                     help="only list the sheets to sort; without a terminal always so")
    one.add_argument("--json", action="store_true", help="the list as one JSON document")


def add_sign_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `sign`."""
    one.add_argument("sheets", metavar="SHEET", nargs="+", help=_SHEET)
    add_common_options(one)


def add_void_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `void`."""
    one.add_argument("what", metavar="NUMBER|SHEET", nargs="+",
                     help=f"the number; with --destroyed {_SHEET}")
    one.add_argument("--why", metavar="WORDS", required=True, help="the reason")
    one.add_argument("--destroyed", action="store_true",
                     help="a sheet was destroyed: its number, if it has one, stays void")
    add_common_options(one)


_CORRECT: Final = """\
What is true, one thing at a time:
  number 13, number 13/40   what is pencilled on it; number AP 2 of a proof
  purpose AP, purpose BAT   what it is
  purpose TP, purpose SP II what it was pulled for; also purpose edition
  not numbered, not BAT     nothing is pencilled on it; it is not the BAT
  signed, not signed        whether it is signed
  destroyed, not destroyed  whether it was destroyed
  void, not void            whether its number is void: never used again
  no such sheet             its line on an old paper was a mistake
  plate not cancelled       without SHEET: the plate can be printed from
  clash WORDS not settled   without SHEET: the clash is open again
  place drawer              where it is, if it never was where the book says
  since DATE, due DATE      since when, due back when; or: since not known
  to "…", terms "…"         who has it (stays at home); on which terms
  whose "…", note "…"       whose proof it is; your own note (stay at home)

If a sheet has moved, that is not a mistake: use where-is SHEET --now PLACE.
With SHEET alone the command lists what can be wrong about it.
"""


def add_correct_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `correct`."""
    one.formatter_class = argparse.RawDescriptionHelpFormatter
    one.epilog = _CORRECT
    one.add_argument("words", metavar="SHEET WHAT", nargs="+", help=f"{_SHEET}; then what is true")
    one.add_argument("--why", metavar="WORDS", help="what you saw, or the mistake")
    one.add_argument("--private", action="store_true",
                     help="show your own words about people; otherwise they stay at home")
    add_common_options(one)


def add_cancel_plate_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `cancel-plate`."""
    one.add_argument("plate", metavar="PLATE", nargs="?", help="which; else all of the print")
    one.add_argument("--how", metavar="WORDS", default="cancelled",
                     help="how: scored through, cut, ground")
    one.add_argument("--on", metavar="DATE", type=past_day_text, help="the day (today)")
    add_common_options(one)


def add_where_is_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `where-is`."""
    one.add_argument("number", metavar="SHEET", nargs="*",
                     help=f"{_SHEET}; one or several; without any, everything place by place")
    one.add_argument("--now", metavar="PLACE", choices=PLACES,
                     help=f"say where it is now: {', '.join(PLACES)}")
    one.add_argument("--to", metavar="WHO", help="with --now: who has it; stays at home")
    one.add_argument("--note", metavar="WORDS", help="with --now: your own words; stay at home")
    one.add_argument("--gallery", metavar="WHO",
                     help="one gallery's list: the words you gave with --to")
    one.add_argument("--html", metavar="FILE",
                     help="with --gallery: as a page to send along, in a new file")
    one.add_argument("--csv", metavar="FILE",
                     help="with --gallery: as a table for a spreadsheet, in a new file")
    one.add_argument("--force", action="store_true", help="replace a file of that name")
    one.add_argument("--terms", metavar="WORDS", help="with --now gallery: consignment, or sale "
                                                      "or return")
    one.add_argument("--on", metavar="DATE", type=past_day_text,
                     help="with --now: the day it happened")
    one.add_argument("--due", metavar="DATE", type=coming_day_text,
                     help="with --now gallery: the day it is due back")
    one.add_argument("--private", action="store_true",
                     help="include your own words about people; otherwise they stay at home")
    add_common_options(one)


def add_boards_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `boards`."""
    one.usage = _USAGE.format("[STACK] [what was done ...]")
    one.add_argument("stack", metavar="STACK", nargs="?",
                     help="its number in the list, or words of its name")
    do = one.add_mutually_exclusive_group()
    do.add_argument("--changed", action="store_true",
                    help="record that you made the change that is due")
    do.add_argument("--left", action="store_true",
                    help="record that the change is not needed (--why)")
    # Their names of before, still taken.
    do.add_argument("--done", action="store_true", dest="changed", help=argparse.SUPPRESS)
    do.add_argument("--skip", action="store_true", dest="left", help=argparse.SUPPRESS)
    do.add_argument("--down", action="store_true", help="these boards are empty now")
    do.add_argument("--lift", metavar="SHEET", help="a sheet comes out")
    do.add_argument("--lay", metavar="SHEET", help="a sheet goes on top")
    do.add_argument("--weight", metavar="MASS", help="the weight on the boards: 12 kg")
    do.add_argument("--weigh", metavar=("SHEET", "MASS"), nargs=2,
                    help="a control sheet on the scale: K7 98.4 g")
    do.add_argument("--ics", metavar="FILE", nargs="?", const="-",
                    help="as a calendar for the phone (iCalendar), printed or in a new file")
    one.add_argument("--why", metavar="WORDS", help="with --left: the reason")
    one.add_argument("--force", action="store_true",
                     help="with --ics FILE: replace a file of that name")
    add_common_options(one, print_=False)


def add_papers_options(one: argparse.ArgumentParser) -> None:
    """The arguments of `papers`."""
    one.add_argument("which", metavar="WHICH", choices=("edition", "sheet"),
                     help="edition: its documentation sheet; sheet: one impression's history")
    one.add_argument("what", metavar="PRINT|SHEET", nargs="*",
                     help=f"which print, else the last session's; or {_SHEET}")
    one.add_argument("--html", metavar="FILE", help="write a page into a new file")
    one.add_argument("--force", action="store_true", help="replace a file of that name")
    one.add_argument("--printer", metavar="WHO", help="who printed it")
    one.add_argument("--chop", metavar="WORDS", help="the chop on the sheets")
    one.add_argument("--private", action="store_true",
                     help="also show owners of proofs and who has the sheets")
    add_common_options(one)




def _number(text: str) -> int:
    if not (text.isascii() and text.isdigit()) or not 1 <= int(text[:10]) <= 9_999:
        raise argparse.ArgumentTypeError(f"{text} is not a count; write a whole number from 1 up")
    return int(text)


def _end(text: str) -> int:
    """Where an edition ends; 0: nowhere."""
    return 0 if text == "none" else _number(text)


def _pulls(text: str) -> int:
    if not (text.isascii() and text.isdigit()):
        raise argparse.ArgumentTypeError(f"{text} is not a count; write a whole number from 0 up")
    return int(text[:10])
