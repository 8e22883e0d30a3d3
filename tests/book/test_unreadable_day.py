"""One day that cannot be read is shown as such, and stops nothing else in the book."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchapp import files
from benchapp.book import Book
from benchapp.clock import SystemClock
from benchapp.recipe import reader
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.names import shape_of
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call  # noqa: F401 - a fixture
from tests.screens.days import run, screens, small

#: As a later version might write it.
LATER = small().replace("recipe: 1", "recipe: 2")


@pytest.fixture
def days(home: Path, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Three days, all open: the second keeps a recipe of a form that is not known yet."""
    home.mkdir(parents=True)
    with Book.open(files.book_file(), write=True, create=True) as book:
        shop = SessionService(book, SystemClock())
        for text in (small(), LATER, small()):
            with monkeypatch.context() as later:
                later.setattr(reader, "FORM", "2" if text is LATER else "1")
                assert shop.open_session("pear", text, typed=True).ok
                assert shop.do(a.Note("the room is cold")).ok
        shape_of.cache_clear()
        return [row.name for row in book.sessions()]


def test_the_list_says_which_day_cannot_be_read_and_counts_the_others(
    days: list[str], call: Call  # noqa: F811
) -> None:
    listed = call("sessions")
    assert (listed.code, listed.err) == (0, "")
    first, later, last = listed.out.splitlines()
    assert later.endswith(f"cannot be read; `benchapp review {days[1]}` says why")
    assert "pulled 0 · counting 0" in first
    assert "pulled 0 · counting 0" in last
    rows = call("sessions", "--json").json
    assert [x["readable"] for x in rows] == [True, False, True]
    assert rows[1]["pulled"] is None


def test_its_review_says_what_is_wrong_and_what_to_do(
    days: list[str], call: Call  # noqa: F811
) -> None:
    read = call("review", days[1])
    assert (read.code, read.out) == (3, "")
    assert 'recipe: this version cannot read the form "2"' in read.err
    assert "Every other session of this book can be read" in read.err
    assert call("review", days[0]).code == 0


def test_it_is_not_gone_on_with_and_the_one_after_it_is(
    days: list[str], call: Call  # noqa: F811
) -> None:
    refused = call("resume", days[1], "--plain")
    assert refused.code == 1
    assert "cannot be read" in refused.err
    resumed = call("resume", "--plain")
    assert (resumed.code, days[2] in resumed.out) == (0, True)


def test_every_other_command_works_as_before(
    days: list[str], call: Call, tmp_path: Path  # noqa: F811
) -> None:
    for words in (["edition"], ["boards"], ["prepare", "weigh-house", "--wanted", "2"],
                  ["plan", "weigh-house", "--wanted", "1"], ["search", "cold"],
                  ["learn", "weigh-house"]):
        said = call(*words)
        assert said.code in (0, 1), (words, said.err)
        assert "cannot be read" not in said.err, (words, said.err)
    whole, table, page = (tmp_path / x for x in ("book.jsonl", "sheets.csv", "days.html"))
    assert call("export", "--jsonl", str(whole)).code == 0
    assert "recipe: 2" in whole.read_text(encoding="utf-8")
    left_out = call("export", "--csv", str(table))
    assert (left_out.code, left_out.err.startswith("Left out: The session")) == (0, True)
    assert call("export", "--html", str(page)).code == 0
    assert days[2] in page.read_text(encoding="utf-8")


def test_the_studio_lists_it_and_its_review_says_why(days: list[str]) -> None:
    async def look(shop: SessionService) -> None:
        async with screens(shop) as it:
            await it.shows(days[1])
            it.app.over("review", session=f"{days[1]}@{shop.book.origin}")
            await it.shows("cannot read the form")
            await it.press("escape", "question_mark", "escape")

    with Book.open(files.book_file(), write=True) as book:
        run(look(SessionService(book, SystemClock())))
