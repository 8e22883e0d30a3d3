"""Corrections on the screen: chosen from what can be wrong about a sheet, with the reason."""

from __future__ import annotations

from benchapp.edition import actions as acts
from benchapp.edition.holding import SheetLabel
from tests.screens.days import run, screens
from tests.screens.test_editions import PEAR, dried


def test_what_is_wrong_about_a_sheet_is_put_right_from_a_list() -> None:
    """In Where and at Sort; each question names its sheet, and no reason means no correction."""
    shop, session = dried()
    d3, d4, d6 = (f"{session}#{n}" for n in (3, 4, 6))
    for done in (acts.GiveNumbers(PEAR, ((d3, 1), (d4, 2))), acts.Sign(PEAR, (d3,)),
                 acts.HandOut(PEAR, d3, "sold", words={"to": "Ms Auk"}),
                 acts.Destroy(PEAR, d4, "torn"), acts.VoidNumber(PEAR, 4, "a slip"),
                 acts.GiveProof(PEAR, d6, "BAT"),
                 acts.Recall(PEAR, (acts.Recalled("the ledger", 5),))):
        assert shop.editions.do(done).ok

    async def work() -> None:
        async with screens(shop, over="where", print_=PEAR, size=(120, 40)) as here:
            def edition() -> object:
                return here.shop.editions.register.edition(PEAR)

            def held(sheet: str) -> object:
                return edition().holdings[sheet]

            async def choose(name: str) -> None:
                await here.press("w")
                await here.typed(name)

            await choose("D4")
            await here.press("c")
            await here.shows("D4, 2/5: what is true?", "2/5 is D4: destroyed: torn",
                             "5  it is not destroyed")
            await here.press("5")
            await here.shows("D4, 2/5: it is not destroyed. Why?")
            await here.press("enter")
            assert held(d4).destroyed is not None
            await here.press("c", "5")
            await here.typed("was D5")
            await here.shows("not signed")
            assert held(d4).destroyed is None
            await choose("D3")
            await here.press("c", "1")
            await here.shows("Which number is pencilled on D3, 1/5?")
            await here.typed("1")
            await here.shows("The book already says that of D3")
            await here.press("escape", "c", "1")
            await here.typed("3")
            await here.shows("D3, 1/5: number 3. Why?")
            await here.typed("saw")
            await here.shows("3/5  D3")
            assert held(d3).bears == SheetLabel("edition", 3, 5)
            await here.press("c")
            await here.shows("it is not signed", "somebody else has it")
            await here.press("6")
            await here.shows("Where is D3, 3/5?", "7  lost")
            await here.press("5")
            await here.typed("gift")
            await here.press("c", "8")
            await here.shows("Who has D3, 3/5?", "stays at home")
            await here.typed("Mr Tern")
            await here.typed("no")
            assert held(d3).place.place == "given"
            assert held(d3).words_at(held(d3).place)["to"] == "Mr Tern"
            await choose("5/5")
            await here.press("c", "6")
            await here.typed("twice")
            await here.shows("No such sheet", "old:5  there is no such sheet")
            await here.press("end", "c")
            await here.shows("old:5: what is true?")
            await here.press("1")
            await here.typed("5")
            await here.typed("is")
            assert len(edition().withdrawn) == 0
            await here.press("end")
            await here.shows("Void, with no sheet", "4/5  a slip")
            await here.press("s", "c")
            await here.shows("4/5 is not void. Why?")
            await here.typed("no")
            assert 4 not in edition().voids

        async with screens(shop, over="sort", session=session, size=(80, 24)) as here:
            await here.press("end", "C")
            await here.shows("D6, BAT: what is true?", "4  it is not the BAT")
            await here.press("2", "2")
            await here.shows("Which number of its kind does D6, BAT have?")
            await here.typed("1")
            await here.typed("no")
            await here.shows("AP I/I")
            await here.press("up", "C")
            await here.shows("D5: what is true?", "3  it was pulled for something else")
            await here.press("3", "2")
            await here.typed("no")
            await here.shows("TP")
            assert here.shop.editions.register.sheets[f"{session}#5"].purpose == "TP"

        async with screens(shop, over="edition", size=(80, 24)) as here:
            await here.press("c")
            await here.shows("Pear on a Sill: to correct a sheet, press w and choose it")
            assert here.shop.editions.do(acts.CancelPlate(PEAR, "scored")).ok
            await here.press("c", "1")
            await here.shows("Pear on a Sill: its plate is not cancelled. Why?")
            await here.typed("no")
            await here.shows("the plate is not cancelled, as it was recorded: no")

    run(work())
