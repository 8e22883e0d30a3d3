"""The one sheet others are held against: the BAT, what replaces it, and a standard until then."""

from __future__ import annotations

from dataclasses import replace

from benchapp.edition import actions as a
from benchapp.edition.fold import apply_edition_entry
from benchapp.edition.holding import SheetLabel
from benchapp.edition.standard import bat_sheets, held_against, what_it_is
from benchapp.edition.view import edition_view, sheet_rows
from benchapp.reports.editions import edition_lines
from tests.edition.support import P, Studio, sign, studio, texts
from tests.edition.test_apart import meet


def bat(sheet: str, instead: str | None = None) -> a.GiveProof:
    """A sheet kept as the BAT."""
    return a.GiveProof(P, sheet, "BAT", instead=instead)


def named(s: Studio) -> list[str]:
    """What the lines of the edition call the sheet others are held against."""
    lines = edition_lines(s.register, P, title="T", artist="A")
    return [x.strip() for x in lines if x.strip().startswith(("BAT:", "standard:"))
            and "·" not in x]


def test_a_standard_is_held_against_until_there_is_a_bat() -> None:
    """One word for one sheet; while the BAT is at hand no other is named beside it."""
    s = studio()
    s.do(a.NameStandard(P, "K2"))
    assert (held_against(s.e), what_it_is(s.e, "K2")) == ("K2", "standard")
    s.do(a.NameStandard(P, "K4"))
    assert named(s) == ["BAT: none approved yet", "standard: K4"]
    s.do(bat("K1"))
    assert (held_against(s.e), what_it_is(s.e, "K1")) == ("K1", "BAT")
    assert named(s) == ["BAT: K1"]
    no = s.no(a.NameStandard(P, "K3"))
    assert no.why == "The BAT is K1: you compare sheets with it"
    assert '--as BAT --replace "WHY"' in no.mend
    s.do(a.HandOut(P, "K1", "given"), a.NameStandard(P, "K3"))  # it is not at hand any more
    assert named(s)[1:] == ["standard: K3"]
    s.do(a.NameStandard(P, None))
    assert held_against(s.e) == "K1"
    s.do(a.NameStandard(P, "K3"), a.Destroy(P, "K3", "ink on it"))
    assert held_against(s.e) == "K1"


def test_a_second_bat_has_a_way_that_the_refusal_names() -> None:
    """One that never was it goes back or is corrected; one that is replaced stays what it is."""
    s = studio()
    s.do(bat("K1"))
    assert "benchapp number K1 --back" in s.no(bat("K2")).mend
    s.do(sign("K1"))
    assert "benchapp correct K1 not BAT" in s.no(bat("K2")).mend
    assert s.no(bat("K2", " ")).rule == "reason"
    s.do(bat("K2", "new paper"))
    assert [h.sheet for h in bat_sheets(s.e)] == ["K2"]
    assert texts(s.register) == []
    assert held_against(s.e) == "K2"
    row = next(r for r in sheet_rows(s.register, P) if r.sheet == "K1")
    assert (row.label, row.standing) == ("BAT", "signed, replaced as the BAT: new paper")
    assert edition_view(s.register, P).bat == "K2"
    assert s.no(bat("K1")).mend == 'say why: --replace "WHY"'
    s.do(bat("K1", "the old paper came again"))
    assert [h.sheet for h in bat_sheets(s.e)] == ["K1"]
    assert s.no(a.GiveProof(P, "K3", "AP", instead="why")).rule == "kind"


def test_a_bat_from_old_papers_or_destroyed_is_replaced_too() -> None:
    """Its own name stands in the refusal, so that it can be typed."""
    s = studio()
    s.do(a.Recall(P, (a.Recalled("the old list", None, "BAT"),)))
    assert "benchapp correct old:BAT not BAT" in s.no(bat("K1")).mend
    s.do(a.NameStandard(P, "K3"))  # nothing is told of how the old one was made
    assert held_against(s.e) == "K3"
    s.do(bat("K1", "printed here"), a.Destroy(P, "K1", "torn"))
    assert "benchapp correct K1 not BAT" in s.no(bat("K2")).mend
    s.do(bat("K2", "the first is torn"))
    assert held_against(s.e) == "K2"


def test_two_books_that_replaced_the_bat_are_named() -> None:
    """Both are the BAT until one of them is corrected."""
    for both in meet([bat("K1"), sign("K1")], [bat("K2", "new paper")], [bat("K3", "new ink")]):
        (clash,) = texts(both.register)
        assert clash == "BAT is on K2 and K3"
        both.do(a.Correct(P, "K3", SheetLabel("AP", 1), "looked"))
        assert texts(both.register) == []
        assert held_against(both.e) == "K2"


def test_a_standard_named_after_the_bat_in_an_older_book_still_counts() -> None:
    """What such a book said of it was meant: it reads as before."""
    s = studio()
    s.do(bat("K1"))
    entry = s.entries[-1]
    later = replace(entry, id="home:99.0", kind="standard named", at=s.clock.advance(1000),
                    body={"print": P, "sheet": "K2", "over": []})
    assert held_against(apply_edition_entry(s.register, later).edition(P)) == "K2"
