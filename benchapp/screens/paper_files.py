"""What a screen writes to be taken elsewhere; never over another file without being told."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from benchapp.files import AlreadyThere, FileProblem, papers_folder, write_new, write_over
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.desk import Desk
from benchapp.screens.pick import Pick

if TYPE_CHECKING:
    from pathlib import Path



def write_paper(desk: Desk, name: str, text: str, about: str = "") -> None:
    """Write a file into the folder of papers, and say where it is.

    Args:
        desk: The app.
        name: What the file is called.
        text: All of it.
        about: What to know before one that is there is written again.
    """
    path = papers_folder() / name
    try:
        write_new(path, text)
    except AlreadyThere:
        desk.push_screen(Pick(
            sanitize(f"{path.name} is there already"),
            (SafeText("write it again; the old one is kept beside it"),), sanitize(about),
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
