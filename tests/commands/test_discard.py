"""Sessions with nothing pulled, discarded: the command, the lists, and two books that meet."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.book.queries import sessions_of
from benchapp.clock import FakeClock
from benchapp.commands.show import read_whole_session, session_values
from benchapp.events.entry import Draft
from benchapp.recipe.reader import read_recipe
from benchapp.reports.plan_history import last_days
from benchapp.reports.reading import find_session_row
from benchapp.service.editions import EditionService
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.commands.test_cli import Call
from tests.commands.test_edition_cli import call  # noqa: F401 - a fixture
from tests.plain.test_plain import Bench
from tests.screens.days import DAY, MINUTE, closed, on_bench, opened, printed, small, tread


def two_days(path: Path) -> tuple[str, str]:
    """A day with sheets, closed; and a session opened the next day; the names of both."""
    with Book.open(path, write=True, create=True) as book:
        clock = FakeClock()
        shop = SessionService(book, clock)
        opened(shop, small())
        printed(shop, clock, 1)
        closed(shop, clock)
        clock.advance(DAY)
        opened(shop, small())
        shop.do(a.Note("opened by mistake", to="session"))
        first, second = (r.name for r in book.sessions())
    return first, second


def test_the_command_discards_and_every_list_leaves_it_out(
    tmp_path: Path, call: Call  # noqa: F811
) -> None:
    """`last` and `resume` pass it over; by its name it can still be read back."""
    path = tmp_path / "book.db"
    first, second = two_days(path)
    book = ("--book", str(path))
    refused = call(*book, "discard", second)
    assert (refused.code, "add --yes" in refused.err) == (2, True)
    assert "Its entries stay in the book" in refused.err
    assert [x["session"] for x in call(*book, "sessions", "--json").json] == [first, second]
    done = call(*book, "discard", second, "--yes")
    assert (done.code, done.out) == (0, (
        f"{second} is discarded. Its entries stay in the book; to list it: "
        "benchapp sessions --all\n"))
    assert second not in call(*book, "sessions").out
    assert [(x["session"], x["discarded"]) for x in call(*book, "sessions", "--json").json] == [
        (first, False)]
    assert call(*book, "sessions", "--all").out.splitlines()[1].startswith(
        f"{second} · discarded · Pear on a Sill")
    assert [(x["session"], x["discarded"], x["state"]) for x in call(
        *book, "sessions", "--all", "--json").json] == [
            (first, False, "closed"), (second, True, "closed")]
    for word in ("last", "yesterday"):
        assert call(*book, "review", word, "--json").json["session"] == first
    told = call(*book, "review", second, "--json").json
    assert (told["discarded"], told["notes"]) == (True, ["opened by mistake"])
    assert f"{second} is discarded" in call(*book, "resume", second, "--plain").err
    assert call(*book, "resume", "--plain").err.startswith("No session is open")
    again = call(*book, "discard", second, "--yes")
    assert (again.code, again.err) == (1, (
        f"{second} is discarded already; benchapp sessions --all lists it\n"))


@pytest.mark.parametrize(("answer", "code", "kept"), [("yes", 0, 1), ("no", 1, 2), ("", 1, 2)])
def test_on_a_terminal_it_asks(
    tmp_path: Path, call: Call, answer: str, code: int, kept: int,  # noqa: F811
    monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only a written yes discards."""
    path = tmp_path / "book.db"
    _, second = two_days(path)
    monkeypatch.setattr("benchapp.commands.discarding.can_ask", lambda: True)
    found = call("--book", str(path), "discard", second, stdin=f"{answer}\n")
    assert found.code == code
    assert f"Discard {second}, Pear on a Sill?" in found.err
    with Book.reading(path) as book:
        assert len(book.sessions()) == kept


def test_what_was_pulled_keeps_a_session_and_says_how_many(
    tmp_path: Path, call: Call  # noqa: F811
) -> None:
    """Open or closed, with the way out that fits."""
    path = tmp_path / "book.db"
    with Book.open(path, write=True, create=True) as book:
        clock = FakeClock()
        shop = SessionService(book, clock)
        opened(shop, small())
        printed(shop, clock, 2)
        name = on_bench(shop).name
    found = call("--book", str(path), "discard", name, "--yes")
    assert (found.code, found.err) == (
        1, "2 sheets were pulled in it; close it with enough\n")


def test_a_pull_taken_back_was_none_and_the_session_can_go() -> None:
    """What counts is what the book says was pulled."""
    clock = FakeClock()
    shop = SessionService(Book.in_memory(), clock)
    opened(shop, small())
    for _ in range(20):
        if any(i.pulled for i in on_bench(shop).impressions):
            break
        tread(shop, clock)
    refusal = shop.do(a.Discard()).refusal
    assert str(refusal) == "1 sheet was pulled in it; close it with enough"
    assert shop.do(a.TakeBack()).ok
    assert shop.do(a.Discard()).ok


def test_a_clock_of_the_session_is_heard_before_it_goes() -> None:
    """No clock that was started runs out unheard."""
    clock = FakeClock()
    shop = SessionService(Book.in_memory(), clock)
    opened(shop, small())
    shop.do(a.StartClock(5 * MINUTE, "varnish"))
    assert str(shop.do(a.Discard()).refusal) == (
        "The clock varnish runs in it; answer it first, when it calls")
    clock.advance(6 * MINUTE)
    shop.tick()
    assert shop.do(a.AnswerCall("clock 1")).ok
    assert shop.do(a.Discard()).ok


def test_by_lines_it_takes_the_word_and_yes() -> None:
    """The bare word only says what would be; with yes the session ends, and the program."""
    bench = Bench()
    answers = bench.run("discard", "discard yes", "status")
    assert answers[1] == ["Lists will not show this session; its entries stay in the book. "
                          "Write: discard yes"]
    assert answers[2] == ["2026-05-03 discarded · benchapp sessions --all lists it"]
    assert len(answers) == 3
    assert bench.book.sessions() == []


def test_neither_plan_nor_learning_nor_editions_know_of_it() -> None:
    """A print opened by mistake is in no list of editions; no day of it teaches."""
    clock = FakeClock()
    book = Book.in_memory()
    shop = SessionService(book, clock)
    opened(shop, small())
    recipe = read_recipe(small())
    assert EditionService(book, clock).prints() != ()
    assert shop.do(a.Discard()).ok
    assert (EditionService(book, clock).prints(), last_days(book, recipe)) == ((), [])
    assert sessions_of(book, recipe.print) == ()
    opened(shop, small())
    assert [(r.name, r.opened.body["letters"]) for r in book.all_sessions()] == [
        ("2026-05-03", "D"), ("2026-05-03b", "E")]


def test_a_discarded_session_reads_the_same_in_another_book() -> None:
    """Taken in whole, or first while it was open: the lists are those of its own book."""
    clock = FakeClock()
    one, two, late = (Book.in_memory(x) for x in ("one", "two", "late"))
    shop = SessionService(one, clock)
    opened(shop, small())
    printed(shop, clock, 1)
    shop.do(a.Helper(joins=True))
    session = opened(shop, small("Slate Roof"))
    shop.do(a.Note("by mistake", to="session"))
    late.merge(one.entries())
    assert len(late.sessions()) == 2
    guest = SessionService(late, clock)
    guest.look_at(session)
    assert str(guest.refuses(a.Discard(), session)).startswith(
        "That session was opened in another book")
    assert shop.do(a.Discard()).ok
    for book in (two, late):
        book.merge(one.entries())
        assert book.verify() == []
        assert book.entries() == one.entries()
        assert [r.name for r in book.sessions()] == ["2026-05-03"]
        assert session_values(book, discarded=True) == session_values(one, discarded=True)
        row = find_session_row(book, session)
        assert row is not None
        assert read_whole_session(book, row) == read_whole_session(one, row)
        assert EditionService(book, clock).prints() == EditionService(one, clock).prints()
        assert SessionService(book, clock).room.session is None


def test_a_book_that_meets_its_own_discarded_session_again_gives_its_letters_to_no_other(
    tmp_path: Path, call: Call  # noqa: F811
) -> None:
    """By file, there and back: nothing is doubled, and the mark stays that of one session."""
    home, away = tmp_path / "home.db", tmp_path / "away.db"
    _, second = two_days(home)
    assert call("--book", str(home), "discard", second, "--yes").code == 0
    file = str(tmp_path / "all.jsonl")
    assert call("--book", str(home), "export", "--jsonl", file).code == 0
    took = call("--book", str(away), "import", file, "--json").json
    assert second in took["sessions"]
    assert call("--book", str(home), "import", file, "--json").json["added"] == 0
    lists = [json.dumps(call("--book", str(x), "sessions", "--all", "--json").json)
             for x in (home, away)]
    assert lists[0] == lists[1]
    with Book.open(home, write=True) as book:
        shop = SessionService(book, FakeClock(1_777_795_200_000 + 2 * DAY))
        opened(shop, small())
        assert on_bench(shop).letters == "G"


def test_only_the_word_discard_hides_a_session_that_closed() -> None:
    """A session closed at its end stays on the lists; a take-back of either is followed."""
    clock = FakeClock()
    book = Book.in_memory()
    shop = SessionService(book, clock)
    session = opened(shop, small())
    [*_, last] = shop.do(a.Discard()).entries
    assert (last.kind, last.word) == ("closed", "discard")
    assert book.sessions() == []
    book.append((Draft(f"session/{session}", "taken back", {"action": last.action}),),
                clock.now(), "back")
    assert [(r.closed, r.discarded) for r in book.sessions()] == [(False, False)]
