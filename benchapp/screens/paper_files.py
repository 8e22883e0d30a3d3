"""What a screen writes to be taken elsewhere; never over another file without being told.

A page opens in the system's viewer; over ssh or without one the message says where it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, Final

from benchapp.files import (
    AlreadyThere,
    FileProblem,
    papers_folder,
    read_bytes,
    write_new,
    write_over,
)
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.desk import Desk
from benchapp.screens.pick import Pick

if TYPE_CHECKING:
    from pathlib import Path


#: A page of one name is numbered so far.
_MOST_NAMES: Final = 1000


def write_page(desk: Desk, name: str, html: str) -> None:
    """Write a page into the folder of papers, open it, and say where it is.

    A page that is there as it would be written is only opened; beside another one of its name
    it gets a number.

    Args:
        desk: The app.
        name: What the file is called, without its ending.
        html: All of it.
    """
    try:
        path = _write_under_free_name(papers_folder(desk.settings.papers_folder), name, html)
    except FileProblem as error:
        desk.say(sanitize(str(error)), severity="warning")
        return
    opened = desk.open_file(path)
    desk.say(sanitize(f"Written and opened: {path}" if opened else
                      f"Written: {path}. There is no viewer here; open the file yourself."))


def _write_under_free_name(folder: Path, name: str, html: str) -> Path:
    """Write it under the first name that is free, or find it there already."""
    for path in _names(folder, name):
        try:
            write_new(path, html)
        except AlreadyThere:
            if not _holds(path, html):
                continue
        return path
    raise FileProblem(f"{folder}: no name is free for {name}; move some pages away")


def _names(folder: Path, name: str) -> Iterator[Path]:
    """`NAME.html`, then `NAME-2.html` and so on."""
    yield folder / f"{name}.html"
    yield from (folder / f"{name}-{n}.html" for n in range(2, _MOST_NAMES))


def _holds(path: Path, html: str) -> bool:
    """Whether that very page is there."""
    try:
        return path.is_file() and read_bytes(path) == html.encode()
    except FileProblem:  # too long to be one of ours, or not ours to read
        return False


def write_paper(desk: Desk, name: str, text: str, about: str = "") -> None:
    """Write a file into the folder of papers, and say where it is.

    Args:
        desk: The app.
        name: What the file is called.
        text: All of it.
        about: What to know before one that is there is written again.
    """
    path = papers_folder(desk.settings.papers_folder) / name
    try:
        write_new(path, text)
    except AlreadyThere:
        desk.push_screen(Pick(
            sanitize(f"{path.name} is there already"),
            (SafeText("write it again; the old one stays beside it"),), sanitize(about),
            later="leave it as it is"), partial(_write_again, desk, path, text))
    except FileProblem as error:
        desk.say(sanitize(str(error)), severity="warning")
    else:
        desk.say(sanitize(f"Written: {path}"))


def _write_again(desk: Desk, path: Path, text: str, answer: int | None) -> None:
    if answer != 0:
        return
    try:
        write_over(path, text, keep_old=True)
    except FileProblem as error:
        desk.say(sanitize(str(error)), severity="warning")
    else:
        desk.say(sanitize(f"Written: {path}"))
