"""Where pages go, and which program would open them: nothing is started here."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchapp.files import papers_folder
from benchapp.files.viewer import viewer_command


@pytest.mark.parametrize(("environ", "platform", "program"), [
    ({"DISPLAY": ":0"}, "linux", "/bin/xdg-open"),
    ({"WAYLAND_DISPLAY": "wayland-0"}, "linux", "/bin/xdg-open"),
    ({}, "linux", None),
    ({"DISPLAY": ":0", "SSH_CONNECTION": "1 2 3 4"}, "linux", None),
    ({}, "darwin", "/bin/open"),
    ({"SSH_TTY": "/dev/pts/1"}, "darwin", None)])
def test_a_viewer_is_there_where_someone_sees_it(
    environ: dict[str, str], platform: str, program: str | None
) -> None:
    """With a display, or on a Mac; never over ssh."""
    assert viewer_command(environ, platform, lambda name: f"/bin/{name}") == program
    assert viewer_command(environ, platform, lambda name: None) is None


def test_pages_go_where_people_find_them(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A home that is named keeps them; else the folder chosen, documents, the user's own."""
    user, documents = tmp_path / "user", tmp_path / "user" / "Documents"
    user.mkdir()
    monkeypatch.setattr(Path, "home", lambda: user)
    monkeypatch.setattr("platformdirs.user_documents_dir", lambda: str(documents))
    assert papers_folder("/elsewhere") == home / "papers"
    monkeypatch.delenv("BENCHAPP_HOME")
    assert papers_folder("/elsewhere") == Path("/elsewhere")
    assert papers_folder() == user / "benchapp-papers"
    documents.mkdir()
    assert papers_folder() == documents / "benchapp"
    monkeypatch.setattr("platformdirs.user_documents_dir", lambda: str(user))
    assert papers_folder() == user / "benchapp-papers"
