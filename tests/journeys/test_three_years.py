"""Three years of one edition through the command line, against a tally of plain dicts.

Old papers, three days and one on another computer, a gallery, a loss, mistakes put right, a plate
that fails, its cancelling. After each part list, screen, JSON, papers and CSV say what the tally
says.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from benchapp.book import Book
from benchapp.clock import FakeClock, SystemClock
from benchapp.service.sessions import SessionService
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call  # noqa: F401 - a fixture
from tests.edition.tally import ALWAYS, AWAY, PAGE, listed, shown, tally, where, words
from tests.screens.days import run, screens
from tests.service.edition_days import DAY_MS, PEAR, Studio, pear

SIZE = 24
TEXT = pear("edition: 24, proofs: {AP: 3}")
LEDGER = """\
number;kind;signed;destroyed;place;due;to;when;note
1;;ja;;sold;;Ms Auk;;
2;;;;drawer;;;;
3;;nein;water;;;;;
I;AP;yes;;framed;;;;
"""


class Paper:
    """The edition on squared paper, and the two computers it is held against."""

    def __init__(self, call: Call, folder: Path, clock: FakeClock) -> None:  # noqa: F811
        self.call, self.folder, self.clock = call, folder, clock
        self.sheets: dict[str, dict[str, Any]] = {}
        self.void: set[int] = set()
        self.cancelled = False

    # -- what is done --------------------------------------------------------------------

    def at(self, book: str, *argv: str, code: int = 0) -> str:
        """A command on one of the computers; what it said."""
        said = self.call("--book", str(self.folder / book), *argv)
        assert said.code == code, (argv, said.out, said.err)
        return said.out + said.err

    def home(self, *argv: str, code: int = 0) -> str:
        """A command in the studio."""
        return self.at("home.db", *argv, code=code)

    def day(self, letter: str, wanted: int, book: str = "home.db", warm: int = 2,
            **about: Any) -> None:
        """A day: its warm-ups and those that count; its marks are as its letter says."""
        with Book.open(self.folder / book, write=True, create=True) as open_:
            studio = Studio(open_)
            studio.clock, studio.workshop = self.clock, SessionService(open_, self.clock)
            studio.day(TEXT, wanted)
        for n in range(1, wanted + warm + 1):
            self.sheets[f"{letter}{n}"] = row(**about)

    def carry(self, one: str, other: str) -> None:
        """What one computer has goes to the other by file."""
        file = self.folder / f"{one}.jsonl"
        self.at(one, "export", "--jsonl", str(file), "--private", "--force")
        self.at(other, "import", str(file))

    def now(self, name: str, **so: Any) -> None:
        """The pencil on squared paper."""
        self.sheets[name] |= so

    def later(self, days: int) -> None:
        """So many days go by."""
        self.clock.advance(days * DAY_MS)

    # -- and what it comes to ------------------------------------------------------------

    def holds(self, book: str = "home.db") -> None:
        """Every figure, wherever it is written."""
        printed = [r for r in self.sheets.values() if not r["old"] and not r["proof of end"]]
        own, old = tally(printed), tally(r for r in self.sheets.values() if r["old"])
        (one,) = self.call("--book", str(self.folder / book), "edition", "--json").json
        told = one["figures"]
        assert told == {
            **{k: n for k, n in own.items() if k != "sheets"}, "printed": own["sheets"],
            "declared": SIZE, "numbers_used": len(one["used"]), "numbers_void": len(one["void"]),
            "numbers_free": len(one["free"]), "from_old_papers": old | {
                "out_unsigned": unsigned_out(self.sheets.values(), old=True)},
            "after_cancelling": sum(r["proof of end"] for r in self.sheets.values()),
            "out_unsigned": unsigned_out(self.sheets.values(), old=False)}
        gone = {r["number"] for r in self.sheets.values() if r["gone"] and r["kind"] == "edition"}
        used = {r["number"] for r in self.sheets.values() if r["kind"] == "edition"} - gone
        free = set(range(1, SIZE + 1)) - used - self.void - gone
        void = self.void | gone | (free if self.cancelled else set())
        assert (one["used"], one["void"], one["free"], one["clashes"]) == (
            sorted(used), sorted(void), sorted(free - void), [])
        line = self._list(book, own, old)
        self._papers(book, own, used, void, line)
        self._tables(book)

    def _list(self, book: str, own: dict[str, int], old: dict[str, int]) -> str:
        short = self.at(book, "edition").splitlines()
        whole = self.at(book, "edition", "pear").splitlines()
        assert short[1].startswith(whole[1] + " · ")
        assert shown(whole[1].strip()) == {"declared": SIZE} | {
            k: n for k, n in words(own).items() if n or k in ALWAYS}
        (line,) = (x for x in short if "from old papers " in x)
        assert line in whole
        assert shown(line.strip()) == {
            "from old papers" if k == "printed" else k: n for k, n in words(old).items()
            if n or k in ALWAYS}
        return line.strip()

    def _papers(self, book: str, own: dict[str, int], used: set[int], void: set[int],
                line: str) -> None:
        page = dict(re.findall(r"^  ([^:]+): (.*)$", self.at(book, "papers", "edition"),
                               re.MULTILINE))
        assert {k: page.get(k, "0") for k in PAGE} == {k: str(own[f]) for k, f in PAGE.items()}
        assert page["From old papers"] == line.removeprefix("from old papers ")
        assert listed(page["Numbers used"]) == sorted(used)
        assert listed(page["Void numbers"].partition(", unless")[0]) == sorted(void)
        there = [r for r in self.sheets.values() if not r["gone"] and r["kind"] == "edition"]
        assert page["Numbered and signed"] == (
            f"{sum(r['signed'] is True for r in there)}, old papers included")
        kinds = Counter(r["kind"] for r in self.sheets.values() if not r["gone"])
        assert page["AP"] == f"{kinds['AP']} of 3, beside the total"

    def _tables(self, book: str) -> None:
        (found,) = self.call("--book", str(self.folder / book), "where-is", "--json").json
        at = Counter(where(r) for r in self.sheets.values())
        assert sum(found["counts"].values()) == len(self.sheets)
        assert {p: found["counts"].get(p, 0) for p in (*AWAY, "lost", "unknown", "destroyed")} == {
            p: at[p] for p in (*AWAY, "lost", "unknown", "destroyed")}
        assert self.at(book, "where-is").splitlines()[1].strip() == found["text"]
        assert found["counts"]["signed"] == sum(
            r["signed"] is True and where(r) == "studio" and r["kind"] != "BAT"
            for r in self.sheets.values())
        for to in {r["to"] for r in self.sheets.values() if where(r) == "gallery"}:
            file = self.folder / "lent.csv"
            self.at(book, "where-is", "--gallery", to, "--csv", str(file), "--force")
            with file.open(encoding="utf-8-sig", newline="") as open_:
                rows = {(r["number"], r["of"], r["due"]) for r in csv.DictReader(open_)}
            assert rows == {(str(r["number"]), str(SIZE), r["due"]) for r in self.sheets.values()
                            if where(r) == "gallery" and r["to"] == to}
        file = self.folder / "all.csv"
        self.at(book, "export", "--csv", str(file), "--force")
        with file.open(encoding="utf-8-sig", newline="") as open_:
            assert len([*csv.DictReader(open_)]) == sum(not r["old"] for r in self.sheets.values())


def row(**said: Any) -> dict[str, Any]:
    """A sheet on the squared paper, pulled and nothing else."""
    return {"kind": None, "number": None, "signed": False, "gone": False, "place": None,
            "old": False, "to": "", "due": "", "proof of end": False, **said}


def unsigned_out(sheets: Any, *, old: bool) -> int:
    """How many left the studio without a signature."""
    return sum(where(r) in AWAY and r["signed"] is False and r["old"] == old for r in sheets)


@pytest.fixture
def paper(tmp_path: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> Paper:  # noqa: F811
    """The squared paper, with every command's clock told."""
    clock = FakeClock()
    monkeypatch.setattr(SystemClock, "now", lambda _: clock.now())
    return Paper(call, tmp_path, clock)


def _old_papers(p: Paper) -> None:
    """Four sheets from before the book, in a table of a German spreadsheet."""
    p.home("edition", "Pear on a Sill", "--artist", "Idony Threlwick", "--size", "24",
           "--proof", "AP=3")
    file = p.folder / "ledger.csv"
    file.write_bytes(LEDGER.replace("\n", "\r\n").encode("utf-8-sig"))
    p.home("edition", "pear", "--from-paper", str(file))
    for name, said in (("1", {"number": 1, "signed": True, "place": "sold"}),
                       ("2", {"number": 2, "signed": None, "place": "drawer"}),
                       ("3", {"number": 3, "gone": True}),
                       ("AP I", {"kind": "AP", "number": 1, "signed": True, "place": "framed"})):
        p.sheets[name] = row(**{"kind": "edition", "old": True, **said})


def _first_day(p: Paper) -> None:
    """Six sheets: a BAT, four numbers, a proof; two go to a gallery and one is sold."""
    p.day("D", 6)
    p.home("number", "D3", "--as", "BAT", "--by", "the artist")
    p.home("number", "D4", "D5", "D6", "D7")
    p.home("number", "D8", "--as", "AP", "--whose", "the printer")
    p.now("D3", kind="BAT")
    p.now("D8", kind="AP", number=2)
    p.later(14)
    p.home("sign", "4/24", "5/24", "6", "7", "--yes")
    for n in range(4, 8):
        p.now(f"D{n}", kind="edition", number=n, signed=True)
    p.home("where-is", "4", "5", "--now", "gallery", "--to", "The Quay", "--terms",
           "consignment", "--due", "2026-12-16")
    p.home("where-is", "6", "--now", "sold", "--to", "Mr Tern")
    for name in ("D4", "D5"):
        p.now(name, place="gallery", to="The Quay", due="2026-12-16")
    p.now("D6", place="sold")


def _second_day(p: Paper) -> None:
    """A year on: four more, a creased one, a loss; one sold by the gallery, one back from it."""
    p.later(330)
    p.day("E", 5)
    p.home("number", "E3", "E4", "E5", "E6")
    p.later(14)
    p.home("sign", "E3", "E4", "--yes")
    p.home("void", "E7", "--destroyed", "--why", "creased", "--yes")
    for i, name in enumerate(("E3", "E4", "E5", "E6")):
        p.now(name, kind="edition", number=8 + i, signed=i < 2)
    p.now("E7", gone=True)
    p.home("where-is", "7", "--now", "lost")
    p.home("where-is", "5", "--now", "sold")
    p.home("where-is", "4", "--now", "drawer")
    p.home("where-is", "8", "--now", "given", "--to", "Wren")
    for name, place in (("D7", "lost"), ("D5", "sold"), ("D4", "drawer"), ("E3", "given")):
        p.now(name, place=place)


def _apart(p: Paper) -> None:
    """Two computers print, number and correct while apart; a number is given twice."""
    p.carry("home.db", "away.db")
    p.holds("away.db")
    p.later(60)
    p.day("away G", 2, "away.db")
    p.at("away.db", "number", "G3", "14")
    p.at("away.db", "number", "G4")
    p.at("away.db", "where-is", "9", "--now", "gallery", "--to", "The Mole", "--due", "2027-12-01")
    p.at("away.db", "correct", "E6", "number", "13", "--why", "the sheet says 13", "--yes")
    p.later(60)
    p.day("G", 3)
    p.home("number", "G3", "12")
    p.home("number", "G4", "14")
    p.later(14)
    p.home("sign", "10", "12", "--yes")
    p.home("where-is", "7", "--now", "drawer")
    p.carry("away.db", "home.db")
    (one,) = p.call("--book", str(p.folder / "home.db"), "edition", "--json").json
    assert [c["text"].partition(" is on ")[0] for c in one["clashes"]] == ["14/24"]
    day = next(x["who"] for x in one["sheets"] if x["label"] == "12/24").partition(" of ")[2]
    p.home("correct", f"G4 of {day}", "number", "16", "--why", "14 was away", "--yes")
    p.carry("home.db", "away.db")
    p.now("away G3", kind="edition", number=14)
    p.now("away G4", kind="edition", number=15)
    p.now("E4", place="gallery", to="The Mole", due="2027-12-01")
    p.now("E6", number=13)
    p.now("E5", signed=True)
    p.now("G3", kind="edition", number=12, signed=True)
    p.now("G4", kind="edition", number=16)
    p.now("D7", place="drawer")


def _plate_fails(p: Paper) -> None:
    """The third year: two more, then the plate fails, and is cancelled after its last proof."""
    p.later(240)
    p.day("H", 2)
    p.home("number", "H3", "H4")
    p.later(14)
    p.home("sign", "17", "--yes")
    p.home("edition", "pear", "--cut-short", "18", "--why", "plate failed")
    p.now("H3", kind="edition", number=17, signed=True)
    p.now("H4", kind="edition", number=18)
    p.void = set(range(19, 25))
    p.holds()
    p.home("cancel-plate", "--how", "scored through", "--yes")
    p.cancelled = True
    p.day("J", 1, warm=0, **{"proof of end": True})
    p.home("number", "J1", "--as", "cancellation proof")
    p.now("J1", kind="cancellation proof")


def _mistakes(p: Paper) -> None:
    """One of each kind of mistake, put right at home; the other computer follows."""
    for argv in (("6", "not", "signed"), ("6", "signed"), ("E7", "not", "destroyed"),
                 ("8", "place", "drawer"), ("BAT", "not", "BAT"), ("old:2", "number", "11"),
                 ("11", "not", "signed"), ("AP II", "purpose", "HC", "1")):
        p.home("correct", *argv, "--why", "looked again", "--yes")
    p.now("E7", gone=False)
    p.now("E3", place="drawer")
    p.now("D3", kind=None)
    p.now("2", number=11, signed=False)
    p.now("D8", kind="HC", number=1)


@pytest.mark.parametrize("after_each", [False, pytest.param(True, marks=pytest.mark.full)])
def test_three_years_of_one_edition(paper: Paper, after_each: bool) -> None:
    """Every figure on every list, after each part too if asked; at the end on the screen too."""
    for part in (_old_papers, _first_day, _second_day, _apart, _plate_fails, _mistakes):
        part(paper)
        if after_each:
            paper.holds()
    paper.carry("home.db", "away.db")
    paper.holds("away.db")
    paper.carry("away.db", "home.db")
    paper.holds()
    said = paper.home("edition", "pear").splitlines()[1:5]
    places = paper.home("where-is").splitlines()[1].strip().split(", ")
    with Book.open(paper.folder / "home.db", write=True) as book:
        shop = SessionService(book, paper.clock)
        shop.load()

        async def look(screen: str, *parts: str) -> None:
            async with screens(shop, over=screen, print_=PEAR, size=(200, 60)) as here:
                await here.shows(*parts)

        run(look("edition", *(x for line in said for x in line.strip().split(" · "))))
        run(look("where", *places))
