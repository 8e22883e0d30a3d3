"""Learning a pedal: keys, delay and rate out of what it sent; the gate; the preferences."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.quantities import Duration
from benchapp.screens.gate import Gate
from benchapp.screens.learning import Sent, learn_pedal, pedal_signal, why_not_learned
from benchapp.settings import Preferences


def hold(key: str, start: float, delay: float, every: float, repeats: int
         ) -> list[tuple[str, float]]:
    """The events of one hold."""
    return [(key, start), *((key, start + delay + every * n) for n in range(repeats))]


@given(st.integers(200, 1_000), st.integers(20, 120), st.integers(5, 90),
       st.lists(st.integers(1, 25), max_size=3))
def test_a_hold_tells_delay_and_rate_whatever_the_bounce(
    delay: int, every: int, repeats: int, bounces: list[int]
) -> None:
    """And the gate learnt from it lets no repeat of the same pedal through."""
    if delay < every:
        return
    shaken = [("f13", float(sum(bounces[:n + 1]))) for n in range(len(bounces))]
    last = shaken[-1][1] if shaken else 0.0
    events = [("f13", 0.0), *shaken, *hold("f13", last, delay, every, repeats)[1:]]
    found = pedal_signal(events)
    assert (found.keys, found.delay_ms, found.every_ms) == (("f13",), delay, every)
    gate, counted = Gate(found.gate_ms), 0
    for _, time in events:
        gate, counts = gate.event(time)
        counted += counts
    assert counted == 1


@pytest.mark.parametrize(("delay", "gate"), [(250, 750), (500, 750), (660, 860), (1_000, 1_300)])
def test_the_gate_is_thirteen_tenths_of_the_delay_and_never_under_the_usual(
    delay: int, gate: int
) -> None:
    """max(750 ms, 1.3 times the delay), in whole hundredths."""
    assert pedal_signal(hold("a", 0, delay, 33, 30)).gate_ms == gate


def test_single_presses_repeat_nothing() -> None:
    """Pedals that send once; presses apart; three bounces."""
    assert pedal_signal([("b", 0)]) == Sent(("b",), 1)
    assert pedal_signal([("b", n * 1_500.0) for n in range(9)]).delay_ms is None
    assert pedal_signal([("b", 0), ("b", 4), ("b", 9), ("b", 15)]).delay_ms is None
    assert pedal_signal([("b", n * 400.0) for n in range(9)]).delay_ms is None  # trodden fast
    assert pedal_signal([]) == Sent()


def test_the_slowest_of_two_holds_counts() -> None:
    """One hold after the other, each with its own delay."""
    events = [*hold("a", 0, 300, 30, 20), *hold("a", 9_000, 700, 30, 20)]
    assert pedal_signal(events).delay_ms == 700


@pytest.mark.parametrize(("keys", "why"), [
    ((), "Nothing arrived"), (tuple("[1;99x"), "sequence this terminal does not know"),
    (("A",), "It sends A, which cannot be a switch"),
])  # fmt: skip
def test_what_cannot_be_learned_is_said_with_the_mend(keys: tuple[str, ...], why: str) -> None:
    """Nothing, a sequence in pieces, a capital."""
    said = why_not_learned(Sent(keys, len(keys)))
    assert said is not None
    assert why in said


def test_a_pedal_comes_first_in_its_list_and_leaves_the_others() -> None:
    """A set of three learnt one after the other; the gate follows the slowest."""
    before = Preferences(treads=("space", "b"), again_keys=("c",))
    assert learn_pedal(before, "tread", pedal_signal(hold("a", 0, 700, 33, 30))) == {
        "treads": ["a", "space", "b"], "gate": "910 ms"}
    assert learn_pedal(before, "take back", pedal_signal(hold("b", 0, 300, 33, 30))) == {
        "treads": ["space"], "take back keys": ["b"]}
    slow = Preferences(gate=Duration(910, "ms"))
    assert learn_pedal(slow, "look again", pedal_signal([("c", 0)])) == {"look again keys": ["c"]}
    assert learn_pedal(slow, "tread", pedal_signal([("space", 0)])) == {"gate": "750 ms"}


def test_the_last_key_to_tread_with_stays_one() -> None:
    """Nobody is left without a switch."""
    said = learn_pedal(Preferences(treads=("a",)), "take back", pedal_signal([("a", 0)]))
    assert isinstance(said, str)
    assert "The pedal that goes on would have no key left" in said
