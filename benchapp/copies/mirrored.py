"""What text mirrors tell of entries, also of those no book has any more.

Read leniently: a line that is no entry hides no other, and a stream needs not be whole. Whoever
gives out ids, names and marks must know of all that were given.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path

from benchapp import files
from benchapp.copies.mirrors import files_aside, mirror_files
from benchapp.events.entry import Entry
from benchapp.reports import jsonl


def mirrored_near(books: Iterable[Path]) -> dict[Path, Iterator[Entry]]:
    """The entries in all text mirrors beside these books, whichever book each mirrors.

    Returns:
        The entries of each folder that `rebuild` can read, and of each file that was put aside
        in one; they are read when they are asked for.
    """
    found = {}
    for place in sorted({files.mirrors_folder(book).parent for book in books}):
        with suppress(OSError):
            for folder in sorted(x for x in place.iterdir() if x.is_dir() and not x.is_symlink()):
                found[folder] = read_leniently(mirror_files(folder))
                found.update((x, read_leniently([x])) for x in files_aside(folder))
    return found


def read_leniently(paths: Iterable[Path]) -> Iterator[Entry]:
    """Every line of these files that is an entry."""
    for path in paths:
        with suppress(OSError), path.open("rb") as raw:
            while line := raw.readline(jsonl.LONGEST + 1):
                with suppress(ValueError):
                    yield from jsonl.read_lines([line])
