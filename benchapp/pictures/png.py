"""The chunks of a PNG. Pure.

Source: W3C, Portable Network Graphics (PNG) Specification, third edition (2023), sections 5 and 11;
from memory.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

START: Final = b"\x89PNG\r\n\x1a\n"
HEADER: Final = b"IHDR"
PIXELS: Final = b"IDAT"
END: Final = b"IEND"
EXIF: Final = b"eXIf"
#: What is needed to draw, colours as they are meant among it; no texts, times and second pictures.
DRAWS: Final = frozenset({
    HEADER, b"PLTE", PIXELS, END, b"tRNS", b"cHRM", b"gAMA", b"iCCP", b"sBIT", b"sRGB", b"cICP",
    b"mDCV", b"cLLI", b"bKGD", b"pHYs"})
#: No program writes more chunks.
_MOST_CHUNKS: Final = 200_000


class BrokenPngError(Exception):
    """The bytes end, or make no sense, before there is anything to draw."""


@dataclass(frozen=True, slots=True)
class Chunk:
    """One chunk: its name, what is in it, and whether that is as its check sum has it."""

    name: bytes
    data: bytes
    sound: bool


def read_chunks(data: bytes) -> Iterator[Chunk]:
    """The chunks of a picture, up to its end; what comes behind that is not looked at.

    Raises:
        BrokenPngError: It breaks off before a pixel, does not begin with its size, or is no PNG.
    """
    if not data.startswith(START):
        raise BrokenPngError("it does not begin as a PNG")
    at, drawn = len(START), False
    for _ in range(_MOST_CHUNKS):
        if at + 12 > len(data):
            break
        length, name = int.from_bytes(data[at:at + 4], "big"), data[at + 4:at + 8]
        if (name == HEADER) != (at == len(START)):
            break
        if at + 12 + length > len(data):
            break
        drawn = drawn or name == PIXELS
        if name == END:
            break
        body, check = data[at + 8:at + 8 + length], data[at + 8 + length:at + 12 + length]
        yield Chunk(name, body, check == _check_sum(name, body))
        at += 12 + length
    else:
        raise BrokenPngError("it is made of more parts than any program writes")
    if not drawn:
        raise BrokenPngError("it breaks off before there is anything to draw")


def make_chunk(name: bytes, data: bytes) -> bytes:
    """A chunk as it is written."""
    return len(data).to_bytes(4, "big") + name + data + _check_sum(name, data)


def _check_sum(name: bytes, data: bytes) -> bytes:
    return zlib.crc32(data, zlib.crc32(name)).to_bytes(4, "big")
