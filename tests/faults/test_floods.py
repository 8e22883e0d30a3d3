"""Garbage, held keys, resizes and pastes on the real screen: it lives and obeys, the book is sound.

What is sent is nothing anybody means. The screen may do what its keys say, but it stays alive and
bounded, shows its keys again when all is quiet, ends when the system tells it to, and whatever it
wrote meanwhile is a day that goes on. Small floods of the quick tier: tests/screens/test_driver.py.
"""

from __future__ import annotations

import fcntl
import os
import random
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

if not sys.platform.startswith("linux"):  # what a process takes is read from /proc
    pytest.skip("memory is not told here", allow_module_level=True)

from benchapp.book import Book
from benchapp.cli import main
from tests.screens.terminal import Terminal

pytestmark = pytest.mark.full

#: How many floods of each sort, at least.
GARBAGE, HELD, RESIZES, PASTES, BROKEN = 12, 8, 200, 4, 40
#: A key held for 20 s where keys repeat 30 times a second.
_REPEATS = 600
_PASTE = 1_000_000
#: So much more than before a flood may be taken after it, in kB.
_MORE_KB = 40_000
#: The terminal itself obeys these: ^C, ^Q, ^S, ^Z and ^\.
_OBEYED = (3, 17, 19, 26, 28)
_BYTES = bytes(n for n in range(256) if n not in _OBEYED)
_SEQUENCES = (
    b"\x1b[", b"\x1b[M", b"\x1b[<0;1", b"\x1b[<99999;99999;99999M", b"\x1b]52;c;", b"\x1bP1;1|",
    b"\x1b[99999999999u", b"\x1b[200~", b"\x1b[201~", b"\x1b[?1;2", b"\x1b[8;1;1t", b"\x1bO",
    b"\x1b[1;", b"\x1b_", b"\xc3", b"\xf0\x9f", b"\xff\xfe", b"\x1b[" + b"9" * 400 + b"u",
    b"\x1b\x1b\x1b[", b"\x1b[I\x1b[O", b"\x1b[5;5R", b"\x00", b"\x1b[27;5;13~")


class Bench:
    """A day on the screen that takes whatever is sent."""

    def __init__(self, home: Path) -> None:
        home.mkdir(parents=True)
        self.home = home
        self.told = 0.0
        self.terminal = Terminal(["run", "three-steps", "--wanted", "9"], home, (80, 24))
        self.terminal.shows("open the session")
        self.send(b" ")
        self.shows_its_keys()

    @property
    def screen(self) -> int:
        """The process that draws: the parent only waits."""
        pid = self.terminal.pid
        (child,) = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
        return int(child)

    def takes_kb(self) -> int:
        """How much memory it has."""
        status = Path(f"/proc/{self.screen}/status").read_text()
        return int(status.partition("VmRSS:")[2].split()[0])

    def send(self, data: bytes) -> None:
        """Send bytes as fast as they are taken; what is drawn meanwhile is read and dropped."""
        fd = self.terminal.fd
        while data:
            reads, writes, _ = select.select([fd], [fd], [], 20)
            assert reads or writes, "it neither reads nor draws"
            if reads:
                os.read(fd, 65536)
            if writes:
                data = data[os.write(fd, data[:512]):]

    def is_idle(self) -> bool:
        """Whether it has done what was sent: it hardly works any more."""
        def ticks() -> int:
            fields = Path(f"/proc/{self.screen}/stat").read_text().rpartition(")")[2].split()
            return int(fields[11]) + int(fields[12])

        before = ticks()
        self.terminal.take(0.3)
        time.sleep(0.3)
        return ticks() - before < 6

    def shows_its_keys(self) -> str:
        """Once what was sent is over, a picture drawn anew has its last line; all of it."""
        terminal = self.terminal
        terminal.until(self.is_idle, "an end of the work")
        for columns in (81, 80):  # another size has everything drawn
            terminal.wipe()
            terminal.resize(columns, 24)
            terminal.until(self.has_foot, "the keys")
        return terminal.text

    def has_foot(self) -> bool:
        """Whether the last line says what the keys do: with inky hands there are few.

        A flood may have told it that another window has the keys; while one lasts, and until two
        seconds after it, being told otherwise is dropped too.
        """
        if "NOT LISTENING" in self.terminal.text and time.monotonic() > self.told + 3:
            self.told = time.monotonic()
            self.send(b"\x1b[I")
        lines = self.terminal.text.splitlines()
        # A card that asks has its keys in its last line but one, over whatever lies below.
        ends = [i for i, line in enumerate(lines) if "╰" in line]
        foot = lines[ends[-1] - 1] if ends else lines[-1]
        return any(key in foot for key in ("help", "space ", "esc ", "enter "))

    def resize(self, columns: int, rows: int) -> None:
        """Another size; what is drawn for it is dropped."""
        fcntl.ioctl(self.terminal.fd, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def leave_all(self) -> None:
        """Close what the flood opened, up to the Bench or the Studio."""
        for _ in range(6):
            self.send(b"\x1b")
            self.terminal.take(0.1)

    def entries(self) -> int:
        """How many entries the book has."""
        with Book.reading(self.home / "studio.book") as book:
            return book.last_sequence()


@pytest.fixture
def bench(home: Path) -> Iterator[Bench]:
    """The Bench of a day that has begun; at the end it obeys, and the book is sound."""
    bench = Bench(home)
    before = bench.takes_kb()
    with bench.terminal as terminal:
        yield bench
        text = bench.shows_its_keys()
        assert text.count("Too many keys came at once") <= 1
        assert bench.takes_kb() - before < _MORE_KB
        os.kill(bench.screen, signal.SIGTERM)
        assert terminal.ended() == 128 + signal.SIGTERM
    written = "".join(terminal.written)
    assert "Traceback" not in written
    assert "went wrong" not in written
    with Book.reading(home / "studio.book") as book:
        assert book.verify() == []
        assert not book.sessions()[0].closed
    assert main(["review", "last", "--json"]) == 0


def test_one_held_key_is_one_tread(bench: Bench) -> None:
    """Two hundred treads at once are one at most: nobody treads so fast."""
    before = bench.entries()
    bench.send(b" " * 200)
    bench.shows_its_keys()
    assert bench.entries() - before < 8


def test_bytes_of_chance(bench: Bench) -> None:
    """Short ones are acted on, long ones are a flood."""
    chance = random.Random(1)
    many = 0
    for size in (100, 300, 900, 20_000, 200_000, 1_000_000) * (GARBAGE // 6):
        bench.send(bytes(chance.choices(_BYTES, k=size)))
        bench.leave_all()
        many += 1
    assert many >= GARBAGE


def test_held_keys(bench: Bench) -> None:
    """Each for twenty seconds' worth of repeats, at once."""
    keys = (b" ", b"\r", b"n", b"t", b"?", b"\x1b[B", b"\x1b[17~", b"\x1bOS", b"s", b"\x1b[15~")
    for key in keys:
        bench.send(key * _REPEATS)
        bench.leave_all()
    assert len(keys) >= HELD


def test_a_storm_of_sizes(bench: Bench) -> None:
    """From one sign to more than any wall holds, faster than it can draw."""
    chance = random.Random(1)
    sizes = [(1, 1), (300, 100), (1, 100), (300, 1), (2, 2), (80, 1)] + [
        (chance.randint(1, 300), chance.randint(1, 100)) for _ in range(RESIZES)]
    for columns, rows in sizes:
        bench.resize(columns, rows)
        bench.send(chance.choice((b"", b"\x1b", b"?")))
    bench.leave_all()
    assert len(sizes) >= RESIZES


def test_pastes_of_a_megabyte(bench: Bench) -> None:
    """On the Bench, into a line, without an end, and as keys."""
    text = (b"scrim and blankets, 3/5 \xe2\x80\xae \x07 " * (_PASTE // 20))[:_PASTE]
    pastes = (b"\x1b[200~" + text + b"\x1b[201~", b"n\x1b[200~" + text + b"\x1b[201~\r",
              b"\x1b[200~" + text, text)
    for paste in pastes:
        bench.send(paste)
        bench.leave_all()
    assert len(pastes) >= PASTES


def test_broken_sequences(bench: Bench) -> None:
    """Begun, without an end, out of range, one in the other."""
    chance = random.Random(1)
    many = 0
    for _ in range(BROKEN):
        bench.send(b"".join(chance.choices(_SEQUENCES, k=20)))
        many += 1
    bench.leave_all()
    assert many >= BROKEN
