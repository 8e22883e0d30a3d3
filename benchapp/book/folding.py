"""Text as a search compares it: without accents, case, ligatures or widths. Pure."""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from typing import Final

#: Letters that Unicode does not take apart: a stroke or a ring is part of them.
_LETTERS: Final = {
    "ø": "o", "đ": "d", "ð": "d", "ł": "l", "ħ": "h", "ŧ": "t", "þ": "th", "æ": "ae", "œ": "oe",
    "ı": "i", "ŋ": "n", "ĸ": "k", "ɨ": "i", "ʉ": "u", "ƀ": "b", "ǥ": "g", "ɫ": "l",
    "‘": "'", "’": "'", "‛": "'", "“": '"', "”": '"', "‐": "-", "‑": "-", "–": "-", "—": "-",
    "−": "-", "⁄": "/", "∕": "/",
}  # fmt: skip


def fold_text(text: str) -> str:
    """The text as it is compared; folding it again changes nothing.

    What is decided where letters could be read in several ways:

    - An accent goes, whatever the language: `creve` finds *crevé*, and `ö` and `ü` are found by
      `o` and `u`, not by `oe` and `ue`.
    - Letters with a stroke are their plain letter: ø o, ł l, đ d. æ is `ae`, œ `oe`, ß `ss`
      (as ẞ is), þ `th`, ð `d`.
    - Ligatures are their letters (ﬁ is `fi`), and full-width signs the usual ones (Ｋ７ is `k7`).
    - The dotless ı and the İ with a dot are both `i`, and so is I: a Turkish word is found with
      either, and no other word is missed because of them.
    - Curled quotation marks, long dashes and fraction strokes are the plain ones of a keyboard.

    Each character is folded for itself, so that a part of a text folds to a part of it.
    """
    if text.isascii():
        return text.lower()
    return "".join(map(_sign, text))


def place_of(text: str, word: str) -> int:
    """Where in `text`, in characters of its own, a word already folded begins; -1: nowhere."""
    at = fold_text(text).find(word)
    if at < 0:
        return -1
    before = 0
    for place, character in enumerate(text):
        before += len(_sign(character))
        if before > at:
            return place
    return -1


@lru_cache(maxsize=4096)
def _sign(character: str) -> str:
    if character.isspace():
        return " "
    # Twice: what is made small may have to be taken apart, and the other way round.
    parts = unicodedata.normalize("NFKD", character)
    for _ in range(2):
        plain = "".join(_LETTERS.get(c, c) for c in parts.casefold())
        parts = "".join(c for c in unicodedata.normalize("NFKD", plain)
                        if not (unicodedata.category(c) == "Mn" or c.isspace()))
    return parts
