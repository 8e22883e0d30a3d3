"""kill -9 anywhere in every command that writes: what it said it did is there, all else is whole.

Each command is killed before steps on files that are spread over all it takes, and at instants
within such steps. Then every book is sound, no entry is gone, every other file is the old or the
new one to the byte, and the same command, called again, ends what was cut off.
"""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest

from tests.faults.deeds import DEEDS, Deed
from tests.faults.warm import Kill, Warm
from tests.faults.wholeness import (
    Home,
    hold_mirrored,
    hold_nothing_lost,
    hold_whole,
    look,
)

#: Kills of each command: before a step, and within one.
BEFORE_STEPS = 28
WITHIN_STEPS = 12
#: How long a kill may come after its step began, in microseconds.
WITHIN_US = 1500


class KillTrial:
    """A command in a studio of its own, which is copied for each kill."""

    def __init__(self, deed: Deed, warm: Warm, folder: Path) -> None:
        self.deed, self.warm, self.folder = deed, warm, folder
        self.studio = folder / "studio"
        self.studio.mkdir()
        deed.make(warm, self.studio)
        self.before = look(self.studio)
        # Unkilled: what it does, and in how many steps. Recipes name no place, so no text does.
        home = self._copy()
        ended = warm.call(home, *deed.words(home), said=deed.said)
        assert ended.code == 0, ended
        assert deed.says in ended.out, ended
        self.steps = ended.steps
        self.after = look(home)
        assert deed.done(self.after, self.before)
        shutil.rmtree(home)

    def _copy(self) -> Path:
        """The studio once more, always in the same place."""
        home = self.folder / "home"
        shutil.copytree(self.studio, home)
        return home

    def kill(self, kill: Kill, weakened: str = "") -> bool:
        """Kill it once, weakened if asked to; False: it had ended before."""
        home = self._copy()
        words = self.deed.words(home)
        ended = self.warm.call(home, *words, said=self.deed.said, kill=kill,
                               weakened=weakened)
        cut = look(home)
        self._hold(cut)
        if self.deed.says in ended.out:
            assert self.deed.done(cut, self.before), kill

        again = self.warm.call(home, *words, said=self.deed.said)
        assert again.code in self.deed.again, (kill, again)
        whole = look(home)
        self._hold(whole)
        hold_nothing_lost(whole, cut, self._books)
        assert self.deed.done(whole, self.before), (kill, again)
        if "studio.book" in whole.books:
            hold_mirrored(home)
        shutil.rmtree(home)
        return ended.code is None

    def kill_at_all(self, kills: list[Kill], weakened: str = "") -> int:
        """Kill it at each of them; gives how often it was."""
        return sum(self.kill(kill, weakened) for kill in kills)

    @property
    def _books(self) -> tuple[str, ...]:
        return () if self.deed.restores else ("studio.book",)

    def _hold(self, home: Home) -> None:
        hold_whole(home, self.before, self.after)
        hold_nothing_lost(home, self.before, self._books)


def before_steps(steps: int, most: int) -> list[Kill]:
    """At most so many kills, spread over all steps; the first and the last among them."""
    if steps <= most:
        return [Kill(n) for n in range(1, steps + 1)]
    return [Kill(1 + n * (steps - 1) // (most - 1)) for n in range(most)]


@pytest.mark.full
@pytest.mark.parametrize("deed", DEEDS, ids=lambda deed: deed.name)
def test_every_command_outlives_kills(deed: Deed, warm: Warm, tmp_path: Path) -> None:
    trial = KillTrial(deed, warm, tmp_path)
    chance = random.Random(deed.name)
    planned = before_steps(trial.steps, BEFORE_STEPS)
    assert trial.kill_at_all(planned) == len(planned), "each kill falls before a step"
    killed = tried = 0
    while killed < BEFORE_STEPS + WITHIN_STEPS - len(planned):
        killed += trial.kill(Kill(chance.randint(1, trial.steps),
                                  chance.randint(1, WITHIN_US)))
        tried += 1
        assert tried < 10 * (BEFORE_STEPS + WITHIN_STEPS), "it ends before it is killed"


def _deed(name: str) -> Deed:
    return next(deed for deed in DEEDS if deed.name == name)


def test_a_command_outlives_two_kills(warm: Warm, tmp_path: Path) -> None:
    trial = KillTrial(_deed("new recipe"), warm, tmp_path)
    assert trial.kill_at_all([Kill(trial.steps // 2), Kill(trial.steps)]) == 2


@pytest.mark.full
def test_files_written_in_place_would_be_noticed(warm: Warm, tmp_path: Path) -> None:
    """What replaces a file without a second one beside it leaves half of it at some step."""
    trial = KillTrial(_deed("preference"), warm, tmp_path)
    with pytest.raises(AssertionError, match=r"preferences\.yaml"):
        trial.kill_at_all(before_steps(trial.steps, trial.steps), "write_in_place")
