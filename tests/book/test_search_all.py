"""Everything the printer wrote is found: the bench, editions, numbers, where sheets are, stacks."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from benchapp.book import Book
from benchapp.book.schema import MIGRATIONS
from benchapp.book.search_index import words_of
from benchapp.drying import actions as b
from benchapp.edition import actions as e
from benchapp.edition.holding import SheetLabel
from benchapp.edition.state import Cap
from benchapp.events.entry import Entry
from benchapp.session import actions as a
from tests.service.edition_days import PEAR, Studio, pear

Found = list[tuple[int | None, str, str]]


class Shop(Studio):
    """Days with editions, and what is found in their book."""

    def say(self, *actions: a.Action) -> None:
        """Do these in the last session."""
        session = self.book.sessions()[-1].id
        for action in actions:
            out = self.workshop.do(action, session=session)
            assert out.refusal is None, f"{action}: {out.refusal}"

    def act(self, *actions: e.Action) -> None:
        """Do these to editions."""
        for action in actions:
            out = self.editions.do(action)
            assert out.refusal is None, f"{action}: {out.refusal}"

    def on_boards(self, *actions: b.Action) -> None:
        """Do these to stacks."""
        for action in actions:
            out = self.editions.on_boards(action)
            assert out.refusal is None, f"{action}: {out.refusal}"

    def found(self, words: str, *, private: bool = False) -> Found:
        """(number, place, text) of each answer."""
        return [(h.impression, h.where, h.text)
                for h in self.book.search(words, private=private)]


@pytest.fixture
def shop() -> Shop:
    """One day of two warm-ups and three sheets that count."""
    s = Shop()
    s.day(pear("edition: 15, proofs: {AP: 4}", drying="  - {do: Change blotters, after: 3 h}"))
    return s


def sheet(shop: Studio, n: int) -> str:
    """The id of the n-th sheet of the last day."""
    return f"{shop.book.sessions()[-1].id}#{n}"


# -- at the bench ----------------------------------------------------------------------------


def test_what_is_said_at_the_bench_is_found() -> None:
    """A timer's name, the helper's, a reason for a skipped step, an answer, what a pull is for."""
    shop = Shop()
    assert shop.workshop.open_session("pear", pear(), None).ok
    for action in (a.StartClock(60_000, "Café filter"), a.Helper(True, "Ödön"),
                   a.SkipStep("plate still warm")):
        out = shop.workshop.do(action)
        assert out.refusal is None, str(out.refusal)
    assert shop.found("cafe") == [(None, "timer", "Café filter")]
    assert shop.found("odon") == [(None, "helper", "Ödön")]
    assert [x[1:] for x in shop.found("plate warm")] == [("skipped", "plate still warm")]


def test_the_last_thing_said_of_what_a_pull_is_for_is_found(shop: Shop) -> None:
    """A state proof, and no longer once it is something else."""
    shop.say(a.SayFor("SP", "II", 3))
    assert shop.found("SP II") == [(3, "for", "SP II")]
    shop.say(a.SayFor("edition", None, 3))
    assert shop.found("SP II") == []


def test_a_clock_of_no_session_has_words_of_its_own() -> None:
    """By its name; in a book that has such clocks."""
    at = Shop().clock.now()
    started = Entry("x:1", "clock/1@x", 1, "x:1", "time", "started", at, {
        "clock": "1@x", "name": "Rosin café", "ms": 60_000})
    assert list(words_of(started)) == [("clock/1@x", "timer", "", "Rosin café")]


# -- numbers -----------------------------------------------------------------------------------


def test_a_number_finds_the_sheet_that_bears_it(shop: Shop) -> None:
    """With its total or alone, as figures or Roman, before and after it is signed."""
    shop.act(e.GiveNumbers(PEAR, ((sheet(shop, 3), 1), (sheet(shop, 4), 12))))
    assert shop.found("1/15") == [(3, "number", "1/15")]
    assert shop.found("I/XV") == shop.found("e.v. 1/15") == shop.found("１／１５") == [
        (3, "number", "1/15")]
    assert shop.found("12/15 pear") == [(4, "number", "12/15")]
    assert (4, "number", "12/15") in shop.found("12")
    assert shop.found("1/40") == shop.found("2/15") == shop.found("5/15") == []
    shop.act(e.Sign(PEAR, (sheet(shop, 3),)))
    assert shop.found("1/15") == [(3, "number", "1/15")]


def test_a_proof_is_found_by_its_kind_and_number(shop: Shop) -> None:
    """Both words together; the kind alone finds all of them."""
    shop.act(e.GiveProof(PEAR, sheet(shop, 3), "AP", 2), e.GiveProof(PEAR, sheet(shop, 4), "AP", 3),
             e.GiveProof(PEAR, sheet(shop, 5), "BAT", None, by="Wren Halloran"))
    assert shop.found("AP II") == shop.found("ap 2/4") == [(3, "number", "AP 2/4")]
    assert shop.found("AP IV") == []
    assert [x[0] for x in shop.found("ap") if x[1] == "number"] == [3, 4]
    assert shop.found("bat") == [(5, "number", "BAT")]
    assert shop.found("halloran") == [(5, "passed", "Wren Halloran")]


def test_a_number_taken_back_or_corrected_is_not_found(shop: Shop) -> None:
    """The sheet is found by what it bears now."""
    shop.act(e.GiveNumbers(PEAR, ((sheet(shop, 3), 7),)), e.TakeNumberBack(PEAR, sheet(shop, 3)))
    assert shop.found("7/15") == []
    shop.act(e.GiveNumbers(PEAR, ((sheet(shop, 3), 8),)), e.Sign(PEAR, (sheet(shop, 3),)),
             e.Correct(PEAR, sheet(shop, 3), SheetLabel("edition", 9, 15), "the pencil says nine"))
    assert shop.found("8/15") == []
    assert shop.found("9/15") == [(3, "number", "9/15")]
    assert shop.found("pencil") == [(3, "corrected", "the pencil says nine")]


def test_the_total_is_the_one_declared_last() -> None:
    """A short edition: the old total finds nothing that is not signed with it."""
    shop = Shop()
    shop.day(pear("edition: 15"))
    shop.act(e.GiveNumbers(PEAR, ((sheet(shop, 3), 1),)), e.Lower(PEAR, 6, "the burr is gone"))
    assert shop.found("1/6") == [(3, "number", "1/6")]
    assert shop.found("1/15") == []
    assert shop.found("burr gone") == [(None, "short", "the burr is gone")]


# -- editions and where sheets are -------------------------------------------------------------


def test_what_was_said_of_an_edition_is_found(shop: Shop) -> None:
    """Why void, why destroyed, the state of a plate, how it was cancelled; each at its print."""
    shop.act(e.GiveNumbers(PEAR, ((sheet(shop, 3), 1),)), e.VoidNumber(PEAR, 12, "pencilled twice"),
             e.Destroy(PEAR, sheet(shop, 3), "torn in the frame"),
             e.TellPlate(PEAR, "pear", "steel-faced", 20),
             e.CancelPlate(PEAR, "scored across"))
    assert shop.found("pencilled") == [(None, "void", "12: pencilled twice")]
    assert shop.found("torn frame") == [(3, "destroyed", "torn in the frame")]
    assert shop.found("steel faced") == [(None, "plate", "pear steel-faced")]
    (hit,) = shop.book.search("scored")
    assert (hit.where, hit.print, hit.edition, hit.session) == (
        "cancelled", "Pear on a Sill", PEAR, "")


def test_where_a_sheet_is_is_found_and_to_whom_only_when_asked(shop: Shop) -> None:
    """The place and its terms are for all; names and notes are the printer's own."""
    shop.act(e.GiveNumbers(PEAR, ((sheet(shop, 3), 1),)),
             e.HandOut(PEAR, sheet(shop, 3), "gallery", "consignment", due="2026-11-30",
                       words={"to": "Zoë Brück", "note": "framed in oak"}))
    assert shop.found("consignment") == [
        (3, "where", "with a gallery, consignment, due back 2026-11-30")]
    assert shop.found("1/15 gallery") == [
        (3, "number", "1/15"), (3, "where", "with a gallery, consignment, due back 2026-11-30")]
    assert shop.found("zoe") == shop.found("oak") == []
    own = [(3, "own words", "note: framed in oak; to: Zoë Brück")]
    assert shop.found("zoe bruck", private=True) == own
    assert shop.found("oak", private=True) == own
    (hit,) = shop.book.search("oak", private=True)
    assert (hit.edition, hit.sheet) == (PEAR, sheet(shop, 3))


def test_a_sheet_known_from_a_paper_is_found(shop: Shop) -> None:
    """By its number, the paper, and whoever has it; it has no session."""
    shop.act(e.Recall(PEAR, (e.Recalled("the blue ledger", 5, place="sold",
                                        words={"to": "Anna"}),)))
    (hit,) = shop.book.search("5/15")
    assert (hit.session, hit.impression, hit.text, hit.edition) == ("", None, "5/15", PEAR)
    assert hit.sheet
    assert sorted(shop.found("ledger 5/15")) == [(None, "number", "5/15"),
                                                 (None, "paper", "the blue ledger")]
    assert shop.found("anna", private=True)[0][1] == "own words"


# -- stacks ------------------------------------------------------------------------------------


def test_what_was_done_under_the_boards_is_found(shop: Shop) -> None:
    """The weight, why a change was passed by, a control sheet's weighing; each with its stack."""
    stack = f"{shop.book.sessions()[-1].id}.1"
    shop.on_boards(b.Weight(stack, 12_500), b.Weigh(stack, sheet(shop, 3), 98_400),
                   b.SkipChange(stack, "blotters bone dry", 0, 1))
    assert shop.found("12.5 kg") == [(None, "weight", "12.5 kg")]
    assert shop.found("98.4") == [(3, "weighing", "98.4 g")]
    (hit,) = shop.book.search("bone dry")
    assert (hit.where, hit.stack, hit.print) == ("skipped", stack, "Pear on a Sill, 2026-05-03")


# -- the table beside the entries ----------------------------------------------------------------


def rows(path: Path) -> list[tuple[object, ...]]:
    """Every row of the table, straight from the file."""
    file = sqlite3.connect(path)
    found = file.execute("SELECT * FROM words ORDER BY day, sequence, part").fetchall()
    file.close()
    return found


def filled(path: Path) -> list[str]:
    """A book with words of every kind, some taken back; the digests of its entries."""
    with Book.open(path, write=True, create=True) as book:
        shop = Shop(book)
        shop.day(pear("edition: 15"))
        shop.say(a.Note("Crevé near the stalk", 3), a.Tag("salty", 4), a.Judge("keep", 3),
                 a.TakeReading("tone", "4", None, 4))
        shop.act(e.GiveNumbers(PEAR, ((sheet(shop, 3), 1),)),
                 e.HandOut(PEAR, sheet(shop, 3), "sold", words={"to": "Zoë"}))
        assert shop.workshop.open_session("pear", pear("edition: 15"), None).ok
        shop.say(a.Note("mistaken", to="session"), a.TakeBack())
        return [x.sha256 for x in book.entries()]


def as_before(path: Path) -> None:
    """Have the file laid out as it was before there was the table."""
    file = sqlite3.connect(path)
    file.execute("DROP TABLE words")
    file.execute(MIGRATIONS[2].statements[-1])
    file.execute("DELETE FROM migrations WHERE number > 3")
    file.execute("DELETE FROM meta WHERE key = 'words'")
    file.execute("PRAGMA user_version = 3")
    file.commit()
    file.close()


def asked(book: Book) -> list[object]:
    """What some searches find."""
    return [book.search(words, private=True) for words in (
        "creve", "salty", "keep", "mistaken", "1/15", "zoe", "tone: 4", "d3", "pear")]


def test_a_book_from_before_is_read_as_it_is_and_brought_up_when_written(tmp_path: Path) -> None:
    """The same answers; its entries untouched; the same table as one kept as entries came in."""
    path = tmp_path / "book.db"
    digests = filled(path)
    kept = rows(path)
    assert not any("mistaken" in str(row) for row in kept)
    with Book.reading(path) as book:
        right = asked(book)
        assert [len(x) > 0 for x in right] == [True, True, True, False, *[True] * 5]
    as_before(path)
    before = path.read_bytes()
    with Book.reading(path) as book:
        assert asked(book) == right
    assert path.read_bytes() == before
    with Book.open(path, write=True) as book:
        assert asked(book) == right
        assert [x.sha256 for x in book.entries()] == digests
        assert book.verify() == []
    assert rows(path) == kept


def test_what_is_missing_or_of_another_version_is_made_anew(tmp_path: Path) -> None:
    """Thrown away, or folded by other rules: the next writer makes it."""
    path = tmp_path / "book.db"
    filled(path)
    kept = rows(path)
    for change in ("DELETE FROM words", "UPDATE words SET text = 'x' WHERE part = 'note'"):
        file = sqlite3.connect(path)
        file.execute(change)
        file.execute("UPDATE meta SET value = '0' WHERE key = 'words'")
        file.commit()
        file.close()
        with Book.reading(path) as book:
            assert len(book.search("creve")) == 1
        with Book.open(path, write=True):
            pass
        assert rows(path) == kept


def test_what_another_book_brings_has_its_words_too(tmp_path: Path) -> None:
    """Taken in, the same is found as at home."""
    path = tmp_path / "book.db"
    filled(path)
    with Book.reading(path) as book, Book.in_memory() as other:
        other.merge(book.entries())
        assert asked(other) == asked(book)


def test_a_declaration_tells_the_cap_of_each_proof() -> None:
    """Numbers of proofs are held against their own total, not against the edition's."""
    shop = Shop()
    shop.day(pear(""))
    shop.act(e.Declare(PEAR, "Pear on a Sill", "Idony Threlwick", 9, caps={"AP": Cap(2)}),
             e.GiveProof(PEAR, sheet(shop, 3), "AP", 1))
    assert shop.found("AP I/II") == [(3, "number", "AP 1/2")]
    assert shop.found("AP 1/9") == []
