"""A day as a script: what a printer does, minute by minute, and what of it the book must say.

A line at the margin is an act: its minute and a word of the plain lines, `tread` for the pedal, or
`itself` for what comes by itself. The keys of the act stand in brackets where the word's own key
is not all of it; a quoted text is typed and taken. The lines under an act, set in, are what the
book says of it. One script is worked at the screen and by lines, and the export is told in the same
words: it has to be the script, line by line.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path

from benchapp import plain
from benchapp.book import Book
from benchapp.book.read import SessionRow
from benchapp.clock import FakeClock
from benchapp.events.entry import Moment
from benchapp.events.moments import local_time
from benchapp.plain.meanwhile import until_next_ms
from benchapp.recipe.reader import read_recipe
from benchapp.reports.jsonl import EntryLines, entry_lines
from benchapp.screens.app import Benchapp
from benchapp.screens.opening import Opening
from benchapp.service.sessions import SessionService
from benchapp.session.actions import REGISTRY
from benchapp.session.state import StudioState
from benchapp.settings import Preferences
from tests.journeys.own_day import LETTER_S, Printer
from tests.journeys.told import told
from tests.screens.bench_support import Studio
from tests.screens.support import until

SCRIPTS = Path(__file__).parent / "scripts"
RECIPES = Path(__file__).parents[2] / "recipes"
_ACT = re.compile(r"(\d\d):(\d\d) ([^\[]+?)(?: +\[(.*)\])?")
_KEYS = {spec.word: spec.key for spec in REGISTRY if spec.key}
#: Acts that no key and no line does.
ITSELF = "itself"


@dataclass
class Act:
    """One line of a script, and what the book says of it."""

    at: str
    word: str
    keys: str | None = None
    book: list[str] = field(default_factory=list)

    @property
    def line(self) -> str:
        """As it is typed by lines."""
        word = self.word.removeprefix("lines: ")
        return "" if word == "tread" else word

    @property
    def presses(self) -> list[str]:
        """The keys at the screen; a text to type and take begins with a quote."""
        if self.keys is not None:
            return [x if len(x) == 1 or x in ("space", "tab", "enter", "escape", "backspace",
                                              "down", "f2") else f'"{x}'
                    for x in shlex.split(self.keys)]
        if self.word == "tread":
            return ["space"]
        if self.word.isdigit():
            return [self.word]
        word = next(w for w in sorted(_KEYS, key=len, reverse=True)
                    if self.word == w or self.word.startswith(f"{w} "))
        rest = self.word[len(word):].strip()
        return [_KEYS[word] or "", *([f'"{rest}'] if rest else [])]


def read_script(name: str) -> list[Act]:
    """The acts of a script."""
    acts: list[Act] = []
    for line in (SCRIPTS / f"{name}.txt").read_text(encoding="utf-8").splitlines():
        if not line.strip() or line.startswith("#"):
            continue
        if line.startswith(" "):
            acts[-1].book.append(line.strip())
            continue
        found = _ACT.fullmatch(line.strip())
        assert found is not None, line
        acts.append(Act(f"{found[1]}:{found[2]}", found[3].strip(), found[4]))
    return acts


def meant(acts: list[Act], not_for: str) -> list[str]:
    """What the book has to say, line by line, at the screen or by lines."""
    return [f"{act.at} {line}" for act in acts if not act.word.startswith(f"{not_for}: ")
            for line in act.book]


def exported(book: Book) -> list[str]:
    """What it says, read from the export."""
    return told(EntryLines(x.encode() for x in entry_lines(book.entries())))


def recipe_text(name: str) -> str:
    """A shipped recipe; `NAME +life 3 +pack 2` with that life of its plates and that pack."""
    stem, *changes = name.split(" +")
    text = (RECIPES / f"{stem}.yaml").read_text(encoding="utf-8")
    for change in changes:
        key, value = change.split()
        text, found = re.subn(rf"\b{key}: \d+", f"{key}: {value}", text)
        assert found == 1, change
    return text


def begins(act: Act) -> bool:
    """Whether an act begins a program: `run RECIPE [N wanted]`, `resume` of the session open."""
    return act.word.startswith("run ") or act.word == "resume DAY"


def asked(act: Act) -> tuple[str, int | None]:
    """The recipe and the number wanted of `run RECIPE [N wanted]`."""
    found = re.fullmatch(r"run (.+?)(?: (\d+) wanted)?", act.word)
    assert found is not None, act.word
    return found[1], int(found[2]) if found[2] else None


class Day:
    """A book, a clock, and the acts of a script that are still to come.

    An act `screen: WORD` or `lines: WORD` is only for one of the two.
    """

    not_for = ""

    def __init__(self, acts: list[Act]) -> None:
        self.clock, self.book = FakeClock(), Book.in_memory()
        self.shop = SessionService(self.book, self.clock)
        self.acts = [act for act in acts if act.word != ITSELF and not act.word.startswith(
            f"{self.not_for}: ")]

    def still_open(self) -> SessionRow:
        """The only session that is."""
        (row,) = (x for x in self.book.sessions() if not x.closed)
        return row

    def ms_until(self, act: Act) -> int:
        """How long until the minute of an act; 0 where it has come."""
        now = local_time(self.clock.now())
        hours, minutes = map(int, act.at.split(":"))
        then = now.replace(hour=hours, minute=minutes, second=0, microsecond=0)
        if then < now - timedelta(hours=1):  # the morning after
            then += timedelta(days=1)
        return max(0, round((then - now).total_seconds() * 1000))


# -- by lines -----------------------------------------------------------------------------


class ByLines(Day):
    """The script by the plain lines, each at its minute."""

    not_for = "screen"
    output: list[str]
    _longest_ms = 1_000

    def work(self) -> None:
        """All of it; `run` begins a program of its own."""
        self.output = []
        while self.acts:
            act = self.acts.pop(0)
            self.clock.advance(self.ms_until(act))
            self._longest_ms = 1_000
            if act.word.startswith("run "):
                name, wanted = asked(act)
                assert plain.run_plain(self.shop, self, name, recipe_text(name), wanted, self) == 0
            elif begins(act):
                assert plain.resume_plain(self.shop, self, self.still_open().id, self) == 0
            elif act.word.startswith("damp "):
                _damp(self.shop, act.word)
            else:
                raise AssertionError(f"{act.at} {act.word}: no program runs\n" + "\n".join(
                    self.output[-12:]))

    def wait(self, ms: int) -> bool:
        """Time passes until the line is due, the first look at it after a second."""
        if not self.acts or begins(self.acts[0]):
            return True
        left, ms = self.ms_until(self.acts[0]), min(ms, self._longest_ms)
        self._longest_ms = 24 * 3_600_000
        self.clock.advance(min(ms, left))
        return left <= ms

    def take(self) -> str | None:
        """The next line; none where another program is begun."""
        if not self.acts or begins(self.acts[0]):
            return None
        self._longest_ms = 1_000
        act = self.acts.pop(0)
        self.output.append(f"> {act.at} {act.line}")
        return act.line

    def give(self, text: str) -> None:
        """Keep what is printed."""
        self.output.append(text)

    def follow(self, room: StudioState, now: Moment) -> tuple[str, ...]:
        """Nothing sounds."""
        return ()

    def say(self, words: str) -> None:
        """Nothing is said aloud."""


def _damp(shop: SessionService, word: str) -> None:
    """`damp RECIPE N`: a pack for no session, as on the evening before."""
    _, name, sheets = word.split()
    assert shop.damp_pack(read_recipe(recipe_text(name)), int(sheets)).ok


# -- at the screen ------------------------------------------------------------------------


class AtScreen(Day):
    """The script at the Bench, by keys at human times, the gate shut as it is by default."""

    not_for = "lines"

    def __init__(self, acts: list[Act], size: tuple[int, int]) -> None:
        super().__init__(acts)
        self.size = size

    async def work(self) -> None:
        """All of it; `run` begins a program of its own."""
        while self.acts:
            act = self.acts.pop(0)
            self.clock.advance(self.ms_until(act))
            if act.word.startswith("damp "):
                _damp(self.shop, act.word)
            else:
                await self._program(act)

    async def _program(self, act: Act) -> None:
        """From the set-up card of `run`, or the Bench of `resume`, until it is left."""
        here = _Here(self)
        opening = None
        if act.word.startswith("run "):
            name, wanted = asked(act)
            opening = Opening(name, recipe_text(name), wanted)
        else:
            assert self.shop.resume_session(self.still_open()).ok
        here.app = Benchapp(self.shop, settings=Preferences(), environ={}, opening=opening,
                            start="bench" if opening is None else "set-up", asking=False)
        async with here.app.run_test(size=self.size, notifications=True) as pilot:
            here.pilot = pilot
            p = Hands(here)
            if opening is not None:
                await here.shows("Set-up of")
                before = len(self.book.sessions())
                await p.key("space", 2.0)
                await until(pilot, lambda: len(self.book.sessions()) > before, what="opened")
            await here.shows("space go on")
            for one in self._of_program():
                await self._act(p, one)

    def _of_program(self) -> Iterator[Act]:
        while self.acts and not begins(self.acts[0]):
            yield self.acts.pop(0)

    async def _act(self, p: Hands, act: Act) -> None:
        await p.wait_ms(self.ms_until(act))
        if act.word == "quit":
            return
        before = self.book.last_sequence()
        for key in act.presses:
            if key.startswith('"'):
                for letter in key[1:]:
                    await p.key(letter, LETTER_S)
                await p.key("enter", 0.6)
            else:
                await p.key(key, 2.0 if key == "space" else 1.1)
        if act.book or act.word == "tread":
            await until(p.here.pilot, lambda: self.book.last_sequence() > before,
                        what=f"{act.at} {act.word} in the book")


class _Here(Studio):
    """The studio of a script, with a screen."""

    def __init__(self, day: Day) -> None:
        self.clock, self.book, self.shop = day.clock, day.book, day.shop


class Hands(Printer):
    """A printer who looks up when something ends, not every minute."""

    async def wait_ms(self, ms: int) -> None:
        """Let so long go by, and look at each end in it."""
        self.keys_s += ms / 1000
        while ms > 0:
            step = max(1, min(ms, until_next_ms(self.here.shop)))
            self.here.clock.advance(step)
            self.here.app._time_passed()
            ms -= step
        await self.here.pilot.pause()
