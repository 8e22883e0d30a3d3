"""Damp paper: packs in and out in time, and the sheet each impression takes."""

from __future__ import annotations

from benchapp.commands.damping import _pack as listed_pack
from benchapp.edition.packs import SHEET_OPEN_MS
from benchapp.reports.json_form import json_values
from benchapp.reports.review import review_session
from benchapp.reports.review_blocks import review_text
from benchapp.screens.review import review_rows
from benchapp.session import actions as a
from benchapp.session.compiled_recipe import DAMP_IN, DAMP_OUT
from benchapp.session.pack_size import (
    NEEDED,
    RECIPE,
    SPARE,
    PackSize,
    size_pack,
    size_packs,
)
from benchapp.session.sheet_asked import NONE_READY, UNREADY
from benchapp.session.state import TaskKey
from benchapp.session.step_control import choosable_tasks
from benchapp.views.status import status_lines
from benchapp.views.studio import studio_view
from tests.session.support import (
    DAMP,
    HOUR,
    INK,
    LIFT,
    MIN,
    PLATE_CLEAN,
    PULL,
    RAGS,
    SCREWS,
    SHEETS,
    SOAK,
    WARM,
    Bench,
    recipe,
)

IN, OUT = "Sheets into the water", "Sheets out of the water"
#: Sprayed and stacked: ready after an hour, no water to come out of.
SPRAYED = "{method: spray, rest: 60 min, pack: 4}"


def printing(b: Bench) -> None:
    """Work on until the pack is ready and the first sheet of it is laid to be pulled."""
    b.works([IN, "Screws"])
    b.advance(30)
    b.until(OUT)
    b.work(OUT)
    if b.hand == IN:
        b.say(a.SkipStep("one pack will do"))
    b.advance(15)
    assert (b.hand, b.packs[0].where(b.t)) == ("Pull", "ready")


def test_the_first_pack_goes_in_before_anything_else():
    """A clean step of its handling time, due like any other."""
    b = Bench(DAMP, wanted=6)
    assert b.hand == IN
    assert b.view.now.count is not None
    assert b.view.now.count.usual == 3 * MIN
    b.work(IN)
    assert (b.packs[0].where(b.t), b.hand) == ("in the water", "Screws")


def test_dipped_sheets_rest_as_soon_as_they_are_stacked():
    """A dip is a minute of each sheet: nothing is left in the water for inky hands to forget."""
    b = Bench(recipe(before=[SCREWS], damp="{method: dip, soak: 1 min, rest: 20 min, pack: 4}"))
    b.work("Dip the sheets and stack them", 3)
    assert (b.packs[0].where(b.t), b.packs[0].soaked) == ("resting", False)
    b.work("Screws", 5)
    assert b.hand == "Ink"
    b.advance(15)
    assert b.packs[0].where(b.t) == "ready"


def test_sheets_that_are_overdue_come_before_a_plate_that_is_not_inked():
    """Scrim turned is no ink on the plate: hands washed for the sheets go to the sheets."""
    b = Bench(recipe(each=("{do: Turn the scrim, hands: inky, every: 5}", WARM, INK, PULL, LIFT),
                     damp=SOAK), wanted=2)
    b.work(IN, 3)
    b.work("Turn the scrim", 31)
    b.advance(5)
    b.work("Wash and dry hands")
    b.work(OUT, 3)
    b.work("Ink", 5)
    assert b.hand == "Wash and dry hands"


def test_no_pack_goes_in_first_where_one_of_this_paper_is_in_the_water_or_ready():
    """The evening's pack was damped in another session."""
    b = Bench(DAMP, wanted=2)
    b.work(IN)
    b.open(DAMP, wanted=2)
    assert b.hand == "Screws"
    assert len(b.packs) == 1


def test_another_paper_is_damped_though_one_is_in_the_water():
    """Packs are shared by paper, not by day."""
    b = Bench(DAMP, wanted=2)
    b.work(IN)
    b.open(DAMP.replace("name: cotton", "name: rag"), wanted=2)
    assert b.hand == IN


def test_a_pack_is_the_recipes_or_what_the_day_still_needs_and_says_which():
    """Wanted 1 with two warm-ups needs 3 of the 4 that fit; wanted 9 needs more than fit."""
    for wanted, sheets, why in ((1, 3, NEEDED), (2, 4, RECIPE), (9, 4, RECIPE), (None, 4, RECIPE)):
        b = Bench(DAMP, wanted=wanted)
        assert b.view.now.pack == f"{sheets} sheets ({why})", wanted
        b.work(IN)
        assert b.packs[0].sheets == sheets, wanted


def test_a_pack_nobody_gave_a_size_is_what_is_needed_and_unknown_if_nobody_knows():
    """No `pack` in the recipe: the need alone; with neither it is not counted."""
    text = recipe(damp="{method: soak, soak: 30 min}")
    for wanted, sheets in ((3, 5), (None, None)):
        b = Bench(text, wanted=wanted)
        assert bool(b.view.now.pack) == (sheets is not None)
        b.work(IN)
        assert b.packs[0].sheets == sheets, wanted
        assert b.packs[0].left == sheets


def test_no_sheet_is_damped_alone():
    """Each sheet that is spoiled asks for one more: two go in, and the second waits for the next.

    So for each *one more*, and where the recipe's packs leave one over.
    """
    b = Bench(DAMP, wanted=1)
    for _ in range(2):
        b.until("Lift")
        b.work("Lift")
    b.until("Lift")
    b.say(a.Judge("spoiled"))
    b.work("Lift")
    assert b.hand == IN
    assert (b.view.now.do, b.view.now.pack) == (f"{IN}: 2", f"2 sheets ({SPARE})")
    b.until("Lift")
    b.say(a.Judge("spoiled"))
    b.work("Lift")
    assert b.hand == "Ink"
    b.until("Lift")
    b.say(a.OneMore())
    b.work("Lift")
    assert (b.view.now.do, b.view.now.pack) == (f"{IN}: 2", f"2 sheets ({SPARE})")
    assert [p.sheets for p in b.packs] == [3, 2]
    assert [(x.sheets, x.why) for x in size_packs(6, 13)] == [(6, RECIPE), (6, RECIPE), (2, SPARE)]
    assert [x.sheets for x in size_packs(1, 2)] == [1, 1]
    assert size_pack(6, 0) == size_pack(6, None) == PackSize(6, RECIPE)


def test_a_sheet_that_was_taken_is_not_damped_again():
    """It is in hand before its pull: three more are needed, and three are there."""
    b = Bench(recipe(each=[INK, "{do: Blot, hands: clean, uses: sheet}", PULL, LIFT],
                     damp=SPRAYED), wanted=2)
    b.tread()
    b.advance(60)
    b.until("Blot")
    assert b.packs[0].left == 3
    b.tread()
    assert all(key.step != DAMP_IN for key in choosable_tasks(b.room, b.s, b.t))


def test_a_pack_in_the_water_can_be_taken_out_until_somebody_is_at_it():
    """The printer may choose it while it soaks; once it is in hand it is offered to nobody."""
    b = Bench(recipe(damp=SOAK), wanted=4)
    b.until(IN)
    b.tread()
    out = TaskKey(DAMP_OUT, pack=b.packs[0].id)
    b.advance(10)
    assert out in choosable_tasks(b.room, b.s, b.t)
    b.say(a.Choose(out))
    b.tread()  # the wash comes first
    assert b.s.hand == out
    assert out not in choosable_tasks(b.room, b.s, b.t)


def test_the_next_pack_goes_in_so_that_it_is_ready_when_this_one_runs_out():
    """Soak, rest, both handlings and a sheet take 64.5 min; a sheet is 13.5: at four left."""
    b = Bench(recipe(damp=SOAK.replace("pack: 4", "pack: 12")), wanted=20)
    assert b.s.shape.cycle_ms == 13.5 * MIN
    b.work(IN)
    b.advance(30)
    b.until(OUT)
    b.work(OUT)
    left = []
    while len(b.packs) == 1:
        if b.hand == "Pull":
            left.append(b.packs[0].left)
        b.tread()
    assert left == [11, 10, 9, 8, 7, 6, 5, 4]
    assert b.packs[1].sheets == 22 - 8 - 4


def test_no_pack_more_than_needed_goes_in():
    """One sheet of three is wanted still and three are damp."""
    b = Bench(DAMP, wanted=1)
    b.to_close()
    assert [p.sheets for p in b.packs] == [3]
    assert b.packs[0].left == 0


def test_after_enough_no_pack_goes_in():
    """The printer stops: what is damp will do."""
    b = Bench(DAMP, wanted=8)
    b.say(a.Enough())
    b.tread()
    assert b.hand == "Screws"


def test_the_sheets_come_out_when_their_soak_is_over_and_their_age_counts_from_then():
    """Going on ends the taking out; the rest begins."""
    b = Bench(DAMP, wanted=2)
    b.work(IN)
    b.advance(30)
    assert b.packs[0].age_ms(b.t) is None
    b.tread()  # answers the soak's call
    b.work("Screws")
    assert b.hand == OUT
    b.work(OUT, 3)
    pack = b.packs[0]
    assert (pack.where(b.t), pack.age_ms(b.t), pack.ready_t) == ("resting", 0, b.t + 15 * MIN)
    b.advance(15)
    assert b.packs[0].where(b.t) == "ready"


def test_what_is_not_soaked_is_out_at_once():
    """Sprayed sheets rest from the moment they are stacked."""
    b = Bench(recipe(damp=SPRAYED), wanted=2)
    assert b.hand == "Spray the sheets and stack them"
    b.tread()
    assert b.packs[0].where(b.t) == "resting"
    b.advance(60)
    assert b.packs[0].where(b.t) == "ready"


def test_inky_hands_are_washed_before_the_paper_is_waited_for():
    """The wipe is over and the sheets soak: the wash, the wait with clean hands, the sheets out."""
    b = Bench(DAMP, wanted=2)
    b.works([IN, "Screws", "Ink"])
    assert b.hand == "Wash and dry hands"
    b.tread()
    assert (b.hand, b.hands) == (None, "clean")
    b.advance(30)
    assert b.hand is None  # they call until the printer comes
    b.advance(2)
    b.tread()  # the call
    assert b.hand == OUT
    b.work(OUT, 3)
    assert [(w.finished_t or 0) - w.started_t for w in b.ended(OUT)] == [3 * MIN]
    assert (b.hand, b.packs[0].where(b.t)) == (None, "resting")
    b.advance(15)
    assert b.hand == "Pull"
    assert len(b.ended("Wash and dry hands")) == 1


def test_with_a_helper_the_paper_is_waited_for_without_a_wash():
    """Clean hands are there; when the helper leaves, the wash comes, still before the wait."""
    b = Bench(DAMP, wanted=2)
    b.say(a.Helper(joins=True))
    b.works([IN, "Screws", "Ink"])
    assert b.hand is None
    b.say(a.Helper(joins=False))
    assert b.hand == "Wash and dry hands"


def test_a_tread_takes_the_sheets_out_before_their_time_and_says_so_first():
    """Nothing is in hand but a pack in the water: how early is said before the tread."""
    b = Bench(DAMP, wanted=2)
    b.works([IN, "Screws", "Ink", "Wash and dry hands"])
    b.advance(20)
    assert b.view.next == f"{OUT} (10 min early)"
    b.tread()
    assert b.hand == OUT


def test_a_tread_takes_one_sheet_of_a_pack_that_rests_and_the_pack_goes_on_resting():
    """It says first how long the sheet has rested; no pack is ready because it was waited for."""
    b = Bench(DAMP, wanted=2)
    b.works([IN, "Screws", "Ink", "Wash and dry hands"])
    b.tread(2)
    assert (b.hand, b.packs[0].where(b.t)) == (None, "resting")
    b.advance(6)
    assert b.view.next == "Pull (the sheet has rested 6 min of 15 min)"
    assert b.tread() == ["sheet taken", "sheet out", "step started"]
    assert (b.hand, b.packs[0].where(b.t), b.packs[0].left) == ("Pull", "resting", 3)
    b.works(["Pull", "Lift", "Ink", "Wash and dry hands"])
    assert b.hand is None
    b.advance(9)
    assert b.hand == "Pull"
    assert b.entries("ready said") == []


def test_a_sheet_is_taken_when_its_step_begins_from_the_oldest_ready_pack():
    """The impression knows its pack, and the pack has one less."""
    b = Bench(DAMP, wanted=8)
    printing(b)
    b.say(a.DampPack(4))
    b.say(a.SheetsOut())
    b.advance(20)
    first, second = b.packs
    assert [p.where(b.t) for p in b.packs] == ["ready", "ready"]
    b.until("Pull")
    assert b.s.impressions[0].sheets == (first.id,)
    assert [p.left for p in b.packs] == [3, 4]
    assert second.id != first.id


def test_a_pull_without_a_damp_sheet_asks_and_is_never_refused():
    """The pedal alone does not pull it; said in words it does, its sheet unknown."""
    b = Bench(DAMP, wanted=1)
    b.say(a.SkipStep("none left"))
    b.until("Pull")
    assert NONE_READY in b.view.warnings
    assert b.view.now.must == ("a damp sheet of no pack", "a dry sheet")
    asked = b.refused(a.GoOn())
    assert asked.why == f"{NONE_READY}: which? 1 a damp sheet of no pack, 2 a dry sheet"
    assert b.refused(a.Must("a wet one")).must == asked.must
    assert b.say(a.Must("a dry sheet")) == ["sheet taken"]
    assert (b.hand, b.view.now.must, NONE_READY in b.view.warnings) == ("Pull", (), False)
    b.tread()
    b.until("Pull")
    b.say(a.Must("a damp sheet of no pack"))
    b.back()
    assert b.view.now.must == asked.must
    b.say(a.Must(None))
    assert b.hand == "Lift"
    assert [(i.mark, i.sheets, i.damp) for i in b.sheets] == [
        ("D1", (None,), False), ("D2", (), None)]
    read = review_session(b.book.entries(), b.s.id)
    assert [(i["packs"], i["sheet_damp"]) for i in json_values(read)["impressions"]] == [
        ([None], False), ([], None)]
    assert "  D1: a dry sheet" in review_text(read)


def test_a_pull_chosen_while_the_pack_rests_asks_for_its_sheet_too():
    """One of that pack is an answer, and it is one less; a pack that is ready asks nothing."""
    b = Bench(DAMP, wanted=2)
    b.works([IN, "Screws", "Ink", "Wash and dry hands"])
    b.tread(2)
    b.say(a.Choose(b.key("Pull", 1)))
    assert b.view.now.must[-1] == UNREADY
    b.say(a.Must(UNREADY))
    assert (b.s.impressions[0].sheets, b.packs[0].left, b.packs[0].where(b.t)) == (
        (b.packs[0].id,), 3, "resting")
    b.back()
    b.advance(15)
    assert b.view.now.must == ()
    b.tread()
    assert b.sheets[0].sheets == (b.packs[0].id,)


def test_inky_hands_are_not_asked_for_the_sheet():
    """A recipe may take its sheet in an inky step: nothing is answered then, so it goes on."""
    b = Bench(recipe(each=["{do: Ink and lay, hands: inky, uses: sheet}", PULL, LIFT], damp=SOAK))
    b.say(a.SkipStep("none left"))
    assert (b.hand, b.view.now.must) == ("Ink and lay", ())
    b.works(["Ink and lay", "Wash and dry hands", "Pull"])
    assert b.sheets[0].sheets == ()


def test_no_paper_is_said_before_the_plates_are_inked():
    """All day how many there are; none, from the moment the pack is passed by."""
    b = Bench(DAMP, wanted=3)
    none = "There is no damp sheet for the next pull: damp some before you ink"
    assert (b.view.paper, b.view.warnings) == ("no damp sheet", ())
    b.say(a.SkipStep("later"))
    assert (b.hand, b.view.warnings) == ("Screws", (none,))
    b.tread()
    assert (b.hand, b.view.warnings) == ("Ink", (none,))
    b.say(a.DampPack(1))
    assert (b.view.paper, none in b.view.warnings) == ("1 damp sheet", False)
    b.say(a.SheetsOut())
    b.advance(15)
    b.until("Lift")
    assert (b.view.paper, b.view.warnings) == ("no damp sheet", (none,))
    b.until("Wash and dry hands")
    assert b.view.warnings == ("There is no damp sheet for this pull",)
    b.say(a.DampPack(None))
    assert Bench(recipe(), wanted=1).view.paper == ""


def test_plates_that_would_wait_for_paper_too_long_are_said_before_they_are_inked():
    """Sprayed and resting an hour: inked in 5 min and washed for, the plate waits 53; it may 15."""
    b = Bench(recipe(damp=SPRAYED), wanted=2)
    b.tread()
    told = "Damp sheets are ready in 1 h: ink later, or the plate waits about 53 min"
    assert (b.hand, b.view.warnings) == ("Ink", (told,))
    b.advance(43.6)
    assert b.view.warnings == ()


def test_a_pack_skipped_is_passed_by_for_the_day():
    """With the reason, and nothing asks again."""
    b = Bench(DAMP, wanted=1)
    b.say(a.SkipStep("paper is ready from last week"))
    assert b.hand == "Screws"
    b.to_close()
    assert (b.packs, [w.why for w in b.ended(IN)]) == ([], ["paper is ready from last week"])


def test_a_pack_is_too_old_after_what_the_recipe_says_it_keeps():
    """A warning at 48 h, with its age."""
    b = Bench(DAMP, wanted=2)
    printing(b)
    b.advance(48 * 60 - 15)
    assert not any("damp for" in w for w in b.view.warnings)
    b.advance(1)
    musty = "look; if it smells musty, throw the paper away"
    assert f"Sheets damp for 48 h: {musty}" in b.view.warnings


def test_the_printer_says_that_a_pack_went_in_and_came_out():
    """By words, at any time; with how many, or as many as are needed."""
    b = Bench(DAMP, wanted=2)
    assert b.say(a.DampPack(5)) == ["put in", "step finished", "step started"]
    assert (b.packs[0].sheets, b.hand) == (5, "Screws")
    b.say(a.SheetsOut())
    assert b.packs[0].where(b.t) == "resting"
    assert b.refused(a.SheetsOut()).why == "No pack is in the water"
    assert b.refused(a.DampPack(0)).why == "0 sheets: not between 1 and 10000"


def test_a_recipe_that_damps_no_paper_asks_for_none_and_takes_none():
    """Ready paper: no steps, no warning, and `damped` says why not."""
    b = Bench(recipe(), wanted=1)
    assert b.hand == "Ink"
    assert b.refused(a.DampPack(3)).why == "This recipe does not damp its paper"
    b.until("Pull")
    assert b.view.warnings == ()


def test_a_sheet_taken_out_has_a_clock_of_its_own_and_a_warning_after_it():
    """Five minutes, common practice."""
    b = Bench(DAMP, wanted=1)
    printing(b)
    b.say(a.MoveSheet("out"))
    assert SHEET_OPEN_MS == 5 * MIN
    clock = next(c for c in b.view.clocks if c.name == "Sheet out of its pack")
    assert (clock.count.ms, b.packs[0].left) == (5 * MIN, 1)
    b.advance(5.1)
    assert ("A sheet has been out of its pack more than 5 min: spray it, put it back, "
            "or print it") in b.view.warnings


def test_a_sheet_lying_open_is_sprayed_put_back_or_dried():
    """Sprayed its clock begins again; back the pack has it again; dried it is gone."""
    b = Bench(DAMP, wanted=1)
    printing(b)
    b.say(a.MoveSheet("out"))
    b.advance(4)
    b.say(a.MoveSheet("sprayed"))
    assert b.packs[0].open == (b.t,)
    b.say(a.MoveSheet("back"))
    assert (b.packs[0].left, b.packs[0].open) == (2, ())
    b.say(a.MoveSheet("out"))
    b.say(a.MoveSheet("dried"))
    assert (b.packs[0].left, b.packs[0].open) == (1, ())
    assert b.refused(a.MoveSheet("back")).why == "No sheet is out of its pack"


def test_a_sheet_lying_open_is_the_one_that_is_printed():
    """No second one is taken from the pack."""
    b = Bench(DAMP, wanted=1)
    printing(b)
    b.work("Pull")
    b.say(a.MoveSheet("out"))
    assert (b.packs[0].left, len(b.packs[0].open)) == (1, 1)
    b.until("Pull")
    assert (b.packs[0].left, b.packs[0].open) == (1, ())
    assert b.s.impressions[1].sheets == (b.packs[0].id,)


def test_a_sheet_lying_open_of_a_later_pack_goes_before_the_oldest():
    """It dries; the ones between boards do not."""
    b = Bench(DAMP, wanted=8)
    printing(b)
    b.say(a.DampPack(4))
    b.say(a.SheetsOut())
    b.advance(20)
    first, second = b.packs
    b.work("Pull")
    b.say(a.MoveSheet("out", second.id))
    b.until("Pull")
    assert b.s.impressions[1].sheets == (second.id,)
    assert [(p.left, p.open) for p in b.packs] == [(3, ()), (3, ())]
    assert b.packs[0].id == first.id


def test_an_inked_plate_and_a_pulled_sheet_come_before_the_paper():
    """The soak of the second pack is over at the wash: pull, lift, and then the sheets out."""
    b = Bench(DAMP, wanted=8)
    printing(b)
    b.works(["Pull", "Lift"])
    b.say(a.DampPack(4))
    assert b.hand == "Ink"
    b.advance(31)
    b.works(["Ink", "Wash and dry hands", "Pull", "Lift"])
    assert b.hand == OUT


def test_no_sheet_comes_out_of_a_pack_still_in_the_water():
    """Out is said first."""
    b = Bench(DAMP, wanted=2)
    b.work(IN)
    assert b.refused(a.MoveSheet("out")).why == "No pack is out of the water"


def test_the_sheet_step_takes_it_where_one_is_named():
    """`uses: sheet` on an earlier step than the pull."""
    b = Bench(recipe(each=[INK, "{do: Blot, hands: clean, uses: sheet}", PULL, LIFT],
                     damp=SPRAYED), wanted=1)
    b.tread()
    b.advance(60)
    b.until("Blot")
    assert b.s.impressions[0].sheets == (b.packs[0].id,)
    b.until("Pull")
    assert b.packs[0].left == 2


def test_what_is_left_over_follows_the_answer():
    """Dried or none: put away; wrapped: it stays for tomorrow."""
    for fact, where in (("dried", "put away"), ("none", "put away"), ("wrapped", "ready")):
        b = Bench(recipe(before=[SCREWS], after=[SHEETS, PLATE_CLEAN, RAGS], damp=SOAK), wanted=2)
        printing(b)
        b.until("Pull")
        b.say(a.Enough())
        b.until("Left-over damp sheets")
        b.say(a.Must(fact))
        assert b.packs[0].where(b.t) == where, fact
        assert (b.packs[0].away is None) == (fact == "wrapped")


def test_a_wrapped_pack_is_found_by_the_next_session():
    """It belongs to the book: the next day begins with it, and its age has gone on."""
    b = Bench(recipe(after=[SHEETS], damp=SOAK), wanted=2)
    b.work(IN)
    b.advance(30)
    b.until(OUT)
    b.work(OUT)
    b.until("Pull")
    b.say(a.Enough())
    b.until("Left-over damp sheets")
    b.say(a.Must("wrapped"))
    assert b.s.closed is not None
    b.clock.advance(20 * HOUR)
    b.open(recipe(after=[SHEETS], damp=SOAK), wanted=1)
    assert b.hand == "Ink"
    assert b.packs[0].age_ms(b.t) == 20 * HOUR


def test_a_pack_forgotten_for_more_than_a_week_is_listed_and_not_counted_on():
    """It stays in the studio with its warning, and a new pack goes in first."""
    b = Bench(DAMP, wanted=2)
    b.work("Sheets into the water", 3)
    b.go()
    old = b.packs[0].id
    b.advance(8 * 24 * 60)
    pack = b.room.packs[old]
    assert pack.there
    assert pack.too_old(b.t)
    assert not pack.usable(b.t)


def test_one_sheet_is_one_sheet_wherever_it_is_counted():
    """In the water, resting, in the Studio, the list of damp paper and the review of the day."""
    b = Bench(DAMP, wanted=1)
    b.say(a.DampPack(1))
    names = [c.name for c in b.view.clocks]
    b.advance(31)
    b.say(a.SheetsOut())
    names += [c.name for c in b.view.clocks]
    assert ("1 sheet in the water" in names, "1 sheet resting" in names) == (True, True)
    day = review_session(b.book.entries(), b.s.id)
    rows = ["".join(text for text, _ in row.spans) for row in review_rows(day, 100)]
    listed = listed_pack(studio_view(b.room, b.now).in_water[0])
    said = [*names, *rows, listed, *(c.text for c in b.view.calls), *status_lines(b.room, b.now)]
    assert [x for x in said if "1 sheets" in x] == []
    assert "1 sheet · resting" in listed
    assert any("cotton: 1 sheet · in" in x for x in rows)
