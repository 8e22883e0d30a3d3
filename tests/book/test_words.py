"""What of each entry is looked through: its words, where they belong, and who may see them."""

from __future__ import annotations

from typing import Any

import pytest

from benchapp.book.search_index import claim_text, text_of, words_of
from benchapp.events.entry import Entry, read_event
from tests.book.samples import moment

DAY = "session/2026-05-03@a"


def told(stream: str, kind: str, body: dict[str, Any], word: str = "x") -> list[tuple[str, ...]]:
    """The words of one entry, each with its day, part and sheet."""
    entry = Entry("x:1", stream, 1, "x:1", word, kind, moment(), body)
    return [tuple(one) for one in words_of(entry)]


@pytest.mark.parametrize(("kind", "body", "said"), [
    ("noted", {"impression": 2, "text": "salty"}, [("note", "2", "salty")]),
    ("noted", {"impression": None, "text": "dull light"}, [("note", "", "dull light")]),
    ("noted", {"impression": 2, "text": ""}, []),
    ("tagged", {"impression": 2, "tag": "crevé"}, [("tag", "2", "crevé")]),
    ("untagged", {"impression": 2, "tag": "crevé"}, [("tag", "2", "crevé")]),
    ("judged", {"impression": 2, "verdict": "keep"}, [("verdict", "2", "keep")]),
    ("judged", {"impression": 2, "verdict": None}, [("verdict", "2", "")]),
    ("marked", {"impression": 2, "mark": "K7"}, [("mark", "2", "K7")]),
    ("pulled", {"impression": 2, "number": 1, "mark": "D1"}, [("pulled", "2", "D1")]),
    ("for said", {"impression": 2, "for": "SP", "state": "II"}, [("for", "2", "SP II")]),
    ("for said", {"impression": 2, "for": "edition", "state": None}, [("for", "2", "edition")]),
    ("setting changed", {"name": "press", "value": "3 turns"},
     [("setting", "", "press: 3 turns")]),
    ("read", {"impression": 2, "name": "tone", "value": "4", "unit": "grade 1-5"},
     [("reading", "2", "tone: 4")]),
    ("read", {"impression": 2, "name": "tone", "value": "4", "unit": None},
     [("reading", "2", "tone: 4")]),
    ("read", {"impression": None, "name": "ink used", "value": "9", "unit": "g"},
     [("setting", "", "ink used: 9 g")]),
    ("reworked", {"plate": "key", "state": "III", "what": "burnished"},
     [("plate", "", "key III burnished")]),
    ("reworked", {"plate": None, "state": None, "what": "burnished"},
     [("plate", "", "burnished")]),
    ("left off", {"text": "scrim"}, [("left off", "", "scrim")]),
    ("timed", {"name": "coffee"}, [("timer", "", "coffee")]),
    ("helper joined", {"name": "Ödön"}, [("helper", "", "Ödön")]),
    ("must answered", {"fact": "turned off"}, [("answer", "", "turned off")]),
    ("skip said", {"impression": 2, "why": "warm"}, [("skipped", "2", "warm")]),
    ("heard nothing", {"impression": 2, "text": "salty"}, []),
])
def test_words_of_the_bench(kind: str, body: dict[str, Any], said: list[tuple[str, ...]]) -> None:
    """Each with its day and sheet, whichever book says it; a verdict taken away is said too."""
    assert told(DAY, kind, body) == [(DAY, *one) for one in said]
    assert told(f"{DAY}@b", kind, body) == [(DAY, *one) for one in said]


def test_a_reason_for_a_skipped_step_is_a_word_of_who_skipped_it() -> None:
    """A step that a rule of the recipe skipped is nobody's word."""
    body = {"impression": 2, "why": "warm still"}
    assert told(DAY, "step finished", body, word="skip") == [(DAY, "skipped", "2", "warm still")]
    assert told(DAY, "step finished", body, word="go on") == []


PEAR = "print/pear"


@pytest.mark.parametrize(("kind", "body", "said"), [
    ("declared", {"title": "Pear", "artist": "Idony", "size": 15, "relation": None},
     [("edition", "", "Pear, Idony: an edition of 15")]),
    ("declared", {"title": "Pear", "artist": "Idony", "size": None, "relation": "state II",
                  "sibling": "quince"},
     [("edition", "", "Pear, Idony: an open edition"), ("beside", "", "state II of quince")]),
    ("lowered", {"why": "burr gone"}, [("short", "", "burr gone")]),
    ("cut short", {"why": "burr gone"}, [("short", "", "burr gone")]),
    ("BAT replaced", {"why": "lost"}, [("replaced", "", "lost")]),
    ("number given", {"sheet": "paper-1", "number": 3}, [("number", "paper-1", "3")]),
    ("number taken back", {"sheet": "paper-1"}, [("number", "paper-1", "")]),
    ("proof given", {"sheet": "paper-1", "kind": "AP", "number": 2, "by": None},
     [("number", "paper-1", "AP 2")]),
    ("proof given", {"sheet": "paper-1", "kind": "BAT", "number": None, "by": "Wren"},
     [("number", "paper-1", "BAT"), ("passed", "paper-1", "Wren")]),
    ("signed", {"sheet": "paper-1", "kind": "edition", "number": 4},
     [("number", "paper-1", "4")]),
    ("signed", {"sheet": "paper-1", "kind": None, "number": None}, []),
    ("number voided", {"number": 12, "why": "torn"}, [("void", "", "12: torn")]),
    ("number not void", {"number": 12, "why": "found"}, [("not void", "", "12: found")]),
    ("destroyed", {"sheet": "paper-1", "why": "torn"}, [("destroyed", "paper-1", "torn")]),
    ("recalled", {"sheet": "paper-1", "kind": "edition", "number": 5, "paper": "the ledger",
                  "destroyed": "burnt"},
     [("number", "paper-1", "5"), ("paper", "paper-1", "the ledger"),
      ("destroyed", "paper-1", "burnt")]),
    ("recalled", {"sheet": "paper-1", "kind": "edition", "number": 5, "paper": None,
                  "destroyed": None}, [("number", "paper-1", "5")]),
    ("corrected", {"sheet": "paper-1", "now": {"kind": "AP", "number": 1}, "why": "pencil"},
     [("number", "paper-1", "AP 1"), ("corrected", "paper-1", "pencil")]),
    ("corrected", {"sheet": "paper-1", "now": None, "about": ["bears"], "why": None},
     [("number", "paper-1", "")]),
    ("corrected", {"sheet": "paper-1", "now": None, "about": ["signed"], "why": "not yet"},
     [("corrected", "paper-1", "not yet")]),
    ("recorded by mistake", {"what": "a sale", "why": "it was a loan"},
     [("by mistake", "", "a sale: it was a loan")]),
    ("clash settled", {"why": "the pencil"}, [("settled", "", "the pencil")]),
    ("plate told", {"plate": "key", "state": "steel-faced"}, [("plate", "", "key steel-faced")]),
    ("picture tied", {"sheet": "paper-1", "name": "IMG_7.JPG"},
     [("picture", "paper-1", "IMG_7.JPG")]),
    ("picture untied", {"sheet": "paper-1", "why": "shows K6"},
     [("no picture", "paper-1", "shows K6")]),
    ("plate cancelled", {"how": "scored"}, [("cancelled", "", "scored")]),
    ("handed out", {"sheet": "paper-1", "place": "gallery", "terms": "consignment",
                    "day": "2026-05-01", "due": "2026-11-30"},
     [("where", "paper-1",
       "with a gallery, consignment, since 2026-05-01, due back 2026-11-30")]),
    ("came back", {"sheet": "paper-1", "place": "sold", "day": None},
     [("where", "paper-1", "sold")]),
    ("placed", {"sheet": "paper-1", "place": "sold", "terms": None, "why": "a slip"},
     [("where", "paper-1", "sold"), ("corrected", "paper-1", "a slip")]),
    ("told in private", {"sheet": "paper-1", "words": {"note": "oak", "to": "Zoë"}},
     [("own words", "paper-1", "note: oak; to: Zoë")]),
])
def test_words_of_an_edition(kind: str, body: dict[str, Any], said: list[tuple[str, ...]]) -> None:
    """Each with the print and the sheet it is about, whichever book says it."""
    told_of = [(PEAR, *one) for one in said]
    assert told(PEAR, kind, {"print": "pear", **body}) == told_of
    assert told(f"{PEAR}@b", kind, {"print": "pear", **body}) == told_of


def test_words_about_a_printed_sheet_belong_to_its_day() -> None:
    """A sheet that has a session is found with it; one from a paper with its print."""
    body = {"print": "pear", "sheet": "2026-05-03@a#4", "number": 7}
    assert told(PEAR, "number given", body) == [(DAY, "number", "4", "7")]


@pytest.mark.parametrize(("kind", "body", "said"), [
    ("begun", {"name": "Pear, Monday"}, [("stack", "", "Pear, Monday")]),
    ("change skipped", {"why": "bone dry"}, [("skipped", "", "bone dry")]),
    ("weighted", {"grams": 12_500}, [("weight", "", "12.5 kg")]),
    ("weighted", {"grams": None}, []),
    ("weighed", {"sheet": "paper-1", "mg": 98_400}, [("weighing", "paper-1", "98.4 g")]),
])
def test_words_of_a_stack(kind: str, body: dict[str, Any], said: list[tuple[str, ...]]) -> None:
    """Masses as they are shown; a weight taken off is no word."""
    assert told("stack/7", kind, {"stack": "7", **body}) == [("stack/7", *one) for one in said]


def test_a_text_of_an_entry_by_its_part() -> None:
    """The one asked for; none of a part, or a kind, that has none."""
    body = {"print": "pear", "sheet": "paper-1", "kind": "BAT", "number": None, "by": "Wren"}
    passed = read_event(PEAR, "proof given", body)
    assert text_of(passed, "passed") == "Wren"
    assert text_of(passed, "number") == "BAT"
    assert text_of(passed, "note") == ""
    assert text_of(read_event(PEAR, "plates shared", body), "number") == ""


def test_what_is_on_a_sheet_is_spelled_one_way() -> None:
    """A number alone, a proof with or without one; nothing where nothing is."""
    said = [claim_text(*one) for one in (("edition", 12), ("edition", None), ("AP", 2),
                                         ("BAT", None))]
    assert said == ["12", "", "AP 2", "BAT"]
