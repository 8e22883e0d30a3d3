"""`benchapp help`, completion and the manual page."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

import benchapp
from benchapp.cli import main
from benchapp.commands.parser import make_parser
from benchapp.commands.syntax_tree import command_syntax
from benchapp.help.topics import TOPICS, topic_summaries


def told(capsys: pytest.CaptureFixture[str], *argv: str) -> str:
    """What a command prints that ends well."""
    assert main(argv) == 0
    return capsys.readouterr().out


def test_help_alone_lists_the_topics(capsys: pytest.CaptureFixture[str], home: Path) -> None:
    """Each on a line; nothing is made."""
    out = told(capsys, "help")
    assert {name for name in TOPICS if f"\n{name} " not in out} == set()
    assert not home.exists()


def test_a_topic_is_a_page_and_a_command_its_own_help(
    capsys: pytest.CaptureFixture[str]
) -> None:
    """The title and the sentence come first; a command's help is that of --help."""
    for name, summary in topic_summaries():
        assert told(capsys, "help", name).split("\n")[1] == summary
    assert told(capsys, "help", "number").startswith("usage: benchapp number")
    assert told(capsys, "help", "Recipes") == told(capsys, "help", "recipes")


def test_what_is_not_there_is_said_with_what_is_near(capsys: pytest.CaptureFixture[str]) -> None:
    """A topic with its nearest, a command with its three nearest."""
    assert main(["help", "recipe"]) == 2
    assert "There is no topic recipe; did you mean recipes" in capsys.readouterr().err
    assert main(["rn"]) == 2
    err = capsys.readouterr().err
    found = re.search(r"There is no command rn\. Written most like it: (.*)\. To see", err)
    assert found is not None
    assert found[1].split(", ")[0] == "run"
    assert len(found[1].split(", ")) == 3


def test_the_version_has_a_short_option(capsys: pytest.CaptureFixture[str]) -> None:
    """-V as --version."""
    assert told(capsys, "-V") == told(capsys, "--version") == f"benchapp {benchapp.__version__}\n"


def test_the_manual_page_has_every_command_option_and_topic(
    capsys: pytest.CaptureFixture[str]
) -> None:
    """In the form that man reads: no line begins with a dot that is no request."""
    page = told(capsys, "help", "--man")
    plain = page.replace("\\-", "-")
    for one in command_syntax(make_parser()):
        assert " ".join(["benchapp", *one.path]) in plain
        assert {flag for option in one.options for flag in option.flags
                if one.path and flag != "-h" and flag not in plain} <= {"--help"}
    assert {name for name in TOPICS if f".B {name}\n" not in plain} == set()
    requests = {line.split()[0] for line in page.splitlines() if line.startswith((".", "'"))}
    assert requests <= {".TH", ".SH", ".SS", ".B", ".TP", ".RS", ".RE"}


@pytest.mark.skipif(shutil.which("bash") is None, reason="there is no bash here")
def test_bash_completes_commands_words_and_values(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """Asked as bash asks it."""
    script = tmp_path / "benchapp.bash"
    script.write_text(told(capsys, "completion", "bash"), encoding="utf-8")

    def offered(*words: str) -> list[str]:
        typed = " ".join(f"'{word}'" for word in words)
        done = subprocess.run(
            ["bash", "-c", f"source {script}; COMP_WORDS=({typed}); "
             f"COMP_CWORD={len(words) - 1}; _benchapp; printf '%s\\n' \"${{COMPREPLY[@]}}\""],
            capture_output=True, text=True, timeout=30, check=True)
        return done.stdout.split()

    assert offered("benchapp", "re") == ["resume", "rehearse", "reckon", "review", "report"]
    assert offered("benchapp", "book", "re") == ["restore", "rebuild"]
    assert offered("benchapp", "run", "x", "--w") == ["--wanted"]
    assert offered("benchapp", "calls", "--sound", "s") == ["soft"]
    assert offered("benchapp", "help", "rec") == ["recipes", "reckon"]
    assert offered("benchapp", "completion", "") == ["bash", "zsh", "fish", "--help", "--book"]


@pytest.mark.parametrize("shell", ["zsh", "fish"])
def test_other_shells_know_every_command_and_option(
    shell: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """By reading what is written; where the shell is there, it reads it too."""
    script = told(capsys, "completion", shell)
    for one in command_syntax(make_parser()):
        for word in one.words:
            assert re.search(rf"[ '|]{word}[ ')|]", script), word
        for option in one.options:
            flags = [flag[2:] for flag in option.flags if flag.startswith("--")]
            assert all(flag in script for flag in flags), one.path
    found = shutil.which(shell)
    if found is not None:
        (tmp_path / "script").write_text(script, encoding="utf-8")
        subprocess.run([found, "-n", str(tmp_path / "script")], timeout=30, check=True)
