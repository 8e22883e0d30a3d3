"""The edge of pictures: files read and known for what they are, copied beside the book, and tied.

A file is copied before the book says anything of it: whatever fails, no entry names a picture that
never was there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from benchapp import files
from benchapp.edition.actions import TiePictures
from benchapp.edition.pictures import PictureSubject, TiedPicture
from benchapp.events.entry import Entry
from benchapp.events.moments import local_time
from benchapp.events.streams import told_of
from benchapp.pictures import (
    NotAPictureError,
    PictureFacts,
    TakenTime,
    examine_picture,
    file_ending,
)
from benchapp.pictures.matching import SheetMoment
from benchapp.service.editions import EditionService
from benchapp.service.outcome import Outcome
from benchapp.session.edition_links import sheet_id

#: Entries of a session that say that somebody looked at a sheet.
_LOOKED: Final = frozenset({"judged", "noted", "tagged", "untagged", "marked to look again", "read",
                            "marked"})
#: The year 9998: a file may be from whenever its disk says.
_LAST_S: Final = 253_370_764_800
_PULLED: Final = "pulled"
#: So far around the times of pictures days are looked at: a camera may be in another time zone.
_AROUND: Final = timedelta(days=2)


@dataclass(frozen=True, slots=True)
class FoundPicture:
    """A file that is a picture.

    Attributes:
        path: Where it was read.
        sha256 / name: Its digest, and what it is called.
        facts: What it says of itself.
        taken: When it was taken: by its camera, else when the file was written last.
    """

    path: Path
    sha256: str
    name: str
    facts: PictureFacts
    taken: TakenTime

    def tied_to(self, about: PictureSubject) -> TiedPicture:
        """What the book will have of it."""
        return TiedPicture(about, self.sha256, self.name, self.facts.file_type, self.taken.text,
                           self.taken.by)


@dataclass(frozen=True, slots=True)
class NoPicture:
    """A file that is none: which, and why in words."""

    path: Path
    why: str


def look_at_files(paths: Iterable[Path]) -> Iterator[FoundPicture | NoPicture]:
    """Each file, read and known for what it is; one after the other, none is kept in memory."""
    for path in paths:
        try:
            read = files.read_picture(path)
            facts = examine_picture(read.data)
        except files.FileProblem as problem:
            yield NoPicture(path, problem.message)
        except NotAPictureError as problem:
            yield NoPicture(path, f"{files.shown_path(path)}: is {problem}")
        else:
            taken = facts.taken or TakenTime(
                datetime.fromtimestamp(min(max(read.modified_s, 0), _LAST_S), UTC), "file")
            yield FoundPicture(path, read.sha256, read.name, facts, taken)


def tie_files(editions: EditionService, folder: Path, print_: str, about: PictureSubject,
              pictures: Iterable[FoundPicture]) -> Outcome:
    """Copy pictures beside the book and tie them; the files they come from stay as they are.

    Args:
        editions: Of the book.
        folder: Where pictures are kept: `files.photos_folder`.
        print_: The print it is of.
        about: What they show.
        pictures: As they were found; a file that is another by now is refused.

    Raises:
        FileProblem: One cannot be read or copied; nothing was tied then.
        BookError: It cannot be written.
    """
    found = list(pictures)
    action = TiePictures(print_, about, tuple(x.tied_to(about) for x in found))
    would = editions.would(action)
    if not would.ok:
        return would
    keep_files(folder, found)
    return editions.do(action)


def keep_files(folder: Path, pictures: Iterable[FoundPicture]) -> None:
    """Copy pictures beside the book; those that are there stay, and a lost one is there again.

    Raises:
        FileProblem: One cannot be read or copied, or is another by now.
    """
    for x in pictures:
        read = files.read_picture(x.path)
        if read.sha256 != x.sha256:
            raise files.FileProblem(f"{files.shown_path(x.path)}: has changed since it was looked "
                                    "at; try again")
        files.keep_picture(folder, read, file_ending(x.facts.file_type))


def kept_path(folder: Path, picture: TiedPicture) -> Path:
    """Where the file of a tied picture is kept."""
    return files.picture_path(folder, picture.picture, file_ending(picture.file_type))


def all_pictures(editions: EditionService) -> tuple[tuple[str, TiedPicture], ...]:
    """Every picture that is tied to something, with its print."""
    return tuple((e.id, x) for e in editions.register.editions.values() for x in e.pictures)


def moments_near(editions: EditionService, times: Iterable[TakenTime]) -> tuple[SheetMoment, ...]:
    """When sheets were pulled or looked at on the days around some times."""
    known = [_day_number(t.at) for t in times]
    if not known:
        return ()
    first, last = min(known) - _AROUND.days, max(known) + _AROUND.days
    return tuple(m for d in editions.days
                 if first <= _day_number(local_time(d.row.opened.at)) <= last
                 for m in _moments_of(editions, d.row.id))


def _day_number(at: datetime) -> int:
    return at.date().toordinal()


def _moments_of(editions: EditionService, session: str) -> Iterator[SheetMoment]:
    sheets = editions.register.sheets
    for entry in editions.book.entries(streams=editions.book.streams_of(session)):
        what = "looked at" if entry.kind in _LOOKED else "pulled" if entry.kind == _PULLED else ""
        sheet = what and _sheet_of(entry)
        if sheet and sheet in sheets:
            yield SheetMoment(local_time(entry.at), sheet, what)


def _sheet_of(entry: Entry) -> str:
    """The sheet an entry of a session is about; empty: none."""
    ordinal = getattr(entry.event, "impression", None)
    session = told_of(entry.stream).partition("/")[2]
    return sheet_id(session, ordinal) if isinstance(ordinal, int) else ""
