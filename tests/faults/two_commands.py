"""Every pair of commands on one book: what the tests of pairs do, in forked warm children."""

from __future__ import annotations

import importlib
import io
import os
import pkgutil
import random
import re
import shutil
import signal
import sys
from collections.abc import Callable
from contextlib import redirect_stdout
from dataclasses import dataclass
from itertools import product
from pathlib import Path
from typing import Any, Final

from benchapp import commands, copies, files, reports
from benchapp.book import Book, lock, rebuild, restore
from benchapp.cli import main
from benchapp.clock import SystemClock
from tests.faults.apart import ended, forked
from tests.faults.remembered import remember_texts
from tests.service.edition_days import Studio, pear

#: No command takes so many seconds beside another: it hangs.
_HANGS_S: Final = 30
_DAY_MS: Final = 86_400_000
_LOCKED: Final = re.compile(
    r"is open in another benchapp \(process (\d+) on .*, since .*\).*\n?.*close it and start again")
_BROKEN: Final = ("Traceback", "Something in the program went wrong", "sqlite3.")
DONE, NO, WRONG, BOOK = range(4)


@dataclass(frozen=True)
class Command:
    """One command of the pairs.

    Attributes:
        line: Its words; `{home}` is the studio, `{who}` differs between the two of a pair.
        writes: Whether it takes the book to write in, so that one of two is refused.
        typed: What it reads.
        moves: Whether it puts another book in the place.
        holds: Whether it has the book open long enough to stand still there.
    """

    line: str
    writes: bool = False
    typed: str = ""
    moves: bool = False
    holds: bool = True

    def words(self, home: Path, who: str) -> list[str]:
        """Its arguments."""
        return [x.format(home=home, who=who) for x in self.line.split()]


def _w(line: str, typed: str = "", *, moves: bool = False) -> Command:
    return Command(line, writes=True, typed=typed, moves=moves)


#: Every command that writes in the book, and every one that reads it without a screen.
COMMANDS: Final = (
    _w("run three-steps --plain", "note of {who}\nquit\n"),
    _w("resume --plain", "note of {who}\nquit\n"),
    _w("damp weigh-house --sheets 4"),
    _w("discard last --yes"),
    _w("number D4 3"),
    _w("sign 2/5 --yes"),
    _w("void 5 --why {who} --yes"),
    _w("correct D3 number 4 --why {who} --yes"),
    _w("cancel-plate --how {who} --yes"),
    _w("where-is D3 --now gallery --to {who}"),
    _w("edition pear --proof PP=1"),
    _w("boards 1 --lift D2"),
    _w("import {home}/guest.jsonl"),
    _w("book merge {home}/guest.book"),
    _w("book restore {home}/older.book --yes", moves=True),
    Command("learn pear --apply"),
    Command("book rebuild --from {home}/mirrors/studio.book --into {home}/{who}.book"),
    Command("book backup {home}/{who}.book"),
    Command("book check"), Command("book check --full"), Command("book restore", holds=False),
    Command("export --jsonl {home}/{who}.jsonl"), Command("export --csv {home}/{who}.csv"),
    Command("export --html {home}/{who}.html"),
    Command("check pear"), Command("sessions"), Command("review last"), Command("search sill"),
    Command("edition"), Command("papers edition"), Command("where-is"), Command("boards"),
    Command("sort --list"), Command("life"), Command("damp"), Command("learn pear"),
    Command("prepare pear --wanted 3"), Command("plan pear --wanted 3"),
    Command("report", holds=False), Command("files", holds=False),
)


@dataclass
class Run:
    """A command in a child of its own.

    Attributes:
        child: Its process.
        said: What it printed, once it has ended.
        code: How it ended.
    """

    command: Command
    home: Path
    who: str
    child: int = 0
    said: str = ""
    code: int = -1

    def begin(self, wait: Callable[[], None] | None = None) -> None:
        """Start it; `wait` is called once in the child, where it holds the book."""
        self._file("in").write_text(self.command.typed.format(who=self.who), "utf-8")
        self.child = forked(self._work, wait)

    def end(self) -> None:
        """Wait for its end."""
        code = ended(self.child)
        self.said = self._file("out").read_text("utf-8")
        self.code = code if code < 0 else int(self._file("code").read_text())

    def acknowledged(self) -> set[str]:
        """The ids of the entries that were on disk before it went on."""
        file = self._file("ids")
        return set(file.read_text().split()) if file.exists() else set()

    def _file(self, name: str) -> Path:
        return self.home.parent / f"{self.who}.{name}"

    def _work(self, wait: Callable[[], None] | None) -> None:
        signal.alarm(_HANGS_S)
        os.environ["BENCHAPP_HOME"] = str(self.home)
        out = os.open(self._file("out"), os.O_CREAT | os.O_WRONLY | os.O_APPEND)
        given = os.open(self._file("in"), os.O_RDONLY)
        for number, to in ((0, given), (1, out), (2, out)):
            os.dup2(to, number)
        sys.stdin = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115
        sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
        sys.stderr = open(2, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
        watch(self._file("ids"), wait, writes=self.command.writes)
        code = main(self.command.words(self.home, self.who))
        sys.stdout.flush()
        sys.stderr.flush()
        self._file("code").write_text(str(code))


def watch(ids: Path, wait: Callable[[], None] | None, *, writes: bool) -> None:
    """Have what is acknowledged written down, and the command wait once where it holds the book."""
    once = [wait] if wait is not None else []

    def hold() -> None:
        if once:
            once.pop()()

    def acknowledged(told: Any) -> None:
        with ids.open("a") as file:
            file.write("".join(f"{entry.id}\n" for entry in told))
        hold()

    read = Book.open

    def opened(_: type[Book], path: Path, **how: Any) -> Book:
        book = read(path, **how)
        if not (writes or how["write"]):
            hold()
        return book

    Book.open = classmethod(opened)  # type: ignore[assignment]
    _after(Book, "append", acknowledged)
    for of, name in ((Book, "merge"), (rebuild, "_fill"), (restore.Restore, "_write"),
                     *([] if writes else [(files, "find_recipe")])):
        _after(of, name, lambda _: hold())


def _after(of: Any, name: str, then: Callable[[Any], None]) -> None:
    """Have `then` called with what a function gave, each time."""
    real = getattr(of, name)

    def called(*arguments: Any, **named: Any) -> Any:
        told = real(*arguments, **named)
        then(told)
        return told

    setattr(of, name, called)


# -- the studio -----------------------------------------------------------------------------


def make_studio(home: Path) -> None:
    """Days with sheets numbered and not, an open one, a backup, a guest's book, a mirror."""
    os.environ["BENCHAPP_HOME"] = str(home)
    text = pear("edition: 5, proofs: {AP: 1}")
    files.write_new(files.recipes_folder() / "pear.yaml", text)
    with Book.open(home / "guest.book", write=True, create=True) as book:
        Studio(book).day(text, 1)
        guest = book.origin
    with Book.open(home / "studio.book", write=True, create=True) as book:
        assert book.origin != guest
        studio = Studio(book)
        # So long ago that what was printed lies under boards still.
        studio.clock.advance(SystemClock().now().wall_ms - studio.clock.now().wall_ms - 2 * _DAY_MS)
        studio.day(text, 4, recipe="pear")
        book.backup(home / "older.book")
        assert studio.workshop.open_session("pear", text, None).ok
        studio.clock.advance(_DAY_MS)
        assert studio.workshop.open_session("pear", text, None).ok
    for words in (["number", "D3", "2"], ["export", "--jsonl", str(home / "guest.jsonl"),
                                          "--book", str(home / "guest.book")]):
        with redirect_stdout(io.StringIO()):
            assert main(words) == DONE, words


def _load_all() -> None:
    """Import what commands import late, once for all children."""
    for package in (commands, copies, reports):
        for module in pkgutil.iter_modules(package.__path__, f"{package.__name__}."):
            importlib.import_module(module.name)
    remember_texts()


# -- the pairs ------------------------------------------------------------------------------


class Pairs:
    """All pairs of some commands, each on a studio of its own.

    Attributes:
        held: How many were tried with the first standing still where it holds the book.
        raced: How many at once.
        wrong: What is not as it must be.
    """

    def __init__(self, folder: Path) -> None:
        self.held = self.raced = 0
        self.wrong: list[str] = []
        self._base = folder / "base"
        make_studio(self._base / "home")
        with Book.reading(self._base / "home" / "studio.book") as book:
            self._entries = {entry.id for entry in book.entries()}
        self._now = folder / "now"

    def try_alone(self, command: Command) -> None:
        """Each must do what it is for, or its pairs would say nothing."""
        with self._studio() as home:
            run = Run(command, home, "Ada")
            run.begin()
            run.end()
            if run.code != DONE:
                self.wrong.append(f"{command.line} alone: {run.code}\n{run.said}")

    def hold(self, one: Command, other: Command) -> None:
        """The first stands still where it holds the book; the other comes, ends; the first goes on.
        """
        with self._studio() as home:
            a, b = Run(one, home, "Ada"), Run(other, home, "Bo")
            (told, tell), (let, go) = os.pipe(), os.pipe()

            def wait() -> None:
                os.close(go)
                os.write(tell, b"!")
                os.read(let, 1)

            a.begin(wait)
            os.close(tell)
            os.close(let)
            held = os.read(told, 1) == b"!"
            b.begin()
            b.end()
            os.close(go)
            os.close(told)
            a.end()
            self.held += 1
            name = f"{one.line} · {other.line}"
            if one.holds and not held:
                self.wrong.append(f"{name}: the first never held the book")
            self._judge(name, a, b)
            refused = _LOCKED.search(b.said)
            if one.writes and other.writes:
                if b.code != BOOK or refused is None or int(refused[1]) != a.child:
                    self.wrong.append(f"{name}: the second was not refused: {b.code}\n{b.said}")
            elif b.code != DONE:
                self.wrong.append(f"{name}: the second ended with {b.code}\n{b.said}")
            if a.code != DONE:
                self.wrong.append(f"{name}: the first ended with {a.code}\n{a.said}")

    def race(self, one: Command, other: Command) -> None:
        """Both at once: one may be refused, or be told that the other was there before."""
        with self._studio() as home:
            a, b = Run(one, home, "Ada"), Run(other, home, "Bo")
            a.begin()
            b.begin()
            a.end()
            b.end()
            self.raced += 1
            name = f"{one.line} | {other.line}"
            self._judge(name, a, b)
            for run in (a, b):
                if run.code == BOOK and _LOCKED.search(run.said) and one.writes and other.writes:
                    continue
                if run.code == NO and one.writes and other.writes and run.said:
                    continue  # the other had done it
                if run.code != DONE:
                    self.wrong.append(f"{name}: {run.who} ended with {run.code}\n{run.said}")

    def _judge(self, name: str, a: Run, b: Run) -> None:
        """What must hold of any two."""
        for run in (a, b):
            if any(word in run.said for word in _BROKEN) or run.code not in range(4):
                self.wrong.append(f"{name}: {run.who}: {run.code}\n{run.said}")
        moves = a.command.moves or b.command.moves
        known: set[str] = set()
        for path in ([*a.home.glob("studio.book-before-*")] if moves else []) + [
                a.home / "studio.book"]:
            if path.name.endswith(("-wal", "-shm", "-lock", "-reserve")):
                continue
            with Book.reading(path) as book:
                self.wrong += [f"{name}: {problem}" for problem in book.verify(full=False)]
                known |= {entry.id for entry in book.entries()}
        lost = (self._entries | a.acknowledged() | b.acknowledged()) - known
        if lost:
            self.wrong.append(f"{name}: {len(lost)} entries are lost: {sorted(lost)[:3]}")

    def _studio(self) -> Any:
        return _copied(self._base, self._now)


class _copied:  # noqa: N801 - a context
    def __init__(self, base: Path, to: Path) -> None:
        self._base, self._to = base, to

    def __enter__(self) -> Path:
        shutil.copytree(self._base, self._to)
        return self._to / "home"

    def __exit__(self, *error: object) -> None:
        shutil.rmtree(self._to)


def try_alone(folder: str) -> tuple[int, list[str]]:
    """Every command with nobody beside it; how many, and what is wrong."""
    _load_all()
    pairs = Pairs(Path(folder))
    for command in COMMANDS:
        pairs.try_alone(command)
    return len(COMMANDS), pairs.wrong


def try_pairs(folder: str, part: int, parts: int, races: int) -> tuple[int, int, list[str]]:
    """Every pair held, and so many pairs at once.

    Args:
        folder: Where the studios are.
        part: Which part of all pairs, from 0; also the seed for those that are started at once.
        parts: How many parts there are.
        races: How many are started at once in this part.

    Returns:
        How many were held, how many at once, and what is wrong.
    """
    _load_all()
    pairs, every = Pairs(Path(folder)), list(product(COMMANDS, COMMANDS))
    for one, other in every[part::parts]:
        pairs.hold(one, other)
    for one, other in random.Random(part).choices(every, k=races):
        pairs.race(one, other)
    return pairs.held, pairs.raced, pairs.wrong


def try_some(folder: str, lines: list[tuple[str, str]], no_lock: bool) -> list[str]:
    """Some pairs by their words; what is wrong, perhaps where the lock holds nobody off."""
    pairs = Pairs(Path(folder))
    if no_lock:
        lock._take = lambda _: None
    named = {command.line: command for command in COMMANDS}
    for one, other in lines:
        pairs.hold(named[one], named[other])
    return pairs.wrong
