"""Texts that are out to do harm, through everything that comes in and leaves.

Each is made of pieces that mean something to a spreadsheet, a browser, a calendar, a terminal or
a reader of tables, put together by a seeded die: the same every time.
"""

from __future__ import annotations

import csv
import io
import json
import random
from collections.abc import Collection, Iterator, Sequence
from contextlib import redirect_stderr, redirect_stdout, suppress
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import pytest
from icalendar import Calendar

from benchapp.book import Book
from benchapp.book.merge import Unfit
from benchapp.cli import main
from benchapp.clock import FakeClock
from benchapp.commands.context import say, say_json, warn
from benchapp.edition import actions as a
from benchapp.edition.decide import check_recall
from benchapp.events.entry import Entry
from benchapp.files import write_new
from benchapp.reports import jsonl
from benchapp.reports.documentation import PaperPart, PaperSheet, sheet_page, sheet_text
from benchapp.reports.export_csv import MARK, csv_table
from benchapp.reports.ical import Event, calendar_text
from benchapp.reports.old_numbers import COLUMNS, read_table
from benchapp.safe_text import cell_width, character_fault, sanitize, why_refused
from benchapp.screens.widgets.row import fit_cells, wrap_rows
from tests.edition.support import P, studio
from tests.faults.forged import chained
from tests.faults.test_forged_imports import TEXT, written

#: So many texts through each way; and every time.
MANY = 10_000
FEW = 200
#: Books full of them that every command shows, and so many texts in these.
BOOKS, SHOWN = 40, 1_500
PIECES = (
    "=1+1", "=cmd|' /C calc'!A0", "+", "-2", "@SUM(A1)", "\t=1", "＝1", "'", '"', '""', ",",
    ";", "|", "\n", "\r\n", "\r", "\\", "\\n", "\\,", "<script>alert(1)</script>",
    "</td></table>", "<!--", "-->", "]]>", "&amp;", "&#0;", "&lt", "<bdi>", "' onload='x",
    "{{7*7}}", "${x}", "%s", "%00", "BEGIN:VEVENT", "END:VCALENDAR",
    "\r\nATTENDEE:mailto:x@y", "UID:1", ":", "X-A=1:", "\x00", "\x07", "\x08", "\x1b[2J",
    "\x1b]52;c;QUJD\x07", "\x85", "\x9b31m", "\u2028", "\u2029", "\u202e", "\u2066", "\u200e",
    "\ufeff", "\U000e0041", "\u0301" * 9, "é", "紙", "🖐🏽", "👨‍👩‍👧", "ﷺ", "مرحبا", "שלום",
    "ß", "İ", "\ud800", "NULL", "None", "true", "1e9", "0x1f", "007", "1/2", "2026-05-03",
    " ", "  ", "a" * 80, "K7", "12/40",
)  # fmt: skip


def texts(many: int, *, lone: bool = True) -> list[str]:
    """So many of them; `lone`: also half signs that no file in UTF-8 can hold."""
    die = random.Random(20260503)
    pieces = [p for p in PIECES if lone or p != "\ud800"]
    return ["".join(die.choices(pieces, k=die.randint(1, 6))) for _ in range(many)]


class _Said(HTMLParser):
    """What stands in the cells of a page, and every tag."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.cells: list[str] = []
        self.within = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        if tag == "td":
            self.within = True
            self.cells.append("")

    def handle_endtag(self, tag: str) -> None:
        self.within = self.within and tag != "td"

    def handle_data(self, data: str) -> None:
        if self.within:
            self.cells[-1] += data


def tables(said: list[str]) -> Iterator[tuple[str, list[str]]]:
    """Those texts as notes of tables of a hundred lines, each marked as a text by an apostrophe."""
    for start in range(0, len(said), 100):
        some = said[start:start + 100]
        out = io.StringIO(newline="")
        rows = [["", "progressive", "no", *[""] * 5, f"'{x}"] for x in some]
        csv.writer(out, lineterminator="\r\n").writerows([COLUMNS, *rows])
        yield MARK + out.getvalue(), some


def into_the_register(many: int) -> None:
    """CSV in: each is read as it was written, then taken, or refused in its own line."""
    register, now = studio(0).register, studio(0).clock.now()
    taken = 0
    for text, some in tables(texts(many, lone=False)):
        read = read_table(text, "the ledger")
        assert read.problems == ()
        notes = [line.words.get("note", "") for _, line in read.lines]
        # A text that is blanks alone, or an apostrophe, says nothing.
        assert notes == [f"'{x}".strip().removeprefix("'") for x in some]
        action = a.Recall(P, tuple(line for _, line in read.lines))
        wrong = {x.place: x.refusal for x in check_recall(register, action, now)}
        fits = {i for i, x in enumerate(notes)
                if not x.strip() or why_refused(x, newlines=True) is None}
        assert set(range(len(some))) - set(wrong) == fits
        assert all(character_fault(c) is None for why in wrong.values() for c in str(why))
        taken += len(some) - len(wrong)
    assert 0 < taken < many


def out_as_a_table(many: int) -> None:
    """CSV out: another reader finds each as it can be shown, and no cell begins a formula."""
    said = texts(many)
    made = "".join(csv_table(("note",), ((x,) for x in said)))
    rows = list(csv.reader(io.StringIO(made.removeprefix(MARK), newline="")))
    assert [r[0].removeprefix("'") for r in rows[1:]] == [sanitize(x, newlines=True) for x in said]
    assert not any(r[0].lstrip()[:1] in tuple("=+-@") for r in rows if r[0].strip())


def out_as_a_page(many: int) -> None:
    """HTML: each stands in its cell as it can be shown, and opens no tag."""
    said = texts(many)
    seen = _Said()
    seen.feed(sheet_page(PaperSheet("x", "y", (PaperPart("z", tuple(("note", x) for x in said)),))))
    assert seen.cells == list(map(sanitize, said))
    assert seen.tags <= {"html", "head", "meta", "title", "style", "body", "header", "h1", "p",
                         "bdi", "section", "h2", "table", "tbody", "tr", "th", "td", "footer",
                         "div"}
    lines = sheet_text(PaperSheet("x", "y", (PaperPart("z", tuple(("note", x) for x in said)),)))
    assert len(lines) == many + 6


def out_as_a_calendar(many: int) -> None:
    """iCalendar: another reader finds so many events, each with its own text."""
    said, stamp = texts(many), datetime(2026, 5, 3, 8, tzinfo=UTC)
    at = stamp.replace(tzinfo=None)
    made = calendar_text(Event(f"{n}@book", n, stamp, at, x, x) for n, x in enumerate(said))
    assert all(len(line.encode()) <= 75 for line in made.split("\r\n"))
    found = Calendar.from_ical(made).walk("VEVENT")
    assert [int(e["SEQUENCE"]) for e in found] == list(range(many))
    for key in ("SUMMARY", "DESCRIPTION"):
        assert [str(e[key]) for e in found] == [
            sanitize(x.replace("\r\n", "\n"), newlines=True) for x in said]


def out_as_lines_of_json(many: int) -> None:
    """JSON lines: each line is one entry, which another reader finds as it was."""
    said = texts(many, lone=False)
    at = FakeClock().now()
    made = list(jsonl.entry_lines(
        Entry(f"x:{n}", "session/x@x", n, f"x:{n}", "note", "noted", at,
              {"impression": None, "text": x}) for n, x in enumerate(said, 1)))
    assert all(line.count("\n") == 1 and line.endswith("\n") for line in made)
    found = list(jsonl.EntryLines("".join(made).encode().splitlines(keepends=True)))
    assert [e.body["text"] for e in found] == said


def out_on_a_terminal(many: int) -> None:
    """Lines printed by any command, its warnings, its JSON: nothing in them acts on a terminal."""
    said = texts(many)
    for stream, printed in ((redirect_stdout, say), (redirect_stderr, warn)):
        out = io.StringIO()
        with stream(out):
            printed(*said)
        lines = out.getvalue().split("\n")
        assert lines == [*map(sanitize, said), ""]
    out = io.StringIO()
    with redirect_stdout(out):
        say_json("texts/1", {"texts": said})
    assert all(c == "\n" or character_fault(c) is None for c in out.getvalue())
    assert json.loads(out.getvalue()) == {"format": "texts/1", "texts": said}


def out_as_rows_of_a_screen(many: int) -> None:
    """Rows: each text stands in whole cells, cut or filled to the width there is."""
    for text in texts(many):
        for row in wrap_rows(text, 40):
            for span in row.spans:
                assert all(character_fault(c) is None for c in span[0])
        cut = fit_cells(sanitize(text), 12)
        assert cell_width(cut) == 12
        assert all(character_fault(c) is None for c in cut)


WAYS = (into_the_register, out_as_a_table, out_as_a_page, out_as_a_calendar, out_as_lines_of_json,
        out_on_a_terminal, out_as_rows_of_a_screen)


@pytest.mark.parametrize("way", WAYS, ids=lambda w: w.__name__)
def test_hostile_texts_pass_through_and_harm_nothing(way) -> None:
    """Some of them, every time."""
    way(FEW)


@pytest.mark.full
@pytest.mark.parametrize("way", WAYS, ids=lambda w: w.__name__)
def test_many_hostile_texts_pass_through(way) -> None:
    """All of them: through the ways together, more than fifty thousand."""
    assert MANY * len(WAYS) >= 50_000
    way(MANY)


# -- every command that shows what a book says ---------------------------------------------------

#: What each is asked for in a book full of such texts; it has a day, an edition, a stack, a pack.
COMMANDS = tuple(x.split() for x in (
    "sessions --all", "sessions --json", "review last", "review last --json", "search e",
    "search e --json", "edition", "edition --json", "papers edition",
    "papers edition --private --html {home}/out --force", "where-is", "where-is --json",
    "boards", "boards --json", "sort --list", "life", "life --json",
    "beside last:1 last:3", "damp", "learn slack-water", "book check", "book restore", "report",
    "files", *(f"export --{x} {{home}}/out --force" for x in (
        "csv", "jsonl", "html", "table readings --csv"))))


#: Fields that name another thing; all other texts are people's.
KEYS = {"print", "session", "sheet", "stack", "step", "pack", "call", "clock", "by", "owner", "how",
        "letters", "recipe_sha256"}


@cache
def fields_of_text() -> frozenset[tuple[str, str]]:
    """Kind and name of every field of people's words, if a book with any text there is taken in."""
    found = set()
    for e in written():
        for name in e.body:
            if isinstance(e.body[name], str) and name not in KEYS and (e.kind, name) not in found:
                told = with_texts(iter(lambda: "=\x1b[2J\u202e</td>", None), {(e.kind, name)})
                with Book.in_memory("mine") as book, suppress(Unfit):
                    book.merge(told)
                    found.add((e.kind, name))
    return frozenset(found)


def with_texts(said: Iterator[str], fields: Collection[tuple[str, str]]) -> list[Entry]:
    """The entries of the small book, with the next text in each of these fields."""
    return chained(
        replace(e, body={name: next(said) if (e.kind, name) in fields and value is not None
                         else value for name, value in e.body.items()}) for e in written())


def through_commands(home: Path, books: int, commands: Sequence[list[str]] = COMMANDS) -> int:
    """So many books full of such texts, shown by these commands; how many texts they hold."""
    said = (x for x in texts(MANY, lone=False) if "\0" not in x)  # no book takes these
    write_new(home / "recipes" / "slack-water.yaml", TEXT)
    many = 0
    for number in range(books):
        path = home / f"{number}.book"
        entries = with_texts(said, fields_of_text())
        many += sum((e.kind, name) in fields_of_text() for e in entries for name in e.body)
        with Book.open(path, write=True, create=True) as book:
            book.merge(entries)
        for words in commands:
            out, err = io.StringIO(), io.StringIO()
            with redirect_stdout(out), redirect_stderr(err):
                code = main([*(x.format(home=home) for x in words), "--book", str(path)])
            told = out.getvalue() + err.getvalue()
            assert code in (0, 1), (words, told)
            assert "went wrong" not in told, words
            wrong = {c for c in told if c != "\n" and character_fault(c) is not None}
            assert not wrong, (words, wrong)
            if "--json" in words and code == 0:
                json.loads(out.getvalue())
        path.unlink()
    return many


def test_commands_show_hostile_texts_harmlessly(home: Path) -> None:
    """One book of them, every time, and some commands."""
    assert through_commands(home, 1, COMMANDS[::4]) > 30


@pytest.mark.full
@pytest.mark.usefixtures("remembered")
def test_commands_show_many_hostile_texts_harmlessly(home: Path) -> None:
    """Books of them."""
    assert through_commands(home, BOOKS) >= SHOWN
