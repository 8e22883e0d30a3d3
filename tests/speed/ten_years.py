"""A book of ten years: one real day, written again and again with other words.

Run as a program (`python -m tests.speed.ten_years FILE [SESSIONS]`) it writes 5,000 sessions of
twenty impressions, in some minutes. Ids, places and digests are whole: the book verifies.
"""

from __future__ import annotations

import json
import random
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.journal import Entry, canonical, digest
from benchapp.session import actions as a
from benchapp.workshop import Workshop
from tests.session.support import LIFT, MIN, PULL, WARM, WIPE, recipe

SESSIONS = 5_000
SHEETS = 20
DAY_MS = 17 * 3_600_000
TEXT = recipe(each=(WARM, WIPE, PULL, LIFT),
              extra="readings: [{name: tone, unit: grade 1-5, at: Lift}]\n")
WORDS = ("sky", "roof", "lamp", "slates", "too", "dry", "hand", "scrim", "fresh", "oil", "drop",
         "blanket", "corner", "line", "thin", "deep", "again", "window", "held", "against", "north",
         "light", "left", "right", "harder", "softer", "after", "lunch", "tin", "knife", "margin")
RARE = ("blue", "crevé", "ultramarine", "heron")
TAGS = ("salty", "over-wiped", "ink stiff", "crease", "wear", "slur", "lint", "too dry")


def template() -> tuple[Entry, ...]:
    """One day of twenty sheets, each judged, with a tag, a note and a grade."""
    book, clock = Book.in_memory(), FakeClock()
    shop = Workshop(book, clock)
    shop.open_session("slack-water", TEXT, None)
    shop.do(a.Set("room", "18 °C"))
    for n in range(1, SHEETS + 1):
        for minutes in (2, 10, 1.5, 4, 3):
            clock.advance(round(minutes * MIN))
            shop.tick()
            shop.do(a.GoOn())
        while len([i for i in shop.room.session.impressions if i.pulled]) < n:
            clock.advance(MIN)
            shop.do(a.GoOn())
        shop.do(a.Judge("keep", n))
        shop.do(a.Tag("TAG", n))
        shop.do(a.Note("NOTE", n))
        shop.do(a.TakeReading("tone", "4", None, n))
    return book.entries()


def years(origin: str, sessions: int = SESSIONS, seed: int = 1) -> Iterator[Entry]:
    """The entries of so many days, as a book `origin` would have written them."""
    dice, day = random.Random(seed), template()
    old_id, old_name = day[0].stream.partition("/")[2], day[0].body["session"]
    texts = [canonical(dict(e.body)) for e in day]
    number = {e.id: n for n, e in enumerate(day)}
    for d in range(sessions):
        name = f"{2016 + d // 500}-{1 + d // 42 % 12:02d}-{1 + d % 28:02d}x{d}"
        base, stream, before = d * len(day), f"session/{name}@{origin}", ""
        for n, (e, text) in enumerate(zip(day, texts, strict=True)):
            body = json.loads(text.replace(old_id, f"{name}@{origin}").replace(old_name, name))
            if e.kind == "tagged":
                body["tag"] = dice.choice(TAGS)
            elif e.kind == "noted":
                rare = [dice.choice(RARE)] if dice.random() < 0.01 else []
                body["text"] = " ".join(dice.sample(WORDS, 6) + rare)
            at = replace(e.at, wall_ms=e.at.wall_ms + d * DAY_MS,
                         boot_ns=e.at.boot_ns + d * DAY_MS * 1_000_000,
                         mono_ns=e.at.mono_ns + d * DAY_MS * 1_000_000)
            new = Entry(f"{origin}:{base + n + 1}", stream, e.position,
                        f"{origin}:{base + number[e.action] + 1}", e.word, e.kind, at, body)
            new = replace(new, sha256=digest(before, new))
            before = new.sha256
            yield new


def make(path: Path, sessions: int = SESSIONS) -> None:
    """Write such a book."""
    with Book.open(path, write=True, create=True) as book:
        book.merge(years("tenyears", sessions))


if __name__ == "__main__":
    make(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else SESSIONS)
