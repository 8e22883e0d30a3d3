"""A key of a file put in place: its own text alone changes, the printer's remarks stay."""

from __future__ import annotations

import pytest

from benchapp.recipe.edits import put_value


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
