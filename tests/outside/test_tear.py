"""Tearing against published instances, and against every tear at every millimetre."""

from __future__ import annotations

import pytest

from benchapp.quantities import read_size
from benchapp.reckon.tear import Piece, tear_sheet
from benchapp.reckon.tearing.demand import fewest_sheets
from benchapp.reckon.tearing.one_sheet import best_sheet
from benchapp.reckon.tearing.search import AllCounts, MostValue, Search, Work
from benchapp.reckon.tearing.shapes import Frame, Shape
from tests.outside.data import make_demand, make_tear
from tests.outside.data.kept import load


def most(sheet, piece, **how):
    """The most pieces of one size a sheet gives, and the fewest tears for them."""
    found = tear_sheet(read_size(sheet), [Piece(read_size(piece))], **how).json()
    assert found["exact"]
    return found["pieces"], found["tears"]


@pytest.mark.parametrize(
    ("sheet", "piece", "pieces"),
    [("22 x 16 mm", "5 x 3 mm", 22), ("30 x 22 mm", "7 x 4 mm", 22), ("49 x 28 mm", "8 x 3 mm", 56),
     ("560 x 760 mm", "250 x 350 mm", 4), ("760 x 1120 mm", "250 x 350 mm", 9),
     ("560 x 760 mm", "190 x 280 mm", 8)],
)  # fmt: skip
def test_one_size_that_may_turn(sheet, piece, pieces):
    """Derived by exact search; in the first two a layout without tears would reach 23."""
    assert most(sheet, piece)[0] == pieces


def test_one_size_whose_grain_is_fixed():
    """560 × 760 to 190 × 280 mm: 4 unturned (derived by exact search)."""
    assert most("560 x 760 mm", "190 x 280 mm", turn=False)[0] == 4


@pytest.mark.parametrize(
    ("piece", "pieces", "tears"), [("190 x 140 mm", 16, 15), ("250 x 180 mm", 9, 10)]
)
def test_the_fewest_tears_for_the_most_pieces(piece, pieces, tears):
    """A 760 × 560 mm sheet (derived by exact search in an earlier trial)."""
    assert most("760 x 560 mm", piece) == (pieces, tears)


#: Width, height, value, most: Christofides & Whitlock 1977, no. 1, on 15 × 10.
WHITLOCK = [(8, 4, 66, 2), (3, 7, 35, 1), (8, 2, 24, 3), (3, 4, 17, 5), (3, 3, 11, 2),
            (3, 2, 8, 2), (2, 1, 2, 1)]  # fmt: skip


def test_the_first_instance_of_1977_without_its_limits():
    """249 (Christofides & Whitlock 1977, no. 1, recomputed)."""
    shapes = [Shape(k, w, h, False) for k, (w, h, _, _) in enumerate(WHITLOCK)]
    best = best_sheet(Frame(15, 10), shapes, [v for _, _, v, _ in WHITLOCK], Work())
    assert (best.worth, best.exact) == (249, True)


def test_the_first_instance_of_1977_with_its_limits():
    """244 (Christofides & Whitlock 1977, no. 1; from memory, recomputed)."""
    shapes = [Shape(k, w, h, False) for k, (w, h, _, _) in enumerate(WHITLOCK)]
    limits = [m for *_, m in WHITLOCK]
    goal = AllCounts(limits)
    search = Search(Frame(15, 10), shapes, goal, Work(), limits)
    worth = [
        sum(n * v for n, (_, _, v, _) in zip(goal.unpack(counts), WHITLOCK, strict=True))
        for counts in search.whole
    ]
    assert max(worth) == 244


#: Beasley's first guillotine instance on 250 × 250, value = area (OR-Library, gcut1).
GCUT1 = [(167, 184), (114, 118), (167, 152), (83, 140), (70, 86), (143, 166), (120, 160),
         (66, 148), (87, 141), (69, 165)]  # fmt: skip


@pytest.mark.parametrize(("turn", "value"), [(False, 56_460), (True, 58_136)])
def test_gcut1(turn, value):
    """56460 unturned, 58136 turned (OR-Library, gcut1)."""
    shapes = [Shape(k, w, h, False) for k, (w, h) in enumerate(GCUT1)]
    shapes += [Shape(k, h, w, True) for k, (w, h) in enumerate(GCUT1)] if turn else []
    best = best_sheet(Frame(250, 250), shapes, [w * h for w, h in GCUT1], Work())
    assert (best.worth, best.exact) == (value, True)


def shapes_of(row):
    """The shapes of a question kept as data."""
    found = []
    for kind, (w, h) in enumerate(row["sizes"]):
        found.append(Shape(kind, w, h, False, row.get("deckles", 0)))
        if row["turn"] and w != h:
            found.append(Shape(kind, h, w, True, row.get("deckles", 0)))
    return found


def one_sheet(row):
    """What we say to a question about one sheet: value and tears."""
    one = len(row["sizes"]) == 1
    frame = Frame(*row["sheet"])
    shapes = [s for s in shapes_of(row) if frame.holds(s)]
    goal = MostValue(frame, shapes, [1 if one else w * h for w, h in row["sizes"]])
    given = Search(frame, shapes, goal, Work()).whole
    return goal.told(given[0]) if given else (0, 0)


def demand(row):
    """What we say to a question about a demand: sheets, and whether that is proved."""
    frame = Frame(*row["sheet"])
    shapes = tuple(s for s in shapes_of(row) if frame.holds(s))
    cover = fewest_sheets(frame, shapes, row["demand"], Work())
    return len(cover.sheets), cover.exact


def test_one_sheet_as_brute_force_tears_it():
    """Value and fewest tears of 600 sheets, a third with deckles to keep (kept as data)."""
    kept = load("tear")
    assert len(kept) >= 500
    assert [row for row in kept if one_sheet(row) != (row["value"], row["tears"])] == []


def test_demands_as_brute_force_and_cp_sat_meet_them():
    """The fewest sheets of 600 demands (kept as data)."""
    kept = load("demand")
    assert len(kept) >= 500
    assert [row for row in kept if demand(row) != (row["sheets"], True)] == []


@pytest.mark.full
def test_fresh_sheets_as_brute_force_tears_them():
    """Other sheets, torn by brute force now."""
    wrong = [r for r in make_tear.rows(7, 600) if one_sheet(r) != (r["value"], r["tears"])]
    assert wrong == []


@pytest.mark.full
def test_fresh_demands_as_cp_sat_meets_them():
    """Other demands, the fewest sheets proved by CP-SAT now."""
    pytest.importorskip("ortools", reason="ortools is not installed: pip install '.[reference]'")
    wrong = [r for r in make_demand.rows(7, 500) if demand(r) != (r["sheets"], True)]
    assert wrong == []
