"""`benchapp calls`: tries what is there, says how it went, keeps the choice and nothing else."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from benchapp import settings
from benchapp.cli import main

if sys.platform.startswith("win"):  # pragma: no cover
    pytest.skip("programs are made as scripts here", allow_module_level=True)

NOTES = 'open({log!r}, "a").write(repr(sys.argv[1:]) + "\\n")'


@pytest.fixture
def machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder that holds all the programs there are."""
    folder = tmp_path / "bin"
    folder.mkdir()
    monkeypatch.setenv("PATH", str(folder))
    for name in ("SSH_CONNECTION", "SSH_TTY"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(sys, "platform", "linux")
    return folder


def install(folder: Path, name: str, code: str) -> Path:
    """A program that does these lines; gives the file it notes its arguments in."""
    log = folder / f"{name}.log"
    path = folder / name
    path.write_text(f"#!{sys.executable} -S\nimport sys\n{NOTES.format(log=str(log))}\n{code}\n",
                    encoding="utf-8")
    path.chmod(0o755)
    return log


def told(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, object]:
    """The document the command prints."""
    assert main(["calls", "--json", *words]) == 0
    found: dict[str, object] = json.loads(capsys.readouterr().out)
    return found


def test_every_player_and_voice_is_tried_and_told_apart(machine, capsys, home):
    """One plays, one fails, the voice is played by the one that works; nothing is made."""
    install(machine, "paplay", "sys.exit(3)")
    played = install(machine, "aplay", "pass")
    spoken = install(machine, "espeak-ng",
                     "import wave\nw = wave.open(sys.argv[-1], 'wb')\nw.setnchannels(1)\n"
                     "w.setsampwidth(2)\nw.setframerate(8000)\nw.writeframes(bytes(99))\nw.close()")
    found = told(capsys)
    assert [(t["name"], t["does"], t["ended"], t["said"]) for t in found["tried"]] == [
        ("paplay", "plays", "failed", "it ended with code 3"), ("aplay", "plays", "well", ""),
        ("espeak-ng", "speaks", "well", "")]
    lines = played.read_text(encoding="utf-8").splitlines()
    assert ["end-loud.wav" in lines[0], "say-" in lines[1]] == [True, True]
    assert "-w" in spoken.read_text(encoding="utf-8")
    assert (found["kept"], found["choice"]["sound"]) == ([], "ask")
    assert not home.exists()


def test_a_choice_is_kept_in_the_commented_file_and_only_its_value_changes(machine, capsys, home):
    """The file is written where there is none; the second choice leaves the first."""
    install(machine, "aplay", "pass")
    assert told(capsys, "--sound", "soft", "--player", "aplay")["kept"] == ["sound", "player"]
    first = (home / "preferences.yaml").read_text(encoding="utf-8")
    assert told(capsys, "--voice", "off")["kept"] == ["voice"]
    second = (home / "preferences.yaml").read_text(encoding="utf-8")
    changed = [(a, b) for a, b in zip(first.splitlines(), second.splitlines(), strict=True)
               if a != b]
    assert [a.split(":")[0] for a, _ in changed] == ["voice"]
    kept = settings.load_preferences()
    assert (kept.sound, kept.voice, kept.player) == ("soft", "off", "aplay")


def test_lines_say_what_was_found_and_that_nothing_was_changed(machine, capsys, home):
    """Without a terminal nothing is asked."""
    assert main(["calls"]) == 0
    out = capsys.readouterr().out
    assert "Sound: no player, then the terminal's bell. Speech: no voice." in out
    assert "As it was: sound ask, voice on, player the best there is" in out
    assert not home.exists()


def test_over_the_network_only_the_bell_is_offered(machine, capsys, monkeypatch):
    """Sound would come out at the other end."""
    monkeypatch.setenv("SSH_CONNECTION", "10.0.0.2 5 10.0.0.1 22")
    install(machine, "aplay", "pass")
    found = told(capsys, "--player", "bell")
    assert (found["remote"], found["tried"], found["choice"]["player"]) == (True, [], "bell")


@pytest.mark.parametrize(("words", "said"), [
    (["--player", "aplai"], "No player is called aplai here; did you mean aplay?"),
    (["--sound", "sof"], "There is no HOW sof; did you mean soft or off?"),
])
def test_a_choice_that_is_none_is_refused(machine, capsys, home, words, said):
    """Wrong use, with what is near; nothing is kept."""
    install(machine, "aplay", "pass")
    assert main(["calls", *words]) == 2
    assert said in capsys.readouterr().err
    assert not home.exists()
