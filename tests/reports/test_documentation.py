"""Papers that leave the studio: every field there, unknown shown as unknown, names kept at home."""

from __future__ import annotations

import base64
import hashlib
import re
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from benchapp.book import Book
from benchapp.reports.documentation import (
    NO_ADVICE,
    SHEET_STYLE,
    PaperPart,
    PaperSheet,
    sheet_page,
    sheet_text,
)
from benchapp.safe_text import sanitize
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call, one_day, printed  # noqa: F401 - fixtures
from tests.service.edition_days import Studio, pear

# Hawaii Revised Statutes 481F-4, what is to be told of a multiple (read 2024), and the row that
# tells it here.
STATUTE = {
    "name of the artist": "Artist", "year printed": "Printed",
    "signed and numbered": "Numbered and signed", "unsigned": "Numbered, not signed",
    "proofs": "AP", "hors commerce": "HC", "total size": "All, with every proof",
    "whether the master is destroyed": "Cancelled",
    "prior prints": "Earlier and other editions from the plate",
}


class _Read(HTMLParser):
    """Cells and tags of a page; a tag left open or closed twice is kept."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.wrong: list[str] = []
        self.tags: set[str] = set()
        self.links: list[str] = []
        self.said: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.links += [v or "" for k, v in attrs if k in ("href", "src") or k.startswith("on")]
        if tag != "meta":
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)

    def handle_data(self, data: str) -> None:
        self.said.append(data)


def rows_of(document: dict) -> dict[str, str]:
    """Every row of a sheet, by its name."""
    return {r["name"]: r["value"] for p in document["parts"] for r in p["rows"]}


def test_every_field_of_the_statute_is_there(printed: Path, call: Call) -> None:  # noqa: F811
    """Also where nothing is known; and that it is a record, no advice."""
    found = call("--book", str(printed), "papers", "edition", "--json").json
    rows = rows_of(found)
    assert {k: v for k, v in STATUTE.items() if v not in rows} == {}
    assert (rows["Printer"], rows["Chop"], rows["Workshop"]) == ("not known",) * 3
    assert found["note"] == NO_ADVICE


def test_the_sheet_says_what_the_register_has(printed: Path, call: Call) -> None:  # noqa: F811
    """Numbers, signatures, proofs, the BAT with who passed it, the plate, height before width."""
    book = ("--book", str(printed))
    for argv in (("number", "D3", "1"), ("number", "D4", "2"), ("sign", "D3", "--yes"),
                 ("number", "D5", "--as", "BAT", "--by", "I. T."),
                 ("number", "D6", "--as", "AP", "--whose", "Ms Auk"),
                 ("void", "5", "--why", "a slip", "--yes"), ("cancel-plate", "--yes"),
                 ("where-is", "1", "--now", "sold", "--to", "Mr Tern")):
        assert call(*book, *argv).code == 0, argv
    told = call(*book, "papers", "edition", "pear", "--printer", "W. Halloran", "--json")
    rows = rows_of(told.json)
    assert [rows[k] for k in ("Size of the edition", "Numbered and signed", "Numbered, not signed",
                              "Numbers used", "Void numbers", "Impressions printed", "Numbered",
                              "Signed", "In the studio", "Out", "Destroyed")] == [
        "5", "1", "1", "1, 2", "3 to 5", "6", "2", "1", "5", "1", "0"]
    assert (rows["AP"], rows["PP"]) == ("1 of 1, beside the total", "none")
    assert rows["Approved standard (BAT)"] == "D5, passed by I. T."
    assert rows["pear"].startswith("copper; 140 × 100 mm (height × width);")
    assert (rows["Cancelled"], rows["Cancellation proof"]) == ("cancelled", "none")
    assert rows["Printer"] == "W. Halloran"
    assert "Auk" not in told.out
    assert "Tern" not in told.out
    private = call(*book, "papers", "edition", "--private").out
    assert "AP I/I: Ms Auk" in private
    assert "to: Mr Tern" in private


def test_one_impression_s_history_names_nobody_but_the_artist(
    printed: Path, call: Call  # noqa: F811
) -> None:
    """Number, pull, plate and settings; neither who passed the BAT nor who has it."""
    book = ("--book", str(printed))
    for argv in (("number", "D3", "1"), ("number", "D4", "--as", "BAT", "--by", "Ms Auk"),
                 ("where-is", "1", "--now", "given", "--to", "Mr Tern")):
        assert call(*book, *argv).code == 0
    for sheet in ("1/5", "D4"):
        told = call(*book, "papers", "sheet", sheet)
        assert told.code == 0
        assert "Artist: Idony Threlwick" in told.out
        assert "Auk" not in told.out
        assert "Tern" not in told.out
    rows = rows_of(call(*book, "papers", "sheet", "D3", "--json").json)
    assert (rows["Number"], rows["Signature"], rows["Pull of its day"]) == ("1/5", "not signed",
                                                                           "3")


def test_the_page_is_new_whole_and_not_written_over(
    printed: Path, call: Call, tmp_path: Path  # noqa: F811
) -> None:
    """It parses, loads nothing, and stands where no file was."""
    out = tmp_path / "sheet.html"
    argv = ("--book", str(printed), "papers", "edition", "--html", str(out))
    assert call(*argv).code == 0
    seen = _Read()
    seen.feed(out.read_text(encoding="utf-8"))
    assert (seen.open, seen.wrong, seen.links) == ([], [], [])
    assert not seen.tags & {"script", "img", "link", "iframe", "form"}
    assert "Size of the edition" in seen.said
    assert call(*argv).code == 1
    assert call(*argv, "--force").code == 0


def test_an_edition_nobody_declared_has_its_sheet_too(tmp_path: Path, call: Call) -> None:  # noqa: F811
    """Size not known, as everything else nobody said."""
    path = tmp_path / "b.db"
    with Book.open(path, write=True, create=True) as book:
        Studio(book).day(pear(""), 1)
    rows = rows_of(call("--book", str(path), "papers", "edition", "--json").json)
    assert rows["Size of the edition"] == "not known"
    assert rows["Kind of edition"] == "not known"


def test_limited_is_written_only_where_the_size_is_known(tmp_path: Path, call: Call) -> None:  # noqa: F811
    """On the lines and on the page: known, not known, and open."""
    for name, edition, kind in (("a", "edition: 5", "limited"), ("b", "", "not known")):
        path = tmp_path / f"{name}.db"
        with Book.open(path, write=True, create=True) as book:
            Studio(book).day(pear(edition), 1)
        page = tmp_path / f"{name}.html"
        said = call("--book", str(path), "papers", "edition", "--html", str(page))
        assert said.code == 0
        text = call("--book", str(path), "papers", "edition").out
        assert f"Kind of edition: {kind}" in text
        for found in (text, page.read_text(encoding="utf-8")):
            assert ("limited" in found) is (kind == "limited")
    book = ("--book", str(tmp_path / "b.db"))
    assert call(*book, "edition", "--open", "--yes").code == 0
    assert "Kind of edition: open" in call(*book, "papers", "edition").out


def test_the_page_prints_on_any_paper_and_cuts_nothing() -> None:
    """It names no size, so A4 and Letter are the printer's choice; only its own style applies."""
    made = sheet_page(PaperSheet("Slack Water", "", (
        PaperPart("The register", (("1/40", "K7"),), listed=True),
        PaperPart("The print", (("Title", "Slack Water"),)))))
    assert "size:" not in re.sub("font-size:", "", SHEET_STYLE)
    assert "section.whole,tr,li,footer{break-inside:avoid}" in SHEET_STYLE
    assert '<section class="whole"><h2><bdi>The print' in made
    assert "<section><h2><bdi>The register" in made  # it may run on over the page
    (style,) = re.findall("<style>(.*?)</style>", made, re.DOTALL)
    assert SHEET_STYLE in style
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    assert f"sha256-{digest}" in unescape(made)


@given(st.lists(st.text(), min_size=4, max_size=4))
def test_no_text_breaks_the_page_or_the_lines(texts: list[str]) -> None:
    """Whatever a title or a note holds stands there as text, and opens no tag."""
    title, subtitle, name, value = texts
    row = ((name, value),)
    sheet = PaperSheet(title, subtitle, (PaperPart(name, row), PaperPart(name, row, listed=True)),
                       (value,))
    seen = _Read()
    made = sheet_page(sheet)
    seen.feed(made)
    assert (seen.open, seen.wrong) == ([], [])
    assert seen.tags <= {"html", "head", "meta", "title", "style", "body", "header", "h1", "p",
                         "bdi", "section", "h2", "table", "tbody", "tr", "th", "td", "ul", "li",
                         "b", "footer", "div"}
    assert "".join(seen.said).count(sanitize(value)) >= (1 if value else 0)
    assert len(sheet_text(sheet)) == 12
