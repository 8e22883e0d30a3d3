"""Any lines at all: each has an answer, none breaks anything, the book stays whole."""

from __future__ import annotations

import random

import pytest

from benchapp import plain
from benchapp.safe_text import sanitize
from benchapp.session.actions import REGISTRY
from benchapp.session.fold import replay_entries
from tests.plain.test_plain import SHIPPED, Bench, text_of

LINES = (
    *[""] * 60, *(spec.word for spec in REGISTRY), "note hello", "note session hi", "note D1 x",
    "note 3 drops", "tag salty", "tag 2 slur", "untag salty", "keep D1", "keep 2", "doubtful 99",
    "spoiled D2", "spoiled", "not judged", "for TP", "for D1 SP II", "for warm up", "ghost",
    "mark D1 D2", "mark Z1", "state II", "reworked III: sky", "reading tone 3", "reading x 1 mm",
    "set press: 3.25 turns", "set : ", "here 1", "here 3", "here lift", "next 1", "next 2",
    "next tear", "next sheets", "redo 1", "redo 2", "redo wipe", "skip because", "extend 5 min",
    "extend 9999999 weeks", "time 1 min a", "time 3 h", "damped 3", "damped 999999999999999999999",
    "out", "sheet out", "sheet back", "sheet sprayed", "sheet dried", "wanted 2", "wanted none",
    "wanted 99999999999999999999999", "enough", "one more", "end", "helper Maud", "helper leaves",
    "pause", "resume", "back", "back", "mute", "mute 3 min", "left off at the wash", "took long",
    "took away", "left to", "switch", "can emptied", "status", "help", "must", "must 1", "must 1 1",
    "must 2 not said", "1", "2", "9", "not said", "wet", "turned off", "none", "wrapped", "é",
    "[/b]", "\x1b[2J", "note " + "y" * 3000, "q" * 5000, "0", "-1", "note", "D1", "٣", "keep ٣",
    "time ٣ min", "must ² 1", "wanted ²", "keep ²", "²", "redo ²", "damped ٣",
)


class Strewn:
    """Lines by chance, at whatever pace; each has to have an answer."""

    def __init__(self, bench: Bench, chance: random.Random, count: int) -> None:
        self.bench, self.chance, self.left = bench, chance, count
        self.last, self.answered = "", True

    def take(self) -> str | None:
        assert self.answered, f"no answer to {self.last!r}"
        self.left -= 1
        if self.left < 0:
            return None
        self.bench.clock.advance(self.chance.choice((0, 900, 70_000, 400_000, 4_000_000)))
        self.last, self.answered = self.chance.choice(LINES), False
        return self.last

    def give(self, text: str) -> None:
        assert text == sanitize(text)
        assert text.strip()
        self.answered = True


def strew(seed: int, count: int) -> None:
    """One day of lines by chance, left and gone on with the next day."""
    chance = random.Random(seed)
    bench = Bench(SHIPPED[seed % len(SHIPPED)])
    plain.run_plain(bench.workshop, Strewn(bench, chance, count), bench.recipe,
                    text_of(bench.recipe),
                    chance.choice((None, 2, 5)))
    plain.run_plain(bench.workshop, Strewn(bench, chance, 5), bench.recipe, text_of(bench.recipe),
                    None)
    bench.clock.reboot(20 * 3_600_000)
    row = next((r for r in reversed(bench.book.sessions()) if not r.closed), None)
    if row is not None:
        plain.resume_plain(bench.workshop, Strewn(bench, chance, count), row.id)
    assert bench.book.verify() == []
    room = bench.workshop.room
    again = replay_entries(bench.book.entries(), bench=room.bench)
    for session in room.sessions.values():
        assert again.sessions[session.id] == session


@pytest.mark.parametrize("seed", range(10))
def test_any_lines_are_answered_and_leave_the_book_whole(seed: int) -> None:
    """Words, half words and nonsense in any order, at any pace."""
    strew(seed, 50)


@pytest.mark.full
@pytest.mark.parametrize("seed", range(1000, 1040))
def test_very_many_lines_are_answered_and_leave_the_book_whole(seed: int) -> None:
    """Ten times as many, ten times as long."""
    for one in range(seed * 10, seed * 10 + 10):
        strew(one, 120)
