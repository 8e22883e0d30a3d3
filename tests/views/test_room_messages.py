"""What two sessions share is told in one line each."""

from __future__ import annotations

from typing import Any

import pytest

from benchapp.events import session as e
from benchapp.events.event import BookEvent
from benchapp.events.impression import SettingFound
from benchapp.views.room_messages import ROOM_TELLERS
from tests.session.support import DAY, ONE, Bench


@pytest.fixture(scope="module")
def bench() -> Bench:
    """Two sessions open; the second is on the Bench."""
    b = Bench(DAY)
    b.open(ONE.replace("Slack Water", "Weigh House"))
    return b


def told(b: Bench, event: BookEvent) -> str:
    """The line of an event of the session on the Bench."""
    tell: Any = dict(ROOM_TELLERS)[type(event)]
    return str(tell(b.room, b.s, event))


def found_at(value: str | None, by: str) -> SettingFound:
    """What the screws were found at."""
    return SettingFound(impression=1, name="screws", value=value, by=by)


def test_a_setting_found_says_for_whom_it_was_set(bench: Bench) -> None:
    """Not where nobody knows the value, nor where that session is not in the room."""
    by = next(iter(bench.room.sessions))
    found = "screws: 3 turns, as set for Slack Water"
    assert told(bench, found_at("3 turns", by)) == found
    assert told(bench, found_at(None, by)) == "screws: not known"
    assert told(bench, found_at("3 turns", "gone")) == "screws: 3 turns"


def test_who_helps_is_named_where_a_name_was_said(bench: Bench) -> None:
    """Else it is a helper."""
    assert told(bench, e.HelperJoined(name="Maud")) == "Maud is in, with clean hands"
    assert told(bench, e.HelperJoined(name=None)) == "A helper is in, with clean hands"
    assert told(bench, e.HelperPresent(name="Maud")) == "Maud is in here too"
    assert told(bench, e.HelperPresent(name=None)) == "The helper is in here too"
    assert told(bench, e.HelperLeft()) == "The helper has left"


def test_an_answered_fact_names_its_step() -> None:
    """Of its own session or of the one that left it; no line for a step nobody has."""
    b = Bench(DAY)
    rags, own = b.id_of("Rags"), b.s.id
    assert told(b, e.MustAnswered(step=rags, owner=own, fact="hung open")) == "Rags: hung open"
    assert told(b, e.MustAnswered(step=rags, owner=own, fact=None)) == "Rags: not said"
    assert told(b, e.MustAnswered(step="after.9", owner=own, fact="hung open")) == ""
    assert told(b, e.MustAnswered(step=rags, owner="elsewhere", fact="hung open")) == ""


def test_a_step_taken_over_names_the_print_that_has_it(bench: Bench) -> None:
    """Left to the session on the Bench."""
    event = e.StepTakenOver(step="after.1", owner="x", do="Rags", hands="clean",
                            must=("hung open",), from_session="x")
    assert told(bench, event) == "Rags: left to Weigh House"
