"""Streams that are closed, full or gone, and homes that cannot be: a sentence and its exit code."""

from __future__ import annotations

import errno
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from benchapp import files
from benchapp.cli import main

if sys.platform == "win32":  # pragma: no cover
    pytest.skip("shells close streams by number here", allow_module_level=True)


def shell(words: str, home: Path) -> subprocess.CompletedProcess[str]:
    """A command as a shell runs it, `benchapp` meaning this one."""
    program = f"'{sys.executable}' -m benchapp"
    return subprocess.run(["/bin/sh", "-c", words.replace("benchapp", program)],
                          capture_output=True, text=True, check=False, timeout=60,
                          env={**os.environ, "BENCHAPP_HOME": str(home)})


@pytest.mark.parametrize(("words", "code"), [
    ("benchapp sessions >&-", 0), ("benchapp check no-such-recipe >&- 2>&-", 2),
    pytest.param("benchapp files >&- 2>&-", 0, marks=pytest.mark.full),
    pytest.param("benchapp sessions 2>&-", 0, marks=pytest.mark.full),
    pytest.param("benchapp --version >&-", 0, marks=pytest.mark.full),
])
def test_a_closed_stream_is_no_failure(home: Path, words: str, code: int) -> None:
    """What is printed goes nowhere; the exit code is the command's own."""
    done = shell(words, home)
    assert (done.returncode, done.stderr) == (code, "")


def test_plain_lines_without_an_input_end_as_at_the_end_of_one(home: Path) -> None:
    """A closed input is an ended one: the session stays open, and how to go on is said."""
    done = shell("benchapp run three-steps --plain <&-", home)
    assert (done.returncode, done.stderr) == (0, "")
    assert "stays open · go on with: benchapp resume" in done.stdout


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize("words", [
    "sessions", "check three-steps", pytest.param("files", marks=pytest.mark.full),
    pytest.param("sessions --json", marks=pytest.mark.full)])
def test_output_that_cannot_be_written_is_said(home: Path, words: str) -> None:
    """A full disk under the output is a failure of the disk: exit 3, one sentence."""
    done = shell(f"benchapp {words} > /dev/full", home)
    assert done.returncode == 3
    assert done.stderr == ("The output of this command could not be written: "
                           "No space left on device. What it wrote in the book is kept.\n")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
def test_an_error_nobody_can_be_told_keeps_its_code(home: Path) -> None:
    """Where the error output is full too, the exit code still says it."""
    assert shell("benchapp check no-such-recipe 2> /dev/full", home).returncode == 2


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EIO, errno.EDQUOT])
def test_a_disk_that_fails_is_the_disks_failure(home, tmp_path, monkeypatch, capsys, code) -> None:
    """Writing a recipe or a table on a full or failing disk ends with 3, not with wrong use."""
    def fails(*_: object) -> None:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(os, "fsync", fails)
    assert main(["export", "--csv", str(tmp_path / "out.csv")]) == 3
    assert os.strerror(code) in capsys.readouterr().err
    assert list(tmp_path.glob("*.csv")) == []


def test_a_name_that_cannot_be_written_is_wrong_use(home, tmp_path, capsys) -> None:
    """A folder where a file was to be is the printer's to mend: exit 2."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert main(["export", "--csv", str(tmp_path / "file" / "out.csv")]) == 2
    assert "a file is where a folder belongs" in capsys.readouterr().err


@pytest.mark.parametrize("deeper", ["", "studio"])
def test_a_file_where_the_home_should_be(tmp_path, monkeypatch, capsys, deeper) -> None:
    """Commands say so and what to do; `files` lists it, as it is what one asks to find out."""
    place = tmp_path / "file"
    place.write_text("mine", encoding="utf-8")
    monkeypatch.setenv("BENCHAPP_HOME", str(place / deeper))
    for words in (["sessions"], ["review", "last"], ["boards"]):
        assert main(words) == 3
        assert "is a file, not a folder" in capsys.readouterr().err
    assert main(["files"]) == 0
    assert "studio.book (a file is where a folder belongs)" in capsys.readouterr().out
    assert main(["files", "--json"]) == 0
    book = json.loads(capsys.readouterr().out)["book"]
    assert (book["there"], book["why"]) == (False, "a file is where a folder belongs")
    assert place.read_text(encoding="utf-8") == "mine"


def test_a_home_nobody_may_look_into(home, monkeypatch, capsys) -> None:
    """`files` says of each place that it may not be looked at, and goes on."""
    def forbidden(path: object, *_: object, **__: object) -> os.stat_result:
        if str(path).startswith(str(home)):
            raise PermissionError(errno.EACCES, "Permission denied")
        return real(path)

    real = os.stat
    monkeypatch.setattr(os, "stat", forbidden)
    assert files.why_not_there(home) == "cannot be looked at: Permission denied"
    assert main(["files"]) == 0
    assert capsys.readouterr().out.count("(cannot be looked at: Permission denied)") >= 5
