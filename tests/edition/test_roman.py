"""Roman numerals, against the table of school books and a second way to write them."""

from __future__ import annotations

import pytest

from benchapp.edition.roman import read_roman, roman_numeral

#: Known values; 1954, 1990 and 2014 as on buildings and films, 3999 the highest.
TABLE = {1: "I", 2: "II", 3: "III", 4: "IV", 5: "V", 6: "VI", 9: "IX", 10: "X", 14: "XIV",
         19: "XIX", 40: "XL", 44: "XLIV", 49: "XLIX", 50: "L", 90: "XC", 99: "XCIX", 100: "C",
         400: "CD", 444: "CDXLIV", 500: "D", 900: "CM", 999: "CMXCIX", 1000: "M",
         1666: "MDCLXVI", 1954: "MCMLIV", 1990: "MCMXC", 2014: "MMXIV", 3999: "MMMCMXCIX"}
UNITS = ["", "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX"]


def by_places(n: int) -> str:
    """Written digit by digit, as the numerals are taught."""
    def place(digit: int, signs: str) -> str:
        return UNITS[digit].translate(str.maketrans("IVX", signs))

    return ("M" * (n // 1000) + place(n // 100 % 10, "CDM") + place(n // 10 % 10, "XLC")
            + place(n % 10, "IVX"))


def test_the_known_table():
    """Each numeral both ways."""
    assert {n: roman_numeral(n) for n in TABLE} == TABLE
    assert {read_roman(text): text for text in TABLE.values()} == TABLE


def test_every_numeral_there_is():
    """1 to 3999, exact, and read back also in small letters."""
    for n in range(1, 4000):
        assert roman_numeral(n) == by_places(n)
        assert read_roman(f" {roman_numeral(n).lower()} ") == n


@pytest.mark.parametrize("n", [0, -1, 4000])
def test_there_is_no_numeral_outside(n):
    """No nought and nothing above 3999."""
    with pytest.raises(ValueError, match="from 1 to 3999"):
        roman_numeral(n)


@pytest.mark.parametrize("text", ["", "IIII", "IC", "VX", "MMMM", "A", "I I", "XIVI", "M" * 9000])
def test_other_spellings_are_none(text):
    """One number has one numeral."""
    assert read_roman(text) is None
