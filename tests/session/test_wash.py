"""Hands: only a wash makes them clean, and a clean-handed helper needs none."""

from __future__ import annotations

from benchapp.session import actions as a
from benchapp.session.decide import hands_gate
from benchapp.session.state import TaskKey
from tests.session.support import DAY, INK, LIFT, PULL, WIPE, Bench, recipe


def test_hands_are_clean_at_the_start_and_inky_from_the_first_inky_step():
    """Beginning to ink makes them so, not ending it."""
    b = Bench(DAY)
    assert b.hands == "clean"
    b.work("Screws")
    assert (b.hand, b.hands) == ("Ink", "inky")


def test_the_wash_comes_between_inky_and_clean_and_only_there():
    """Ink to wipe needs none; wipe to pull does; pull to lift does not."""
    b = Bench(recipe(each=(INK, WIPE, PULL, LIFT)))
    b.works(["Ink", "Wipe", "Wash and dry hands"])
    assert (b.hand, b.hands) == ("Pull", "clean")
    b.works(["Pull", "Lift"])
    assert (b.hand, b.hands) == ("Ink", "inky")
    assert len(b.ended("Wash and dry hands")) == 1


def test_the_wash_is_counted_as_a_step_of_its_sheet():
    """Its time is taken, and belongs to the impression it was washed for."""
    b = Bench(recipe())
    b.work("Ink", 5)
    assert b.s.hand == TaskKey("wash", 1)
    b.work("Wash and dry hands", 2)
    wash = b.ended("Wash and dry hands")[0]
    assert (wash.how, wash.taken, wash.finished_t - wash.started_t) == ("done", True, 120_000)


def test_a_wash_is_never_skipped():
    """Refused with what does make hands clean."""
    b = Bench(recipe())
    b.work("Ink")
    refusal = b.refused(a.SkipStep("no time"))
    assert str(refusal) == "Only a wash makes hands clean; wash, then go on; or a helper joins"
    assert b.hands == "inky"


def test_ending_the_day_leaves_hands_clean_for_the_next():
    """When nothing is open any more the printer has gone home."""
    b = Bench(recipe(after=["{do: Slab, hands: inky}"]), wanted=1)
    b.to_close()
    assert b.hands == "clean"


def test_while_inky_only_one_switch_works():
    """Going on, taking back, look again and pause pass the gate; everything else waits."""
    b = Bench(recipe())
    assert b.hands == "inky"
    for action in (a.GoOn(), a.TakeBack(), a.LookAgain(), a.Pause(), a.Resume(), a.Tick()):
        assert hands_gate(b.room, action) is None
    for action in (a.Judge("keep"), a.Note("x"), a.SkipStep("x"), a.Enough(),
                   a.Choose(TaskKey("wash")),
                   a.Helper(joins=True), a.Extend(1), a.Tag("lint"), a.SwitchSession("x"), a.End()):
        refusal = hands_gate(b.room, action)
        assert refusal is not None, action
        assert str(refusal) == "Hands are inky; wash first, then go on"


def test_a_gated_word_leaves_nothing_in_the_book():
    """The refusal comes before anything is decided."""
    b = Bench(recipe())
    before = b.book.last_sequence()
    assert b.shop.do(a.Judge("keep"), gated=True).refusal is not None
    assert b.book.last_sequence() == before


def test_with_a_helper_in_clean_steps_need_no_wash_and_words_pass_the_gate():
    """The printer's own hands stay inky."""
    b = Bench(recipe())
    b.say(a.Helper(joins=True, name="Ida"))
    assert b.tread() == ["step finished", "step started"]
    assert (b.hand, b.hands, b.view.helper) == ("Pull", "inky", "Ida")
    assert hands_gate(b.room, a.Judge("keep")) is None


def test_a_helper_who_joins_at_the_wash_takes_the_next_step():
    """The wash is dropped, its time not taken, and hands are still inky."""
    b = Bench(recipe())
    b.work("Ink")
    assert b.hand == "Wash and dry hands"
    b.say(a.Helper(joins=True))
    assert (b.hand, b.hands) == ("Pull", "inky")
    assert [(w.how, w.taken) for w in b.ended("Wash and dry hands")] == [("dropped", False)]


def test_when_the_helper_leaves_the_wash_comes_before_the_next_clean_step():
    """Said while the printer inks."""
    b = Bench(recipe())
    b.say(a.Helper(joins=True))
    b.say(a.Helper(joins=False))
    b.work("Ink")
    assert b.hand == "Wash and dry hands"


def test_when_the_helper_leaves_in_a_clean_step_the_wash_comes_before_it():
    """The step is laid aside and begins again after the wash, as its first attempt."""
    b = Bench(recipe())
    b.say(a.Helper(joins=True))
    b.work("Ink")
    assert b.hand == "Pull"
    assert b.say(a.Helper(joins=False)) == ["helper left", "step put off", "step started"]
    assert b.hand == "Wash and dry hands"
    b.tread()
    assert b.hand == "Pull"
    assert b.s.work[b.key("Pull", 1)].attempt == 1


def test_a_helper_joins_once_and_leaves_once():
    """Joining twice, or leaving where none is in, is refused."""
    b = Bench()
    assert b.refused(a.Helper(joins=False)).why == "No helper is in"
    b.say(a.Helper(joins=True, name="Ida"))
    assert b.refused(a.Helper(joins=True)).why == "A helper is in already"
    assert b.s.helpers == ("Ida",)
