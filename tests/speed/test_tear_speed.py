"""How long tearing and counting sheets take, and how that compares with exact references."""

from __future__ import annotations

import statistics
import time

import pytest

from benchapp.quantities import read_percentage, read_size
from benchapp.reckon.sheets import Record, reckon_sheets
from benchapp.reckon.tear import Piece, tear_sheet
from tests.outside.data.make_demand import counts_of_sheet, fewest_sheets
from tests.outside.data.make_tear import best_of_sheet

#: Full sheets and pieces as they are torn: mm.
REAL = [("760 x 560 mm", "190 x 140 mm"), ("760 x 560 mm", "250 x 180 mm"),
        ("700 x 500 mm", "198 x 148 mm"), ("1060 x 760 mm", "250 x 180 mm"),
        ("1200 x 800 mm", "178 x 127 mm")]  # fmt: skip


def seconds(call, times=5):
    """The median time of a call."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        call()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


@pytest.mark.full
def test_a_real_sheet_is_torn_at_once():
    """A whole answer, drawing included, while one waits: usually 5 ms.

    The largest is held to the brute force on a sheet of a few hundred squares.
    """
    brute = seconds(lambda: best_of_sheet((34, 26), [(5, 3, 1)], True, 0), times=3)
    for sheet, piece in REAL:
        taken = seconds(lambda s=sheet, p=piece: tear_sheet(read_size(s), [Piece(read_size(p))]))
        print(f"tear {sheet} to {piece}: {taken * 1e3:.1f} ms")
        assert taken < 20 * brute


@pytest.mark.full
def test_it_beats_trying_every_tear():
    """34 × 26 by 5 × 3: the ratio to the brute force that tries every tear."""
    ours = seconds(lambda: tear_sheet(read_size("34 x 26 mm"), [Piece(read_size("5 x 3 mm"))]))
    brute = seconds(lambda: best_of_sheet((34, 26), [(5, 3, 1)], True, 0), times=3)
    print(f"tear: ours {ours * 1e3:.1f} ms, every tear {brute * 1e3:.1f} ms, {brute / ours:.0f}×")
    assert ours < brute


@pytest.mark.full
def test_a_demand_beats_brute_force_with_cp_sat():
    """Three sizes over several sheets: the ratio to brute force and CP-SAT together."""
    pytest.importorskip("ortools", reason="ortools is not installed: pip install '.[reference]'")
    sheet, sizes, demand = (14, 12), [(6, 5), (4, 3), (5, 2)], (5, 6, 4)
    pieces = [Piece(read_size(f"{w} x {h} mm"), n)
              for (w, h), n in zip(sizes, demand, strict=True)]  # fmt: skip
    ours = seconds(lambda: tear_sheet(read_size("14 x 12 mm"), pieces))
    theirs = seconds(
        lambda: fewest_sheets(counts_of_sheet(sheet, sizes, True, demand), demand), times=3
    )
    print(f"demand: ours {ours * 1e3:.1f} ms, reference {theirs * 1e3:.1f} ms, "
          f"{theirs / ours:.1f}×")  # fmt: skip
    assert ours < theirs


@pytest.mark.full
def test_sheets_are_counted_at_once():
    """A whole answer, beside scipy's own search for the number."""
    betabinom = pytest.importorskip("scipy.stats", reason="scipy is not installed").betabinom
    record, sure = Record(3, 60), read_percentage("95 %")

    def theirs():
        number = 25
        while betabinom.sf(24, number, 66, 4) < 0.95:
            number += 1
        return number

    ours = seconds(lambda: reckon_sheets(25, sure=sure, record=record), times=50)
    slow = seconds(theirs, times=20)
    print(f"sheets: ours {ours * 1e3:.2f} ms, scipy {slow * 1e3:.2f} ms")
    assert theirs() == reckon_sheets(25, sure=sure, record=record).json()["sheets"]
    assert ours < 5 * slow
