"""When a call sounds: growing gaps, hands, mutes, lateness."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest

from benchapp.calls.schedule import (
    NOTHING_HEARD,
    Deadline,
    Plan,
    SoundedCalls,
    next_sound,
    wanted_ms,
)

MIN = 60_000
ETCH = Deadline("etch", 10 * MIN, phrase="Etch is over")
SHEETS = Deadline("soak 1", 10 * MIN, phrase="Sheets out of the water", clean=True, harm=0)


def soundings(plan: Plan, until_ms: int, heard: SoundedCalls = NOTHING_HEARD, from_ms: int = 0):
    """Every sound up to a moment, as nobody answers."""
    found, now = [], from_ms
    while (nxt := next_sound(plan, now, heard)) is not None and nxt[0] <= until_ms:
        now, sound = nxt
        heard = heard.after(sound, now)
        found.append((now, sound))
    return found


def test_a_call_sounds_when_due_and_then_at_growing_gaps():
    """At once, after 30 s, 1, 2 and 4 min, then every 5 min."""
    times = [t for t, _ in soundings(Plan((ETCH,)), 30 * MIN)]
    assert times[0] == 10 * MIN
    gaps = [b - a for a, b in itertools.pairwise(times)]
    assert gaps[:6] == [30_000, MIN, 2 * MIN, 4 * MIN, 5 * MIN, 5 * MIN]


def test_a_gentle_call_sounds_once_whatever_its_moment_is_by_this_clock():
    """Boards are counted by the wall, whose difference to the boot clock is never the same
    twice: the id alone tells it. And what needs clean hands waits for the wash, as ever."""
    boards = Deadline("boards due 18:00", 10 * MIN, phrase="Boards", clean=True, gentle=True)
    ((at, sound),) = soundings(Plan((boards,)), 600 * MIN)
    assert (at, sound.phrase) == (10 * MIN, "Boards")
    heard = NOTHING_HEARD.after(sound, at)
    assert next_sound(Plan((replace(boards, due_ms=10 * MIN + 3),)), 11 * MIN, heard) is None
    assert next_sound(Plan((replace(boards, id="boards late 19:00"),)), 11 * MIN, heard)
    assert next_sound(Plan((boards,), hands="inky"), 11 * MIN) is None


def test_nothing_sounds_before_it_is_due():
    """Looking early changes nothing."""
    assert next_sound(Plan((ETCH,)), 0) == next_sound(Plan((ETCH,)), 10 * MIN)
    assert next_sound(Plan(), 0) is None


def test_an_answered_call_is_silent():
    """The plan holds it, and it does not sound."""
    assert next_sound(Plan((replace(ETCH, answered=True),)), 20 * MIN) is None


def test_what_was_slept_through_comes_once_and_says_how_late_it_is():
    """After 40 min with the lid closed there is one sound, at once."""
    found = soundings(Plan((ETCH,)), 50 * MIN, from_ms=50 * MIN)
    assert [(t, s.phrase) for t, s in found] == [(50 * MIN, "Etch is over, 40 minutes late")]
    assert found[0][1].wanted_ms == 10 * MIN


def test_a_deadline_of_another_boot_is_said_with_about():
    """Below zero on this boot's clock, and not exact."""
    old = replace(ETCH, due_ms=-25 * MIN, about=True)
    at, sound = next_sound(Plan((old,)), 5 * MIN)
    assert (at, sound.phrase) == (5 * MIN, "Etch is over, about 30 minutes late")


def test_a_deadline_put_off_is_a_new_call():
    """A wait that was given more time begins with its first sound again."""
    heard = NOTHING_HEARD
    for t, sound in soundings(Plan((ETCH,)), 14 * MIN):
        heard = heard.after(sound, t)
    later = Plan((replace(ETCH, due_ms=20 * MIN),))
    assert [t for t, _ in soundings(later, 21 * MIN, heard, 15 * MIN)] == [
        20 * MIN, 20 * MIN + 30_000]  # fmt: skip


def test_a_muted_call_is_silent_and_a_new_one_is_not():
    """Muting belongs to one clock."""
    plan = Plan((replace(ETCH, muted=True), replace(ETCH, id="other")))
    calls = {key[0] for _, s in soundings(plan, 60 * MIN) for key in s.calls}
    assert calls == {"other"}


def test_a_call_muted_for_a_time_sounds_when_that_is_over():
    """Not before, and then as it would have."""
    plan = Plan((replace(ETCH, muted=True, muted_until_ms=25 * MIN),))
    assert [t for t, _ in soundings(plan, 26 * MIN)] == [25 * MIN, 25 * MIN + 30_000]


def test_inky_hands_are_not_called_to_what_needs_clean_ones():
    """It is silent while they are inky, however long; what inky hands can do sounds."""
    plan = Plan((SHEETS, replace(ETCH, due_ms=12 * MIN)), "inky", 30 * MIN)
    sounds = soundings(plan, 60 * MIN)
    assert {key[0] for _, s in sounds for key in s.calls} == {"etch"}
    assert sounds[0][0] == 12 * MIN


@pytest.mark.parametrize(("spoils", "wash", "sounds"), [
    (25 * MIN, 30 * MIN, True),   # spoilt before the wash
    (30 * MIN, 30 * MIN, False),  # the wash comes just in time
    (40 * MIN, 30 * MIN, False),
    (25 * MIN, None, True),       # nobody expects a wash
    (None, None, False),          # it keeps
])  # fmt: skip
def test_it_sounds_all_the_same_if_it_would_be_spoilt_before_the_wash(spoils, wash, sounds):
    """Only then is the rule broken, and at once when it falls due."""
    plan = Plan((replace(SHEETS, spoils_ms=spoils),), "inky", wash)
    assert wanted_ms(plan.deadlines[0], plan) == (10 * MIN if sounds else None)


def test_the_wash_tells_everything_as_one_list_most_harmful_first():
    """What waited, with its lateness, then what falls due before the wash after this one."""
    soon = Deadline("soak 2", 25 * MIN, phrase="Second pack out", clean=True)
    later = Deadline("soak 3", 45 * MIN, phrase="Third pack out", clean=True)
    wiped = Deadline("etch 2", 12 * MIN, phrase="Rinse", clean=True, harm=3)
    plan = Plan((wiped, SHEETS, soon, later), "washing", 40 * MIN)
    at, sound = next_sound(plan, 15 * MIN)
    assert at == 15 * MIN
    assert sound.phrase == ("Sheets out of the water, 5 minutes late. Rinse, 3 minutes late. "
                            "In 10 minutes: Second pack out")  # fmt: skip
    assert sound.foretold == (("soak 2", 25 * MIN),)
    after = NOTHING_HEARD.after(sound, at)
    assert next_sound(plan, at + 1, after)[0] == at + 30_000


def test_a_wash_with_nothing_due_only_foretells():
    """A confirming sound, once for each call."""
    plan = Plan((SHEETS,), "washing", 20 * MIN)
    at, sound = next_sound(plan, 6 * MIN)
    assert (at, sound.kind, sound.calls) == (6 * MIN, "confirm", ())
    assert sound.phrase == "In 4 minutes: Sheets out of the water"
    assert next_sound(plan, 6 * MIN, NOTHING_HEARD.after(sound, at))[0] == 10 * MIN


def test_clean_hands_hear_it_when_due():
    """With clean hands a clean call is a call like others."""
    assert next_sound(Plan((SHEETS,)), 0)[0] == 10 * MIN


def test_two_calls_do_not_chatter():
    """A repeat joins another call that sounds at most 15 s before it; none is early for its due."""
    plan = Plan((ETCH, replace(SHEETS, due_ms=10 * MIN + 20_000)))
    sounds = soundings(plan, 20 * MIN)
    assert [len(s.calls) for _, s in sounds[:2]] == [1, 2]
    assert sounds[1][0] == 10 * MIN + 20_000
    assert sounds[1][1].calls[0][0] == "soak 1"


def test_the_loudest_class_is_heard():
    """A caution among ends gives its sound to the whole list."""
    plan = Plan((ETCH, replace(ETCH, id="flush", kind="caution")))
    assert next_sound(plan, 10 * MIN)[1].kind == "caution"


def test_a_call_that_comes_back_sounds_at_once():
    """Answered, then the answer taken back: it begins anew."""
    heard = NOTHING_HEARD
    for t, sound in soundings(Plan((ETCH,)), 14 * MIN):
        heard = heard.after(sound, t)
    heard = heard.kept(Plan((replace(ETCH, answered=True),)))
    assert next_sound(Plan((ETCH,)), 14 * MIN, heard)[0] == 14 * MIN
