"""Roman numerals, as proofs and some whole editions bear them: I to MMMCMXCIX, exact.

The usual subtractive spelling: IV, IX, XL, XC, CD, CM. There is no nought, and
nothing above 3999 without a bar over it, which a pencil line does not carry.
"""

from __future__ import annotations

from typing import Final

HIGHEST: Final = 3999

_SIGNS: Final = (
    (1000, "M"), (900, "CM"), (500, "D"), (400, "CD"), (100, "C"), (90, "XC"), (50, "L"),
    (40, "XL"), (10, "X"), (9, "IX"), (5, "V"), (4, "IV"), (1, "I"),
)  # fmt: skip


def roman_numeral(number: int) -> str:
    """`number` in Roman numerals.

    Raises:
        ValueError: It is not from 1 to 3999.
    """
    if not 1 <= number <= HIGHEST:
        raise ValueError(f"{number} has no Roman numeral: from 1 to {HIGHEST}")
    text = ""
    rest = number
    for worth, sign in _SIGNS:
        times, rest = divmod(rest, worth)
        text += sign * times
    return text


def read_roman(text: str) -> int | None:
    """The number a numeral stands for, in capitals or small letters; None: it is none.

    Only the usual spelling is taken (IV, not IIII), so that one number has one numeral.
    """
    rest, number = text.strip().upper(), 0
    for worth, sign in _SIGNS:
        while rest.startswith(sign) and number <= HIGHEST:
            rest = rest[len(sign):]
            number += worth
    if rest or not 1 <= number <= HIGHEST:
        return None
    return number if roman_numeral(number) == text.strip().upper() else None
