"""Valid recipes at random, each written in as many spellings as one likes."""

from __future__ import annotations

import random
from typing import Any

#: Values with several spellings: any of them is the same value.
MINUTES = [("90 s", "1.5 min", "1 min 30 s"), ("2 min", "120 s"), ("1 h 30 min", "90 min", "1.5 h"),
           ("1 day", "24 h", "1440 min")]
SPANS = [("3/5/8 min", "180/300/480 s"), ("4 min", "240 s", "4/4/4 min"), ("30/60/90 s",)]
SIZES = [("198 x 148 mm", "198 × 148 mm", "19.8 x 14.8 cm"), ("100 x 80 mm", "100x80 mm",
         "10 cm x 80 mm")]
TURNS = [("3.25 turns", "3 1/4 turns"), ("1/8 turn", "0.125 turn")]
WORDS = ["Ink", "Wipe, then look", "it's late", 'the "key" plate', "à la poupée", "a: b", "#5 rag",
         "no", "010", "1:30", "Dab {twice}", "[x]", "- dash", "50 %", "émail", "null"]


def recipe(rng: random.Random) -> dict[str, Any]:
    """A valid recipe as a tree; a tuple is one value in several spellings."""
    plates = ["key", "tone", "sky"][: rng.randint(1, 3)]
    steps: list[dict[str, Any]] = []
    for plate in plates:
        steps.append({"do": word(rng), "hands": "free", "time": rng.choice(SPANS), "plate": plate,
                      "ends": "itself"})
        steps.append({"do": word(rng), "hands": "inky", "plate": plate,
                      "lines": rng.sample(WORDS, rng.randint(1, 4))})
    for n, plate in enumerate(plates):
        pull: dict[str, Any] = {"do": word(rng), "hands": "clean", "pulls": (plate, [plate]),
                                "at": "press", "care": word(rng)}
        pull.update({"uses": ("sheet", ["sheet"])} if n == 0 else {"within": rng.choice(MINUTES)})
        steps.append(pull)
    steps.append({"do": word(rng), "hands": "clean", "asks": ["verdict", "note"]})
    return {
        "recipe": "1",
        "print": {"title": word(rng), "artist": word(rng), "edition": str(rng.randint(1, 90)),
                  "proofs": {"AP": ("2", {"cap": "2"}, {"cap": "2", "inside": "false"})}},
        "plates": [{"name": p, "metal": metal(rng), "size": rng.choice(SIZES)} for p in plates],
        "paper": {"weight": ("300 g/m2", "300 g/m²", "300 gsm"), "sheet": "500 x 700 mm",
                  "damp": {"method": "soak", "soak": rng.choice(MINUTES),
                           "pack": ("6", "6 sheets")}},
        "press": {"left": rng.choice(TURNS), "right": rng.choice(TURNS)},
        "ink": {"parts": {"black": ("10", "10.0"), word(rng): ("0.5", "1/2")}},
        "each": steps,
        "after": [{"do": word(rng), "hands": "clean", "must": rng.sample(WORDS, 2)}],
        "drying": [{"do": word(rng), "after": rng.choice(MINUTES)}],
    }


def word(rng: random.Random) -> str:
    """A text, easy or awkward."""
    return rng.choice(WORDS)


def metal(rng: random.Random) -> str:
    """A text that can name a metal."""
    return rng.choice([w for w in WORDS if any(c.isalpha() for c in w)])


def write(tree: object, rng: random.Random) -> str:
    """The tree as YAML, each choice of spelling, style and comment by chance."""
    lines = _block(tree, 0, rng)
    return "\n".join(lines) + "\n"


def _block(tree: object, indent: int, rng: random.Random) -> list[str]:
    space, lines = " " * indent, []
    items = tree.items() if isinstance(tree, dict) else enumerate(tree)  # type: ignore[arg-type]
    for key, raw in items:
        value = rng.choice(raw) if isinstance(raw, tuple) else raw
        head = f"{space}{_scalar(key, rng)}:" if isinstance(tree, dict) else f"{space}-"
        note = rng.choice(["", "", "   # a remark: with {signs}, [all] kinds"])
        if rng.random() < 0.1:
            lines.append(f"{space}# a line of remark")
        if isinstance(value, str):
            lines.append(f"{head} {_scalar(value, rng)}{note}")
        elif rng.random() < 0.4:
            lines.append(f"{head} {_flow(value, rng)}{note}")
        else:
            lines += [head + note, *_block(value, indent + rng.randint(1, 4), rng)]
    return lines


def _flow(raw: object, rng: random.Random) -> str:
    value = rng.choice(raw) if isinstance(raw, tuple) else raw
    if isinstance(value, str):
        return _scalar(value, rng)
    gap = rng.choice([" ", "  ", "\n            "])
    if isinstance(value, dict):
        inside = [f"{_scalar(key, rng)}: {_flow(item, rng)}" for key, item in value.items()]
        return "{" + f",{gap}".join(inside) + "}"
    return "[" + f",{gap}".join(_flow(item, rng) for item in value) + "]"  # type: ignore[attr-defined]


def _scalar(text: str, rng: random.Random) -> str:
    easy = text.replace(" ", "").replace("/", "").replace(".", "").isalnum()
    style = rng.choice(["plain", "single", "double"] if easy else ["single", "double"])
    if style == "plain":
        return text
    if style == "single":
        return "'" + text.replace("'", "''") + "'"
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + escaped.replace("é", "\\xe9" if rng.random() < 0.5 else "é") + '"'
