"""An edition that ends, by its commands: cut short, cancelled, and what is begun beside it."""

from __future__ import annotations

import json
from pathlib import Path

from tests.test_cli import Call
from tests.test_edition_cli import call, listed, one_day, printed  # noqa: F401 - fixtures


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
    over = call(*book, "number", "D5", "4")
    assert (over.code, "4/5 is void: cut short at 3: plate failed" in over.err) == (1, True)
    assert call(*book, "number", "D5").code == 0
    assert listed(call, printed)["next"] is None
    assert json.loads(call(*book, "papers", "edition", "--json").out)


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
