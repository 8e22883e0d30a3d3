"""A clock to set by hand, programs made on the spot, and readers of sounds."""

from __future__ import annotations

import cmath
import io
import math
import sys
import time
import wave
from array import array
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from benchapp.calls.found import Program


@dataclass
class Hand:
    """A boot clock that goes only when told to."""

    ms: int = 0

    def __call__(self) -> int:
        """Now."""
        return self.ms


def real_ms() -> int:
    """The monotonic clock, for programs that really run."""
    return time.monotonic_ns() // 1_000_000


def until(true: Callable[[], object], seconds: float = 10) -> bool:
    """Wait until something is so, however slow the machine; says whether it came."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if true():
            return True
        time.sleep(0.005)
    return False


def program(folder: Path, name: str, python: str, *, takes: str = "file",
            renders: tuple[str, ...] = ()) -> Program:  # fmt: skip
    """A program that does what a few lines of Python say."""
    path = folder / name
    path.write_text(f"#!{sys.executable} -S\nimport sys, time\n{python}\n", encoding="utf-8")
    path.chmod(0o755)
    return Program(name, (str(path),), takes, renders)


def noting(folder: Path, name: str = "player", **more: object) -> tuple[Program, Path]:
    """A program that notes its arguments and its input, one repr a line."""
    log = folder / f"{name}.log"
    code = (f"open({str(log)!r}, 'a').write(repr((sys.argv[1:], sys.stdin.read())) + '\\n')")
    return program(folder, name, code, **more), log


def samples(data: bytes) -> tuple[list[int], int]:
    """The samples of a mono 16-bit WAV, and how many there are in a second."""
    with wave.open(io.BytesIO(data), "rb") as file:
        assert (file.getnchannels(), file.getsampwidth()) == (1, 2)
        raw = array("h", file.readframes(file.getnframes()))
        if sys.byteorder == "big":
            raw.byteswap()
        return list(raw), file.getframerate()


def spectrum(wave_: list[int], rate: int, size: int = 4096) -> dict[float, float]:
    """The power at each frequency in Hz: Cooley and Tukey's transform (1965), Hann window.

    Takes at most `size` samples (a power of two) and fills up with silence.
    """
    taken = wave_[:size]
    n = len(taken)
    shaped = [x * (0.5 - 0.5 * math.cos(2 * math.pi * i / (n - 1))) for i, x in enumerate(taken)]
    found = _transform([complex(x) for x in shaped] + [0j] * (size - n))
    return {k * rate / size: abs(found[k]) ** 2 / size for k in range(1, size // 2)}


def _transform(values: list[complex]) -> list[complex]:
    if len(values) == 1:
        return values
    even, odd = _transform(values[::2]), _transform(values[1::2])
    half = len(even)
    turned = [cmath.exp(-1j * math.pi * k / half) * odd[k] for k in range(half)]
    return [e + t for e, t in zip(even, turned, strict=True)] + [
        e - t for e, t in zip(even, turned, strict=True)
    ]


def near(found: dict[float, float], hz: float) -> float:
    """The power at the frequency nearest to `hz`."""
    return found[min(found, key=lambda f: abs(f - hz))]
