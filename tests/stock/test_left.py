"""What is left: counts less what was used since, and never more than the book knows."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.clock import FakeClock
from benchapp.decision import Refusal
from benchapp.events.entry import Entry
from benchapp.reports.stock import history_lines, item_lines, left_words, order_words
from benchapp.stock.actions import (
    Action,
    CorrectCount,
    Count,
    Mistaken,
    MixBatch,
    decide_stock,
    stock_stream,
)
from benchapp.stock.left import InkUse, PaperUse, Uses, all_left, item_left
from benchapp.stock.names import matching_names, nearest_names
from benchapp.stock.parse import amount_words, read_amount, split_amount
from benchapp.stock.state import Stock, apply_stock_entry, replay_stock

COTTON, DAY = "soft cotton, 230 g/m2", 24 * 3_600_000


class Shelf:
    """A stock for tests: what is decided is folded, and kept to be replayed."""

    def __init__(self, origin: str = "home", book: tuple[Entry, ...] = ()) -> None:
        self.clock = FakeClock()
        self.origin = origin
        self.entries = list(book)
        self.uses: list[PaperUse] = []

    @property
    def stock(self) -> Stock:
        """The stock as it is."""
        return replay_stock(self.entries)

    def do(self, action: Action) -> Refusal | None:
        """Do it; the refusal, where there is one."""
        decided = decide_stock(self.stock, action, self.clock.now(), self.origin)
        if isinstance(decided, Refusal):
            return decided
        for draft in decided:
            n = len(self.entries) + 1
            self.entries.append(Entry(f"{self.origin}:{n}", draft.stream, n, f"{self.origin}:{n}",
                                      "", draft.kind, self.clock.now(), draft.body))
        return None

    def print_(self, pieces: int, day: str = "a", per_sheet: int | None = 4) -> None:
        """So many pieces are printed, one a minute."""
        for _ in range(pieces):
            self.clock.advance(60_000)
            self.uses.append(PaperUse(COTTON, self.clock.now().wall_ms, day, per_sheet))

    def left(self, item: str = COTTON, ink: tuple[InkUse, ...] = ()):
        """What is left of a thing."""
        return item_left(self.stock, item, Uses(tuple(self.uses), ink, (COTTON,)))


_MOVES = st.lists(st.one_of(
    st.tuples(st.just("print"), st.integers(0, 30)),
    st.tuples(st.just("count"), st.integers(0, 60)),
    st.tuples(st.just("correct"), st.integers(0, 60)),
    st.tuples(st.just("night"), st.just(0))), max_size=25)


@given(_MOVES, st.sampled_from([1, 2, 3, 4, 6]))
def test_what_is_left_is_the_last_count_less_the_pieces_printed_since(moves, per_sheet) -> None:
    """Kept beside by adding up; nothing is ever below none, and no order either."""
    shelf, sheets, pieces, day = Shelf(), None, 0, 0
    for what, n in moves:
        if what == "print":
            shelf.print_(n, f"day {day}", per_sheet)
            pieces += n
        elif what == "night":
            shelf.clock.advance(DAY)
            day += 1
        elif what == "count":
            shelf.clock.advance(60_000)
            assert shelf.do(Count(COTTON, n, "sheets")) is None
            sheets, pieces = n, 0
        elif sheets is not None:
            refused = shelf.do(CorrectCount(COTTON, n, "sheets", "counted again"))
            assert (refused is None) == (n != sheets)
            sheets = n
    found = shelf.left()
    if sheets is None:
        assert (found.left, found.order, found.why) == (None, None, "nobody has counted it")
        return
    assert found.used_pieces == pieces
    assert found.left == found.left_most == max(Fraction(0), sheets - Fraction(pieces, per_sheet))
    if shelf.uses:
        of_last = sum(1 for x in shelf.uses if x.day == shelf.uses[-1].day)
        assert found.order == max(0, ceil(Fraction(of_last, per_sheet) - found.left)) >= 0
    else:
        assert found.order is None


def test_a_count_takes_the_place_of_the_one_before_and_both_stay_to_be_seen() -> None:
    """Nothing printed before a count is taken off it."""
    shelf = Shelf()
    shelf.do(Count(COTTON, 40, "sheets"))
    shelf.print_(10)
    assert left_words(shelf.left()) == "37 sheets and 2 pieces left"
    shelf.do(Count(COTTON, 36, "sheets"))
    assert (shelf.left().left, shelf.left().used) == (36, 0)
    shelf.print_(2)
    assert left_words(shelf.left()) == "35 sheets and 2 pieces left"
    first, second = history_lines(shelf.stock, COTTON)
    assert first.startswith("40 sheets on ")
    assert first.endswith(", replaced by a later count")
    assert second.startswith("36 sheets on ")


def test_a_mistaken_count_gives_way_to_the_one_before() -> None:
    """It is said why, and stays in the history; a thing without any other count is gone."""
    shelf = Shelf()
    shelf.do(Count(COTTON, 40, "sheets"))
    shelf.clock.advance(60_000)
    shelf.do(Count(COTTON, 4, "sheets"))
    assert shelf.do(Mistaken(COTTON, "another drawer")) is None
    assert shelf.left().left == 40
    assert history_lines(shelf.stock, COTTON)[-1].endswith(", by mistake: another drawer")
    shelf.do(Mistaken(COTTON, "another drawer"))
    assert shelf.stock.names() == ()
    assert "no count" in str(shelf.do(Mistaken(COTTON, "again")))


def test_a_corrected_count_keeps_its_moment_and_says_why() -> None:
    """What was printed since is still taken off."""
    shelf = Shelf()
    shelf.do(Count(COTTON, 40, "sheets"))
    shelf.print_(8)
    assert shelf.do(CorrectCount(COTTON, 38, "sheets", "counted twice")) is None
    assert left_words(shelf.left()) == "36 sheets left"
    assert "(entered as 40 sheets, corrected: counted twice)" in item_lines(shelf.left())[1]
    assert "says that already" in str(shelf.do(CorrectCount(COTTON, 38, "sheets", "again")))


def test_a_count_of_an_earlier_day_is_of_its_evening() -> None:
    """Prints of that day are in it; none is of a day to come."""
    shelf = Shelf()
    day = "2026-05-03"
    shelf.print_(4)
    shelf.clock.advance(DAY)
    shelf.print_(4, "b")
    assert shelf.do(Count(COTTON, 10, "sheets", on=day)) is None
    assert (shelf.left().left, shelf.left().used_pieces) == (9, 4)
    assert "still to come" in str(shelf.do(Count(COTTON, 10, "sheets", on="2026-05-05")))
    assert shelf.do(Count(COTTON, 10, "sheets", on="2026-05-04")) is None
    assert shelf.left().left == 10, "of today is of now"
    assert "is not a day" in str(shelf.do(Count(COTTON, 10, "sheets", on="20260503")))


def test_lots_counted_at_several_times_leave_a_range() -> None:
    """What came between may be of either; counted at one moment it is one number."""
    shelf = Shelf()
    shelf.do(Count(COTTON, 20, "sheets", lot="spring"))
    shelf.print_(8)
    shelf.do(Count(COTTON, 10, "sheets", lot="autumn"))
    shelf.print_(4)
    found = shelf.left()
    assert (found.counted, found.left, found.left_most) == (30, 27, 29)
    assert left_words(found) == "27 sheets to 29 sheets left"
    assert "several lots: spring, autumn" in str(shelf.do(Mistaken(COTTON, "x")))
    assert shelf.do(Mistaken(COTTON, "given away", lot="Spring")) is None
    assert shelf.left().left == 9


def test_what_is_not_known_is_said_and_not_reckoned() -> None:
    """Sheets without a tear, things the book never sees, lots counted in two ways."""
    shelf = Shelf()
    shelf.do(Count(COTTON, 20, "sheets"))
    shelf.print_(3, per_sheet=None)
    assert (shelf.left().left, shelf.left().order) == (None, None)
    assert "count pieces instead" in shelf.left().why
    shelf.do(Count(COTTON, 20, "pieces"))
    shelf.print_(3, per_sheet=None)
    assert left_words(shelf.left()) == "17 pieces left"
    shelf.do(Count("blotters", 24, "items"))
    assert "does not show when it is used" in left_words(shelf.left("blotters"))
    shelf.do(Count(COTTON, 4, "sheets", lot="old"))
    assert "different units" in shelf.left().why


def test_more_used_than_counted_is_said() -> None:
    """Nothing is below none: somebody has to count."""
    shelf = Shelf()
    shelf.do(Count(COTTON, 1, "sheets"))
    shelf.print_(9)
    assert (shelf.left().left, shelf.left().over, shelf.left().order) == (0, True, 3)
    assert "count again" in left_words(shelf.left())
    assert order_words(shelf.left()) == (
        "order 3 sheets before the next day: the last day took 2 sheets and 1 piece")


def test_a_batch_is_known_by_what_was_weighed() -> None:
    """Its weight is that of its parts; each day that used it has to be weighed."""
    shelf = Shelf()
    mixed = (("bone black", 60_000), ("raw umber", 9_000))
    assert shelf.do(MixBatch("warm 1", mixed, "for the harbour plates")) is None
    assert left_words(shelf.left("warm 1")) == "69 g left"
    assert "from bone black 60 g and raw umber 9 g; for the harbour" in item_lines(
        shelf.left("warm 1"))[1]
    shelf.clock.advance(60_000)
    now = shelf.clock.now().wall_ms
    used = InkUse("Warm 1", now, 20_000)
    assert left_words(shelf.left("warm 1", (used, InkUse("other", now, 5)))) == "49 g left"
    assert "not always weighed" in shelf.left("warm 1", (used, InkUse("warm 1", now, None))).why
    assert "1 day since did not record" in shelf.left("warm 1", (used, InkUse(None, now, 5))).why
    shelf.do(Count("warm 1", 30_000, "mg"))
    assert left_words(shelf.left("warm 1", (used,))) == "30 g left", "used before it was weighed"
    assert "There is a batch" in str(shelf.do(MixBatch("WARM 1", mixed)))


def test_an_unweighed_part_leaves_a_batch_unweighed() -> None:
    """Until the batch itself is on the scale; a tin gives what was weighed out of it."""
    shelf = Shelf()
    shelf.do(Count("bone black", 500_000, "mg"))
    shelf.clock.advance(60_000)
    shelf.do(MixBatch("warm 1", (("bone black", 60_000), ("raw umber", None))))
    assert "not weighed when it was mixed" in shelf.left("warm 1").why
    assert left_words(shelf.left("bone black")) == "440 g left"
    shelf.do(Mistaken("warm 1", "never mixed"))
    assert left_words(shelf.left("bone black")) == "500 g left"
    assert shelf.stock.batch("warm 1") is None


@given(st.lists(st.tuples(st.booleans(), st.integers(0, 50), st.integers(0, 3)), max_size=10))
def test_two_books_brought_together_say_the_same_whichever_takes_in_the_other(moves) -> None:
    """Counts are entries like all others: the later one holds."""
    home, away = Shelf("home"), Shelf("away")
    for at_home, n, hours in moves:
        shelf = home if at_home else away
        home.clock.advance(hours * 3_600_000 + 1)
        away.clock.advance(hours * 3_600_000 + 1)
        shelf.do(Count(COTTON, n, "sheets"))
    one = replay_stock([*home.entries, *away.entries])
    two = replay_stock([*away.entries, *home.entries])
    assert all_left(one, Uses(papers=(COTTON,))) == all_left(two, Uses(papers=(COTTON,)))
    if moves:
        assert item_left(one, COTTON, Uses(papers=(COTTON,))).left == moves[-1][1]
    assert {e.stream for e in home.entries} <= {stock_stream("home")}


def test_an_entry_of_something_else_changes_nothing() -> None:
    """A fold is total."""
    shelf = Shelf()
    shelf.do(Count(COTTON, 1, "sheets"))
    strange = shelf.entries[0]
    other = Entry("x:1", "stack/1", 1, "x:1", "", "laid", strange.at, {})
    assert apply_stock_entry(shelf.stock, other) == shelf.stock


@pytest.mark.parametrize("action", [
    Count(" ", 1, "sheets"), Count("a\x1b[2J", 1, "sheets"), Count("a", -1, "sheets"),
    Count("a", 10_000, "sheets"), Count("a", 1, "reams"), Count("a", 1, "sheets", lot=" "),
    Count("a", 20_000_000, "mg"), MixBatch("a", ()), MixBatch("a", (("", 1),)),
    MixBatch("a", (("b", 1),), on="2030-01-01"), MixBatch("a", (("b", 1),), note=" "),
    CorrectCount("a", 1, "sheets", "why"), Mistaken("a", " ")])
def test_what_cannot_be_is_refused(action: Action) -> None:
    """Nothing is written of it."""
    shelf = Shelf()
    refused = shelf.do(action)
    assert refused is not None
    assert refused.rule
    assert shelf.entries == []


@pytest.mark.parametrize(("text", "amount"), [
    ("40 sheets", (40, "sheets")), ("1 Sheet", (1, "sheets")), ("12pieces", (12, "pieces")),
    ("180 g", (180_000, "mg")), ("0,5 kg", (500_000, "mg")), ("24", (24, "items"))])
def test_amounts_are_read_as_they_are_typed(text: str, amount: tuple[int, str]) -> None:
    """Whole sheets, pieces and things; weights in any unit of mass."""
    assert read_amount(text) == amount


@pytest.mark.parametrize("text", ["", "forty", "-3 sheets", "3.5 sheets", "4 reams", "9" * 400])
def test_what_is_no_amount_is_said(text: str) -> None:
    """With what to write."""
    with pytest.raises(ValueError, match="40 sheets"):
        read_amount(text)


def test_a_name_and_its_amount_are_told_apart() -> None:
    """A weight in the name stays there."""
    assert split_amount("soft cotton, 230 g/m2 40 sheets") == ("soft cotton, 230 g/m2", "40 sheets")
    assert split_amount("warm black 1: 52 g") == ("warm black 1", "52 g")
    assert split_amount("blotters 24") == ("blotters", "24")
    assert split_amount("raw umber") == ("raw umber", "")


def test_a_part_of_a_name_is_enough_where_it_is_one_thing_s() -> None:
    """The whole name always is, though it begins another."""
    known = ("Cotton", "cotton rag", "gampi")
    assert matching_names("COTTON", known) == ("Cotton",)
    assert matching_names("cot", known) == ("Cotton", "cotton rag")
    assert matching_names("rag", known) == ("cotton rag",)
    assert matching_names("SOFT cotton,  230 gsm", (COTTON,)) == (COTTON,)
    assert matching_names("rag cot", known) == ("cotton rag",)
    assert matching_names(" ", known) == matching_names("linen", known) == ()


def test_the_nearest_name_is_offered() -> None:
    """Of a long name its beginning is compared; of a strange one nothing is offered."""
    known = (COTTON, "tinted gampi, 22 g/m2", "bone black")
    assert nearest_names("sofd coton", known) == (COTTON,)
    assert nearest_names("bone blakc", known) == ("bone black",)
    assert nearest_names("zinc", known) == nearest_names("", ()) == ()


def test_parts_of_a_sheet_are_pieces_where_all_are_torn_alike() -> None:
    """Else only that a part is left."""
    assert amount_words(Fraction(7, 2), "sheets", 4) == "3 sheets and 2 pieces"
    assert amount_words(Fraction(1, 4), "sheets", 4) == "1 piece"
    assert amount_words(Fraction(7, 2), "sheets") == "3 sheets and part of one"
    assert amount_words(Fraction(1, 3), "sheets", 4) == "part of a sheet"
