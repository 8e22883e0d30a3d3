"""Books that earlier versions wrote: each opens, reads as its writer read it, and goes on."""

from __future__ import annotations

import gzip
import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from benchapp.book import Book
from benchapp.clock import SystemClock
from benchapp.commands.show import session_values
from benchapp.reports.editions import edition_sheet
from benchapp.reports.json_form import json_values
from benchapp.reports.reading import read_back
from benchapp.screens.yesterday import recent_state
from benchapp.service.editions import EditionService
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.views.studio import studio_view
from tests.book.write_corpus import form

CORPUS = sorted((Path(__file__).parent / "corpus").glob("*.json.gz"))
#: Sentences may be said better, and a kind be known that was not shown.
PROSE = {"who", "bat", "standard", "text", "sentence", "beside"}
#: Times were rounded otherwise once.
MS = 0.005


def as_mended(review: dict[str, Any]) -> dict[str, Any]:
    """A review without the soak of paper that was sprayed: earlier versions showed one of 0 s."""
    packs = [{k: v for k, v in pack.items() if k != "soaked_seconds" or v}
             for pack in review["packs"]]
    rows = {} if "timeline" not in review else {"timeline": [
        row for row in review["timeline"] if row["row"] != "in the water"
        or any(bar["from"] != bar["to"] for bar in row["bars"])]}
    return {**review, **rows, "packs": packs}


def differences(then: Any, now: Any, at: str = "") -> Iterator[str]:
    """Where `now` does not say what `then` said; it may say more."""
    if isinstance(then, dict) and isinstance(now, dict):
        if "packs" in then and "impressions" in then:
            then, now = as_mended(then), as_mended(now)
        for key, value in then.items():
            if key not in now:
                yield f"{at}.{key} is gone"
            elif key not in PROSE and not (key == "kind" and value is None):
                yield from differences(value, now[key], f"{at}.{key}")
    elif isinstance(then, list) and isinstance(now, list) and len(then) == len(now):
        for place, (old, new) in enumerate(zip(then, now, strict=True)):
            yield from differences(old, new, f"{at}[{place}]")
    elif isinstance(then, float) or isinstance(now, float):
        if abs(then - now) > MS:
            yield f"{at}: {then} is now {now}"
    elif then != now:
        yield f"{at}: {then!r} is now {now!r}"


def restored(file: Path, path: Path) -> dict[str, Any]:
    """The book of a file of the corpus, written at `path`; what its own version said of it."""
    then: dict[str, Any] = json.loads(gzip.decompress(file.read_bytes()))
    with closing(sqlite3.connect(path)) as written:
        written.executescript("\n".join(then["sql"]))
    return then


def said_now(book: Book, then: dict[str, Any]) -> dict[str, Any]:
    """The same questions, answered by today's version."""
    editions = EditionService(book, SystemClock())
    return json.loads(json.dumps({
        "sessions": session_values(book),
        "reviews": {row.name: json_values(read_back(book, row)) for row in book.sessions()},
        "editions": {title: found and [
            json_values(edition_sheet(editions.register, x["id"], title=x["print"],
                                      artist=x["artist"]))
            for x in found] for title, found in then["editions"].items()}}))


def test_there_is_a_book_of_what_can_be_stored_today() -> None:
    """A kind, a field or a layout that changes leaves a book behind, for the versions to come."""
    forms = {json.loads(gzip.decompress(x.read_bytes())).get("form") for x in CORPUS}
    assert form(Path(__file__).parents[2]) in forms, (
        "what the book stores has changed: python tests/book/write_corpus.py . NAME")


@pytest.mark.parametrize("file", CORPUS, ids=lambda f: f.name.partition(".")[0])
def test_a_book_of_an_earlier_version_reads_as_that_version_read_it_and_goes_on(
        file: Path, tmp_path: Path) -> None:
    path = tmp_path / "studio.book"
    then = restored(file, path)
    with Book.reading(path) as book:
        now = said_now(book, then)
    assert not [*differences({k: then[k] for k in now}, now)]

    with Book.open(path, write=True, state=tmp_path) as book:
        assert book.verify() == []
        workshop = SessionService(book, SystemClock())
        assert studio_view(recent_state(workshop, workshop.now()), workshop.now(),
                           book.origin).at_press
        left_open = next(row for row in book.sessions() if not row.closed)
        assert workshop.resume_session(left_open).ok
        assert workshop.do(a.Note("read again years later")).ok
        text = str(left_open.opened.body["recipe_text"])
        assert workshop.open_session("another", text, typed=True).ok
        assert book.verify() == []

