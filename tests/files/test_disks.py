"""Where a book is: disks of other machines, folders that are copied away, and the report."""

from __future__ import annotations

import getpass
import json
import os
import platform
from pathlib import Path

import pytest

from benchapp import files
from tests.commands.test_cli import Call, call

__all__ = ["call"]

MOUNTS = """\
22 1 8:1 / / rw,relatime shared:1 - ext4 /dev/sda1 rw
40 22 0:50 / /srv/print\\040shop rw - nfs4 10.0.0.2:/shop rw,vers=4.2
41 40 0:51 / /srv/print\\040shop/scans rw - ext4 /dev/sdb1 rw
42 22 0:52 / /mnt/anvil rw,nosuid - fuse.sshfs wren@anvil: rw
43 22 0:53 / /mnt/anvil rw - xfs /dev/sdc1 rw
44 22 0:54 / /mnt/far rw,nosuid - fuse.sshfs wren@far: rw
"""


@pytest.mark.parametrize(("path", "kind", "elsewhere"), [
    ("/home/wren/studio.book", "ext4", False),
    ("/srv/print shop/studio.book", "nfs4", True),
    ("/srv/print shops/studio.book", "ext4", False),
    ("/srv/print shop/scans/studio.book", "ext4", False),
    ("/mnt/anvil/studio.book", "xfs", False),  # mounted over
    ("/mnt/far/a/b/studio.book", "fuse.sshfs", True),
])
def test_a_disk_of_another_machine_is_known_by_its_mount(
    path: str, kind: str, elsewhere: bool
) -> None:
    """The mount nearest above the file decides, of two at one place the later; else nothing."""
    assert files.file_system(Path(path), MOUNTS) == kind
    assert files.is_elsewhere(Path(path), MOUNTS) is elsewhere
    assert bool(files.disk_warnings(Path(path), MOUNTS)) is elsewhere
    assert not files.disk_warnings(Path(path), "no mounts\n\n")


@pytest.mark.parametrize(("folder", "copied"), [
    ("Dropbox/studio", "Dropbox"), ("OneDrive - Tollerbank/x", "OneDrive - Tollerbank"),
    ("Nextcloud", "Nextcloud"), ("dropboxes", None), ("studio", None), ("box/drive", None),
])
def test_a_folder_that_is_copied_away_is_known_by_its_name(
    tmp_path: Path, folder: str, copied: str | None
) -> None:
    """By a name in the path, also behind a link, or by what such a program leaves there."""
    real = tmp_path / folder
    real.mkdir(parents=True)
    link = tmp_path / "prints"
    link.symlink_to(real)
    for place in (real, link):
        assert files.copied_folder(place / "studio.book") == copied
    (tmp_path / ".stfolder").mkdir()
    assert files.copied_folder(tmp_path / "studio" / "studio.book") == tmp_path.name


def test_the_printer_is_told_where_it_matters(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A day by lines says it at each start, small commands once, `files` always."""
    home = tmp_path / "Dropbox" / "home"
    monkeypatch.setenv("BENCHAPP_HOME", str(home))
    for _ in range(2):
        done = call("run", "three-steps", "--plain", stdin="quit\n")
        assert done.code == 0
        assert "in the folder Dropbox, which a program copies" in done.out
    told = [call("damp", "weigh-house", "--sheets", "2").err.count("Dropbox") for _ in range(2)]
    assert told == [1, 0]
    assert "Dropbox" in call("files").err


def test_a_report_says_what_a_machine_is_like_and_no_name(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Versions, settings, disk, copies, clocks, sound, terminal; no title, path or name in it."""
    home = tmp_path / "wrenhalloran" / "home"
    monkeypatch.setenv("BENCHAPP_HOME", str(home))
    monkeypatch.setenv("LOGNAME", "wrenhalloran")
    monkeypatch.setenv("TERM_PROGRAM", "wrenhalloran-term")
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setattr(platform, "node", lambda: "anvilhost")
    assert getpass.getuser() == "wrenhalloran"
    assert call("report").code == 0
    assert not home.exists()
    assert call("run", "three-steps", "--plain", "--wanted", "1",
                stdin="note for Ada Quill\n" + "\n" * 200).code == 0
    before = sorted(home.rglob("*"))
    said = call("report", "--json")
    text = said.out.replace('"report/1"', "") + call("report").out
    assert sorted(home.rglob("*")) == before
    found = json.loads(said.out)
    assert found["book"]["streams"]["session"] == 1
    assert found["book"]["lock"] == "free"
    assert found["disk"]["settings_of_a_writer"]["synchronous"] == 2
    assert found["copies"]["backups"] == 1
    assert found["copies"]["text_mirror_has_entries"] == found["book"]["entries"]
    assert found["terminal"]["term"] == "xterm-256color"
    assert found["terminal"]["term_program"] is None
    for secret in ("wrenhalloran", "anvilhost", "Quill", str(tmp_path), "Three", "@", os.sep):
        assert secret not in text
    (home / "studio.book").write_bytes(b"nothing of a book" * 100)
    assert "cannot be read (BookDamaged)" in call("report").out
