"""What the trade raises an eyebrow at: where it stands, what is said, and whose figure it is."""

from __future__ import annotations

import pytest

from benchapp.recipe.reader import read_recipe
from benchapp.recipe.warnings import recipe_warnings
from tests.recipe.samples import FULL, LEAST, TWO_PLATES, changed, place


def said(text: str) -> list[str]:
    return [str(problem) for problem in recipe_warnings(read_recipe(text))]


def test_a_careful_recipe_raises_none() -> None:
    """The full sample is what the trade expects."""
    assert said(FULL) == []


#: (old, new, the piece the warning points at, words it must hold)
ROWS = [
    # Lalanne, A Treatise on Etching, Koehler's note 24: a pack rests 12 h at least.
    ("method: soak, soak: 25 min, rest: 10 min", "method: pack, rest: 11 h 59 min",
     "11 h 59 min", ["published", "12 h", "Lalanne", "note 24"]),
    # US National Park Service, Museum Handbook: mould within 48 h.
    ("keeps: 40 h", "keeps: 49 h", "49 h", ["published", "48 h", "US National Park Service"]),
    # Tamarind: artist's proofs are 5 or 10 % of the edition.
    ("AP: 3", "AP: 4", "4, PP", ["10 %", "Tamarind", "write AP: 3"]),
    ("PP: 1", "PP: 3", "3}}", ["common practice: 1 or 2"]),
    ("life: 110", "life: 201", "201 impressions", ["aquatint on copper gives 50-200",
                                                  "common practice"]),
    # One workshop agreement for 20 comes to 35-40 in all (Archives of American Art).
    ("life: 110", "life: 59", "59 impressions", ["30 with its trials", "about 60"]),
    ("life: 110", "life: 33", "33 impressions",
     ["30 with its proofs and one day's warm-ups comes to 34"]),
    ("life: 110", "life: 29", "29 impressions", ["edition of 30 is more than the life",
                                                 "facing, before the burr goes"]),
    ("piece: 300 x 400 mm", "piece: 200 x 150 mm", "210 x 160 mm", ["larger than the piece"]),
    ("piece: 300 x 400 mm", "piece: 170 x 400 mm", "210 x 160 mm", ["turned the other way"]),
    ("piece: 300 x 400 mm", "piece: 229 x 260 mm", "210 x 160 mm", ["under 10 mm"]),
    ("margins: 40 mm", "margins: 46 mm", "46 mm", ["45 mm a side", "arithmetic"]),
    ("plate oil: 0.25", "plate oil: 1.5", "1.5}}", ["12.5 % of plate oil", "at most 12 %"]),
    ("wash: 2 min", "wash: 0 min", "0 min\nplaces",
     ["no time for the wash is planned between ink and paper (common practice: 1 to 3 min)"]),
    ("within: 9 min", "within: 16 min", "16 min", ["common practice: 15 min"]),
    ("asks: [verdict, tags, note]}", "within: 6 min, asks: [verdict, tags, note]}", "6 min, asks",
     ["common practice: 5 min"]),
    ("time: 3 min, ends: itself", "say: Heat", "Heat, hands", ["is a wait without a time"]),
    ("    care: The nip crushes; its label first.\n", "", "Through", ["nip of a press crushes"]),
    ("care: They heat by themselves; fire code first.", "care: Wet rags are safe.",
     "Wet rags are safe.", ["safe", "promises that nothing can hurt"]),
    ("care: They heat by themselves; fire code first.", "care: {full: Rags burn, short: no danger}",
     "{full: Rags", ["no danger", "promises that nothing can hurt"]),
    (", care: It burns}\n  - {do: Dab", "}\n  - {do: Dab", "Heat, hands",
     ["hot plate burns", "write care: Hot plate burns"]),
    (", care: Ink harms skin}", "}", "Dab, hands", ["ink is not for bare skin", "write care: Ink"]),
    (", care: Nip crushes}", "}", "Blankets hung", ["nip of a press crushes"]),
    ("Plate clean and oiled", "Plate clean and bevels filed", "Plate clean", ["edges cut"]),
    ("time: 1/3/6 min, asks", "lines: [burnish], asks", "Peel, hands", ["edges cut"]),
    ("Lay flat, hands: clean", "Lay flat with whiting, hands: clean", "Lay flat", ["the lungs"]),
    ("Lay flat, hands: clean", "Lay a rosin ground, hands: clean", "Lay a", ["can explode"]),
    ("Lay flat, hands: clean", "Torch, hands: clean", "Torch", ["a flame burns"]),
    ("Lay flat, hands: clean", "Salt bath, hands: clean", "Salt", ["skin and eyes"]),
    ("Lay flat, hands: clean", "Degrease with lye, hands: clean", "Degrease", ["lye burns"]),
    ("Lay flat, hands: clean", "Steel facing, hands: clean", "Steel", ["plating baths poison"]),
    ("Lay flat, hands: clean", "Lay flat, hands: clean, care: x, lines: [turps on a cloth]",
     "Lay flat", ["has turps while the hot plate is on", "before any solvent"]),
    ("metal: copper, size: 210 x 160 mm, thickness: 1 mm, techniques: [line, aquatint], life: 110 "
     "impressions", "metal: zinc, size: 210 x 160 mm, techniques: [drypoint, steel facing]",
     "[drypoint", ["copper first", "plater's job", "rusts"]),
    ("    care: They heat by themselves; fire code first.\n", "", "Rags", ["catch fire"]),
    ("    must: [in the can, outside]\n", "", "Rags", ["can be passed without an answer"]),
    ("  - {do: Damp sheets",
     "  - {do: Slab tidied, hands: inky, care: Ink harms skin}\n  - {do: Damp sheets", "Slab",
     ["makes the hands inky again", "one more wash"]),
    ("Plate clean and oiled", "Slab tidied", "- {do: Slab", ["cleans the plate of all ink"]),
    ("Hot plate off", "Lights off", "- {do: Plate clean", ["turns the hot plate off"]),
    ("Blankets hung", "Door locked", "- {do: Plate clean", ["takes the pressure off"]),
    ("Damp sheets", "Window shut", "- {do: Plate clean", ["left-over damp sheets"]),
    ("at: Peel", "at: Polish", "Polish}, {name", ["waits for the wash"]),
    ("time: 2/4/7 min, say: Dab the weir, calls: 1 min", "uses: sheet", "inky, at: slab",
     ["touches the sheet with inky hands"]),
]


@pytest.mark.parametrize(("old", "new", "at", "words"), ROWS, ids=[row[1] or row[3][0]
                                                                 for row in ROWS])
def test_each_eyebrow(old: str, new: str, at: str, words: list[str]) -> None:
    """One departure gives one warning, at its place, with where the figure comes from."""
    text = changed(old, new)
    if "uses: sheet" in new:
        text = changed("    uses: sheet\n", "", text)
    (warning,) = recipe_warnings(read_recipe(text))
    assert (warning.line, warning.column) == place(text, at)
    assert all(word in f"{warning.wrong}; {warning.mend}" for word in words), str(warning)
    assert "common practice" in warning.wrong or "published" in warning.wrong \
        or "arithmetic" in warning.wrong


#: The last that is still right.
SILENT = [
    ("method: soak, soak: 25 min, rest: 10 min", "method: pack, rest: 12 h"),
    ("method: soak", "method: dip"),      # a short rest is right for all but the pack
    ("keeps: 40 h", "keeps: 48 h"),
    ("PP: 1", "PP: 2"),
    ("techniques: [line, aquatint], life: 110", "techniques: [drypoint, steel-faced], life: 900"),
    ("life: 110", "life: 200"),
    ("piece: 300 x 400 mm", "piece: 290 x 240 mm"),
    ("margins: 40 mm", "margins: 40 mm left and right"),
    ("within: 9 min", "within: 15 min"),
    ("plate oil: 0.25", "plate oil: 1.4"),
    ("metal: copper", "metal: steel"),
]


@pytest.mark.parametrize(("old", "new"), SILENT)
def test_nothing_is_said_up_to_the_figure(old: str, new: str) -> None:
    """A warning begins beyond the published or usual figure, not at it."""
    assert said(changed(old, new)) == []


#: How the plate of a small drypoint edition is made, and what is said of it.
DRYPOINTS = [
    # Lalanne, A Treatise on Etching, ss.99: drypoint on copper 20-30.
    ("metal: copper, techniques: [drypoint], life: 30 impressions", 12, []),
    ("metal: copper, techniques: [drypoint], life: 31 impressions", 12,
     ["a life of 31 impressions is long: drypoint on copper gives 20-30 (published: Lalanne "
      "ss.99)", "write 30 or less"]),
    ("metal: zinc, techniques: [drypoint], life: 31 impressions", 12, ["no figure known for zinc"]),
    # No life is said, and still too much is asked of it.
    ("metal: copper, techniques: [drypoint]", 60,
     ["an edition of 60 is more than the plate key gives: drypoint on copper gives 20-30"]),
    ("metal: copper, techniques: [drypoint]", 29, ["29 with its proofs and one day's warm-ups "
                                                  "comes to 31"]),
    ("metal: copper, techniques: [drypoint]", 16, ["comes to about 32"]),
    ("metal: copper, techniques: [drypoint]", 15, []),
    ("metal: copper, techniques: [hard-ground line]", 900, []),
]


@pytest.mark.parametrize(("plate", "edition", "words"), DRYPOINTS)
def test_an_edition_is_held_against_the_life_of_its_plate(
        plate: str, edition: int, words: list[str]) -> None:
    """Edition, proofs, warm-ups and trials together, with or without a life in the recipe."""
    text = LEAST.replace("metal: zinc", plate).replace("Ada}", f"Ada, edition: {edition}}}")
    found = [x for x in said(text) if "gives" in x]
    assert bool(found) == bool(words)
    assert all(word in " ".join(found) for word in words), found


@pytest.mark.parametrize(("technique", "more", "told"), [
    ("drypoint", "", True), ("Dry point", "", True), ("drypoint", "warm-ups: 0\n", False),
    ("drypoint", "warm-ups: 2\n", False), ("drypoint", "proofing: {for: TP}\n", False),
    ("drypoint, aquatint", "", False), ("aquatint", "", False)])
def test_a_drypoint_s_richest_pulls_are_no_warm_ups_unawares(
        technique: str, more: str, told: bool) -> None:
    """A drypoint's first pulls are its richest (common practice); either number is right."""
    text = LEAST.replace("metal: zinc", f"metal: copper, techniques: [{technique}]") + more
    found = [x for x in said(text) if "richest" in x]
    assert bool(found) is told
    assert all("write warm-ups: 0" in x and "common practice" in x for x in found)


@pytest.mark.parametrize("heat_first", [True, False])
def test_heat_is_off_before_spirit_also_where_no_step_is_at_the_hot_plate(heat_first: bool) -> None:
    """A step that turns it off says that there is one (common practice)."""
    steps = ["  - {do: Hot plate off, hands: clean}\n",
             "  - {do: Plate clean of all ink, hands: inky, lines: [white spirit on a rag]}\n"]
    text = LEAST + "after:\n" + "".join(steps if heat_first else reversed(steps))
    assert any("before any solvent" in x for x in said(text)) is not heat_first


def test_a_day_without_an_end_is_told_what_it_misses() -> None:
    """No `after` at all: plate, press and rags are named; heat and paper where they are used."""
    wrongs = [problem.wrong for problem in recipe_warnings(read_recipe(LEAST))]
    assert sum("no step of after" in wrong for wrong in wrongs) == 3
    assert any("sees to the rags" in wrong for wrong in wrongs)
    mends = {problem.mend for problem in recipe_warnings(read_recipe(LEAST))
             if "of after" in problem.wrong}
    assert mends == {"add an after: section with one"}
    begun = recipe_warnings(read_recipe(LEAST + "after:\n  - {do: Wave, hands: clean}\n"))
    assert {p.mend for p in begun if "of after" in p.wrong} == {"add one"}


def test_a_verdict_before_the_pull() -> None:
    """Nothing can be judged before it is pulled."""
    text = changed("do: Take a sheet, hands: clean, uses: sheet",
                   "do: Take a sheet, hands: clean, uses: sheet, asks: verdict", TWO_PLATES)
    assert any("verdict before anything is pulled" in line for line in said(text))


def test_a_pull_that_takes_longer_than_the_sheet_may_wait() -> None:
    """Said of the second plate, whose limit runs to its end; up to the usual time nothing is."""
    def of(time: str) -> list[str]:
        text = changed("within: 3 min", f"within: 3 min, time: {time}", TWO_PLATES)
        return [line for line in said(text) if "has to be over" in line]

    assert of("2/3/5 min") == []
    (line,) = of("3/4/5 min")
    assert "usually takes 4 min, but has to be over within 3 min" in line


def test_warnings_come_in_the_order_of_the_text() -> None:
    """Top to bottom, as problems do."""
    places = [(p.line, p.column) for p in recipe_warnings(read_recipe(TWO_PLATES))]
    assert places == sorted(places)
    assert len(places) >= 3


@pytest.mark.parametrize(("papers", "where"), [
    ("papers:\n  - {key: rag}\n  - {key: chine, damp: {method: pack, rest: 11 h}}\n", (10, 45)),
    ("papers:\n  rag: {}\n  chine: {damp: {method: pack, rest: 11 h}}\n", (10, 38)),
    ("paper: {damp: {method: pack, rest: 11 h}}\n", (8, 36)),
])
def test_a_short_rest_is_named_at_its_own_paper(papers: str, where: tuple[int, int]) -> None:
    """Whether papers are one, a list or names."""
    assert where in [(warning.line, warning.column)
                     for warning in recipe_warnings(read_recipe(LEAST + papers))
                     if "rests 11 h" in warning.wrong]
