"""Write one book of the corpus: a small studio, by the commands of a checkout, and what they say.

    python tests/book/write_corpus.py CHECKOUT NAME

runs the benchapp of that checkout and writes `tests/book/corpus/NAME.json.gz`: the book as SQL,
and what its own version reads back. Do it in the commit that changes an entry, the layout of
the book, or what a recipe may say: `test_corpus.py` opens every book that was ever written.
"""

from __future__ import annotations

import gzip
import json
import os
import sqlite3
import subprocess
import sys
import tempfile
import zlib
from pathlib import Path
from typing import Any

CORPUS = Path(__file__).parent / "corpus"

#: A day with something of everything. A word that a version does not know is refused by it.
DAY = """note the room is cold
set room 17 °C
set near screw 3.5 turns
set blankets two felt, one swanskin
blankets washed
blankets swapped
time 5 min varnish
helper


back



skip


tag salty
note dark at the left edge
look again




keep
reading tone 4
counterproof





spoiled
note the tissue slipped
skip next: enough scrim


rework key II burnished the sky




doubtful
note wiped a little longer
for TP
state II





enough
helper
""" + "\n1\n" * 60

#: With the name of the first session in place of {}.
COMMANDS = (
    ("number", "{}:3", "--as", "BAT", "--by", "Idony Threlwick", "--yes"),
    ("number", "{}:4", "7", "--yes"), ("number", "{}:2", "9", "--yes"),
    ("sign", "{}:4", "--yes"),
    ("void", "9", "--print", "The Weigh House", "--why", "torn", "--yes"),
    ("correct", "{}:4", "number", "8", "--why", "read again", "--yes"),
    ("edition", "The Weigh House", "--cut-short", "30", "--why", "plate failed"),
    ("damp", "weigh-house", "--sheets", "4"),
    ("photo", "{}:3", "../sheet.png", "../plate.png"),
    ("photo", "{}:3", "sheet.png", "--untie", "--why", "it shows another sheet"),
    ("photo", "--plate", "key", "--state", "II", "--print", "The Weigh House", "../plate.png",
     "--yes"),
    ("stock", "count", "mould-made cotton, internally sized, 270 g/m2", "40 sheets"),
    ("stock", "count", "newsprint tissue", "200", "--new"),
    ("stock", "correct", "newsprint tissue", "180", "--why", "read the wrong line"),
    ("stock", "mix", "warm black 1", "bone black 60 g", "burnt umber", "--new"),
    ("stock", "count", "blotters", "24", "--new", "--on", "yesterday"),
    ("stock", "correct", "blotters", "none", "--why", "they belong to the school"),
)


def png(line: bytes) -> bytes:
    """A picture of one grey dot: a file of the smallest kind there is."""
    def chunk(name: bytes, data: bytes) -> bytes:
        return (len(data).to_bytes(4, "big") + name + data
                + zlib.crc32(name + data).to_bytes(4, "big"))

    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", b"\0\0\0\1\0\0\0\1\x08\0\0\0\0")
            + chunk(b"IDAT", zlib.compress(line)) + chunk(b"IEND", b""))


def run(checkout: Path, home: Path, *words: str, said: str = "") -> str:
    """What a command of that checkout prints."""
    done = subprocess.run(
        [sys.executable, "-m", "benchapp", *words], cwd=checkout, input=said, text=True,
        capture_output=True, check=False, timeout=120,
        env={**os.environ, "BENCHAPP_HOME": str(home), "PYTHONPATH": str(checkout), "TZ": "UTC"})
    return done.stdout


#: What a version can store: its kinds of entries with their fields, and the layout of the book.
FORM = """
from benchapp.book.schema import latest_step
from benchapp.events.kinds import KINDS
kinds = sorted((*at, *k.fields, "|", *getattr(k, "optional", ())) for at, k in KINDS.items())
print(__import__("hashlib").sha256(repr((latest_step(), kinds)).encode()).hexdigest())
"""


def form(checkout: Path) -> str:
    """A digest of what that checkout can store."""
    return subprocess.run([sys.executable, "-c", FORM], cwd=checkout, text=True,
                          capture_output=True, check=True, timeout=60,
                          env={**os.environ, "PYTHONPATH": str(checkout)}).stdout.strip()


def write(checkout: Path, home: Path) -> dict[str, Any]:
    """The book, and what its version says of it."""
    run(checkout, home, "run", "weigh-house", "--plain", "--wanted", "2", said=DAY)
    first = json.loads(run(checkout, home, "sessions", "--json"))[0]["session"]
    for name, colours in (("sheet", b"\0\0"), ("plate", b"\0\7")):
        (home.parent / f"{name}.png").write_bytes(png(colours))
    for words in COMMANDS:
        run(checkout, home, *(x.format(first).replace("..", str(home.parent)) for x in words))
    (home / "recipes").mkdir(exist_ok=True)
    text = (checkout / "recipes" / "weigh-house.yaml").read_text(encoding="utf-8")
    (home / "recipes" / "plain-zinc.yaml").write_text(
        text.replace("metal: copper", 'metal: "29"').replace("The Weigh House", "Numbered Metal"),
        encoding="utf-8")
    for recipe in ("plain-zinc", "ferry-lamp", "pane-moth"):
        run(checkout, home, "run", recipe, "--plain", "--wanted", "1", said=DAY)
    for _ in range(2):  # the second opens on a recipe that says the state from before
        run(checkout, home, "run", "signal-box", "--plain", "--wanted", "1",
            said="state III\n" + "\n1\n" * 40)
    run(checkout, home, "run", "thistle-heads", "--plain", said="note a day left open\n\n\n\n")
    sessions = json.loads(run(checkout, home, "sessions", "--json"))
    reviews = {x["session"]: json.loads(run(checkout, home, "review", x["session"], "--json"))
               for x in sessions}
    editions = {x: json.loads(run(checkout, home, "edition", x, "--json") or "null")
                for x in dict.fromkeys(x["print"] for x in sessions)}
    with sqlite3.connect(home / "studio.book") as book:
        pragmas = [f"PRAGMA {x} = {book.execute(f'PRAGMA {x}').fetchone()[0]};"
                   for x in ("application_id", "user_version")]
        sql = [*pragmas, *book.iterdump()]
    return {"form": form(checkout), "sql": sql, "sessions": _unnamed(sessions),
            "reviews": _unnamed(reviews), "editions": _unnamed(editions)}


def _unnamed(value: Any) -> Any:
    """Documents without the name of their format: what they say is compared."""
    if isinstance(value, list):
        return [*map(_unnamed, value)]
    return {k: _unnamed(x) for k, x in value.items() if k != "format"} if isinstance(
        value, dict) else value


def main() -> None:
    """Write the book named."""
    checkout, name = Path(sys.argv[1]).absolute(), sys.argv[2]
    with tempfile.TemporaryDirectory() as folder:
        found = write(checkout, Path(folder) / "home")
    CORPUS.mkdir(exist_ok=True)
    data = json.dumps(found, ensure_ascii=False, sort_keys=True).encode()
    (CORPUS / f"{name}.json.gz").write_bytes(gzip.compress(data, mtime=0))


if __name__ == "__main__":
    main()
