"""The pictures of a print: what each shows. Pure.

Of a picture the book has its digest, name and time alone. Its file is beside the book.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final

from benchapp.events.entry import Moment

#: More of one sheet, plate or day are refused: it is not an album.
MOST_PICTURES: Final = 200


@dataclass(frozen=True, slots=True)
class PictureSubject:
    """What a picture shows: one sheet, one plate, or one day.

    Attributes:
        sheet: A sheet, by its id.
        plate: A plate, by its name.
        state: The state that plate is in; None: not said.
        day: A day, by the id of its session.
    """

    sheet: str | None = None
    plate: str | None = None
    state: str | None = None
    day: str | None = None


@dataclass(frozen=True, slots=True)
class TiedPicture:
    """A picture and what it shows.

    Attributes:
        about: What it shows.
        picture: The SHA-256 of its file.
        name: What the file was called.
        file_type: JPEG, PNG and so on.
        taken: When it was taken, ISO 8601, without a zone where its camera did not know it; None:
            not known.
        taken_by: Who says so: `camera` or `file`; None: nobody.
        id / at: The entry that says so, and when that was.
    """

    about: PictureSubject
    picture: str
    name: str
    file_type: str
    taken: str | None = None
    taken_by: str | None = None
    id: str = field(default="", compare=False)
    at: Moment | None = field(default=None, compare=False)

    @property
    def taken_words(self) -> str:
        """When it was taken: `2026-05-03 14:05`; empty: not known."""
        return (self.taken or "")[:16].replace("T", " ")


def without_doubles(pictures: Iterable[TiedPicture]) -> tuple[TiedPicture, ...]:
    """Each picture of each thing once, by when they were taken: two books may both have tied it."""
    found: dict[tuple[PictureSubject, str], TiedPicture] = {}
    for x in pictures:
        found.setdefault((x.about, x.picture), x)
    return tuple(sorted(found.values(), key=lambda x: (x.taken or "9999", x.name, x.picture)))
