"""When the wanted number will be met: promised where it can be, silent where it can't."""

from __future__ import annotations

import re
from dataclasses import replace

from benchapp.planning.day import Break
from benchapp.planning.pace import TimedStep
from benchapp.planning.time_to_finish import MOST, forecast_finish
from benchapp.planning.times import Lasting, time_recipe
from benchapp.quantities import read_span
from benchapp.session import actions as a
from benchapp.views.status import status_lines
from tests.planning.plans import WORKED
from tests.session.support import LIFT, PULL, SOAK, WIPE, Bench, recipe

PROOFING = WORKED + "proofing: {for: TP}\n"
MIN = 60_000


def words(b: Bench) -> str | None:
    """What is promised now."""
    found = forecast_finish(b.room, b.clock.now())
    return None if found is None else found.words


def test_the_worked_days_number_and_time():
    """Ten begun at 10:00 without lunch: set-up 20, ten times 32, and the tissue after the lift."""
    b = Bench(PROOFING, wanted=10)
    found = forecast_finish(b.room, b.clock.now())
    assert found is not None
    assert found.met == (20 + 10 * 32 + 2) * 60
    assert found.words == "10 by 15:42"
    assert "10 by 15:42" in status_lines(b.room, b.clock.now())


def test_it_stays_while_the_day_goes_as_planned():
    """Set-up in its twenty minutes, ink in its ten: the same words from the plan before."""
    b = Bench(PROOFING, wanted=3)
    before = forecast_finish(b.room, b.clock.now())
    for minutes in (20, 10):
        b.clock.advance(minutes * MIN)
        b.shop.tick()
        b.say(a.GoOn())
        after = forecast_finish(b.room, b.clock.now(), before)
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
    bare = Bench(PROOFING.replace("hands: inky, time: 12 min", "hands: inky"), wanted=3)
    found = forecast_finish(bare.room, bare.clock.now())
    assert found is not None
    assert (found.words, found.notes) == (
        "", ("No plan: no time is known for Wipe; the Plan asks for a guess",))
    assert found.notes[0] in status_lines(bare.room, bare.clock.now())
    assert "" not in status_lines(bare.room, bare.clock.now())


def test_a_guess_or_earlier_days_stand_in_for_a_time():
    """Without the wipe's 12 min: 32 a print guessed is the same day; so is a wipe learnt."""
    plain = Bench(PROOFING, wanted=3)
    bare = Bench(PROOFING.replace("hands: inky, time: 12 min", "hands: inky"), wanted=3)
    known = forecast_finish(plain.room, plain.clock.now())
    wipe = next(s.id for s in bare.s.recipe.each if s.do == "Wipe")
    least = time_recipe(bare.s.recipe, {}, None).least
    guess = Lasting(each_ms=least + 12 * MIN)
    guessed = forecast_finish(bare.room, bare.clock.now(), known=guess)
    learnt = forecast_finish(bare.room, bare.clock.now(),
                             known=Lasting({wipe: read_span("12 min")}))
    assert known is not None
    assert guessed is not None
    assert learnt is not None
    assert (guessed.words, learnt.words) == (f"{known.words} (guess)", known.words)
    assert guessed.words in status_lines(bare.room, bare.clock.now(), known=guess)


def test_another_day_is_named():
    """Thirty do not fit before midnight, ninety not before the day after."""
    assert (words(Bench(PROOFING, wanted=30)) or "").endswith(" tomorrow")
    assert " on 2026-05-0" in (words(Bench(PROOFING, wanted=90)) or "")


def test_a_promise_of_another_session_is_not_gone_on_with():
    """What was planned for another session counts for nothing here."""
    b = Bench(PROOFING, wanted=3)
    before = forecast_finish(b.room, b.clock.now())
    assert before is not None
    other = replace(before, session="2026-05-02@elsewhere", t=b.t - 60 * MIN)
    assert words(b) == (forecast_finish(b.room, b.clock.now(), other) or before).words


def test_when_one_more_would_end_stands_beside_it():
    """All over 20 min after the tissue of the tenth, as planned; later nine days of ten."""
    b = Bench(PROOFING, wanted=10)
    found = forecast_finish(b.room, b.clock.now())
    assert found is not None
    (note,) = found.notes
    assert re.fullmatch(r"Count on finishing by 1[78]:[0-5]\d, even chance 16:02; an 11th would "
                        "end at 16:34", note)
    assert len(note) <= 78
    assert found.notes[0] in status_lines(b.room, b.clock.now())


def test_earlier_days_and_a_break_are_in_it():
    """Ten days a quarter slower than the recipe make it later; so does lunch, by its length."""
    b = Bench(PROOFING, wanted=3)
    plain = forecast_finish(b.room, b.clock.now())
    lunch = forecast_finish(b.room, b.clock.now(), breaks=[Break(30 * 60, 45 * 60)])
    slow = [TimedStep(do, 1.25 * 60 * n, 60 * n, day) for day in range(10)
            for do, n in (("Ink", 10), ("Wipe", 12), ("Pull", 4), ("Lift", 3), ("Tissue", 2))]
    later = forecast_finish(b.room, b.clock.now(), earlier=slow)
    assert plain is not None
    assert lunch is not None
    assert later is not None
    assert 40 * 60 <= lunch.met - plain.met <= 60 * 60
    assert 1.1 * plain.met < later.met < 1.25 * plain.met
    assert later.words in status_lines(b.room, b.clock.now(), earlier=slow)


def test_a_sheet_that_would_be_too_old_is_told_in_time():
    """Paper that keeps 90 min, eight in one pack, some 17 min each: the last ones are told of."""
    short = SOAK.replace("48 h", "90 min").replace("pack: 4", "pack: 8")
    b = Bench(recipe(each=(WIPE, PULL, LIFT), damp=short, extra="proofing: {for: TP}\n"),
              wanted=8)
    for _ in range(2):
        b.advance(3)
        b.say(a.GoOn())
    found = forecast_finish(b.room, b.clock.now())
    assert found is not None
    assert re.fullmatch(r"Sheets? [5-8]( (and|to) 8)? would be (up to )?\d+ min too old: "
                        r"put (it|them) in a second pack", found.notes[0])
    long = SOAK.replace("pack: 4", "pack: 8")
    b = Bench(recipe(each=(WIPE, PULL, LIFT), damp=long, extra="proofing: {for: TP}\n"),
              wanted=8)
    fresh = forecast_finish(b.room, b.clock.now())
    assert fresh is not None
    assert not any("too old" in note for note in fresh.notes)


def test_the_next_pack_is_told_before_it_is_late():
    """Four in the first pack, two in the second: that must go in, and it is said by when."""
    b = Bench(recipe(each=(WIPE, PULL, LIFT), damp=SOAK, extra="proofing: {for: TP}\n"), wanted=6)
    seen, put_in = [], None
    for _ in range(60):
        found = forecast_finish(b.room, b.clock.now())
        seen += [note for note in (found.notes if found else ()) if "must go in by" in note]
        if len(b.packs) == 2:
            put_in = b.packs[1].put_in
            break
        b.advance(5)
        b.say(a.GoOn())
    assert put_in is not None
    assert seen
    assert all(re.fullmatch(r"Next pack must go in by \d\d:\d\d", note) for note in seen)
