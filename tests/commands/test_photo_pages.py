"""Pictures on the pages that leave: each there once, cleaned, in the page or in a folder beside."""

from __future__ import annotations

import base64
import re
from pathlib import Path
from urllib.parse import unquote

import pytest

from benchapp.edition.pictures import PictureSubject, TiedPicture
from benchapp.files import keep_picture, read_picture
from benchapp.pictures import clean_picture, clean_thumbnail
from benchapp.service.page_photos import cleaned_files, photo_files, photos_for_page
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call, one_day, printed  # noqa: F401 - fixtures
from tests.pictures import made

TELLS = re.compile(rb"GPS|Bellows|2026:05|comment")
SMALL = made.jpeg(made.segment(0xDD, b"\0\1"), made.app1(made.exif()), behind=b"GPS trailer")


@pytest.fixture
def tied(printed: Path, tmp_path: Path, call: Call) -> Path:  # noqa: F811
    """D3 and D4 with a picture each, D3 with a HEIC and a plate with one of its state too."""
    for name, data in (
            ("GPS d3.jpg", made.jpeg(made.app1(made.exif(thumbnail=SMALL, orientation=6)),
                                     made.segment(0xFE, b"GPS comment"), behind=SMALL)),
            ("d4.png", made.png(made.chunk(b"tEXt", b"Comment\0GPS"))),
            ("d3.heic", made.heic()), ("plate.jpg", made.jpeg(made.segment(0xDD, b"\0\2")))):
        (tmp_path / name).write_bytes(data)
    book = ("--book", str(printed), "photo")
    assert call(*book, "D3", str(tmp_path / "GPS d3.jpg"), str(tmp_path / "d3.heic")).code == 0
    assert call(*book, "D4", str(tmp_path / "d4.png")).code == 0
    plate = call(*book, "--plate", "?", "x.jpg")
    (tmp_path / "x.jpg").write_bytes(made.jpeg())
    plate = call(*book, "--plate", "?", str(tmp_path / "x.jpg"))
    name = plate.err.split("its plates: ")[1].split(",")[0].strip().rstrip(".")
    assert call(*book, "--plate", name, "--state", "II", str(tmp_path / "plate.jpg")).code == 0
    return printed


def images(page: str) -> list[bytes]:
    """The pictures in a page, read out of it again."""
    found = re.findall(r'<img src="data:image/(?:jpeg|png);base64,([^"]*)"', page)
    assert len(found) == page.count("<img ")
    return [base64.b64decode(x) for x in found]


def test_the_history_of_a_sheet_has_an_image_for_each(
        tied: Path, tmp_path: Path, call: Call) -> None:  # noqa: F811
    page = tmp_path / "d3.html"
    done = call("--book", str(tied), "papers", "sheet", "D3", "--html", str(page))
    assert done.code == 0
    assert "Not on the page: d3.heic: HEIC stays at home" in done.err
    text = page.read_text("utf-8")
    found = images(text)
    assert found == [clean_picture((tmp_path / "GPS d3.jpg").read_bytes(), "JPEG")]
    assert not TELLS.search(found[0])
    assert "img-src data:;" in text
    assert "d3.jpg" not in text  # a file's name stays at home
    assert "D3, 2026-05-03 14:05" in text
    assert not page.with_name("d3.html-pictures").exists()


def test_the_review_has_them_beside_each_sheet(
        tied: Path, tmp_path: Path, call: Call) -> None:  # noqa: F811
    page = tmp_path / "day.html"
    assert call("--book", str(tied), "review", "last", "--html", str(page)).code == 0
    text = page.read_text("utf-8")
    assert len(images(text)) == 2
    rows = [x for x in text.split("<tr>") if "<img " in x]
    assert [re.findall(r"<td[^>]*><bdi>(D\d)</bdi>", x) for x in rows] == [["D3"], ["D4"]]


def test_two_sheets_are_side_by_side(tied: Path, tmp_path: Path, call: Call) -> None:  # noqa: F811
    page = tmp_path / "both.html"
    done = call("--book", str(tied), "beside", "D3", "D4", "--html", str(page))
    assert done.code == 0
    text = page.read_text("utf-8")
    assert len(images(text)) == 2
    assert text.index("<img ") < text.index("verdict")


def test_the_life_of_a_plate_is_a_contact_sheet(
        tied: Path, tmp_path: Path, call: Call) -> None:  # noqa: F811
    page = tmp_path / "life.html"
    assert call("--book", str(tied), "life", "--html", str(page)).code == 0
    text = page.read_text("utf-8")
    found = images(text)
    assert len(found) == 3
    assert "state II" in text
    # the small picture that the camera put into it, cleaned alike
    assert clean_thumbnail((tmp_path / "GPS d3.jpg").read_bytes(), "JPEG") in found
    assert not [x for x in found if TELLS.search(x)]


def test_a_page_without_pictures_is_as_it_was(
        printed: Path, tmp_path: Path, call: Call) -> None:  # noqa: F811
    page = tmp_path / "d3.html"
    assert call("--book", str(printed), "papers", "sheet", "D3", "--html", str(page)).code == 0
    text = page.read_text("utf-8")
    assert "<img" not in text
    assert "img-src" not in text
    assert "photos" not in text


def kept(tmp_path: Path, *pictures: bytes) -> tuple[Path, list[TiedPicture]]:
    folder, out = tmp_path / "photos", []
    for n, data in enumerate(pictures):
        path = tmp_path / f"{n}.jpg"
        path.write_bytes(data)
        read = read_picture(path)
        keep_picture(folder, read, ".jpg")
        out.append(TiedPicture(PictureSubject(sheet="K7"), read.sha256, path.name, "JPEG"))
    return folder, out


def test_many_pictures_go_into_a_folder_whose_name_begins_with_the_pages(tmp_path: Path) -> None:
    folder, tied = kept(tmp_path, *(made.jpeg(made.segment(0xDD, bytes((0, n)))) for n in range(9)))
    inside = photos_for_page(folder, tied, "a #1.html", most=9 * len(made.jpeg()) + 100)
    assert inside.folder is None
    assert all(x.startswith("data:image/jpeg;base64,") for x in inside.sources.values())
    beside = photos_for_page(folder, tied, "a #1.html", most=300)
    assert beside.folder == "a #1.html-pictures"
    assert [unquote(x).split("/")[1] for x in beside.sources.values()] == [
        name for name, _ in photo_files(folder, tied, beside)]
    assert all(x.startswith("a%20%231.html-pictures/") for x in beside.sources.values())


def test_more_than_twenty_megabytes_are_beside_the_page(
        printed: Path, tmp_path: Path, call: Call) -> None:  # noqa: F811
    large = made.jpeg()[:-2] + b"\0" * (11 * 1024 * 1024)
    files = [tmp_path / "1.jpg", tmp_path / "2.jpg"]
    for n, path in enumerate(files):
        path.write_bytes(large + bytes((n,)) + b"\xff\xd9" + b"GPS")
    book = ("--book", str(printed))
    assert call(*book, "photo", "D3", *map(str, files)).code == 0
    page = tmp_path / "d3.html"
    done = call(*book, "papers", "sheet", "D3", "--html", str(page))
    assert done.code == 0
    text = page.read_text("utf-8")
    found = re.findall(r'<img src="([^"]*)"', text)
    assert len(found) == 2
    assert all((tmp_path / unquote(x)).read_bytes().endswith(b"\xff\xd9") for x in found)
    assert "'self' file:" in text.replace("&#x27;", "'")
    again = call(*book, "papers", "sheet", "D3", "--html", str(tmp_path / "d3.html"))
    assert again.code == 1
    assert call(*book, "papers", "sheet", "D3", "--html", str(page), "--force").code == 0


def test_what_is_missing_or_changed_is_said_and_nothing_leaves(tmp_path: Path) -> None:
    folder, tied = kept(tmp_path, made.jpeg(), made.jpeg(made.segment(0xDD, b"\0\3")))
    (folder / f"{tied[0].picture}.jpg").unlink()
    (folder / f"{tied[1].picture}.jpg").write_bytes(made.jpeg(made.segment(0xFE, b"GPS")))
    found = photos_for_page(folder, tied, "p.html")
    assert found.sources == {}
    assert [x.partition(":")[0] for x in found.notes] == ["0.jpg", "1.jpg"]
    assert [x for _, x in cleaned_files(folder, tied)] == [
        x.partition(": ")[2] for x in found.notes]
