"""Tearing: what holds of every answer, what is offered first, and what is refused."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.history.calc_inputs import tear_for
from benchapp.quantities import Length, Size, read_grammage, read_length, read_size
from benchapp.recipe.model import Paper
from benchapp.reckon.errors import ReckonError
from benchapp.reckon.tear import RECIPE_TOLERANCE, Piece, tear_sheet
from benchapp.reckon.tearing.layout import Rect, lay_out_tears
from benchapp.reckon.tearing.one_sheet import best_sheet
from benchapp.reckon.tearing.search import MostValue, Search, Work
from benchapp.reckon.tearing.shapes import Frame, Shape
from benchapp.reckon.tearing.strips import best_strips, straight_rows


def mm(width, height):
    """A size in whole millimetres."""
    return Size(Length(Fraction(width)), Length(Fraction(height)))


def asked(sheet, *pieces, **how):
    """The answer to a question in plain text; a piece may have its number behind a colon."""
    parts = [p.partition(":") for p in pieces]
    found = [Piece(read_size(size), int(n) if n else None) for size, _, n in parts]
    return tear_sheet(read_size(sheet), found, **how)


@st.composite
def questions(draw):
    """Sheets and one to three sizes, most of which fit, with all that may be asked of them."""
    sheet = draw(st.integers(100, 800)), draw(st.integers(100, 800))
    sizes = draw(st.lists(st.tuples(st.integers(60, 420), st.integers(60, 420)), min_size=1,
                          max_size=3))  # fmt: skip
    deckles = draw(st.sampled_from([0, 0, 0, 1, 2]))
    how = {
        "turn": draw(st.booleans()),
        "deckles": deckles,
        "deckled": draw(st.sampled_from(["all", "long", "short"])),
        "edge": Length(Fraction(0 if deckles else draw(st.sampled_from([0, 0, 5, 8])))),
        "tolerance": Length(Fraction(draw(st.sampled_from([0, 2])))),
    }
    wanted = (
        draw(st.lists(st.integers(1, 5), min_size=3, max_size=3)) if draw(st.booleans()) else None
    )
    pieces = [Piece(mm(*size), wanted[k] if wanted else None) for k, size in enumerate(sizes)]
    return mm(*sheet), pieces, how


def rects(laid):
    """The pieces of one sheet of an answer as (left, low, right, high) in mm."""
    return [
        (p["x_mm"], p["y_mm"], p["x_mm"] + p["width_mm"], p["y_mm"] + p["height_mm"])
        for p in laid["pieces"]
    ]


def overlap(a, b):
    """Whether two rectangles share more than an edge."""
    slack = 1e-9
    across = min(a[2], b[2]) - max(a[0], b[0]) > slack
    return across and min(a[3], b[3]) - max(a[1], b[1]) > slack


@given(questions())
def test_what_holds_of_every_answer(question):
    """Pieces are as large as asked, on the sheet, apart; numbers add up; demands are met."""
    sheet, pieces, how = question
    try:
        answer = tear_sheet(sheet, pieces, **how).json()
    except ReckonError:  # what is refused, and how, is tested below
        return
    edge = float(how["edge"].mm)
    wide, high = float(sheet.width.mm), float(sheet.height.mm)
    for way in answer["ways"]:
        assert way["sheets"] == sum(laid["sheets"] for laid in way["layouts"])
        assert way["pieces"] == sum(laid["sheets"] * len(laid["pieces"]) for laid in way["layouts"])
        for laid in way["layouts"]:
            lying = rects(laid)
            for piece, (left, low, right, up) in zip(laid["pieces"], lying, strict=True):
                size = pieces[piece["size"]].size
                sides = (float(size.width.mm), float(size.height.mm))
                need = sides[::-1] if piece["turned"] else sides
                assert piece["width_mm"] >= need[0]
                assert piece["height_mm"] >= need[1]
                assert piece["deckles"] >= how["deckles"]
                assert edge <= left < right <= wide - edge
                assert edge <= low < up <= high - edge
                assert how["turn"] or not piece["turned"]
            pairs = [(a, b) for i, a in enumerate(lying) for b in lying[:i]]
            assert not any(overlap(a, b) for a, b in pairs)
            letters = "".join(laid["drawing"])
            drawn = sum(letters.count(c) for c in "abc")
            assert drawn == len(laid["pieces"]) or laid["drawing"] == []
    for size in answer["sizes"]:
        assert size["pieces"] >= size.get("wanted", 0)
    json.dumps(answer)


@given(questions())
def test_a_cleverer_way_is_offered_only_where_it_gains(question):
    """From way to way more pieces, or fewer sheets; the figures are those of the last."""
    sheet, pieces, how = question
    try:
        answer = tear_sheet(sheet, pieces, **how).json()
    except ReckonError:
        return
    ways = answer["ways"]
    wanted = pieces[0].wanted is not None
    gains = [(-w["sheets"] if wanted else w["pieces"]) for w in ways]
    assert gains == sorted(set(gains))
    assert answer["first"] == ways[0]["way"]
    assert (answer["pieces"], answer["sheets"]) == (ways[-1]["pieces"], ways[-1]["sheets"])


shapes_of_one = st.tuples(st.integers(3, 30), st.integers(3, 30))


def both_ways(width, height, deckles=0):
    """The shapes of one size that may turn."""
    return [Shape(0, width, height, False, deckles), Shape(0, height, width, True, deckles)]


@given(st.tuples(st.integers(30, 80), st.integers(30, 80)), shapes_of_one, st.integers(0, 2))
def test_the_steps_take_the_sheet_apart_into_just_its_pieces_and_waste(sheet, size, deckles):
    """Torn step by step the sheet ends as the pieces and the waste, with the tears counted."""
    frame, shapes = Frame(*sheet), both_ways(*size, deckles)
    shapes = [s for s in shapes if frame.holds(s)]
    if not shapes:
        return
    goal = MostValue(frame, shapes, [1])
    search = Search(frame, shapes, goal, Work())
    if not search.whole:
        return
    laid = lay_out_tears(frame, shapes, search.tree(search.whole[0]))
    lying = {(0, 0, *sheet)}
    for step in laid.steps:
        rect = step.rect
        lying.remove((rect.x, rect.y, rect.width, rect.height))
        assert sum(step.lengths) == (rect.width if step.way == "x" else rect.height)
        at = 0
        for length in step.lengths:
            lying.add((rect.x + at, rect.y, length, rect.height) if step.way == "x"
                      else (rect.x, rect.y + at, rect.width, length))  # fmt: skip
            at += length
    ends = [p.rect for p in laid.pieces] + list(laid.waste)
    assert lying == {(r.x, r.y, r.width, r.height) for r in ends}
    assert (len(laid.pieces), laid.tears) == goal.told(search.whole[0])


@given(st.tuples(st.integers(30, 80), st.integers(30, 80)), shapes_of_one)
def test_never_worse_than_straight_rows_and_never_more_than_the_area(sheet, size):
    """The best is between the naive grid and what the area would give."""
    frame, shapes = Frame(*sheet), both_ways(*size)
    shapes = [s for s in shapes if frame.holds(s)]
    if not shapes:
        return
    best = best_sheet(frame, shapes, [1], Work())
    rows, strips = straight_rows(frame, shapes).worth, best_strips(frame, shapes, [1]).worth
    assert rows <= strips <= best.worth == best.most <= frame.area // (size[0] * size[1])


@given(st.tuples(st.integers(30, 80), st.integers(30, 80)), shapes_of_one, st.integers(0, 9))
def test_a_larger_sheet_gives_no_fewer(sheet, size, more):
    """A little more paper never costs a piece, and a deckle to keep never gains one."""
    shapes = both_ways(*size)

    def best(frame, laid):
        fitting = [s for s in laid if frame.holds(s)]
        return best_sheet(frame, fitting, [1], Work()).worth if fitting else 0

    small = best(Frame(*sheet), shapes)
    assert best(Frame(sheet[0] + more, sheet[1]), shapes) >= small
    assert best(Frame(*sheet), both_ways(*size, 1)) <= small


def test_halves_come_first_and_alone_where_nothing_gains():
    """A quarter of the sheet is folded: three tears, nothing lost, nothing cleverer."""
    answer = asked("560 x 760 mm", "280 x 380 mm")
    assert answer.sentence == (
        "A sheet of 560 × 760 mm gives 4 of 280 × 380 mm by folding in halves, with 3 tears"
    )
    assert [way["way"] for way in answer.json()["ways"]] == ["fold"]
    assert answer.json()["waste_mm2"] == 0
    assert "  1. Fold the 760 mm side in half and tear along the fold: 560 × 380 mm" in answer.body


def test_the_cleverer_way_says_what_it_gains():
    """Sixteen by folding, twenty-one in rows, twenty-two by the cleverest tears."""
    answer = asked("22 x 16 mm", "5 x 3 mm")
    assert answer.sentence.endswith(
        "16 of 5.5 × 4 mm by folding in halves, with 15 tears; straight rows and columns give 21, "
        "5 more, with 22 tears; the cleverest tears give 22, 1 more, with 22 tears"
    )
    assert answer.json()["pieces"] == 22
    assert answer.json()["first"] == "fold"


def test_a_fold_that_wastes_half_is_not_offered():
    """Where folding gives four and rows give nine, folding is no answer."""
    assert asked("560 x 760 mm", "186 x 253 mm", turn=False).json()["first"] == "rows"


def test_a_recipe_keeps_the_grain_and_gives_a_torn_edge_its_tolerance():
    """188 mm wants 190 of paper; three fit in 570 mm, where 188 alone would leave 6 mm."""
    sheet, piece = mm(569, 760), mm(188, 250)
    assert tear_sheet(sheet, [Piece(piece)], turn=False).json()["pieces"] == 9
    recipe = tear_for(Paper("sheet", sheet=sheet, piece=piece))
    assert recipe.json()["pieces"] == 6
    lines = [i.line() for i in recipe.inputs]
    assert "tolerance of a torn edge 2 mm (common practice)" in lines
    assert "sheet 569 × 760 mm (the recipe)" in lines


def test_no_tolerance_where_the_sheet_divides_evenly():
    """Thirds of 750 mm are exact although a third is no half: nothing is added."""
    assert tear_sheet(mm(750, 560), [Piece(mm(250, 280))], turn=False,
                      tolerance=RECIPE_TOLERANCE).json()["pieces"] == 6


def test_deckles_stay_on_the_edges():
    """With two deckles to keep only the four corners are left."""
    answer = asked("760 x 560 mm", "250 x 180 mm", deckles=2).json()
    best = answer["ways"][-1]["layouts"][0]["pieces"]
    assert answer["pieces"] == 4
    assert [p["deckles"] for p in best] == [2, 2, 2, 2]


def test_deckles_stay_where_waste_lies_beside_them():
    """The last strip before a far edge with deckle stays at it, whatever is torn off between."""
    answer = asked("130 x 181 mm", "60 x 61 mm: 1", "61 x 60 mm: 2", turn=False, deckles=1,
                   deckled="short").json()  # fmt: skip
    laid = answer["ways"][0]["layouts"]
    assert all(p["deckles"] >= 1 for sheet in laid for p in sheet["pieces"])
    assert answer["pieces"] >= 3


def test_edges_torn_off_are_tears_and_waste():
    """Four edges of 6 mm, then two by four: 11 tears, and the edges are lost."""
    answer = asked("760 x 560 mm", "187 x 274 mm", edge=read_length("6 mm")).json()
    assert (answer["pieces"], answer["tears"]) == (8, 4 + 7)
    assert answer["waste_mm2"] == 760 * 560 - 748 * 548


def test_a_demand_takes_the_fewest_sheets_and_tears_nothing_nobody_wants():
    """Three quarters and four sixteenths are one sheet, without an offcut."""
    answer = asked("760 x 560 mm", "380 x 280 mm: 3", "190 x 140 mm: 4").json()
    assert (answer["sheets"], answer["pieces"], answer["waste_mm2"]) == (1, 7, 0)
    two = asked("760 x 560 mm", "380 x 280 mm: 3", "190 x 140 mm: 5").json()
    assert (two["sheets"], two["pieces"], two["exact"]) == (2, 8, True)


def test_one_size_with_a_number_says_the_sheets():
    """Twenty of sixteen a sheet are two sheets, and twelve are over."""
    answer = asked("760 x 560 mm", "190 x 140 mm: 20")
    assert answer.sentence.startswith("2 sheets by folding in halves: 32 of 190 × 140 mm")
    assert "Left over: 12 of 190 × 140 mm" in answer.notes


def test_several_sizes_without_numbers_waste_as_little_as_possible():
    """A half and two quarters fill a sheet: no waste is left."""
    answer = asked("760 x 560 mm", "380 x 560 mm", "380 x 280 mm").json()
    assert answer["waste_mm2"] == 0
    assert "least waste" in answer["formula"]


@pytest.mark.parametrize(
    ("sheet", "pieces", "how", "figure", "said"),
    [
        ("560 x 760 mm", ["15 x 31 in"], {}, "piece",
         "15 × 31 in does not fit on a sheet of 560 × 760 mm; they are in different units"),
        ("560 x 760 in", ["15 x 11 in"], {}, "sheet", "no paper has a side of 560 in; "
                                                      "give 1 to"),
        ("560 x 760 mm", ["600 x 300 mm"], {"turn": False}, "piece", "turned it would fit"),
        ("560 x 760 mm", ["600 x 800 mm"], {}, "piece", "the largest piece is the sheet itself"),
        ("560 x 760 mm", ["250 x 180 mm"], {"deckles": 3}, "deckles",
         "no piece keeps 3 of them; with 2 there are some"),
        ("560 x 760 mm", ["250 x 180 mm"], {"deckles": 5}, "deckles", "ask for 0 to 4"),
        ("560 x 760 mm", ["250 x 180 mm"], {"deckles": 1, "edge": Length(Fraction(5))}, "deckles",
         "an edge that is torn off has no deckle"),
        ("560 x 760 mm", ["250 x 180 mm"], {"edge": Length(Fraction(280))}, "edge",
         "280 mm off each edge leaves nothing of 560 × 760 mm"),
        ("560 x 760 mm", ["50 x 50 mm"] * 5, {}, "piece", "ask for one to 4"),
        ("560 x 760 mm", ["250 x 180 mm: 3", "90 x 80 mm"], {}, "piece",
         "give a number for each size, or for none"),
        ("560 x 760 mm", ["250 x 180 mm: 0"], {}, "piece", "ask for 1 to 999 of a size"),
    ],
)  # fmt: skip
def test_what_cannot_be_had_is_said_with_what_can(sheet, pieces, how, figure, said):
    """Each refusal names the figure, and what would be possible."""
    with pytest.raises(ReckonError) as refused:
        asked(sheet, *pieces, **how)
    assert refused.value.figure == figure
    assert said in str(refused.value)


def test_inches_are_rounded_to_the_safe_side():
    """7 7/8 in is 200.025 mm: two of them are not to be had of 400 mm of paper."""
    assert asked("400 x 100 mm", "7 7/8 x 3 in", turn=False).json()["pieces"] == 1
    assert asked("401 x 100 mm", "7 7/8 x 3 in", turn=False).json()["pieces"] == 2


@pytest.mark.parametrize(
    ("sheet", "pieces", "how"),
    [
        ("560 x 380 mm", ["19.3 x 14.1 mm"], {}),
        ("560 x 380 mm", ["19.3 x 14.1 mm"], {"deckles": 1}),
        ("560 x 380 mm", ["93.1 x 71.7 mm: 29", "47.3 x 51.9 mm: 29"], {"deckles": 1}),
        ("560 x 380 mm", ["93.1 x 71.7 mm", "47.3 x 51.9 mm", "61.1 x 38.3 mm"], {}),
    ],
)  # fmt: skip
def test_where_not_every_way_can_be_tried_the_best_so_far_says_so(sheet, pieces, how):
    """The pieces lie where they can, a demand is met, and the answer owns up."""
    answer = asked(sheet, *pieces, most_work=2_000, **how)
    found = answer.json()
    assert found["exact"] is False
    assert any("Not every way was tried" in note for note in answer.notes)
    assert all(size["pieces"] >= size.get("wanted", 1) for size in found["sizes"][:1])
    for laid in found["ways"][-1]["layouts"]:
        assert all(p["deckles"] >= how.get("deckles", 0) for p in laid["pieces"])
        lying = rects(laid)[:60]
        assert not any(overlap(a, b) for i, a in enumerate(lying) for b in lying[:i])


def test_pieces_whose_grain_is_fixed_are_proved_without_a_search():
    """All lying one way, no layout gives more than rows and columns."""
    found = asked("560 x 380 mm", "9.3 x 7.1 mm", turn=False, most_work=0).json()
    assert (found["pieces"], found["exact"]) == ((5600 // 93) * (3800 // 71), True)


def test_thin_paper_is_cut_along_a_rule_and_not_folded():
    """Gampi of 22 g/m2; the same sheet in heavy paper is halved by folding."""
    sheet, piece = read_size("450 x 600 mm"), read_size("220 x 300 mm")
    gampi, heavy = (tear_for(Paper("chine", weight=read_grammage(w), sheet=sheet, piece=piece))
                    for w in ("22 g/m2", "250 g/m2"))
    said = "\n".join(gampi.lines(why=True)).lower()
    assert "fold" in "\n".join(heavy.lines(why=True)).lower()
    assert "fold" not in said
    assert "tear" not in said
    assert "Cut thin paper with a new blade along a steel rule (common practice)" in gampi.notes
    assert gampi.json()["pieces"] == heavy.json()["pieces"] == 4


def test_a_rectangle_knows_its_edges():
    """Deckle stays with the strips at the ends, and only there."""
    frame = Frame(20, 10)
    shapes = both_ways(10, 10)[:1]
    laid = lay_out_tears(frame, shapes, best_sheet(frame, shapes, [1], Work()).tree)
    assert [p.rect for p in laid.pieces] == [
        Rect(0, 0, 10, 10, (True, False, True, True)),
        Rect(10, 0, 10, 10, (False, True, True, True)),
    ]
