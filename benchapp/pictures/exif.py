"""The directories of a TIFF, as EXIF has them: when, which way up, and a small picture. Pure.

Sources of the numbers: TIFF 6.0 (Adobe, 1992), section 2; Exif 2.32 (CIPA DC-008-2019), tables 3 to
8; both from memory. Whatever is wrong in the bytes, the answer is what could be read, no error.
"""

from __future__ import annotations

import struct
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

#: How a block of EXIF begins where it is in a segment of a JPEG.
EXIF_HEAD: Final = b"Exif\0\0"
_ASCII: Final = 2
_SHORT: Final = 3
_LONG: Final = 4
#: No directory that a camera writes has more entries; more is a mistake or malice.
_MOST_ENTRIES: Final = 500
#: No text that is looked for here is longer.
_MOST_TEXT: Final = 200

MAKE: Final = 0x010F
MODEL: Final = 0x0110
ORIENTATION: Final = 0x0112
CHANGED: Final = 0x0132
THUMBNAIL_START: Final = 0x0201
THUMBNAIL_BYTES: Final = 0x0202
EXIF_PLACE: Final = 0x8769
TAKEN: Final = 0x9003
DIGITISED: Final = 0x9004
OFFSET_TAKEN: Final = 0x9011
OFFSET_DIGITISED: Final = 0x9012


@dataclass(frozen=True, slots=True)
class Exif:
    """What is looked for in a block of EXIF.

    Attributes:
        taken: The text of when it was taken, `2026:05:03 14:05:10`; else of when it was digitised
            or changed last; empty: none of them.
        offset: The text of how far that is from UTC, `+02:00`; empty: not said.
        camera: Make and model; empty: not said.
        orientation: Which way up, 1 to 8; 1 where it is not said.
        thumbnail: The bytes of the small picture beside it; empty: none.
    """

    taken: str = ""
    offset: str = ""
    camera: str = ""
    orientation: int = 1
    thumbnail: bytes = b""


_Entry = tuple[int, int, int]  # its type, how many, where the four bytes of its value are


def read_exif(block: bytes) -> Exif:
    """What a block says that begins with the byte order (`II` or `MM`)."""
    order = {b"II*\0": "<", b"MM\0*": ">"}.get(block[:4])
    if order is None:
        return Exif()
    first, after = _directory(block, order, _at(block, order, 4, _LONG))
    own = _directory(block, order, _number(block, order, first, EXIF_PLACE))[0]
    small = _directory(block, order, after)[0]
    taken, offset = "", ""
    for where, tag, offset_tag in ((own, TAKEN, OFFSET_TAKEN),
                                   (own, DIGITISED, OFFSET_DIGITISED), (first, CHANGED, 0)):
        taken = _text(block, order, where, tag)
        if taken.strip(" :0"):
            offset = _text(block, order, own, offset_tag)
            break
        taken = ""
    names = (_text(block, order, first, MAKE), _text(block, order, first, MODEL))
    turned = _number(block, order, first, ORIENTATION)
    start = _number(block, order, small, THUMBNAIL_START)
    size = _number(block, order, small, THUMBNAIL_BYTES)
    inside = 0 < start < len(block) and 0 < size <= len(block) - start
    return Exif(taken, offset, " ".join(x for x in names if x), turned if 1 <= turned <= 8 else 1,
                block[start:start + size] if inside else b"")


def orientation_block(orientation: int) -> bytes:
    """A block of EXIF that says which way up a picture is, and nothing else."""
    entry = struct.pack(">HHIHH", ORIENTATION, _SHORT, 1, orientation, 0)
    return EXIF_HEAD + b"MM\0*" + struct.pack(">IH", 8, 1) + entry + struct.pack(">I", 0)


def _at(block: bytes, order: str, place: int, kind: int) -> int:
    """A whole number there; 0 where the block ends before it."""
    code, size = ("H", 2) if kind == _SHORT else ("I", 4)
    if not 0 <= place <= len(block) - size:
        return 0
    return int(struct.unpack_from(order + code, block, place)[0])


def _directory(block: bytes, order: str, place: int) -> tuple[dict[int, _Entry], int]:
    """The entries of the directory at that place, and where the next one is; 0: there is none."""
    if not 8 <= place <= len(block) - 2:
        return {}, 0
    count = _at(block, order, place, _SHORT)
    if count > _MOST_ENTRIES:
        return {}, 0
    found: dict[int, _Entry] = {}
    for n in range(count):
        at = place + 2 + 12 * n
        if at + 12 > len(block):
            return found, 0
        tag, kind, number = struct.unpack_from(order + "HHI", block, at)
        found.setdefault(tag, (kind, number, at + 8))
    return found, _at(block, order, place + 2 + 12 * count, _LONG)


def _number(block: bytes, order: str, entries: Mapping[int, _Entry], tag: int) -> int:
    """The first number of an entry; 0 where there is none."""
    kind, number, at = entries.get(tag, (0, 0, 0))
    return _at(block, order, at, kind) if kind in (_SHORT, _LONG) and number >= 1 else 0


def _text(block: bytes, order: str, entries: Mapping[int, _Entry], tag: int) -> str:
    """The text of an entry, up to its first NUL; empty where there is none."""
    kind, number, at = entries.get(tag, (0, 0, 0))
    if kind != _ASCII or not 1 <= number <= _MOST_TEXT:
        return ""
    start = at if number <= 4 else _at(block, order, at, _LONG)
    if not 0 < start <= len(block) - number:
        return ""
    return block[start:start + number].partition(b"\0")[0].decode("latin-1").strip()
