"""Files of entries that no book wrote, with digests that hold: refused by line, or harmless."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.book import Book
from benchapp.book import validation as bodies
from benchapp.book.merge import Unfit
from benchapp.cli import main
from benchapp.clock import FakeClock
from benchapp.drying import actions as b
from benchapp.edition import actions as acts
from benchapp.events.entry import Entry, canonical_json
from benchapp.events.kinds import KINDS
from benchapp.events.streams import stream_family
from benchapp.files import book_file
from benchapp.reports import jsonl
from benchapp.service.editions import EditionService
from benchapp.service.sessions import SessionService
from benchapp.session import actions as a
from tests.faults.forged import Forger, chained
from tests.faults.reading_all import read_core, read_rest
from tests.session.support import LIFT, MIN, PULL, SHEETS, WIPE, recipe

TEXT = recipe(
    each=(WIPE, PULL, LIFT), after=(SHEETS,),
    damp="{method: soak, soak: 30 min, rest: 15 min, keeps: 48 h, pack: 4, handling: 3 min}",
    extra="readings: [{name: tone, unit: grade 1-5, at: Lift}]\n"
          "drying:\n  - {do: Change blotters, after: 3 h}\n")
PRINT = "slack water · wren halloran"
#: So many forged files; and every time.
MANY, PARTS = 20_000, 8
FEW = 24
#: Of those taken in one in so many is read by everything there is, each by what is read daily.
REST_ONE_IN = 6
#: The first entries of the small book: a day that is still open.
OPEN_DAY = 40
#: So many files garbled as texts.
EXAMPLES = 6 if settings().max_examples < 100 else 500


def said(shop: SessionService, clock: FakeClock) -> None:
    """Everything that can be said of two sheets."""
    for action in (a.Judge("keep", 3), a.Tag("salty", 3), a.Note("a note", 3), a.Note("of it"),
                   a.TakeReading("tone", "4", None, 3), a.Tag("slur", 3),
                   a.Tag("slur", 3, off=True), a.SayFor("TP", impression=4), a.LookAgain(3),
                   a.GiveMark("Q7", 4), a.Set("room", "18 °C"),
                   a.ReworkPlate("key", "II", "burnished")):
        clock.advance(1_000)
        assert shop.do(action).ok, action


@cache
def written() -> tuple[Entry, ...]:
    """A small book with an entry of many a kind: a day, its packs and stack, an edition."""
    book, clock = Book.in_memory("other"), FakeClock()
    shop = SessionService(book, clock)
    shop.open_session("slack-water", TEXT, 2)
    shop.do(a.Helper(joins=True, name="Maudie"))
    shop.do(a.StartClock(5 * MIN, "varnish"))
    while shop.room.session.closed is None:
        if len([i for i in shop.room.session.impressions if i.pulled]) == 4:
            said(shop, clock) if not shop.room.session.reworks else None
        clock.advance(4 * MIN)
        shop.tick()
        if shop.do(a.GoOn()).refusal is not None:
            shop.do(a.Must("dried"))
    id_ = shop.room.session.id
    editions = EditionService(book, clock)
    for act in (acts.Declare(PRINT, "Slack Water", "Wren Halloran", 5, by="printer"),
                acts.GiveNumbers(PRINT, ((f"{id_}#3", 1),)), acts.Sign(PRINT, (f"{id_}#3",)),
                acts.TellPlate(PRINT, "key", "II", 12)):
        assert editions.do(act).ok, act
    assert editions.on_boards(b.Weigh(f"{id_}.1", f"{id_}#3", 12_000)).ok
    assert editions.do(acts.HandOut(
        PRINT, f"{id_}#3", "gallery", "consignment", None, "2026-09-01")).ok
    return book.entries()


# -- by kind ------------------------------------------------------------------------------------

WRONG: tuple[tuple[str, str, object, str], ...] = (
    ("judged", "verdict", 7, "verdict must be one of keep, doubtful, spoiled, or null"),
    ("judged", "verdict", "splendid", "verdict must be one of"),
    ("noted", "text", None, "text must be a text"),
    ("noted", "impression", "3", "impression must be a whole number from 1 to 9999, or null"),
    ("pulled", "plates", "key", "plates must be a list of texts"),
    ("pulled", "number", True, "number must be a whole number"),
    ("pulled", "at_press", 1, "at_press must be true or false"),
    ("step started", "attempt", 1.5, "attempt must be a whole number"),
    ("put in", "soak_ms", -1, "soak_ms must be milliseconds, none below 0, or null"),
    ("declared", "caps", {"AP": 4}, "caps must be proofs with their caps"),
    ("declared", "size", 10**12, "size must be a whole number"),
    ("handed out", "due", "soon", "due must be a day such as 2026-05-03, or null"),
    ("begun", "drying", [{"do": "x"}], "drying must be a list of changes"),
    ("weighed", "mg", "12 g", "mg must be a whole number"),
)


@pytest.mark.parametrize(("kind", "field", "value", "why"), WRONG)
def test_a_field_of_the_wrong_kind_is_refused_with_its_line(home, tmp_path, capsys, kind, field,
                                                            value, why):
    """The digests hold all the same; line, kind, field and what it must be are said."""
    at = next(n for n, e in enumerate(written()) if e.kind == kind)
    entries = list(written())
    entries[at] = replace(entries[at], body={**entries[at].body, field: value})
    path = tmp_path / "strange.jsonl"
    path.write_text("\n" + "".join(jsonl.entry_lines(chained(entries))), encoding="utf-8")
    assert main(["import", str(path)]) == 1
    told = capsys.readouterr().err
    assert f"{path}:{at + 2}:1: {kind}: {why}" in told
    assert "Nothing was imported." in told
    with Book.reading(book_file()) as book:
        assert book.entries() == ()


@pytest.mark.parametrize(("change", "why"), [
    ({"id": "nonsense"}, "id: not of the form book:number"),
    ({"action": ":0"}, "action: not of the form book:number"),
])
def test_an_id_that_is_none_is_refused(change, why):
    """An entry is named by its book and its place there."""
    entries = [replace(written()[0], **change)]
    with pytest.raises(Unfit, match=why):
        Book.in_memory("mine").merge(chained(entries))


@pytest.mark.parametrize(("clocks", "why"), [
    ({"wall_ms": -1}, "between the years 1970 and 9998"), ({"wall_ms": 2**62}, "1970 and 9998"),
    ({"offset_min": 1440}, "less than a day"), ({"offset_min": -1440}, "less than a day")])
def test_a_moment_no_calendar_has_is_refused(clocks, why):
    """It would stand in every list, and could not be shown in any."""
    entries = [replace(written()[0], at=replace(written()[0].at, **clocks))]
    with pytest.raises(Unfit, match=why):
        Book.in_memory("mine").merge(chained(entries))


def test_every_field_of_every_kind_has_a_rule():
    """A kind that is added to the registry is asked about too."""
    from benchapp.book.validation import find_wrong_field

    strange = object()
    for kind in KINDS.values():
        if not kind.fields:
            continue
        body = dict.fromkeys(kind.fields, strange)
        stream = f"{kind.stream}/x@other"
        told = find_wrong_field(replace(written()[0], stream=stream, kind=kind.name, body=body))
        assert told is not None
        assert told.startswith(f"{kind.name}: {kind.fields[0]} must be ")
        assert not any(kind.rules[name].fits(strange) for name in kind.optional)


def test_what_books_write_is_taken_in(tmp_path):
    """The small book itself passes every rule, and can be read."""
    path = tmp_path / "book.db"
    assert {e.kind for e in written()} >= {"put in", "weighed", "signed", "reworked", "marked"}
    with Book.open(path, write=True, create=True) as book:
        book.merge(written())
    with Book.reading(path) as book:
        assert "salty" in "".join(read_core(book, FakeClock()))
        assert "salty" in "".join(read_rest(book, FakeClock()))


# -- whatever stands there ----------------------------------------------------------------------

JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-2**63, 2**63 - 1) | st.floats(allow_nan=False)
    | st.text(max_size=12) | st.sampled_from((
        "", "keep", "wash", "each.1", "taken back", "key", "9999-12-31", "other:1", "\u202e", "#3",
        0, 1, -1, 3, 4, 5, 9_999, 10**6, 2**40)),
    lambda x: st.lists(x, max_size=3) | st.dictionaries(st.text(max_size=4), x, max_size=3),
    max_leaves=4)


class Row:
    """Files forged one after the other, each taken into an empty book and read, or refused."""

    def __init__(self) -> None:
        whole = written()
        self._forgers = (Forger(whole[:OPEN_DAY]), Forger(whole), Forger(
            [e for e in whole
             if e.kind == "opened" or stream_family(e.stream) in ("print", "stack")]))
        self._clock = FakeClock()
        self._clock.advance(30 * 60 * MIN)
        self._book = Book.in_memory("mine")
        self.taken = self.refused = 0

    def entries(self, seed: int) -> list[Entry]:
        """The forged file: of an open day, of editions without their days, of a whole book."""
        return self._forgers[(0, 2, 0, 2, 0, 2, 1)[seed % 7]].forge(seed)

    def try_one(self, seed: int) -> None:
        """Take that file in; hold what must be so of it then."""
        lines = list(jsonl.entry_lines(self.entries(seed)))
        found = jsonl.EntryLines(x.encode() for x in lines)
        try:
            self._book.merge(found)
        except (jsonl.NotOurs, Unfit) as wrong:
            self._hold_refused(wrong.why, found.number, len(lines))
            return
        self.taken += 1
        with self._book as book:
            for text in read_core(book, self._clock):
                assert isinstance(text, str)
            if self.taken % REST_ONE_IN == 0:
                for text in read_rest(book, self._clock):
                    assert isinstance(text, str)
        self._book = Book.in_memory("mine")

    def _hold_refused(self, why: str, line: int, lines: int) -> None:
        """One of its lines and a reason are said; nothing was taken in."""
        self.refused += 1
        assert 1 <= line <= lines
        assert why
        assert self._book.last_sequence() == 0

    def try_all(self, seeds: range) -> None:
        """Those of these seeds, of which many are taken and many refused."""
        for seed in seeds:
            try:
                self.try_one(seed)
            except Exception as error:
                error.add_note(f"seed {seed}")
                raise
        assert self.taken + self.refused == len(seeds)
        assert min(self.taken, self.refused) > len(seeds) // 5


@pytest.mark.usefixtures("remembered")
def test_a_forged_file_is_refused_or_can_be_read() -> None:
    """All of it or none; what is let in breaks no list, no review, no edition and no room."""
    Row().try_all(range(FEW))


def test_an_opening_that_a_file_takes_back_stays() -> None:
    """No program takes one back: the session can be read as if nobody had."""
    last = written()[-1]
    back = replace(last, id="other:9999", stream="pack/2026-05-03@other.1", kind="taken back",
                   body={"pack": "2026-05-03@other.1", "action": "other:1"})
    with Book.in_memory("mine") as book:
        book.merge(chained((*written(), back)))
        assert "salty" in "".join(read_core(book, FakeClock()))


@pytest.mark.full
@pytest.mark.usefixtures("remembered")
@pytest.mark.parametrize("part", range(PARTS))
def test_twenty_thousand_forged_files(part: int) -> None:
    """The same of all of them, in parts."""
    Row().try_all(range(part * MANY // PARTS, (part + 1) * MANY // PARTS))


def test_a_book_that_asks_nothing_of_fields_is_found_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """As if the rules of fields did not hold: some reader stumbles over what is let in."""
    monkeypatch.setattr(bodies, "find_wrong_field", lambda entry: None)
    with pytest.raises((TypeError, AttributeError, KeyError, ValueError)):
        Row().try_all(range(5 * FEW))


def shuffled(line: str, key: str, value: Any) -> str:
    """A line with one of its outer fields, or of its clocks, something else."""
    found = json.loads(line)
    (found["at"] if key in found["at"] else found)[key] = value
    return canonical_json(found) + "\n"


@settings(max_examples=EXAMPLES)
@given(st.data())
def test_any_garbled_file_is_answered_by_its_line(data):
    """Bytes changed, lines cut, fields of other kinds: told apart, and nothing else happens."""
    lines = list(jsonl.entry_lines(written()))
    at = data.draw(st.integers(0, len(lines) - 1))
    how = data.draw(st.sampled_from(("bytes", "cut", "field", "swap")))
    raw = lines[at].encode()
    if how == "field":
        names = sorted({*json.loads(lines[at]), *json.loads(lines[at])["at"]})
        raw = shuffled(lines[at], data.draw(st.sampled_from(names)), data.draw(JSON)).encode()
    elif how == "cut":
        raw = raw[: data.draw(st.integers(0, len(raw) - 2))] + b"\n"
    elif how == "bytes":
        place = data.draw(st.integers(0, len(raw) - 2))
        raw = raw[:place] + data.draw(st.binary(max_size=3)) + raw[place + 1:]
    all_lines = [x.encode() for x in lines]
    all_lines[at] = raw
    if how == "swap":
        other = data.draw(st.integers(0, len(lines) - 1))
        all_lines[at], all_lines[other] = all_lines[other], all_lines[at]
    with Book.in_memory("mine") as book:
        try:
            book.merge(jsonl.EntryLines(b"".join(all_lines).splitlines(keepends=True)))
        except (jsonl.NotOurs, Unfit):
            assert book.entries() == ()
            return
        assert any(stream_family(e.stream) == "session" for e in book.entries())
