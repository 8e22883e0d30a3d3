"""Which editor opens a recipe: the one the printer named, else the system's."""

from __future__ import annotations

import pytest

from benchapp.files.editor import find_editor

_THERE = {"nano", "vi", "mine", "notepad", r"C:\My Tools\ed.exe"}


@pytest.mark.parametrize(("environ", "platform", "command"), [
    ({"VISUAL": "mine -w", "EDITOR": "nano"}, "linux", ("mine", "-w")),
    ({"VISUAL": " ", "EDITOR": "vi"}, "linux", ("vi",)),
    ({}, "linux", ("nano",)),
    ({}, "darwin", ("nano",)),
    ({}, "win32", ("notepad",)),
    ({"EDITOR": r'"C:\My Tools\ed.exe" /w'}, "win32", (r"C:\My Tools\ed.exe", "/w")),
])
def test_the_printer_s_editor_comes_first(
    environ: dict[str, str], platform: str, command: tuple[str, ...]
) -> None:
    """VISUAL, then EDITOR, then what the system has."""
    assert find_editor(environ, platform, lambda name: name if name in _THERE else None) == command


@pytest.mark.parametrize(("environ", "said"), [
    ({"EDITOR": "gone"}, "EDITOR names gone, which is not there"),
    ({"VISUAL": "'open"}, "VISUAL names 'open, which is not there"),
    ({}, "Name yours in the variable EDITOR"),
])
def test_an_editor_that_is_not_there_is_said(environ: dict[str, str], said: str) -> None:
    """And nothing else is opened in its place."""
    with pytest.raises(LookupError, match=said):
        find_editor(environ, "linux", lambda name: None)
