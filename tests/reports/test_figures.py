"""One set of figures: the list, the whole edition, JSON and papers say the same, and it adds up."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from benchapp.edition import actions as a
from benchapp.edition.figures import edition_figures
from benchapp.edition.state import Register
from benchapp.edition.view import edition_view
from benchapp.edition.whereabouts import place_groups
from benchapp.reports.documentation import About, documentation_sheet
from benchapp.reports.editions import edition_lines, edition_sheet, short_lines
from benchapp.reports.figures import figure_line, old_papers_line
from benchapp.reports.json_form import json_values
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call, numbered, one_day, printed  # noqa: F401 - fixtures
from tests.edition.support import P, number, sign, studio
from tests.edition.test_apart import APART, parted, together
from tests.edition.test_histories import MOVES, begun

OLD = "the 2019 notebook"
NAMED = {"title": "Slack Water", "artist": "Wren Halloran"}


def agrees(register: Register) -> None:
    """Whatever is asked, the same figures; of sheets pulled here and of old papers each adds up."""
    v = edition_view(register, P)
    line, old = figure_line(v), old_papers_line(v.figures)
    assert f"  {line}" in edition_lines(register, P, **NAMED)
    assert short_lines(register, P, **NAMED)[1].startswith(f"  {line} · ")
    told = json_values(edition_sheet(register, P, **NAMED))["figures"]
    rows = dict(documentation_sheet(register, P, About("Slack Water", "")).parts[1].rows)
    papers = told.pop("from_old_papers")
    for one, said in ((told, line), (papers, old)):
        whole = one["printed"] if "printed" in one else one["sheets"]
        assert whole == sum(one[x] for x in ("in_studio", "out", "lost", "destroyed",
                                             "place_not_known"))
        assert one["out"] == one["gallery"] + one["given"] + one["sold"]
        words = f"numbered {one['numbered']} · signed {one['signed']}", (
            f"in the studio {one['in_studio']} · out {one['out']} · ")
        assert not said or all(x in said for x in words)
        assert all(isinstance(x, int) for x in one.values() if x is not None)
    assert [rows[x] for x in ("Impressions printed", "In the studio", "Out", "Destroyed")] == [
        str(told[x]) for x in ("printed", "in_studio", "out", "destroyed")]
    assert rows.get("From old papers", "") == old.removeprefix("from old papers ")
    assert bool(old) == bool(papers["sheets"])


def test_each_figure_of_one_edition_against_a_tally_on_paper() -> None:
    """Five pulled, four on an old paper: the second are beside the first, not among them."""
    s = studio()
    s.do(number("K1", 5), number("K2", 6), number("K3", 7), sign("K1", "K2"),
         a.HandOut(P, "K1", "gallery"), a.HandOut(P, "K3", "sold"), a.Destroy(P, "K2", "torn"),
         a.Put(P, "K4", "lost"),
         a.Recall(P, (a.Recalled(OLD, 1, signed=True, place="sold"),
                      a.Recalled(OLD, 2, signed=False),
                      a.Recalled(OLD, 3, destroyed="water"),
                      a.Recalled(OLD, 1, "AP", signed=True, place="drawer"))))
    lines = edition_lines(s.register, P, **NAMED)
    assert lines[1:4] == [
        "  declared 30 · printed 5 · numbered 3 · signed 2 · in the studio 1 · out 2 · lost 1 · "
        "destroyed 1",
        "  out and not signed: 1",
        "  from old papers 4 · numbered 3 · signed 2 · signature not known 1 · in the studio 1 · "
        "out 1 · destroyed 1 · place not known 1"]
    assert "  used: 1, 2, 5, 7 · next 8" in lines
    assert "  numbers free: 24" in lines
    assert "  AP: 1 of 3, 1 from old papers" in lines
    assert not [x for x in lines if "taken" in x or "left" in x]
    agrees(s.register)
    rows = {r["label"]: r for r in json_values(edition_sheet(s.register, P, **NAMED))["sheets"]}
    assert [(rows[x]["state"], rows[x]["place"], rows[x]["from_old_papers"]) for x in (
        "5/30", "6/30", "7/30", "1/30", "AP I/III")] == [
        ("signed", "gallery", False), ("destroyed", None, False), ("unsigned", "sold", False),
        ("signed", "sold", True), ("signed", "drawer", True)]


_OLD = st.builds(lambda n, place, gone: a.Recall(P, (a.Recalled(
    OLD, n, place=None if gone else place, destroyed="water" if gone else None),)),
    st.integers(1, 4), st.sampled_from([None, "drawer", "sold", "lost"]), st.booleans())


@given(st.lists(MOVES | _OLD | st.builds(lambda s: a.Put(P, s, "lost"),
                                         st.sampled_from(["K1", "K2"])), max_size=25))
def test_whatever_is_done_the_figures_agree(moves: list[a.Action]) -> None:
    """Years made up, with old papers among them."""
    s = begun()
    for move in moves:
        s.try_(move)
    agrees(s.register)


@given(*(st.lists(APART | _OLD, max_size=10) for _ in range(3)))
def test_two_books_brought_together_have_one_set_of_figures(
    first: list[a.Action], here: list[a.Action], there: list[a.Action]
) -> None:
    """The same whichever took the other in, also while they clash; every sheet has one place."""
    before, home, away = parted(first, here, there)
    one, two = together(home, away, len(before.entries))
    today = date(2026, 12, 1)
    agrees(one)
    f, places = edition_figures(one, P), place_groups(one, P, today)
    assert f == edition_figures(two, P)
    assert [(g.place, g.count) for g in places] == [
        (g.place, g.count) for g in place_groups(two, P, today)]
    assert sum(g.count for g in places) == f.printed + f.after + f.papers
    assert all(g.count >= len(g.sheets) for g in places)
    out = sum(g.count for g in places if g.place in ("gallery", "sold", "given"))
    # A cancellation proof has a place too, and is no impression of the edition.
    assert 0 <= out - f.pulled.out - f.old.out <= f.after


def test_the_list_has_the_figures_of_the_whole(numbered: Path, call: Call) -> None:  # noqa: F811
    """By the commands, as a printer sees them."""
    book = ("--book", str(numbered))
    assert call(*book, "where-is", "2/5", "--now", "given").code == 0
    line = ("declared 5 · printed 6 · numbered 1 · signed 0 · in the studio 5 · out 1 · "
            "destroyed 0")
    assert call(*book, "edition").out.splitlines() == [
        "Pear on a Sill, Idony Threlwick · edition of 5", f"  {line} · next 3"]
    assert call(*book, "edition", "pear").out.splitlines()[1] == f"  {line}"


def test_numbers_that_follow_one_another_are_one_run() -> None:
    """However many there are none is left out of the list."""
    s = studio(20)
    s.do(*(number(f"K{i}", i) for i in range(1, 16)), number("K20", 20),
         *(a.VoidNumber(P, n, "a slip") for n in (17, 18, 19)))
    lines = edition_lines(s.register, P, **NAMED)
    assert "  used: 1 to 15, 20 · next 21" in lines
    assert "  void: 17 to 19" in lines
