"""The command line: what each command prints, writes and gives back, and its manners."""

from __future__ import annotations

import io
import json
import os
import re
import signal
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

import benchapp
from benchapp import plain
from benchapp.book import Book
from benchapp.cli import main
from benchapp.commands.table import COMMANDS, called
from benchapp.events.entry import Entry
from benchapp.recipe.reader import read_recipe
from tests.plain.plain_day import Printer, same
from tests.plain.test_plain import SHIPPED, Bench, text_of

ROOT = Path(__file__).parents[2]


@dataclass
class Result:
    """What one call gave back."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> object:
        return json.loads(self.out)


Call = Callable[..., Result]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Call:
    """Calls the command line in this process, its input a text."""

    def one(*argv: str, stdin: str = "") -> Result:
        monkeypatch.setattr(sys, "stdin", io.StringIO(stdin))
        code = main(argv)
        out, err = capsys.readouterr()
        return Result(code, out, err)

    return one


def process(*argv: str, stdin: bytes = b"", env: dict[str, str] | None = None
            ) -> subprocess.CompletedProcess[bytes]:
    """Calls the command line as a program of its own."""
    return subprocess.run([sys.executable, "-m", "benchapp", *argv], input=stdin, cwd=ROOT,
                          capture_output=True, env={**os.environ, **(env or {})}, timeout=60,
                          check=False)


# -- a day by a pipe ------------------------------------------------------------------------


@pytest.mark.parametrize("name", [
    name if name == "three-steps" else pytest.param(name, marks=pytest.mark.full)
    for name in SHIPPED])
def test_a_day_through_a_pipe_is_in_the_book_as_it_was_done(
    name: str, home: Path, call: Call
) -> None:
    """The words of a whole day, piped into the program, come back from review --json."""
    bench = Bench(name)
    printer = Printer(bench.workshop, bench.clock)
    plain.run_plain(bench.workshop, printer, name, text_of(name), 4)
    lines = "".join(f"{line}\n" for line in printer.script)
    done = process("run", name, "--plain", "--wanted", "4", stdin=lines.encode())
    assert (done.returncode, done.stderr) == (0, b"")
    assert b" closed \xc2\xb7 pulled " in done.stdout.splitlines()[-1]
    found = call("review", "last", "--json").json
    same(found, printer.record)
    assert found["wanted"] == 4
    with Book.reading(home / "studio.book") as book:
        assert book.verify() == []


# -- reading commands -----------------------------------------------------------------------


def test_commands_that_only_read_make_nothing(call: Call, home: Path) -> None:
    """On a fresh home they answer, and there is still no home."""
    for argv in (["sessions"], ["sessions", "--json"], ["files"], ["files", "--json"], ["damp"],
                 ["check", "weigh-house"], ["check", "three-steps", "--json"], ["review"],
                 ["resume", "--plain"], ["damp", "three-steps"],
                 ["--version"], ["--help"], ["resume", "--book", "nowhere.book", "--help"]):
        assert call(*argv).code in (0, 1), argv
    assert not home.exists()


def test_sessions_are_listed_as_one_json_document(call: Call) -> None:
    """Name, print, artist, state, when with its offset, and whole numbers."""
    assert call("sessions", "--json").json == []
    call("run", "three-steps", "--plain", "--wanted", "1", stdin="\n" * 200)
    call("run", "weigh-house", "--plain", stdin="\n")
    listed = call("sessions", "--json")
    one, two = listed.json
    assert (one["print"], one["artist"], one["state"], one["pulled"], one["counting"]) == (
        "Pear on a Sill", "Idony Threlwick", "closed", 3, 1)
    assert (two["print"], two["state"], two["pulled"], two["counting"]) == (
        "The Weigh House", "open", 0, 0)
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}[+-]\d\d:\d\d", one["opened_at"])
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", one["session"])
    assert two["session"] == one["session"] + "b"
    assert one["session"] in call("sessions").out


def test_review_reads_the_last_session_and_one_by_name(call: Call) -> None:
    """As text and as JSON; a session that is not there is said with what is near."""
    assert call("review").code == 1
    call("run", "three-steps", "--plain", "--wanted", "1", stdin="\n" * 200)
    found = call("review", "last", "--json").json
    assert found["state"] == "closed"
    assert [i["mark"] for i in found["impressions"]] == ["D1", "D2", "D3"]
    assert call("review", found["session"], "--json").json == found
    assert "Pear on a Sill" in call("review").out
    assert re.search(r"Ink and wipe: 3 times, median \d+ s, in all \d+ s",
                     call("review").out)
    wrong = call("review", found["session"] + "z")
    assert (wrong.code, wrong.out) == (2, "")
    assert f"did you mean {found['session']}" in wrong.err
    assert call("review", "yesterday").code == 1


def test_files_say_where_everything_lies(call: Call, home: Path) -> None:
    """Every place with what is there, also as JSON, also with another book."""
    told = call("files").out
    assert f"book: {home / 'studio.book'} (not made yet)" in told
    assert "weigh-house" in told
    other = call("--book", "/tmp/other.book", "files", "--json").json
    assert other["book"] == {"path": "/tmp/other.book", "there": False, "why": "not made yet"}


def test_the_folder_of_pages_is_opened_where_there_is_a_viewer(
    call: Call, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a page or a viewer it says where pages go; looking makes no folder."""
    viewer = [False, True]
    monkeypatch.setattr("benchapp.files.open_in_viewer", lambda _: viewer.pop(0))
    none = call("files", "--open")
    assert (none.code, home.exists()) == (1, False)
    assert f"They go here: {home / 'papers'}" in none.out
    (home / "papers").mkdir(parents=True)
    (home / "preferences.yaml").write_text("sound: loudest", encoding="utf-8")
    assert call("files", "--open").out == (
        f"There is no viewer here. Your pages are in {home / 'papers'}\n")
    assert (call("files", "--open").code, viewer) == (0, [])
    assert call("files", "--open", "--json").code == 2


# -- check and new -----------------------------------------------------------------------------


def test_check_lists_every_problem_with_its_place(call: Call, tmp_path: Path) -> None:
    """file:line:column, all at once, exit 1; the same as JSON."""
    path = tmp_path / "odd.yaml"
    path.write_text("recipe: 1\nprint: {title: A, artist: B}\nplats: []\nwash: 1:30\n")
    told = call("check", str(path))
    lines = told.out.splitlines()
    assert told.code == 1
    assert len(lines) >= 3
    assert all(line.startswith(f"{path}:") for line in lines)
    assert any(line.startswith(f"{path}:3:1: ") and "plates" in line for line in lines)
    document = call("check", str(path), "--json")
    assert (document.code, document.json["ok"]) == (1, False)
    assert len(document.json["problems"]) == len(lines)
    run = call("run", str(path), "--plain")
    assert (run.code, run.out, run.err.splitlines()) == (1, "", lines)


def test_check_warns_and_is_content(call: Call, tmp_path: Path) -> None:
    """What the trade would raise an eyebrow at is told; exit 0."""
    path = tmp_path / "short.yaml"
    path.write_text(text_of("weigh-house").replace("keeps: 48 h", "keeps: 90 h"))
    told = call("check", str(path))
    assert told.code == 0
    assert ": warning: " in told.out
    assert told.out.splitlines()[-1].endswith("can be run; 1 warning")
    assert len(call("check", str(path), "--json").json["warnings"]) == 1


@pytest.mark.parametrize("name", SHIPPED)
def test_every_shipped_recipe_checks(call: Call, name: str) -> None:
    """By its name alone."""
    told = call("check", name, "--json")
    assert (told.code, told.json["ok"]) == (0, True)


def test_too_large_a_file_is_a_recipe_with_a_problem(call: Call, tmp_path: Path) -> None:
    """It is looked at before it is read; the whole file's problem stands at 1:1."""
    path = tmp_path / "huge.yaml"
    path.write_bytes(b"#" * 300_000)
    told = call("check", str(path))
    assert told.code == 1
    assert told.err.startswith(f"{path}:1:1: is larger than 256 KiB")


def test_new_writes_a_recipe_from_eleven_answers(call: Call, home: Path) -> None:
    """A wrong answer is asked again; the recipe can be run at once and is never written over."""
    answers = ["Slack Water", "Wren Halloran", "a few", "40", "copper", "198 x 148 mm", "aquatint",
               "cotton", "300 g/m2", "280 x 380 mm", "30 min", "40", "40 min"]
    told = call("new", "slack-water", stdin="\n".join(answers) + "\n")
    assert told.code == 0
    path = home / "recipes" / "slack-water.yaml"
    assert f"Written: {path}" in told.out
    assert "benchapp run slack-water" in told.out
    made = read_recipe(path.read_text())
    assert (made.print.title, made.print.edition, made.plates[0].metal) == (
        "Slack Water", 40, "copper")
    assert "How long does one print take you?" in told.out
    assert '"40" has no unit; write 40 min' in told.out
    assert str(made.takes) == "40 min"
    assert all(step.time is None for step in made.each)
    before = path.read_bytes()
    again = call("new", "slack-water", stdin="Other\n")
    assert (again.code, path.read_bytes()) == (1, before)
    assert call("run", "slack-water", "--plain").code == 0


def test_new_without_answers_says_what_is_left(call: Call, home: Path) -> None:
    """Nothing is made up: what must be written is listed with its place."""
    told = call("new", "bare")
    assert told.code == 0
    assert "Before it can be run" in told.out
    assert f"{home / 'recipes' / 'bare.yaml'}:" in told.out


def test_new_is_made_after_a_recipe_or_the_last_session(call: Call, home: Path) -> None:
    """Its text with the answered values changed."""
    assert call("new", "second", "--from", "last").code == 1
    call("new", "first", "--like", "three-steps", stdin="Plum\n")
    text = (home / "recipes" / "first.yaml").read_text()
    assert text == text_of("three-steps").replace("Pear on a Sill", "Plum")
    call("run", "first", "--plain")
    call("new", "second", "--from", "last", stdin="Quince\n")
    assert "title: Quince" in (home / "recipes" / "second.yaml").read_text()


def test_new_shows_what_enter_keeps(call: Call, home: Path) -> None:
    """Of a recipe it is made after; a dash empties an answer, and a new value has its place."""
    told = call("new", "late", "--like", "weigh-house",
                stdin="Late Light\n\n-\n\n\n\n\n\n\n20 min\n35 min\n")
    assert "2 Who made the plate? (the artist's name) [Idony Threlwick]" in told.out
    assert "How long does it lie in water?" in told.out
    assert "[25 min]" in told.out
    assert "[The Weigh House]" not in told.out
    made = read_recipe((home / "recipes" / "late.yaml").read_text())
    was = read_recipe(text_of("weigh-house"))
    assert (made.print.title, made.print.artist, made.print.edition) == (
        "Late Light", was.print.artist, None)
    assert (str(made.papers[0].damp.soak), str(made.takes)) == ("20 min", "35 min")
    assert made.plates == was.plates


def test_new_asks_once_more_for_what_a_recipe_needs(call: Call, home: Path) -> None:
    """A second ENTER leaves it for the file, where its place is named."""
    told = call("new", "bare", stdin="\nTitle\n\n\n")
    assert told.out.count("A recipe needs this before it can run") == 2
    assert told.out.count("What is the print called?") == 2
    assert "title: Title" in (home / "recipes" / "bare.yaml").read_text()


@pytest.mark.parametrize("like", [[], ["--like", "weigh-house"]])
def test_new_loses_no_answer_if_it_cannot_write(call: Call, home: Path, like: list[str]) -> None:
    """The whole recipe is shown to be copied, and what stands in the way is named."""
    home.mkdir(parents=True)
    (home / "recipes").write_text("in the way")
    told = call("new", "late", *like, stdin="Late Light\nAda\n30\nzinc\n10 x 12 in\n")
    assert told.code == 2
    for said in ("Copy it from here", "title: Late Light", "artist: Ada", "metal: zinc",
                 "size: 10 x 12 in", "edition: 30"):
        assert said in told.out
    assert "a file is where a folder belongs" in told.err


@pytest.mark.parametrize("name", ["a/b", "", "..", "a\x1bb", "x" * 200])
def test_new_takes_no_path_as_a_name(call: Call, home: Path, name: str) -> None:
    """A name is a name; nothing is written anywhere."""
    assert call("new", name).code == 2
    assert not home.exists()


# -- damp, resume, rehearse ------------------------------------------------------------------------


def test_paper_is_damped_without_a_session_and_used_in_the_next(call: Call) -> None:
    """The pack is listed, and tomorrow's session does not ask for another first."""
    assert call("damp").out == "No paper is damp\n"
    told = call("damp", "thistle-heads", "--sheets", "8")
    assert told.code == 0
    assert told.out.startswith("8 sheets damped")
    assert "8 sheets" in call("damp").out
    opened = call("run", "thistle-heads", "--plain", "--wanted", "2").out
    assert "Damp the sheets" not in opened
    assert call("damp", "three-steps").code == 1
    assert call("damp", "--sheets", "4").code == 2


def test_resume_goes_on_with_the_session_worked_on_last(call: Call) -> None:
    """By name or by itself; a closed one and an empty book are the answer no."""
    assert call("resume", "--plain").code == 1
    call("run", "three-steps", "--plain", stdin="\n")
    call("run", "weigh-house", "--plain", stdin="\n\n")
    name = call("sessions", "--json").json[0]["session"]
    assert call("resume", "--plain").out.startswith(f"{name}b open · The Weigh House")
    assert call("resume", name, "--plain", stdin="\n").out.startswith(f"{name} open · Pear")
    assert call("resume", "--plain").out.startswith(f"{name} open · Pear")
    call("run", "three-steps", "--plain", "--wanted", "1", stdin="\n" * 200)
    closed = call("resume", f"{name}c", "--plain")
    assert closed.code == 1
    assert f"benchapp review {name}c" in closed.err


def test_a_rehearsal_is_kept_in_no_book(call: Call, home: Path) -> None:
    """The day runs as it would, and there is no book afterwards."""
    told = call("rehearse", "three-steps", "--plain", "--speed", "600", stdin="\n\n\n\nkeep\n")
    assert told.code == 0
    assert "A rehearsal: it keeps nothing" in told.out
    assert "D1: keep" in told.out
    assert not home.exists()


# -- manners -------------------------------------------------------------------------------------


@pytest.mark.parametrize(("argv", "near"), [
    (["rn"], "Written most like it: run, "),
    (["xyzzy"], "There is no command xyzzy. Written most like it: "),
    (["resume", "--plain", "--book", "no/such.book"], "no such file"),
    (["run", "weigh-hose", "--plain"], "did you mean weigh-house"),
    (["run", "weigh-house", "--wantd", "3"], "did you mean --wanted"),
    (["sessions", "--jsn"], "did you mean --json"),
    (["run", "nowhere/x.yaml", "--plain"], "no such file"),
    (["run", "weigh-house", "--plain", "--wanted", "0"], "whole number from 1 up"),
    (["rehearse", "weigh-house", "--plain", "--speed", "fast"], "not a speed"),
    (["run"], "RECIPE"),
    (["sessions", "extra"], "one word too many"),
    (["--book", "no/such.book", "sessions"], "no such file"),
    (["new", "x", "--like", "three-stps"], "did you mean three-steps"),
])
def test_wrong_use_is_2_and_names_what_is_near(call: Call, home: Path, argv: list[str],
                                               near: str) -> None:
    """On the error output alone; nothing is made."""
    told = call(*argv)
    assert (told.code, told.out) == (2, "")
    assert near in told.err
    assert not home.exists()


@pytest.mark.parametrize("argv", [[], ["run", "three-steps"], ["resume"],
                                  ["rehearse", "three-steps"]])
def test_without_a_terminal_no_screen_opens(call: Call, home: Path, argv: list[str]) -> None:
    """Exit 2, with what works by lines; nothing is made, nothing is asked."""
    told = call(*argv)
    assert (told.code, told.out) == (2, "")
    assert "--plain" in told.err
    assert not home.exists()


def test_the_demo_is_read_out_where_no_screen_can_be_shown(call: Call, home: Path) -> None:
    """Its dozen sessions and the last closed one; the printer's own home is not made."""
    told = call("demo")
    assert told.code == 0
    assert sum(" · closed · " in x or " · open · " in x for x in told.out.split("\n")) == 12
    assert "Where the time went" in told.out
    assert not home.exists()


def test_the_book_is_named_before_or_after_the_command(call: Call, tmp_path: Path) -> None:
    """Both are the same book, and the studio's own is not made."""
    book = str(tmp_path / "b" / "other.book")
    assert call("--book", book, "run", "three-steps", "--plain").code == 0
    assert len(call("sessions", "--json", "--book", book).json) == 1
    assert call("sessions", "--json").json == []


def test_a_book_that_cannot_be_used_is_3(call: Call, tmp_path: Path) -> None:
    """A file of another kind, untouched; and a book another program writes in."""
    foreign = tmp_path / "foreign.book"
    foreign.write_text("a shopping list\n" * 100)
    assert call("--book", str(foreign), "sessions").code == 3
    told = call("--book", str(foreign), "run", "three-steps", "--plain")
    assert told.code == 3
    assert foreign.read_text() == "a shopping list\n" * 100
    mine = tmp_path / "mine.book"
    with Book.open(mine, write=True, create=True, state=tmp_path):
        told = call("--book", str(mine), "run", "three-steps", "--plain")
    assert (told.code, told.out) == (3, "")
    assert told.err.strip()


def test_version_and_help_are_true(call: Call) -> None:
    """Every command there is stands in the help, and each has its own."""
    assert call("--version").out == f"benchapp {benchapp.__version__}\n"
    told = call("--help").out
    for name, command in COMMANDS.items():
        assert re.search(rf"^    {name}\s", told, re.MULTILINE), name
        assert call(name, "--help").out.startswith(f"usage: benchapp {name}")
        assert callable(called(command.runs))


def test_what_goes_wrong_in_the_program_is_no_traceback(
    call: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The outermost edge says what is saved, and ends with 3."""
    def broken(*_: object) -> None:
        raise RuntimeError("loose \x1b[31mscrew")

    monkeypatch.setattr("benchapp.commands.show.read_book", broken)
    told = call("sessions")
    assert told.code == 3
    assert "Everything that was shown as done is in the book" in told.err
    assert "Traceback" not in told.err
    assert "\x1b" not in told.err


def test_hostile_texts_reach_no_terminal(call: Call, tmp_path: Path) -> None:
    """A path, an option or a name with escapes in it is shown, not obeyed."""
    for argv in (["run", "a\x1b[2Jb"], ["--\x1b[31m"], ["review", "x\x1b]52;c;aGk=\x07"]):
        told = call(*argv)
        assert told.code in (1, 2)
        assert "\x1b" not in told.err + told.out


def test_no_screen_is_imported_where_none_is_shown(home: Path) -> None:
    """A day by lines, and reading it back, without Textual."""
    code = ("import sys; from benchapp.cli import main; "
            "c = [main(x.split()) for x in sys.argv[1:]]; "
            "print([m for m in sys.modules if m.partition('.')[0] == 'textual'], c, "
            "file=sys.stderr)")
    done = subprocess.run(
        [sys.executable, "-c", code, "run three-steps --plain", "sessions --json", "review",
         "files", "check weigh-house", "damp", "--help"],
        input=b"\n\n", capture_output=True, cwd=ROOT, timeout=60, check=False)
    assert done.stderr.decode().strip() == "[] [0, 0, 0, 0, 0, 0, 0]"


def test_a_reader_that_has_gone_is_no_trouble(home: Path) -> None:
    """The program ends quietly, and the session stays open."""
    with subprocess.Popen([sys.executable, "-m", "benchapp", "run", "three-steps", "--plain"],
                          stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, cwd=ROOT) as child:
        assert child.stdin is not None
        assert child.stdout is not None
        assert child.stderr is not None
        assert b" open " in child.stdout.readline()
        child.stdout.close()
        child.stdin.write(b"\n" * 50)
        child.stdin.close()
        assert child.stderr.read() == b""
        assert child.wait(30) == 128 + signal.SIGPIPE
    assert _entries(home)[0].kind == "opened"


def _entries(home: Path) -> tuple[Entry, ...]:
    with Book.reading(home / "studio.book") as book:
        assert book.verify() == []
        return book.entries()


@pytest.mark.parametrize("number", [
    signal.SIGTERM, pytest.param(signal.SIGHUP, marks=pytest.mark.full),
    pytest.param(signal.SIGINT, marks=pytest.mark.full)])
def test_a_signal_ends_the_lines_with_the_book_put_away(home: Path, number: int) -> None:
    """No traceback; the book is one file at rest, the session open in it."""
    child = subprocess.Popen([sys.executable, "-m", "benchapp", "run", "three-steps", "--plain"],
                             stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                             stderr=subprocess.PIPE, cwd=ROOT)
    assert child.stdout is not None
    assert b" open " in child.stdout.readline()
    child.send_signal(number)
    _, err = child.communicate(timeout=30)
    assert (child.returncode, err) == (128 + number, b"")
    assert not list(home.glob("*-wal"))
    listed = json.loads(process("sessions", "--json").stdout)
    assert [x["state"] for x in listed] == ["open"]


@pytest.mark.parametrize(("locale", "encoding"), [
    ("C", "ascii"), pytest.param("POSIX", "latin-1", marks=pytest.mark.full)])
def test_a_poor_locale_costs_signs_not_the_day(home: Path, locale: str, encoding: str) -> None:
    """What the terminal cannot show is a question mark; JSON is UTF-8 all the same."""
    env = {"LC_ALL": locale, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"}
    note = "note crevé bei 18 °C\n".encode()
    done = process("run", "three-steps", "--plain", stdin=b"\n\n\n\n" + note + b"tag salty\n",
                   env=env)
    assert done.returncode == 0, done.stderr
    assert b"D1: salty" in done.stdout
    listed = process("sessions", "--json", env=env)
    assert json.loads(listed.stdout.decode("utf-8"))[0]["print"] == "Pear on a Sill"


@pytest.mark.parametrize(("words", "code"), [
    ("sessions", 3), ("review last", 3), ("export --csv x.csv", 3), ("edition", 3), ("boards", 3),
    ("report", 0), ("files", 0), ("calls --json", 0), ("new x", 2),
    ("run three-steps --plain", 2)])
def test_a_home_that_may_not_be_looked_at_is_told_plainly(
    call: Call, home: Path, monkeypatch: pytest.MonkeyPatch, words: str, code: int
) -> None:
    """The system says no to every question about it: a sentence, and nothing went wrong inside."""
    home.mkdir(parents=True)
    for name in ("stat", "lstat", "mkdir", "scandir", "listdir", "open"):
        monkeypatch.setattr(os, name, _denied(getattr(os, name), str(home)))
    result = call(*words.split())
    assert "Something in the program" not in result.err
    assert result.code == code, result.err


def _denied(real: Any, home: str) -> Any:
    def asked(path: Any, *arguments: Any, **named: Any) -> Any:
        if isinstance(path, (str, Path)) and str(path).startswith(home):
            raise PermissionError(13, "Permission denied", str(path))
        return real(path, *arguments, **named)

    return asked
