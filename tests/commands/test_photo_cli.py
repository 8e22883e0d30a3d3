"""The command that ties pictures: what it keeps, writes, asks and refuses, and its exit code."""

from __future__ import annotations

import hashlib
import json
import os
from pathlib import Path

import pytest

from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call, one_day, printed  # noqa: F401 - fixtures
from tests.pictures import made

POSIX = pytest.mark.skipif(os.name != "posix", reason="links and pipes of POSIX")


@pytest.fixture
def camera(tmp_path: Path) -> Path:
    folder = tmp_path / "from the camera"
    folder.mkdir()
    (folder / "IMG_1.JPG").write_bytes(made.jpeg(made.app1(made.exif())))
    (folder / "IMG_2.HEIC").write_bytes(made.heic())
    os.utime(folder / "IMG_2.HEIC", (1_777_800_000, 1_777_800_000))
    (folder / "notes.txt").write_text("no picture")
    return folder


def test_pictures_are_copied_under_their_digest(
        printed: Path, camera: Path, call: Call) -> None:  # noqa: F811
    first, second = camera / "IMG_1.JPG", camera / "IMG_2.HEIC"
    done = call("--book", str(printed), "photo", "D3", str(first), str(second))
    assert done.code == 0, done.err
    assert "D3: 2 pictures tied, 2 pictures in all" in done.out
    assert "IMG_1.JPG, JPEG, taken 2026-05-03 14:05" in done.out
    assert "IMG_2.HEIC, HEIC, file of 2026-05-03 09:20" in done.out
    assert "HEIC: kept as it is. It is on no page" in done.out
    kept = printed.with_name("photos")
    assert sorted(x.name for x in kept.iterdir()) == sorted(
        hashlib.sha256(x.read_bytes()).hexdigest() + end
        for x, end in ((first, ".jpg"), (second, ".heic")))
    assert first.read_bytes() == made.jpeg(made.app1(made.exif()))


def test_they_are_listed_and_a_lost_file_is_said(
        printed: Path, camera: Path, call: Call) -> None:  # noqa: F811
    book = ("--book", str(printed))
    assert call(*book, "photo", "D3", str(camera / "IMG_1.JPG"), "--json").code == 0
    told = json.loads(call(*book, "photo", "D3", "--json").out)
    assert told["format"] == "photo/1"
    assert told["about"] == "D3"
    assert [(x["name"], x["type"], x["taken"], x["taken_by"], x["on_pages"], x["there"])
            for x in told["pictures"]] == [
        ("IMG_1.JPG", "JPEG", "2026-05-03T14:05:10", "camera", True, True)]
    assert str(camera) not in json.dumps(told)
    next(printed.with_name("photos").iterdir()).unlink()
    assert "IMG_1.JPG, JPEG, taken 2026-05-03 14:05: missing" in call(*book, "photo", "D3").out
    # given again, it is mended, and nothing is tied twice
    again = call(*book, "photo", "D3", str(camera / "IMG_1.JPG"))
    assert again.code == 0
    assert ": missing" not in call(*book, "photo", "D3").out


def test_what_is_no_picture_is_refused_and_nothing_is_tied(
        printed: Path, camera: Path, call: Call) -> None:  # noqa: F811
    done = call("--book", str(printed), "photo", "D3", str(camera / "IMG_1.JPG"),
                str(camera / "notes.txt"), "--yes")
    assert done.code == 1
    assert "notes.txt: is not a picture" in done.err
    assert "Nothing was tied" in done.err
    assert not printed.with_name("photos").exists()


@POSIX
@pytest.mark.parametrize("how", ["link", "pipe", "folder", "gone", "device"])
def test_links_and_devices_are_refused(
        printed: Path, camera: Path, call: Call, how: str) -> None:  # noqa: F811
    path = camera / "odd.jpg"
    if how == "link":
        path.symlink_to(camera / "IMG_1.JPG")
    elif how == "pipe":
        os.mkfifo(path)
    elif how == "folder":
        path.mkdir()
    elif how == "device":
        path = Path("/dev/zero")
    done = call("--book", str(printed), "photo", "D3", str(path))
    assert done.code == 1
    assert "Nothing was tied" in done.err


@POSIX
def test_a_folder_of_pictures_that_is_a_link_is_refused(
        printed: Path, camera: Path, call: Call, tmp_path: Path) -> None:  # noqa: F811
    (tmp_path / "elsewhere").mkdir()
    printed.with_name("photos").symlink_to(tmp_path / "elsewhere")
    done = call("--book", str(printed), "photo", "D3", str(camera / "IMG_1.JPG"))
    assert done.code == 2
    assert "is a link" in done.err
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_one_that_shows_another_sheet_is_asked_about(
        printed: Path, camera: Path, call: Call) -> None:  # noqa: F811
    book, file = ("--book", str(printed)), str(camera / "IMG_1.JPG")
    assert call(*book, "photo", "D3", file).code == 0
    asked = call(*book, "photo", "D4", file)
    assert asked.code == 2
    assert "IMG_1.JPG is tied to D3" in asked.err
    assert call(*book, "photo", "D4", file, "--yes").code == 0


def test_it_is_untied_with_a_reason(
        printed: Path, camera: Path, call: Call) -> None:  # noqa: F811
    book = ("--book", str(printed))
    call(*book, "photo", "D3", str(camera / "IMG_1.JPG"))
    assert call(*book, "photo", "D3", "IMG_1.JPG", "--untie").code == 2
    none = call(*book, "photo", "D3", "IMG_9.JPG", "--untie", "--why", "it shows D4")
    assert none.code == 1
    assert "No picture of D3 is called IMG_9.JPG; its pictures: IMG_1.JPG (" in none.err
    done = call(*book, "photo", "D3", "IMG_1.JPG", "--untie", "--why", "it shows D4")
    assert done.code == 0
    assert "no longer tied to D3: it shows D4" in done.out
    assert "D3: 0 pictures" in call(*book, "photo", "D3").out
    assert len(list(printed.with_name("photos").iterdir())) == 1


def test_plates_and_days_have_pictures_too(
        printed: Path, camera: Path, call: Call) -> None:  # noqa: F811
    book, file = ("--book", str(printed)), str(camera / "IMG_1.JPG")
    none = call(*book, "photo", "--plate", "nothing such", file)
    assert none.code == 1
    assert "its plates: " in none.err
    plate = none.err.split("its plates: ")[1].split(",")[0].strip().rstrip(".")
    done = call(*book, "photo", "--plate", plate, "--state", "II", file)
    assert f"plate {plate}, state II: 1 picture tied" in done.out, done.err
    assert ": 1 picture tied" in call(*book, "photo", "--session", "last", file, "--yes").out
    assert call(*book, "photo", "--session", "last", "--plate", plate, file).code == 2
    assert call(*book, "photo", "--state", "II", file).code == 2
    assert call(*book, "photo").code == 2


def test_nothing_is_written_over_a_kept_picture(
        printed: Path, camera: Path, call: Call) -> None:  # noqa: F811
    book = ("--book", str(printed))
    call(*book, "photo", "D3", str(camera / "IMG_1.JPG"))
    kept = next(printed.with_name("photos").iterdir())
    done = call(*book, "export", "--html", str(kept), "--force")
    assert done.code == 1
    assert "in the folder of the pictures" in done.err
