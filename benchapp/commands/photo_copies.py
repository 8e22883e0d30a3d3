"""The pictures beside a book: checked with it, and taken along with its backup or export."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

from benchapp import files
from benchapp.book import Book
from benchapp.clock import SystemClock
from benchapp.commands.context import Refused, say, warn
from benchapp.commands.picturing import subject_words
from benchapp.edition.pictures import TiedPicture
from benchapp.events.edition import PictureTied
from benchapp.pictures import file_ending
from benchapp.quantities import items_text
from benchapp.service.editions import EditionService
from benchapp.service.page_photos import cleaned_files
from benchapp.service.pictures import all_pictures, kept_path


def photo_problems(book: Book, path: Path, *, full: bool) -> list[str]:
    """The pictures that are tied to something and missing, a sentence each.

    Args:
        book: Open.
        path: Where it is.
        full: Also those whose file is another by now.
    """
    folder = files.photos_folder(path)
    return [f"{x.name} of {words} {why}" for words, x in _tied(book)
            if (why := _fault(kept_path(folder, x), x, full=full))]


def _tied(book: Book) -> list[tuple[str, TiedPicture]]:
    """Every tied picture with what it shows; editions are only read where there are any."""
    if not any(isinstance(e.event, PictureTied) for e in book.entries(
            streams=book.streams("print"))):
        return []
    editions = EditionService(book, SystemClock())
    return [(subject_words(editions.register, print_, x.about), x)
            for print_, x in all_pictures(editions)]


def _fault(path: Path, x: TiedPicture, *, full: bool) -> str:
    if not path.is_file():
        return f"is missing: {path}"
    if full and files.read_picture(path).sha256 != x.picture:
        return f"is not as it was kept: {path}"
    return ""


def back_up_photos(book: Book, path: Path, to: Path) -> None:
    """Copy the pictures of a book into a folder beside its backup, and say which are missing."""
    kept, folder = files.photos_folder(path), _beside(to)
    copied = 0
    for words, x in {x.picture: (words, x) for words, x in _tied(book)}.values():
        try:
            files.keep_picture(folder, files.read_picture(kept_path(kept, x)),
                               file_ending(x.file_type))
        except files.FileProblem as problem:
            warn(f"Not in the backup: {x.name} of {words}. {problem}")
        else:
            copied += 1
    say(f"Its pictures: {folder} ({copied})" if copied else "It has no pictures to back up.")


def restore_photos(backup: Path, path: Path) -> None:
    """Bring the pictures beside a backup back to the book at `path`; those there stay."""
    folder = _beside(backup)
    if not folder.is_dir() or folder.is_symlink():
        return
    brought = 0
    for file in files.list_files(folder):
        try:
            read = files.read_picture(file)
            if file.stem != read.sha256:
                warn(f"Left out: {file} is not as it was backed up.")
                continue
            files.keep_picture(files.photos_folder(path), read, file.suffix)
            brought += 1
        except files.FileProblem as problem:
            warn(f"Left out: {problem}")
    if brought:
        say(f"{items_text(brought, 'picture')} restored from {folder}")


def export_photos(book: Book, path: Path, to: Path, sessions: Collection[str] | None) -> None:
    """Write the pictures cleaned into a folder beside an export, and say which stay at home.

    Args:
        book: Open.
        path: Where it is.
        to: The export.
        sessions: Only of these days and their sheets; None: all.
    """
    written = 0
    wanted = [x for _, x in _tied(book) if sessions is None or x.about.day in sessions or (
        x.about.sheet or "").partition("#")[0] in sessions]
    for name, data in cleaned_files(files.photos_folder(path), wanted):
        if isinstance(data, str):
            warn(f"Stays at home: {name}: {data}")
        else:
            files.write_new(files.make_folder(_beside(to)) / name, data)
            written += 1
    say(f"Pictures, without places: {_beside(to)} ({written})" if written else
        "No picture to write.")


def refuse_folder(to: Path) -> None:
    """Go on only where the folder for pictures is free.

    Raises:
        Refused: Something of that name is there.
    """
    folder = _beside(to)
    if folder.exists() or folder.is_symlink():
        raise Refused(f"{folder} is there already, so nothing was written. Choose another name.")


def _beside(file: Path) -> Path:
    """The folder of pictures beside a file: its name begins with the name of the file."""
    return file.with_name(f"{file.name}-pictures")
