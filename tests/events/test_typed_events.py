"""Events: what they are stored as, what their fields may hold, and JSON both ways."""

from __future__ import annotations

from dataclasses import FrozenInstanceError, is_dataclass, replace
from pathlib import Path

import pytest

from benchapp.edition.state import KINDS_OF_PROOF
from benchapp.events import words
from benchapp.events.entry import Entry, Moment
from benchapp.events.event import BookEvent, UnknownEvent, event, rules_of
from benchapp.events.field_types import ABSENT, given
from benchapp.events.impression import ImpressionPulled, SheetTaken
from benchapp.events.kinds import KINDS, Kind
from benchapp.events.session import SessionPaused

#: Every kind with its fields (`?`: an entry may lack it) and what each may hold, as first stored.
SHAPES = Path(__file__).with_name("stored_shapes.txt")
PULLED = {"impression": 3, "step": "Pull", "plates": ["key", "tone"], "number": 2, "mark": "A2",
          "for": "edition", "for_by": "rule", "state": None, "at_press": True}


def shape(kind: Kind) -> str:
    """A kind as `stored_shapes.txt` has it."""
    fields = (f"    {name}{'?' if name in kind.optional else ''}: {rule.must}"
              for name, rule in kind.rules.items())
    return "\n".join((f"{kind.stream} · {kind.name}", *fields))


def entry(stream: str, kind: str, body: dict[str, object]) -> Entry:
    """An entry of that kind."""
    return Entry("a:1", stream, 1, "a:1", "", kind, Moment(0, 0, 0, "b", 0), body)


def every_class(of: type[BookEvent]) -> set[type[BookEvent]]:
    """All classes made from that one."""
    made = set(of.__subclasses__())
    return made.union(*map(every_class, made))


def test_stored_names_fields_and_rules_stay():
    """Books hold them: a class may be renamed, what is stored may not. New ones add a line."""
    assert "\n".join(map(shape, KINDS.values())).splitlines() == [
        *SHAPES.read_text(encoding="utf-8").splitlines()]


def test_every_class_is_stored_under_a_name_of_its_own_and_says_what_it_is():
    """Two classes under one name would read each other's entries."""
    classes = {c for c in every_class(BookEvent) if "stored_kind" in vars(c)}
    assert {k.event for k in KINDS.values()} == {
        c for c in classes if c.__module__.startswith("benchapp.")}
    assert all(is_dataclass(k.event) and k.help.endswith(".") for k in KINDS.values())


def test_an_event_goes_to_json_and_back():
    """With its stored names in their order, lists as lists, and null as null."""
    pulled = ImpressionPulled.from_body(PULLED)
    assert (pulled.purpose, pulled.plates, pulled.state) == ("edition", ("key", "tone"), None)
    assert pulled.to_body() == PULLED
    assert list(pulled.to_body()) == list(PULLED)
    assert ImpressionPulled.from_body(pulled.to_body()) == pulled != replace(pulled, mark="A3")


def test_an_absent_field_is_no_null():
    """Books of before have no such field, and what is written again has none either."""
    old, new = {"impression": 1, "pack": None}, {"impression": 1, "pack": None, "damp": False}
    assert SheetTaken.from_body(old).damp is ABSENT
    assert [SheetTaken.from_body(x).to_body() for x in (old, new)] == [old, new]
    assert given(SheetTaken.from_body(old).damp, True) is True
    assert given(SheetTaken.from_body(new).damp, True) is False


def test_an_event_without_a_field_or_with_a_strange_one_is_not_made():
    """It is found where it is written, not years later."""
    with pytest.raises(TypeError, match="pack"):
        SheetTaken(impression=1)
    with pytest.raises(TypeError, match="colour"):
        SheetTaken(impression=1, pack=None, colour="red")


def test_an_entry_of_before_a_field_is_read_and_stays_as_it_is():
    """Nobody wrote a pack then: who asks for one is refused, nothing is made up."""
    before = SheetTaken.from_body({"impression": 1})
    assert (before.impression, before.to_body()) == (1, {"impression": 1})
    assert "pack" in repr(before)
    with pytest.raises(AttributeError, match="pack"):
        _ = before.pack


def test_an_event_does_not_change():
    """Entries are read once, and what was read is handed to everyone."""
    taken = SheetTaken(impression=1, pack=None)
    with pytest.raises(FrozenInstanceError):
        taken.pack = "7"
    assert hash(taken) == hash(SheetTaken(impression=1, pack=None))


def test_an_entry_is_read_once_and_by_its_stream_and_kind():
    """The event is kept with the entry, and is no part of what the entry is."""
    told = entry("session/2026-05-03", "pulled", PULLED)
    assert told.event is told.event
    assert told == entry("session/2026-05-03", "pulled", PULLED)
    assert ImpressionPulled.from_entry(told).mark == "A2"
    with pytest.raises(TypeError, match="pulled is not a SessionPaused"):
        SessionPaused.from_entry(told)
    assert replace(told, body={**PULLED, "mark": "B1"}).event.mark == "B1"
    assert isinstance(entry("stack/1", "pulled", PULLED).event, UnknownEvent)


def test_a_field_without_a_rule_is_refused():
    """A type that says nothing would let anything in."""
    @event("session", "strange")
    class Strange(BookEvent):
        value: object

    with pytest.raises(TypeError, match="no rule"):
        rules_of(Strange)


def test_every_proof_has_its_gloss():
    """The words that are stored and the words that are explained are the same."""
    assert tuple(KINDS_OF_PROOF) == words.PROOFS


def test_no_field_hides_what_every_event_has():
    """A field named like a method would take its place."""
    shared = {name for name in vars(BookEvent) if not name.startswith("__")}
    assert not shared & {f.name for k in KINDS.values() for f in k.event.stored_fields}
