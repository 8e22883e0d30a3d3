"""Every disk is full: lines say so, `quit` prints what is only in memory and does not leave."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from benchapp import plain
from benchapp.book import Book, BookDisk
from benchapp.clock import FakeClock
from benchapp.files import read_text, shipped_recipes
from benchapp.reports import jsonl
from benchapp.reports.unsaved import ANYWAY, wait_for_disk
from benchapp.service.sessions import SessionService
from tests.book.samples import Faults, disk_full, no_space, writing

RECIPE = read_text(shipped_recipes()["three-steps"])


def fill(faults: Faults) -> None:
    """Neither the book nor any other folder takes anything."""
    faults.plan("begin", disk_full)
    for place in ("beside", "state", "temp"):
        faults.plan(f"spill {place}", no_space)


class Typed:
    """Lines from a list, and what was printed after each; `full` and `free` are the disk's."""

    def __init__(self, faults: Faults, *lines: str) -> None:
        self.faults, self.left = faults, list(lines)
        self.answers: list[list[str]] = [[]]

    def take(self) -> str | None:
        while self.left and self.left[0] in ("full", "free"):
            (fill if self.left.pop(0) == "full" else Faults.clear)(self.faults)
        self.answers.append([])
        return self.left.pop(0) if self.left else None

    def give(self, text: str) -> None:
        self.answers[-1].append(text)


def worked(path: Path, *lines: str) -> tuple[Book, Typed]:
    """A session worked by these lines; the book is still open."""
    faults = Faults()
    book = writing(path, faults)
    typed = Typed(faults, *lines)
    assert plain.run_plain(SessionService(book, FakeClock()), typed, "three-steps", RECIPE,
                           None) == 0
    return book, typed


def test_quit_asks_and_the_session_goes_on(tmp_path: Path) -> None:
    """Each answer says it; quit prints the entries and stays; with space it leaves."""
    path = tmp_path / "book.db"
    book, typed = worked(path, "note dry", "full", "note rain", "quit", "note hail", "free", "quit")
    dry, rain, stays, hail, left = typed.answers[1:6]
    assert dry == ["Note on the session: dry"]
    assert rain[-1] == "Note on the session: rain · not on disk yet"
    assert "Not on disk yet: 1 entry is in memory only" in stays[0]
    assert json.loads(stays[1])["body"]["text"] == "rain"
    assert "benchapp is still open" in stays[-1]
    assert hail[-1] == "Note on the session: hail · not on disk yet"
    assert not any("in memory" in line for line in left)
    book.close()
    with Book.reading(path) as found:
        notes = [e.body["text"] for e in found.entries() if e.kind == "noted"]
    assert notes == ["dry", "rain", "hail"]


def test_what_was_printed_can_be_taken_in(tmp_path: Path) -> None:
    """Left without them, the lines that stand on the terminal are all it takes."""
    path = tmp_path / "book.db"
    book, typed = worked(path, "full", "note rain", "quit", ANYWAY)
    with pytest.raises(BookDisk):
        book.close()
    lines = [line.encode() for line in typed.answers[2] if line.startswith("{")]
    with writing(path) as again:
        assert not [e for e in again.entries() if e.kind == "noted"]
        again.merge(jsonl.read_lines(lines))
        assert [e.body["text"] for e in again.entries() if e.kind == "noted"] == ["rain"]
        assert again.verify() == []


def test_the_end_of_the_input_prints_them_once(tmp_path: Path) -> None:
    """Nobody can be waited for: the lines are printed, and it ends."""
    book, typed = worked(tmp_path / "book.db", "full", "note rain")
    last = typed.answers[-1]
    assert [json.loads(x)["body"]["text"] for x in last if x.startswith("{")] == ["rain"]
    with pytest.raises(BookDisk):
        book.close()


def test_enter_tries_again_until_there_is_space(tmp_path: Path) -> None:
    """As on a terminal after the screens: asked again, then all is on disk."""
    faults = Faults()
    with writing(tmp_path / "book.db", faults) as book:
        workshop = SessionService(book, FakeClock())
        fill(faults)
        workshop.start_timer("varnish", 60_000)
        typed = Typed(faults, "", "free", "")
        wait_for_disk(book, typed.give, typed.take)
        assert [sum(x.startswith("{") for x in said) for said in typed.answers] == [1, 1, 0]
        assert typed.answers[-1] == ["Everything is on disk now."]
        assert book.unsaved == ()
