"""Handing over: what stays at home is said, and a day that is closed says where to go on."""

from __future__ import annotations

import shutil
from pathlib import Path

from benchapp.cli import main
from benchapp.session import actions as a
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call, one_day  # noqa: F401 - fixtures
from tests.commands.test_edition_cli import printed as book_of_a_day  # noqa: F401 - a fixture
from tests.screens.days import DAY, closed, opened, printed, run, screens, small, workshop
from tests.screens.support import until


def test_export_and_import_say_what_stayed_at_home(
    book_of_a_day: Path, call: Call, tmp_path: Path  # noqa: F811 - the fixtures
) -> None:
    """How many private entries, and how they go along; with them there is nothing to say."""
    book = ("--book", str(book_of_a_day))
    for argv in (("number", "D3", "1"), ("number", "D4", "--as", "AP", "--whose", "Ms Auk"),
                 ("where-is", "1", "--now", "gallery", "--to", "Mr Tern")):
        assert call(*book, *argv).code == 0
    out = tmp_path / "all.jsonl"
    told = call(*book, "export", "--jsonl", str(out)).out
    assert "2 private entries stayed at home" in told
    assert "--private takes them along" in told
    assert "stayed at home" not in call(*book, "export", "--csv", str(tmp_path / "x.csv")).out

    away = ("--book", str(tmp_path / "away.db"))
    took = call(*away, "import", str(out))
    assert "This file has no private entries" in took.out
    assert "At least 2 are left out. To take them along: benchapp export --jsonl" in took.out
    assert call(*away, "import", str(out), "--json").json["private"] == 0

    whole = tmp_path / "whole.jsonl"
    assert "stayed at home" not in call(*book, "export", "--jsonl", str(whole), "--private").out
    again = ("--book", str(tmp_path / "again.db"))
    told = call(*again, "import", str(whole), "--json").json
    assert (told["private"], told["not_in_file"]) == (2, 0)
    assert "private" not in call(*again, "import", str(whole)).out


def test_sort_lists_what_is_to_be_sorted_where_there_is_no_terminal(
    book_of_a_day: Path, call: Call, tmp_path: Path  # noqa: F811 - the fixtures
) -> None:
    """By session, by print, or of the last day; the command that numbers is named."""
    book = ("--book", str(shutil.copy(book_of_a_day, tmp_path / "b.db")))
    for what in ((), ("2026-05-03",), ("pear",), ("last",)):
        told = call(*book, "sort", *what)
        assert told.code == 0, told.err
        assert told.out.splitlines()[:2] == ["Pear on a Sill · 4 to sort", "  D3 · not judged"]
        assert "benchapp number D3 --as AP" in told.out
    assert call(*book, "number", "D3", "D4").code == 0
    rows = call(*book, "sort", "--json").json["to_sort"]
    assert [(r["who"], r["number"], r["kind"]) for r in rows] == [
        ("D5", None, None), ("D6", None, None)]
    assert call(*book, "sort", "quince").code == 2


def test_a_closed_day_names_review_and_sort(
    book_of_a_day: Path, call: Call  # noqa: F811 - the fixtures
) -> None:
    """Whoever comes back to it by a command, and whoever treads on."""
    book = ("--book", str(book_of_a_day))
    for argv in (("resume", "2026-05-03", "--plain"), ("resume", "--plain"),
                 ("discard", "2026-05-03")):
        refused = call(*book, *argv)
        assert refused.code == 1
        for command in ("review", "sort"):
            assert f"`benchapp {command} 2026-05-03`" in refused.err
            assert call(*book, command, "2026-05-03").code == 0
    shop, clock = workshop()
    opened(shop, small())
    printed(shop, clock, 1)
    closed(shop, clock)
    for action in (a.GoOn(), a.Enough(), a.Set("blankets", "new")):
        assert "`benchapp sort 2026-05-03`" in str(shop.do(action).refusal)


def test_sort_opens_over_the_studio() -> None:
    """With the day it was asked for; back leads to the Studio."""
    shop, clock = workshop()
    first = opened(shop, small())
    printed(shop, clock, 1)
    closed(shop, clock)
    shop.leave_bench()
    clock.advance(DAY)

    async def work() -> None:
        async with screens(shop, "sort", asking=False, opening={"session": first}) as here:
            await here.shows("Sort · Pear on a Sill", "D1")
            await here.press("escape")
            await until(here.pilot, lambda: type(here.app.screen).__name__ == "StudioScreen")

    run(work())


def test_help_names_sort(capsys) -> None:
    """As every other command."""
    assert main(["sort", "--help"]) == 0
    assert "SESSION|PRINT" in capsys.readouterr().out
