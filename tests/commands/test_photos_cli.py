"""The command that goes through a folder: what it proposes, asks and ties, and what it leaves."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.events.moments import local_time
from benchapp.quantities import QuantityError
from benchapp.service.editions import EditionService
from benchapp.service.photo_folder import read_shift, shift_words
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call, one_day, printed  # noqa: F401 - fixtures
from tests.pictures import made

HOUR = timedelta(hours=1)


def pulls(book: Path) -> dict[str, datetime]:
    """When each sheet was pulled, by the clock of the studio."""
    with Book.reading(book) as opened:
        sheets = EditionService(opened, FakeClock()).register.sheets.values()
        now = FakeClock().now()
        return {s.mark: local_time(replace(now, wall_ms=s.pulled_ms)) for s in sheets
                if s.pulled_ms is not None}


@pytest.fixture
def camera(printed: Path, tmp_path: Path) -> Path:  # noqa: F811
    """Each sheet photographed a minute after its pull, by a camera an hour ahead."""
    folder = tmp_path / "card"
    folder.mkdir()
    for n, (mark, at) in enumerate(pulls(printed).items()):
        taken = (at + timedelta(minutes=1) + HOUR).strftime("%Y:%m:%d %H:%M:%S")
        (folder / f"IMG_{n}_{mark}.JPG").write_bytes(made.jpeg(made.app1(made.exif(taken=taken))))
    (folder / "notes.txt").write_text("no picture")
    return folder


def listed(text: str) -> dict[str, tuple[str | None, bool, bool]]:
    return {x["name"]: (x["mark"], x["sure"], x["tied"]) for x in json.loads(text)["pictures"]}


def test_nothing_is_sure_before_the_clock_is_said(
        printed: Path, camera: Path, call: Call) -> None:  # noqa: F811
    book = ("--book", str(printed), "photos", str(camera))
    told = call(*book, "--json")
    assert told.code == 0
    document = json.loads(told.out)
    assert document["format"] == "photos/1"
    assert (document["clock"], document["clock_guess"]) == (None, "1 h ahead")
    assert not any(sure for _, sure, _ in listed(told.out).values())
    assert ["notes.txt" in x for x in document["left_out"]] == [True]
    words = call(*book)
    assert 'add --clock "1 h ahead"' in words.out
    assert "Nothing was tied" in words.out
    refused = call(*book, "--yes")
    assert refused.code == 1
    assert "Was the camera's clock right?" in refused.err
    assert not printed.with_name("photos").exists()


def test_with_the_clock_each_is_right_or_asked_and_tied_by_yes(
        printed: Path, camera: Path, call: Call) -> None:  # noqa: F811
    book = ("--book", str(printed), "photos", str(camera), "--clock", "1 h ahead")
    first = listed(call(*book, "--list", "--json").out)
    assert len(first) >= 5
    assert all(name.endswith(f"_{mark}.JPG") for name, (mark, sure, _) in first.items() if sure)
    assert sum(sure for _, sure, _ in first.values()) >= 4
    assert not printed.with_name("photos").exists()
    done = listed(call(*book, "--yes", "--json").out)
    assert {k for k, (_, _, tied) in done.items() if tied} == {
        k for k, (_, sure, _) in first.items() if sure}
    assert len(list(printed.with_name("photos").iterdir())) == sum(
        tied for _, _, tied in done.values())
    again = json.loads(call(*book, "--json").out)
    assert again["tied_before"] == sum(tied for _, _, tied in done.values())
    assert ": 1 picture" in call("--book", str(printed), "photo", "D4").out
    assert max(x.name for x in camera.iterdir()) == "notes.txt"


def test_no_folder_and_no_clock_are_said(
        printed: Path, camera: Path, call: Call) -> None:  # noqa: F811
    book = ("--book", str(printed), "photos")
    gone = call(*book, str(camera / "nothing"))
    assert gone.code == 2
    assert "no such folder" in gone.err
    wrong = call(*book, str(camera), "--clock", "late")
    assert wrong.code == 2
    assert "1 h ahead, 20 min behind" in wrong.err


@pytest.mark.parametrize(("text", "shift"), [
    ("right", timedelta(0)), ("1 h ahead", -HOUR), ("20 min behind", timedelta(minutes=20)),
    ("1 h 30 min ahead", -1.5 * HOUR)])
def test_what_is_said_of_a_clock_is_read_and_said_back(text: str, shift: timedelta) -> None:
    assert read_shift(text) == shift
    assert shift_words(shift) == text


@pytest.mark.parametrize("text", ["", "wrong", "1 h", "ahead", "3 days behind", "-1 h ahead"])
def test_what_says_nothing_of_a_clock_is_refused(text: str) -> None:
    with pytest.raises(QuantityError):
        read_shift(text)
