"""A book of ten years: one real day, written again and again with other words.

Run as a program (`python -m tests.speed.ten_years FILE [SESSIONS]`) it writes 5,000 sessions of
twenty impressions, 25 for each of 200 prints, in some minutes. Every day damps two packs, lays a
stack and takes it down, is closed, and half its sheets are numbered and signed. Ids, places and
digests are whole: the book verifies.
"""

from __future__ import annotations

import hashlib
import json
import random
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from benchapp.book import Book
from benchapp.clock import FakeClock
from benchapp.edition.state import NUMBERED
from benchapp.edition.streams import print_id, print_stream
from benchapp.events.entry import Entry, Moment, canonical_json, entry_digest
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from benchapp.session.edition_links import sheet_id
from benchapp.session.marks import free_letters
from tests.session.support import LIFT, MIN, PULL, SHEETS, WIPE, recipe

SESSIONS = 5_000
PRINTS = 200
DAY_MS = 17 * 3_600_000
#: So many sheets of a day get numbers: the rest are warm-ups, proofs and spoiled ones.
GOOD = 10
ARTIST = "Wren Halloran"
TEXT = recipe(
    each=(WIPE, PULL, LIFT), after=(SHEETS,),
    damp="{method: soak, soak: 30 min, rest: 15 min, keeps: 48 h, pack: 10, handling: 3 min}",
    extra="readings: [{name: tone, unit: grade 1-5, at: Lift}]\n")
WORDS = ("sky", "roof", "lamp", "slates", "too", "dry", "hand", "scrim", "fresh", "oil", "drop",
         "blanket", "corner", "line", "thin", "deep", "again", "window", "held", "against", "north",
         "light", "left", "right", "harder", "softer", "after", "lunch", "tin", "knife", "margin")
RARE = ("blue", "crevé", "ultramarine", "heron")
TAGS = ("salty", "over-wiped", "ink stiff", "crease", "wear", "slur", "lint", "too dry")
VERDICTS = ("keep", "keep", "keep", "keep", "doubtful", "spoiled")


def template() -> tuple[Entry, ...]:
    """One day of twenty sheets, each judged, with a tag, a note and a grade; closed."""
    book, clock = Book.in_memory(), FakeClock()
    shop = SessionService(book, clock)
    shop.open_session("slack-water", TEXT, 18)
    shop.do(a.Set("room", "18 °C"))
    while shop.room.session.closed is None:
        clock.advance(4 * MIN)
        shop.tick()
        if shop.do(a.GoOn()).refusal is not None:
            shop.do(a.Must("dried"))
    for i in shop.room.session.impressions:
        for said in (a.Judge("keep", i.ordinal), a.Tag("TAG", i.ordinal),
                     a.Note("NOTE", i.ordinal), a.TakeReading("tone", "4", None, i.ordinal)):
            clock.advance(1_000)
            shop.do(said)
    return book.entries()


class Years:
    """Writes the days of a book named `origin`, one entry after the other."""

    def __init__(self, origin: str, sessions: int, seed: int) -> None:
        self.origin, self.sessions = origin, sessions
        self.dice = random.Random(seed)
        self.day = template()
        self.old_id = self.day[0].stream.partition("/")[2]
        self.old_name = self.day[0].body["session"]
        self.texts = [canonical_json([e.stream, dict(e.body)]) for e in self.day]
        self.place = {e.id: n for n, e in enumerate(self.day, 1)}
        self.heads: dict[str, tuple[int, str]] = {}
        self.sequence = 0

    def entry(self, stream: str, action: int, word: str, kind: str, at: Moment,
              body: dict[str, Any]) -> Entry:
        """What comes next in the book."""
        self.sequence += 1
        position, before = self.heads.get(stream, (0, ""))
        bare = Entry(f"{self.origin}:{self.sequence}", stream, position + 1,
                     f"{self.origin}:{action}", word, kind, at, body)
        new = replace(bare, sha256=entry_digest(before, bare))
        self.heads[stream] = (new.position, new.sha256)
        return new

    def session(self, d: int) -> Iterator[Entry]:
        """The d-th day, from 0, and what was numbered of it."""
        name = f"{2016 + d // 500}-{1 + d // 42 % 12:02d}-{1 + d % 28:02d}x{d}"
        id_, title, base = f"{name}@{self.origin}", f"Slack Water {d % PRINTS}", self.sequence
        at = self.day[0].at
        for e, text in zip(self.day, self.texts, strict=True):
            stream, body = json.loads(text.replace(self.old_id, id_).replace(self.old_name, name))
            self.reword(e.kind, body, d, title)
            # The last of them is the day of the template: nothing lies in days to come.
            at = replace(e.at, wall_ms=e.at.wall_ms + (d + 1 - self.sessions) * DAY_MS,
                         boot_ns=e.at.boot_ns + d * DAY_MS * 1_000_000,
                         mono_ns=e.at.mono_ns + d * DAY_MS * 1_000_000)
            yield self.entry(stream, base + self.place[e.action], e.word, e.kind, at, body)
        stack = f"{id_}.1"
        yield self.entry(f"stack/{stack}", self.sequence + 1, "take down", "taken down", at,
                         {"stack": stack, "over": []})
        yield from self.numbers(id_, name, title, d, at)

    def reword(self, kind: str, body: dict[str, Any], d: int, title: str) -> None:
        """The day's own words in the body of an entry."""
        dice = self.dice
        match kind:
            case "opened":
                text = body["recipe_text"].replace("Slack Water", title)
                body |= {"print": title, "recipe_text": text, "letters": free_letters(d, ()),
                         "recipe_sha256": hashlib.sha256(text.encode()).hexdigest()}
            case "pulled" | "laid":
                body["mark"] = f"{free_letters(d, ())}{body['mark'].lstrip('D')}"
            case "tagged":
                body["tag"] = dice.choice(TAGS)
            case "judged":
                body["verdict"] = dice.choice(VERDICTS)
            case "read":
                body["value"] = str(dice.choice((3, 4, 4, 5)))
            case "noted":
                rare = [dice.choice(RARE)] if dice.random() < 0.01 else []
                body["text"] = " ".join(dice.sample(WORDS, 6) + rare)

    def numbers(self, id_: str, name: str, title: str, d: int, at: Moment) -> Iterator[Entry]:
        """Half its sheets are given numbers and signed."""
        print_ = print_id(title, ARTIST)
        stream = print_stream(print_, self.origin)
        if d < PRINTS:
            yield self.entry(stream, self.sequence + 1, "declare", "declared", at, {
                "print": print_, "title": title, "artist": ARTIST, "form": "limited",
                "size": GOOD * (SESSIONS // PRINTS), "was": None, "caps": {}, "roman": False,
                "roman_proofs": False, "sibling": None, "relation": None, "by": "printer",
                "over": []})
        for n in range(1, GOOD + 1):
            given = {"print": print_, "sheet": sheet_id(id_, n + 4), "session": name,
                     "mark": f"{free_letters(d, ())}{n + 4}", "number": d // PRINTS * GOOD + n}
            number = self.entry(stream, self.sequence + 1, "number", "number given", at,
                                {**given, "over": []})
            yield number
            yield self.entry(stream, self.sequence + 1, "sign", "signed", at, {
                **given, "kind": NUMBERED, "of": GOOD * (SESSIONS // PRINTS),
                "open": False, "over": [number.id]})


def years(origin: str, sessions: int = SESSIONS, seed: int = 1) -> Iterator[Entry]:
    """The entries of so many days, as a book `origin` would have written them."""
    writer = Years(origin, sessions, seed)
    for d in range(sessions):
        yield from writer.session(d)


def make(path: Path, sessions: int = SESSIONS) -> None:
    """Write such a book."""
    with Book.open(path, write=True, create=True) as book:
        book.merge(years(book.origin, sessions))


if __name__ == "__main__":
    make(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else SESSIONS)
