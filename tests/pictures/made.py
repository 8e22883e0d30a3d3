"""Small pictures made here, part by part, with whatever a test wants in them."""

from __future__ import annotations

import struct
import zlib

#: A grey picture of 8 by 8: its tables and its scan are as ITU-T T.81 has them (annex K.3 for the
#: codes of the first table, shortened to the two that are used).
_TABLES = (b"\xff\xdb\x00\x43\x00" + b"\x01" * 64
           + b"\xff\xc0\x00\x0b\x08\x00\x08\x00\x08\x01\x01\x11\x00"
           + b"\xff\xc4\x00\x14\x00\x01" + b"\0" * 15 + b"\x00"
           + b"\xff\xc4\x00\x14\x10\x01" + b"\0" * 15 + b"\x00")
SCAN = b"\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00" + b"\x3f"
PROFILE = b"ICC_PROFILE\0\x01\x01\0\0\0\x80" + b"\0" * 32 + b"acsp" + b"\0" * 88
GPS_WORD = b"GPS-51.5007N"


def segment(marker: int, data: bytes) -> bytes:
    return bytes((0xFF, marker)) + struct.pack(">H", len(data) + 2) + data


def jpeg(*parts: bytes, behind: bytes = b"") -> bytes:
    return b"\xff\xd8" + b"".join(parts) + _TABLES + SCAN + b"\xff\xd9" + behind


def exif(order: str = ">", *, taken: str = "2026:05:03 14:05:10", offset: str = "",
         orientation: int = 1, thumbnail: bytes = b"", camera: str = "Bellows 4") -> bytes:
    """A block of EXIF, without the head it has in a JPEG; with GPS among it."""
    heap = bytearray()
    sizes = {2: 1, 3: 2, 4: 4}

    def directory(at: int, entries: list[tuple[int, int, bytes]], after: int) -> bytes:
        out = struct.pack(order + "H", len(entries))
        for tag, kind, value in sorted(entries):
            count = len(value) // sizes[kind]
            if len(value) > 4:
                place = struct.pack(order + "I", heap_at + len(heap))
                heap.extend(value)
            else:
                place = value.ljust(4, b"\0")
            out += struct.pack(order + "HHI", tag, kind, count) + place
        return out + struct.pack(order + "I", after)

    def text(value: str) -> bytes:
        return value.encode() + b"\0"

    own = [(0x9003, 2, text(taken))] if taken else []
    own += [(0x9011, 2, text(offset))] if offset else []
    first_at, own_at, gps_at, small_at, heap_at = 8, 108, 208, 258, 320
    first = [(0x0110, 2, text(camera)), (0x0112, 3, struct.pack(order + "H", orientation)),
             (0x8769, 4, struct.pack(order + "I", own_at)),
             (0x8825, 4, struct.pack(order + "I", gps_at))]
    block = bytearray(heap_at)
    block[:8] = (b"II*\0" if order == "<" else b"MM\0*") + struct.pack(order + "I", first_at)

    def put(at: int, data: bytes) -> None:
        block[at:at + len(data)] = data

    put(first_at, directory(first_at, first, small_at if thumbnail else 0))
    put(own_at, directory(own_at, own, 0))
    put(gps_at, directory(gps_at, [(0x001D, 2, GPS_WORD + b"\0")], 0))
    if thumbnail:
        put(small_at, directory(small_at, [
            (0x0201, 4, struct.pack(order + "I", heap_at + len(heap))),
            (0x0202, 4, struct.pack(order + "I", len(thumbnail)))], 0))
        heap.extend(thumbnail)
    return bytes(block) + bytes(heap)


def app1(block: bytes) -> bytes:
    return segment(0xE1, b"Exif\0\0" + block)


def chunk(name: bytes, data: bytes = b"") -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def png(*parts: bytes, behind: bytes = b"") -> bytes:
    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", 8, 8, 8, 0, 0, 0, 0))
            + b"".join(parts) + chunk(b"IDAT", zlib.compress(b"\0" * 72)) + chunk(b"IEND") + behind)


def heic() -> bytes:
    return struct.pack(">I", 24) + b"ftypmif1\0\0\0\0mif1heic" + b"\0" * 40
