"""The mouse in a real pseudo-terminal: what is asked for, and reports cut at any byte."""

from __future__ import annotations

import os
import re
import sys
from pathlib import Path

import pytest

if sys.platform.startswith("win"):  # pragma: no cover
    pytest.skip("there are no pseudo-terminals here", allow_module_level=True)

from benchapp.book import Book
from tests.screens.terminal import Terminal

#: A click, its release, the wheel, and the old form.
REPORTS = [b"\x1b[<0;20;5M", b"\x1b[<0;20;5m", b"\x1b[<65;20;5M", b"\x1b[M !!"]


def prefer(home: Path, *lines: str) -> None:
    """A home with those preferences."""
    home.mkdir(parents=True)
    (home / "preferences.yaml").write_text("\n".join(("gate: 0 ms", *lines, "")), encoding="utf-8")


def modes(written: str, end: str) -> list[str]:
    """The terminal's modes of the mouse that were set or unset, in order."""
    return [n for n in re.findall(rf"\x1b\[\?(\d+){end}", written) if n[:2] == "10" and n != "1049"]


def entries(home: Path) -> int:
    """How many entries the book holds."""
    with Book.reading(home / "studio.book") as book:
        return book.last_sequence()


def on_the_bench(terminal: Terminal) -> None:
    """Past the set-up card, to a step of clean hands where letters and digits write."""
    terminal.shows("open the session")
    terminal.press(" ")
    terminal.shows("Blankets and both screws")


def test_clicks_and_the_wheel_are_asked_for_and_never_movements(home: Path) -> None:
    """1000 and 1006, no arrows for the wheel; at the end all is as the terminal said it was."""
    prefer(home)
    with Terminal(["run", "three-steps"], home, (80, 24)) as terminal:
        on_the_bench(terminal)
        terminal.until(lambda: "\x1b[?1007$p" in "".join(terminal.written), "1007 asked for")
        terminal.press("\x1b[?1007;1$y")
        assert {"1000", "1006"} <= set(modes("".join(terminal.written), "h"))
        terminal.press("\x11")
        assert terminal.ended() == 0
        written = "".join(terminal.written)
    # 1004: where keys go. Never 1002, 1003, 1015 or 1016.
    assert set(modes(written, "h")) == {"1000", "1004", "1006", "1007"}
    assert "1007" in modes(written, "l")
    last = dict(re.findall(r"\x1b\[\?(10\d\d)([hl])", written))
    assert (last["1000"], last["1006"], last["1007"]) == ("l", "l", "h")
    assert written.index("\x1b[?1007$p") < written.index("\x1b[?1007l")


def test_with_the_mouse_off_only_the_wheels_arrows_are_turned_off(home: Path) -> None:
    """No report is asked for; on and off again in the preferences holds at once."""
    prefer(home, "mouse: off")
    with Terminal([], home, (80, 40)) as terminal:
        terminal.shows("Studio")
        assert {"1000", "1006"} & set(modes("".join(terminal.written), "h")) == set()
        assert "1007" in modes("".join(terminal.written), "l")
        terminal.press("s")
        terminal.shows("Preferences")
        terminal.press("\x1b[F")
        terminal.shows("mouse            off")
        terminal.press("\x1b[A\x1b[A\x1b[A\r")
        terminal.shows("1  on")
        terminal.press("1")
        terminal.shows("mouse            on")
        terminal.until(lambda: {"1000", "1006"} <= set(modes("".join(terminal.written), "h")),
                       "the mouse asked for")


def test_a_report_cut_at_any_byte_does_nothing_on_the_bench(home: Path) -> None:
    """Every kind at every byte, resumed later: the session stands, the book has no entry more."""
    prefer(home)
    with Terminal(["run", "three-steps"], home, (80, 24)) as terminal:
        on_the_bench(terminal)
        before = entries(home)
        for report in REPORTS:
            for cut in range(1, len(report)):
                os.write(terminal.fd, report[:cut])
                # Longer than pieces of one report and than the framework waits for a key's rest.
                terminal.take(0.15)
                os.write(terminal.fd, report[cut:])
        os.write(terminal.fd, REPORTS[2] * 3)
        terminal.press("?")
        terminal.shows("Help: The Bench")
        assert entries(home) == before
