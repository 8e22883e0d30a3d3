"""The frame every decider works in: what is emitted is drafted, and folded while it is decided."""

from __future__ import annotations

from dataclasses import dataclass

from benchapp.clock import FakeClock
from benchapp.decision import DecisionContext, Refusal, written_ids
from benchapp.events.entry import Entry, Moment
from benchapp.events.event import BookEvent
from benchapp.events.session import EnoughSaid, WantedSet

NOW: Moment = FakeClock().now()
DAY = "session/2026-05-03"


@dataclass(slots=True)
class Wanted(DecisionContext[tuple[Entry, ...]]):
    """A context whose state is what was folded so far."""

    def fold(self, entry: Entry) -> tuple[Entry, ...]:
        """One more."""
        return (*self.state, entry)

    def emit(self, event: BookEvent) -> None:
        """To the day."""
        self.emit_to(DAY, event)


def test_what_is_emitted_is_folded_at_once_and_drafted_as_it_is_stored() -> None:
    """The entry that is folded is the one that will be written, but for its id and place."""
    context = Wanted((), NOW, "wanted")
    context.emit(WantedSet(wanted=12))
    context.emit_to("session/2026-05-04", WantedSet(wanted=None))
    assert [(d.stream, d.kind, d.body) for d in context.drafts] == [
        (DAY, "wanted set", {"wanted": 12}),
        ("session/2026-05-04", "wanted set", {"wanted": None})]
    assert [(e.stream, e.kind, e.body, e.event, e.at, e.word) for e in context.state] == [
        (d.stream, d.kind, d.body, d.event, NOW, "wanted") for d in context.drafts]


def test_what_nothing_comes_after_is_drafted_and_not_folded() -> None:
    """A take-back folds the journal anew: that is done once, when it is in the book."""
    context = Wanted((), NOW, "enough")
    context.emit_final(DAY, EnoughSaid())
    assert (context.state, len(context.drafts)) == ((), 1)


def test_drafts_have_ids_of_their_own_that_no_entry_names() -> None:
    """One draft may come after another of its action; what is written names those in the book."""
    context = Wanted((), NOW, "enough")
    for _ in range(2):
        context.emit(EnoughSaid())
    first, second = (e.id for e in context.state)
    assert first != second
    assert written_ids([first, "home:1", second]) == ("home:1",)


def test_a_decision_is_the_drafts_or_the_refusal() -> None:
    """What was drafted before a refusal comes to nothing."""
    context = Wanted((), NOW, "enough")
    context.emit(EnoughSaid())
    no = Refusal("The session is closed", "open another")
    assert context.decision(None) == tuple(context.drafts)
    assert context.decision(no) is no
    assert str(no) == "The session is closed; open another"
    assert str(Refusal("Hands are inky")) == "Hands are inky"
