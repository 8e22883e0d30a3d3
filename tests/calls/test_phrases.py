"""What is said, and what never is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.calls.phrases import (
    LONGEST,
    add_lateness,
    add_lead_time,
    join_phrases,
    make_speakable,
    strip_voice_commands,
    time_words,
    why_not_spoken,
)


@pytest.mark.parametrize(("ms", "words"), [
    (0, "0 minutes"), (60_000, "1 minute"), (119_999, "1 minute"), (240_000, "4 minutes"),
    (3_600_000, "1 hour"), (3_660_000, "1 hour 1 minute"), (7_500_000, "2 hours 5 minutes"),
])  # fmt: skip
def test_times_are_spoken_in_whole_words(ms, words):
    """No figure that a voice could read as a clock time."""
    assert time_words(ms) == words


def test_lateness_is_said_from_one_minute_on():
    """A few seconds are not worth a word; a bridged time is `about`."""
    assert add_lateness("Etch is over", 59_999) == "Etch is over"
    assert add_lateness("Etch is over", 61_000) == "Etch is over, 1 minute late"
    assert add_lateness("Etch is over", 240_000, about=True) == "Etch is over, about 4 minutes late"


def test_what_is_to_come_is_said_with_its_time():
    """Minutes if there are any, else soon."""
    assert add_lead_time("sheets out of the water",
                         300_000) == "In 5 minutes: sheets out of the water"
    assert add_lead_time("sheets out of the water", 20_000) == "Soon: sheets out of the water"


def test_a_long_list_is_cut_and_counted():
    """Five are said, the rest counted; empty ones are no part of it."""
    assert join_phrases(["a", "", "b"]) == "a. b"
    assert join_phrases(list("abcdefg")) == "a. b. c. d. e. and 2 more"


@pytest.mark.parametrize(("text", "why"), [
    ("\x1b]52;c;x\x07", "ESC"), ("two\nlines", "line break"), ("\u202egnol", "direction"),
    ("", "it is empty"), ("  ", "it is empty"), ("x" * (LONGEST + 1), "make it shorter"),
])  # fmt: skip
def test_some_texts_are_refused_with_the_reason(text, why):
    """Control characters, emptiness and lectures go to no voice."""
    assert why in str(why_not_spoken(text))


def test_no_voice_finds_a_command_in_a_text():
    """Square brackets open phonemes or commands in common voices, so they are not handed over."""
    assert "[" not in strip_voice_commands("[[slnc 99999]] Lift")
    assert "]" not in strip_voice_commands("[[slnc 99999]] Lift")


@given(st.text(max_size=400))
def test_what_is_made_fit_is_not_refused(text):
    """Whatever a book of others holds, what is left of it can be said, or nothing is."""
    made = make_speakable(text)
    assert made == "" or why_not_spoken(made) is None
