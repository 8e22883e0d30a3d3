"""Files damaged in every way that disks and copying damage them."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path
from typing import Final

PAGE: Final = 4096


def flip_bits(data: bytearray, chance: random.Random) -> None:
    """A few bits anywhere."""
    for _ in range(chance.choice((1, 1, 1, 2, 8))):
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)


def zero_pages(data: bytearray, chance: random.Random) -> None:
    """One page or a few are zeros."""
    for _ in range(chance.choice((1, 1, 3))):
        at = chance.randrange(len(data) // PAGE) * PAGE
        data[at : at + PAGE] = bytes(PAGE)


def cut_off(data: bytearray, chance: random.Random) -> None:
    """The end is missing, at a page's end or anywhere."""
    size = chance.randrange(len(data))
    del data[chance.choice((size, size // PAGE * PAGE)) :]


def swap_pages(data: bytearray, chance: random.Random) -> None:
    """Two pages have changed places."""
    one, two = (x * PAGE for x in chance.sample(range(len(data) // PAGE), 2))
    data[one : one + PAGE], data[two : two + PAGE] = data[two : two + PAGE], data[one : one + PAGE]


WAYS: Final[tuple[Callable[[bytearray, random.Random], None], ...]] = (
    flip_bits, zero_pages, cut_off, swap_pages)


def damage(path: Path, seed: int) -> bytes:
    """Damage the file at `path` in the way of `seed`; what is in it then."""
    data = bytearray(path.read_bytes())
    WAYS[seed % len(WAYS)](data, random.Random(seed))
    path.write_bytes(data)
    return bytes(data)
