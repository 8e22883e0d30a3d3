"""A copy of a picture that may leave the studio: what draws it, and nothing that tells. Pure.

A JPEG keeps the segments that draw, its colour profile and which way up it is; a PNG the chunks
that draw. Place, times, names, texts, small pictures and whatever comes behind the end go. The
parts that stay are byte for byte as they were: nothing is drawn again.
"""

from __future__ import annotations

from typing import Final

from benchapp.pictures import jpeg, png
from benchapp.pictures.examine import JPEG, PNG, exif_of
from benchapp.pictures.exif import orientation_block

_JFIF: Final = b"JFIF\0"
#: A block of JFIF without its small picture.
_JFIF_BYTES: Final = 14
_ICC: Final = b"ICC_PROFILE\0"
_ICC_HEAD: Final = len(_ICC) + 2
_ADOBE: Final = b"Adobe"
_ADOBE_BYTES: Final = 12
#: Where a profile says that it is one: ICC.1:2022, 7.2; from memory.
_PROFILE_SIGN: Final = slice(36, 40)


def clean_picture(data: bytes, file_type: str) -> bytes | None:
    """The picture as it may leave; None: it can't be cleaned, so it stays.

    Args:
        data: The bytes of the whole file.
        file_type: As `examine_picture` has it.
    """
    try:
        if file_type == JPEG:
            return _clean_jpeg(data, exif_of(data, JPEG).orientation)
        return _clean_png(data) if file_type == PNG else None
    except (jpeg.BrokenJpegError, png.BrokenPngError):
        return None


def clean_thumbnail(data: bytes, file_type: str) -> bytes | None:
    """The small picture that a camera put into it, cleaned alike, the same way up; None: none."""
    try:
        exif = exif_of(data, file_type) if file_type in (JPEG, PNG) else None
        if exif is None or not exif.thumbnail:
            return None
        return _clean_jpeg(exif.thumbnail, exif.orientation)
    except (jpeg.BrokenJpegError, png.BrokenPngError):
        return None


def _clean_jpeg(data: bytes, orientation: int) -> bytes:
    segments = list(jpeg.read_segments(data))
    parts = [jpeg.START]
    jfif = next((s for s in segments if s.marker == jpeg.APP0 and s.data.startswith(_JFIF)
                 and len(s.data) >= _JFIF_BYTES), None)
    if jfif is not None:
        parts.append(jpeg.make_segment(jpeg.APP0, jfif.data[:_JFIF_BYTES - 2] + b"\0\0"))
    if orientation != 1:
        parts.append(jpeg.make_segment(jpeg.APP1, orientation_block(orientation)))
    parts += [jpeg.make_segment(jpeg.APP2, s.data) for s in _profile(segments)]
    adobe = next((s for s in segments if s.marker == jpeg.APP14 and s.data.startswith(_ADOBE)
                  and len(s.data) >= _ADOBE_BYTES), None)
    if adobe is not None:
        parts.append(jpeg.make_segment(jpeg.APP14, adobe.data[:_ADOBE_BYTES]))
    for s in segments:
        if s.marker in jpeg.DRAWS:
            if not jpeg.is_drawing(s):
                raise jpeg.BrokenJpegError("one of its tables is no table")
            parts += [jpeg.make_segment(s.marker, s.data), s.drawn]
    return b"".join([*parts, jpeg.END])


def _profile(segments: list[jpeg.Segment]) -> list[jpeg.Segment]:
    """The parts of the colour profile; none where they are no whole profile and nothing more.

    Each part has its number and how many there are; the profile begins with its own length.
    """
    found = sorted((s for s in segments if s.marker == jpeg.APP2 and s.data.startswith(_ICC)),
                   key=lambda s: s.data[len(_ICC):_ICC_HEAD])
    numbers = [bytes((n, len(found) & 0xFF)) for n in range(1, min(len(found), 255) + 1)]
    profile = b"".join(s.data[_ICC_HEAD:] for s in found)
    whole = ([s.data[len(_ICC):_ICC_HEAD] for s in found] == numbers
             and int.from_bytes(profile[:4], "big") == len(profile)
             and profile[_PROFILE_SIGN] == b"acsp")
    return found if whole else []


def _clean_png(data: bytes) -> bytes:
    found = [c for c in png.read_chunks(data) if c.name in png.DRAWS]
    if not all(c.sound for c in found):
        raise png.BrokenPngError("one of its parts is not as it was written")
    kept = [png.make_chunk(c.name, c.data) for c in found]
    return b"".join([png.START, *kept, png.make_chunk(png.END, b"")])
