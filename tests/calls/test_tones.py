"""The three sounds, measured: where their power lies, their rhythm, their edges."""

from __future__ import annotations

import itertools
import math

import pytest

from benchapp.calls.tones import KINDS, PATTERNS, make_tone
from tests.calls.support import near, samples, spectrum

LEVELS = ("soft", "loud")
#: What carries in a workshop and is heard by old and young.
LOWEST_HZ, HIGHEST_HZ = 500, 2500
ALL = list(itertools.product(KINDS, LEVELS))


def rhythm(kind: str) -> list[tuple[bool, int]]:
    """Sound and silence in turn, with their lengths in ms, read from the samples alone."""
    wave, rate = samples(make_tone(kind))
    step = rate // 200  # 5 ms: longer than half a wave of the lowest partial
    loud = [max(map(abs, wave[i:i + step])) > 1000 for i in range(0, len(wave), step)]
    return [(on, 5 * len(list(run))) for on, run in itertools.groupby(loud)]


@pytest.mark.parametrize(("kind", "level"), ALL)
def test_the_peaks_of_the_spectrum_lie_between_500_and_2500_hz(kind, level):
    """Every frequency with a hundredth of the strongest one's power lies in the band asked for."""
    wave, rate = samples(make_tone(kind, level))
    note = wave[:rate * PATTERNS[kind].on_ms // 1000]
    wide = 3 * rate / min(len(note), 4096)  # the main lobe of the window, and a little
    found = spectrum(note, rate)
    strong = [hz for hz, p in found.items() if p > max(found.values()) / 100]
    assert min(strong) >= LOWEST_HZ - wide
    assert max(strong) <= HIGHEST_HZ + wide
    step = rate / 4096
    powers = list(found.values())
    peaks = [i * step + step for i in range(1, len(powers) - 1)
             if powers[i] > max(found.values()) / 100 and powers[i - 1] < powers[i] > powers[i + 1]]
    assert [p for p in peaks if not LOWEST_HZ - step <= p <= HIGHEST_HZ + step] == []
    assert len(peaks) == len(PATTERNS[kind].partials)


@pytest.mark.parametrize("kind", KINDS)
def test_nearly_all_power_of_the_whole_sound_lies_in_the_band(kind):
    """Also with its rhythm, at most a thousandth of the power is outside 450 to 2600 Hz."""
    wave, rate = samples(make_tone(kind))
    found = spectrum(wave, rate, 16_384)
    total = sum(found.values())
    inside = sum(p for hz, p in found.items() if 450 <= hz <= 2600)
    assert inside / total > 0.999


@pytest.mark.parametrize(("kind", "level"), ALL)
def test_no_sample_is_clipped(kind, level):
    """The highest sample stays below full scale and is never held."""
    wave, _ = samples(make_tone(kind, level))
    high = max(map(abs, wave))
    assert high < 0.9 * 32767
    assert not any(abs(a) == high and a == b == c
                   for a, b, c in zip(wave, wave[1:], wave[2:], strict=False))


@pytest.mark.parametrize(("kind", "level"), ALL)
def test_nothing_clicks(kind, level):
    """It begins and ends in silence, and no step is steeper than its highest partial's own."""
    wave, rate = samples(make_tone(kind, level))
    assert wave[0] == wave[-1] == 0
    highest = max(hz for hz, _ in PATTERNS[kind].partials)
    steepest = 2 * math.pi * highest / rate * max(map(abs, wave)) * 1.05
    assert max(abs(b - a) for a, b in itertools.pairwise(wave)) <= steepest


def test_the_three_rhythms_are_told_apart_without_pitch():
    """One short note; three long with long silences; many short beats, at least eight a second."""
    confirm = [ms for on, ms in rhythm("confirm") if on]
    end = rhythm("end")
    caution = rhythm("caution")
    assert len(confirm) == 1
    assert confirm[0] < 200
    assert [on for on, _ in end] == [True, False, True, False, True, False]
    assert all(250 <= ms <= 350 for _, ms in end[:5])
    beats = [ms for on, ms in caution if on]
    assert len(beats) >= 10
    assert max(beats) < 80
    assert len(beats) / (sum(ms for _, ms in caution) / 1000) > 8


def test_the_pair_beats():
    """The two tones of a caution are 500 Hz apart and equally strong, as found best heard."""
    wave, rate = samples(make_tone("caution"))
    found = spectrum(wave[:rate * 60 // 1000], rate)
    two, two_and_half = near(found, 2000), near(found, 2500)
    assert 0.8 < two / two_and_half < 1.25
    assert near(found, 2250) < two / 100


def test_soft_is_a_quarter_of_loud():
    """The same sound, 12 dB down (20 log10 4 = 12.04)."""
    for kind in KINDS:
        loud, soft = (max(map(abs, samples(make_tone(kind, level))[0]))
                      for level in ("loud", "soft"))
        assert 20 * math.log10(loud / soft) == pytest.approx(12.04, abs=0.05)
