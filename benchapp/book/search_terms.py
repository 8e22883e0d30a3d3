"""What is typed into a search, read: words, and what may be a mark or a number. Pure."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from benchapp.book.folding import fold_text
from benchapp.edition.parse import read_claim, read_pencilled_number
from benchapp.edition.state import NUMBERED

_MARK: Final = re.compile(r"([a-z]{1,3})([1-9][0-9]{0,4})")
#: Before a number of an edition whose sheets vary.
_VARIED: Final = "e.v."


@dataclass(frozen=True, slots=True)
class WantedWord:
    """One word that must be found.

    Attributes:
        text: It, folded; or the two words of a proof, `ap ii`.
        mark: The letters and the number, where it may be a sheet's mark.
        claim: The kind and number, where it may stand on a sheet.
        of: The total that was typed with it.
    """

    text: str
    mark: tuple[str, int] | None = None
    claim: tuple[str, int | None] | None = None
    of: int | None = None


def wanted_words(typed: str) -> list[WantedWord]:
    """Every word that was typed, once, in the order typed."""
    words = fold_text(typed).split()
    out: list[WantedWord] = []
    while words:
        two = _proof(words[:2])
        if two is not None:
            out.append(two)
        elif not (words[0] == _VARIED and len(words) > 1):
            out.append(_word(words[0]))
        words = words[2 if two is not None else 1 :]
    return list(dict.fromkeys(out))


def _proof(words: list[str]) -> WantedWord | None:
    """A proof with its number: `ap ii`, `ap 2/4`; None: these two are none."""
    claim = read_claim(" ".join(words)) if len(words) == 2 else None
    if claim is None or claim[0] == NUMBERED or claim[1] is None:
        return None
    return WantedWord(" ".join(words), None, claim, _total(words[1]))


def _word(word: str) -> WantedWord:
    mark = _MARK.fullmatch(word)
    claim = read_claim(word)
    if claim is not None and claim[0] == NUMBERED and word.isalpha():
        claim = None  # a Roman number alone is a letter, or a word such as mix
    return WantedWord(word, None if mark is None else (mark[1], int(mark[2])), claim, _total(word))


def _total(word: str) -> int | None:
    return read_pencilled_number(word.partition("/")[2]) if "/" in word else None
