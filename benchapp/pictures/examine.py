"""What a file of a picture is, by its bytes alone: never by its name. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from benchapp.pictures import jpeg, png
from benchapp.pictures.exif import EXIF_HEAD, Exif, read_exif
from benchapp.pictures.taken import TakenTime, read_taken_time

JPEG: Final = "JPEG"
PNG: Final = "PNG"
#: Kinds of file, with the ending a copy of one gets.
_ENDINGS: Final[Mapping[str, str]] = {
    JPEG: ".jpg", PNG: ".png", "HEIC": ".heic", "AVIF": ".avif", "WebP": ".webp", "GIF": ".gif",
    "TIFF": ".tif"}
#: Brands of files made of boxes (ISO/IEC 14496-12), by kind; from memory.
_BRANDS: Final[Mapping[bytes, str]] = {
    **dict.fromkeys((b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"),
                    "HEIC"),
    b"avif": "AVIF", b"avis": "AVIF"}


class NotAPictureError(Exception):
    """A file that is no picture, or is broken off before there is anything to draw."""


@dataclass(frozen=True, slots=True)
class PictureFacts:
    """What a file of a picture says of itself.

    Attributes:
        file_type: JPEG, PNG, HEIC, AVIF, WebP, GIF or TIFF.
        taken: When it was taken; None: it does not say.
        camera: Make and model; empty: it does not say.
    """

    file_type: str
    taken: TakenTime | None = None
    camera: str = ""


def examine_picture(data: bytes) -> PictureFacts:
    """What the bytes of a file are.

    Raises:
        NotAPictureError: They are none that benchapp knows, or nothing could be drawn of them.
    """
    file_type = _type_of(data)
    if file_type is None:
        kinds = ", ".join(_ENDINGS)
        raise NotAPictureError(f"not a picture; benchapp keeps {kinds}")
    try:
        exif = exif_of(data, file_type)
    except (jpeg.BrokenJpegError, png.BrokenPngError) as error:
        why = f"a broken {file_type}: {error}; copy it from the camera again"
        raise NotAPictureError(why) from None
    return PictureFacts(file_type, read_taken_time(exif.taken, exif.offset), exif.camera)


def exif_of(data: bytes, file_type: str) -> Exif:
    """What the EXIF in a picture says; of kinds that are only kept, nothing.

    Raises:
        BrokenJpegError, BrokenPngError: Nothing could be drawn of it.
    """
    if file_type == JPEG:
        blocks = [s.data[len(EXIF_HEAD):] for s in jpeg.read_segments(data)
                  if s.marker == jpeg.APP1 and s.data.startswith(EXIF_HEAD)]
    elif file_type == PNG:
        blocks = [c.data for c in png.read_chunks(data) if c.name == png.EXIF]
    else:
        blocks = [data] if file_type == "TIFF" else []
    return read_exif(blocks[0]) if blocks else Exif()


def file_ending(file_type: str) -> str:
    """What a copy of a picture of that kind is called at its end; empty: none is known."""
    return _ENDINGS.get(file_type, "")


def leaves_the_studio(file_type: str) -> bool:
    """Whether a picture of that kind can be cleaned, so that it may be on a page."""
    return file_type in (JPEG, PNG)


def _type_of(data: bytes) -> str | None:
    if data.startswith(jpeg.START + b"\xff"):
        return JPEG
    if data.startswith(png.START):
        return PNG
    if data[4:8] == b"ftyp" and len(data) > 16:
        return _boxed(data)
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP" and len(data) > 20:
        return "WebP"
    if data[:6] in (b"GIF87a", b"GIF89a") and len(data) > 13:
        return "GIF"
    return "TIFF" if data[:4] in (b"II*\0", b"MM\0*") and len(data) > 8 else None


def _boxed(data: bytes) -> str | None:
    """Of which kind a file of boxes is: its own brand first, then those it is made to fit."""
    size = min(int.from_bytes(data[:4], "big"), 256)
    brands = [data[8:12], *(data[at:at + 4] for at in range(16, size - 3, 4))]
    return next((_BRANDS[x] for x in brands if x in _BRANDS), None)
