"""A printer of tests who works a day by lines, as planned, and keeps a record of their own."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from benchapp.clock import FakeClock
from benchapp.events.entry import Moment
from benchapp.events.moments import iso_text
from benchapp.service.sessions import SessionService
from benchapp.session.state import StudioState
from benchapp.views.bench import BenchView, bench_view

#: What is said at the step that asks, by pull number: the words, and what must be in the book.
SAID: dict[int, tuple[tuple[str, ...], dict[str, Any]]] = {
    1: (("keep", "tag salty"), {"verdict": "keep", "tags": ["salty"]}),
    2: (("spoiled", "back", "doubtful", "note ink a little stiff"),
        {"verdict": "doubtful", "notes": ["ink a little stiff"]}),
    3: (("spoiled", "tag slur", "tag crease", "untag slur"),
        {"verdict": "spoiled", "tags": ["crease"]}),
    4: (("for TP", "keep"), {"verdict": "keep", "for": "TP", "for_by": "printer"}),
    5: (("reading width 21.5 mm", "reading depth 3", "keep"),
        {"verdict": "keep", "readings": [{"name": "width", "value": 21.5, "unit": "mm"},
                                         {"name": "depth", "value": 3, "unit": None}]}),
    6: (("look again",), {"look_again": True}),
}
#: What is said before the pull, by the number the sheet will have.
BEFORE: dict[int, tuple[tuple[str, ...], dict[str, Any]]] = {
    2: (("note dabbed twice [/b] §",), {"notes": ["dabbed twice [/b] §"]}),
}


@dataclass
class Record:
    """What the printer did, by their own account."""

    sheets: dict[int, dict[str, Any]] = field(default_factory=dict)
    tries: int = 0
    notes: list[str] = field(default_factory=list)
    facts: dict[str, str | None] = field(default_factory=dict)
    redone: list[tuple[str, int]] = field(default_factory=list)
    pulled_at: dict[str, str] = field(default_factory=dict)
    times: list[tuple[str, str, str]] = field(default_factory=list)


class Printer:
    """Lines from a printer who looks at the bench; the clock goes on by `pace_ms` a line."""

    def __init__(self, workshop: SessionService, clock: FakeClock, pace_ms: int = 0,
                 most: int = 3_000) -> None:
        self.workshop, self.clock, self.pace_ms, self.most = workshop, clock, pace_ms, most
        self._left_ms = pace_ms
        self.heard: list[str] = []
        self.script: list[str] = []
        self.output: list[str] = []
        self.record = Record()
        self._queue: list[str] = ["note session rain, 60 % in the room", "set room: 19 °C"]
        self.record.notes.append("rain, 60 % in the room")
        self._asked: set[int] = set()
        self._begun: set[int] = set()
        self._hand: tuple[str, str] | None = None
        self._count = 0

    # -- lines ------------------------------------------------------------------------

    def take(self) -> str | None:
        """The next line of the day."""
        self._left_ms = self.pace_ms
        if len(self.script) >= self.most:
            return None
        line = self._queue.pop(0) if self._queue else self._next()
        self.script.append(line)
        return line

    def wait(self, ms: int) -> bool:
        """The clock goes on, until the printer has a line to say."""
        passes = min(ms, self._left_ms)
        self.clock.advance(passes)
        self._left_ms -= passes
        return not self._left_ms

    def follow(self, room: StudioState, now: Moment) -> tuple[str, ...]:
        """The voice of the machine is well."""
        return ()

    def say(self, words: Callable[[], str]) -> None:
        """Hear the machine speak."""
        self.heard += [said] if (said := words()) else []

    def give(self, text: str) -> None:
        """Read a line of the program, and note the time."""
        self.output.append(text)
        now = iso_text(self.clock.now())
        text = re.sub(r"^\* \d\d:\d\d ", "", text)
        if text.startswith("Pulled "):
            self.record.pulled_at[text.split()[1]] = now
        if self._hand is not None and text.startswith(f"{self._hand[0]}: "):
            self.record.times.append((*self._hand, now))
            self._hand = None
        if text.startswith("Now: "):
            do = re.sub(r": \d+$", "", text[5:].split(" · ")[0])
            if self._hand is None or self._hand[0] != do:  # said again after a take-back
                self._hand = do, now

    # -- the plan ---------------------------------------------------------------------

    def _next(self) -> str:
        v = bench_view(self.workshop.room, self.clock.now())
        if v is None or v.now.key is None:
            return ""
        if v.now.must:
            return self._fact(v)
        ordinal = v.now.key.impression
        s = self.workshop.room.session
        if ordinal is None or s is None or v.now.side == "wash":
            return ""
        imp = s.impressions[ordinal - 1]
        number = imp.number or v.pulled + 1
        if v.now.asks and ordinal not in self._asked:
            self._asked.add(ordinal)
            return self._say(number, SAID)
        if imp.number is None and ordinal not in self._begun and v.now.side == "inky":
            self._begun.add(ordinal)
            return self._before(number, v)
        return ""

    def _fact(self, v: BenchView) -> str:
        """Answers by turns with the last number, with words, with the start of them, with none."""
        must = v.now.must
        self._count += 1
        line, fact = ((str(len(must)), must[-1]), (must[0], must[0]), (must[1][:6], must[1]),
                      ("", None))[self._count % 4]
        self.record.facts[v.now.do] = fact
        return line

    def _before(self, number: int, v: BenchView) -> str:
        if number == 3 and self.record.tries == 0:
            self.record.tries = 1
            # A wait does not count as work on it: the first hands step ends, then it is spoiled.
            self._queue += ["spoiled"]
            return ""
        if number == 5:
            s = self.workshop.room.session
            assert v.now.key is not None
            assert s is not None
            step = s.shape.by_id[v.now.key.step]
            self.record.redone.append((step.do, number))
            self._queue += [f"redo {step.id.rpartition('.')[2]}"]
            return ""
        return self._say(number, BEFORE)

    def _say(self, number: int, words: dict[int, tuple[tuple[str, ...], dict[str, Any]]]) -> str:
        said, done = words.get(number, ((), {}))
        sheet = self.record.sheets.setdefault(number, {})
        for name, value in done.items():
            sheet[name] = sheet.get(name, []) + value if name == "notes" else value
        self._queue += said
        return self._queue.pop(0) if self._queue else ""


BLANK: dict[str, Any] = {"verdict": None, "tags": [], "notes": [], "readings": [],
                         "look_again": False, "ended": None}


def same(found: dict[str, Any], record: Record) -> None:
    """Assert that what the book gives back is what the printer did."""
    numbers = [i["number"] for i in found["impressions"]]
    assert numbers == sorted(record.sheets) == list(range(1, len(numbers) + 1))
    for i in found["impressions"]:
        did = {**BLANK, **record.sheets[i["number"]]}
        assert {name: i[name] for name in did} == did, i["mark"]
        assert i["pulls"]
        assert i["pulled_at"] == i["pulls"][0]["at"]
    assert found["notes"] == record.notes
    assert len(found["tries"]) == record.tries
    assert {m["step"]: m["fact"] for m in found["musts"]} == record.facts
    again = {(x["step"], x["impression"]) for x in found["steps"] if x["attempt"] == 2
             and x["id"].startswith("each.")}
    assert set(record.redone) <= again
    assert found["settings"][0]["value"] == "19 °C"
