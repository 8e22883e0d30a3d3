"""A whole day through the real program in a real terminal: the book equals what was done."""

from __future__ import annotations

import re
import sys
import time
from dataclasses import dataclass, field, replace
from pathlib import Path

import pytest

if sys.platform.startswith("win"):  # pragma: no cover
    pytest.skip("there are no pseudo-terminals here", allow_module_level=True)

from benchapp.book import Book
from benchapp.clock import SystemClock
from benchapp.service.sessions import SessionService
from benchapp.session.state import Session
from benchapp.views.bench import BenchView, bench_view
from tests.screens.terminal import Terminal

RECIPES = Path(__file__).parents[2] / "recipes"
SIZES = [(80, 24), (120, 40)]
VERDICTS = {"k": "keep", "d": "doubtful"}


@dataclass
class Said:
    """What the printer of the test did to one sheet."""

    verdict: str
    grade: str
    note: str


@dataclass
class Day:
    """One session in a terminal; what its book should hold is written down beside."""

    terminal: Terminal
    book: Path
    sheets: dict[str, Said] = field(default_factory=dict)
    facts: list[str] = field(default_factory=list)

    def length(self) -> int:
        """How many entries the book has, as another program counts them: nothing is folded."""
        with Book.reading(self.book) as book:
            return book.last_sequence()

    def look(self) -> tuple[Session, BenchView | None]:
        """The book as another program reads it: the session, the Bench."""
        with Book.reading(self.book) as book:
            shop = SessionService(book, SystemClock())
            row = book.sessions()[-1]
            shop.look_at(row.id)
            room = replace(shop.room, bench=row.id)
            return room.sessions[row.id], bench_view(room, shop.now())

    def press(self, keys: str) -> None:
        """Press, and wait until what it did is in the book."""
        before = self.length()
        self.terminal.press(keys)
        self.terminal.until(lambda: self.length() > before, f"{keys!r} in the book")

    def judge(self, mark: str) -> None:
        """Say everything of the sheet in hand, each by its keys."""
        place = len(self.sheets) + 1
        key = "k" if place % 2 else "d"
        self.sheets[mark] = Said(VERDICTS[key], str(1 + place % 5), f"sheet number {place}")
        self.press(key)
        self.press(self.sheets[mark].grade)
        self.terminal.press("n")
        self.terminal.shows("leave it as it was")
        self.press(self.sheets[mark].note + "\r")
        self.terminal.press("t")
        self.terminal.until(lambda: "Tag for" in self.terminal.text, "the tags")
        # The first time by its group; after that it is among the tags used today.
        if place == 1:
            self.terminal.press(self.key_once_drawn("wiping"))
        self.press(self.key_once_drawn("salty"))

    def key_once_drawn(self, word: str) -> str:
        """The key of a word of a list that may still be being drawn: two looks agree on it."""
        seen = ["", ""]

        def agrees() -> bool:
            self.terminal.take(0.2)
            seen[:] = seen[1], self.key_of(word)
            return bool(seen[1]) and seen[0] == seen[1]

        self.terminal.until(agrees, f"the key of {word!r}")
        return seen[1]

    def key_of(self, word: str) -> str:
        """The key that stands before a word of a list; empty where it is not there."""
        found = re.search(rf"(\w) +(?:● +)?{word}", self.terminal.text)
        return found[1] if found else ""

    def step(self, shown: BenchView) -> None:
        """One step of the day, as the screen has it."""
        now = shown.now
        self.terminal.until(lambda: self.names(now.do), f"{now.do} on the screen")
        self.terminal.until(lambda: f"pulled {shown.pulled}" in self.terminal.text, "the tally")
        if now.must:
            self.terminal.shows(f"1  {now.must[0]}")
            self.facts.append(now.must[0])
            self.press("1")
            return
        if now.asks and shown.mark is not None and shown.mark not in self.sheets:
            self.terminal.shows(f"Pencil {shown.mark} on the back")
            self.judge(shown.mark)
        self.press(" ")

    def names(self, do: str) -> bool:
        """Whether the step stands on the screen: in words, or drawn alone."""
        text = self.terminal.text
        return do[:40] in text or text.count("█") > 60

    def whole(self, most: int = 400) -> Session:
        """Go through the day to its end."""
        end = time.monotonic() + 600
        for _ in range(most):
            session, shown = self.look()
            if session.closed is not None or shown is None:
                return session
            assert time.monotonic() < end, "the day takes too long"
            self.step(shown)
        raise AssertionError(f"the day does not end\n{self.terminal.text}")


def hold(name: str, size: tuple[int, int], home: Path, wanted: int) -> None:
    """Run a day and compare."""
    home.mkdir(parents=True)
    (home / "preferences.yaml").write_text("gate: 0 ms\n", encoding="utf-8")
    with Terminal(["run", name, "--wanted", str(wanted)], home, size) as terminal:
        terminal.shows("open the session")
        terminal.press(" ")
        terminal.until(lambda: "open the session" not in terminal.text, "the Bench")
        day = Day(terminal, home / "studio.book")
        session = day.whole()
        terminal.shows("The session is closed")
        terminal.press("\x1b")
        terminal.until(lambda: "The session is closed" not in terminal.text, "the Studio")
        terminal.press("\x11")
        assert terminal.ended() == 0
        written = "".join(terminal.written)
    pulled = [i for i in session.impressions if i.pulled]
    assert [i.number for i in pulled] == list(range(1, len(pulled) + 1))
    assert [i.mark for i in pulled] == [f"D{n}" for n in range(1, len(pulled) + 1)]
    assert {i.mark: i.verdict for i in pulled} == {m: s.verdict for m, s in day.sheets.items()}
    assert {i.mark: i.notes for i in pulled} == {m: (s.note,) for m, s in day.sheets.items()}
    assert {i.tags for i in pulled} == {("salty",)}
    assert [i.readings[0].value for i in pulled] == [s.grade for s in day.sheets.values()]
    assert [f[0] for f in session.musts.values()] == day.facts
    assert all(p.at is not None for i in pulled for p in i.pulls)
    # The terminal is given back.
    assert "\x1b[?1049l" in written
    assert "Traceback" not in written


def test_a_three_step_day_in_a_terminal(home: Path) -> None:
    """`benchapp run three-steps` by keys alone: marks, verdicts, tags, grades, notes, facts."""
    hold("three-steps", (80, 24), home, 1)


@pytest.mark.full
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", sorted(p.stem for p in RECIPES.glob("*.yaml")))
def test_a_day_of_every_recipe_in_a_terminal(
    name: str, size: tuple[int, int], home: Path
) -> None:
    """The same for every shipped recipe, two wanted."""
    hold(name, size, home, 2)


def test_leaving_says_how_to_come_back_and_resume_goes_on(home: Path) -> None:
    """Ctrl+Q on the clean side leaves the session open; `resume` shows the same step."""
    home.mkdir(parents=True)
    (home / "preferences.yaml").write_text("gate: 0 ms\n", encoding="utf-8")
    with Terminal(["run", "three-steps", "--wanted", "2"], home, (80, 24)) as terminal:
        terminal.shows("open the session")
        terminal.press(" ")
        terminal.shows("Blankets and both screws")
        day = Day(terminal, home / "studio.book")
        day.press(" ")
        terminal.shows("INKY HANDS")
        terminal.press("\x11")
        terminal.shows("Hands are inky: wash first")
        day.press(" ")
        day.press(" ")
        terminal.shows("CLEAN HANDS")
        terminal.press("\x11")
        assert terminal.ended() == 0
        name = day.look()[0].name
        assert f"stays open. Go on with: benchapp resume {name}" in "".join(terminal.written)
    with Terminal(["resume"], home, (80, 24)) as terminal:
        terminal.shows("Lay and pull", "CLEAN HANDS", "wanted 2")
