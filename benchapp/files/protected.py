"""Files of the studio that nothing that leaves it may be written over."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

from benchapp.files.places import (
    backups_folder,
    mirrors_folder,
    own_recipes,
    photos_folder,
    preferences_file,
    shipped_recipes,
    state_folder,
)

#: What the book keeps beside itself; `-journal`, `-wal` and `-shm` are SQLite's.
_BESIDE: Final = ("", "-journal", "-wal", "-shm", "-lock", "-reserve", "-restoring")
#: How every SQLite file begins (sqlite.org, "Database File Format", 1.3).
_DATABASE: Final = b"SQLite format 3\0"


def what_is_kept(path: Path, book: Path) -> str | None:
    """What the file at `path` is to the studio, if nothing else may be written there.

    The book itself is never opened to find out: closing it again would drop the locks
    that keep a second writer out.

    Args:
        path: Where something is to be written; need not be there.
        book: The book in use; need not be there.

    Returns:
        A few words such as `the book`, or None where anything may be written.
    """
    whole = _real(path)
    own = _real(book)
    if any(_same(whole, own.with_name(own.name + end)) for end in _BESIDE):
        return "the book, or belongs to it"
    if any(_is_database(_without(whole, end)) for end in _BESIDE[1:] if whole.name.endswith(end)):
        return "a name that another book needs"
    if _same(whole, _real(preferences_file())):
        return "your preferences"
    if any(_same(whole, _real(recipe)) for recipe in own_recipes().values()):
        return "one of your recipes"
    if any(_same(whole, _real(recipe)) for recipe in shipped_recipes().values()):
        return "one of the shipped recipes"
    if whole.is_relative_to(_real(state_folder())):
        return "what benchapp remembers for itself"
    if whole.is_relative_to(_real(backups_folder(own))):
        return "in the folder of the backups"
    if whole.is_relative_to(_real(mirrors_folder(own))):
        return "in the text mirror of the book"
    if whole.is_relative_to(_real(photos_folder(own))):
        return "in the folder of the pictures"
    return "a book or a copy of one" if _is_database(whole) else None


def _without(path: Path, end: str) -> Path:
    """The book beside which `path` would lie."""
    return path.with_name(path.name.removesuffix(end) or path.name)


def _real(path: Path) -> Path:
    return Path(os.path.realpath(path.expanduser()))


def _same(one: Path, other: Path) -> bool:
    """Whether two names mean one file; also through hard links and in folders that ignore case."""
    if one == other:
        return True
    try:
        return one.samefile(other)
    except OSError:
        return False


def _is_database(path: Path) -> bool:
    try:
        if not path.is_file():
            return False
        with path.open("rb") as file:
            return file.read(len(_DATABASE)) == _DATABASE
    except OSError:
        return False
