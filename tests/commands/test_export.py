"""What leaves the book: tables, lines and pages, whole, safe, over no other file; and in again."""

from __future__ import annotations

import csv
import html.parser
import io
import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.book import Book
from benchapp.cli import main
from benchapp.clock import FakeClock
from benchapp.events.entry import Entry, Moment
from benchapp.files import book_file
from benchapp.reports import export_csv, jsonl
from benchapp.reports.html import STYLE, page_policy
from benchapp.reports.html_day import day_drawing
from benchapp.reports.review import review_session
from benchapp.reports.review_blocks import review_page
from benchapp.reports.review_day import DayBar, DayChart, DayRow
from benchapp.safe_text import sanitize, why_refused
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.session.support import LIFT, MIN, PULL, WIPE, recipe

TEXT = recipe(each=(WIPE, PULL, LIFT),
              extra="readings: [{name: tone, unit: grade 1-5, at: Lift}]\n")
NOTES = ["=1+1", "+49 30", "-2 °C", "@home", "'quoted'", "plain, with \"quotes\"", "＝1",
         "  =SUM(A1)", "</script><script>alert(1)</script>", "<b>&amp;</b>", "שלום", "a | b; c"]


def printed(book: Book, clock: FakeClock, sheets: int = 5) -> str:
    """A day with notes of every awkward kind, a tag, a reading and a setting; its id."""
    shop = SessionService(book, clock)
    shop.open_session("slack-water", TEXT, None)
    shop.do(a.Set("room", "-2 °C"))
    for n in range(1, sheets + 1):
        for minutes in (10, 1.5, 4, 3):
            clock.advance(round(minutes * MIN))
            shop.tick()
            shop.do(a.GoOn())
        shop.do(a.Judge("keep", n))
        shop.do(a.Tag("salty", n))
        shop.do(a.TakeReading("tone", str(1 + n % 5), None, n))
        for note in NOTES[n - 1 :: sheets]:
            shop.do(a.Note(note, n))
    return book.sessions()[-1].id


@pytest.fixture
def studio(home: Path) -> Path:
    """A home with one day in its book."""
    with Book.open(book_file(), write=True, create=True) as book:
        printed(book, FakeClock())
    return home


def rows(path: Path) -> list[list[str]]:
    """A table read back in strict mode, as RFC 4180 has it."""
    raw = path.read_bytes()
    assert raw.startswith(b"\xef\xbb\xbf")
    assert raw.count(b"\n") == raw.count(b"\r\n")
    text = raw.decode("utf-8-sig")
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


# -- tables -----------------------------------------------------------------------------------


@pytest.mark.parametrize("table", ["impressions", "entries", "readings"])
def test_a_table_is_whole_and_no_cell_is_a_formula(studio, tmp_path, table):
    """Every row has a cell a column; none begins with = + - or @, whatever was noted."""
    path = tmp_path / "out.csv"
    assert main(["export", "--csv", str(path), "--table", table]) == 0
    head, *found = rows(path)
    assert found
    assert {len(r) for r in found} == {len(head)}
    assert not [c for r in found for c in r if c.lstrip()[:1] in set("=+-@＝＋－＠\t\r") and c]


def test_the_texts_come_back_as_they_were(studio, tmp_path):
    """Taking one apostrophe off the front gives every note back."""
    path = tmp_path / "out.csv"
    assert main(["export", "--csv", str(path), "--table", "entries"]) == 0
    head, *found = rows(path)
    bodies = [json.loads(r[head.index("body")]) for r in found if r[head.index("kind")] == "noted"]
    assert sorted(b["text"] for b in bodies) == sorted(NOTES)
    assert [export_csv.csv_cell(n).removeprefix("'") for n in NOTES] == NOTES


def test_the_table_of_impressions_says_what_the_review_says(studio, tmp_path, capsys):
    """A row a sheet, with its verdict, tags, and the moment of its pull twice."""
    path = tmp_path / "out.csv"
    assert main(["export", "last", "--csv", str(path)]) == 0
    capsys.readouterr()
    assert main(["review", "last", "--json"]) == 0
    sheets = json.loads(capsys.readouterr().out)["impressions"]
    head, *found = rows(path)
    for row, sheet in zip(found, sheets, strict=True):
        cells = dict(zip(head, row, strict=True))
        assert (cells["mark"], cells["verdict"], cells["tags"]) == (sheet["mark"], "keep", "salty")
        assert cells["pulled_utc"].endswith("Z")
        assert cells["settings"] == "room: -2 °C"


@given(st.text())
def test_any_text_survives_a_cell(text):
    """Any text is a safe cell, passes through the csv module, and comes back as it is shown."""
    cell = export_csv.csv_cell(text)
    assert cell[:1] not in set("=+-@\t\r\n＝＋－＠") or not cell
    text = sanitize(text, newlines=True)
    assert why_refused(cell, newlines=True) is None
    assert cell.removeprefix("'") == text
    line = "".join(export_csv.csv_table(["a", "b"], [[text, "end"]]))
    if "\0" not in text and not any("\ud800" <= c <= "\udfff" for c in text):
        *_, row = csv.reader(io.StringIO(line.removeprefix("\ufeff"), newline=""), strict=True)
        assert [c.removeprefix("'") for c in row] == [text, "end"]


def test_a_book_from_elsewhere_brings_no_control_into_a_table():
    """ESC, BEL and turned reading directions become signs; a body stays the same document."""
    hostile = "a\x1b]52;c;x\x07b\u202ec\x9bd"
    entry = Entry("x:1", "session/2026-05-03@x", 1, "x:1", "note", "noted", FakeClock().now(),
                  {"impression": None, "text": hostile}, "0")
    whole = "".join(export_csv.csv_table(export_csv.ENTRIES, export_csv.entry_rows([entry])))
    assert why_refused(whole.removeprefix(export_csv.MARK).replace("\r\n", "\n"),
                       newlines=True) is None
    head, row = csv.reader(io.StringIO(whole.removeprefix(export_csv.MARK), newline=""),
                           strict=True)
    assert json.loads(row[head.index("body")])["text"] == hostile
    assert export_csv.csv_cell(hostile) == "a␛]52;c;x␇b\ufffdc\ufffdd"


# -- lines ------------------------------------------------------------------------------------


def test_out_and_in_again_gives_the_same_review(studio, tmp_path, monkeypatch, capsys):
    """Into a new book, twice: the second time nothing is new; the review is the same bytes."""
    assert main(["review", "last", "--json"]) == 0
    before = capsys.readouterr().out
    path = tmp_path / "all.jsonl"
    assert main(["export", "--jsonl", str(path)]) == 0
    with Book.reading(book_file()) as book:
        entries = book.entries()
    monkeypatch.setenv("BENCHAPP_HOME", str(tmp_path / "new"))
    for told in (f"{len(entries)} entries imported, 0", f"0 entries imported, {len(entries)}"):
        capsys.readouterr()
        assert main(["import", str(path)]) == 0
        assert capsys.readouterr().out.startswith(told)
    with Book.reading(book_file()) as book:
        assert book.entries() == entries
        assert book.verify() == []
    assert main(["review", "last", "--json"]) == 0
    assert capsys.readouterr().out == before
    again = tmp_path / "again.jsonl"
    assert main(["export", "--jsonl", str(again)]) == 0
    assert again.read_bytes() == path.read_bytes()


@given(st.lists(st.dictionaries(st.text(), st.one_of(st.none(), st.integers(), st.text(),
                                                     st.booleans(), st.floats(allow_nan=False,
                                                                              allow_infinity=False)),
                                max_size=4), max_size=5))
def test_any_entry_survives_a_line(bodies):
    """Whatever a body holds, the line gives the same entry."""
    at = Moment(1, -120, 2, "boot", 3)
    entries = [Entry(f"x:{n}", "session/x", n, "x:1", "note", "noted", at, body, "0" * 64)
               for n, body in enumerate(bodies, 1)]
    try:
        raw = [line.encode() for line in jsonl.entry_lines(entries)]
    except UnicodeEncodeError:
        return  # half characters are refused before they are in a book
    assert list(jsonl.read_lines(raw)) == entries


@pytest.mark.parametrize(("line", "why"), [
    (b"nonsense", "is not JSON"), (b"[]", "is not an entry"), (b'{"id": 1}', "is not an entry"),
    (b"\xff\xfe", "is not JSON"), (b"[" * 5000, "is not JSON"), (b'{"a": NaN}', "is not JSON"),
    (b"x" * (jsonl.LONGEST + 1), "longer than any entry"),
])  # fmt: skip
def test_a_file_that_is_none_of_ours_is_said_and_makes_nothing(home, tmp_path, capsys, line, why):
    """The answer is no, with the line; no book is made for it."""
    path = tmp_path / "strange.jsonl"
    path.write_bytes(line + b"\n")
    assert main(["import", str(path)]) == 1
    assert why in capsys.readouterr().err
    assert not home.exists()


def test_a_changed_line_takes_nothing_in(studio, tmp_path, monkeypatch, capsys):
    """One letter of a note changed on the way: its digest tells, and the new book stays empty."""
    path = tmp_path / "all.jsonl"
    assert main(["export", "--jsonl", str(path)]) == 0
    path.write_bytes(path.read_bytes().replace(b"+49 30", b"+49 31"))
    monkeypatch.setenv("BENCHAPP_HOME", str(tmp_path / "new"))
    assert main(["import", str(path)]) == 1
    assert "was changed since" in capsys.readouterr().err
    with Book.reading(book_file()) as book:
        assert book.entries() == ()


def test_a_private_stream_stays_at_home(studio, tmp_path):
    """The printer's own words about people leave only when that is asked for."""
    from benchapp.events.entry import Draft

    with Book.open(book_file(), write=True) as book:
        book.append([Draft("print/x@y/private", "told in private", {
            "print": "x", "sheet": "A1", "words": {"note": "for Ada, unpaid"}})],
            FakeClock().now(), "note")
    for words, there in ([], False), (["--private"], True):
        path = tmp_path / f"{there}.jsonl"
        assert main(["export", "--jsonl", str(path), *words]) == 0
        assert ("for Ada, unpaid" in path.read_text(encoding="utf-8")) is there


# -- files ------------------------------------------------------------------------------------


def test_a_file_that_is_there_is_kept(studio, tmp_path, capsys):
    """Not written over unless that is asked for; then all of it is new."""
    path = tmp_path / "out.csv"
    path.write_text("mine", encoding="utf-8")
    assert main(["export", "--csv", str(path)]) == 1
    assert "--force" in capsys.readouterr().err
    assert path.read_text(encoding="utf-8") == "mine"
    assert main(["export", "--csv", str(path), "--force"]) == 0
    assert rows(path)[0][0] == "session"


def studio_files(home: Path, tmp_path: Path) -> dict[str, Path]:
    """Files of the studio that an export may be aimed at by mistake, all with something in them."""
    (home / "recipes").mkdir(parents=True, exist_ok=True)
    (home / "state").mkdir(exist_ok=True)
    with Book.reading(home / "studio.book") as book:
        book.backup(tmp_path / "copy.book")
    linked = tmp_path / "linked.csv"
    linked.hardlink_to(home / "studio.book")
    found = {"the book": home / "studio.book", "a link to it": linked,
             "a copy": tmp_path / "copy.book", "the copy's log": tmp_path / "copy.book-wal"}
    found["the copy's log"].write_bytes(b"")
    for what, path in {"its lock": home / "studio.book-lock",
                       "its log": home / "studio.book-wal",
                       "preferences": home / "preferences.yaml",
                       "a recipe": home / "recipes" / "mine.yaml",
                       "state": home / "state" / "breaks.json"}.items():
        if not path.exists():
            path.write_bytes(b"")
        found[what] = path
    return found


@pytest.mark.parametrize("force", [[], ["--force"]])
@pytest.mark.parametrize("what", ["the book", "a link to it", "a copy", "the copy's log",
                                  "its lock", "its log", "preferences", "a recipe", "state"])
def test_nothing_is_written_over_a_file_of_the_studio(studio, home, tmp_path, capsys, what, force):
    """Book, side files, backups, recipes, preferences and state stay, whatever is forced."""
    path = studio_files(home, tmp_path)[what]
    before = path.read_bytes()
    assert main(["export", "--csv", str(path), *force]) == 1
    assert "Choose another name" in capsys.readouterr().err
    assert path.read_bytes() == before


def test_a_name_the_book_will_need_is_kept_free(studio, home, capsys):
    """A log that is not there yet is not made by an export."""
    assert main(["export", "--jsonl", str(home / "studio.book-wal")]) == 1
    assert "belongs to it" in capsys.readouterr().err
    assert not (home / "studio.book-wal").exists()


def test_a_shipped_recipe_is_never_written_over(studio, home, tmp_path, monkeypatch, capsys):
    """Every studio on this machine prints by it."""
    recipe = tmp_path / "ours" / "ferry-lamp.yaml"
    recipe.parent.mkdir()
    recipe.write_text("recipe: 1\n", encoding="utf-8")
    monkeypatch.setattr("benchapp.files.places.shipped_folder", lambda: recipe.parent)
    assert main(["export", "--jsonl", str(recipe), "--force"]) == 1
    assert "one of the shipped recipes" in capsys.readouterr().err
    assert recipe.read_text(encoding="utf-8") == "recipe: 1\n"


@pytest.mark.parametrize("force", [[], ["--force"]])
def test_a_link_is_never_followed(studio, tmp_path, force):
    """What a link points to is not written, asked for or not."""
    target, link = tmp_path / "target", tmp_path / "out.csv"
    target.write_text("mine", encoding="utf-8")
    link.symlink_to(target)
    assert main(["export", "--csv", str(link), *force]) in (1, 2)
    assert target.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("words", [["export"], ["export", "--csv", "a", "--jsonl", "b"],
                                   ["export", "--csv", "a", "--table", "none"],
                                   ["import", "no-such-file.jsonl"],
                                   ["export", "no-such-day", "--csv", "a"]])
def test_wrong_use_is_said(studio, tmp_path, monkeypatch, words):
    """Two, and nothing written."""
    monkeypatch.chdir(tmp_path)
    assert main(words) == 2
    assert list(tmp_path.iterdir()) == []


# -- pages ------------------------------------------------------------------------------------


class Page(html.parser.HTMLParser):
    """What a browser would find in a page."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.text = ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        """Remember it."""
        self.tags.append((tag, dict(attrs)))
        if tag not in ("meta", "line", "circle", "path", "rect"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        """Hold that it ends what is open."""
        if tag not in ("line", "circle", "path", "rect"):
            assert self.open.pop() == tag

    def handle_data(self, data):
        """Gather what is read."""
        self.text += data


def test_a_page_stands_by_itself_and_runs_nothing(studio, tmp_path):
    """No script, no address, no style but its own, and the policy in its head."""
    path = tmp_path / "day.html"
    assert main(["review", "last", "--html", str(path)]) == 0
    source = path.read_text(encoding="utf-8")
    page = Page(source)
    assert page.open == []
    names = {tag for tag, _ in page.tags}
    assert not names & {"script", "iframe", "object", "embed", "link", "img", "form", "base", "b"}
    attributes = [(k, v) for _, found in page.tags for k, v in found.items()]
    assert not [k for k, _ in attributes if k.startswith("on") or k in ("href", "src", "style")]
    (csp,) = [f["content"] for t, f in page.tags if f.get("http-equiv")]
    assert csp == page_policy(source.partition("<style>")[2].partition("</style>")[0])
    assert "unsafe" not in csp
    assert csp.startswith("default-src 'none'")


def test_every_note_stands_on_the_page_as_text(studio, tmp_path):
    """Also the one that looks like a script, and the one from right to left."""
    path = tmp_path / "day.html"
    assert main(["export", "--html", str(path)]) == 0
    page = Page(path.read_text(encoding="utf-8"))
    for note in NOTES:
        assert f"“{note}”" in page.text
    assert {"bdi", "svg", "table"} <= {tag for tag, _ in page.tags}


@pytest.mark.parametrize("wrong", ["1970-01-01T00:07:00+01:00", "1975-06-01T10:00:00+01:00"])
def test_a_wrong_clock_does_not_lengthen_the_page(wrong):
    """Half a century between two clocks is drawn with some ten lines, each with its day."""
    bar = DayBar(wrong, "2026-05-03T12:00:00+02:00", "Ink", 1)
    drawn = day_drawing(DayChart(wrong, 0, (DayRow("hands", (bar,)),)))
    assert 5 <= drawn.count('class="tick"') <= 11
    assert re.search(r">19[789]\d-\d\d-\d\d</text>", drawn)


@pytest.mark.parametrize(("until", "times"), [
    ("12:40", ["10:00", "11:00", "12:00"]),
    ("17:20", ["11:00", "12:00", "13:00", "14:00", "15:00", "16:00"])])
def test_a_day_has_its_hours(until, times):
    """Whole hours stand under an ordinary day, clear of its ends."""
    begun = "2026-05-03T09:40:00+02:00"
    bar = DayBar(begun, f"2026-05-03T{until}:00+02:00", "Ink", 1)
    drawn = day_drawing(DayChart(begun, 0, (DayRow("hands", (bar,)),)))
    assert re.findall(r'middle">(\d\d:\d\d)<', drawn) == times


def test_controls_and_direction_marks_are_made_visible():
    """What an old or foreign book may hold never reaches a page as it is."""
    book = Book.in_memory()
    id_ = printed(book, FakeClock())
    found = review_session(book.entries(), id_)
    found = replace(found, print="a\x1b[31m\u202e</title><script>")
    page = review_page([found])
    assert "\x1b" not in page
    assert "\u202e" not in page
    assert "<script" not in page
    assert page.count(STYLE) == 1


def test_no_session_is_a_page_too(home, tmp_path):
    """An empty book gives an empty page, and no book is made."""
    path = tmp_path / "none.html"
    assert main(["export", "--html", str(path)]) == 0
    assert path.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert not home.exists()
