"""The state of a plate after a rework: asked at the wash, not known until it is said."""

from __future__ import annotations

import pytest

from benchapp.session import actions as a
from benchapp.views.messages import describe_change
from benchapp.views.status import status_lines
from tests.session.support import INK, LIFT, PULL, RAGS, Bench, recipe

REWORK = "{do: Rework, hands: inky, time: 15/40/90 min, plate: key}"
BITE = "{do: Bite, hands: free, time: 6 min, plate: key, optional: true}"
SP = "proofing: {for: SP, state: II}\n"
PROOFS = recipe(each=(INK, PULL, LIFT, REWORK, BITE), after=[RAGS], extra=SP)
ASKED = "Which state is key in now?"


def test_the_proof_after_a_rework_has_no_state_by_rule():
    """Three in a row, none of them said: never the state from before."""
    b = Bench(PROOFS)
    for _ in range(3):
        b.until("Pull")
        b.tread()
        b.until("Ink")
    assert [(i.purpose, i.state, i.purpose_by) for i in b.sheets] == [
        ("SP", "II", "rule"), ("SP", None, "rule"), ("SP", None, "rule")]
    assert b.s.states == {"key": "II"}


def test_the_state_is_asked_at_the_wash_and_until_it_is_said():
    """Not of inky hands; said at the wash or at the press it is the next proof's."""
    b = Bench(PROOFS)
    b.until("Rework")
    assert b.view.state_question is None
    b.until("Wash and dry hands")
    assert b.view.state_question == ASKED
    assert b.view.now.say == f"Wash and dry hands. {ASKED}"
    b.until("Pull")
    assert (b.view.state_question, b.view.for_words) == (ASKED, "SP, state not known (by rule)")
    assert ASKED in status_lines(b.room, b.now)
    b.say(a.ReworkPlate(None, "III"))
    assert (b.view.state_question, b.view.for_words) == (None, "SP III (by rule)")
    b.until("Rework")
    b.until("Pull")
    b.say(a.SayFor("SP"))
    assert (b.sheets[-1].state, b.s.impressions[-1].said) == ("III", ("SP", None))


def test_lines_ask_with_the_words_to_write():
    """At the wash, and before the pull; the pull says that its state is not known."""
    b = Bench(PROOFS)
    b.until("Rework")
    b.until("Ink")
    lines = []
    for _ in range(3):
        before = b.room
        entries = b.do(a.GoOn()).entries
        lines += describe_change(before, b.room, entries)
    before = b.room
    entries = b.do(a.ReworkPlate(None, "III")).entries
    assert lines.count(f"{ASKED} Write, for example: state II") == 2
    assert "Pulled D2 for SP, state not known (by rule)" in lines
    assert describe_change(before, b.room, entries) == (
        "Plate key is in state III; D2 was pulled before that: say for SP and its state",)


@pytest.mark.parametrize("what", ["skipped", "said without a state", "bitten", "passed"])
def test_what_makes_a_state_unknown(what: str):
    """Work on the plate, seen or only told of; not a rework that was skipped."""
    b = Bench(PROOFS)
    b.until("Rework")
    if what == "skipped":
        b.say(a.SkipStep("nothing to do"))
    elif what == "passed":
        b.tread()
    else:
        b.say(a.SkipStep("later"))
        b.say(a.ReworkPlate(None, None, "burnished") if what != "bitten"
              else a.Choose(b.key("Bite", 1)))
        b.advance(7)
    b.until("Pull")
    assert (b.view.state_question is None) == (what == "skipped")


def test_no_state_is_asked_where_none_is_kept_or_no_pull_is_to_come():
    """Trial proofs have none; after the last proof the plate's state is nobody's question."""
    trial = Bench(recipe(each=(INK, PULL, LIFT, REWORK), extra="proofing: {for: TP}\n"))
    trial.until("Rework")
    trial.until("Pull")
    assert (trial.view.state_question, trial.view.for_words) == (None, "TP (by rule)")
    last = Bench(PROOFS, wanted=1)
    last.until("Rags")
    assert last.view.state_question is None


def test_of_two_plates_the_one_reworked_is_asked():
    """By its name; while the two are in different states, no rule says the state of the proof."""
    two = recipe(plates=("tone", "key"), extra=SP, each=(
        "{do: Ink, hands: inky}", "{do: Pull, hands: clean, pulls: [tone, key]}", LIFT,
        "{do: Scrape the key, hands: inky, plate: key}"))
    b = Bench(two)
    b.until("Scrape the key")
    b.until("Wash and dry hands")
    assert (b.view.state_question, b.view.for_words) == (ASKED, "SP, state not known (by rule)")
    b.say(a.ReworkPlate("key", "III"))
    assert b.view.for_words == "SP, state not known (by rule)"
    b.say(a.ReworkPlate("tone", "III"))
    assert b.view.for_words == "SP III (by rule)"


def proofs_of(b: Bench) -> list[tuple[str | None, str | None, str | None]]:
    """What each sheet is for, in which state, and by whom."""
    return [(i.purpose, i.state, i.purpose_by) for i in b.sheets]


def test_a_sheet_pulled_before_a_rework_never_gets_the_state_after_it():
    """Said late to be a state proof, it keeps the state of its pull, or has none."""
    b = Bench(PROOFS)
    for _ in range(2):
        b.until("Pull")
        b.tread()
        b.until("Ink")
    b.say(a.ReworkPlate(None, "III"))
    b.say(a.SayFor("SP", impression=2))
    for purpose in ("WP", "SP"):
        b.say(a.SayFor(purpose, impression=1))
    assert proofs_of(b) == [("SP", "II", "printer"), ("SP", None, "printer")]
    b.say(a.SayFor("SP", "III", impression=2))
    assert b.sheets[1].state == "III"


def test_a_pull_said_to_be_a_state_proof_before_a_rework_has_the_state_of_its_pull():
    """The state in force as it was said is not the one it is pulled in."""
    b = Bench(PROOFS)
    b.say(a.Helper(joins=True))
    before = b.room
    said = b.do(a.SayFor("SP")).entries
    assert describe_change(before, b.room, said) == ("The sheet in hand: for SP II",)
    b.say(a.ReworkPlate(None, None, "burnished"))
    b.until("Lift")
    assert proofs_of(b) == [("SP", None, "printer")]
    b.until("Pull")
    b.say(a.SayFor("SP"))
    b.say(a.ReworkPlate(None, "III"))
    b.tread()
    assert proofs_of(b)[1] == ("SP", "III", "printer")


@pytest.mark.parametrize(("said", "text", "state"), [
    ("III", PROOFS, None), (None, PROOFS, None), ("II", PROOFS, "II"),
    ("III", PROOFS.replace("state: II", "state: III"), "III"),
    ("III", PROOFS.replace("state: II", "state: IV"), "IV"),
])
def test_a_recipe_does_not_say_the_state_of_a_plate_reworked_on_an_earlier_day(said, text, state):
    """Its state is asked, until the recipe says another one; also over a day without a rework."""
    b = Bench(PROOFS, 1)
    b.until("Lift")
    b.say(a.ReworkPlate(None, said, "burnished"))
    b.say(a.SkipStep("done already", b.key("Rework", 1)))
    b.to_close()
    for _ in range(2):
        b.open(text, 1)
        b.until("Pull")
        assert (b.view.state_question == ASKED) == (state is None)
        b.until("Lift")
        assert proofs_of(b) == [("SP", state, "rule")]
        b.say(a.SkipStep("nothing to do", b.key("Rework", 1)))
        b.to_close()
    b.open(text, 1)
    b.say(a.ReworkPlate(None, "V"))
    b.until("Lift")
    assert proofs_of(b) == [("SP", "V", "rule")]
