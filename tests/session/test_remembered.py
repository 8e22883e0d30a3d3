"""What one step of a day leaves for the steps after it, and what is answered when that is missing.

Small things that nobody looks at when they are right: a ghost is one sheet only, a wait put off
does not take the step in hand, a pack of no sheets is refused with what to write.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from benchapp.events.entry import Entry
from benchapp.recipe.reader import read_recipe
from benchapp.session import actions as a
from benchapp.session.calls import next_wash_t
from benchapp.session.damping import damp_pack, pack_away
from benchapp.session.fold import apply_entry
from benchapp.session.merge_order import order_entries
from benchapp.session.pack_size import pack_sizes_words, size_packs
from benchapp.session.press_settings import layers_at
from benchapp.session.state import TaskKey
from benchapp.session.tags import used_tags
from benchapp.session.values import setting_text
from tests.session.support import (
    DAMP,
    DAY,
    INK,
    LIFT,
    MIN,
    ONE,
    PULL,
    SETTLE,
    Bench,
    recipe,
)

SP = "proofing: {for: SP, state: II}\n"
PRESS = "press: {pitch: 2 mm, left: 3 turns, right: 3.5 turns, more is: tighter}\n"


# -- sheets ---------------------------------------------------------------------------------


def test_a_ghost_is_one_sheet_and_the_next_is_inked() -> None:
    """Said with nothing in hand, for the sheet that is begun next and for no other."""
    b = Bench(ONE, wanted=1)
    for _ in range(3):
        b.until("Lift")
        if len(b.sheets) == 3:
            b.say(a.OneMore())
            b.say(a.OneMore())
            b.say(a.Ghost())
        b.tread()
    b.until("Lift")
    b.tread()
    assert b.hand == "Ink"
    assert [i.ghost for i in b.s.impressions] == [False, False, False, True, False]


def test_a_ghost_said_of_the_sheet_in_hand_is_marked_as_one() -> None:
    """Its inking was passed by, so it stays a ghost whatever else is said of it."""
    b = Bench(ONE, wanted=3)
    b.until("Lift")
    b.tread()
    b.say(a.Ghost())
    assert [i.ghost for i in b.s.impressions] == [False, True]


def test_a_pull_out_of_reach_gives_its_sheet_a_number_and_a_mark() -> None:
    """The foot cannot get at the pedal there: the tread comes after it, and the pull counts."""
    b = Bench(recipe(each=(INK, "{do: Pull, hands: clean, out of reach: true, pulls: key}", LIFT)))
    b.works(["Ink", "Wash and dry hands", "Pull"])
    assert [(i.number, i.mark) for i in b.sheets] == [(1, "D1")]


def test_a_mark_is_looked_up_in_the_whole_book_but_for_its_own_sheet() -> None:
    """The session that has it; none where only the sheet itself bears it."""
    b = Bench(DAY, wanted=2)
    first = b.s.id
    b.to_close()
    b.open(DAY, wanted=1)
    assert b.shop.bearer("D1", (b.s.id, 1)) == first
    assert b.shop.bearer("D1", (first, 2)) == first
    assert b.shop.bearer("D1", (first, 1)) is None
    assert b.shop.bearer("Z9", (first, 1)) is None


def test_tags_used_have_keys_in_the_order_of_their_first_use() -> None:
    """Of this session alone; one taken off keeps its key."""
    b = Bench(ONE)
    b.until("Lift")
    for tag, off in (("lint", False), ("lint", True), ("salty", False)):
        b.say(a.Tag(tag, off=off))
    assert used_tags(b.entries(), b.s) == {"p": "lint", "q": "salty"}
    assert used_tags(b.entries(), replace(b.s, id="another@x")) == {}


# -- hands and time -------------------------------------------------------------------------


def test_a_wait_put_off_leaves_the_step_in_hand_where_it_is() -> None:
    """A book may hold such an entry: the printer goes on with what the hands are doing."""
    b = Bench(recipe(each=(INK, SETTLE, "{do: Look, hands: inky}", PULL, LIFT)))
    b.say(a.StartClock(MIN, "varnish"))
    b.work("Ink")
    wait, hand = b.key("Settle", 1), b.key("Look", 1)
    room = replace(b.room, sessions={b.s.id: replace(b.s, hand=hand)})
    put_off = replace(b.entries()[-1], kind="step put off", word="time", body={
        "step": wait.step, "impression": 1, "attempt": 1, "pack": None})
    assert b.s.running(wait)
    after = apply_entry(room, put_off).sessions[b.s.id]
    assert (after.running(wait), after.hand) == (False, hand)


def test_the_next_wash_is_when_the_steps_of_known_time_are_over() -> None:
    """A step whose time nobody said adds nothing, before the wash and past the inky work.

    The wash itself takes a minute and a half.
    """
    b = Bench(recipe(each=(INK, "{do: Feel the plate, hands: inky}", PULL,
                           "{do: Lay it down, hands: clean}", LIFT)))
    assert next_wash_t(b.room, b.t) == b.t + 5 * MIN
    b.until("Wash and dry hands")
    assert next_wash_t(b.room, b.t) == b.t + (4 + 3 + 5) * MIN + MIN * 3 // 2


def test_a_helper_is_noted_once_in_each_session() -> None:
    """Who joined in one session is said to be in the other when it is worked on, and only then."""
    b = Bench(ONE)
    first = b.s.id
    b.say(a.Helper(joins=True, name="Ida"))
    b.open(ONE)
    second = b.s.id
    for there in (first, second, first):
        b.say(a.SwitchSession(there))
        b.say(a.Note("x"))
    assert [(e.stream, e.body["name"]) for e in b.entries("helper present")] == [
        (f"session/{second}", "Ida")]


# -- what is said of the press --------------------------------------------------------------


def test_blankets_known_by_their_words_are_a_layer() -> None:
    """`new felt` is no thickness, and the same words another day are the same blankets."""
    b = Bench(recipe(extra=PRESS))
    b.say(a.Set("blankets", "new felt"))
    b.say(a.Set("paper thickness", "0.6 mm"))
    b.until("Lift")
    _, paper, blankets = layers_at(b.s, b.s.recipe.presses[0], 1)
    assert (str(paper), blankets) == ("0.6 mm", "new felt")


@pytest.mark.parametrize(("name", "written", "shown"), [
    ("left", "3 1/4 turns", "3.25 turns"), ("paper thickness", "0.60 mm", "0.6 mm"),
    ("left", "as in spring", "as in spring"), ("blankets", "3 felts", "3 felts"),
])
def test_a_setting_is_shown_in_its_one_spelling(name: str, written: str, shown: str) -> None:
    """A quantity is; words, and what cannot be read, stay as they were written."""
    assert setting_text(read_recipe(recipe(extra=PRESS)), name, written) == shown


# -- refusals say what to do ----------------------------------------------------------------


def test_a_pack_is_of_some_sheets_and_put_away_in_a_known_way() -> None:
    """With what to write instead."""
    assert str(damp_pack(read_recipe(DAMP), "p1", 0)) == (
        "A pack has at least one sheet; write a whole number from 1 up")
    b = Bench(DAMP)
    assert b.shop.damp_pack(read_recipe(DAMP), 4).ok
    pack = b.packs[-1]
    assert str(pack_away(pack, "burnt")) == (
        "You cannot put a pack away as burnt; say dried or none")


def test_a_reading_needs_its_name() -> None:
    """With an example."""
    assert str(Bench(ONE).refused(a.TakeReading(" ", "3"))) == (
        "The reading has no name; write: reading tone 3")


@pytest.mark.parametrize(("wanted", "were"), [(1, "1 sheet was"), (2, "2 sheets were")])
def test_a_session_with_sheets_is_not_discarded(wanted: int, were: str) -> None:
    """It says how many sheets would be lost from sight."""
    b = Bench(ONE)
    for _ in range(wanted):
        b.until("Lift")
        b.tread()
    assert str(b.refused(a.Discard())) == f"{were} pulled in it; close it with enough"


@pytest.mark.parametrize(("pack", "need", "said"), [
    (6, 15, "6 + 6 + 3 sheets (the recipe's pack, then what the day still needs)"),
    (None, 4, "4 sheets (what the day still needs)"),
])
def test_packs_to_damp_are_said_with_why(pack: int | None, need: int, said: str) -> None:
    """Each reason once."""
    assert pack_sizes_words(size_packs(pack, need)) == said


def test_two_plates_reworked_are_asked_for_in_one_question() -> None:
    """By both names, in printing order."""
    b = Bench(recipe(plates=("tone", "key"), extra=SP, each=(
        "{do: Ink, hands: inky}", "{do: Pull, hands: clean, pulls: [tone, key]}", LIFT,
        "{do: Scrape the key, hands: inky, plate: key}",
        "{do: Scrape the tone, hands: inky, plate: tone}")))
    b.until("Scrape the key")
    b.until("Wash and dry hands")
    assert b.view.state_question == "Which state are tone and key in now?"


# -- days told by another book --------------------------------------------------------------


def test_words_of_another_book_come_among_those_of_the_session_by_the_clock() -> None:
    """A verdict said in another book before a later one of the session's own does not outlive it.

    What is said of stacks is no matter of a day, and stays where it was.
    """
    b = Bench(DAY)
    b.until("Lift")
    b.say(a.Judge("keep"))
    last = b.entries()[-1]
    b.advance(1)
    b.say(a.Judge("spoiled"))
    own = tuple(b.entries())

    def told(stream: str) -> Entry:
        return replace(last, stream=stream, position=1, id="1@other",
                       at=replace(last.at, wall_ms=last.at.wall_ms + 1_000))

    said = told(f"session/{b.s.id}@other")
    assert [e.id for e in order_entries((*own, said))] == [
        *(e.id for e in own[:-1]), "1@other", own[-1].id]
    of_stack = told("stack/d@x.1@other")
    assert [e.id for e in order_entries((*own, of_stack))] == [*(e.id for e in own), "1@other"]


def test_a_cancelled_plate_is_remembered_by_its_session() -> None:
    """As it was said when the day was opened: what it gives is its cancellation proof."""
    b = Bench(DAY)
    second = f"s2@{b.book.origin}"
    b.say(a.Open(second, "s2", "G", "slack-water", ONE, "0" * 64, 1, cancelled="scored"))
    assert b.room.sessions[second].cancelled == "scored"


# -- steps left to another session ----------------------------------------------------------

LAST = recipe(after=["{do: Rags, hands: clean}", "{do: Pressure off, hands: clean}"])
TWO_LAST = recipe(after=["{do: Slab, hands: clean}", "{do: Blotters, hands: clean}"])


def left_to(first: str) -> tuple[Bench, str, str]:
    """The slab of a second session is left to the first: the bench, and both ids."""
    b = Bench(first, 1)
    one = b.s.id
    b.say(a.Helper(joins=True))
    b.open(TWO_LAST, 1)
    other = b.s.id
    b.until("Slab")
    b.say(a.LeaveStep(one))
    return b, one, other


@pytest.mark.parametrize("still_open", [True, False])
def test_a_step_left_is_not_taken_back_once_it_was_done_there_or_the_day_is_closed(
    still_open: bool
) -> None:
    """Nothing is undone behind the back of the session that did it; what to do is said."""
    b, one, other = left_to(LAST)
    b.say(a.SwitchSession(one))
    slab = TaskKey(f"{other} after.1")
    for _ in range(60):
        if b.s.done(slab) if still_open else b.s.closed is not None:
            break
        b.go()
    assert (b.room.sessions[one].closed is None) == still_open
    b.say(a.SwitchSession(other))
    assert str(b.refused(a.TakeBack())) == (
        "The session you left it to has done it; correct it in that session")
