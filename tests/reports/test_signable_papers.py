"""What is asked of a paper before anybody signs it: it says nothing false, and no line is idle."""

from __future__ import annotations

from pathlib import Path

from benchapp.edition import actions as a
from benchapp.edition.holding import SheetLabel
from benchapp.recipe.reader import read_recipe
from benchapp.reports.documentation import (
    About,
    PaperSheet,
    documentation_sheet,
    sheet_page,
    sheet_text,
)
from benchapp.reports.sheet_history import sheet_history
from benchapp.session import actions
from benchapp.views.sheets import sheet_whole
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call, one_day  # noqa: F401 - fixtures
from tests.commands.test_edition_cli import printed as book_of_a_day  # noqa: F401 - a fixture
from tests.edition.support import HOUR, START_MS, P, number, sheet, sign, studio
from tests.edition.support import Studio as Register
from tests.reports.test_documentation import rows_of
from tests.screens.days import on_bench, opened, printed, workshop

ABOUT = About("Slack Water", "Wren Halloran")
RECIPE = """\
recipe: 1
print: {title: Slack Water, artist: Wren Halloran, edition: 30}
plates: [{name: zinc, metal: zinc, size: 198 x 148 mm}]
paper: {name: cotton, weight: 300 g/m2}
press: {pitch: 2 mm, left side: 3 turns}
each:
  - {do: Ink, hands: inky, time: 5 min}
  - {do: Pull, hands: clean, pulls: zinc}
  - {do: Lift, hands: clean, asks: [verdict]}
"""


def value(made: PaperSheet, name: str) -> str | None:
    """The one row of that name; None: there is none."""
    found = [v for p in made.parts for n, v in p.rows if n == name]
    assert len(found) < 2, found
    return found[0] if found else None


def told(s: Register, mark: str, *, private: bool = False) -> PaperSheet:
    """The history of a sheet of which no session tells."""
    return sheet_history(s.register, P, mark, None, ABOUT, private=private)


def test_a_sheet_that_is_not_to_be_signed_says_so_first_and_has_no_lines() -> None:
    """Destroyed, void, without a number, in doubt; a proof and a trial can be signed."""
    s = studio()
    s.pull(sheet("T1", purpose="SP", state="II"))
    s.do(number("K1", 1), number("K2", 2), a.GiveProof(P, "K4", "AP"), sign("K1"),
         a.Destroy(P, "K1", "water"), a.VoidNumber(P, 2, "a slip"))
    for mark, first in (("K1", "Slack Water, 1/30 is destroyed (water): not to be signed"),
                        ("K2", "Slack Water, 2/30 is void (a slip): not to be signed"),
                        ("K3", "Slack Water, K3 has no number: not to be signed")):
        made = told(s, mark)
        assert sheet_text(made)[0] == first
        assert made.to_sign == ()
        assert "____" not in "\n".join(sheet_text(made))
        assert 'class="sign"' not in sheet_page(made)
    for mark, first in (("K4", "Slack Water, AP I/III"), ("T1", "Slack Water, SP, state II")):
        made = told(s, mark)
        assert sheet_text(made)[0] == first
        assert made.to_sign == ("Artist, and date", "Printer, and date")


def test_corrections_stand_on_the_sheet_and_private_words_only_where_asked() -> None:
    """What was, what is and why; whose it is and where it went stay at home."""
    s = studio()
    s.do(a.GiveProof(P, "K1", "AP", whose="Ms Auk"),
         a.HandOut(P, "K1", "given", words={"to": "Mr Tern"}), number("K2", 8), sign("K2"),
         a.Correct(P, "K2", SheetLabel("edition", 9), "looked: it says 9"))
    assert value(told(s, "K2"), "Corrected") == "9/30, not 8/30: looked: it says 9"
    open_, private = told(s, "K1"), told(s, "K1", private=True)
    assert not {"Auk", "Tern"} & set(" ".join(sheet_text(open_)).split())
    assert value(private, "Whose it is") == "Ms Auk"
    assert value(private, "Where it was") == "given, recorded 3 May 2026; to: Mr Tern"


def test_a_sheet_is_told_by_what_was_set_on_its_day() -> None:
    """A setting once, in one spelling; the paper of the day stands for the recipe's."""
    shop, clock = workshop()
    opened(shop, RECIPE)
    for name, said in (("left side", "3 turns"), ("Left Side", "3 1/4 turns"),
                       ("paper", "old rag")):
        shop.do(actions.Set(name, said))
    printed(shop, clock, 1)
    s = on_bench(shop)
    register = Register(sheet("D1"))
    register.do(a.Declare(P, "Slack Water", "Wren Halloran", 30), number("D1", 1))
    made = sheet_history(register.register, P, "D1", sheet_whole(s, 1),
                         About("Slack Water", "Wren Halloran", (read_recipe(RECIPE),)))
    assert (value(made, "Left side"), value(made, "Paper")) == ("3.25 turns", "old rag")
    assert value(made, "Plate").startswith("zinc; 148 × 198 mm")


def test_the_edition_says_how_it_ended_and_what_came_before_the_book() -> None:
    """Cut short, the years before, the cancellation proof apart, no session's letter, no double."""
    s = studio(3)
    s.pull(sheet("L1", "2027-02-01b", purpose="cancellation proof", pulled_ms=START_MS + HOUR))
    s.do(a.Recall(P, (a.Recalled("the old list", 1), a.Recalled("the old list", 2))),
         number("K1", 3), sign("K1"), a.CutEdition(P, 4, "plate failed"),
         a.CancelPlate(P, "scored", ("key",)), a.GiveProof(P, "L1", "cancellation proof"))
    about = About("Slack Water", "Wren Halloran",
                  (read_recipe(RECIPE), read_recipe(RECIPE + "# again\n")),
                  ("2026-05-03", "2026-05-03b", "2026-11-29b"))
    made = documentation_sheet(s.register, P, about)
    assert value(made, "Size of the edition") == "declared 30, cut short at 4, plate failed"
    assert value(made, "Void numbers") == "4 to 30, unless an unsorted sheet takes one"
    assert value(made, "Printed") == "before 2026: not known; 3 May 2026 to 29 Nov 2026, 2 days"
    assert value(made, "Impressions printed before 2026") == "not known"
    assert value(made, "Impressions printed") == "3"
    assert value(made, "Pulled after the plate was cancelled") == "1"
    assert value(made, "Cancellation proof") == "L1"
    assert value(made, "Paper") == "cotton, 300 g/m2"
    text = "\n".join(sheet_text(made))
    assert "zinc: zinc" not in text
    assert "2026 b" not in text
    assert "2027 b" not in text
    s.do(a.TellPlate(P, "key", before=60))
    assert value(documentation_sheet(s.register, P, about),
                 "Impressions printed before 2026") == "60"


def test_the_command_gives_the_lines_to_sign_as_json_too(
    book_of_a_day: Path, call: Call  # noqa: F811 - the fixtures
) -> None:
    """Of a sheet that is no more there are none, and --private adds what it promises."""
    book = ("--book", str(book_of_a_day))
    for argv in (("number", "D3", "1"), ("number", "D4", "--as", "AP", "--whose", "Ms Auk"),
                 ("void", "D3", "--destroyed", "--why", "water", "--yes")):
        assert call(*book, *argv).code == 0
    gone = call(*book, "papers", "sheet", "D3", "--json").json
    assert (gone["title"], gone["to_sign"]) == (
        "Pear on a Sill, 1/5 is destroyed (water): not to be signed", [])
    private = call(*book, "papers", "sheet", "D4", "--private", "--json").json
    assert rows_of(private)["Whose it is"] == "Ms Auk"
    assert len(private["to_sign"]) == 2


def test_the_edition_s_paper_says_each_thing_once() -> None:
    """Destroyed is said with its reason alone; what has no number is called so; a figure of all
    sheets says that old papers are in it."""
    s = studio()
    s.do(number("K1", 1), sign("K1"), a.Destroy(P, "K2", "creased"),
         a.Recall(P, (a.Recalled("the ledger", 9, destroyed="water"),
                      a.Recalled("the ledger", 10, signed=True, place="sold"))))
    made = documentation_sheet(s.register, P, ABOUT)
    assert dict(made.parts[-1].rows) == {
        "1/30": "K1; signed", "9/30": "from old papers; destroyed: water",
        "10/30": "from old papers; signed; sold", "no number": "K2; destroyed: creased"}
    assert [value(made, x) for x in ("Signed", "Numbered and signed", "All, with every proof")] == [
        "1", "2, old papers included", "2, old papers included"]


def test_a_sheet_from_old_papers_is_called_so_on_its_paper() -> None:
    """Its number is no name of a sheet that was pulled here, and no line repeats its heading."""
    s = studio()
    s.do(a.Recall(P, (a.Recalled("the ledger", 9, signed=True),)))
    made = told(s, next(iter(s.e.holdings)))
    assert sheet_text(made)[0] == "Slack Water, 9/30"
    assert (value(made, "Which sheet"), value(made, "Pulled")) == (
        "a sheet from old papers", "not known, before this book")
    assert all(name != p.title for p in made.parts for name, _ in p.rows)
