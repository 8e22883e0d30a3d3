"""Pictures for a page: cleaned, in the page itself up to 20 MB, else in a folder beside it.

No original leaves. What can't be cleaned, and what is missing, is said instead.
"""

from __future__ import annotations

import base64
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final
from urllib.parse import quote

from benchapp import files
from benchapp.edition.pictures import TiedPicture
from benchapp.pictures import clean_picture, clean_thumbnail, file_ending, leaves_the_studio
from benchapp.pictures.examine import JPEG, PNG
from benchapp.service.pictures import kept_path

#: So much of pictures a page holds itself.
MOST_IN_PAGE: Final = 20 * 1024 * 1024
#: So many letters of a digest name a file beside a page.
_NAME: Final = 16


@dataclass(frozen=True, slots=True)
class PagePhotos:
    """The pictures of a page.

    Attributes:
        sources: What an `src` says, by the digest of the original.
        folder: The name of the folder beside the page; None: all are in the page.
        notes: What is not on the page, and why.
    """

    sources: Mapping[str, str] = field(default_factory=dict)
    folder: str | None = None
    notes: tuple[str, ...] = ()


def photos_for_page(photos: Path, pictures: Iterable[TiedPicture], page: str, *,
                    small: bool = False, most: int = MOST_IN_PAGE) -> PagePhotos:
    """The pictures for a page, each cleaned.

    Args:
        photos: The folder beside the book.
        pictures: What is to be shown.
        page: The name of the page's file; the name of a folder begins with it.
        small: The small pictures that cameras put into theirs, where there are any.
        most: So many bytes of pictures at most are in the page itself.
    """
    known = {x.picture: x for x in pictures}
    sources: dict[str, str] = {}
    names: dict[str, str] = {}
    left: list[str] = []
    size, folder = 0, f"{page}-pictures"
    for digest, x in known.items():
        data = _cleaned(photos, x, small=small)
        if isinstance(data, _Left):
            left.append(f"{x.name}: {data.why}")
            continue
        size += len(data)
        sources[digest] = "" if size > most else _embedded(data)
        names[digest] = _file_name(x, data)
        if size > most:
            sources.clear()
    if size <= most:
        return PagePhotos(sources, None, tuple(left))
    return PagePhotos({k: f"{quote(folder)}/{name}" for k, name in names.items()}, folder,
                      tuple(left))


def photo_files(photos: Path, pictures: Iterable[TiedPicture], of: PagePhotos, *,
                small: bool = False) -> Iterator[tuple[str, bytes]]:
    """The files for the folder beside a page, by name; one after the other."""
    for x in {x.picture: x for x in pictures if x.picture in of.sources}.values():
        data = _cleaned(photos, x, small=small)
        if isinstance(data, bytes):
            yield _file_name(x, data), data


def cleaned_files(photos: Path, pictures: Iterable[TiedPicture]
                  ) -> Iterator[tuple[str, bytes | str]]:
    """Each picture cleaned, under its own digest; or its name and why it stays."""
    for x in {x.picture: x for x in pictures}.values():
        data = _cleaned(photos, x, small=False)
        if isinstance(data, bytes):
            yield x.picture + file_ending(x.file_type), data
        else:
            yield x.name, data.why


@dataclass(frozen=True, slots=True)
class _Left:
    """Why a picture is not on a page."""

    why: str


def _cleaned(photos: Path, x: TiedPicture, *, small: bool) -> bytes | _Left:
    if not leaves_the_studio(x.file_type):
        return _Left(f"{x.file_type} stays at home, because its place cannot be taken out")
    try:
        read = files.read_picture(kept_path(photos, x))
    except files.FileProblem:
        return _Left("its file is missing in the folder photos; tie it again")
    if read.sha256 != x.picture:
        return _Left("its file is not as it was kept; tie it again")
    data = (clean_thumbnail(read.data, x.file_type) if small else None) or clean_picture(
        read.data, x.file_type)
    return data or _Left("it is damaged, so its place cannot be taken out")


def _embedded(data: bytes) -> str:
    media = "image/jpeg" if _is_jpeg(data) else "image/png"
    return f"data:{media};base64,{base64.b64encode(data).decode('ascii')}"


def _file_name(x: TiedPicture, data: bytes) -> str:
    return x.picture[:_NAME] + file_ending(JPEG if _is_jpeg(data) else PNG)


def _is_jpeg(data: bytes) -> bool:
    """A small picture is a JPEG, whatever it was in."""
    return data.startswith(b"\xff\xd8")
