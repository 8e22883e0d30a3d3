"""Pictures checked with the book, and taken along by its backup and its export."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchapp.pictures import clean_picture
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call, one_day, printed  # noqa: F401 - fixtures
from tests.pictures import made


@pytest.fixture
def tied(printed: Path, tmp_path: Path, call: Call) -> Path:  # noqa: F811
    """D3 with a JPEG that knows its place and a HEIC, D4 with another JPEG."""
    for name, data in (("one.jpg", made.jpeg(made.app1(made.exif()))), ("two.heic", made.heic()),
                       ("three.jpg", made.jpeg(behind=b"GPS trailer"))):
        (tmp_path / name).write_bytes(data)
    book = ("--book", str(printed), "photo")
    assert call(*book, "D3", str(tmp_path / "one.jpg"), str(tmp_path / "two.heic")).code == 0
    assert call(*book, "D4", str(tmp_path / "three.jpg")).code == 0
    return printed


def kept(book: Path, ending: str) -> list[Path]:
    return sorted(book.with_name("photos").glob(f"*{ending}"))


def test_the_check_names_what_is_missing(tied: Path, call: Call) -> None:  # noqa: F811
    assert call("--book", str(tied), "book", "check").code == 0
    kept(tied, ".heic")[0].unlink()
    told = call("--book", str(tied), "book", "check")
    assert told.code == 1
    assert "is sound" in told.out
    assert "two.heic of D3 is missing" in told.out
    assert "one.jpg" not in told.out


def test_the_full_check_reads_each_one(tied: Path, call: Call) -> None:  # noqa: F811
    first = next(x for x in kept(tied, ".jpg"))
    first.write_bytes(made.jpeg(made.segment(0xDD, b"\0\7")))
    assert call("--book", str(tied), "book", "check").code == 0
    told = call("--book", str(tied), "book", "check", "--full")
    assert told.code == 1
    assert "is not as it was kept" in told.out


def test_a_backup_takes_them_along_on_request_and_restore_brings_them_back(
        tied: Path, tmp_path: Path, call: Call) -> None:  # noqa: F811
    plain, to = tmp_path / "plain.book", tmp_path / "with.book"
    assert call("--book", str(tied), "book", "backup", str(plain)).code == 0
    assert not (tmp_path / "plain.book-pictures").exists()
    assert call("--book", str(tied), "book", "backup", str(to), "--photos").code == 0
    folder = tmp_path / "with.book-pictures"
    before = {x.name: x.read_bytes() for x in kept(tied, "")}
    assert {x.name: x.read_bytes() for x in folder.iterdir()} == before
    again = call("--book", str(tied), "book", "backup", str(tmp_path / "with.book"), "--photos")
    assert again.code == 1
    for x in kept(tied, ""):
        x.unlink()
    (folder / ("0" * 64 + ".jpg")).write_bytes(made.jpeg())
    told = call("--book", str(tied), "book", "restore", str(to), "--yes")
    assert told.code == 0
    assert "3 pictures restored" in told.out
    assert "is not as it was backed up" in told.err
    assert {x.name: x.read_bytes() for x in kept(tied, "")} == before
    assert call("--book", str(tied), "book", "check", "--full").code == 0


def test_an_export_takes_them_cleaned_on_request(
        tied: Path, tmp_path: Path, call: Call) -> None:  # noqa: F811
    to = tmp_path / "all.jsonl"
    told = call("--book", str(tied), "export", "--jsonl", str(to), "--photos")
    assert told.code == 0
    assert "two.heic: HEIC stays at home" in told.err
    found = {x.name: x.read_bytes() for x in (tmp_path / "all.jsonl-pictures").iterdir()}
    assert found == {x.name: clean_picture(x.read_bytes(), "JPEG") for x in kept(tied, ".jpg")}
    assert not any(b"GPS" in x for x in found.values())
    again = call("--book", str(tied), "export", "--jsonl", str(to), "--photos", "--force")
    assert again.code == 1
    assert "all.jsonl-pictures is there already" in again.err
