"""Writing safely: whole or not at all, never over a file by accident, never through a link."""

from __future__ import annotations

import os
import re
import secrets
import stat
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from benchapp.files.problems import AlreadyThere, FileProblem, shown_path, system_problem

#: What a file will hold: all of it, or its parts as they come.
Data = str | bytes | Iterable[str]
#: A studio's book is nobody else's to read.
_FOLDER_MODE: Final = 0o700
_FILE_MODE: Final = 0o600
_NEW: Final = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0)
#: What the copy of the text before is called, behind the file's own name.
_BEFORE: Final = ".before"
#: What a file is called until it is whole.
_PART: Final = re.compile(r"\.[0-9a-f]{16}\.part")
#: So much older than a file written now is one that nobody writes any more, in seconds.
_OLD_S: Final = 24 * 60 * 60


def make_folder(folder: Path) -> Path:
    """Make `folder` and what is missing above it, for its owner alone; gives it back.

    Raises:
        FileProblem: A file stands in the way, or the system refuses.
    """
    missing = [folder, *folder.parents]
    try:
        for one in reversed([f for f in missing if not f.is_dir()]):
            with suppress(FileExistsError):
                one.mkdir(mode=_FOLDER_MODE)
    except (OSError, ValueError) as error:
        raise system_problem(folder, "cannot be made", error) from None
    if not folder.is_dir():
        raise FileProblem(f"{shown_path(folder)}: a file is where a folder belongs; move it")
    return folder


def write_new(path: Path, data: Data) -> None:
    """Write a file that must not be there yet; whole, on disk, or not at all.

    Raises:
        AlreadyThere: Something of that name is there (a link, too); it is untouched.
        FileProblem: The system refuses.
    """
    make_folder(path.parent)
    with _refusals(path), _temporary(path, data, _FILE_MODE) as ready:
        _publish(ready, path)
    _settle(path.parent)


def write_over(path: Path, data: Data, *, keep_old: bool = False) -> None:
    """Write a file, in place of one of that name if there is one; whole or not at all.

    Args:
        path: The file; never a link, so that no file elsewhere is changed.
        data: All it will hold.
        keep_old: Keep the text before as `NAME.before`.

    Raises:
        FileProblem: It is a link or no regular file, or the system refuses.
    """
    make_folder(path.parent)
    with _refusals(path):
        mode = _mode_of(path)
        if mode is not None and keep_old:
            write_over(path.with_name(path.name + _BEFORE), path.read_bytes())
        with _temporary(path, data, mode or _FILE_MODE) as ready:
            ready.replace(path)
    _settle(path.parent)


def _mode_of(path: Path) -> int | None:
    """The permissions of the file that is there; None if there is none."""
    try:
        found = path.lstat()
    except FileNotFoundError:
        return None
    if stat.S_ISLNK(found.st_mode):
        raise FileProblem(f"{shown_path(path)}: is a link; name the file it points to")
    if not stat.S_ISREG(found.st_mode):
        raise FileProblem(f"{shown_path(path)}: is not a regular file; choose another name")
    return stat.S_IMODE(found.st_mode)


@contextmanager
def _refusals(path: Path) -> Iterator[None]:
    """Turn what the system says into our own problems."""
    try:
        yield
    except FileExistsError:
        raise AlreadyThere(
            f"{shown_path(path)}: is there already; choose another name"
        ) from None
    except (OSError, ValueError) as error:
        raise system_problem(path, "cannot be written", error) from None


@contextmanager
def _temporary(path: Path, data: Data, mode: int) -> Iterator[Path]:
    """A file beside `path` that holds all of `data`, on disk; gone again at the end.

    What writing left there where it was cut off long ago goes too.
    """
    ready = path.with_name(f".{secrets.token_hex(8)}.part")
    try:
        _fill(ready, data, mode)
        _sweep(ready)
        yield ready
    finally:
        with suppress(FileNotFoundError):
            ready.unlink()


def remove_parts(folders: Iterable[Path]) -> None:
    """Remove what writing left in these folders where it was cut off; nobody may write there."""
    for folder in folders:
        with suppress(OSError):
            for path in [x for x in folder.iterdir() if _PART.fullmatch(x.name)]:
                path.unlink(missing_ok=True)


def _sweep(ready: Path) -> None:
    """Remove old parts beside one just written: our own name, regular, ours, a day older.

    The disk's own times are compared: a clock that was set in between lets one lie longer.
    """
    with suppress(OSError):
        now = ready.lstat()
        for path in [x for x in ready.parent.iterdir() if _PART.fullmatch(x.name)]:
            found = path.lstat()
            if (stat.S_ISREG(found.st_mode) and found.st_uid == now.st_uid
                    and now.st_mtime - found.st_mtime > _OLD_S):
                path.unlink()


def _fill(path: Path, data: Data, mode: int) -> None:
    """Write a new file and see it onto the disk."""
    parts = [data] if isinstance(data, (str, bytes)) else data
    with open(os.open(path, _NEW, _FILE_MODE), "wb") as file:  # noqa: PTH123 - mode and flags
        file.writelines(part.encode("utf-8") if isinstance(part, str) else part for part in parts)
        file.flush()
        os.fsync(file.fileno())
        if mode != _FILE_MODE and hasattr(os, "fchmod"):
            os.fchmod(file.fileno(), mode)


def _publish(ready: Path, path: Path) -> None:
    """Give a finished file its name, unless the name is taken."""
    try:
        path.hardlink_to(ready)
    except FileExistsError:
        raise
    except (OSError, NotImplementedError):
        # No hard links here (memory sticks): the name is claimed first, then filled.
        os.close(os.open(path, _NEW, _FILE_MODE))
        ready.replace(path)


def _settle(folder: Path) -> None:
    """See the folder onto the disk too, where folders can be opened: names live in it."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
