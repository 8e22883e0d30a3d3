"""What must be true of a home after any fault: every file whole, every book sound, nothing lost."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path

from benchapp.book import Book, NoBook
from benchapp.book.copies import open_copy
from benchapp.book.verify import find_problems
from benchapp.copies.mirrors import write_mirrors

#: What may be left of what was cut off; none of it has the name of a file that is used.
_LEFT = re.compile(r"\.[0-9a-f]{16}\.part.*|.+\.part(-journal|-wal|-shm)?")
#: What the interpreter leaves where it tries a temporary folder, and the disk refuses.
_TRIED = re.compile(r"[a-z0-9_]{8}")
#: What is temporary, where the disk lets nothing be removed.
_SOUNDS = re.compile(r"(confirm|end|caution)(-soft)?\.wav")
_SPILLED = re.compile(r"benchapp-spill-.+\.jsonl")
_BOOK = re.compile(r".+\.book(-restoring|-before-[0-9-]+~?)?")
#: Words of an interpreter, which no printer should meet; and the outermost edge's for a mistake.
_RAW = re.compile(r"Traceback|Errno|\w(Error|Exception)\b|\b0x[0-9a-f]+|<[\w.]+ object"
                  r"|Something in the program")
_SIDE = re.compile(r".+-(wal|shm|journal|lock|reserve)~?")


@dataclass(frozen=True, slots=True)
class Home:
    """What a home holds.

    Attributes:
        books: The entries of each book in it, by its place: id to digest.
        texts: Every other file, by its place.
    """

    books: Mapping[str, Mapping[str, str]]
    texts: Mapping[str, bytes]

    @property
    def entries(self) -> dict[str, str]:
        """The entries of all its books together."""
        return {at: sha for book in self.books.values() for at, sha in book.items()}


def look(home: Path) -> Home:
    """Look at a home; every book in it must be sound, no file of an unknown kind may be there."""
    books: dict[str, dict[str, str]] = {}
    texts: dict[str, bytes] = {}
    for path in sorted(x for x in home.rglob("*") if x.is_file()):
        at = str(path.relative_to(home))
        if any(kind.fullmatch(path.name) for kind in (_LEFT, _SIDE, _TRIED, _SOUNDS, _SPILLED)):
            continue
        if _BOOK.fullmatch(path.name):
            with suppress(NoBook):  # one whose making was cut off
                books[at] = _sound(path)
        else:
            texts[at] = path.read_bytes()
    if books:
        with Book.reading(home / "studio.book") as book:
            assert book.verify() == []
    return Home(books, texts)


def _sound(path: Path) -> dict[str, str]:
    """The entries of the book in this very file: one that waits may be read in its place."""
    with closing(open_copy(path)) as connection:
        assert find_problems(connection) == [], path
        return dict(connection.execute("SELECT id, sha256 FROM entries"))


def hold_whole(now: Home, *allowed: Home) -> None:
    """Assert that every text of `now` is, to the byte, one that an allowed home has there.

    A mirror is another matter: each file's lines are whole, and no line is in no book.
    """
    for at, data in now.texts.items():
        if at.startswith("mirrors/"):
            _hold_mirror(at, data, now.entries)
        else:
            assert data in [home.texts[at] for home in allowed if at in home.texts], at


def _hold_mirror(at: str, data: bytes, known: Mapping[str, str]) -> None:
    assert data.endswith(b"\n"), at
    lines = [json.loads(line) for line in data.splitlines()]
    if at.endswith(".jsonl"):
        assert [x["position"] for x in lines] == list(range(1, len(lines) + 1)), at
        assert {x["id"]: x["sha256"] for x in lines}.items() <= known.items(), at


def hold_nothing_lost(now: Home, before: Home, books: Iterable[str] = ("studio.book",)) -> None:
    """Assert that the books named hold every entry they held, and all books together do too."""
    for at in books:
        assert before.books.get(at, {}).items() <= now.books.get(at, {}).items(), at
    assert before.entries.items() <= now.entries.items()


def hold_plain(text: str) -> None:
    """Assert that a text ends with a plain sentence, or the command to give, and nothing is raw.

    Entries that are on no disk are given out in it as JSON.
    """
    lines = [line for line in text.splitlines() if not line.startswith("{")]
    assert not any(map(_RAW.search, lines)), text
    assert lines, "something is said"
    assert re.fullmatch(r".*(\.|benchapp [\w /.-]+)", lines[-1]), text


def hold_mirrored(home: Path) -> None:
    """Assert that the next pass has the mirror say all that the book says."""
    path = home / "studio.book"
    with Book.reading(path) as book:
        assert write_mirrors(book, home / "mirrors" / path.name)
        known = {entry.id: entry.sha256 for entry in book.entries()}
    found = {x["id"]: x["sha256"] for file in (home / "mirrors").glob("*/*/*.jsonl")
             for x in map(json.loads, file.read_bytes().splitlines())}
    assert known.items() <= found.items()
