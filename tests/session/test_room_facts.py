"""Two days closing in one room: heat, rags and damp sheets are asked once, by the last."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.drying.stacks import Boards
from benchapp.events.moments import local_time
from benchapp.reports.leaving import leaving_lines
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.left import unanswered_facts
from benchapp.session.names import step_of
from benchapp.session.room_facts import fact_of
from benchapp.session.state import TaskKey
from tests.screens.days import shipped
from tests.session.support import HOUR, LIFT, MIN, PULL, SOAK, Bench, recipe

INK = "{do: Ink, hands: inky, time: 5 min}"
HEAT = "{do: Hot plate off, hands: clean, must: [turned off, left on]}"
CLEAN = "{do: Plate clean, hands: inky}"
PRESS_OFF = "{do: 'Pressure off, blankets out and hung', hands: clean}"
SHEETS = "{do: Left-over damp sheets, hands: clean, must: [wrapped, dried, none]}"
RAGS = "{do: Rags, hands: clean, must: [in the can, hung open]}"
BLOTTERS = "{do: Blotters, hands: clean}"
END = (HEAT, CLEAN, PRESS_OFF, SHEETS, RAGS, BLOTTERS)


def day(title: str, after: tuple[str, ...] = END, paper: str = "cotton", **about: object) -> str:
    """A day of that print with a whole end, on damped paper."""
    text = recipe(after=after, damp=SOAK, **about)  # type: ignore[arg-type]
    return text.replace("Slack Water", title).replace("name: cotton", f"name: {paper}")


def two(first: str, second: str) -> tuple[Bench, str, str]:
    """Two open sessions that want one sheet each, and a helper in; the second is at work.

    A pack of eight of each paper was put in beforehand and is ready.
    """
    b = Bench(first, 1)
    b.say(a.Helper(joins=True))
    one = b.s.id
    b.say(a.DampPack(8))
    b.open(second, 1)
    if not any(p.paper == b.s.shape.paper_name for p in b.packs):
        b.say(a.DampPack(8))
    b.advance(31)
    for _ in b.packs:
        b.say(a.SheetsOut())
    b.advance(16)
    return b, one, b.s.id


def tomorrow(b: Bench) -> date:
    """The day after the clock's."""
    return local_time(b.now).date() + timedelta(days=1)


def close(b: Bench, facts: dict[str, str], *, again: dict[str, str] | None = None,
          limit: int = 120) -> list[str]:
    """Work on until the session is closed; what was to be done at the end, as the Bench says it."""
    told: list[str] = []
    for _ in range(limit):
        if b.s.closed is not None:
            return told
        b.clock.advance(MIN)
        step = None if b.s.hand is None else b.view.now
        if step is not None and step.key is not None and "after" in step.key.step:
            told.append(step.do)
        if step is not None and step.must:
            said = again if again and told.count(step.do) > 1 else facts
            b.say(a.Must(next(said[x] for x in said if step.do.startswith(x))))
        else:
            b.go()
    raise AssertionError("the session never closed")


FACTS = {"Hot plate": "turned off", "Left-over": "dried", "Rags": "hung open"}


def test_each_fact_of_the_room_is_asked_once_by_the_last_and_kept_by_both():
    """In its own place, with both prints; what only the first has comes before the press is off."""
    b, one, other = two(day("Two Gates"), day("Heron Wall"))
    assert close(b, {}) == ["Plate clean", "Pressure off, blankets out and hung", "Blotters"]
    b.say(a.SwitchSession(one))
    assert close(b, FACTS) == [
        "Hot plate off (Two Gates and Heron Wall)", "Plate clean",
        "Pressure off, blankets out and hung",
        "Left-over damp sheets (Two Gates and Heron Wall: pack 1 of 2026-05-03, 2 sheets)",
        "Rags (Two Gates and Heron Wall)", "Blotters"]
    for s, step in ((one, "after."), (other, "after.")):
        facts = b.room.sessions[s].musts
        assert [facts[s, f"{step}{n}"] for n in (1, 4, 5)] == [
            ("turned off",), ("dried",), ("hung open",)]
    assert all(not p.there for p in b.packs)
    assert unanswered_facts(b.room.sessions.values(), tomorrow(b)) == ()


def test_what_only_the_first_asks_comes_in_its_place_in_the_other():
    """The heat before anything else; the rest before the press is let off, with its print."""
    b, one, other = two(day("Two Gates", (CLEAN, PRESS_OFF, BLOTTERS)), day("Heron Wall"))
    b.until("Hot plate off")
    assert b.view.now.do == "Hot plate off (Heron Wall)"
    b.say(a.LeaveStep(one))
    b.until("Left-over damp sheets")
    b.say(a.LeaveStep(one))
    b.say(a.LeaveStep(one))
    assert b.hand == "Blotters"
    b.tread()
    b.say(a.SwitchSession(one))
    assert close(b, FACTS) == [
        "Hot plate off (Heron Wall)", "Plate clean",
        "Left-over damp sheets (Heron Wall: pack 1 of 2026-05-03, 2 sheets)", "Rags (Heron Wall)",
        "Pressure off, blankets out and hung", "Blotters"]
    assert b.room.sessions[other].musts[other, "after.5"] == ("hung open",)


def test_sheets_of_two_papers_are_two_questions_each_with_its_pack():
    """One answer would be false for one of them; only the paper that is meant is put away."""
    b, one, _ = two(day("Two Gates"), day("Heron Wall", paper="kozo"))
    told = close(b, {"Left-over": "dried"})
    assert told == ["Plate clean", "Pressure off, blankets out and hung",
                    "Left-over damp sheets (Heron Wall: pack 1 of 2026-05-03b, 5 sheets)",
                    "Blotters"]
    assert [(p.paper, p.there) for p in b.packs] == [("cotton", True), ("kozo", False)]
    b.say(a.SwitchSession(one))
    assert close(b, FACTS)[3:5] == [
        "Left-over damp sheets (Two Gates: pack 1 of 2026-05-03, 5 sheets)",
        "Rags (Two Gates and Heron Wall)"]


def test_what_is_left_on_is_asked_once_more_for_both():
    """By one question again; the last word is kept by both."""
    b, one, other = two(day("Two Gates", (HEAT, BLOTTERS)), day("Heron Wall", (HEAT, BLOTTERS)))
    close(b, {})
    b.say(a.SwitchSession(one))
    b.until("Hot plate off")
    b.say(a.Must("left on"))
    assert b.hand == "Blotters"
    b.tread()
    assert b.view.now.do == "Hot plate off (Two Gates and Heron Wall)"
    b.say(a.Must("turned off"))
    assert b.s.closed is not None
    assert b.s.musts[one, "after.1"] == b.s.musts[other, "after.1"] == ("left on", "turned off")


def test_a_session_left_open_on_another_day_is_left_nothing():
    """Nobody knows whether it is gone on with today: the hot plate is asked about here."""
    b = Bench(day("Two Gates"), 1)
    b.say(a.Helper(joins=True))
    b.clock.advance(24 * HOUR)
    b.open(day("Heron Wall", paper="kozo"), 1)
    b.until("Hot plate off")
    assert b.view.now.do == "Hot plate off (Heron Wall)"


@pytest.mark.parametrize(("warm", "asked"), [
    ("hands: free, at: hot plate, time: 2 min, ends: itself", True),
    ("hands: clean, at: hot plate, optional: true", False),
])
def test_what_was_answered_holds_until_it_is_used_again(warm, asked):
    """A day opened since is asked about the hot plate only if it warmed its own plate on it."""
    b = Bench(day("Two Gates", (HEAT, BLOTTERS)), 1)
    b.say(a.Helper(joins=True))
    b.until("Hot plate off")
    b.say(a.Must("turned off"))
    b.open(day("Heron Wall", (HEAT, BLOTTERS),
               each=(f"{{do: Warm, {warm}}}", INK, PULL, LIFT)), 1)
    told = close(b, {"Hot plate": "left on"}, again={"Hot plate": "turned off"})
    assert ("Hot plate off (Heron Wall)" in told) is asked
    assert b.s.musts[b.s.id, "after.1"] == (
        ("left on", "turned off") if asked else ("turned off",))


def test_left_facts_are_taken_back_with_what_left_them():
    """The step before is in hand again, and the other session is asked nothing more by it."""
    end = (CLEAN, RAGS, BLOTTERS)
    b, one, _ = two(day("Two Gates", end), day("Heron Wall", end))
    b.until("Plate clean")
    b.tread()
    assert (b.hand, len(b.room.sessions[one].inherited)) == ("Blotters", 1)
    b.back()
    assert (b.hand, b.room.sessions[one].inherited) == ("Plate clean", ())


def test_the_morning_asks_once_what_was_left_to_an_open_session():
    """And writes the answer down for both."""
    b, one, other = two(day("Two Gates", (RAGS,)), day("Heron Wall", (RAGS,)))
    close(b, {})
    assert leaving_lines(b.room, Boards(), b.now)[-1] == (
        "2026-05-03 still asks, for the whole day: Rags")
    b.clock.advance(24 * HOUR)
    shop = SessionService(b.book, b.clock)
    shop.look_at(other)
    found = unanswered_facts(shop.room.sessions.values(), tomorrow(b))
    assert [(x.session, x.step) for x in found] == [(one, "after.1")]
    assert shop.do(a.Must("in the can", "after.1"), session=one).ok
    assert {s: shop.room.sessions[s].musts[s, "after.1"] for s in (one, other)} == {
        one: ("in the can",), other: ("in the can",)}
    assert shop.room.sessions[one].musts[other, "after.1"] == ("in the can",)
    assert TaskKey(f"{other} after.1") in shop.room.sessions[one].work


def test_two_questions_of_one_recipe_stay_two():
    """What one print asks twice it asks twice; nothing of a day by itself is passed over."""
    b = Bench(day("Heron Wall", (RAGS, RAGS)), 1)
    b.say(a.Helper(joins=True))
    b.until("Rags")
    close(b, {"Rags": "hung open"})
    assert {k: v for k, v in b.s.musts.items() if k[0] == b.s.id} == {
        (b.s.id, "after.1"): ("hung open",), (b.s.id, "after.2"): ("hung open",)}


def test_a_step_out_of_reach_ends_no_step_behind_a_question_that_was_left():
    """Its tread shows what comes next, as it shows the question on a day by itself."""
    far = PRESS_OFF.replace("}", ", out of reach: true}")
    b, _, _ = two(day("Two Gates", (RAGS,)), day("Heron Wall", (far, RAGS, BLOTTERS)))
    b.until("Pressure off, blankets out and hung")
    assert "step left" in b.tread()
    assert (b.hand, b.ended("Blotters")) == ("Blotters", [])


SHIPPED = ("ferry-lamp", "weigh-house", "pane-moth", "three-steps", "thistle-heads", "signal-box")


@settings(max_examples=12, deadline=None)
@given(st.sampled_from(SHIPPED), st.sampled_from(SHIPPED), st.randoms(use_true_random=False))
def test_of_any_two_days_each_fact_is_asked_once_and_is_in_both(first, second, dice):
    """However often the printer goes from one to the other; sheets are asked about by paper."""
    b = Bench(shipped(first), 1)
    b.say(a.Helper(joins=True))
    days = [b.s.id]
    b.open(shipped(second), 1)
    days.append(b.s.id)
    asked: list[str | None] = []
    for _ in range(400):
        going = [x for x in days if b.room.sessions[x].closed is None]
        if not going:
            break
        if b.s.closed is not None or (len(going) == 2 and dice.random() < 0.1):
            b.say(a.SwitchSession(next(x for x in going if x != b.s.id)))
        b.advance(dice.choice([1, 4, 12]))
        hand = b.s.hand
        step = None if hand is None else step_of(b.s, hand)
        if step is not None and step.must:
            asked.append(fact_of(b.s, step))
            b.say(a.Must("turned off" if asked[-1] == "heat" else step.must[0]))
        elif b.do(a.GoOn()).refusal is not None and b.view.now.must:
            b.say(a.Must(b.view.now.must[0]))  # which sheet, where none is damp
    one, other = (b.room.sessions[x] for x in days)
    assert (one.closed is None, other.closed is None) == (False, False)
    assert sorted(x for x in asked if x is not None) == sorted(
        {x for s in (one, other) for step in s.recipe.after if (x := fact_of(s, step))})
    assert all(s.musts[s.id, step.id][-1] for s in (one, other) for step in s.recipe.after
               if step.must)


def test_heat_is_asked_again_where_plates_were_inked_since_though_no_step_names_the_hot_plate():
    """A day left open overnight is printed after the other day said that it is turned off."""
    text = recipe(before=("{do: Screws, hands: clean}",), each=(INK, PULL, LIFT), after=[HEAT])
    b = Bench(text, 1)
    one = b.s.id
    b.advance(24 * 60)
    b.open(text, 1)
    assert close(b, {"Hot plate off": "turned off"})
    assert b.shop.resume_session(next(r for r in b.book.all_sessions() if r.id == one)).ok
    b.clock.advance(MIN)
    b.until("Hot plate off")
    assert b.s.musts == {}
