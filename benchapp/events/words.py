"""The closed words that stand in fields of entries. Pure.

Words are stored: more may come, none is renamed.
"""

from __future__ import annotations

from typing import Final, Literal, TypeAlias, get_args

#: Borne by a sheet that counts as n of N.
NUMBERED: Final = "edition"
CANCELLATION: Final = "cancellation proof"
#: What a sheet can become at sorting besides a number.
PROOFS: Final = ("BAT", "AP", "PP", "HC", "presentation", "progressive", "archive", CANCELLATION)
#: Pulled to try something: such a sheet may be signed as what it is.
TRIALS: Final = ("TP", "WP", "SP")
#: Pulled from a fresh impression, not from the plate.
COUNTERPROOF: Final = "counterproof"
_SAID_OF_A_PULL: Final = (*TRIALS, "warm-up", "ghost", CANCELLATION)
#: Said at the press: a sheet pulled for one of these is that, and takes no kind at sorting.
AT_THE_PRESS: Final = (*_SAID_OF_A_PULL, COUNTERPROOF)
#: Of these so many can be declared.
MAY_BE_CAPPED: Final = (*PROOFS, *TRIALS)
#: What a pull can be for.
PURPOSES: Final = (NUMBERED, *_SAID_OF_A_PULL)
#: What can stand on a sheet, each once.
LABELS: Final = tuple(dict.fromkeys((NUMBERED, *PROOFS, *_SAID_OF_A_PULL)))

VerdictWord: TypeAlias = Literal["keep", "doubtful", "spoiled"]
VERDICTS: Final[tuple[str, ...]] = get_args(VerdictWord)
#: What is done to blankets.
BlanketsWord: TypeAlias = Literal["washed", "swapped"]
BLANKETS_DONE: Final[tuple[str, ...]] = get_args(BlanketsWord)
HandsWord: TypeAlias = Literal["inky", "clean", "free"]
HANDS: Final[tuple[str, ...]] = get_args(HandsWord)
#: Who said what a pull is for.
PURPOSE_BY: Final = ("rule", "printer")
#: Where the sheet of an impression that was given up is: in its pack again, or nowhere.
SheetEndWord: TypeAlias = Literal["back", "lost"]
SHEET_ENDS: Final[tuple[str, ...]] = get_args(SheetEndWord)
EDITION_FORMS: Final = ("limited", "varied", "open")
#: Who says when a picture was taken.
TAKEN_BY: Final = ("camera", "file")
#: What is counted of stock: full sheets, pieces torn from them, weight, or things as they are.
STOCK_UNITS: Final = ("sheets", "pieces", "mg", "items")

#: What entries tell of a sheet: what stands on it, whether it is signed, whether it is destroyed,
#: and whether there is such a sheet. A correction tells of what it names alone.
BEARS: Final = "bears"
SIGNED: Final = "signed"
DESTROYED: Final = "destroyed"
KNOWN: Final = "known"
ABOUT: Final = frozenset({BEARS, SIGNED, DESTROYED, KNOWN})
