"""Every example of every topic is run, one after another, as a printer would type them."""

from __future__ import annotations

import io
import shlex
import sys
from pathlib import Path

import pytest

from benchapp.cli import main
from benchapp.commands.front_page import EXAMPLES
from benchapp.help.topics import INDEX, TOPICS, help_page
from benchapp.planning import chances, what_if
from benchapp.planning.build import bench_tries

#: What needs a terminal: without one the answer is 2, and says what works instead.
_SCREENS = (["benchapp"], ["benchapp", "switch"])
#: Lists what can be wrong about a sheet, and asks for one of it.
_ASKS = ["benchapp", "correct", "D4"]
#: The answer to these is no in a book with one day of today.
_NO = frozenset({
    "benchapp review yesterday", "benchapp files --open",
    "benchapp resume", "benchapp resume --plain",
    "benchapp boards --changed", 'benchapp boards --left --why "still damp"',
    "benchapp discard last", "benchapp search salty", "benchapp search 1/12",
    "benchapp search ink stiff --from 2020-01-01"})
#: These have tests of their own: the machine's sounds, and an invented year.
_ELSEWHERE = frozenset({"benchapp calls", "benchapp demo"})


def examples(name: str) -> list[str]:
    """The commands of a topic."""
    return [line for line in help_page(name).examples if line.startswith("benchapp")]


def run(line: str, monkeypatch: pytest.MonkeyPatch, typed: str = "\n" * 400) -> int:
    """Call one command; one with a screen by its plain lines, one that asks with `--yes`."""
    argv = shlex.split(line)[1:]
    if argv[:1] in (["run"], ["rehearse"], ["resume"]) and "--plain" not in argv:
        argv.append("--plain")
    if argv[:1] in (["sign"], ["cancel-plate"], ["void"], ["correct"]) or "--cut-short" in argv:
        argv += ["--yes"] * (argv[-1] != "D4")
    monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
    return main(argv)


@pytest.fixture(autouse=True)
def bench_search(monkeypatch: pytest.MonkeyPatch) -> None:
    """Search as briefly as on the Bench, and replay seldom: that examples work is held here."""
    monkeypatch.setattr(what_if, "search_tries", bench_tries)
    monkeypatch.setattr(chances, "REPLAYS", 100)


@pytest.fixture
def day(home: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A book with one day of three steps: the sheets D1 to D6."""
    monkeypatch.chdir(tmp_path)
    assert run("benchapp run three-steps --wanted 4 --plain", monkeypatch) == 0


@pytest.mark.parametrize("name", [INDEX, *TOPICS])
@pytest.mark.usefixtures("day")
def test_the_examples_of_a_topic_work(
    name: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """In the order in which they stand on the page."""
    for line in examples(name):
        argv = shlex.split(line)
        if line in _ELSEWHERE:
            continue
        capsys.readouterr()
        code = run(line, monkeypatch)
        told = capsys.readouterr()
        wanted = 2 if argv in (*_SCREENS, _ASKS) else 1 if line in _NO and code == 1 else 0
        assert code == wanted, (line, told.err)


def test_the_examples_of_the_front_page_work(
    home: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each of them; the demo is tried by the tests of the demo."""
    for line, _ in EXAMPLES:
        if line not in _ELSEWHERE:
            wanted = 2 if line.split() in _SCREENS else 0
            assert run(line, monkeypatch) == wanted, capsys.readouterr().err


def test_the_lines_to_type_are_understood(
    home: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """At lift and look, where each is possible."""
    lines = [line.removeprefix("> ") for line in help_page("plain").examples
             if line.startswith("> ")]
    assert run("benchapp run three-steps --plain", monkeypatch,
               "\n" * 5 + "\n".join(lines) + "\nquit\n") == 0
    told = capsys.readouterr().out
    assert "D1: keep" in told
    assert "There is no" not in told
    assert "did you mean" not in told
