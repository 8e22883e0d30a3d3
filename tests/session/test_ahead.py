"""When the wanted number will be met: promised where it can be, silent where it can't."""

from __future__ import annotations

from dataclasses import replace

from benchapp.session import actions as a
from benchapp.session.ahead import MOST, ahead
from benchapp.session.standing import status
from tests.session.plans import WORKED
from tests.session.support import Bench

PROOFING = WORKED + "proofing: {for: TP}\n"
MIN = 60_000


def words(b: Bench) -> str | None:
    """What is promised now."""
    found = ahead(b.room, b.clock.now())
    return None if found is None else found.words


def test_the_worked_days_number_and_time():
    """Ten begun at 10:00 without lunch: set-up 20, ten times 32, and the tissue after the lift."""
    b = Bench(PROOFING, wanted=10)
    found = ahead(b.room, b.clock.now())
    assert found is not None
    assert found.met == (20 + 10 * 32 + 2) * 60
    assert found.words == "10 by 15:42"
    assert "10 by 15:42" in status(b.room, b.clock.now())


def test_it_stays_while_the_day_goes_as_planned():
    """Set-up in its twenty minutes, ink in its ten: the same words from the plan before."""
    b = Bench(PROOFING, wanted=3)
    before = ahead(b.room, b.clock.now())
    for minutes in (20, 10):
        b.clock.advance(minutes * MIN)
        b.shop.tick()
        b.say(a.GoOn())
        after = ahead(b.room, b.clock.now(), before)
        assert before is not None
        assert after is not None
        assert (after.words, after.t - before.t) == (before.words, minutes * MIN)
        before = after


def test_nothing_is_promised_where_nothing_is_wanted_or_nothing_known():
    """No number, enough said, far too many, a step without a time: silence."""
    assert words(Bench(PROOFING)) is None
    enough = Bench(PROOFING, wanted=3)
    enough.say(a.Enough())
    assert words(enough) is None
    assert words(Bench(PROOFING, wanted=MOST + 1)) is None
    assert words(Bench(PROOFING.replace("hands: inky, time: 12 min", "hands: inky"),
                       wanted=3)) is None


def test_another_day_is_named():
    """Thirty do not fit before midnight, ninety not before the day after."""
    assert (words(Bench(PROOFING, wanted=30)) or "").endswith(" tomorrow")
    assert " on 2026-05-0" in (words(Bench(PROOFING, wanted=90)) or "")


def test_a_promise_of_another_session_is_not_gone_on_with():
    """What was planned for another session counts for nothing here."""
    b = Bench(PROOFING, wanted=3)
    before = ahead(b.room, b.clock.now())
    assert before is not None
    other = replace(before, session="2026-05-02@elsewhere", t=b.t - 60 * MIN)
    assert words(b) == (ahead(b.room, b.clock.now(), other) or before).words
