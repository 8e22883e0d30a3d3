"""The pure half of the Bench: how large, in which words, which keys."""

from __future__ import annotations

import itertools

import pytest

from benchapp.recipe.reader import read_recipe
from benchapp.safe_text import SafeText, cell_width, sanitize
from benchapp.screens import bench_words as words
from benchapp.screens.bench_fit import GAP, choose_sizes, in_two, stage_widths
from benchapp.screens.glyphs import glyph_width as drawn
from benchapp.screens.sheet_talk import VERDICTS
from benchapp.screens.switch import PedalSwitch
from benchapp.session import actions as a
from benchapp.session.tags import (
    GLOSSES,
    GROUPS,
    KEYS,
    TRADE,
    USED_KEYS,
    groups_of,
    tag_menu,
    used_tags,
)
from benchapp.settings import TREADS
from benchapp.views.bench import SheetView
from benchapp.views.clocks import Count
from tests.session.support import INK, LIFT, MIN, PULL, RAGS, Bench, recipe


@pytest.mark.parametrize(("across", "lines"), [(60, 17), (60, 12), (91, 31), (55, 9)])
@pytest.mark.parametrize("count", ["0:35", "12:05", "≈12:05", "1:02:05", ""])
@pytest.mark.parametrize("mark", ["", "K7", "K12"])
def test_what_is_drawn_fits_and_the_count_is_five_rows_high(
    across: int, lines: int, count: str, mark: str
) -> None:
    """Count and mark are drawn wherever they can be, and never beyond the side they stand on."""
    found = choose_sizes(across, lines, name="WIPE", count=count, mark=mark, text=6)
    wide = [drawn(t, h) if h else 0 for t, h in ((count, found.count), (mark, found.mark))]
    assert max(*wide, drawn("WIPE", found.name) if found.name else 0) <= across
    if found.beside and all(wide):
        assert sum(wide) + GAP <= across
    under = found.mark + 1 if found.mark else 0
    high = max(found.count, under) if found.beside else found.count + 1 + under
    assert high + (found.name + 1 if found.name else 1) + found.text <= lines
    room = (drawn(count, 5) if count else 0) + (drawn(mark, 5) if mark else 0) + GAP <= across
    if room:
        assert found.count >= (5 if count else 0)
        assert found.mark >= (5 if mark else 0)


def test_a_long_name_is_broken_at_the_blank_nearest_its_middle() -> None:
    """One word stays whole."""
    assert in_two("INK AND WIPE") in ("INK AND\nWIPE", "INK\nAND WIPE")
    assert in_two("RETROUSSAGE") == "RETROUSSAGE"


@pytest.mark.parametrize("columns", [80, 120])
def test_the_side_in_use_is_the_wide_one(columns: int) -> None:
    """Inky left, clean right, the line between; a wait covers both."""
    inky = stage_widths("inky", columns, covers=False, aside=True)
    clean = stage_widths("clean", columns, covers=False, aside=True)
    assert inky["inky"] is None
    assert clean["clean"] is None
    assert inky["clean"] == clean["inky"] == (17 if columns == 80 else 24)
    wait = stage_widths("across", columns, covers=True, aside=False)
    assert wait == {"inky": 0, "first": 0, "across": None, "second": 0, "clean": 0}


def test_counts_are_read_as_clocks_and_inexact_ones_are_marked() -> None:
    """≈ across a restart; a minus once a wait is over."""
    assert words.count_figure(Count(725_000, down=False)) == "12:05"
    assert words.count_figure(Count(725_000, down=False, exact=False)) == "≈12:05"
    assert words.count_figure(Count(-30_000, down=True)) == "-0:30"
    span = Count(0, down=False, low=7 * MIN, usual=15 * MIN, high=26 * MIN)
    assert words.span_words(span) == "usual 15 min · low 7 min · high 26 min"
    assert words.span_words(Count(0, down=False)) == ""
    assert words.span_words(Count(0, down=False, usual=90_000)) == "usual 1.5 min"


def test_wrapping_loses_nothing_and_keeps_to_the_cells() -> None:
    """Also of words longer than a line and of wide characters."""
    text = sanitize("scrim (tarlatan) " + "x" * 50 + " 刷り刷り刷り刷り hand")
    lines = words.wrap_text(text, 20)
    assert all(cell_width(line) <= 20 for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert words.wrap_text(SafeText(""), 20) == [""]


def sheet(number: int, verdict: str | None = None, *, counts: bool = True,
          again: bool = False) -> SheetView:
    """A sheet as the view gives it."""
    return SheetView(number, number, f"K{number}", "edition", True, verdict, (), 0, again, None,
                     counts)


def test_what_was_done_is_told_in_whole_parts() -> None:
    """What is to be done now stands large already and gives way; no part is cut."""
    told = sanitize(
        "Wash and dry hands: 3 s · Now: Lay and pull · clean · K7 · Sheet taken; 4 left")
    assert words.in_one_line(told, 90) == told
    assert words.in_one_line(told, 70) == "Wash and dry hands: 3 s · K7 · Sheet taken; 4 left"
    assert words.in_one_line(told, 30) == "Wash and dry hands: 3 s · K7"
    assert words.in_one_line(sanitize("Now: Wipe"), 4) == "Now: Wipe"


def test_sheets_stand_in_a_row_with_the_shape_of_their_verdict() -> None:
    """The latest stay when not all fit; what does not count stands in brackets."""
    row = [sheet(1, counts=False), sheet(2, "keep"), sheet(3, "spoiled"), sheet(4, again=True)]
    assert words.sheet_marks_row(row, 80) == "(K1○)  K2●  K3✕  K4○~"
    many = [sheet(n) for n in range(1, 60)]
    cut = words.sheet_marks_row(many, 78)
    assert cut.startswith("… ")
    assert cut.endswith("K59○")
    assert cell_width(cut) <= 78
    assert dict(words.VERDICTS) == {
        key: text.split()[0] for key, text in VERDICTS.items()}


def test_a_caution_is_whole_once_and_then_the_harm_and_what_to_do() -> None:
    """The first time of the day in full; after that short, never one word of it."""
    care = "Nip crushes; fingers clear, the label comes first."
    each = [INK, PULL.replace("pulls: key", f"pulls: key, care: '{care}'"), LIFT]
    b = Bench(recipe(each=each, after=[RAGS]))
    b.tread(2)
    assert ("care", f"! {care}") in words.task_panel(b.view).text
    b.tread(4)
    assert b.hand == "Pull"
    assert ("care", "! Nip crushes: fingers, hair, sleeves clear") in words.task_panel(b.view).text


def test_a_name_with_a_letter_nobody_drew_stands_in_words() -> None:
    """An accent, or the ellipsis of a name cut short, is not drawn as a query."""
    b = Bench(recipe(each=[INK.replace("Ink", "Encré"), PULL, LIFT]))
    panel = words.task_panel(b.view)
    assert (panel.name, panel.do) == ("", "Encré")


# -- the switch and the registry -----------------------------------------------------------


def test_the_far_function_keys_count_in_both_spellings() -> None:
    """Terminals of the xterm family send F13 as Shift+F1."""
    switch = PedalSwitch.of(TREADS, 0)
    assert {"f13", "shift+f1", "f24", "shift+f12"} <= switch.keys
    assert switch.press("k", 0)[1] == "another key"


def test_the_switch_goes_through_the_quiet_gate() -> None:
    """The first event counts, repeats do not, the next after silence does."""
    switch = PedalSwitch.of(["space"], 750)
    heard = []
    for at in (0, 250, 280, 1000, 1800):
        switch, said = switch.press("space", at)
        heard.append(said)
    assert heard == ["tread", "too soon", "too soon", "too soon", "tread"]


def test_every_key_of_the_bench_has_one_meaning() -> None:
    """No key of the registry stands twice, is a tread, or is a number that answers."""
    keys = [spec.key for spec in a.REGISTRY if spec.key is not None]
    assert len(keys) == len(set(keys))
    assert not set(keys) & PedalSwitch.of(TREADS, 0).keys
    assert not any(key.isdigit() for key in keys)


# -- tags ------------------------------------------------------------------------------------


def test_every_trade_tag_is_one_word_of_one_group() -> None:
    """A tag stands alone in a list, so none may be in two groups; glosses are of tags."""
    tags = list(itertools.chain.from_iterable(GROUPS.values()))
    assert len(tags) == len(set(tags))
    assert set(GLOSSES) <= set(tags)
    assert GLOSSES["salty"] == "white specks"
    assert GLOSSES["crevé"] == "lines bitten into one"
    assert "hair" not in GLOSSES


def test_a_recipes_own_tags_join_the_trades() -> None:
    """A group of the trade grows, a new one stands behind; nothing doubles."""
    known = read_recipe(recipe(extra="tags: {wiping: [salty, dull], sky: [too grey]}\n"))
    groups = groups_of(known)
    assert groups["wiping"] == (*GROUPS["wiping"], "dull")
    assert list(groups)[-1] == "sky"


#: Fingers know these by heart: a line here is only ever added to, and no key given twice.
TRADE_KEYS = """
1 tone: 1 plate-tone heavy, 2 plate-tone thin, 3 plate-tone uneven, 4 foul bite, 5 scrim marks
2 wiping: 1 over-wiped, 2 under-wiped, 3 salty, 4 lint, 5 finger mark
3 ink: 1 ink stiff, 2 ink loose, 3 ink skinned, 4 ink warm, 5 ink cool, 6 ink dense, 7 ink weak, \
8 set-off, 9 oil halo, a bevel ink
4 paper: 1 too wet, 2 too dry, 3 crease, 4 cockle, 5 tear, 6 deckle fault, 7 stain, \
8 wrong side, 9 paper stretched
5 press: 1 slur, 2 doubled, 3 stop line, 4 pressure light, 5 pressure heavy, 6 one side light, \
7 blanket mark, 8 plate mark cut, 9 skew
6 register: 1 off x, 2 off y, 3 turned, 4 register stretched
7 plate: 1 wear, 2 burr gone, 3 aquatint worn, 4 scratch, 5 corrosion, 6 crevé
8 sheet: 1 hair, 2 streak, 3 dry patch, 4 water spot, 5 dirty margin, 6 colour dirtied, \
7 tissue stuck, 8 mould spot, 9 blanket crease, a chine creased, b chine lifted, c chine short, \
d chine bubbled
""".replace("\\\n", "")


def test_the_keys_of_the_trades_tags_are_these_and_stay() -> None:
    """The table in full: a key that came to mean another tag would write a false one."""
    lines = [f"{key} {name}: " + ", ".join(f"{k} {tag}" for k, tag in words.items())
             for key, (name, words) in TRADE.items()]
    assert lines == TRADE_KEYS.strip().splitlines()


def test_keys_of_own_words_follow_in_file_order_and_run_out_into_the_list() -> None:
    """Behind the trade's; no key twice in a menu, none a key of what was used today."""
    many = ", ".join(f"spot {n}" for n in range(30))
    groups = "".join(f"  own{n}: [word {n}]\n" for n in range(20))
    menu = tag_menu(read_recipe(recipe(
        extra=f"tags:\n  wiping: [salty, dull, {many}]\n{groups}")))
    by_name = {group.name: group for group in menu}
    wiping = by_name["wiping"]
    assert wiping.key == "2"
    assert wiping.tags[:7] == (("1", "over-wiped"), ("2", "under-wiped"), ("3", "salty"),
                               ("4", "lint"), ("5", "finger mark"), ("6", "dull"),
                               ("7", "spot 0"))
    assert wiping.tags[-1] == ("", "spot 29")
    assert [by_name[f"own{n}"].key for n in range(20)] == [*KEYS[8:], *[""] * (28 - len(KEYS))]
    for keys in ([g.key for g in menu if g.key], [k for k, _ in wiping.tags if k]):
        assert len(keys) == len(set(keys))
        assert not set(keys) & set(USED_KEYS)


def test_a_tag_used_keeps_its_key_all_session() -> None:
    """In the order of first use; taken off, or taken back, it still has its key."""
    b = Bench()
    b.tread(3)
    for tag in ("salty", "hair", "lint"):
        b.say(a.Tag(tag))
    b.say(a.TakeBack())
    b.say(a.Tag("salty", off=True))
    for tag in ("slur", "salty", *(f"t{n}" for n in range(9))):
        b.say(a.Tag(tag))
    used = used_tags(b.room.journal, b.s)
    assert list(used.items())[:5] == [
        ("p", "salty"), ("q", "hair"), ("r", "lint"), ("s", "slur"), ("t", "t0")]
    assert "".join(used) == USED_KEYS
    assert "t8" not in used.values()
