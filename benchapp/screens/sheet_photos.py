"""The pictures of the sheets of a session: how many, and opening them in the system's viewer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from benchapp.edition.pictures import PictureSubject, TiedPicture
from benchapp.files import photos_folder
from benchapp.quantities import items_text
from benchapp.safe_text import sanitize
from benchapp.screens.desk import Desk
from benchapp.service.pictures import kept_path
from benchapp.service.sessions import SessionService
from benchapp.session.edition_links import recipe_print_id, sheet_id
from benchapp.session.state import Session

#: One key opens so many at once.
_MOST: Final = 6

SheetPhotos = Mapping[int, tuple[TiedPicture, ...]]


def _folder(workshop: SessionService) -> Path | None:
    """The folder of pictures beside the book; None: there is none."""
    path = workshop.book.path
    folder = None if path is None else photos_folder(path)
    return folder if folder is not None and folder.is_dir() else None


def session_photos(workshop: SessionService, s: Session) -> SheetPhotos:
    """The pictures of each sheet, by its place in the session; empty where no book has any.

    Editions are only read where there is a folder of pictures: few books have one.
    """
    if _folder(workshop) is None:
        return {}
    register = workshop.editions.register
    e = register.edition(recipe_print_id(s.recipe))
    found = {i.ordinal: e.pictures_of(PictureSubject(sheet=sheet_id(s.id, i.ordinal)))
             for i in s.impressions}
    return {k: v for k, v in found.items() if v}


def photos_words(pictures: Sequence[TiedPicture]) -> str:
    """How many a sheet has: `2 pictures`; empty: none."""
    return items_text(len(pictures), "picture") if pictures else ""


def open_photos(desk: Desk, mark: str, pictures: Sequence[TiedPicture]) -> None:
    """Open the pictures of a sheet, and say which cannot be."""
    folder = _folder(desk.workshop)
    if folder is None or not pictures:
        desk.say(sanitize(f"{mark} has no pictures. Tie some with: benchapp photo {mark} FILE"))
        return
    there = [path for x in pictures if (path := kept_path(folder, x)).is_file()]
    missing = len(pictures) - len(there)
    said = [f"{items_text(missing, 'file')} missing in {folder}"] if missing else []
    if there and not desk.open_file(there[0]):
        said.append(f"There is no viewer here. The pictures are in {folder}")
    else:
        for path in there[1:_MOST]:
            desk.open_file(path)
        if len(there) > _MOST:
            said.append(f"{_MOST} of {len(there)} opened. All are in {folder}")
    if said:
        desk.say(sanitize("; ".join(said)), severity="warning")
