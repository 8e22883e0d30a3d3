"""Texts broken as editors, disks, mail programs and people who know too much YAML break them."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Sequence
from typing import Final

#: Signs and words that mean something to YAML, to a terminal, or to the readers of values.
TRICKS: Final = (
    "&a ", "*a", "&a &b x", "<<: *a", "!!str ", "!x ", "!!python/object/apply:os.system [x]",
    "!<tag:yaml.org,2002:int> ", "---\n", "...\n", "%YAML 1.1\n", "%TAG ! tag:x,2000:\n", "? ",
    "? [a, b]\n: c\n", "|\n", ">-\n", "|9\n", "- ", "-", ": ", ":", "{", "}", "[", "]", ",", "#",
    " #", "'", '"', "''", '"\\U0010FFFF"', '"\\U00110000"', '"\\uD800"', '"\\x00"', '"\\0"',
    '"\\N"', '"\\z"', "\x00", "\x07", "\x1b[2J", "\x7f", "\x85", "\u2028", "\u2029", "\u202e",
    "\u200b", "\ufeff", "\ufffe", "\U000e0041", "\t", "\r", "\n", "\r\n", "\n\n", "\x0b", "\x0c",
    "@", "`", "~", "null", "no", "1:30", "0x1F", "1_000", ".inf", "1e999", "-1", "0", "1/0",
    "٣ min", "½ in", "é", "紙", "🖐🏽", "e\u0301", "=1+1", "__proto__: x\n", "recipe: 2\n",
    "each: []\n", "plates:\n", "print: x\n", "min", "3 min", "3/2/1 min", "75 %", "1,5 min",
    "2 lb", "9" * 400 + " min", "0." + "0" * 400 + "1 mm", "grade 5-1", "wash", "sheet",
)
#: What is too much of one thing; once in so many texts, since each is long.
HUGE: Final[tuple[Callable[[int], str], ...]] = (
    lambda n: "[" * n, lambda n: "{a: " * n, lambda n: "- " * n, lambda n: "x" * n,
    lambda n: "9" * n, lambda n: "".join(f"\n{' ' * i}a:" for i in range(n // 40)),
    lambda n: "a: &a [x]\n" + "b: *a\n" * (n // 6), lambda n: "'" + "''" * n,
    lambda n: '"' + "\\x41" * (n // 4), lambda n: "\n" * n, lambda n: "\r" * n, lambda n: " " * n,
    lambda n: "\x00" * n, lambda n: "\ufeff" * (n // 3), lambda n: "? " * n, lambda n: "1," * n,
)
HUGE_AT_MOST: Final = 6_000
HUGE_ONE_IN: Final = 400
ENCODINGS: Final = ("utf-16", "utf-16-le", "utf-16-be", "utf-32", "utf-7", "latin-1", "cp1252",
                    "cp437", "utf-8-sig")
NEWLINES: Final = ("\r\n", "\r", "\x85", "\u2028", "\n\n", " \n", "\n\r")
_TOKEN: Final = re.compile(r"\w+|\s+|.", re.DOTALL)


def _span(length: int, dice: random.Random, most: int) -> tuple[int, int]:
    start = dice.randint(0, length)
    return start, min(length, start + dice.randint(0, most))


def _bytes(data: bytes, dice: random.Random) -> bytes:
    """Bytes changed, put in, taken out, said twice, or cut off."""
    start, end = _span(len(data), dice, 12)
    match dice.randrange(5):
        case 0:
            return data[:start] + bytes(b ^ 1 << dice.randrange(8) for b in data[start:end][:2]) \
                + data[start + 2:]
        case 1:
            return data[:start] + dice.randbytes(dice.randint(1, 3)) + data[start:]
        case 2:
            return data[:start] + data[end:]
        case 3:
            return data[:end] + data[start:]
        case _:
            return data[:start]


def _tokens(text: str, dice: random.Random) -> str:
    """Words changed into others of the text, or into tricks."""
    tokens = _TOKEN.findall(text)
    if not tokens:
        return dice.choice(TRICKS)
    at, other = dice.randrange(len(tokens)), dice.randrange(len(tokens))
    match dice.randrange(5):
        case 0:
            tokens[at] = tokens[other]
        case 1:
            tokens[at], tokens[other] = tokens[other], tokens[at]
        case 2:
            tokens[at] = dice.choice(TRICKS)
        case 3:
            tokens.insert(at, dice.choice(TRICKS))
        case _:
            del tokens[at]
    return "".join(tokens)


def _lines(text: str, dice: random.Random) -> str:
    """Lines moved, lost, doubled, joined, further in, further out, or no remark any more."""
    lines = text.splitlines(keepends=True)
    if not lines:
        return dice.choice(TRICKS)
    at, other = dice.randrange(len(lines)), dice.randrange(len(lines))
    match dice.randrange(7):
        case 0:
            del lines[at]
        case 1:
            lines.insert(other, lines[at])
        case 2:
            lines.insert(other, lines.pop(at))
        case 3:
            lines[at] = lines[at].rstrip("\r\n")
        case 4:
            lines[at] = " " * dice.randint(1, 4) + lines[at]
        case 5:
            lines[at] = lines[at][dice.randint(1, 3):]
        case _:
            lines[at] = lines[at].replace("# ", "", 1)
    return "".join(lines)


def _whole(text: str, dice: random.Random) -> bytes:
    """Other newlines, here or everywhere; another encoding; a mark of one at the beginning."""
    match dice.randrange(4):
        case 0:
            return text.replace("\n", dice.choice(NEWLINES)).encode()
        case 1:
            return "".join(dice.choice(("\n", "\r\n", "\r")) if c == "\n" else c
                           for c in text).encode()
        case 2:
            return text.encode(dice.choice(ENCODINGS), "replace")
        case _:
            return b"\xef\xbb\xbf" + text.encode()


def _too_much(text: str, dice: random.Random) -> str:
    at = dice.randint(0, len(text))
    return text[:at] + dice.choice(HUGE)(dice.randint(1, HUGE_AT_MOST)) + text[at:]


def break_text(sound: Sequence[str], seed: int) -> bytes:
    """One of the sound texts with one to three things done to it; the same for a seed always."""
    dice = random.Random(seed)
    data = dice.choice(sound).encode()
    for _ in range(dice.choice((1, 1, 1, 2, 3))):
        way = dice.choices((_bytes, _tokens, _lines, _whole), (4, 6, 4, 1))[0]
        if way is _bytes:
            data = _bytes(data, dice)
        else:
            made = way(data.decode("utf-8", "replace"), dice)
            data = made if isinstance(made, bytes) else made.encode()
    if seed % HUGE_ONE_IN == 0:
        data = _too_much(data.decode("utf-8", "replace"), dice).encode()
    return data
