"""Damage of every file a book is kept in: found, or proven harmless; never written on.

The book itself, its log, a backup and a text mirror, with bits turned over, pages of zeros, the
end cut off and pages that changed places.
"""

from __future__ import annotations

import random
import shutil
from collections import Counter
from pathlib import Path
from typing import Final

import pytest

from benchapp.book import Book, BookError
from benchapp.book.restore import prepare_restore
from benchapp.copies.mirrors import mirror_files, write_mirrors
from benchapp.copies.rebuild import NoMirror, rebuild_from_mirror
from tests.book.damaged import PAGE, WAYS, damage
from tests.book.samples import moment, note
from tests.book.test_damage import said, tried
from tests.faults.warm import Warm

#: So many damaged files of each; and every time.
BOOKS: Final = 1_200
OTHERS: Final = 200
FEW: Final = 3


@pytest.fixture(scope="module")
def sound(warm: Warm, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of two days printed by lines, and many notes, at rest."""
    folder = tmp_path_factory.mktemp("sound")
    for _ in range(2):
        ended = warm.call(folder, "run", "three-steps", "--plain", "--wanted", "2",
                          said="\n" * 200)
        assert ended.code == 0, ended
    path = folder / "studio.book"
    with Book.open(path, write=True, state=folder, now=moment()) as book:
        for n in range(150):
            book.append([note(f"{n} " * 30)], moment(n), "note")
    return path


def damaged_log(sound: Path, folder: Path, seed: int) -> str:
    """A program was cut off; the log beside its book is damaged: nothing but its end is missing."""
    folder.mkdir()
    path = Path(shutil.copy(sound, folder / "studio.book"))
    left = folder / "left" / "studio.book"
    left.parent.mkdir()
    with Book.open(path, write=True, state=folder, temp=folder, now=None) as book:
        for n in range(40):
            book.append([note(f"in the log {n} " * 20)], moment(10_000 + n), "note")
        truth = book.entries()
        for name in ("studio.book", "studio.book-wal"):
            shutil.copy(folder / name, left.parent / name)
    log = left.with_name("studio.book-wal")
    with Book.reading(Path(shutil.copytree(left.parent, folder / "whole")) / left.name) as book:
        assert book.entries() == truth
    damage(log, seed)
    before = log.read_bytes(), left.read_bytes()
    try:
        with Book.reading(left) as book:
            found, wrong = book.entries(), book.verify()
    except BookError as error:
        found, wrong = (), [str(error)]
    assert (log.read_bytes(), left.read_bytes()) == before
    if wrong:
        return "found"
    assert found == truth[:len(found)]
    return "harmless" if len(found) == len(truth) else "as it was before"


def damaged_backup(sound: Path, folder: Path, seed: int) -> str:
    """A damaged backup is never put in the place of a book; what is put there says the same."""
    folder.mkdir()
    path = Path(shutil.copy(sound, folder / "studio.book"))
    backup = Path(shutil.copy(sound, folder / "backup.book"))
    data, kept = damage(backup, seed), path.read_bytes()
    with Book.reading(sound) as book:
        truth = said(book)
    try:
        with prepare_restore(path, backup, state=folder, temp=folder) as made:
            made.put_into(folder / "new.book")
    except BookError:
        assert not (folder / "new.book").exists()
        outcome = "found"
    else:
        with Book.reading(folder / "new.book") as book:
            assert said(book) == truth
        outcome = "harmless"
    assert (backup.read_bytes(), path.read_bytes()) == (data, kept)
    return outcome


def damaged_mirror(sound: Path, folder: Path, seed: int) -> str:
    """Of a mirror with a damaged file every other stream comes back, and what was left is named."""
    folder.mkdir()
    with Book.reading(sound) as book:
        truth = said(book)["streams"]
        write_mirrors(book, folder / "mirror")
    files = mirror_files(folder / "mirror")
    dice = random.Random(seed)
    hit = dice.choice(files)
    data = bytearray(hit.read_bytes())
    way = WAYS[seed % len(WAYS)] if len(data) >= 2 * PAGE else WAYS[seed % 2 * 2]
    way(data, dice)
    hit.write_bytes(data)
    try:
        told = rebuild_from_mirror(folder / "mirror", folder / "new.book")
    except NoMirror:
        return "found"
    assert hit.read_bytes() == bytes(data)
    with Book.reading(folder / "new.book") as book:
        found = said(book)["streams"]
        assert book.verify() == []
    short = [x for x in truth if found.get(x) != truth[x]]
    assert all(found.get(x, ()) == truth[x][:len(found.get(x, ()))] for x in truth)
    assert found.keys() <= truth.keys()
    assert len(short) <= 1
    if short:
        assert told.left_out or not told.whole
        return "found"
    return "harmless"


OTHER_FILES: Final = (damaged_log, damaged_backup, damaged_mirror)


def tried_others(trial, sound: Path, folder: Path, seeds: range) -> Counter[str]:  # type: ignore[no-untyped-def]
    """So many trials of one kind; what became of them."""
    found: Counter[str] = Counter()
    for seed in seeds:
        try:
            found[trial(sound, folder / str(seed), seed)] += 1
        except Exception as error:
            error.add_note(f"seed {seed}")
            raise
        shutil.rmtree(folder / str(seed))
    assert found.total() == len(seeds)
    return found


@pytest.mark.parametrize("trial", OTHER_FILES, ids=lambda t: t.__name__)
def test_a_damaged_log_backup_or_mirror_is_found(trial, sound: Path, tmp_path: Path) -> None:
    """Some of each, every time."""
    assert tried_others(trial, sound, tmp_path, range(FEW))


@pytest.mark.full
@pytest.mark.parametrize("trial", OTHER_FILES, ids=lambda t: t.__name__)
def test_many_damaged_logs_backups_and_mirrors(trial, sound: Path, tmp_path: Path) -> None:
    """All of them."""
    found = tried_others(trial, sound, tmp_path, range(OTHERS))
    print(f"\n{trial.__name__}: {dict(found)}")
    assert found["found"] + found["as it was before"] > found["harmless"]


@pytest.mark.full
def test_damage_is_found_or_does_no_harm_in_many_books(sound: Path, tmp_path: Path) -> None:
    """Of the books themselves: found at the start or beside the work, or it says all the same."""
    found = tried(sound, tmp_path, range(1_000, 1_000 + BOOKS))
    print(f"\ndamaged files: {dict(found)}")
    assert found.total() == BOOKS
    assert found["harmless"] < BOOKS // 3
