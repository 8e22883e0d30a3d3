"""A key of a file put in place: its own text alone changes, the printer's remarks stay."""

from __future__ import annotations

import pytest

from benchapp.recipe.edits import put_value
from benchapp.recipe.placing import NoPlaceError, drop_at, put_at


@pytest.mark.parametrize(("text", "name", "value", "becomes"), [
    ("", "sound", "soft", "sound: soft\n"),
    ("a: b", "sound", "soft", "a: b\nsound: soft\n"),
    ("a: b\n", "sound", "soft", "a: b\nsound: soft\n"),
    ("a: b\r\n", "sound", "soft", "a: b\r\nsound: soft\r\n"),
    ("{a: b}", "sound", "soft", "{a: b, sound: soft}"),
    ("{}", "sound", "soft", "{sound: soft}"),
    ("a: b\n", "keys", ["f2", "f3"], "a: b\nkeys: [f2, f3]\n"),
    ("keys: [f1]  # mine\na: b\n", "keys", ["f2", "f3"], "keys: [f2, f3]  # mine\na: b\n"),
    ("keys:\n  - f1\n  - f2\na: b\n", "keys", ["f3"], "keys:\n  [f3]\na: b\n"),
    ("keys:\n  - f1\n  - f2\na: b\n", "keys", "f3", "keys:\n  f3\na: b\n"),
    ("keys:\na: b\n", "keys", ["f3"], "keys: [f3]\na: b\n"),
    ("keys: f1  # mine\n", "keys", ["f3"], "keys: [f3]  # mine\n"),
    ("keys:  f1  # mine\n", "keys", "f3", "keys:  f3  # mine\n"),
])
def test_one_key_is_put_in_place(
    text: str, name: str, value: str | list[str], becomes: str
) -> None:
    """A new key comes last, on a line of its own or inside the braces; an old one is replaced."""
    assert put_value(text, name, value) == becomes


@pytest.mark.parametrize(("text", "path", "value", "becomes"), [
    ("a:\n  b: 1  # one\n  c: |\n    long\n", "a.d", "2",
     "a:\n  b: 1  # one\n  d: 2\n  c: |\n    long\n"),
    ("a: {b: 1}\n", "a.d.f", "2", "a: {b: 1, d: {f: 2}}\n"),
    ("a:\n  - b:\n      c: 1\n", "a.1.d", "2", "a:\n  - d: 2\n    b:\n      c: 1\n"),
    ("a: 1\r\n", "b.c", "2", "a: 1\r\nb: {c: 2}\r\n"),
    ("a:\n  b: 1", "a.c", "2", "a:\n  b: 1\n  c: 2\n"),
    ("a: [1, 2]\n", "a", ["3"], "a: [3]\n"),
])
def test_a_value_is_put_beside_its_group(
    text: str, path: str, value: str | list[str], becomes: str
) -> None:
    """On a line of its own as far in as the others; inside braces behind them."""
    assert put_at(text, _path(path), value) == becomes


@pytest.mark.parametrize(("text", "path", "becomes"), [
    ("a:\n  b: 1  # one\n  c: 2\n", "a.b", "a:\n  c: 2\n"),
    ("a: {b: 1, c: 2, d: 3}\n", "a.b", "a: {c: 2, d: 3}\n"),
    ("a: {b: 1, c: 2, d: 3}\n", "a.d", "a: {b: 1, c: 2}\n"),
    ("a:\n  b:\n    - 1\n    - 2\n\n  # of c\n  c: 2\n", "a.b", "a:\n\n  # of c\n  c: 2\n"),
    ("a:\n  b: {c: 1}\nd: 2\n", "a.b.c", "d: 2\n"),
    ("a:\n  - b: 1\n    c: 2\n", "a.1.b", 'a:\n  - b: ""\n    c: 2\n'),
    ("a: 1\n", "b", "a: 1\n"),
])
def test_a_key_is_taken_out_with_its_value(text: str, path: str, becomes: str) -> None:
    """Its remark goes with it, and a group that had nothing else; other remarks stay."""
    assert drop_at(text, _path(path)) == becomes


@pytest.mark.parametrize(("text", "path"), [("a: 1\n", "a.b"), ("a:\n", "a.b"), ("", "a"),
                                            ("a: {b: {c: 1}}\n", "a.b"), ("a: [1]\n", "a.b")])
def test_no_value_is_put_where_something_else_is(text: str, path: str) -> None:
    """Nothing is lost to make room."""
    with pytest.raises(NoPlaceError, match="there is no place for"):
        put_at(text, _path(path), "2")


def _path(text: str) -> tuple[str | int, ...]:
    return tuple(int(part) if part.isdigit() else part for part in text.split("."))
