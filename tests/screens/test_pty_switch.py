"""A day in a real terminal by the switch alone: the book equals what was trodden."""

from __future__ import annotations

import re
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

import pytest

if sys.platform.startswith("win"):  # pragma: no cover
    pytest.skip("there are no pseudo-terminals here", allow_module_level=True)

from benchapp.session.state import Session
from tests.screens.terminal import Terminal
from tests.screens.test_pty_day import RECIPES, Day

GATE_S, SLIP_S, PACE_S = 0.25, 1, 2
PREFERENCES = f"""\
gate: {round(GATE_S * 1000)} ms
slip: {round(SLIP_S * 1000)} ms
walk: {PACE_S} s
sound: off
voice: off
"""
#: The only step whose time is known: what a real minute would be too long to wait for.
TIMED = "Lay and pull"


def quick_day() -> str:
    """The shipped three steps, with no times known but that of the pull."""
    parts = re.split(r"(?m)^(?=  - )", (RECIPES / "three-steps.yaml").read_text(encoding="utf-8"))
    bare = [p if TIMED in p else re.sub(r"\n    time: .*|time: 5 min, ", "", p) for p in parts]
    return "".join(bare) + "wash: 0 min\n"


@dataclass
class Foot(Day):
    """Whoever treads: one key, and now and then another pedal."""

    key: str = " "
    trodden: float = 0.0
    treads: int = 0
    lifted: dict[str, int] = field(default_factory=dict)

    def tread(self, key: str = "", *, early: bool = False) -> None:
        """Tread once the gate is open, and the slip of the last one is past, or not."""
        self.pause(GATE_S if early else SLIP_S)
        self.treads += 1
        self.press(key or self.key)

    def pause(self, seconds: float) -> None:
        """Let so much pass since the last press, then press at once."""
        late = 0.5 if seconds >= SLIP_S else 0.1  # a press may be read late, where much goes on
        due = self.trodden + seconds + late
        self.terminal.until(lambda: time.monotonic() >= due, "a pause", seconds + 10)
        self.trodden = time.monotonic()

    def on(self) -> Session:
        """Tread until something has been written, timed steps with patience."""
        before, _ = self.look()
        timed = before.hand is not None and before.shape.by_id[before.hand.step].do == TIMED
        self.tread(early=not self._after_timed)
        self._after_timed = timed
        return self.look()[0]

    _after_timed: bool = False

    def walk(self, *answers: str) -> None:
        """At the lift: begin to walk, and pick what is said."""
        self.pause(SLIP_S)
        self.terminal.press(self.key)
        self.treads += 1
        for answer in answers:
            self.terminal.until(lambda a=answer: f"the pedal picks {a};" in self.terminal.text,
                                f"{answer} stands")
            self.pause(GATE_S)
            self.treads += 1
            if answer == "none":
                self.terminal.press(self.key)
                self.terminal.until(lambda: "the pedal picks" not in self.terminal.text, "no tag")
            else:
                self.press(self.key)


def hold(home: Path, wanted: int, says: str, *, three: bool = False) -> None:
    """A day of so many wanted: a verdict for the second sheet, a slip at the third pull, facts."""
    home.mkdir(parents=True)
    pedals = "treads: [a]\ntake back keys: [b]\nlook again keys: [c]\n" if three else ""
    (home / "preferences.yaml").write_text(pedals + PREFERENCES, encoding="utf-8")
    recipe = home.parent / "quick.yaml"
    recipe.write_text(quick_day(), encoding="utf-8")
    with Terminal(["run", str(recipe), "--wanted", str(wanted)], home, (80, 24)) as terminal:
        terminal.shows("open the session")
        foot = Foot(terminal, home / "studio.book", key="a" if three else " ")
        terminal.press(foot.key)
        terminal.until(lambda: "open the session" not in terminal.text, "the Bench")
        foot.trodden = time.monotonic()
        session = through(foot, says, three=three)
        terminal.shows("The session is closed")
        foot.pause(SLIP_S)
        terminal.press(foot.key)
        terminal.until(lambda: "The session is closed" not in terminal.text, "the round")
        terminal.press("\x1b")
        terminal.take(0.3)
        terminal.press("\x11")
        assert terminal.ended() == 0
        assert "Traceback" not in "".join(terminal.written)
    pulled = [i for i in session.impressions if i.pulled]
    assert [i.mark for i in pulled] == [f"D{n}" for n in range(1, wanted + 3)]
    assert {i.mark: i.verdict for i in pulled if i.verdict} == {"D2": says}
    assert [i.tags for i in pulled if i.tags] == []
    assert [i.mark for i in pulled if i.look_again] == (["D1"] if three else [])
    assert [f[0] for f in session.musts.values()] == foot.facts
    assert len(foot.facts) == 3
    assert sum(w.key.step != "wash" and w.how == "done" for w in session.history) > 0
    counted = sum(foot.lifted.values()) / len(foot.lifted)
    assert counted < 8  # the walk makes a fifth tread and a sixth of the four, a slip two more


def through(foot: Foot, says: str, *, three: bool) -> Session:
    """Tread to the end of the day."""
    slipped = False
    end = time.monotonic() + 600
    while time.monotonic() < end:
        session, shown = foot.look()
        if session.closed is not None or shown is None:
            return session
        before, mark = foot.treads, shown.mark or "0"
        if shown.now.must:
            foot.terminal.shows(f"1  {shown.now.must[0]}")
            foot.facts.append(shown.now.must[0])
            foot.press("1")
        elif shown.now.do == TIMED and shown.pulled == 2 and not slipped:
            slipped = True
            slip(foot, three=three)
        elif shown.now.asks and shown.mark is not None:
            lift(foot, shown.mark, says, three=three)
        else:
            foot.on()
        foot.lifted[mark] = foot.lifted.get(mark, 0) + foot.treads - before
    raise AssertionError(f"the day does not end\n{foot.terminal.text}")


def slip(foot: Foot, *, three: bool) -> None:
    """The foot ends the pull by mistake; the next tread takes it back, or the second pedal."""
    before = foot.look()[0]
    foot.tread()
    assert len([i for i in foot.look()[0].impressions if i.pulled]) == 3
    foot.tread("b" if three else "", early=True)
    foot.terminal.shows("ndone" if three else f"undone: {TIMED} goes on")
    after = foot.look()[0]
    assert (after.hand, len([i for i in after.impressions if i.pulled])) == (before.hand, 2)
    foot._after_timed = True


def lift(foot: Foot, mark: str, says: str, *, three: bool) -> None:
    """Look: the second sheet is judged, the first is to be looked at again, the rest go on."""
    if three and mark == "D1":
        foot.tread("c")
    if mark == "D2" and foot.look()[0].impressions[1].verdict is None:
        foot.walk(says, "none")
        foot._after_timed = False
        foot.on()
    else:
        foot.walk("go on")
        foot._after_timed = False


def test_a_short_day_by_the_switch_alone(home: Path) -> None:
    """Three impressions: a slip taken back, a sheet kept by the walk, three facts."""
    hold(home, 1, "keep")


@pytest.mark.full
@pytest.mark.parametrize("three", [False, True])
def test_ten_impressions_by_the_switch_alone(home: Path, three: bool) -> None:
    """One key for all; then with three pedals, whose third marks a sheet."""
    hold(home, 8, "spoiled", three=three)


def test_the_switch_is_learned_by_its_command_and_no_book_is_made(home: Path) -> None:
    """`benchapp switch`: a key learned and kept; escape leaves; only preferences are there."""
    home.mkdir(parents=True)
    (home / "preferences.yaml").write_text("sound: off  # at night\n", encoding="utf-8")
    with Terminal(["switch"], home, (80, 24)) as terminal:
        terminal.shows("Settings", "750 ms of silence")
        terminal.press("t")
        terminal.shows("hold it for three seconds")
        terminal.press("b")
        terminal.shows("Heard so far: b, once")
        terminal.shows("Learned: go on. Press k to keep it", "It did not repeat")
        terminal.press("k")
        terminal.shows("Saved in the preferences")
        terminal.press("\x1b")
        assert terminal.ended() == 0
    kept = (home / "preferences.yaml").read_text(encoding="utf-8")
    assert kept.startswith("sound: off  # at night\ntreads: [b, space, enter")
    assert [p.name for p in home.iterdir() if p.is_file()] == ["preferences.yaml"]
