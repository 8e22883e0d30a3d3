"""An edition that ends, by its commands: cut short, cancelled, and what is begun beside it."""

from __future__ import annotations

import json
from pathlib import Path

from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call, listed, one_day, printed  # noqa: F401 - fixtures


def test_an_edition_is_cut_short_after_a_signature(
    printed: Path, call: Call  # noqa: F811 - the fixtures
) -> None:
    """By one command; the list, its JSON and the number say it, and nothing above is given."""
    book = ("--book", str(printed))
    for argv in (("number", "D3"), ("number", "D4"), ("sign", "D3", "--yes")):
        assert call(*book, *argv).code == 0
    short = call(*book, "edition", "pear", "--short", "3", "--why", "plate failed")
    assert (short.code, "--cut-short 3" in short.err) == (1, True)
    assert call(*book, "edition", "pear", "--cut-short", "3").code == 1
    told = call(*book, "edition", "pear", "--cut-short", "3", "--why", "plate failed")
    assert told.code == 0, told.err
    words = "declared 5, cut short at 3, plate failed"
    assert f"  cut short: {words}" in told.out.splitlines()
    assert "  4/5 to 5/5: no sheet · void: cut short at 3: plate failed" in told.out.splitlines()
    one = listed(call, printed)
    assert (one["size"], one["cut_short"], one["void"], one["free"]) == (5, words, [4, 5], [3])
    assert one["cut_short_at"] == 3
    assert call(*book, "edition").out.startswith(
        "Pear on a Sill, Idony Threlwick · edition of 5, cut short at 3")
    over = call(*book, "number", "D5", "4")
    assert (over.code, "4/5 is void: cut short at 3: plate failed" in over.err) == (1, True)
    assert call(*book, "number", "D5").code == 0
    assert listed(call, printed)["next"] is None
    assert f"Size of the edition: {words}" in call(*book, "papers", "edition").out


def test_the_edition_goes_on_after_all(
    printed: Path, call: Call  # noqa: F811 - the fixtures
) -> None:
    """A cut recorded by mistake is taken back by the same command."""
    book = ("--book", str(printed))
    for argv in (("number", "D3"), ("sign", "D3", "--yes"),
                 ("edition", "pear", "--cut-short", "2", "--why", "plate failed"),
                 ("edition", "pear", "--cut-short", "none", "--why", "the plate was mended")):
        assert call(*book, *argv).code == 0
    one = listed(call, printed)
    assert (one["void"], one["next"], one["cut_short"]) == ([], 2, None)


def test_an_edition_beside_a_cancelled_plate_names_what_it_shares(
    printed: Path, call: Call  # noqa: F811 - the fixtures
) -> None:
    """One command begins it; it is not cancelled unless it shares what was cancelled."""
    book = ("--book", str(printed))
    assert call(*book, "cancel-plate", "--how", "scored", "--yes").code == 0
    begin = (*book, "edition", "Pear in Blue", "--beside", "pear", "--relation", "colourway",
             "--size", "4")
    refused = call(*begin)
    assert refused.code == 1
    assert "The plate of pear on a sill · idony threlwick was cancelled: scored" in refused.err
    assert "--shares PLATE, or --shares none" in refused.err
    begun = call(*begin, "--shares", "none")
    assert begun.code == 0, begun.err
    assert "`key: pear in blue · idony threlwick`" in begun.err
    assert ("  beside it: Pear on a Sill, 5 · shares no plate · cancelled: scored"
            in begun.out.splitlines())
    blue, pear = sorted(json.loads(call(*book, "edition", "--json").out),
                        key=lambda e: e["print"] != "Pear in Blue")
    assert (blue["artist"], blue["cancelled"], blue["next"]) == ("Idony Threlwick", None, 1)
    assert (pear["cancelled"], pear["next"], pear["free"]) == ("scored", None, [])

    assert call(*book, "edition", "Pear in Blue", "--shares", "zinc").code == 2
    shared = call(*book, "edition", "Pear in Blue", "--shares", "PEAR")
    assert shared.code == 0, shared.err
    assert "The plate pear is cancelled: only sheets pulled before that" in shared.err
    blue = call(*book, "edition", "Pear in Blue", "--json").json[0]
    assert (blue["cancelled"], blue["next"]) == ("pear: scored", None)
    assert blue["siblings"][0]["shares"] == ["pear"]


def test_cancelling_says_which_numbers_are_void_and_how_to_say_why(
    printed: Path, call: Call  # noqa: F811 - the fixtures
) -> None:
    """Nothing is free or next; an edition that ends early is given its sentence."""
    book = ("--book", str(printed))
    for argv in (("number", "D3", "D4"), ("sign", "D3", "--yes"), ("number", "D5", "--as", "BAT"),
                 ("void", "D6", "--destroyed", "--why", "torn", "--yes")):
        assert call(*book, *argv).code == 0
    told = call(*book, "cancel-plate", "--how", "scored", "--yes")
    assert "These unused numbers are void now: 3 to 5" in told.err
    assert "--cut-short N --why WORDS" in told.err
    assert call(*book, "edition").out.startswith(
        "Pear on a Sill, Idony Threlwick · edition of 5, plate cancelled")
    one = listed(call, printed)
    assert (one["free"], one["next"], one["void"]) == ([], None, [3, 4, 5])
    assert one["figures"]["numbers_free"] == 0
    cut = call(*book, "edition", "pear", "--cut-short", "2", "--why", "plate failed")
    assert (cut.code, "declared 5, cut short at 2, plate failed" in cut.out) == (0, True)
