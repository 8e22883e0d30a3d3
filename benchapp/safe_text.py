"""Text that people wrote, made fit to be shown.

A title, a note or a tag may hold characters that act on a terminal instead of
standing in it: ESC starts a command, a C1 control is one, a bidirectional
override makes the line read backwards. There are two walls. `why_refused` says at
every door why such a text is not taken; `sanitize` turns whatever an old or
foreign book holds into signs that can be seen. Pure; every room may use it.
"""

from __future__ import annotations

import json
import unicodedata
from typing import Final, NewType

SafeText = NewType("SafeText", str)
"""Text that went through `sanitize`: only this may reach a screen or a pipe."""

REPLACED: Final = "\N{REPLACEMENT CHARACTER}"
ELLIPSIS: Final = "…"

_PICTURES: Final = 0x2400
_DEL: Final = 0x7F
_NAMES: Final = {0: "NUL", 7: "BEL", 8: "BS", 0x0E: "SO", 0x0F: "SI", 0x1A: "SUB", 0x1B: "ESC"}

_DIRECTION: Final = frozenset(
    [0x061C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A)]
)
_BREAKS: Final = frozenset([0x2028, 0x2029])
_HIDDEN: Final = frozenset([0xFEFF, *range(0xFFF9, 0xFFFC), 0xE0001, *range(0xE0020, 0xE0080)])


def sanitize(text: str, *, newlines: bool = False) -> SafeText:
    """Give the text with every character that acts on a terminal made visible.

    Controls become their pictures (ESC is ␛), C1 controls, direction marks,
    hidden marks and lone surrogates become U+FFFD. Doing it twice changes
    nothing more.

    Args:
        text: Whatever is to be shown.
        newlines: Keep line ends (all written as LF); else they become ␊.
    """
    if text.isascii() and text.isprintable():
        return SafeText(text)
    if newlines:
        lines = text.replace("\r\n", "\n").split("\n")
        return SafeText("\n".join("".join(map(_picture, line)) for line in lines))
    return SafeText("".join(map(_picture, text)))


def escape_json(text: str) -> str:
    """Give JSON in which every character that acts on a terminal is an escape of JSON's own.

    It reads as the same document. Line ends between its values stay.

    Args:
        text: JSON as `json.dumps` writes it.
    """
    if text.isascii() and text.replace("\n", "").isprintable():
        return text
    return "".join(c if c == "\n" or sanitize(c) == c else json.dumps(c)[1:-1] for c in text)


def why_refused(text: str, *, newlines: bool = False) -> str | None:
    """Say why a text typed or pasted is not taken, or None if it may be.

    Args:
        text: What the printer gave.
        newlines: Whether line ends belong in this text.
    """
    for place, character in enumerate(text, start=1):
        if newlines and character == "\n":
            continue
        wrong = character_fault(character)
        if wrong is not None:
            return f"character {place} is {wrong}; leave it out"
    return None


def cell_width(text: str) -> int:
    """Count the terminal cells a text without line ends takes."""
    if text.isascii():
        return len(text)
    return sum(map(_cells, text))


def clip_text(text: SafeText, cells: int) -> SafeText:
    """Cut a text to so many cells, the last of them then an ellipsis.

    A wide character that would stand half outside is left out whole; marks
    that sit on the character before them stay with it.

    Args:
        text: Already visible.
        cells: Terminal cells there are; 0 or less gives an empty text.
    """
    if cells <= 0:
        return SafeText("")
    # A character takes at most two cells, so a short text needs no counting.
    if 2 * len(text) <= cells or cell_width(text) <= cells:
        return text
    taken, used = 0, 0
    for character in text:
        used += _cells(character)
        if used > cells - 1:
            break
        taken += 1
    return SafeText(text[:taken].rstrip() + ELLIPSIS)


def _cells(character: str) -> int:
    if unicodedata.category(character) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(character) in ("W", "F") else 1


def _picture(character: str) -> str:
    code = ord(character)
    if code < 0x20:
        return chr(_PICTURES + code)
    if code == _DEL:
        return "\N{SYMBOL FOR DELETE}"
    return REPLACED if character_fault(character) else character


def character_fault(character: str) -> str | None:
    """Name what is wrong with a character, such as `a tab`, or None."""
    code = ord(character)
    if 0x20 <= code < _DEL:
        return None
    if code < 0x20:
        return _control(character)
    if code <= 0x9F:
        return f"a control character (U+{code:04X})"
    if code in _DIRECTION:
        return f"a mark that turns the reading direction (U+{code:04X})"
    if code in _BREAKS:
        return f"a line break (U+{code:04X})"
    if code in _HIDDEN:
        return f"a hidden mark (U+{code:04X})"
    if 0xD800 <= code <= 0xDFFF:
        return "half a character, from text in another encoding"
    return None


def _control(character: str) -> str:
    code = ord(character)
    if character in "\n\r":
        return "a line break"
    if character == "\t":
        return "a tab"
    name = f"{_NAMES[code]}, " if code in _NAMES else ""
    return f"a control character ({name}U+{code:04X})"
