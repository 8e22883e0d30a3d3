"""One thing sounds at a time, and nothing waits long for it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from benchapp.calls.pieces import Phrase, Tone, Trouble
from benchapp.calls.players import RecordingPlayer
from benchapp.calls.ringer import LOOK_MS, PATIENCE_MS, Rang, Ringer
from benchapp.calls.schedule import Deadline, Plan, Sound
from tests.calls.support import Hand

ETCH = Deadline("etch", 10_000, phrase="Etch is over")
FLUSH = Deadline("flush", 10_500, "caution", phrase="Rinse now")


@pytest.fixture
def clock() -> Hand:
    """A clock set by hand."""
    return Hand()


@pytest.fixture
def player(clock: Hand) -> RecordingPlayer:
    """A tone lasts 1 s, a phrase 3 s."""
    return RecordingPlayer(clock, lambda p: 1000 if isinstance(p, Tone) else 3000)


def run(ringer: Ringer, clock: Hand, plan: Plan, until_ms: int) -> None:
    """Turn as often as the ringer asks to, up to a moment."""
    while (rest := ringer.turn(clock.ms, plan)) is not None and clock.ms + rest <= until_ms:
        clock.ms += rest
    clock.ms = until_ms
    ringer.turn(clock.ms, plan)


def test_a_call_is_a_tone_and_then_words(clock, player):
    """At its moment, one after the other, and reported with its lateness for the flash."""
    ringer = Ringer(player)
    run(ringer, clock, Plan((ETCH,)), 20_000)
    assert [p for _, p in player.played] == [Tone("end"), Phrase("Etch is over")]
    tone_at, words_at = (t for t, _ in player.played)
    assert tone_at == 10_000
    assert 11_000 <= words_at <= 11_000 + LOOK_MS
    (rang,) = ringer.reports
    assert isinstance(rang, Rang)
    assert (rang.at_ms, rang.late_ms, rang.sound.calls) == (10_000, 0, (("etch", 10_000),))


def test_it_asks_to_be_woken_at_the_next_call_and_not_before(clock, player):
    """Nothing sounding, it sleeps until the deadline; with nothing planned for ever."""
    assert Ringer(player).turn(0, Plan((ETCH,))) == 10_000
    assert Ringer(player).turn(0, Plan()) is None


def test_an_answer_silences_at_once(clock, player):
    """The tread that answers also cuts the sound."""
    ringer = Ringer(player)
    run(ringer, clock, Plan((ETCH,)), 10_400)
    run(ringer, clock, Plan((replace(ETCH, answered=True),)), 60_000)
    assert player.stopped == [Tone("end")]
    assert player.phrases == []


def test_a_caution_cuts_the_words_of_an_end(clock, player):
    """It waits for the other's tone, not for its words."""
    ringer = Ringer(player)
    run(ringer, clock, Plan((ETCH, FLUSH)), 12_000)
    assert [k for _, k in player.tones] == ["end", "caution"]
    assert 11_000 <= player.tones[1][0] <= 11_000 + LOOK_MS


def test_two_ends_are_said_one_after_the_other(clock, player):
    """The second waits for the first one's words."""
    ringer = Ringer(player)
    run(ringer, clock, Plan((ETCH, replace(ETCH, id="b", due_ms=10_500, phrase="B"))), 20_000)
    assert player.stopped == []
    assert player.phrases[0] == "Etch is over"
    assert "B" in player.phrases[1]


def test_a_player_that_never_ends_costs_at_most_five_seconds(clock):
    """A call due during a hang is heard five seconds after the hang began."""
    player = RecordingPlayer(clock, lambda p: 10**9)
    ringer = Ringer(player)
    run(ringer, clock, Plan((ETCH, replace(ETCH, id="b", due_ms=10_500))), 25_000)
    assert [t for t, _ in player.tones][:2] == [10_000, 10_000 + PATIENCE_MS]


def test_words_nobody_must_hear_give_way(clock, player):
    """An answer to a key is cut by a call at the call's moment."""
    ringer = Ringer(player)
    clock.ms = 9_000
    ringer.wish(Sound(None, "Sheet seven, forty grams of ink"))
    run(ringer, clock, Plan((ETCH,)), 10_100)
    assert player.tones == [(10_000, "end")]
    assert len(player.stopped) == 1


def test_wishes_wait_for_calls_and_do_not_pile_up(clock, player):
    """The newest four are said when the call is over."""
    ringer = Ringer(player)
    run(ringer, clock, Plan((ETCH,)), 10_000)
    for number in range(9):
        ringer.wish(Sound(None, f"note {number}"))
    run(ringer, clock, Plan((ETCH,)), 35_000)
    assert player.phrases[:5] == ["Etch is over", "note 5", "note 6", "note 7", "note 8"]


def test_troubles_of_the_player_are_passed_on(clock, player):
    """Once, among the reports."""
    ringer = Ringer(player)
    player.trouble.append(Trouble("aplay", "failed", "aplay made no sound"))
    run(ringer, clock, Plan((ETCH,)), 60_000)
    assert [r.what for r in ringer.reports if isinstance(r, Trouble)] == ["aplay"]


def test_the_words_of_a_new_step_stand_in_for_those_of_the_old(clock, player):
    """Two quick treads: the first step's words are cut, and nothing waits behind them."""
    ringer = Ringer(player)
    ringer.wish(Sound("confirm", "Ink"), instead=True)
    run(ringer, clock, Plan(), 1_500)
    ringer.wish(Sound("confirm", "Wipe"), instead=True)
    ringer.wish(Sound("confirm", "Wash and dry hands"), instead=True)
    run(ringer, clock, Plan(), 9_000)
    assert player.phrases == ["Ink", "Wash and dry hands"]
    assert [p.text for p in player.stopped if isinstance(p, Phrase)] == ["Ink"]


def test_the_words_of_a_step_never_cut_a_call(clock, player):
    """A tread beside a call that sounds: its words come after."""
    ringer = Ringer(player)
    run(ringer, clock, Plan((ETCH,)), 11_500)
    ringer.wish(Sound("confirm", "Wipe"), instead=True)
    run(ringer, clock, Plan((ETCH,)), 20_000)
    assert player.phrases == ["Etch is over", "Wipe"]
    assert player.stopped == []
