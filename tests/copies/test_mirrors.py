"""Text mirrors: every entry in a file of its stream, nothing lost, and a book made of them."""

from __future__ import annotations

import json
import stat
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.copies.mirrors import file_of, mirror_files, write_mirrors
from benchapp.copies.rebuild import NoMirror, rebuild_from_mirror
from benchapp.edition.streams import print_stream, private_stream
from benchapp.events.entry import Draft, Entry
from tests.book.samples import closed, draft, moment, note, opened, sheet_out

DAY, NEXT = "session/2026-05-03", "session/2026-05-04"


def told(print_: str, origin: str) -> Draft:
    """A plate of a print told of, in the stream of a book."""
    return draft(print_stream(print_, origin), "plate told", print=print_, plate="key",
                 over=[])


def worked(path: Path) -> Book:
    """A book with two days, a pack and a print whose name no disk would take, one private."""
    book = Book.open(path, write=True, create=True)
    book.append([opened(), note("the room is cold"), sheet_out()], moment(), "open")
    book.append([told("salt/Pan · WREN", book.origin)], moment(60), "told")
    book.append([draft(private_stream("salt/Pan · WREN", book.origin), "told in private",
                       print="salt/Pan · WREN", words={"to": "Ada"})], moment(70), "told")
    book.append([opened("2026-05-04"), note("dry", NEXT)], moment(90_000), "open")
    return book


def lines(file: Path) -> list[str]:
    """What a mirror's file says of positions."""
    return [json.loads(line)["kind"] for line in file.read_text("utf-8").splitlines()]


def entries(path: Path) -> tuple[Entry, ...]:
    """All there is in a book, in its order."""
    with Book.open(path, write=False) as book:
        return book.entries()


def test_a_book_is_given_back_by_its_mirror(path: Path, tmp_path: Path) -> None:
    """Each stream is a file for its owner alone; rebuilt, each entry is itself, in its row."""
    folder, new = tmp_path / "mirror", tmp_path / "new.book"
    with worked(path) as book:
        assert write_mirrors(book, folder)
        streams = book.streams_from("")
        assert sorted(file_of(folder, x) for x in streams) == mirror_files(folder)
        assert all(stat.S_IMODE(x.stat().st_mode) == 0o600 for x in mirror_files(folder))
        pans = {str(file_of(folder, f"print/{x}")).casefold()
                for x in ("Pan", "pan", "p.an", "con")}
        assert len(pans) == 4
        assert not any(Path(x).name.startswith("con.") for x in pans)
        origin = book.origin
    found = rebuild_from_mirror(folder, new)
    assert (found.whole, found.left_out, found.streams) == (True, [], 5)
    assert entries(new) == entries(path)
    with Book.open(new, write=True) as again:
        assert again.origin == origin
        assert again.verify() == []
        again.append([closed("2026-05-04")], moment(90_100), "close")


def test_rows_of_another_book_come_back_where_they_were(path: Path, tmp_path: Path) -> None:
    """Taken in between two days, and some later: after the rebuilding all rows are as before."""
    folder, new, other = tmp_path / "mirror", tmp_path / "new.book", tmp_path / "other.book"
    with Book.open(other, write=True, create=True) as guest:
        guest.append([told("kelp", guest.origin)], moment(10), "told")
        first = guest.entries()
        guest.append([told("reed", guest.origin)], moment(20), "told")
        later = guest.entries(since=1)
    with worked(path) as book:
        book.merge(first)
        write_mirrors(book, folder)
        book.append([closed()], moment(91_000), "close")
        book.merge(later)
        book.append([closed("2026-05-04")], moment(92_000), "close")
        write_mirrors(book, folder)
    assert rebuild_from_mirror(folder, new).whole
    assert entries(new) == entries(path)


def test_only_what_went_on_is_written_and_what_is_gone_comes_back(
    path: Path, tmp_path: Path
) -> None:
    """A pass touches the files of streams that have new entries, and those that were removed."""
    folder = tmp_path / "mirror"
    with worked(path) as book:
        write_mirrors(book, folder)
        before = {x: x.stat().st_ino for x in mirror_files(folder)}
        book.append([closed()], moment(91_000), "close")
        gone = file_of(folder, NEXT)
        gone.unlink()
        assert not write_mirrors(book, folder, lambda: False)
        assert write_mirrors(book, folder)
        changed = {x for x in mirror_files(folder) if x.stat().st_ino != before[x]}
        assert changed - {gone} == {file_of(folder, DAY)}
        assert lines(file_of(folder, DAY)) == ["opened", "noted", "closed"]
        assert lines(gone) == ["opened", "noted"]


def test_a_mirror_loses_nothing_that_an_older_book_does_not_have(
    path: Path, tmp_path: Path
) -> None:
    """What goes on past the book is left; what differs, or is no mirror, is put aside."""
    folder, old = tmp_path / "mirror", tmp_path / "old.book"
    with worked(path) as book:
        book.backup(old)
        book.append([note("only in the newer"), note("wet", NEXT)], moment(91_000), "note")
        write_mirrors(book, folder)
    file_of(folder, "pack/7").write_text("no mirror\n")
    newer = file_of(folder, NEXT).read_bytes()
    with Book.open(old, write=True) as book:
        book.append([note("another way on")], moment(92_000), "note")
        write_mirrors(book, folder)
    assert file_of(folder, NEXT).read_bytes() == newer
    day = file_of(folder, DAY)
    aside = day.with_name(day.name + ".1.aside")
    assert "only in the newer" in aside.read_text("utf-8")
    assert "another way on" in day.read_text("utf-8")
    assert lines(file_of(folder, "pack/7")) == ["sheet out"]
    assert len(list(folder.rglob("*.aside"))) == 2


def test_what_is_whole_is_taken_and_what_is_not_is_named(path: Path, tmp_path: Path) -> None:
    """A torn line ends its stream; the book then has a name of its own and is sound."""
    folder, new = tmp_path / "mirror", tmp_path / "new.book"
    with worked(path) as book:
        write_mirrors(book, folder)
        origin = book.origin
        known = {e.sha256 for e in book.entries()}
    day = file_of(folder, DAY)
    day.write_bytes(day.read_bytes().replace(b"the room is cold", b"the room is warm"))
    found = rebuild_from_mirror(folder, new)
    assert not found.whole
    assert len(found.left_out) == 1
    assert "line 2" in found.left_out[0]
    assert {e.sha256 for e in entries(new)} < known
    assert len(entries(new)) == len(known) - 1
    with Book.open(new, write=False) as again:
        assert again.verify() == []
        assert again.origin != origin
    with pytest.raises(NoMirror):
        rebuild_from_mirror(tmp_path / "mirror" / "session", tmp_path / "none.book")
    assert not (tmp_path / "none.book").exists()
