"""Where files live, reading them with limits and writing them safely.

Looking makes nothing: a folder is made when something is first written into it.
It knows `safe_text` alone; settings, the book and everything above may come in.

Decisions, numbered as in DEVELOPERS.md:

9. **Wheel: `only-include` with `sources`.** The recipes stand at the top of the tree, where a
   printer finds them, and go into the package as `shipped_recipes`. `force-include` would ship
   ignored files too. An editable install finds them beside the package.
10. **Old text is kept on request and links are never followed when writing.** A new file is
    published by a hard link, which fails where a name is taken; a rename would not. Price: on a
    disk without hard links the name is claimed first, and a crash between leaves an empty file.
"""

from benchapp.files.disks import copied_folder, disk_warnings, file_system, is_elsewhere
from benchapp.files.names import file_slug, is_device
from benchapp.files.photos import (
    PictureFile,
    keep_picture,
    list_files,
    picture_path,
    read_picture,
)
from benchapp.files.places import (
    backups_folder,
    book_file,
    find_recipe,
    home_folder,
    mirrors_folder,
    own_recipes,
    papers_folder,
    photos_folder,
    preferences_file,
    recipes_folder,
    shipped_folder,
    shipped_recipes,
    state_folder,
    why_not_there,
)
from benchapp.files.planned import breaks_kept, guess_kept, keep_breaks, keep_guess
from benchapp.files.problems import (
    AlreadyThere,
    DiskProblem,
    FileProblem,
    UnknownRecipe,
    shown_path,
    system_problem,
    system_said,
)
from benchapp.files.protected import what_is_kept
from benchapp.files.reading import MOST_BYTES, read_bytes, read_text
from benchapp.files.told import is_first_time
from benchapp.files.viewer import open_in_viewer
from benchapp.files.writing import make_folder, remove_parts, write_new, write_over

__all__ = [
    "MOST_BYTES",
    "AlreadyThere",
    "DiskProblem",
    "FileProblem",
    "PictureFile",
    "UnknownRecipe",
    "backups_folder",
    "book_file",
    "breaks_kept",
    "copied_folder",
    "disk_warnings",
    "file_slug",
    "file_system",
    "find_recipe",
    "guess_kept",
    "home_folder",
    "is_device",
    "is_elsewhere",
    "is_first_time",
    "keep_breaks",
    "keep_guess",
    "keep_picture",
    "list_files",
    "make_folder",
    "mirrors_folder",
    "open_in_viewer",
    "own_recipes",
    "papers_folder",
    "photos_folder",
    "picture_path",
    "preferences_file",
    "read_bytes",
    "read_picture",
    "read_text",
    "recipes_folder",
    "remove_parts",
    "shipped_folder",
    "shipped_recipes",
    "shown_path",
    "state_folder",
    "system_problem",
    "system_said",
    "what_is_kept",
    "why_not_there",
    "write_new",
    "write_over",
]
