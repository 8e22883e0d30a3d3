"""The preferences screen: every line can be changed by keys, in the file, value by value."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import time
from fractions import Fraction
from pathlib import Path

import pytest
from textual import events

from benchapp import files, settings
from benchapp.quantities import Duration, Length
from benchapp.screens.preference_lines import PREFERENCES, reading_distance, stands_text
from benchapp.settings import Preferences
from tests.screens.days import run, screens, workshop

OTHER = Preferences(
    Duration(900, "ms"), ("f13", "a"), Length(Fraction(4)), "light", "Tollerbank", ("b",), ("c",),
    Duration(2_000, "s"), "by itself", Duration(3_000, "s"), "soft", "off", "aplay",
    time(17, 30), time(7), (time(22), time(6, 30)), Duration(7_200_000, "h"),
    printing_day=Duration(28_800_000, "h"), mouse="off", papers_folder="~/prints",
    bench="full")


def test_every_preference_has_its_line(home: Path) -> None:
    """What a line says is what is kept from it: all changed one after the other."""
    assert len(PREFERENCES) == len(fields(Preferences))
    for one in PREFERENCES:
        said = one.stands(OTHER)
        assert said != one.stands(Preferences()), one.name
        assert one.wrong(said) is None, one.name
        assert not one.words or said in one.words
        settings.save_preferences({one.name: one.value(said)})
    assert settings.load_preferences() == OTHER


@pytest.mark.parametrize(("name", "typed", "why"), [
    ("gate", "1", "has no unit"), ("treads", "Space Bar", "is not the name of a key"),
    ("treads", "", "is empty"), ("walk", "fast", "walk"), ("row height", "0 mm", "not the height"),
    ("studio", "a\x1bb", "ESC"), ("boards later", "9", "morning or"),
    ("boards silent", "21:00", "not a span of the day"), ("boards grace", "2 days", "too long"),
])  # fmt: skip
def test_what_is_wrong_is_said_where_it_is_typed(name: str, typed: str, why: str) -> None:
    """By the file's own reader, before anything is written."""
    one = next(x for x in PREFERENCES if x.name == name)
    assert why in (one.wrong(typed) or "")


def test_what_stands_is_said_in_words() -> None:
    """Keys as they are printed; a slip that the gate rules out; how far it carries."""
    by_name = {x.name: x for x in PREFERENCES}
    assert stands_text(by_name["take back keys"], Preferences()) == "none"
    assert stands_text(by_name["treads"], Preferences()).endswith("F5, F13 … F24")
    off = replace(Preferences(), gate=Duration(0, "ms"))
    assert stands_text(by_name["slip"], off) == "4 s, off while the gate is 0 ms"
    assert "7 rows 7.5 m" in reading_distance(Preferences())


def later(key: str) -> events.Key:
    """A key pressed a second from now, by the keys' own clock."""
    event = events.Key(key, key if len(key) == 1 else None)
    event.time += 1
    return event


def test_a_choice_and_a_text_are_changed_on_the_screen(home: Path) -> None:
    """The theme changes at once; a wrong gate is refused where it is typed."""
    shop, _ = workshop()

    async def change() -> None:
        async with screens(shop, gate_ms=750) as here:
            await here.press("s")
            await here.shows("Preferences", "750 ms", "far view", "learn the switch")
            await here.press(*["down"] * 3, "enter")
            await here.shows("Silence before the next press counts")
            await here.press(*["backspace"] * 6)
            await here.typed("1")
            await here.shows("has no unit")
            await here.press("space")
            await here.typed("s")
            await here.shows("gate             1 s")
            assert here.app.switch.gate.quiet_ms == 1_000
            await here.press("end", "up", "enter")
            await here.shows("Light signs on dark, or dark on light")
            await here.press("2")
            await here.shows("theme            light")
            assert here.app.theme == "daylight"
            # Straight after a menu no key does anything.
            here.app.post_message(later("s"))
            await here.shows("learn pedal")
            here.app.post_message(later("escape"))
            await here.shows("learn the switch")
            here.app.post_message(later("escape"))
            await here.shows("Studio")

    run(change())
    kept = files.preferences_file().read_text()
    assert kept == settings.STARTER.replace("gate: 750 ms", "gate: 1 s").replace(
        "theme: dark", "theme: light")
