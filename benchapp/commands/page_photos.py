"""The pictures of a page that a command writes: found, cleaned, and written beside it if many."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

from benchapp import files
from benchapp.commands.context import Arguments, Refused, say, warn
from benchapp.commands.exports import write_out
from benchapp.commands.picturing import photos_of
from benchapp.commands.pipes import is_stream
from benchapp.edition.numbers import sheet_words
from benchapp.edition.pictures import PictureSubject, TiedPicture
from benchapp.edition.state import Register
from benchapp.reports.blocks import Photo
from benchapp.reports.plate_life_blocks import PlatePhotos
from benchapp.service.editions import EditionService
from benchapp.service.page_photos import MOST_IN_PAGE, PagePhotos, photo_files, photos_for_page

#: What makes photos of tied pictures, their caption beside each.
MakePhotos = Callable[[Iterable[tuple[TiedPicture, str]]], tuple[Photo, ...]]


def write_page(arguments: Arguments, wanted: Iterable[TiedPicture],
               page: Callable[[MakePhotos], str], *, small: bool = False) -> None:
    """Write a page with its pictures; those of more than 20 MB into a folder beside it.

    Args:
        arguments: Name the page, the book, and say `force`.
        wanted: All pictures it may show.
        page: Makes the page.
        small: It is a contact sheet.

    Raises:
        Refused: Something of that name is there.
    """
    pictures = list(wanted)
    path = Path(arguments.html).expanduser()
    # Beside a pipe there is no folder: all pictures are in the page.
    most = sys.maxsize if is_stream(arguments.html) else MOST_IN_PAGE
    found = photos_for_page(photos_of(arguments), pictures, path.name, small=small, most=most)
    beside = None if found.folder is None else path.with_name(found.folder)
    if beside is not None and (beside.exists() or beside.is_symlink()) and not arguments.force:
        raise Refused(f"{beside} is there already; choose another name for the page, or write "
                      "over it with --force")
    write_out(arguments.html, page(lambda these: _photos(found, these)), arguments)
    if beside is not None:
        for name, data in photo_files(photos_of(arguments), pictures, found, small=small):
            files.write_over(files.make_folder(beside) / name, data)
        say(f"The pictures are in {beside}. Keep it beside the page.")
    warn(*(f"Not on the page: {x}" for x in found.notes))


def _photos(found: PagePhotos, these: Iterable[tuple[TiedPicture, str]]) -> tuple[Photo, ...]:
    return tuple(Photo(found.sources[x.picture], words) for x, words in these
                 if x.picture in found.sources)


def photo_caption(what: str, x: TiedPicture) -> str:
    """What it shows and when it was taken; never the name of its file."""
    return ", ".join(filter(None, (what, x.taken_words if x.taken_by == "camera" else "")))


def sheet_pictures(register: Register, print_: str, sheet: str) -> list[tuple[TiedPicture, str]]:
    """The pictures of a sheet, with their captions."""
    known = register.edition(print_).holdings.get(sheet) or register.sheets.get(sheet)
    name = sheet if known is None else sheet_words(known)
    return [(x, photo_caption(name, x))
            for x in register.edition(print_).pictures_of(PictureSubject(sheet=sheet))]


def day_pictures(editions: EditionService, session: str
                 ) -> Mapping[str, list[tuple[TiedPicture, str]]]:
    """The pictures of a day by the ids of its sheets; its own by the name of the session."""
    day = next((d for d in editions.days if d.row.id == session), None)
    if day is None:
        return {}
    register = editions.register
    found = {s.id: sheet_pictures(register, day.print, s.id) for s in day.sheets}
    found[day.row.name] = [(x, photo_caption(day.row.name, x)) for x in register.edition(
        day.print).pictures_of(PictureSubject(day=session))]
    return {k: v for k, v in found.items() if v}


def plate_pictures(editions: EditionService, print_: str, plates: Sequence[str]
                   ) -> Mapping[str, tuple[list[tuple[TiedPicture, str]],
                                           list[tuple[TiedPicture, str]]]]:
    """Of each plate the pictures of its sheets in the order pulled, and of its states."""
    register = editions.register
    sheets = [s for d in editions.days_of(print_) for s in d.sheets]
    tied = register.edition(print_).pictures
    return {plate: (
        [x for s in sheets if plate in s.plates
         for x in sheet_pictures(register, print_, s.id)],
        [(x, photo_caption(f"state {x.about.state}" if x.about.state else plate, x))
         for x in tied if x.about.plate == plate]) for plate in plates}


def plate_photos(make: MakePhotos,
                 found: Mapping[str, tuple[list[tuple[TiedPicture, str]],
                                           list[tuple[TiedPicture, str]]]]
                 ) -> dict[str, PlatePhotos]:
    """The same, made for a page."""
    return {k: PlatePhotos(make(sheets), make(states)) for k, (sheets, states) in found.items()}
