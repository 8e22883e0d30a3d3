"""The pictures beside the book: each a file under the SHA-256 of what is in it.

What comes in is copied; the file it came from is never changed. Nothing is read through a link.
"""

from __future__ import annotations

import hashlib
import os
import stat
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from benchapp.files.problems import AlreadyThere, FileProblem, shown_path, system_problem
from benchapp.files.writing import make_folder, write_new, write_over

#: No photograph of a sheet is larger.
MOST_PICTURE_BYTES: Final = 64 * 1024 * 1024
#: A folder with more files is not looked through.
MOST_FILES: Final = 2_000
_READ: Final = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOFOLLOW", 0) | getattr(
    os, "O_BINARY", 0)


@dataclass(frozen=True, slots=True)
class PictureFile:
    """A file as it was read.

    Attributes:
        name: What it is called, without its folder.
        data: Its bytes.
        sha256: Their digest.
        modified_s: When it was written last, in seconds since 1970 UTC.
    """

    name: str
    data: bytes
    sha256: str
    modified_s: int


def read_picture(path: Path) -> PictureFile:
    """A file of at most 64 MiB that may be a picture.

    Raises:
        FileProblem: It is not there, a link, no regular file, empty, too large or not readable.
    """
    try:
        _look(path, os.lstat(path))
        # Not through a link, and not blocking: it may have become one, or a pipe, meanwhile.
        with open(os.open(path, _READ), "rb") as file:  # noqa: PTH123
            found = os.fstat(file.fileno())
            _look(path, found)
            data = file.read(MOST_PICTURE_BYTES + 1)
    except FileNotFoundError:
        raise FileProblem(f"{shown_path(path)}: no such file") from None
    except (OSError, ValueError) as error:
        raise system_problem(path, "cannot be read", error) from None
    if len(data) > MOST_PICTURE_BYTES:
        raise _too_large(path)
    return PictureFile(path.name, data, hashlib.sha256(data).hexdigest(), int(found.st_mtime))


def _look(path: Path, found: os.stat_result) -> None:
    if stat.S_ISLNK(found.st_mode):
        raise FileProblem(f"{shown_path(path)}: is a link; name the file it points to")
    if stat.S_ISDIR(found.st_mode):
        raise FileProblem(f"{shown_path(path)}: is a folder; benchapp photos looks through one")
    if not stat.S_ISREG(found.st_mode):
        raise FileProblem(f"{shown_path(path)}: is not a regular file; name a picture")
    if found.st_size > MOST_PICTURE_BYTES:
        raise _too_large(path)


def _too_large(path: Path) -> FileProblem:
    return FileProblem(f"{shown_path(path)}: is larger than {MOST_PICTURE_BYTES // 1024 ** 2} MB; "
                       "save a smaller copy")


def list_files(folder: Path) -> tuple[Path, ...]:
    """The files in a folder by name, without those in folders inside it and hidden ones.

    Raises:
        FileProblem: It is no folder, cannot be read, or has more than 2,000 files.
    """
    try:
        found = sorted(x for x in folder.iterdir() if not x.name.startswith(".")
                       and not (x.is_dir() and not x.is_symlink()))
    except FileNotFoundError:
        raise FileProblem(f"{shown_path(folder)}: no such folder") from None
    except (OSError, ValueError) as error:
        raise system_problem(folder, "cannot be read", error) from None
    if len(found) > MOST_FILES:
        raise FileProblem(f"{shown_path(folder)}: has {len(found)} files, and {MOST_FILES} is the "
                          "most; copy those of one day into a folder of their own")
    return tuple(found)


def picture_path(folder: Path, sha256: str, ending: str) -> Path:
    """Where the picture of that digest is kept."""
    return folder / f"{sha256}{ending}"


def keep_picture(folder: Path, picture: PictureFile, ending: str) -> Path:
    """Copy a picture into the folder beside the book, unless it is there already.

    A copy that is not as its name has it is mended.

    Raises:
        FileProblem: The folder is a link, or the system refuses.
    """
    if folder.is_symlink():
        raise FileProblem(f"{shown_path(folder)}: is a link; pictures are kept in a folder of the "
                          "book's own. Put a folder there")
    make_folder(folder)
    path = picture_path(folder, picture.sha256, ending)
    try:
        write_new(path, picture.data)
    except AlreadyThere:
        if read_picture(path).sha256 != picture.sha256:
            write_over(path, picture.data)
    return path
