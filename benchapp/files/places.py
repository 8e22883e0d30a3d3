"""The only module that knows folders: the studio's home and the shipped recipes."""

from __future__ import annotations

import difflib
import os
from pathlib import Path
from typing import Final

from benchapp.files.problems import FileProblem, UnknownRecipe, system_problem, system_said
from benchapp.safe_text import sanitize

_HERE: Final = Path(__file__).resolve().parents[1]
_ENDINGS: Final = (".yaml", ".yml")


def home_folder() -> Path:
    """The folder that holds book, recipes, preferences and state; it may not be there yet.

    `BENCHAPP_HOME` names it; else it is the system's own folder for user data.
    """
    named = os.environ.get("BENCHAPP_HOME")
    if named:
        return Path(os.path.abspath(os.path.expanduser(named)))  # noqa: PTH100, PTH111 - no links followed
    import platformdirs  # costs 22 ms, and only this line needs it

    return Path(platformdirs.user_data_dir("benchapp", appauthor=False))


def book_file() -> Path:
    """The studio's book."""
    return home_folder() / "studio.book"


def recipes_folder() -> Path:
    """The printer's own recipes."""
    return home_folder() / "recipes"


def preferences_file() -> Path:
    """The printer's preferences."""
    return home_folder() / "preferences.yaml"


def papers_folder(chosen: str | None = None) -> Path:
    """Where pages and calendars go, to be found and taken elsewhere.

    With `BENCHAPP_HOME` set (the demo sets it) they stay in that home. Else it is the folder
    chosen, else `benchapp` in the system's folder of documents, else a folder in the user's own.

    Args:
        chosen: The folder of the preferences; `~` is the user's own.
    """
    if os.environ.get("BENCHAPP_HOME"):
        return home_folder() / "papers"
    if chosen:
        return Path(chosen).expanduser()
    import platformdirs  # as above

    documents = Path(platformdirs.user_documents_dir())
    # A system without such a folder may name the user's own instead.
    if documents.is_dir() and documents != Path.home():
        return documents / "benchapp"
    return Path.home() / "benchapp-papers"


def state_folder() -> Path:
    """What the program remembers for itself; may be thrown away."""
    return home_folder() / "state"


def backups_folder(book: Path) -> Path:
    """Where copies of the book at `book` are kept that the program makes by itself."""
    return book.with_name("backups")


def mirrors_folder(book: Path) -> Path:
    """Where the text mirror of the book at `book` is."""
    return book.with_name("mirrors") / book.name


def photos_folder(book: Path) -> Path:
    """Where the pictures are that are tied to something in the book at `book`."""
    return book.with_name("photos")


def why_not_there(path: Path) -> str:
    """Why nothing can be seen at `path`, in words for a list; empty where there is something."""
    try:
        os.stat(path)  # noqa: PTH116 - what the system says of it
    except FileNotFoundError:
        return "not made yet"
    except NotADirectoryError:
        return "a file is where a folder belongs"
    except (OSError, ValueError) as error:
        return f"cannot be looked at: {system_said(error)}"
    return ""


def shipped_folder() -> Path:
    """The recipes that come with the program: inside it, or beside it where it is worked on."""
    inside = _HERE / "shipped_recipes"
    return inside if inside.is_dir() else _HERE.parent / "recipes"


def shipped_recipes() -> dict[str, Path]:
    """The shipped recipes by name, in the order of their names."""
    return _recipes_in(shipped_folder())


def own_recipes() -> dict[str, Path]:
    """The printer's own recipes by name, in the order of their names."""
    return _recipes_in(recipes_folder())


def _recipes_in(folder: Path) -> dict[str, Path]:
    try:
        found = sorted(p for p in folder.iterdir() if p.suffix == _ENDINGS[0] and p.is_file())
    except (FileNotFoundError, NotADirectoryError):
        return {}
    except OSError as error:
        raise system_problem(folder, "cannot be read", error) from None
    return {p.stem: p for p in found}


def find_recipe(name: str) -> Path:
    """The file of the recipe called `name`.

    With a slash or the ending `.yaml` it is a path as it stands. Else it is looked
    for among the printer's own recipes, then among the shipped ones.

    Raises:
        UnknownRecipe: None is called so; the nearest names are offered.
        FileProblem: A path that names no file, or a folder that cannot be read.
    """
    if _is_path(name):
        if not os.path.exists(name):  # noqa: PTH110 - says no, where Path.exists() raises
            raise FileProblem(f"{sanitize(name)}: no such file")
        return Path(name)
    known = {**shipped_recipes(), **own_recipes()}
    if name in known:
        return known[name]
    raise _unknown(name, list(known))


def _is_path(name: str) -> bool:
    return name.endswith(_ENDINGS) or any(s in name for s in {"/", os.sep, os.altsep or "/"})


def _unknown(name: str, known: list[str]) -> UnknownRecipe:
    small = {k.casefold(): k for k in known}
    near = difflib.get_close_matches(name.casefold()[:200], small, n=3, cutoff=0.5)
    nearest = tuple(small[n] for n in near)
    offer = f"did you mean {', '.join(nearest)}?" if nearest else f"there are {', '.join(known)}"
    if not known:
        offer = "make one with `benchapp new NAME`"
    return UnknownRecipe(f"no recipe is called {sanitize(name)}; {sanitize(offer)}", nearest)
