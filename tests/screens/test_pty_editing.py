"""A recipe in an editor, in a real pseudo-terminal: the terminal is lent, and taken back."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

if sys.platform.startswith("win"):  # pragma: no cover
    pytest.skip("there are no pseudo-terminals here", allow_module_level=True)

from tests.screens.days import small
from tests.screens.terminal import Terminal

EDITOR = """\
import pathlib, sys
print("the editor is open")
old, new = input().split(" ")
path = pathlib.Path(sys.argv[1])
path.write_text(path.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
"""


@pytest.mark.full
def test_the_terminal_is_lent_to_the_editor_and_taken_back(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is typed meanwhile is the editor's; afterwards keys and leaving work as before."""
    script, recipe = tmp_path / "editor.py", home / "recipes" / "pear.yaml"
    script.write_text(EDITOR, encoding="utf-8")
    recipe.parent.mkdir(parents=True)
    recipe.write_text(small(), encoding="utf-8")
    monkeypatch.setenv("VISUAL", f"{sys.executable} {script}")
    with Terminal([], home, (80, 24)) as terminal:
        terminal.shows("pear")
        terminal.press("e")
        terminal.until(lambda: "the editor is open" in "".join(terminal.written), "it opens")
        terminal.press("copper q\r")
        terminal.shows("pear can be printed from")
        terminal.press("q")
        assert terminal.ended() == 0
    assert "metal: q," in recipe.read_text(encoding="utf-8")
