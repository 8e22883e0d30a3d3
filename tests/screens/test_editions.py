"""Boards, Sort and Edition: what they show, and what their keys write into the book."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from benchapp.drying.stacks import wall_time
from benchapp.edition import actions as acts
from benchapp.events.moments import local_time
from benchapp.files import papers_folder
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.screens.days import DAY, MINUTE, Screens, closed, opened, printed, run, screens, workshop
from tests.screens.support import until

#: D3 to D5 numbered in turn, D6 the BAT.
SORTED = ("E", "E", "E", "B")
PEAR = "pear on a sill · idony threlwick"
RECIPE = """\
recipe: 1
print: {title: "Pear on a Sill", artist: Idony Threlwick, edition: 5, proofs: {AP: 1}}
plates: [{name: key, metal: copper, size: 100 x 140 mm}]
press: {pitch: 2 mm, left side: 3 turns}
each:
  - {do: Ink, hands: inky, time: 5 min}
  - {do: Pull, hands: clean, pulls: key}
  - {do: Lift, hands: clean, asks: [verdict, tags, note]}
drying:
  - {do: Change blotters, after: 3 h}
  - {do: Turn them, every: 1 day, for: 2 days}
"""


def dried(verdicts: tuple[str, ...] = ("keep", "keep", "doubtful", "keep"),
          ) -> tuple[SessionService, str]:
    """The morning after a day of two warm-ups and four sheets, judged so; its session's id."""
    shop, clock = workshop()
    session = opened(shop, RECIPE)
    shop.do(a.Set("left side", "3 turns"))
    printed(shop, clock, 5)
    closed(shop, clock)
    for n, verdict in enumerate(verdicts, 3):
        shop.do(a.Judge(verdict, n))
    shop.do(a.Tag("salty", impression=5))
    shop.leave_bench()
    clock.advance(20 * 60 * MINUTE)
    return shop, session


def held(here: Screens) -> dict[str, str]:
    """What each sheet became, by its mark, from the book."""
    e = here.shop.editions.register.edition(PEAR)
    return {h.mark: f"{h.bears.kind} {h.bears.number}" for h in e.holdings.values()
            if h.bears is not None}


def test_a_whole_sitting_by_one_switch() -> None:
    """Each tread gives the sheet that was judged keep its next number, and passes the others."""
    shop, session = dried()

    async def work() -> None:
        async with screens(shop, over="sort", session=session, size=(120, 40)) as here:
            await here.shows("Sort · Pear on a Sill", "next sheet: D3 → 1/5", "○ not judged")
            for _ in range(4):
                await here.press("space")
                here.shop.clock.advance(2_000)
            await here.shows("D6", "3/5")
            assert held(here) == {"D3": "edition 1", "D4": "edition 2", "D6": "edition 3"}
            assert here.text.count("2/5") == 1

    run(work())


def test_a_sheet_is_read_beside_the_standard() -> None:
    """The BAT's verdict and tags stand beside those of the sheet in hand."""
    shop, session = dried()

    async def work() -> None:
        async with screens(shop, over="sort", session=session, size=(120, 40)) as here:
            await here.shows("no BAT is approved yet")
            await here.press("B")
            await here.shows("D3", "BAT")
            await here.press("down")
            await here.shows("D5", "against D3, the BAT",
                             "verdict: doubtful · BAT: keep", "salty · BAT: nothing",
                             "left side: 3 turns · the same")

    run(work())


def test_what_a_sheet_becomes_is_changed_by_hand_and_taken_back() -> None:
    """A number typed, a proof picked, taken back, destroyed with its reason."""
    shop, session = dried()

    async def work() -> None:
        async with screens(shop, over="sort", session=session) as here:
            await here.press("N")
            await here.typed("4")
            await here.press("P")
            await here.shows("Keep D4 as", "3  PP: printer's proof")
            await here.press("3")
            assert held(here) == {"D3": "edition 4", "D4": "PP 1"}
            await here.press("up", "backspace")
            assert held(here) == {"D3": "edition 4"}
            await here.press("delete")
            await here.typed("creased")
            e = here.shop.editions.register.edition(PEAR)
            assert [h.destroyed.why for h in e.holdings.values() if h.destroyed] == ["creased"]
            await here.press("home", "E")
            await here.shows("was pulled as warm-up")
            assert held(here) == {"D3": "edition 4"}

    run(work())


def signed(here: Screens) -> list[str]:
    """The marks of the sheets recorded as signed, from the book."""
    e = here.shop.editions.register.edition(PEAR)
    return sorted(h.mark for h in e.holdings.values() if h.signed)


def test_signing_shows_each_sheet_with_its_number_and_every_warning_first() -> None:
    """Judged doubtful, not judged, the BAT, too early, under boards: all before the answer."""
    shop, session = dried(("keep", "keep", "doubtful"))

    async def work() -> None:
        async with screens(shop, over="sort", session=session, size=(120, 40)) as here:
            await here.press(*SORTED)
            await here.press("S")
            await here.shows(
                "Record 4 sheets as signed? You cannot undo this",
                "1/5 · D3", "2/5 · D4", "3/5 · D5",
                "BAT · D6", "! judged doubtful", "! not judged", "! it is the BAT",
                "! still under boards", "! too early: sign from 13 May 2026 (common practice)")
            await here.press("space", "enter", "S", "2", "9")
            assert signed(here) == []
            await here.press("escape")
            assert signed(here) == []

    run(work())


def test_sheets_are_left_out_of_the_list_one_by_one() -> None:
    """Only what is left in it is recorded; one that was put back is in it again."""
    shop, session = dried(("keep", "keep", "doubtful"))

    async def work() -> None:
        async with screens(shop, over="sort", session=session, size=(80, 24)) as here:
            await here.press(*SORTED)
            await here.press("S")
            await here.shows("Record 4 sheets")
            await here.press("minus")
            await here.shows("Record 3 sheets", "left out")
            await here.press("end", "minus", "home", "plus")
            await here.shows("Record 3 sheets")
            await here.press("1")
            await until(here.pilot, lambda: signed(here) == ["D3", "D4", "D5"])
            await here.shows("1/5, signed")
            await here.press("S")
            await here.shows("Record 1 sheet as signed", "BAT · D6")
            await here.press("minus", "1")
            await here.shows("Record no sheet as signed")
            assert signed(here) == ["D3", "D4", "D5"]

    run(work())


def test_an_edition_is_signed_from_its_own_screen() -> None:
    """The same list, of all its sheets, in the order of their numbers."""
    shop, _ = dried(("keep", "keep", "doubtful"))
    register = shop.editions.register
    d3, d4 = (s.id for s in register.sheets.values() if s.mark in ("D3", "D4"))
    shop.editions.do(acts.GiveNumbers(PEAR, ((d3, 2), (d4, 1))))

    async def work() -> None:
        async with screens(shop, over="edition", size=(120, 40)) as here:
            await here.press("S")
            await here.shows("Record 2 sheets as signed?", "No BAT is approved yet")
            assert here.text.index("1/5 · D4") < here.text.index("2/5 · D3")
            await here.press("down", "minus", "1")
            await until(here.pilot, lambda: signed(here) == ["D4"])
            await here.press("S")
            await here.shows("2/5 · D3")
            await here.press("1")
            await until(here.pilot, lambda: signed(here) == ["D3", "D4"])
            await here.press("S")
            await here.shows("Nothing to sign: number the sheets first.")

    run(work())


def test_making_a_numbered_sheet_the_bat_is_asked() -> None:
    """It says which number would be free again; without a yes nothing changes."""
    shop, session = dried()

    async def work() -> None:
        async with screens(shop, over="sort", session=session) as here:
            await here.press("E")
            await here.press("up", "B")
            await here.shows("D3 is 1/5. Change it to the BAT?",
                             "yes: D3 becomes the BAT, and 1/5 is free again")
            await here.press("space", "enter", "B")
            assert held(here) == {"D3": "edition 1"}
            await here.press("escape")
            assert held(here) == {"D3": "edition 1"}
            await here.press("A")
            await here.shows("D3 is 1/5. Change it to AP?")
            await here.press("escape", "B", "1")
            await until(here.pilot, lambda: held(here) == {"D3": "BAT None"})

    run(work())


def test_a_change_that_is_not_due_is_asked_about_before_it_is_written() -> None:
    """A stray key writes nothing; the answer by its key does."""
    shop, _ = dried()

    async def work() -> None:
        async with screens(shop, over="boards", size=(80, 24)) as here:
            await here.shows("late since yesterday 18:00: Change", "09:00: Turn them")
            await here.press("home", "c")  # what is late is written at once
            await here.press("home", "c")
            await here.shows("Not due yet: 09:00: Turn them", "1  I have changed them already")
            await here.press("escape")
            (stack,) = here.shop.stacks().up
            assert len(stack.answers) == 1
            await here.press("c")
            await here.shows("Not due yet")
            await here.press("1")
            await here.shows("Under boards")
            (stack,) = here.shop.stacks().up
            assert [x.how for x in stack.answers.values()] == ["late", "done"]

    run(work())


def test_the_boards_say_what_is_due_and_take_down_what_was_done() -> None:
    """Late and due changes on top; changed and left are entries."""
    shop, _ = dried()

    async def work() -> None:
        async with screens(shop, over="boards", size=(120, 40)) as here:
            await here.shows("Changes, and when they are due", "Change blotters",
                             "Turn them", "D6, D5, D4, D3")
            await here.press("home", "c")
            await here.press("x")
            await here.typed("dry enough")
            (stack,) = here.shop.stacks().up
            assert sorted((x.how, x.why) for x in stack.answers.values()) == [
                ("late", None), ("skipped", "dry enough")]
            await here.press("end", "w")
            await here.typed("12 kg")
            await here.shows("12 kg on it")
            await here.press("delete", "1")
            await here.shows("Nothing is under boards.")

    run(work())


def test_the_editions_list_every_print_and_name_a_clash() -> None:
    """Size, what is numbered, what is next; a number on two sheets stands there till resolved."""
    shop, session = dried()
    register = shop.editions
    assert register.do(acts.GiveNumbers(PEAR, ((f"{session}#3", 2),))).ok
    label = acts.SheetLabel("edition", 2)
    assert register.do(acts.Correct(PEAR, f"{session}#4", label, "pencil")).ok

    async def work() -> None:
        async with screens(shop, over="edition", size=(120, 40)) as here:
            await here.shows("Pear on a Sill", "of 5", "next 3", "2/5 is on D3",
                             "declared 5 · printed 6")
            await here.press("t")
            await here.shows("Sort · Pear on a Sill")

    run(work())


def test_where_every_sheet_is_is_asked_and_taken_down() -> None:
    """From the editions by w; a number leads to its line; a gallery has terms, a day and a name,
    and the name stays hidden until it is asked for."""
    shop, session = dried()
    assert shop.editions.do(acts.GiveNumbers(PEAR, (
        (f"{session}#3", 1), (f"{session}#4", 2), (f"{session}#6", 3)))).ok

    async def work() -> None:
        async with screens(shop, over="edition", size=(120, 40)) as here:
            await here.press("w")
            await here.shows("Where · Pear on a Sill", "0 out", "1/5  D3",
                             "0 signed in the studio, 3 not signed, 3 without a number",
                             "In the studio, not signed")
            await here.press("w")
            await here.typed("9")
            await here.shows("No sheet is 9/5; 9 is not between 1 and 5")
            await here.press("escape", "w")
            await here.typed("last:1")
            await here.shows("last:1 has no number in this edition")
            await here.press("escape", "w")
            await here.typed("2/5")
            await here.press("g", "1")
            await here.typed("soon")
            await here.shows('"soon" is not a day')
            await here.press("escape")
            await here.press("g", "1")
            await here.typed("2026-11-30")
            await here.shows("stays at home")
            await here.typed("Ms Auk")
            await here.shows("consignment, due back 30 Nov 2026",
                             "own words: o shows them", "1 out",
                             "1 with a gallery (due 30 Nov 2026)", "With a gallery")
            assert "Auk" not in here.text
            await here.press("o")
            await here.shows("own words  to: Ms Auk")
            await here.press("p")
            await here.shows("This gallery's list: 1 sheet")
            await here.press("1")
            await here.shows("Written:")
            (page,) = papers_folder().iterdir()
            assert "2/5" in page.read_text()
            assert "Ms Auk" not in page.read_text()
            await here.press("s")
            await here.typed("Mr Tern")
            await here.shows("sold", "own words  to: Mr Tern")
            await here.press("i", "1")
            await here.shows("in the drawer", "0 out")
            await here.press("l", "1")
            await here.shows("1 lost", "last in the drawer")
            await here.press("p")
            await here.shows("Choose a sheet that is with a gallery first")
            await here.press("s")
            await here.typed("Mr Tern")
            await here.shows("is lost; record that it came back")
            await here.press("escape", "home", "delete")
            await here.typed("torn in the frame")
            await here.shows("1/5  D3, destroyed: torn in the frame")
            private = [x for x in shop.book.streams("print") if x.endswith("/private")]
            assert [e.body["words"] for x in private for e in shop.book.stream(x)] == [
                {"to": "Ms Auk"}, {"to": "Mr Tern"}]

    run(work())


def test_a_sheet_past_the_day_it_is_due_back_is_named_in_the_studio_and_on_its_line() -> None:
    """Not on the day itself; from the day after on, until it is back."""
    shop, session = dried()
    one, two = f"{session}#3", f"{session}#4"
    today = local_time(shop.now()).date()
    assert shop.editions.do(acts.GiveNumbers(PEAR, ((one, 1), (two, 2)))).ok
    for sheet, due in ((one, today), (two, today - timedelta(days=2))):
        assert shop.editions.do(acts.HandOut(PEAR, sheet, "gallery", due=due.isoformat())).ok

    async def work() -> None:
        async with screens(shop, size=(120, 40), asking=False) as here:
            await here.shows("g  overdue back: Pear on a Sill 2/5")
            assert "Sill 1/5" not in here.text
            await here.press("g", "w")
            await here.shows("2 out · 1 overdue", "2 with a gallery (1 overdue since ",
                             "! 2 days overdue")
            assert here.text.count("days overdue") == 1
            await here.press("down", "i", "1", "escape", "escape")
            await here.shows("Under boards")
            assert "overdue" not in here.text

    run(work())


def test_the_studio_says_what_the_boards_want_and_leads_there() -> None:
    """Under boards: what is late; b opens the boards, g the editions, t sorts."""
    shop, _ = dried()

    async def work() -> None:
        async with screens(shop, size=(120, 40), asking=False) as here:
            await here.shows("Under boards", "! late since yesterday")
            for key, shown in (("b", "Changes, and when they are due"), ("g", "Editions")):
                await here.press(key)
                await here.shows(shown)
                await here.press("escape")

    run(work())


def test_what_to_change_is_read_whole_on_a_narrow_screen() -> None:
    """Under boards at 60 columns: two changes of one stack are told apart, the stack below."""
    shop, clock = workshop()
    opened(shop, RECIPE.replace("Turn them", "Change blotters and every tissue"))
    printed(shop, clock, 2)
    closed(shop, clock)
    shop.leave_bench()
    clock.advance(20 * 60 * MINUTE)

    async def work() -> None:
        async with screens(shop, over="boards", size=(60, 20), asking=False) as here:
            await here.shows("Change blotters and every tissue\n", "Pear on a Sill, 20")
            assert "…" not in here.text

    run(work())


def test_nothing_is_numbered_with_inky_hands() -> None:
    """While another print is being inked, the register is only read."""
    shop, session = dried()
    opened(shop, RECIPE)
    shop.do(a.GoOn())
    shop.clock.advance(DAY // 48)
    assert shop.room.inky

    async def work() -> None:
        async with screens(shop, "bench", over="sort", session=session) as here:
            await here.press("E")
            await here.shows("Hands are inky; wash first")
            assert held(here) == {}

    run(work())


def shots(folder: Path) -> None:
    """Pictures of the three screens, to be looked at."""
    shop, session = dried()
    shop.editions.do(acts.GiveProof(PEAR, f"{session}#3", "BAT", by="I. T."))

    async def work() -> None:
        for name, about in (("sort", {"session": session}), ("boards", {}), ("edition", {}),
                            ("where", {})):
            for size in ((80, 24), (120, 40)):
                async with screens(shop, over=name, size=size, **about) as here:
                    (folder / f"{name}-{size[0]}.svg").write_text(here.app.export_screenshot())

    assert wall_time(shop.now())
    run(work())
