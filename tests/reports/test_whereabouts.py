"""What can be sold and where everything is; one gallery's list as it is sent along."""

from __future__ import annotations

import csv
import io
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.edition import actions as a
from benchapp.edition.figures import edition_figures
from benchapp.edition.whereabouts import head_words, place_groups
from benchapp.reports.whereabouts import where_lines
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call, one_day, printed  # noqa: F401 - fixtures
from tests.edition.support import P, number, sheet, sign, studio
from tests.edition.test_histories import MOVES, begun

TODAY = date(2026, 12, 1)
OLD = "the 2019 notebook"


def test_the_head_says_what_can_be_sold_and_where_the_rest_is() -> None:
    """Each sheet once; what is due first, and how many are late. A BAT is kept, not sold."""
    s = studio(9)
    s.pull(sheet("K10", purpose="warm-up"))
    s.do(*(number(f"K{i}", i) for i in range(1, 9)), sign(*(f"K{i}" for i in range(1, 8))),
         a.HandOut(P, "K1", "gallery", due="2026-12-16"), a.HandOut(P, "K2", "sold"),
         a.HandOut(P, "K3", "given"), a.Put(P, "K4", "lost"), a.Destroy(P, "K5", "torn"),
         a.Put(P, "K6", "drawer"), a.GiveProof(P, "K9", "BAT"), sign("K9"),
         a.Recall(P, (a.Recalled(OLD, 20, place="sold"), a.Recalled(OLD, 21))))
    found = place_groups(s.register, P, TODAY)
    assert head_words(found) == (
        "2 signed in the studio, 1 not signed, 1 BAT, 1 without a number, "
        "1 with a gallery (due 16 Dec 2026), 2 sold, 1 given, 1 lost, 1 place not known, "
        "1 destroyed")
    assert [(g.place, [r.label for r in g.sheets]) for g in found[:6:5]] == [
        ("signed", ["6/30", "7/30"]), ("sold", ["2/30", "20/30"])]
    s.do(a.HandOut(P, "K7", "gallery", due="2026-11-30"))
    assert head_words(place_groups(s.register, P, TODAY)).split(", ")[4:6] == [
        "2 with a gallery (1 overdue since 30 Nov 2026", "due 16 Dec 2026)"]


def test_a_sheet_without_a_number_is_listed_by_its_name() -> None:
    """Its mark; or of one from old papers what it was there."""
    s = studio()
    s.do(a.Recall(P, (a.Recalled(OLD, 2, signed=True, place="drawer"),)))
    (old,) = s.e.holdings
    s.do(a.Correct(P, old, None, "no number is on it"), a.Put(P, "K1", "framed"))
    lines = where_lines("Slack Water", place_groups(s.register, P, TODAY))
    assert lines[1:] == ["  1 signed in the studio, 5 without a number", "  in the studio, signed:",
                         "    old:2: in the drawer", "  in the studio, without a number:",
                         "    K1: framed"]


@given(st.lists(MOVES | st.builds(lambda n, p: a.Recall(P, (a.Recalled(OLD, n, place=p),)),
                                  st.integers(1, 4), st.sampled_from([None, "drawer", "sold"])),
                max_size=25))
def test_the_places_are_the_figures(moves: list[a.Action]) -> None:
    """Years made up: every sheet in one place, and the counts are those of the edition."""
    s = begun()
    for move in moves:
        s.try_(move)
    count = {g.place: g.count for g in place_groups(s.register, P, TODAY)}
    f = edition_figures(s.register, P)
    both = f.pulled, f.old
    assert sum(count.values()) == f.printed + f.after + f.papers
    assert min(count.values()) >= 0
    out = sum(count.get(p, 0) for p in ("gallery", "sold", "given"))
    for there, inside in ((out, sum(t.out for t in both)), *(
            (count.get(place, 0), sum(getattr(t, place) for t in both))
            for place in ("lost", "destroyed", "unknown"))):
        # A cancellation proof has a place too, and is no impression of the edition.
        assert 0 <= there - inside <= f.after


@pytest.fixture
def lent(printed: Path, call: Call) -> tuple[str, ...]:  # noqa: F811
    """D3 and D5 with two galleries, D4 sold, D6 the AP in the drawer."""
    book = ("--book", str(printed))
    for argv in (("number", "D3", "D4", "D5"), ("number", "D6", "--as", "AP"),
                 ("sign", "1/5", "2/5", "3/5", "--yes"),
                 ("where-is", "1/5", "--now", "gallery", "--to", "The Quay, Mrs Anand",
                  "--terms", "consignment", "--due", "2999-12-16"),
                 ("where-is", "3/5", "--now", "gallery", "--to", "Ms Auk", "--due", "2999-11-02"),
                 ("where-is", "2/5", "--now", "sold", "--note", "paid in shells"),
                 ("where-is", "AP", "I", "--now", "drawer")):
        assert call(*book, *argv).code == 0, argv
    return book


def test_where_is_alone_shows_every_place_with_its_sheets(
    lent: tuple[str, ...], call: Call  # noqa: F811
) -> None:
    """As lines, and as codes and integers; to whom only with --private."""
    assert call(*lent, "where-is").out.splitlines() == [
        "Pear on a Sill",
        "  0 signed in the studio, 1 not signed, 2 without a number, 2 with a gallery (first due "
        "2 Nov 2999), 1 sold",
        "  in the studio, not signed:", "    AP I/I: in the drawer",
        "  with a gallery:", "    1/5: consignment, due back 16 Dec 2999",
        "    3/5: due back 2 Nov 2999", "  sold:", "    2/5"]
    (one,) = call(*lent, "where-is", "--json").json
    assert one["counts"] == {"signed": 0, "unsigned": 1, "no_number": 2, "gallery": 2, "sold": 1}
    (gallery,) = [p for p in one["places"] if p["place"] == "gallery"]
    assert [(x["label"], x["place"], x["state"], x["terms"], x["due"])
            for x in gallery["sheets"]] == [
        ("1/5", "gallery", "signed", "consignment", "2999-12-16"),
        ("3/5", "gallery", "signed", None, "2999-11-02")]
    (told,) = call(*lent, "where-is", "2/5", "--json").json
    assert (told["kind"], told["number"], told["place"]) == ("edition", 2, "sold")
    assert "Anand" not in call(*lent, "where-is").out
    assert "to: The Quay, Mrs Anand" in call(*lent, "where-is", "--private").out


def test_one_gallery_s_list_can_be_sent_along(
    lent: tuple[str, ...], call: Call, tmp_path: Path  # noqa: F811
) -> None:
    """Number, title, terms and day; neither the gallery's name nor any other word of the printer's
    own. As lines, page, table and JSON."""
    page, table = tmp_path / "quay.html", tmp_path / "quay.csv"
    asked = (*lent, "where-is", "--gallery", "the quay")
    line = "Pear on a Sill, Idony Threlwick · 1/5 · consignment · due back 16 Dec 2999\n"
    assert call(*asked).out == line
    written = call(*asked, "--html", str(page), "--csv", str(table))
    assert written.out == f"Written: {page}, {table} (1 sheet)\n"
    assert call(*asked, "--html", str(page)).code == 1
    html = page.read_text(encoding="utf-8")
    for words in ("1/5", "Pear on a Sill", "Idony Threlwick", "consignment", "16 Dec 2999"):
        assert words in html
    text = table.read_bytes().decode("utf-8-sig")
    assert list(csv.DictReader(io.StringIO(text))) == [{
        "kind": "edition", "number": "1", "of": "5", "title": "Pear on a Sill",
        "artist": "Idony Threlwick", "terms": "consignment", "since": "", "due": "2999-12-16"}]
    for word in ("Quay", "Anand", "Ms Auk", "shells", "3/5"):
        assert word not in html + text + line
    assert [x["label"] for x in call(*asked, "--json").json] == ["1/5"]
    assert call(*lent, "correct", "3/5", "to", "The Quay, Mrs Anand", "--why", "mixed up",
                "--yes").code == 0
    assert [x["label"] for x in call(*asked, "--json").json] == ["1/5", "3/5"]


@pytest.mark.parametrize(("argv", "code", "said"), [
    (("--gallery", "Nobody"), 1, "No sheet is with Nobody; benchapp where-is --private shows"),
    (("--gallery", "a"), 1, "a fits several galleries; write the full words you gave with --to"),
    (("--html", "x.html"), 2, "say which with --gallery WHO"),
    (("1/5", "--gallery", "Ms Auk"), 2, "leave out the sheet names"),
    (("--now", "sold"), 2, "Say which sheets went there"),
    (("1/5", "2/5", "--now", "given"), 1, "D4 was sold already"),
])
def test_what_the_list_refuses(
    lent: tuple[str, ...], call: Call, argv: tuple[str, ...], code: int, said: str  # noqa: F811
) -> None:
    """Nobody is named in a refusal; several sheets move together or not at all."""
    told = call(*lent, "where-is", *argv)
    assert (told.code, said in told.err) == (code, True), told.err
    assert "Anand" not in told.err
    assert "given" not in call(*lent, "where-is").out
