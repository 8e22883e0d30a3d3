"""Every act on files of a command that writes fails, once and for good; its disk fills anywhere.

And two faults meet in one command, kill -9 among them.
The command ends with 0, and then has kept its promise, or with 3 and a plain sentence. Every file
is the old or the new one, every book sound, no entry lost, and the same command, called again on a
sound disk, ends what was not done.
"""

from __future__ import annotations

import random
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from tests.faults.deeds import DEEDS, Deed
from tests.faults.disk import CAN_BE_SEEN
from tests.faults.failing import ERRORS, FOR_GOOD
from tests.faults.warm import Ended, Fault, Warm
from tests.faults.wholeness import (
    Home,
    hold_mirrored,
    hold_nothing_lost,
    hold_plain,
    hold_whole,
    look,
)

pytestmark = pytest.mark.skipif(not CAN_BE_SEEN, reason="this SQLite cannot be called by name")

#: At least so many acts on files of each command: each is failed once, and from it on for good.
ACTS = {"export as lines": 20, "export over a table": 8, "export as a page": 8, "import": 140,
        "learn": 14, "new recipe": 7, "first preference": 16, "preference": 16, "backup": 50,
        "restore": 80, "restore beside": 80, "rebuild": 150, "damp": 70, "number": 60,
        "merge": 140, "migrate": 280, "day": 190, "close": 140}
#: At least so many 4 KiB are taken by each; `damp` writes the mirror beside the book.
PAGES = {"export as lines": 1, "import": 1, "backup": 1, "damp": 1}
#: So many pairs of faults in each command.
PAIRS = 28
_PAGE = 4096


class FaultTrial:
    """A command in a studio of its own, which is copied for each fault.

    Attributes:
        acts: How many acts on files it takes on a sound disk.
    """

    def __init__(self, deed: Deed, warm: Warm, folder: Path, weakened: str = "") -> None:
        self.deed, self.warm, self.folder, self.weakened = deed, warm, folder, weakened
        self.studio = folder / "studio"
        self.studio.mkdir()
        deed.make(warm, self.studio)
        self.before = look(self.studio)
        home = self._copied()
        ended = self._called(home, Fault())
        assert ended.code == 0, ended
        self.acts = ended.steps
        self.after = look(home)
        assert deed.done(self.after, self.before)
        shutil.rmtree(home)

    def _copied(self) -> Path:
        """The studio once more, always in the same place."""
        home = self.folder / "home"
        shutil.copytree(self.studio, home)
        return home

    def _called(self, home: Path, fault: Fault) -> Ended:
        return self.warm.call(home, *self.deed.words(home), said=self.deed.said,
                              fault=fault, weakened=self.weakened)

    def hold(self, fault: Fault) -> int:
        """Call it on such a disk, and again on a sound one; how many acts were refused."""
        home = self._copied()
        ended = self._called(home, fault)
        assert ended.code in (0, 3) or (ended.code is None and fault.kills), (fault, ended)
        if ended.code:
            hold_plain(ended.err)
        elif ended.code == 0:
            assert self.deed.says in ended.out, (fault, ended)
        cut = look(home)
        self._hold(cut)
        again = self._called(home, Fault())
        assert again.code in self.deed.again, (fault, ended, again)
        whole = look(home)
        self._hold(whole)
        hold_nothing_lost(whole, cut, self._books)
        warned = None if ended.code is None else ended.err
        assert self.deed.promises(warned)(whole, self.before), (fault, ended, again)
        if "studio.book" in whole.books:
            hold_mirrored(home)
        shutil.rmtree(home)
        return ended.refused

    def hold_all(self) -> None:
        """Fail each of its acts once, and all from it on; the errors by turns."""
        for n in range(self.acts):
            for times in (1, FOR_GOOD):
                assert self.hold(Fault(n, ERRORS[n % len(ERRORS)], times)), "it comes so far"

    @property
    def _books(self) -> tuple[str, ...]:
        return () if self.deed.restores else ("studio.book",)

    def _hold(self, home: Home) -> None:
        hold_whole(home, self.before, self.after)
        hold_nothing_lost(home, self.before, self._books)


def _deed(name: str) -> Deed:
    return next(deed for deed in DEEDS if deed.name == name)


@pytest.mark.full
@pytest.mark.parametrize("name", ACTS)
def test_every_act_of_a_command_fails(name: str, warm: Warm, tmp_path: Path) -> None:
    trial = FaultTrial(_deed(name), warm, tmp_path)
    assert trial.acts >= ACTS[name]
    trial.hold_all()


@pytest.mark.full
@pytest.mark.parametrize("name", PAGES)
def test_the_disk_is_full_at_every_page(name: str, warm: Warm, tmp_path: Path) -> None:
    """The home may grow by 0, 4, 8, … KiB, until the command gets all it asks for."""
    trial = FaultTrial(_deed(name), warm, tmp_path)
    pages = 0
    while trial.hold(Fault(free=pages * _PAGE)):
        pages += 1
    assert pages >= PAGES[name]


@pytest.mark.full
@pytest.mark.parametrize("deed", DEEDS, ids=lambda deed: deed.name)
def test_two_faults_meet_in_a_command(deed: Deed, warm: Warm, tmp_path: Path) -> None:
    """An error once or for good, a disk with little room, a kill: two of them in one call."""
    trial = FaultTrial(deed, warm, tmp_path)
    assert PAIRS * len(DEEDS) >= 500
    chance = random.Random(deed.name)

    def fault() -> Fault:
        at = chance.randrange(trial.acts)
        return chance.choice((Fault(at, chance.choice(ERRORS)),
                              Fault(at, chance.choice(ERRORS), FOR_GOOD),
                              Fault(free=chance.randrange(64) * _PAGE)))

    for n in range(PAIRS):
        one = Fault(chance.randrange(trial.acts), ERRORS[0], kills=True) if n % 4 == 0 else fault()
        trial.hold(replace(one, also=fault()))


def test_some_acts_fail(warm: Warm, tmp_path: Path) -> None:
    """A sample of the heavy ones: the sync of a new recipe, a disk without room for it."""
    trial = FaultTrial(_deed("new recipe"), warm, tmp_path)
    for fault in (Fault(3, ERRORS[0]), Fault(3, ERRORS[3], FOR_GOOD), Fault(free=0)):
        assert trial.hold(fault)


@pytest.mark.full
def test_files_written_in_place_would_be_noticed(warm: Warm, tmp_path: Path) -> None:
    """What writes over a file where it is leaves half of it on a disk that refuses the rest."""
    trial = FaultTrial(_deed("preference"), warm, tmp_path, "write_in_place")
    with pytest.raises(AssertionError, match=r"preferences\.yaml"):
        trial.hold_all()
