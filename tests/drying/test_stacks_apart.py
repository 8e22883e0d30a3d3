"""One stack that two books write on: a day of the studio, changed at home from its copy."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.drying import actions as b
from benchapp.drying.stacks import Stack, replay_boards, stack_dryness
from benchapp.events.streams import is_said, told_of
from tests.drying.test_stacks import HOUR, Rack, S

_WHO = st.sampled_from(["K1", "K2", "K3", "K4"])
_MOVE = st.one_of(
    st.builds(lambda m: b.Lay(S, ((m, m),)), _WHO),
    st.builds(lambda m: b.Lift(S, m), _WHO),
    st.just(b.Changed(S)),
    st.just(b.SkipChange(S, "away")),
    st.builds(lambda g: b.Weight(S, g), st.sampled_from([8_000, 12_000, None])),
    st.builds(lambda m, mg: b.Weigh(S, m, mg), _WHO, st.integers(98_000, 99_000)),
    st.just(b.TakeDown(S)))
_LIFE = st.lists(st.tuples(_MOVE, st.integers(0, 30)), max_size=8)


def apart(first, here, there, *, slow_h: int = 0) -> tuple[Rack, Rack, int]:
    """The studio's book and its copy, whose clock is so many hours behind, as each became."""
    home = Rack()
    live(home, first)
    known = len(home.entries)
    away = Rack(origin="away", book=home.entries)
    away.clock.advance((home.clock.now().wall_ms - away.clock.now().wall_ms) - slow_h * HOUR)
    live(home, here)
    live(away, there)
    return home, away, known


def live(rack: Rack, moves) -> None:
    """So many hours pass before each; what is refused is left out."""
    for move, hours in moves:
        rack.clock.advance(hours * HOUR)
        rack.try_(move)


def together(home: Rack, away: Rack, known: int) -> tuple[Stack, Stack]:
    """The stack as either book has it, with the other's entries taken in."""
    one = replay_boards([*home.entries, *away.entries[known:]])
    two = replay_boards([*away.entries, *home.entries[known:]])
    return one.stacks[S], two.stacks[S]


@given(_LIFE, _LIFE, _LIFE, st.integers(0, 200))
def test_whichever_book_takes_the_other_in_the_stack_is_the_same(first, here, there, slow_h):
    """Whatever the other clock says; and a sheet nobody lifted lies there still."""
    home, away, known = apart(first, here, there, slow_h=slow_h)
    one, two = together(home, away, known)
    assert one == two
    written = [e for e in (*home.entries, *away.entries[known:]) if e.kind == "lifted"]
    gone = {e.body["sheet"] for e in written}
    laid = {e.body["sheet"] for e in (*home.entries, *away.entries[known:]) if e.kind == "laid"}
    if one.down is None and not any(
            e.kind == "taken down" for e in (*home.entries, *away.entries[known:])):
        assert {x.sheet for x in one.sheets} >= laid - gone


def test_the_other_book_writes_in_a_stream_of_its_own():
    """So that neither breaks the other's chain, and both can be brought together."""
    home, away, known = apart([(b.Lay(S, (("K1", "K1"), ("K2", "K2"))), 0)],
                              [(b.Weigh(S, "K1", 98_400), 30)], [(b.Changed(S), 30)])
    assert {e.stream for e in home.entries} == {f"stack/{S}"}
    assert {e.stream for e in away.entries[known:]} == {f"stack/{S}@away"}
    assert is_said(f"stack/{S}@away")
    assert told_of(f"stack/{S}@away") == f"stack/{S}"
    one, _ = together(home, away, known)
    assert one.answers
    assert stack_dryness(one).sheet == "K1"


@pytest.mark.parametrize(("down_h", "sheets"), [(1, ["K2"]), (9, [])])
def test_a_stack_taken_down_here_and_laid_on_there(down_h: int, sheets: list[str]):
    """A sheet laid after it was taken down lies there; one laid before was taken down too."""
    home, away, known = apart([(b.Lay(S, (("K1", "K1"),)), 0)], [(b.TakeDown(S), down_h)],
                              [(b.Lay(S, (("K2", "K2"),)), 5)])
    for stack in together(home, away, known):
        lying = [] if stack.down else [x.mark for x in stack.sheets]
        assert lying == sheets


def test_what_is_done_to_a_stack_counts_though_another_clock_stood_ahead():
    """The studio's clock was forty days ahead when it laid; at home they are taken down now."""
    home = Rack()
    home.clock.step_wall(40 * 24 * HOUR)
    home.do(b.Lay(S, (("K1", "K1"), ("K2", "K2"))))
    known = len(home.entries)
    away = Rack(origin="away", book=home.entries)
    away.do(b.Lift(S, "K2"))
    assert [x.mark for x in away.boards.stacks[S].sheets] == ["K1"]
    away.do(b.TakeDown(S))
    assert away.boards.stacks[S].down is not None
    one, two = together(home, away, known)
    assert one == two
    assert one.down is not None
    both = Rack(book=[*home.entries, *away.entries[known:]])
    assert both.try_(b.Lay(S, (("K3", "K3"),))).rule == "down"


def test_two_books_that_go_on_in_turn_each_count_after_what_they_had_seen():
    """Laid, lifted at home, laid again in the studio: it lies there, whatever the clocks say."""
    home, away, known = apart([(b.Lay(S, (("K1", "K1"),)), 0)], [], [(b.Lift(S, "K1"), 0)],
                              slow_h=-200)
    home = Rack(book=[*home.entries, *away.entries[known:]])
    home.clock.advance(HOUR)
    home.do(b.Lay(S, (("K1", "K1"),)))
    assert [x.mark for x in home.boards.stacks[S].sheets] == ["K1"]
    other = replay_boards([*away.entries, *home.entries[len(away.entries):]])
    assert other.stacks == home.boards.stacks
