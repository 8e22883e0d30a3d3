"""A sheet and the standard side by side, in words."""

from __future__ import annotations

from benchapp.session import actions as a
from benchapp.views.beside_standard import compare_to_standard
from benchapp.views.sheets import SheetWhole, sheet_whole
from tests.session.support import Bench


def two_pulled() -> tuple[SheetWhole, SheetWhole]:
    """The first sheet as judged, and the second, of which only a note was said."""
    b = Bench()
    for _ in range(40):
        if len(b.sheets) == 2 and b.hand == "Lift":
            break
        b.advance(1)
        b.go()
    for action in (a.Judge("keep", 1), a.Tag("salty", 1), a.Note("a hair", 2)):
        b.say(action)
    first, second = sheet_whole(b.s, 1), sheet_whole(b.s, 2)
    assert first is not None
    assert second is not None
    return first, second


def test_both_sides_of_what_was_said_of_either() -> None:
    """What was said of neither has no row; what differs says so."""
    standard, sheet = two_pulled()
    rows = {row.what: row for row in compare_to_standard(sheet, standard)}
    assert (rows["verdict"].sheet, rows["verdict"].standard) == ("not judged", "keep")
    assert (rows["tags"].sheet, rows["tags"].standard) == ("", "salty")
    assert (rows["notes"].sheet, rows["notes"].standard) == ("a hair", "")
    assert not any(rows[what].same for what in ("verdict", "tags", "notes"))
    assert rows["for"].same
    assert "readings" not in rows


def test_without_a_standard_its_side_is_empty() -> None:
    """Only what was said of the sheet has a row."""
    _, sheet = two_pulled()
    rows = compare_to_standard(sheet, None)
    assert {row.what for row in rows} == {"for", "verdict", "notes"}
    assert {row.standard for row in rows} == {""}
