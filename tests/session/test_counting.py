"""What a pull is for, what counts, and when the day's printing is over."""

from __future__ import annotations

import pytest

from benchapp.session import actions as a
from benchapp.views.messages import describe_change
from tests.session.support import MIN, RAGS, TWO, Bench, recipe

AFTER = recipe(after=[RAGS])
PROOFS = recipe(extra="proofing: {for: SP, state: II}\n")


def pull(b: Bench, times: int = 1) -> None:
    """Pull so many sheets, each to the end of its lift."""
    for _ in range(times):
        b.until("Lift")
        b.tread()


def fors(b: Bench) -> list[tuple[str | None, str | None]]:
    """What each sheet was pulled for, and by whom that was said."""
    return [(i.purpose, i.purpose_by) for i in b.sheets]


def test_the_first_two_pulls_of_an_edition_session_are_warm_ups_by_rule():
    """Proposed before the pull, and recorded as given by rule."""
    b = Bench()
    assert b.view.for_words == "warm-up (by rule)"
    pull(b, 3)
    assert fors(b) == [("warm-up", "rule"), ("warm-up", "rule"), ("edition", "rule")]
    assert b.view.for_words == "edition (by rule)"


@pytest.mark.parametrize(("minutes", "purpose"), [(44.9, "edition"), (45, "warm-up")])
def test_the_first_pull_after_forty_five_minutes_of_pause_is_a_warm_up(minutes, purpose):
    """Only the first, and only from 45 min on: a coffee leaves the plate warm."""
    b = Bench()
    pull(b, 3)
    b.say(a.Pause())
    b.advance(minutes)
    b.tread()
    pull(b, 2)
    assert [i.purpose for i in b.sheets] == ["warm-up", "warm-up", "edition", purpose, "edition"]


def test_a_program_that_was_off_so_long_is_a_pause_too():
    """Back after an hour: the plate is cold."""
    b = Bench()
    pull(b, 3)
    b.clock.reboot(60 * MIN)
    b.say(a.Continue(last_seen_ms=b.now.wall_ms - 60 * MIN))
    pull(b)
    assert b.sheets[3].purpose == "warm-up"


def test_a_proofing_session_has_no_warm_ups():
    """What `proofing` says, with its state."""
    b = Bench(PROOFS)
    assert b.view.for_words == "SP II (by rule)"
    pull(b, 2)
    assert [(i.purpose, i.state, i.purpose_by) for i in b.sheets] == [
        ("SP", "II", "rule"), ("SP", "II", "rule")]


def test_what_the_printer_says_stands_over_the_rule():
    """Before the pull or after it, and is recorded as said by the printer."""
    b = Bench()
    b.say(a.SayFor("edition"))
    assert b.view.for_words == "edition"
    pull(b)
    assert fors(b) == [("edition", "printer")]
    b.say(a.SayFor("TP", impression=1))
    assert fors(b) == [("TP", "printer")]
    assert str(b.refused(a.SayFor("BAT"))) == (
        "A pull cannot be for BAT; say one of edition, TP, WP, SP, warm-up, ghost, "
        "cancellation proof")


def test_a_rework_gives_the_next_state_proof_its_state():
    """From III on; what was pulled before keeps its own."""
    b = Bench(PROOFS)
    pull(b)
    b.say(a.ReworkPlate(None, "III", "burnished the sky"))
    pull(b)
    assert [i.state for i in b.sheets] == ["II", "III"]
    assert [(r[0], r[1], r[2]) for r in b.s.reworks] == [("key", "III", "burnished the sky")]
    assert b.s.states == {"key": "III"}


def test_a_rework_names_a_plate_where_there_are_two():
    """Which, is asked; one that is none is refused."""
    b = Bench(TWO)
    assert str(b.refused(a.ReworkPlate(None, "II"))) == "Which plate?; the plates are tone, key"
    assert b.refused(a.ReworkPlate("sky", "II")).why == "There is no plate sky"
    assert b.refused(a.ReworkPlate("key", None)).why == "The new state and the work are missing"
    b.say(a.ReworkPlate("key", "II"))
    assert b.s.states == {"key": "II"}


def test_the_wanted_number_is_of_those_that_count():
    """Warm-ups do not: three wanted are five pulls, then the steps after printing."""
    b = Bench(AFTER, wanted=3)
    pull(b, 4)
    assert (b.view.pulled, b.view.counting, b.view.wanted) == (4, 2, 3)
    b.until("Lift")
    assert (b.view.pulled, b.view.counting) == (5, 3)
    b.tread()
    assert b.hand == "Rags"


def test_a_proof_counts_and_a_ghost_does_not():
    """Not spoiled, no warm-up, no ghost."""
    b = Bench(AFTER, wanted=3)
    for purpose, counting in (("TP", 1), ("ghost", 1), ("WP", 2), ("warm-up", 2), ("SP", 3)):
        b.until("Lift")
        b.say(a.SayFor(purpose))
        assert b.view.counting == counting, purpose
        b.tread()
    assert b.hand == "Rags"


def test_a_sheet_counts_from_its_last_pull():
    """Of two plates the first is not enough."""
    b = Bench(TWO, wanted=3)
    b.say(a.SayFor("edition"))
    b.until("Pull key")
    assert (b.view.pulled, b.view.counting) == (1, 0)
    b.tread()
    assert (b.view.pulled, b.view.counting) == (1, 1)


def test_none_is_begun_that_is_not_needed():
    """Impressions begun never go beyond those that will count with the warm-ups."""
    b = Bench(AFTER, wanted=1)
    b.until("Rags")
    assert len(b.s.impressions) == 3
    assert b.view.counting == 1


def test_one_spoiled_later_is_printed_again():
    """While the steps after printing are on: they wait for it."""
    b = Bench(AFTER, wanted=1)
    b.until("Rags")
    b.say(a.Judge("spoiled", 3))
    assert (b.view.counting, b.hand) == (0, "Rags")
    b.say(a.Must("in the can"))
    assert b.hand == "Ink"
    pull(b)
    assert (b.view.counting, b.s.closed is not None) == (1, True)
    assert b.sheets[3].mark == "D4"


def test_a_verdict_taken_away_counts_again():
    """Spoiled, then not judged: no further one is needed."""
    b = Bench(AFTER, wanted=1)
    b.until("Rags")
    b.say(a.Judge("spoiled", 3))
    b.say(a.Judge(None, 3))
    assert b.view.counting == 1
    b.say(a.Must("in the can"))
    assert b.s.closed is not None


def test_without_a_wanted_number_it_goes_on_until_enough():
    """Enough: what is in hand is finished, nothing more is begun."""
    b = Bench(AFTER)
    pull(b, 5)
    assert b.hand == "Ink"
    b.say(a.Enough())
    pull(b)
    assert (b.hand, b.view.pulled, b.view.enough) == ("Rags", 6, True)


def test_one_more_prints_one_more_that_counts():
    """Said in the steps after printing, which come again when it is done."""
    b = Bench(recipe(after=["{do: Slab, hands: clean}", RAGS]), wanted=1)
    b.until("Slab")
    b.say(a.OneMore())
    assert b.view.wanted == 2
    b.tread()
    assert b.hand == "Ink"
    pull(b)
    assert (b.view.counting, b.hand) == (2, "Rags")


def test_one_more_after_enough_is_one_more_than_there_are():
    """Not up to what was wanted before."""
    b = Bench(AFTER, wanted=9)
    pull(b, 3)
    b.say(a.Enough())
    b.say(a.OneMore())
    assert (b.view.wanted, b.view.counting) == (3, 1)


def test_the_wanted_number_may_change_on_the_way():
    """Fewer: the day ends sooner. None: until enough. Less than one is refused."""
    b = Bench(AFTER, wanted=5)
    pull(b, 2)
    b.say(a.SetWanted(1))
    pull(b)
    assert b.hand == "Rags"
    b.say(a.SetWanted(None))
    assert b.view.wanted is None
    b.say(a.Must(None))
    assert b.hand == "Ink"
    assert str(b.refused(a.SetWanted(0))) == (
        "0 impressions wanted: not between 1 and 10000; write a number from 1 up, or none")


def test_a_ghost_is_pulled_without_inking_and_does_not_count():
    """Of the sheet in hand: its inky steps are passed by with the reason."""
    b = Bench(AFTER, wanted=1)
    pull(b)
    b.say(a.Ghost())
    assert b.view.for_words == "ghost"
    b.until("Lift")
    assert (b.sheets[1].purpose, b.sheets[1].purpose_by) == ("ghost", "printer")
    assert [(w.how, w.taken) for w in b.ended("Ink", 2)] == [("skipped", False)]
    assert b.view.counting == 0


def test_a_ghost_said_after_the_last_needed_pull_is_begun_all_the_same():
    """Of the plate as it is: one more sheet, not inked."""
    b = Bench(AFTER, wanted=1)
    b.until("Lift")
    for _ in range(2):
        b.tread()
        b.until("Lift")
    b.say(a.Ghost())
    b.tread()
    assert (b.hand, b.s.impressions[3].ghost) == ("Pull", True)
    pull(b)
    assert (b.hand, b.view.counting, b.view.pulled) == ("Rags", 1, 4)


def test_settings_hold_from_the_next_pull_on():
    """Each with the number of the first sheet it is in force for."""
    b = Bench()
    b.say(a.Set("handle side", "3.25 turns"))
    pull(b, 2)
    b.say(a.Set(" handle side ", " 3.5 turns "))
    assert [(x.name, x.value, x.since) for x in b.s.settings] == [
        ("handle side", "3.25 turns", 1), ("handle side", "3.5 turns", 3)]
    assert b.refused(a.Set("", "3")).why == "The setting needs a name and a value"


def test_a_day_without_steps_after_printing_closes_with_its_last_sheet():
    """The lift is the last tread."""
    b = Bench(wanted=1)
    pull(b, 3)
    assert b.s.closed is not None


def test_a_recipe_says_how_many_pulls_warm_up():
    """`warm-ups: 0` for a drypoint, whose first pulls are richest; a pause makes none either."""
    b = Bench(recipe(extra="warm-ups: 0"))
    pull(b, 2)
    b.say(a.Pause())
    b.advance(60)
    b.tread()
    pull(b)
    assert fors(b) == [("edition", "rule")] * 3
    one = Bench(recipe(extra="warm-ups: 1"))
    pull(one, 2)
    assert fors(one) == [("warm-up", "rule"), ("edition", "rule")]


def test_a_good_warm_up_is_offered_for_the_edition():
    """Keep on a warm-up says how to make it count; on another sheet it says nothing more."""
    b = Bench()
    pull(b, 3)
    for sheet, offered in ((1, True), (3, False)):
        before = b.room
        told = " ".join(describe_change(before, b.room, b.do(a.Judge("keep", sheet)).entries))
        assert ("a warm-up does not count (to count it: for edition" in told) is offered
