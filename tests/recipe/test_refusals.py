"""Each refusal: what is wrong, in which line and column, and what to write instead.

Every row changes one piece of a recipe that reads, and lists all that is then said.
"""

from __future__ import annotations

import pytest

from benchapp.recipe.problems import RecipeError
from benchapp.recipe.reader import read_recipe
from tests.recipe.samples import LEAST, changed

ROWS = [
    ("title: Heron Weir, ",
     "",
     ["2:8: print has no title; write title: and what the print is called"]),
    ("artist: Nell Ashcombe, ",
     "",
     ["2:8: print has no artist; write artist: and who made the plate"]),
    ("edition: 30",
     "edition: thirty",
     ['2:60: edition: "thirty" is not a whole number; write one such as 40']),
    ("edition: 30",
     "edition: 0",
     ['2:60: edition: "0" is too small; write 1 or more']),
    ("edition: 30",
     "edtion: 30",
     ['2:51: "edtion" is not known in print; write edition: 40']),
    ("AP: 3",
     "EA: 3",
     ['2:73: "EA" is not a kind of proof that has a cap; write AP, PP, HC, BAT, '
      "presentation, progressive, archive or cancellation proof"]),
    ("AP: 3",
     "BAT: 2",
     ["2:78: BAT: there is only one in an edition; write 1"]),
    ("AP: 3",
     "AP: {cap: 40, inside: true}",
     ["2:72: proofs: 40 inside the edition are more than its 30; write fewer, or "
      "inside: false"]),
    ("AP: 3",
     "AP: {inside: true}",
     ["2:77: AP has no cap; write AP: {cap: 4, inside: true}"]),
    ("AP: 3",
     "AP: {cap: 3, inside: yes}",
     ['2:94: inside: "yes" is not one of its words; write true or false']),
    ("metal: copper, ",
     "",
     ["4:5: plate 1 has no metal; write metal: copper, or any other word"]),
    ("metal: copper, ",
     "metal: 6, ",
     ['4:25: metal: "6" is not the name of a metal; write copper, or any other word']),
    ("size: 210 x 160 mm",
     "size: 210 x 160",
     ['4:39: size: "160" has no unit; write 160 mm (units: mm, cm or in)']),
    ("size: 210 x 160 mm",
     "size: 210 mm",
     ['4:39: size: "210 mm" is not a width and a height; write width x height, as 198 '
      "x 148 mm"]),
    ("size: 210 x 160 mm",
     "size: 210,5 x 160 mm",
     ['4:39: size: "210" is not a width and a height; write width x height, as 198 x 148 mm',
      '4:42: this comma inside {} makes a key of "5 x 160 mm"; write a decimal with a point']),
    ("life: 110 impressions",
     "life: 110",
     ['4:106: life: "110" has no unit; write 110 impressions']),
    ("thickness: 1 mm",
     "thickness: 1 min",
     ['4:64: thickness: "min" is not a unit for this; write mm, cm or in']),
    ("weight: 280 g/m2",
     "weight: 140 lb",
     ['7:11: weight: "140 lb": pounds are not enough: each kind of paper is '
      "weighed by a sheet size of its own; write the grams a "
      "square metre from the wrapper, such as 300 g/m2"]),
    ("weight: 280 g/m2",
     "weight: 280",
     ['7:11: weight: "280" has no unit; write 280 g/m2 (units: g/m2)']),
    ("grain: short",
     "grain: across",
     ['10:10: grain: "across" is not one of its words; write long or short']),
    ("method: soak",
     "method: bathe",
     ['11:18: method: "bathe" is not one of its words; write soak, pack, spray or dip']),
    ("method: soak, ",
     "",
     ["11:9: damp has no method; write method: soak, pack, spray or dip"]),
    ("soak: 25 min",
     "soak: 1:30",
     ['11:30: soak: "1:30" can be read two ways; write 1 h 30 min or 90 s']),
    ("soak: 25 min",
     "soak: 25",
     ['11:30: soak: "25" has no unit; write 25 min, or one of s, min, h, days or weeks']),
    ("soak: 25 min",
     "soak: 25 g",
     ['11:30: soak: "g" is not a unit of time; write one of s, min, h, days or weeks']),
    ("pack: 5",
     "pack: 0",
     ['11:71: pack: "0" is too small; write 1 or more']),
    ("pack: 5",
     "pack: 5.5",
     ['11:71: pack: "5.5" is not a whole number; write one such as 6']),
    ("charge: 7 g",
     "charge: 7",
     ['12:15: charge: "7" has no unit; write 7 g (units: g, kg, oz or lb)']),
    ("charge: 7 g",
     "charge: 7 g, covers: 120 %",
     ['12:28: covers: 120 % is not a part of a plate; write more than 0 % and at most 100 %']),
    ("sienna: 1.5",
     "sienna: 1,5",
     ['12:54: this comma inside {} makes a key of "5"; write a decimal with a point']),
    ("sienna: 1.5",
     "sienna: some",
     ['12:53: sienna: "some" is not a figure; write one such as 12, 1.25 or 3 1/4']),
    ("sienna: 1.5",
     "sienna: 0",
     ['12:53: sienna: "0" is too small; write a number above 0']),
    ("pitch: 3 mm",
     "pich: 3 mm",
     ['13:9: "pich" is not known in press; write pitch: 2 mm']),
    ("near screw: 2.5 turns",
     "near screw: 2.5",
     ['13:34: near screw: "2.5" has no unit; write 2.5 turns (units: turns)']),
    ("more is: tighter",
     "more is: lower",
     ['13:96: more is: "lower" is not one of its words; write tighter or looser']),
    ("care: The nip crushes; its label first.",
     "care: {short: Nip crushes}",
     ["39:11: care of step 4 of each has no full; write full: and the whole caution"]),
    ("care: The nip crushes; its label first.",
     "care: {full: Nip crushes, brief: Nip}",
     ['39:31: "brief" is not known in care of step 4 of each; take it out, or write short']),
    ("care: The nip crushes; its label first.",
     "care: {full: Nip crushes, short: " + "nip and " * 8 + "bed}",
     ['39:38: short: "' + "nip and " * 4 + 'nip and…" has 67 letters; write at most 60: the '
      "harm and the one thing to do"]),
    ("care: The nip crushes; its label first.",
     "care: [Nip crushes]",
     ["39:11: care is a list, not text; write such as Fingers, hair and sleeves clear"]),
    ("wash: 2 min",
     "wash: 2",
     ['15:7: wash: "2" has no unit; write 2 min, or one of s, min, h, days or weeks']),
    ("wash: 2 min",
     "wahs: 2 min",
     ['15:1: "wahs" is not known in a recipe; write wash: 1.5 min']),
    ("wash: 2 min",
     "wash: [2 min]",
     ["15:7: wash is a list, not text; write such as 1.5 min"]),
    ("wash: 2 min",
     "wash:",
     ["15:6: wash is empty; write such as 1.5 min"]),
    ("wash: 2 min",
     "wash: 12:30:45",
     ['15:7: wash: "12:30:45" has no units; write 12 h 30 min 45 s']),
    ("places: {slab: 1}",
     "places: {slab: none}",
     ['16:16: slab: "none" is not a whole number; write one such as 2']),
    ("at: slab",
     "at: slap",
     ['23:32: at: there is no place called "slap"; write slab, or name it under '
      "places: {slap: 1}"]),
    ("at: slab",
     "at: bench",
     ['23:32: at: there is no place called "bench"; write hot plate, press, tray or '
      "slab, or name it under places: {bench: 1}"]),
    ("hands: clean\n    time: 10/20/40 min",
     "hands: dirty\n    time: 10/20/40 min",
     ['19:12: hands: "dirty" is not one of its words; write inky, clean or free']),
    ("time: 10/20/40 min",
     "time: 40/20/10 min",
     ["20:11: time: times go low, usual, high, not 40 min, 20 min, 10 min; write "
      "low/usual/high, such as "
      "3/5/8 min"]),
    ("time: 10/20/40 min",
     "time: 10/20 min",
     ['20:11: time: "10/20 min" has two figures; write low/usual/high, such as 3/5/8 '
      "min, or one figure"]),
    ("time: 10/20/40 min",
     "tiem: 10/20/40 min",
     ['20:5: "tiem" is not known in step 1 of before; write time: 3/5/8 min']),
    ("do: Set the press",
     "od: Set the press",
     ['18:5: "od" is not known in step 1 of before; write do: Ink',
      "18:5: step 1 of before has no do; write do: and what is done"]),
    ("time: 3 min, ends: itself",
     "ends: itself",
     ["22:50: ends: a wait without a time never ends itself; write time: 2 min"]),
    ("ends: itself",
     "ends: soon",
     ['22:63: ends: "soon" is not one of its words; write itself']),
    ("say: Dab the weir, calls: 1 min",
     "ends: itself",
     ["23:61: ends: only a wait ends itself; write hands: free, or take it out"]),
    ("calls: 1 min",
     "calls: 5 min",
     ["23:81: calls: 5 min is not shorter than the step's usual time, 4 min; write a shorter "
      "time"]),
    ("time: 3 min, ends: itself",
     "time: 3 min, calls: 1 min",
     ["22:64: calls: a wait calls when its time is up; take it out"]),
    ("pulls: weir",
     "pulls: wier",
     ['37:12: pulls: no plate is called "wier"; write weir']),
    ("uses: sheet",
     "uses: sheets",
     ['36:11: uses: no paper is called "sheets"; write sheet']),
    ("uses: sheet",
     "uses: [sheet, chine]",
     ['36:11: uses: no paper is called "chine"; write sheet']),
    ("pulls: weir\n",
     "pulls: weir\n    optional: true\n",
     ["36:11: uses: a step that may be left out takes the sheet; take the sheet in a "
      "step that is done every time",
      "38:15: optional: a pull is never left out; take it out; any impression may end "
      "after an earlier pull"]),
    ("return: true",
     "return: maybe",
     ['38:13: return: "maybe" is not one of its words; write true or false']),
    ("short: Weigh",
     "short: Weigh the tin",
     ['42:72: short: "Weigh the tin" has 13 letters; write at most 12: it is read from '
      "across the room"]),
    ("every: 4",
     "every: 0",
     ['42:46: every: "0" is too small; write 1 or more']),
    ("do: Peel, hands: clean",
     "do: Peel, hands: inky",
     ["40:52: asks: nothing is asked while hands are inky; write hands: clean, or ask "
      "in a step of its own after this one"]),
    ("do: Hot plate off, hands: clean",
     "do: Hot plate off, hands: free",
     ["45:44: must: nothing is asked while hands are free; write hands: clean, or ask "
      "in a step of its own after this one"]),
    ("asks: [verdict, tags, note]",
     "asks: [verdict, colour]",
     ['40:53: asks: "colour" is not asked; write verdict, tags or note; a named value '
      "belongs to readings:"]),
    ("asks: [verdict, tags, note]",
     "must: [a, b]",
     ["22:3: no step of each asks anything; write asks: [verdict, tags, note] on the "
      "step where you look"]),
    ("out of reach: true",
     "out of reach: true, must: [a, b]",
     ["41:73: must: a step out of reach has nobody to ask; take out of reach away, or "
      "ask in the step after it"]),
    ("must: [wrapped, none]",
     "must: []",
     ["47:43: must is empty; write it, or take the line out"]),
    ("must: [wrapped, none]",
     "must: [none, None]",
     ['47:50: "None" is in must twice; keep one of them']),
    ("must: [wrapped, none]",
     "must: [wrapped, none], pulls: weir",
     ["47:67: pulls: there is no impression in after; move the step to each:, or take "
      "this line out"]),
    ("must: [wrapped, none]",
     "must: [wrapped, none], uses: sheet, every: 3",
     ["47:66: uses: there is no impression in after; move the step to each:, or take "
      "this line out",
      "47:80: every: there is no impression in after; move the step to each:, or take "
      "this line out"]),
    ("hands: clean\n    time: 10/20/40 min",
     "hands: clean\n    within: 5 min",
     ["20:13: within: there is no step before this one; take it out, or move the step"]),
    ("after: 4 h",
     "after: 4 h, every: 1 day",
     ["53:5: drying 1 says after and every; write after: 3 h, or every: 1 day with "
      "for: 3 days"]),
    ("after: 4 h",
     "aftr: 4 h",
     ["53:5: drying 1 says neither after nor every; write after: 3 h, or every: 1 day "
      "with for: 3 days",
      '53:24: "aftr" is not known in drying 1; write after: 3 h']),
    ("for: 2 days",
     "for: 12 h",
     ["54:41: for: 12 h is over before the first change; write 1 day or longer"]),
    (", for: 2 days",
     "",
     ["54:5: drying 2 needs every and for together; write every: 1 day and for: 3 days"]),
    ("every: 1 day, for",
     "every: 0 s, for",
     ["54:29: every: there is no time between two changes; write such as every: 1 day"]),
    ("varied: true",
     "varied: on",
     ['55:9: varied: "on" is not one of its words; write true or false']),
    ("for: SP, state: IV",
     "for: SP",
     ["56:11: proofing has no state; write the state the plate is in, such as state: II"]),
    ("for: SP, state: IV",
     "for: XP, state: IV",
     ['56:17: for: "XP" is not one of its words; write TP, WP or SP']),
    ("state: IV",
     "state: IIII",
     ['56:28: state: "IIII" is not a state of a plate; write a Roman number such as II, or 2']),
    ("sky: [sky thin]",
     "sky: [foam lost]",
     ['57:44: tags: "foam lost" is in weir already; keep it in one group']),
    ("sky: [sky thin]",
     "sky: thin: x",
     ["57:48: a comma or } is missing before this :; close the braces, or put quotes "
      "round text that holds , : [ ] { }"]),
    ("unit: grade 1-5",
     "unit: grade 5-1",
     ['58:31: unit: "grade 5-1" is not a grade that one key can give; write such as grade 1-5, '
      'from '
      "0 up to 9"]),
    ("unit: grade 1-5",
     "unit: grade 1-50",
     ['58:31: unit: "grade 1-50" is not a grade that one key can give; write such as grade 1-5, '
      'from '
      "0 up to 9"]),
    ("at: Peel",
     "at: Pell",
     ['58:46: at: no step does "Pell"; write Peel']),
    ("at: Peel",
     "at: Zzz",
     ['58:46: at: no step does "Zzz"; write Set the press, Heat, Dab, Polish, Through '
      "or Peel"]),
    ("name: heat, unit",
     "name: foam, unit",
     ["58:60: two readings are called foam; give each a name of its own"]),
    ("recipe: 1\n",
     "recipe: 2\n",
     ['1:9: recipe: this version cannot read the form "2"; write 1']),
    ("recipe: 1\n",
     "",
     ["1:1: there is no recipe:; begin the file with recipe: 1"]),
    ("do: Peel, hands",
     "do: Peel, slowly, hands",
     ['40:14: this comma inside {} makes a key of "slowly"; put quotes round the whole '
      "text, or write it in block form, a line a key"]),
    ("lines: [coarse scrim, fine scrim, palm]",
     "lines: {coarse: 1}",
     ["28:12: lines is made of keys, not text; write such as scrim used to clean"]),
    ("care: The nip crushes; its label first.",
     "care: &c The nip.",
     ["39:11: &c names a value for use elsewhere; take the name out and write values "
      "where they belong"]),
    ("care: The nip crushes; its label first.",
     "care: *c",
     ["39:11: *c points to another place; write the value out here"]),
    ("care: The nip crushes; its label first.",
     "care: !!str x",
     ["39:11: the tag tag:yaml.org,2002:str is not read here; take it out; put quotes "
      "round text that begins with !"]),
    ("care: The nip crushes; its label first.",
     "do: twice",
     ["39:5: this step has no dash before do:; write - do: twice, with the dash under the "
      "others"]),
    ("care: The nip crushes; its label first.",
     'care: "\\e[31m"',
     ["39:11: an escape writes a control character (ESC, U+001B) here; take out what "
      "begins with \\"]),
    ("care: The nip crushes; its label first.",
     'care: "\\u202e"',
     ["39:11: an escape writes a mark that turns the reading direction (U+202E) here; "
      "take out what begins with \\"]),
    ("care: The nip crushes; its label first.",
     "care: x\u202ey",
     ["39:12: a mark that turns the reading direction (U+202E) is not allowed here; take it out"]),
    ("care: The nip crushes; its label first.",
     "care: a\tb",
     ["39:12: a tab is not allowed here; write spaces instead"]),
    ("care: The nip crushes; its label first.",
     "care: a \x1b[31m",
     ["39:13: a control character (ESC, U+001B) is not allowed here; take it out"]),
    ("care: The nip crushes; its label first.",
     "care: a: b",
     ["39:12: a second colon in one line; put quotes round text that holds a colon and a space"]),
    ("care: The nip crushes; its label first.",
     'care: "a',
     ["39:11: this quote is never closed; write the same quote at the end of the text"]),
    ("care: The nip crushes; its label first.",
     "care: [a",
     ["40:5: a comma or ] is missing before this {; close the list, or put quotes "
      "round text that holds , : [ ] { }"]),
    ("care: The nip crushes; its label first.",
     "care: {a: b}",
     ["39:11: care of step 4 of each has no full; write full: and the whole caution",
      '39:12: "a" is not known in care of step 4 of each; take it out, or write full or short']),
    ("care: The nip crushes; its label first.",
     "<<: {a: b}",
     ["39:5: << takes values from another place; write the values out here"]),
    ("phrases: [less pressure, softer palm]\n",
     "phrases: [less pressure, softer palm]\n---\na: 1\n",
     ["60:1: a second document begins here; take the line --- out, or put the second "
      "one into a file of its own"]),
    ("phrases: [less pressure, softer palm]\n",
     "phrases: [less pressure, less pressure]\n",
     ['59:26: "less pressure" is in phrases twice; keep one of them']),
    ("piece: 300 x 400 mm",
     "piece: 700 x 700 mm",
     ["9:10: piece: 700 × 700 mm is larger than the sheet, 600 × 800 mm; write a piece "
      "that can be torn from it"]),
    ("care: The nip crushes; its label first.",
     '"\\x9b": a\n    "\\x9b": b',
     ['39:5: "�" is not known in step 4 of each; take it out, or write ends, say, '
      "short, plate, care or asks",
      "39:5: an escape writes a control character (U+009B) here; take out what begins "
      "with \\",
      '40:5: "�" is written twice, in line 39 and in line 40; keep one of them',
      "40:5: an escape writes a control character (U+009B) here; take out what begins "
      "with \\"]),
    ("AP: 3",
     "AP: {cap: many}",
     ['2:83: cap: "many" is not a whole number; write one such as 4']),
    ("AP: 3",
     "EA: 3, BAT: 2",
     ['2:73: "EA" is not a kind of proof that has a cap; write AP, PP, HC, BAT, '
      "presentation, progressive, archive or cancellation proof",
      "2:85: BAT: there is only one in an edition; write 1"]),
    ("life: 110 impressions",
     "life: 110",
     ['4:106: life: "110" has no unit; write 110 impressions']),
    ("care: It burns}\n  - {do: Dab",
     "care: [hot, wet]}\n  - {do: Dab",
     ["22:77: care is a list, not text; write such as Fingers, hair and sleeves clear"]),
    ("pulls: weir",
     "pulls: wier",
     ['37:12: pulls: no plate is called "wier"; write weir']),
]


@pytest.mark.parametrize(("old", "new", "said"), ROWS, ids=[f"{new!r}" for _, new, _ in ROWS])
def test_one_wrong_piece_is_named_with_its_place_and_its_mend(
    old: str, new: str, said: list[str]
) -> None:
    """Nothing else is said than what that piece makes wrong."""
    with pytest.raises(RecipeError) as caught:
        read_recipe(changed(old, new))
    assert [str(problem) for problem in caught.value.problems] == said


def test_all_problems_come_at_once_in_the_order_of_the_text() -> None:
    """Three mistakes in three places are three problems, first things first."""
    text = changed("edition: 30", "edition: many")
    text = changed("wash: 2 min", "wash: 2", text)
    text = changed("after: 4 h", "after: 4 g", text)
    with pytest.raises(RecipeError) as caught:
        read_recipe(text)
    assert [problem.line for problem in caught.value.problems] == [2, 15, 53]


def test_a_problem_names_the_file() -> None:
    """`at` puts the file's name before line and column, as editors read it."""
    with pytest.raises(RecipeError) as caught:
        read_recipe("")
    assert caught.value.problems[0].at("weir.yaml") == (
        "weir.yaml:1:1: there is nothing in this file; begin with recipe: 1")


@pytest.mark.parametrize(("papers", "place"), [
    ("papers:\n  - {key: rag}\n  - {key: chine, ", (10, 46)),
    ("papers:\n  rag: {grain: long}\n  chine: {", (10, 39)),
    ("paper: {", (8, 37)),
], ids=["a list", "names", "one"])
def test_a_piece_too_large_is_named_where_its_paper_stands(
    papers: str, place: tuple[int, int]
) -> None:
    """Whether papers are one, a list or names: line and column are those of the piece."""
    with pytest.raises(RecipeError) as caught:
        read_recipe(LEAST + papers + "sheet: 600 x 800 mm, piece: 700 x 700 mm}\n")
    assert [(one.line, one.column) for one in caught.value.problems] == [place]


def test_a_plate_no_step_pulls_is_named_itself() -> None:
    """The second of two plates, in its own place."""
    text = changed("}]\neach", "}, {name: tone, metal: zinc, size: 100 x 80 mm}]\neach", LEAST)
    with pytest.raises(RecipeError) as caught:
        read_recipe(text)
    assert [str(one) for one in caught.value.problems] == [
        "3:55: no step of each pulls the plate tone; write pulls: tone on the step where it goes "
        "through the press"]


@pytest.mark.parametrize(("step", "said"), [
    ("hands: inky, calls: 2 min",
     "5:35: calls: there is no time to call before; write time: low/usual/high, such as "
     "8/14/27 min"),
    ("hands: inky, time: 2 min, calls: 2 min",
     "5:48: calls: 2 min is not shorter than the step's usual time, 2 min; write a shorter time"),
])
def test_a_call_needs_a_time_to_come_before(step: str, said: str) -> None:
    """A call before the end of a time nobody knows could never come."""
    with pytest.raises(RecipeError) as caught:
        read_recipe(changed("hands: inky", step, LEAST))
    assert [str(one) for one in caught.value.problems] == [said]


def test_one_bat_is_taken() -> None:
    """There is only one, and that one may be written down."""
    assert read_recipe(changed("AP: 3", "BAT: 1")).print.proofs["BAT"].cap == 1


def test_no_plate_at_all_is_named_where_it_is_missing() -> None:
    """An empty list of plates says so itself, and what a plate looks like."""
    text = LEAST.replace("[{name: key, metal: zinc, size: 100 x 80 mm}]", "[]")
    with pytest.raises(RecipeError) as caught:
        read_recipe(text)
    assert [str(one) for one in caught.value.problems] == [
        "3:9: plates is empty; write - {name: key, metal: copper, size: 198 x 148 mm}"]


def test_papers_that_cannot_be_read_are_not_missed_by_name() -> None:
    """What a step uses may stand in the unreadable part: one mistake is one problem."""
    text = changed("pulls: key", "pulls: key, uses: [sheet, chine]", LEAST) + "papers: thin\n"
    with pytest.raises(RecipeError) as caught:
        read_recipe(text)
    assert [str(one) for one in caught.value.problems] == [
        "8:9: papers is neither names with papers nor a list; write papers: {sheet: {…}, "
        "chine: {…}}"]


@pytest.mark.parametrize(("text", "said"), [
    (LEAST + "readings:\n  - {unit: g}\n",
     "9:5: reading 1 has no name; write name: and what is read"),
    (LEAST + "tags:\n  paper: {a: b}\n",
     "9:10: paper is made of keys, not text; write such as [too wet, cockle]"),
    (LEAST[:LEAST.index("each:")] + "each: []\n",
     "4:7: each has no step; write the steps of one impression"),
    (changed("Peel, hands: clean,", "Peel, hands: clean, uses: sheet,",
             changed("    uses: sheet\n", "")),
     '39:36: uses: the sheet is taken after the first pull; write it at "Through" or before'),
    ("recipe: 1\nprint: {title: a\n",
     "2:8: this bracket is never closed; write its closing ] or }"),
], ids=["reading", "tags", "each", "sheet", "bracket"])
def test_what_is_missing_or_misplaced_is_named_where_it_stands(text: str, said: str) -> None:
    """With the words to write, as they have to be written."""
    with pytest.raises(RecipeError) as caught:
        read_recipe(text)
    assert [str(problem) for problem in caught.value.problems] == [said]


def test_a_piece_may_be_the_whole_sheet() -> None:
    """Nothing is torn from it then; also where it is named the other way round."""
    for piece in ("600 x 800 mm", "800 x 600 mm"):
        read_recipe(changed("piece: 300 x 400 mm", f"piece: {piece}"))
