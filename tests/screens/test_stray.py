"""Which sequences of a terminal are taken for keys, and which are left out."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual._ansi_sequences import ANSI_SEQUENCES_KEYS

from benchapp.screens.stray import without_strays


@pytest.mark.parametrize(
    "stray",
    [
        b"\x1b[M !!",
        b"\x1b[M\x20\xff\xe0",
        b"\x1b]11;rgb:1e1e/1e1e/1e1e\x07",
        b"\x1b]11;rgb:ffff/ffff/ffff\x1b\\",
        b"\x1bP>|some terminal 1.0\x1b\\",
        b"\x1b_Gi=31;OK\x1b\\",
        b"\x1b[?62;22c",
        b"\x1b[>41;390;0c",
        b"\x1b[0n",
        b"\x1b[8;24;80t",
        b"\x1b[?1u",
        b"\x1b[99;99;99x",
        b"\x1b[5 q",
        b"\x1b[!p",
    ],
)
def test_answers_and_reports_are_left_out(stray: bytes) -> None:
    """They vanish wherever they stand, and the keys around them stay."""
    assert without_strays(stray) == b""
    assert without_strays(b"k" + stray + b" " + stray) == b"k "


@pytest.mark.parametrize(
    "known",
    [
        b"\x1b",
        b"\x1b\x1b",
        b"\x1bk",
        b"\x1b]",
        b"\x1bP and words",
        b"\x1b[I",
        b"\x1b[O",
        b"\x1b[200~pasted\x1b[201~",
        b"\x1b[24;80R",
        b"\x1b[?2026;2$y",
        b"\x1b[48;24;80;480;800t",
        b"\x1b[<0;10;10M",
        b"\x1b[<0;10;10m",
        b"\x1b[97;1;97u",
        b"\x1b[57441;2u",
        b"\x1b[1;2P",
        b"\x1b[25;2~",
        b"\x1b[M",
        b"\x1b[",
        b"\x1b[12;",
    ],
)
def test_what_is_read_stays(known: bytes) -> None:
    """Keys, focus, paste, reports that are read, and pieces cut in two."""
    assert without_strays(b"a" + known) == b"a" + known


def test_every_key_the_framework_knows_stays() -> None:
    """Nothing in the framework's own table of keys is taken for a stray."""
    known = [sequence.encode() for sequence in ANSI_SEQUENCES_KEYS]
    assert len(known) > 300
    assert [sequence for sequence in known if without_strays(sequence) != sequence] == []


@given(st.binary().filter(lambda data: b"\x1b" not in data))
def test_without_escape_nothing_is_touched(data: bytes) -> None:
    """Plain typing, in whatever encoding, passes as it is."""
    assert without_strays(data) == data


@given(st.binary())
def test_nothing_is_added(data: bytes) -> None:
    """What comes out is what went in with pieces left out."""
    rest = iter(data)
    assert all(byte in rest for byte in without_strays(data))
