"""Names for files, made from what people call things."""

from __future__ import annotations

import unicodedata
from typing import Final

_MOST_BYTES: Final = 80
#: Names that Windows gives to devices, whatever stands behind a point.
_DEVICES: Final = frozenset(
    ["con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(10))]
)
#: What a file without a usable name is called.
_NAMELESS: Final = "print"


def file_slug(text: str) -> str:
    """A file name (without ending) for `text`, taken by every file system.

    Small letters and digits of any script with single hyphens between, at most
    80 bytes as UTF-8; Latin letters lose their accents. Never a device name.

    Args:
        text: A title or the like; where nothing of it is usable, the name is `print`.
    """
    apart = unicodedata.normalize("NFKD", text).casefold()
    bare = "".join(c for c in apart if not "\u0300" <= c <= "\u036f")
    whole = unicodedata.normalize("NFC", bare)
    words = "".join(c if _belongs(c) else " " for c in whole).split()
    name = _cut("-".join(words)) or _NAMELESS
    return f"{name}-{_NAMELESS}" if is_device(name) else name


def is_device(name: str) -> bool:
    """Whether Windows takes that name for a device, whatever comes after a point in it."""
    return name.partition(".")[0].strip().casefold() in _DEVICES


def _belongs(character: str) -> bool:
    # Marks are the vowels of some scripts: a word without them is another word.
    return character.isalnum() or unicodedata.category(character).startswith("M")


def _cut(name: str) -> str:
    return name.encode("utf-8", "ignore")[:_MOST_BYTES].decode("utf-8", "ignore").strip("-")
