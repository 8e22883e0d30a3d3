"""Generated years: every figure against a tally of plain dicts, wherever it is shown.

The tally never asks the register what became of a sheet; it only hears whether an act was done.
"""

from __future__ import annotations

import csv
import io
import random
from collections import Counter
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from benchapp.edition import actions as a
from benchapp.edition.decide import replay_register
from benchapp.edition.holding import SheetLabel
from benchapp.edition.state import Cap, Register
from benchapp.edition.whereabouts import place_groups
from benchapp.reports.documentation import About, documentation_sheet
from benchapp.reports.editions import edition_lines, edition_sheet, short_lines
from benchapp.reports.json_form import json_values
from benchapp.reports.whereabouts import lent_table, where_lines, where_report, with_galleries
from tests.edition.support import HOUR, P, Studio, declared, sheet
from tests.edition.tally import ALWAYS, AWAY, HERE, PAGE, listed, shown, tally, where, words

SIZE = 12
TODAY = date(2026, 12, 1)
NAMED = {"title": "Slack Water", "artist": "Wren Halloran"}
CAPS = {"AP": Cap(2), "HC": Cap(2, inside=True)}
KEPT = ("BAT", "cancellation proof")


class Years:
    """One edition in the register, and the same on squared paper."""

    def __init__(self, seed: int) -> None:
        self.dice = random.Random(seed)
        self.studio = Studio()
        self.studio.do(declared(SIZE, caps=CAPS))
        self.rows: dict[str, dict[str, Any]] = {}
        self.alone: set[int] = set()
        self.pulls = 1  # of sheets; one ahead, as nought would be no cancelling
        self.cut: int | None = None
        self.cancelled = 0  # after how many pulls; nought: it is not

    # -- what happens ----------------------------------------------------------------

    def live(self, acts: int) -> None:
        """So many things happen, most of them allowed."""
        happens: list[Callable[[], None]] = [
            self.pull, self.pull, self.number, self.number, self.number, self.sign, self.sign,
            self.hand_out, self.hand_out, self.come_back, self.put, self.destroy, self.void_one,
            self.proof, self.old_paper, self.number_right, self.signature_right,
            self.destroyed_right, self.place_right, self.void_right, self.back, self.ends]
        for _ in range(acts):
            self.studio.clock.advance(self.dice.randint(1, 20) * 24 * HOUR)
            self.dice.choice(happens)()

    def done(self, action: a.Action) -> bool:
        """Whether it was not refused."""
        return self.studio.try_(action) is None

    def any(self) -> str:
        """Any sheet there is; before the first pull a name of none."""
        return self.dice.choice([*self.rows] or ["K99"])

    def pull(self) -> None:
        """A sheet is pulled; after a cancelling it is one for the cancellation proof."""
        self.pulls += 1
        mark = f"K{self.pulls}"
        purpose = self.dice.choice(["edition"] * 4 + ["warm-up", "TP"])
        self.studio.pull(sheet(mark, purpose=purpose,
                               pulled_ms=self.studio.clock.now().wall_ms))
        self.rows[mark] = {"kind": None, "number": None, "signed": False, "gone": False,
                           "place": None, "old": False, "pull": self.pulls}

    def bear(self, mark: str, kind: str | None, number: int | None) -> None:
        """It is pencilled on the sheet."""
        self.rows[mark] |= {"kind": kind, "number": number}

    def highest(self, kind: str = "edition", but: str = "") -> int:
        """The highest number of a kind on any sheet but the one that is to have another."""
        return max((r["number"] or 0 for mark, r in self.rows.items()
                    if r["kind"] == kind and mark != but), default=0)

    def number(self) -> None:
        """The next number, or one that is said."""
        mark, said = self.any(), self.dice.choice([None, None, self.dice.randint(1, SIZE)])
        n = self.highest(but=mark) + 1 if said is None else said
        while said is None and n in self.void:
            n += 1
        if self.done(a.GiveNumbers(P, ((mark, said),))):
            self.bear(mark, "edition", n)

    def proof(self) -> None:
        """A proof of some kind."""
        mark, kind = self.any(), self.dice.choice(["AP", "HC", *KEPT])
        n = None if kind in KEPT else self.highest(kind) + 1
        if self.done(a.GiveProof(P, mark, kind)):
            self.bear(mark, kind, n)

    def back(self) -> None:
        """What it was to be is taken back."""
        mark = self.any()
        if self.done(a.TakeNumberBack(P, mark)):
            self.bear(mark, None, None)

    def sign(self) -> None:
        """A signature."""
        mark = self.any()
        if self.done(a.Sign(P, (mark,))):
            self.rows[mark]["signed"] = True

    def hand_out(self) -> None:
        """It leaves."""
        mark, place = self.any(), self.dice.choice(AWAY)
        if self.done(a.HandOut(P, mark, place, due="2027-03-01" if place == "gallery" else None)):
            self.rows[mark]["place"] = place

    def come_back(self) -> None:
        """It comes back or is found."""
        mark, place = self.any(), self.dice.choice(HERE)
        if self.done(a.TakeIn(P, mark, place)):
            self.rows[mark]["place"] = place

    def put(self) -> None:
        """It moves in the studio, or is lost."""
        mark, place = self.any(), self.dice.choice([*HERE, "lost"])
        if self.done(a.Put(P, mark, place)):
            self.rows[mark]["place"] = place

    def destroy(self) -> None:
        """It is no more."""
        mark = self.any()
        if self.done(a.Destroy(P, mark, "torn")):
            self.rows[mark]["gone"] = True

    def void_one(self) -> None:
        """A number is never used."""
        n = self.dice.randint(1, SIZE)
        if self.done(a.VoidNumber(P, n, "smudged")):
            self.alone.add(n)

    def void_right(self) -> None:
        """It was voided by mistake."""
        n = self.dice.randint(1, SIZE)
        if self.done(a.UnvoidNumber(P, n, "another print")):
            self.alone.discard(n)

    def old_paper(self) -> None:
        """A line of an old paper."""
        n, kind = self.dice.randint(1, SIZE), self.dice.choice(["edition", "edition", "AP"])
        gone = self.dice.random() < .2
        signed = self.dice.choice([None, True, False])
        place = None if gone else self.dice.choice([None, "drawer", "sold", "lost"])
        before = set(self.studio.e.holdings)
        if self.done(a.Recall(P, (a.Recalled("the ledger", n, kind, signed,
                                             "water" if gone else None, place),))):
            (id_,) = set(self.studio.e.holdings) - before
            self.rows[id_] = {"kind": kind, "number": n, "signed": signed, "gone": gone,
                              "place": place, "old": True, "pull": 0}

    def number_right(self) -> None:
        """The pencil says another number, or none."""
        mark = self.any()
        n = self.dice.choice([None, self.dice.randint(1, SIZE)])
        taken = {r["number"] for m, r in self.rows.items() if r["kind"] == "edition"
                 and m != mark}
        if n in taken or (n is not None and n in self.void):
            return  # two of a number are a clash, which has tests of its own
        if self.done(a.Correct(P, mark, None if n is None else SheetLabel("edition", n), "looked")):
            self.bear(mark, None if n is None else "edition", n)

    def signature_right(self) -> None:
        """It is signed, or it is not."""
        mark, said = self.any(), self.dice.random() < .5
        if self.done(a.Correct(P, mark, a.AS_IT_IS, "looked", signed=said)):
            self.rows[mark]["signed"] = said

    def destroyed_right(self) -> None:
        """It is whole after all."""
        mark = self.any()
        if self.done(a.Correct(P, mark, a.AS_IT_IS, "found", destroyed=False)):
            self.rows[mark]["gone"] = False

    def place_right(self) -> None:
        """It never was where the book has it."""
        mark, place = self.any(), self.dice.choice(["drawer", "sold", "given", "lost"])
        if self.done(a.CorrectPlace(P, mark, {"place": place}, "never there")):
            self.rows[mark]["place"] = place

    def ends(self) -> None:
        """Seldom: the plate fails or is cancelled; or that was a mistake."""
        said = self.dice.choice(["cut", "on", "cancel", "open", "", "", "", ""])
        if said == "cut":
            size = self.dice.randint(1, SIZE - 1)
            if self.done(a.CutEdition(P, size, "plate failed")):
                self.cut = size
        elif said == "on" and self.done(a.CutEdition(P, None, "another plate")):
            self.cut = None
        elif said == "cancel" and self.done(a.CancelPlate(P, "scored")):
            self.cancelled = self.pulls
        elif said == "open" and self.done(a.ByMistake(P, "plate cancelled", None, "another")):
            self.cancelled = 0

    @property
    def void(self) -> set[int]:
        """Voided one by one, and those above where the edition was cut short."""
        return self.alone | set(range((self.cut or SIZE) + 1, SIZE + 1))

    # -- what it comes to --------------------------------------------------------------

    def late(self, r: dict[str, Any]) -> bool:
        """Pulled from the cancelled plate, and no impression of the edition."""
        if r["old"]:
            return False
        if r["kind"] is not None:
            return r["kind"] == "cancellation proof"
        return self.after(r)

    def after(self, r: dict[str, Any]) -> bool:
        """Pulled since the plate was cancelled, whatever became of the sheet."""
        return 0 < self.cancelled < r["pull"]

    def tally(self, *, old: bool) -> dict[str, int]:
        """The figures, counted by hand."""
        return tally(r for r in self.rows.values() if r["old"] == old and not self.late(r))

    def numbers(self) -> tuple[list[int], list[int], list[int]]:
        """Used, void and free: of a cancelled plate none is free."""
        borne = {r["number"]: r["gone"] for r in self.rows.values()
                 if r["kind"] == "edition"}
        void = self.void | {n for n, gone in borne.items() if gone}
        used = set(borne) - void
        free = set(range(1, SIZE + 1)) - used - void
        if self.cancelled:
            void, free = void | free, set()
        return sorted(used), sorted(void), sorted(free)


def is_void(years: Years, r: dict[str, Any]) -> bool:
    """Whether the number on a sheet is void."""
    return r["kind"] == "edition" and r["number"] in years.void


def held(years: Years, register: Register) -> None:
    """List, screen, JSON, papers and CSV say what the tally says, each line of them."""
    own, old = years.tally(old=False), years.tally(old=True)
    used, void, free = years.numbers()
    one = json_values(edition_sheet(register, P, **NAMED))
    told = one["figures"]
    assert {k: told[k] for k in own if k != "sheets"} == {k: own[k] for k in own if k != "sheets"}
    assert (told["printed"], told["declared"]) == (own["sheets"], SIZE)
    assert {k: told["from_old_papers"][k] for k in old} == old
    late = sum(years.late(r) for r in years.rows.values())
    assert told["after_cancelling"] == late
    assert (one["used"], one["void"], one["free"]) == (used, void, free)
    assert len(used) + len(void) + len(free) == SIZE
    assert told["numbers_used"] + told["numbers_void"] + len(free) == SIZE
    # What is pencilled on a sheet of the cancelled plate is recorded, and named as what it is; so
    # is a signature found on a void number. Nothing else here is a clash.
    keys = {c["key"] for c in one["clashes"]}
    assert {k for k in keys if k.startswith("after cancelling")} == {
        f"after cancelling {mark}" for mark, r in years.rows.items()
        if years.after(r) and r["kind"] not in (None, "cancellation proof")
        and not is_void(years, r)}
    assert {k for k in keys if not k.startswith("after cancelling")} <= {
        f"void {r['number']}: {mark}" for mark, r in years.rows.items()
        if r["signed"] and is_void(years, r)}

    lines = edition_lines(register, P, **NAMED)  # the screen shows these lines too
    short = short_lines(register, P, **NAMED)
    for line in (lines[1], short[1].rpartition(" · ")[0]):
        said = shown(line.strip())
        assert said.pop("declared") == SIZE
        assert said == {name: n for name, n in words(own).items()
                        if n or name in ALWAYS}, line
    from_old = [x for x in lines if x.startswith("  from old papers ")]
    assert [x for x in short if x.startswith("  from old papers ")] == from_old
    assert bool(from_old) == bool(old["sheets"])
    papers = documentation_sheet(register, P, About("Slack Water", "")).parts
    page = {k: v for part in papers for k, v in part.rows if part.title != "The register"}
    for line in from_old:
        assert shown(line.strip()) == {
            "from old papers" if k == "printed" else k: n for k, n in words(old).items()
            if n or k in ALWAYS}
        assert page["From old papers"] == line.strip().removeprefix("from old papers ")
    assert {k: page.get(k, "0") for k in PAGE} == {
        k: str(own[field]) for k, field in PAGE.items()}
    whole = [r for r in years.rows.values() if r["kind"] == "edition" and not r["gone"]
             and not is_void(years, r)]
    also = ", old papers included" if old["sheets"] else ""
    assert [page.get(k, f"0{also}") for k in ("Numbered and signed", "Numbered, not signed",
                                       "Numbered, signature not known")] == [
        f"{sum(r['signed'] is x for r in whole)}{also}" for x in (True, False, None)]
    assert listed(page["Numbers used"]) == used
    assert listed(page["Void numbers"].partition(", unless")[0]) == void

    at = Counter(where(r) for r in years.rows.values())
    places = place_groups(register, P, TODAY)
    values = json_values(where_report(P, "Slack Water", places))
    assert sum(values["counts"].values()) == len(years.rows)
    assert {p: values["counts"].get(p, 0) for p in (*AWAY, "lost", "unknown", "destroyed")} == {
        p: at[p] for p in (*AWAY, "lost", "unknown", "destroyed")}
    can_sell = sum(r["signed"] is True and where(r) == "studio" and r["kind"] not in KEPT
                   and not is_void(years, r) for r in years.rows.values())
    assert where_lines("", places)[1].strip().startswith(f"{can_sell} signed in the studio")
    table = "".join(lent_table(x for _, x in with_galleries(register, [(P, "Slack Water", "")])))
    rows = list(csv.DictReader(io.StringIO(table.removeprefix("\ufeff"))))
    assert len(rows) == at["gallery"]
    assert Counter((r["kind"], r["number"]) for r in rows) == Counter(
        (r["kind"] or "undecided", "" if r["number"] is None else str(r["number"]))
        for r in years.rows.values() if where(r) == "gallery")


def lived(seed: int) -> None:
    """A life of 60 acts, held at every fifth; replayed from the book it is the same."""
    years = Years(seed)
    for _ in range(12):
        years.live(5)
        held(years, years.studio.register)
    again = replay_register(years.studio.entries, "home", years.studio.register.sheets)
    held(years, again)


@pytest.mark.parametrize("block", range(4))
def test_generated_years_add_up_everywhere(block: int) -> None:
    """Forty of them."""
    for seed in range(block * 10, block * 10 + 10):
        lived(seed)


@pytest.mark.full
@pytest.mark.parametrize("block", range(20))
def test_a_thousand_generated_years_add_up_everywhere(block: int) -> None:
    """Fifty at a time."""
    for seed in range(1000 + block * 50, 1050 + block * 50):
        lived(seed)
