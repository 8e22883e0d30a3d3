"""Books that earlier versions wrote, given back by the text mirror that today's version writes."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.copies.mirrors import write_mirrors
from benchapp.copies.rebuild import rebuild_from_mirror
from tests.book.test_corpus import CORPUS, restored, said_now

#: One from before a recipe was judged apart from being built, and one of what is stored today.
QUICK = {"dead09a", "2026-11-30"}


@pytest.mark.parametrize("file", [
    pytest.param(x, id=name, marks=[] if name in QUICK else pytest.mark.full)
    for x in CORPUS for name in [x.name.partition(".")[0]]])
def test_a_book_of_an_earlier_version_is_given_back_by_its_mirror(
    file: Path, tmp_path: Path
) -> None:
    """Every entry with its digest and in its row; lists, reviews and editions are the same."""
    path, mirror, new = tmp_path / "studio.book", tmp_path / "mirror", tmp_path / "new.book"
    then = restored(file, path)
    with Book.reading(path) as book:
        assert write_mirrors(book, mirror)
        entries, origin, said = book.entries(), book.origin, said_now(book, then)
    found = rebuild_from_mirror(mirror, new)
    assert (found.whole, found.left_out, found.entries) == (True, [], len(entries))
    with Book.reading(new) as book:
        assert book.entries() == entries
        assert book.origin == origin
        assert book.verify() == []
        assert said_now(book, then) == said
