"""Damage is found before a book is written in, and nothing is written in a damaged one."""

from __future__ import annotations

import shutil
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from benchapp.book import Book, BookDamaged, BookError
from benchapp.book.queries import session_tallies
from benchapp.events.entry import Moment
from tests.book.damaged import damage
from tests.book.samples import moment, note
from tests.commands.test_cli import Call, call, process

__all__ = ["call"]

_NEXT_DAY = 24 * 3600


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of two days printed by lines, and many notes, at rest."""
    folder = tmp_path_factory.mktemp("sound")
    for _ in range(2):
        process("run", "three-steps", "--plain", "--wanted", "2", stdin=b"\n" * 200,
                env={"BENCHAPP_HOME": str(folder)})
    path = folder / "studio.book"
    with Book.open(path, write=True, state=folder, now=moment()) as book:
        for n in range(150):
            book.append([note(f"{n} " * 30)], moment(n), "note")
    return path


def copied(sound: Path, folder: Path) -> Path:
    """The sound book, in a folder of its own."""
    folder.mkdir()
    return Path(shutil.copy(sound, folder / "studio.book"))


def opened(path: Path, now: Moment | None) -> Book:
    """The book to write in, its other places beside it."""
    return Book.open(path, write=True, state=path.parent, temp=path.parent, now=now)


def said(book: Book) -> dict[str, Any]:
    """All that a book says."""
    return {"entries": book.entries(), "sessions": book.all_sessions(),
            "tallies": session_tallies(book),
            "streams": {x: book.stream(x) for x in book.streams_from("")}}


def checked_beside(book: Book, now: Moment) -> None:
    """Have the check beside the work begun, and look after it until it has ended."""
    book.watch(later_s=0)
    book.look_after(now)
    check = book._check
    assert check is not None
    check._thread.join(30)
    book.look_after(now)


def trial(sound: Path, folder: Path, seed: int, truth: dict[str, Any]) -> str:
    """Damage a copy; gives by what it was found, and holds that it was not written in after."""
    path = copied(sound, folder)
    data = damage(path, seed)
    try:
        book = opened(path, moment(_NEXT_DAY))
    except BookError as error:
        why = str(error) if isinstance(error, BookDamaged) else "benchapp book restore"
    else:
        return _worked_in(book, path, seed, truth)
    assert path.read_bytes() == data, seed
    assert "benchapp book restore" in why, seed
    return "at the start"


def _worked_in(book: Book, path: Path, seed: int, truth: dict[str, Any]) -> str:
    """The check beside the work, and what is done after it."""
    checked_beside(book, moment(_NEXT_DAY))
    if not book.damaged:
        assert said(book) == truth, seed
        book.close()
        return "harmless"
    then = path.read_bytes()
    book.append([note("goes on")], moment(_NEXT_DAY + 1), "note")
    assert not book.heartbeat(moment(_NEXT_DAY + 100))
    with pytest.raises(BookDamaged, match="benchapp book restore"):
        book.close()
    assert path.read_bytes() == then, seed
    kept, = path.parent.glob("benchapp-spill-*")
    assert "goes on" in kept.read_text()
    with pytest.raises(BookDamaged):  # whatever the day: it was found damaged
        opened(path, None)
    assert path.read_bytes() == then, seed
    return "beside the work"


def tried(sound: Path, folder: Path, seeds: range) -> Counter[str]:
    """So many trials."""
    with Book.reading(sound) as book:
        truth = said(book)
    found: Counter[str] = Counter()
    for seed in seeds:
        found[trial(sound, folder / str(seed), seed, truth)] += 1
        shutil.rmtree(folder / str(seed))
    return found


def test_damage_is_found_or_does_no_harm(sound: Path, tmp_path: Path) -> None:
    """Of sixty damaged files each is found, or says what the sound one says."""
    found = tried(sound, tmp_path, range(60))
    assert set(found) == {"at the start", "beside the work", "harmless"}
    assert found["harmless"] < 20, found


def scribbled(path: Path) -> None:
    """Change one letter of one entry: a quick check does not see it."""
    data = path.read_bytes()
    assert data.count(b"29 29 29 30") == 0
    at = data.index(b"29 29 29 29") + 3
    path.write_bytes(data[:at] + b"30" + data[at + 2 :])


def zeroed(path: Path) -> bytes:
    """Make the page zeros that has this entry; a quick check sees it. What is in it then."""
    data = bytearray(path.read_bytes())
    at = data.index(b"29 29 29 29") // 4096 * 4096
    data[at : at + 4096] = bytes(4096)
    path.write_bytes(data)
    return bytes(data)


def test_when_a_book_is_checked_at_the_start(sound: Path, tmp_path: Path) -> None:
    """Once a day, and after a writer that was cut off; once damage was found, always in full."""
    path = copied(sound, tmp_path / "day")
    data = zeroed(path)
    opened(path, moment(60)).close()  # on the day it was checked, after a writer that ended well
    with pytest.raises(BookDamaged, match="is damaged"):
        opened(path, moment(_NEXT_DAY))

    path = copied(sound, tmp_path / "cut off")
    data = zeroed(path)
    lock = path.with_name(path.name + "-lock")
    lock.write_text("\nprocess 7 on anvil\n")
    for _ in range(2):
        with pytest.raises(BookDamaged, match="benchapp export --private --jsonl FILE"):
            opened(path, None)
        assert path.read_bytes() == data
    shutil.copy(sound, path)
    opened(path, None).close()
    assert lock.read_bytes() == b""

    path = copied(sound, tmp_path / "found")
    scribbled(path)
    opened(path, moment(_NEXT_DAY)).close()  # what is quick does not find it
    path.with_name(path.name + "-lock").write_text("\ndamaged; process 7 on anvil\n")
    with pytest.raises(BookDamaged, match="was changed since"):
        opened(path, None)


def test_a_check_beside_the_work_that_is_not_over_says_nothing(sound: Path, tmp_path: Path) -> None:
    """Whoever leaves first ends it; the next start begins it again."""
    path = copied(sound, tmp_path / "left")
    for _ in range(2):
        with opened(path, moment(_NEXT_DAY)) as book:
            book.watch()
            book.look_after(moment(_NEXT_DAY))
            assert book._check is not None
    with opened(path, moment(_NEXT_DAY)) as book:
        checked_beside(book, moment(_NEXT_DAY))
        book.look_after(moment(_NEXT_DAY + 60))
        assert book._check is None
    with opened(path, moment(_NEXT_DAY)) as book:
        book.watch()
        book.look_after(moment(_NEXT_DAY + 60))
        assert book._check is None
        book.look_after(moment(2 * _NEXT_DAY))
        assert book._check is not None


def test_an_emptied_book_is_not_begun_anew(sound: Path, tmp_path: Path) -> None:
    """A file of no bytes beside its reserve was a book: nobody is told that it has no session."""
    path = copied(sound, tmp_path / "emptied")
    opened(path, None).close()
    path.write_bytes(b"")
    for write in (False, True):
        with pytest.raises(BookDamaged, match="is empty, but it was a book before"):
            Book.open(path, write=write, create=write)
    assert path.read_bytes() == b""


def test_commands_on_a_damaged_book(sound: Path, home: Path, call: Call) -> None:
    """Those that write end 3 and say what to do; those that read neither check nor write."""
    home.mkdir()
    path = Path(shutil.copy(sound, home / "studio.book"))
    data = zeroed(path)
    listed = call("sessions")
    assert (listed.code, listed.err) == (0, "")
    assert [x.name for x in home.iterdir()] == ["studio.book"]
    for argv in (["run", "three-steps", "--plain"], ["resume", "--plain"]):
        refused = call(*argv)
        assert refused.code == 3
        assert "benchapp book restore FILE" in refused.err
    assert path.read_bytes() == data
    assert call("sessions").out == listed.out


def test_what_is_whole_of_a_damaged_book_leaves_and_is_taken_in(
        sound: Path, home: Path, tmp_path: Path, call: Call) -> None:
    """Export names what it leaves out and ends 3; import takes every stream that is whole."""
    home.mkdir()
    path = Path(shutil.copy(sound, home / "studio.book"))
    with Book.reading(path) as book:
        truth = said(book)["streams"]
    for number, make in enumerate((scribbled, zeroed)):
        shutil.copy(sound, path)
        make(path)
        data = path.read_bytes()
        out, other = tmp_path / f"{number}.jsonl", tmp_path / f"{number}.book"
        done = call("export", "--private", "--jsonl", str(out))
        assert (done.code, path.read_bytes()) == (3, data)
        assert "Not in the file" in done.err
        assert "session/2026-05-03" in done.err
        taken = call("import", "--book", str(other), str(out))
        assert (taken.code, taken.err) == (0, "")
        assert "Left out, because it is not whole:" in taken.out
        assert "session/2026-05-03" in taken.out
        with Book.reading(other) as book:
            assert said(book)["streams"] == {
                k: v for k, v in truth.items() if k != "session/2026-05-03"}
            assert book.verify() == []
    table = call("export", "--csv", str(tmp_path / "sheets.csv"))
    assert table.code == 0  # the days printed are whole: only notes of another are damaged
    assert call("export", "--table", "entries", "--csv", str(tmp_path / "all.csv")).code == 3


def test_what_waits_beside_a_damaged_book_leaves_with_it(
        sound: Path, home: Path, tmp_path: Path, call: Call) -> None:
    """What happened after the damage was found is in the file that is exported."""
    home.mkdir()
    path = Path(shutil.copy(sound, home / "studio.book"))
    scribbled(path)
    book = opened(path, moment(_NEXT_DAY))
    checked_beside(book, moment(_NEXT_DAY))
    book.append([note("after the damage", "session/2026-05-04")], moment(_NEXT_DAY + 1), "note")
    with pytest.raises(BookDamaged):
        book.close()
    out = tmp_path / "all.jsonl"
    assert call("export", "--private", "--jsonl", str(out)).code == 3
    assert "after the damage" in out.read_text()
    assert call("import", "--book", str(tmp_path / "other.book"), str(out)).code == 0
    with Book.reading(tmp_path / "other.book") as other:
        entry, = other.stream("session/2026-05-04")
        assert entry.body["text"] == "after the damage"
