"""Recipes, books and sounds as programs read them that are not ours."""

from __future__ import annotations

import cmath
import io
import json
import math
import sqlite3
import wave
from array import array
from pathlib import Path

import pytest
import yaml

from benchapp.book.schema import APPLICATION_ID
from benchapp.book.store import Book
from benchapp.calls.tones import KINDS, Kind, make_tone
from benchapp.recipe.reader import read_recipe
from tests.recipe.test_shipped_recipes import text_of

SHIPPED = ("weigh-house", "ferry-lamp", "pane-moth", "signal-box", "thistle-heads", "three-steps")


@pytest.mark.parametrize("name", SHIPPED)
def test_a_recipe_is_the_yaml_that_another_reader_reads(name: str) -> None:
    """YAML 1.2.2, 1.3: JSON is YAML. As PyYAML's own constructor reads it, and as JSON, the same.

    Texts stay texts (its BaseLoader), so that no reader has to guess what is a number.
    """
    read = yaml.load(text_of(name), Loader=yaml.BaseLoader)
    assert read_recipe(json.dumps(read, ensure_ascii=False)) == read_recipe(text_of(name))


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new book, closed again."""
    path = tmp_path_factory.mktemp("outside") / "book.db"
    Book.open(path, write=True, create=True).close()
    return path


def test_a_book_begins_as_a_database_does(book: Path) -> None:
    """SQLite, Database File Format, 1.3: the header string, and the application id at byte 68."""
    head = book.read_bytes()[:100]
    assert head[:16] == b"SQLite format 3\x00"
    assert int.from_bytes(head[68:72], "big") == APPLICATION_ID
    assert int.from_bytes(head[16:18], "big") in {2**n for n in range(9, 16)}  # the page size


def test_a_book_is_sound_to_any_other_program(book: Path) -> None:
    """SQLite, PRAGMA integrity_check and foreign_key_check, asked of a connection not ours."""
    with sqlite3.connect(f"file:{book}?mode=ro", uri=True) as other:
        assert other.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert other.execute("PRAGMA foreign_key_check").fetchall() == []
    other.close()


def share_at(samples: array[int], rate: int, hertz: float) -> float:
    """How much of a sound is at a frequency: one term of its Fourier sum, a part of full scale."""
    turn = -2j * math.pi * hertz / rate
    found = sum(s * cmath.exp(turn * n) for n, s in enumerate(samples))
    return 2 * abs(found) / len(samples) / 32_767


@pytest.mark.parametrize("kind", KINDS)
def test_a_sound_is_where_old_ears_hear(kind: Kind) -> None:
    """ISO 24500: fundamentals not above 2.5 kHz; nothing is heard at 3 kHz or higher.

    The caution beats between 2 and 2.5 kHz (Kawata & Fukumoto, Jpn. J. Ergonomics 36(5), 2000).
    """
    with wave.open(io.BytesIO(make_tone(kind))) as sound:
        rate = sound.getframerate()
        samples = array("h", sound.readframes(min(sound.getnframes(), rate // 4)))
    low = max(share_at(samples, rate, hz) for hz in (660, 1000, 2000))
    assert low > 0.05
    assert all(share_at(samples, rate, hz) < low / 10 for hz in (3000, 4000, 6000))
    if kind == "caution":
        assert share_at(samples, rate, 2000) == pytest.approx(
            share_at(samples, rate, 2500), rel=0.1)
