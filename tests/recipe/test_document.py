"""A text becomes a tree that knows its places, or says why not and where."""

from __future__ import annotations

import pytest

from benchapp.recipe.document import MOST_BYTES, MOST_NODES, parse_document, scan_document
from benchapp.recipe.nodes import Items, Map, Scalar, find_node, walk_nodes
from benchapp.recipe.problems import RecipeError

ROWS = [
    ("a: b: c", "1:5: a second colon in one line; "
     "put quotes round text that holds a colon and a space"),
    ("a: [1, 2", "1:4: this bracket is never closed; write its closing ] or }"),
    ("a: {b: 1", "1:4: this bracket is never closed; write its closing ] or }"),
    ("a: [b\nc: d", "1:4: this bracket is never closed; write its closing ]"),
    ("a: {b: 1\nc: 2}", "2:2: a comma or } is missing before this :; "
     "close the braces, or put quotes round text that holds , : [ ] { }"),
    ('x: 1\na: "b', "2:4: this quote is never closed; write the same quote at the end of the text"),
    ("a: 'x' y", "1:8: text goes on after a closing quote; "
     "put all of it inside one pair of quotes"),
    ("a: @x", '1:4: a text cannot begin with @ unquoted; put quotes round the whole text: "…"'),
    ("a: %x", '1:4: a text cannot begin with % unquoted; put quotes round the whole text: "…"'),
    ("a: * b", '1:4: a text cannot begin with & or * unquoted; '
     'put quotes round the whole text: "…"'),
    ("a: !<x", '1:4: a text cannot begin with ! unquoted; put quotes round the whole text: "…"'),
    ("a:\n  b: 1\n c: 2", "3:2: this line is not in one column with the others of its group; "
     "begin it in the same column as they do"),
    ("  a: 1\nb: 2", "2:1: this line is not in one column with the others of its group; "
     "begin it in the same column as they do"),
    ("a: b\nplain\nc: d", "2:1: a line without a colon; write key: value, "
     "or move the text further in so that it belongs to the line above"),
    ("a: ]", "1:4: a closing bracket without an opening one; "
     "take it out, or put quotes round the text"),
    ("{a: 1}}", "1:7: a closing bracket without an opening one; "
     "take it out, or put quotes round the text"),
    ("a: - b", "1:4: a list begins in the middle of a line; "
     "begin it on a line of its own, further in; put quotes round text that begins with -"),
    ("a: > x\n", "1:6: only | or > may end this line; "
     "begin the text on the next line, further in"),
    ('a: "\\q"', "1:6: \\q means nothing inside double quotes; "
     "write \\\\ for a backslash, or use single quotes"),
    ('a: "\\ud8"', "1:7: this escape is cut short; write the character itself"),
    ('b: 1\na: "\\U99999999"', "2:5: there is no character \\U99999999; "
     "write the character itself"),
    ("a: \ufffe", "1:4: there is only half a character here; take it out"),
    ("a: 1\rb: \ufffe", "2:4: there is only half a character here; take it out"),
    ("%YAML 1.1\n---\na: b", "1:1: a % line is not read here; take it out"),
    ("%x\na: b", "1:1: a % line is not read here; take it out"),
    ("a: 1\n---\nb: 2", "2:1: a second document begins here; "
     "take the line --- out, or put the second one into a file of its own"),
    ("a: &x 1", "1:4: &x names a value for use elsewhere; "
     "take the name out and write values where they belong"),
    ("a: *x", "1:4: *x points to another place; write the value out here"),
    ("<<: {a: 1}", "1:1: << takes values from another place; write the values out here"),
    ("a: !!int 5", "1:4: the tag tag:yaml.org,2002:int is not read here; "
     "take it out; put quotes round text that begins with !"),
    ("a: ! 5", "1:4: the tag ! is not read here; "
     "take it out; put quotes round text that begins with !"),
    ("b: 1\na: 2\n'a': 3\n", '3:1: "a" is written twice, in line 2 and in line 3; '
     "keep one of them"),
    ("[[1]]: 2", "1:1: a key is a list or a map here; write one word or a few before the colon"),
    ("'': 3", "1:1: there is nothing before the colon; write what the value is called"),
    ("a:\tb", "1:3: a tab is not allowed here; write spaces instead"),
    ("a:\n\tb: 1", "2:1: a tab is not allowed here; write spaces instead"),
    ("a: 1\r\nb: \x07", "2:4: a control character (BEL, U+0007) is not allowed here; take it out"),
    ("a: x\x9by", "1:5: a control character (U+009B) is not allowed here; take it out"),
    ("a: \u2066x", "1:4: a mark that turns the reading direction (U+2066) is not allowed here; "
     "take it out"),
    ("a: \ud800", "1:4: half a character, from text in another encoding is not allowed here; "
                  "take it out"),
    ('a: "\\t"', "1:4: an escape writes a tab here; take out what begins with \\"),
    ('a: "\\e]52;c;x\\a"', "1:4: an escape writes a control character (ESC, U+001B) here; "
     "take out what begins with \\"),
    ('a: "\\u200f"', "1:4: an escape writes a mark that turns the reading direction (U+200F) here; "
     "take out what begins with \\"),
    ('a: "\\ud83d"', "1:4: an escape writes half a character, from text in another encoding here; "
     "take out what begins with \\"),
    ("{do: Lay, then pull, hands: clean}", '1:9: this comma inside {} makes a key of "then pull"; '
     "put quotes round the whole text, or write it in block form, a line a key"),
    ("x: {do: Lay,\n     then pull}", '1:12: this comma inside {} makes a key of "then pull"; '
     "put quotes round the whole text, or write it in block form, a line a key"),
    ("{amount: 1,5}", '1:11: this comma inside {} makes a key of "5"; '
     "write a decimal with a point"),
    ("{hands}", '1:2: "hands" is in {} without a value; write hands: and its value'),
]


@pytest.mark.parametrize(("text", "said"), ROWS, ids=[repr(text) for text, _ in ROWS])
def test_what_cannot_be_taken_is_named_with_its_place(text: str, said: str) -> None:
    """One problem, in words a printer knows, at its line and column."""
    assert [str(problem) for problem in scan_document(text).problems] == [said]


def test_bytes_that_are_not_utf8() -> None:
    """The first byte that is none is where the problem stands."""
    for data, place in ((b"a: 1\nb: \xff", "2:4"), (b"\xef\xbb\xbfa: \xff", "1:4")):
        assert [str(p) for p in scan_document(data).problems] == [
            f"{place}: the file is not UTF-8 from here on; save it as UTF-8 in your editor"]


def test_sixteen_levels_and_no_more() -> None:
    """The seventeenth bracket is one too many, and 500 of them are no harder."""
    assert not scan_document("[" * 16 + "]" * 16).problems
    for depth in (17, 500):
        (problem,) = scan_document("[" * depth + "]" * depth).problems
        assert (problem.line, problem.column) == (1, 17)
        assert "more than 16 levels" in problem.wrong


def test_twenty_thousand_values_and_no_more() -> None:
    """A list of 19,999 reads; with one more it is too much."""
    fits = "[" + "1," * (MOST_NODES - 2) + "1]"
    assert not scan_document(fits).problems
    (problem,) = scan_document("[1," + fits[1:]).problems
    assert "20,000" in problem.wrong


def test_256_kib_and_no_more() -> None:
    """The size is looked at in bytes, before anything is read."""
    assert not scan_document("a: " + "é" * ((MOST_BYTES - 3) // 2)).problems
    (problem,) = scan_document("a: " + "é" * (MOST_BYTES // 2)).problems
    assert (problem.line, problem.column) == (1, 1)
    assert "256 KiB" in problem.wrong


def test_an_alias_bomb_unfolds_nothing() -> None:
    """Names that stand for names are refused one by one, in no time."""
    bomb = "a: &a [x,x]\n" + "".join(f"{b}: &{b} [*{a},*{a}]\n" for a, b in
                                     zip("abcdefgh", "bcdefghi", strict=True))
    problems = scan_document(bomb).problems
    assert len(problems) == 9 + 16


def test_every_scalar_stays_text() -> None:
    """What other readers turn into numbers, dates and truths is text here."""
    values = ["1:30", "010", "no", "off", "2026-13-45", "9" * 5000, "1e3", "~", "0x1F", ".nan"]
    root = parse_document("".join(f"k{n}: {value}\n" for n, value in enumerate(values))).root
    assert isinstance(root, Map)
    assert [pair.value.text for pair in root.pairs if isinstance(pair.value, Scalar)] == values


@pytest.mark.parametrize("text", ["", "\n", "# only a remark\n", "---\n...\n"])
def test_an_empty_text_is_no_mistake(text: str) -> None:
    """Nothing in it, or nothing but remarks: whoever asked decides what that means."""
    document = parse_document(text)
    assert document.root is None or (isinstance(document.root, Scalar) and document.root.empty)


def test_offsets_cut_each_value_out_of_the_text() -> None:
    """`start` and `end` hold the value's own text, behind a byte order mark too."""
    text = "\ufeffa: plain  # x\nb: 'qu''oted'\nc: {d: [e, \"f\"]}\ng: |\n  block\nh: é\n"
    pieces = {path: text[node.start: node.end] for path,
              node in walk_nodes(parse_document(text).root)
              if isinstance(node, Scalar)}
    assert pieces == {("a",): "plain", ("b",): "'qu''oted'", ("c", "d", 1): "e",
                      ("c", "d", 2): '"f"', ("g",): "|\n  block\n", ("h",): "é"}


def test_maps_and_lists_know_how_they_were_written() -> None:
    """Braces and brackets, or lines."""
    root = parse_document("a: {b: 1}\nc:\n  - d\n").root
    inner, items = find_node(root, "a"), find_node(root, "c")
    assert isinstance(inner, Map)
    assert isinstance(items, Items)
    assert (inner.flow, items.flow) == (True, False)
    assert (inner.line, inner.column) == (1, 4)
    assert find_node(root, "c", 1) == Scalar("d", 3, 5, 17, 18)
    assert find_node(root, "c", 2) is None
    assert find_node(root, "a", "b", "x") is None


def test_parse_raises_all_problems_scan_returns_them() -> None:
    """The same problems both ways; a tree stands beside those that let reading go on."""
    text = "a: &x 1\nb: 2\nb: 3\n"
    with pytest.raises(RecipeError) as caught:
        parse_document(text)
    document = scan_document(text)
    assert document.problems == caught.value.problems
    assert len(document.problems) == 2
    assert document.whole
    assert find_node(document.root, "b") == Scalar("2", 2, 4, 11, 12)


def test_problems_are_counted_out_at_two_hundred() -> None:
    """A file of nothing but mistakes does not fill the screen for ever."""
    assert len(scan_document("a: \x07\n" * 1000).problems) == 200
    assert len(scan_document("".join(f"k{n}: *x\n" for n in range(1000))).problems) == 200
