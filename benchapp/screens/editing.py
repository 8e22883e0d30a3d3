"""A recipe in the printer's own editor, from the Studio, and what is wrong with it afterwards."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

from textual.app import SuspendNotSupported

from benchapp import files
from benchapp.files.editor import find_editor
from benchapp.recipe.problems import RecipeError
from benchapp.recipe.reader import read_recipe
from benchapp.recipe.warnings import recipe_warnings
from benchapp.safe_text import SafeText, sanitize
from benchapp.screens.pick import Pick

if TYPE_CHECKING:
    from benchapp.screens.desk import Desk
    from benchapp.screens.page_base import FollowingPage
    from benchapp.screens.shelf import OnShelf
    from benchapp.views.studio import StudioView

#: So many problems are shown at once; `check` has all.
_MOST: Final = 4


def why_not_edit(screen: FollowingPage, view: StudioView) -> str:
    """Why no editor may be opened now, or empty: while it is open, nothing calls and no key works.

    Args:
        screen: The Studio.
        view: How things stand.
    """
    if any(not row.closed for row in screen.workshop.book.sessions()):
        return "A session is open. Close it first: while an editor is open, nothing calls."
    if view.timers:
        return "A clock is running. Stop it first: while an editor is open, nothing calls."
    if any(pack.where != "ready" for pack in view.in_water):
        return ("Paper is in the water or rests. Wait until it is ready: while an editor is open, "
                "nothing calls.")
    return ""


def edit_recipe(screen: FollowingPage, found: OnShelf) -> None:
    """Open a recipe of the printer's own; of a shipped one, offer to make it theirs first."""
    own = files.recipes_folder() / f"{found.name}.yaml"
    if found.own:
        _edit(screen, own)
        return

    def take(place: int | None) -> None:
        if place is None:
            return
        try:
            files.write_new(own, found.text)
        except files.FileProblem as error:
            screen.desk.say(sanitize(error.message), severity="warning")
            return
        _edit(screen, own)

    screen.app.push_screen(Pick(
        sanitize(f"{found.name} is shipped with benchapp"),
        (SafeText("copy it and edit the copy"),),
        sanitize("Your copy has the same title, so its days belong to the same print. For a print "
                 "of your own, press n in the Studio."), later="leave it"), take)


def _edit(screen: FollowingPage, path: Path) -> None:
    """Open the editor, and again as long as something is wrong and the printer wants to mend it."""
    wrong = open_editor(screen.desk, path)
    screen.again()
    if wrong:
        screen.desk.say(sanitize(wrong), severity="warning")
        return
    problems, said = check_file(path)
    if not problems:
        screen.desk.say(sanitize(said))
        return

    def take(place: int | None) -> None:
        if place is not None:
            _edit(screen, path)

    more = len(problems) - _MOST
    screen.app.push_screen(Pick(
        sanitize(said), (SafeText("mend it in the editor"),),
        SafeText("\n".join(map(sanitize, [
            *problems[:_MOST], *([f"and {more} more; k shows all"] if more > 0 else [])]))),
        later="leave it as it is"), take)


def open_editor(desk: Desk, path: Path) -> str:
    """Give the terminal to the editor until it is closed; says why it could not, or nothing."""
    try:
        command = find_editor(os.environ, sys.platform)
        with desk.suspend():
            subprocess.run([*command, str(path)], check=False)  # noqa: S603 - the printer's own
    except LookupError as error:
        return str(error)
    except SuspendNotSupported:
        return f"This terminal cannot be lent to an editor. Open {path} in yours."
    except OSError as error:
        return f"The editor did not open ({files.system_said(error)}). Open {path} in yours."
    return ""


def check_file(path: Path) -> tuple[tuple[str, ...], str]:
    """What is wrong with a recipe's file, a line each, and what to say of it as a whole."""
    try:
        recipe = read_recipe(files.read_bytes(path))
    except files.FileProblem as error:
        return (), error.message
    except RecipeError as error:
        known = tuple(f"Line {p.line}, column {p.column}: {p.wrong}; {p.mend}"
                      for p in error.problems)
        many = "1 thing" if len(known) == 1 else f"{len(known)} things"
        return known, f"{path.stem}: {many} to mend before it can be printed from"
    warnings = len(recipe_warnings(recipe))
    rest = "" if not warnings else ("; k shows 1 warning" if warnings == 1
                                    else f"; k shows {warnings} warnings")
    return (), f"{path.stem} can be printed from{rest}."
