"""The three sounds of the bench, made from sums of sines; nothing is shipped or fetched.

ISO 24500 (auditory signals for consumer products) names three classes of signal:
one that confirms an operation, one that tells an end, one that cautions. The idea
of three classes told apart by rhythm is taken from there; the patterns are our own:

- `confirm`: one short note.
- `end`: three long notes with as long a silence between.
- `caution`: twelve short beats, ten in a second, of two tones sounding together.

Every partial lies between 500 and 2500 Hz: above that older ears lose it, below
it an extractor fan covers it. The pair of 2 and 2.5 kHz is the one that Kawata &
Fukumoto found heard best by old and young alike in noise. Pure: bytes out.
"""

from __future__ import annotations

import io
import math
import sys
import wave
from array import array
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Final, Literal

Kind = Literal["confirm", "end", "caution"]
Level = Literal["loud", "soft"]

KINDS: Final[tuple[Kind, ...]] = ("confirm", "end", "caution")

RATE: Final = 22_050
"""Samples a second; every player takes it, and it carries far more than 2.5 kHz."""

#: The highest sample of a sound as a part of full scale: soft is 12 dB below loud.
_PEAK: Final[Mapping[Level, float]] = MappingProxyType({"loud": 0.88, "soft": 0.22})
_FULL_SCALE: Final = 32_767
#: A note swells and fades over this time; begun at once it would click.
_RAMP_MS: Final = 8
#: Silence at the end: some players cut off what they have not yet sent on.
_TAIL_MS: Final = 40


@dataclass(frozen=True, slots=True)
class Pattern:
    """How one sound is built.

    Attributes:
        on_ms: How long a note sounds.
        off_ms: The silence between two notes.
        notes: How many notes there are.
        partials: Frequency in Hz and its share of the amplitude; the shares add to 1.
    """

    on_ms: int
    off_ms: int
    notes: int
    partials: tuple[tuple[int, float], ...]

    @property
    def length_ms(self) -> int:
        """From the first swell to the end of the last fade, milliseconds."""
        return self.notes * self.on_ms + (self.notes - 1) * self.off_ms


PATTERNS: Final[Mapping[Kind, Pattern]] = MappingProxyType({
    "confirm": Pattern(150, 0, 1, ((1000, 0.7), (2000, 0.3))),
    "end": Pattern(300, 300, 3, ((660, 0.5), (1320, 0.3), (1980, 0.2))),
    "caution": Pattern(60, 40, 12, ((2000, 0.5), (2500, 0.5))),
})  # fmt: skip


@cache
def make_tone(kind: Kind, level: Level = "loud") -> bytes:
    """Make one of the three sounds as a whole WAV file (mono, 16 bit, 22 050 Hz).

    Args:
        kind: Which of the three.
        level: `soft` has a quarter of the amplitude of `loud`.
    """
    samples = array("h", _samples(PATTERNS[kind], _PEAK[level]))
    if sys.byteorder == "big":
        samples.byteswap()
    out = io.BytesIO()
    with wave.open(out, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(samples.tobytes())
    return out.getvalue()


def _samples(pattern: Pattern, peak: float) -> Iterator[int]:
    note = [round(x * peak * _FULL_SCALE) for x in _note(pattern)]
    for number in range(pattern.notes):
        if number:
            yield from [0] * _count(pattern.off_ms)
        yield from note
    yield from [0] * _count(_TAIL_MS)


def _note(pattern: Pattern) -> Iterator[float]:
    """One note between -1 and 1, its partials all beginning at zero."""
    count = _count(pattern.on_ms)
    turns = [(2 * math.pi * hz / RATE, share) for hz, share in pattern.partials]
    for n in range(count):
        swell = _swell(min(n, count - 1 - n))
        yield swell * sum(share * math.sin(turn * n) for turn, share in turns)


def _swell(samples_from_edge: int) -> float:
    """Half a cosine from 0 to 1: the spectrum of a note then stays about its partials."""
    part = min(1.0, samples_from_edge / _count(_RAMP_MS))
    return 0.5 - 0.5 * math.cos(math.pi * part)


def _count(ms: int) -> int:
    return RATE * ms // 1000
