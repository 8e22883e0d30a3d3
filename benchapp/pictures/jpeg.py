"""The segments of a JPEG. Pure.

Source: ITU-T T.81 (1992), annex B, table B.1; APP0 as in JFIF 1.02 (1992), APP2 as in ICC.1:2022,
annex B.4, APP14 as Adobe writes it (Technical Note 5116); all from memory.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

START: Final = b"\xff\xd8"
END: Final = b"\xff\xd9"
APP0: Final = 0xE0
APP1: Final = 0xE1
APP2: Final = 0xE2
APP14: Final = 0xEE
SCAN: Final = 0xDA
_END_OF_IMAGE: Final = 0xD9
_START_OF_IMAGE: Final = 0xD8
_RESTARTS: Final = range(0xD0, 0xD8)
#: Starts of frames: all of C0 to CF that are no tables.
FRAMES: Final = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
#: What is needed to draw: frames, tables of codes and of steps, the number of lines, restarts.
DRAWS: Final = FRAMES | {0xC4, 0xCC, SCAN, 0xDB, 0xDC, 0xDD, 0xDE, 0xDF}
#: In a scan, a byte FF with a 0 behind it is one of the picture's own.
_MARKER: Final = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")
#: No camera writes more segments.
_MOST_SEGMENTS: Final = 20_000


class BrokenJpegError(Exception):
    """The bytes end, or make no sense, before there is anything to draw."""


@dataclass(frozen=True, slots=True)
class Segment:
    """One segment.

    Attributes:
        marker: The second byte of its marker.
        data: What is in it, without its length.
        drawn: The bytes of the picture behind it, where it begins a scan.
    """

    marker: int
    data: bytes
    drawn: bytes = b""


def read_segments(data: bytes) -> Iterator[Segment]:
    """The segments of a picture, up to its end; what comes behind that is not looked at.

    Where the bytes end within a scan, that scan is what there is of it.

    Raises:
        BrokenJpegError: It breaks off before a scan, or is no JPEG.
    """
    if not data.startswith(START):
        raise BrokenJpegError("it does not begin as a JPEG")
    at, scans = 2, 0
    for _ in range(_MOST_SEGMENTS):
        at = _marker_at(data, at)
        marker = data[at] if at < len(data) else _END_OF_IMAGE
        if marker == _END_OF_IMAGE or (scans and at + 3 > len(data)):
            break
        at += 1
        if marker == _START_OF_IMAGE or marker in _RESTARTS or marker == 1:
            continue
        length = int.from_bytes(data[at:at + 2], "big")
        if length < 2 or at + length > len(data):
            if scans:
                break
            raise BrokenJpegError("it breaks off before there is anything to draw")
        body = data[at + 2:at + length]
        at += length
        if marker == SCAN:
            end = _scan_end(data, at)
            scans += 1
            # A last byte FF, whose marker is cut off, would become one with what is behind it.
            yield Segment(marker, body, data[at:end].rstrip(b"\xff"))
            at = end
        else:
            yield Segment(marker, body)
    else:
        raise BrokenJpegError("it is made of more parts than any camera writes")
    if not scans:
        raise BrokenJpegError("it breaks off before there is anything to draw")


def _marker_at(data: bytes, at: int) -> int:
    """Where the second byte of the next marker is; the length of all where there is none."""
    at = data.find(b"\xff", at)
    while 0 <= at < len(data) and data[at] == 0xFF:
        at += 1
    return len(data) if at < 0 else at


def _scan_end(data: bytes, at: int) -> int:
    """Where the bytes of a scan end: at the first marker that is no restart."""
    found = _MARKER.search(data, at)
    return len(data) if found is None else found.start()


def is_drawing(segment: Segment) -> bool:
    """Whether a segment that says that it draws is built as one, with nothing more in it.

    A text behind the marker of a table would leave with the picture.
    """
    data, marker = segment.data, segment.marker
    if marker in FRAMES or marker == 0xDE:
        return len(data) >= 6 and len(data) == 6 + 3 * data[5]
    if marker == SCAN:
        return len(data) >= 4 and 1 <= data[0] <= 4 and len(data) == 4 + 2 * data[0]
    if marker == 0xDB:
        return _is_filled(data, lambda table: 64 * (1 + (table[0] >> 4)), 1)
    if marker == 0xC4:
        return _is_filled(data, lambda table: sum(table[1:17]), 17)
    if marker == 0xCC:
        return 2 <= len(data) <= 16 and len(data) % 2 == 0
    return len(data) == {0xDC: 2, 0xDD: 2, 0xDF: 1}.get(marker)


def _is_filled(data: bytes, rest: Callable[[bytes], int], head: int) -> bool:
    """Whether tables fill it to its end, each a head and as much behind that as the head says."""
    if not data:
        return False
    at = 0
    while at + head <= len(data):
        at += head + rest(data[at:at + head])
    return at == len(data)


def make_segment(marker: int, data: bytes) -> bytes:
    """A segment as it is written."""
    return bytes((0xFF, marker)) + (len(data) + 2).to_bytes(2, "big") + data
