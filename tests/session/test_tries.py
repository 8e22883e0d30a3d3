"""A try given up before its pull: why, what is said of it afterwards, and where its sheet goes."""

from __future__ import annotations

from benchapp.history.stats import learn_stats
from benchapp.reports.json_form import json_values
from benchapp.reports.review import review_session
from benchapp.reports.review_blocks import review_text
from benchapp.session import actions as a
from benchapp.session.fold import replay_entries
from tests.session.support import INK, LIFT, PULL, RAGS, SOAK, WARM, Bench, recipe

#: The sheet is taken as the pull begins.
DAMP = recipe(each=(WARM, INK, PULL, LIFT), after=[RAGS], damp=SOAK)


def at_the_press(b: Bench | None = None) -> Bench:
    """A pack of four, damped and rested; the first plate is inked and its sheet is taken."""
    b = b or Bench(DAMP)
    b.do(a.DampPack(4))
    b.advance(30)
    b.say(a.SheetsOut())
    b.advance(20)
    b.until("Pull")
    return b


def the_try(b: Bench) -> dict:
    """The only try of the day, as the JSON has it."""
    (found,) = json_values(review_session(b.book.entries(), b.s.id))["tries"]
    return found


def test_why_goes_to_the_try_and_its_sheet_back_into_its_pack():
    """The next sheet has no note, and the pack has all its sheets; taken back, all is as before."""
    b = at_the_press()
    assert b.packs[0].taken == 1
    b.say(a.SpoilTry(1, "creased in the hands"))
    assert the_try(b) == {
        "how": "spoiled before the pull", "tags": [], "notes": ["creased in the hands"],
        "readings": [], "look_again": False, "packs": [], "sheet": "back"}
    assert (b.packs[0].taken, b.s.impressions[1].notes) == (0, ())
    assert learn_stats([b.s]).record.spoiled == 0, "it cost no sheet"
    b.back()
    assert (b.hand, b.packs[0].taken, b.s.impressions[0].notes) == ("Pull", 1, ())


def test_a_sheet_said_to_be_lost_stays_used():
    """And is a spoiled one among the sheets a print needs."""
    b = at_the_press()
    b.say(a.SpoilTry(1, lost=True))
    found = the_try(b)
    assert (found["sheet"], found["packs"], found["notes"]) == ("lost", [b.packs[0].id], [])
    assert (b.packs[0].taken, learn_stats([b.s]).record.spoiled) == (1, 1)
    assert "  —    spoiled before the pull · sheet lost" in review_text(
        review_session(b.book.entries(), b.s.id))


def test_a_sheet_that_lies_open_beside_it_lies_there_still():
    """Another one was taken out meanwhile: its clock goes on."""
    b = at_the_press()
    b.say(a.MoveSheet("out"))
    b.say(a.Judge("spoiled"))
    assert (b.packs[0].taken, len(b.packs[0].open)) == (1, 1)
    b.say(a.MoveSheet("back"))
    assert (b.packs[0].taken, len(b.packs[0].open)) == (0, 0)


def test_what_is_said_next_is_about_the_try_until_work_on_the_next_sheet_is_done():
    """Note, tag and look again; then they are about the sheet in hand as before."""
    b = at_the_press()
    b.say(a.Judge("spoiled"))
    assert b.s.given_up == 1
    for action in (a.Note("a hair in the ink"), a.Tag("crease"), a.Tag("lint"),
                   a.Tag("lint", off=True), a.LookAgain()):
        b.say(action)
    assert str(b.refused(a.LookAgain())).startswith("The spoiled try is already marked to look at")
    found = the_try(b)
    assert (found["notes"], found["tags"], found["look_again"]) == (
        ["a hair in the ink"], ["crease"], True)
    assert ("  —    spoiled before the pull · sheet back in its pack · look again · crease · "
            "“a hair in the ink”") in review_text(review_session(b.book.entries(), b.s.id))
    b.until("Pull")
    b.say(a.Note("ink warmer"))
    b.say(a.LookAgain())
    assert the_try(b) == found
    assert (b.s.impressions[1].notes, b.s.impressions[1].look_again) == (("ink warmer",), True)


def test_a_pulled_sheet_in_hand_is_another_one():
    """The next plate was inked early, and its try given up with the sheet before at the lift."""
    b = Bench(recipe(each=(INK, PULL, LIFT, "{do: Boards, hands: clean}")))
    b.until("Lift")
    b.tread()
    b.say(a.Choose(b.key("Ink", 2)))
    b.say(a.Judge("spoiled"))
    assert b.hand == "Wash and dry hands"
    b.say(a.Note("a hair in the ink"))
    b.tread()
    assert (b.hand, b.s.given_up) == ("Boards", 2)
    b.say(a.Tag("lint"))
    b.say(a.LookAgain())
    assert (b.sheets[0].tags, b.sheets[0].look_again) == (("lint",), True)
    assert the_try(b)["notes"] == ["a hair in the ink"]


def test_a_try_that_is_pulled_meanwhile_is_not_given_up():
    """The line stood open while the pedal went on; lost without a sheet is refused too."""
    b = at_the_press()
    b.tread()
    assert str(b.refused(a.SpoilTry(1, "x"))) == (
        "D1 is no longer waiting for its pull; press s to judge the sheet")
    dry = Bench(recipe(), wanted=1)
    dry.until("Pull")
    assert dry.refused(a.SpoilTry(1, lost=True)).why == "This try has no damp sheet yet"


def test_a_try_of_a_book_from_before_reads_as_it_did():
    """Its sheet counts as used, and nothing was said of what became of it."""
    b = at_the_press()
    b.say(a.SpoilTry(1, lost=True))
    old = tuple(e if e.kind != "impression ended" else
                type(e)(e.id, e.stream, e.position, e.action, e.word, e.kind, e.at,
                        {"impression": 1, "how": "spoiled before the pull"})
                for e in b.book.entries())
    (found,) = json_values(review_session(old, b.s.id))["tries"]
    assert (found["packs"], found["sheet"]) == ([b.packs[0].id], None)
    assert replay_entries(old).packs[b.packs[0].id].taken == 1
