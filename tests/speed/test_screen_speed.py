"""How soon the screens stand, how soon a tread is painted, and what they cost at rest."""

from __future__ import annotations

import statistics
import sys
from pathlib import Path

import pytest

if not sys.platform.startswith("linux"):  # pragma: no cover
    pytest.skip("pseudo-terminals, and /proc of Linux", allow_module_level=True)

from benchapp.book import Book
from benchapp.clock import SystemClock
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.speed.beside import BARE, OURS, Program, busy

RECIPE = Path(__file__).parents[2] / "recipes" / "weigh-house.yaml"
TWO_HOURS_MS = 7_200_000
TREADS = 30


@pytest.fixture
def at_work(home: Path) -> Path:
    """A home whose book holds one open session with six clocks; every tread counts."""
    home.mkdir(parents=True)
    (home / "preferences.yaml").write_text("gate: 0 ms\nsound: on\n", encoding="utf-8")
    with Book.open(home / "studio.book", write=True, create=True) as book:
        shop = SessionService(book, SystemClock())
        assert shop.open_session("weigh-house", RECIPE.read_text(encoding="utf-8"), 40).ok
        for n in range(6):
            assert shop.do(a.StartClock(TWO_HOURS_MS + n * 60_000, f"clock {n}")).ok
    return home


def _written(home: Path) -> tuple[int, int]:
    """Changes with every commit: the log in front of the book, its length and its moment."""
    found = (home / "studio.book-wal").stat()
    return found.st_size, found.st_mtime_ns


@pytest.mark.full
def test_the_first_frame_comes_soon_after_a_bare_ones(at_work: Path) -> None:
    """From the command to the Bench of a running day, in turn with the bare app; memory too."""
    first: dict[str, list[float]] = {"bench": [], "studio": [], "bare": []}
    held: dict[str, float] = {}
    ways = {"bare": (BARE, "ready"), "bench": ((*OURS, "resume"), "CLEAN HANDS"),
            "studio": (OURS, "At the press")}
    for _ in range(6):  # the first compiles
        for name, (words, sign) in ways.items():
            with Program(*words, home=at_work) as program:
                first[name].append(program.shows(sign) - program.started)
                program.settle()
                held[name] = program.memory_mib()
    best = {name: min(taken) for name, taken in first.items()}
    print("; ".join(f"{name}: first frame {best[name]:.2f} s at best, {held[name]:.0f} MiB"
                    for name in ways))
    assert best["bench"] < 7 * best["bare"]
    assert best["studio"] < 7 * best["bare"]
    assert held["bench"] < 2 * held["bare"]
    assert held["studio"] < 2 * held["bare"]


@pytest.mark.full
def test_six_clocks_hardly_warm_the_machine(at_work: Path) -> None:
    """The Bench with six clocks beside a bare app with six, and beside one at rest."""
    with (Program(*BARE, home=at_work) as still, Program(*BARE, "6", home=at_work) as six,
          Program(*OURS, "resume", home=at_work) as bench):
        still.shows("ready")
        six.shows("119:5")
        bench.shows("clock 5")
        for program in (still, six, bench):
            program.settle()
        share = busy({"still": still, "six": six, "bench": bench}, 20)
    print(f"bare at rest {share['still']:.2f} % of a processor, bare with six clocks "
          f"{share['six']:.2f} %, the Bench with six {share['bench']:.2f} %")
    assert share["bench"] < 8 * max(share["six"], 0.25)


def _key_ms(bare: Program, keys: int) -> float:
    """How long a key of the bare app takes to be painted, `keys` having gone before."""
    bare.settle()
    sent = bare.press(" ")
    return (bare.shows(f"ready {keys + 1} ") - sent) * 1000


def _tread_ms(bench: Program, home: Path) -> tuple[float, float]:
    """How long a tread takes to be in the book, and to be painted."""
    bench.settle()
    before = _written(home)
    sent = bench.press(" ")
    there, shown = bench.painted_after(lambda: _written(home) != before)
    return (there - sent) * 1000, (shown - sent) * 1000


@pytest.mark.full
def test_a_tread_is_in_the_book_and_painted_at_once(at_work: Path) -> None:
    """Key to commit to paint, in turn with a key of bare apps: of one line, of a full screen."""
    line, page, treads = [], [], []
    with (Program(*BARE, home=at_work) as short, Program(*BARE, "22", home=at_work) as full,
          Program(*OURS, "resume", home=at_work) as bench):
        short.shows("ready")
        full.shows("119:5")
        bench.shows("clock 5")
        for n in range(TREADS):
            line.append(_key_ms(short, n))
            page.append(_key_ms(full, n))
            treads.append(_tread_ms(bench, at_work))
    committed, painted = (statistics.median(taken) for taken in zip(*treads, strict=True))
    one, many = statistics.median(line), statistics.median(page)
    print(f"a tread is committed after {committed:.1f} ms and painted after {painted:.1f} ms; "
          f"a key of a bare app is painted after {one:.1f} ms, where it changes the whole screen "
          f"after {many:.1f} ms")
    assert committed < painted < 12 * many
