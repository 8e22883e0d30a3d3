"""Reports of the mouse that come in two pieces: none of their bytes is ever a key."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.screens.cut_reports import ESCAPE, HOLD_MS, CutReport
from benchapp.screens.stray import without_strays

#: A click and its release, the wheel up, down and sideways, with Shift, far away, a
#: movement, and the two older forms (three bytes behind; mode 1015).
REPORTS = [
    b"\x1b[<0;10;10M", b"\x1b[<0;10;10m", b"\x1b[<2;1;1M", b"\x1b[<64;40;12M", b"\x1b[<65;40;12M",
    b"\x1b[<66;40;12M", b"\x1b[<67;3;4M", b"\x1b[<69;132;50M", b"\x1b[<35;250;120M",
    b"\x1b[<0;-1;5m", b"\x1b[M !!", b"\x1b[M` k", b"\x1b[Mam ", b"\x1b[M\x20\xff\xe0",
    b"\x1b[64;10;10M",
]  # fmt: skip
CUTS = [(report, cut) for report in REPORTS for cut in range(1, len(report))]


def fed(*pieces: tuple[bytes, float]) -> tuple[bytes, ...]:
    """What is read of pieces that come at those moments, and of the time after them."""
    held, read = CutReport(), []
    for data, at in pieces:
        held, passed = held.take(data, at)
        read += passed
    _, passed = held.wait(pieces[-1][1] + 10 * HOLD_MS)
    return tuple(x for x in (*read, *passed) if x)


@pytest.mark.parametrize("after_ms", [100, 101, 400, 999, 1_000])
def test_a_report_cut_at_any_byte_does_nothing(after_ms: int) -> None:
    """Resumed up to a second later nothing of it is read, and the key behind it is."""
    for report, cut in CUTS:
        assert fed((report[:cut], 0), (report[cut:], after_ms)) == (), (report, cut)
        assert fed((b"k" + report[:cut], 0), (report[cut:] + b" ", after_ms)) == (b"k", b" ")


def test_the_rest_that_never_comes_leaves_no_key() -> None:
    """Escape alone is a key then; of anything longer nothing is left."""
    for report, cut in CUTS:
        assert fed((report[:cut], 0)) == ((ESCAPE,) if cut == 1 else ()), (report, cut)


def test_a_report_cut_and_resumed_at_once_is_whole() -> None:
    """Pieces of one moment are what was sent."""
    for report, cut in CUTS:
        assert b"".join(fed((report[:cut], 0), (report[cut:], 20))) == report


def test_three_pieces_do_no_more_than_two() -> None:
    """Cut again in the rest, half a second apart."""
    for report, cut in CUTS:
        rest, half = report[cut:], (len(report) - cut) // 2
        if half:
            read = fed((report[:cut], 0), (rest[:half], 500), (rest[half:], 1_000))
            assert read == (), (report, cut)


def test_escape_is_told_from_a_report_by_the_terminals_answer() -> None:
    """The answer comes behind what was sent before it: next means a key, later a report."""
    assert fed((ESCAPE, 0), (b"\x1b[0n", 3)) == (ESCAPE,)
    assert fed((ESCAPE, 0), (b"\x1b[0nk", 700)) == (ESCAPE, b"k")
    late = fed((ESCAPE, 0), (b"[<64;10;10M\x1b[0n", 700))
    assert b"".join(map(without_strays, late)) == b""


def test_escape_and_a_key_are_two_keys_unless_they_came_as_one() -> None:
    """Alt and a key are sent at once; a key a moment after Escape is its own."""
    assert fed((b"\x1bk", 0)) == (b"\x1bk",)
    assert fed((ESCAPE, 0), (b"k", 20)) == (b"\x1bk",)
    assert fed((ESCAPE, 0), (b"k", 300)) == (ESCAPE, b"k")
    assert fed((ESCAPE, 0), (ESCAPE, 300), (b"\x1b[0n", 302)) == (ESCAPE, ESCAPE)


@pytest.mark.parametrize("key", [b"\x1b[A", b"\x1b[15~", b"\x1b[1;2P", b"\x1b[97;1;97u", b"\x1b[I",
                                 b"\x1b[200~", b"\x1b[48;24;80;480;800t"])
def test_keys_that_come_in_pieces_are_put_together(key: bytes) -> None:
    """An arrow or a function key cut in two is that key."""
    for cut in range(1, len(key)):
        assert b"".join(fed((key[:cut], 0), (key[cut:], 400))) == key


def test_a_broken_report_does_not_eat_the_keys_behind_it() -> None:
    """What cannot be its rest is read for itself, and so is what comes too late."""
    assert fed((b"\x1b[<64;1", 0), (b"k", 300)) == (b"k",)
    assert fed((b"\x1b[<64;1", 0), (b"\x1b[B", 300)) == (b"\x1b[B",)
    assert fed((b"\x1b[M ", 0), (b"k", HOLD_MS)) == (b"k",)


@given(st.lists(st.binary(min_size=1).filter(lambda x: ESCAPE not in x), min_size=1))
def test_typing_is_never_held(pieces: list[bytes]) -> None:
    """Without Escape every piece is passed on as it came."""
    assert fed(*((piece, n * 10) for n, piece in enumerate(pieces))) == tuple(pieces)


@given(st.lists(st.tuples(st.binary(min_size=1, max_size=12), st.integers(0, 2_000)), min_size=1))
def test_nothing_is_added(pieces: list[tuple[bytes, int]]) -> None:
    """What is read is what came, with pieces left out."""
    moments, at = [], 0
    for data, gap in pieces:
        at += gap
        moments.append((data, at))
    rest = iter(b"".join(data for data, _ in pieces))
    assert all(byte in rest for byte in b"".join(fed(*moments)))
