"""Years of an edition, made up: whatever is done, no number is given twice and all adds up."""

from __future__ import annotations

from collections import Counter
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.decision import Refusal
from benchapp.edition import actions as a
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.decide import (
    apply_edition_entry,
    decide_edition,
    replay_register,
    with_sheets,
)
from benchapp.edition.figures import edition_figures, edition_totals, proof_figures, sheet_accounts
from benchapp.edition.numbers import numbers_of, taken_numbers
from benchapp.edition.state import Register
from benchapp.edition.view import edition_view
from benchapp.events.entry import Entry
from tests.edition.model import CAPS, CP, NAMES, SHEETS, SIZE, Model, correction
from tests.edition.support import P, Studio, declared

DAY_MS = 24 * 3_600_000
_WHO = st.sampled_from(NAMES)
_N = st.integers(0, SIZE + 2)

#: What is done at a table, in one book or in two.
AT_THE_TABLE: st.SearchStrategy[a.Action] = st.one_of(
    st.builds(lambda s, n: a.GiveNumbers(P, ((s, n),)), _WHO, st.none() | _N),
    st.builds(lambda p: a.GiveNumbers(P, tuple(p)),
              st.lists(st.tuples(_WHO, st.none() | _N), min_size=2, max_size=3)),
    st.builds(lambda s: a.Sign(P, tuple(s)), st.lists(_WHO, min_size=1, max_size=2, unique=True)),
    st.builds(lambda s: a.TakeNumberBack(P, s), _WHO),
    st.builds(lambda s, k: a.GiveProof(P, s, k), _WHO, st.sampled_from(["AP", "HC", "BAT", CP])),
    st.builds(lambda n: a.VoidNumber(P, n, "smudged"), _N),
    st.builds(lambda s: a.Destroy(P, s, "torn"), _WHO),
    st.builds(lambda n: a.Lower(P, n, "worn"), st.integers(1, SIZE)),
    st.just(a.CancelPlate(P, "scored")),
)
MOVES: st.SearchStrategy[a.Action] = st.one_of(
    AT_THE_TABLE, AT_THE_TABLE, AT_THE_TABLE,
    st.builds(correction, _WHO, st.none() | st.integers(1, SIZE + 2)),
    st.builds(lambda s, p: a.HandOut(P, s, p), _WHO, st.sampled_from(["gallery", "given", "sold"])),
    st.builds(lambda s: a.TakeIn(P, s), _WHO),
    st.builds(lambda n: declared(n, caps=CAPS), st.integers(1, SIZE + 2)),
)


def begun(origin: str = "home") -> Studio:
    """The edition of the histories, and all its sheets."""
    s = Studio(*SHEETS, origin=origin)
    s.do(declared(SIZE, caps=CAPS))
    return s


def borne(register: Register) -> dict[str, tuple[str, int | None]]:
    """What stands on each sheet."""
    return {h.sheet: h.bears.claim for h in register.edition(P).holdings.values() if h.bears}


def holds(register: Register, model: Model) -> None:
    """The invariants of an edition, at one moment."""
    e = register.edition(P)
    assert e.size == model.size
    assert borne(register) == model.bears
    assert {h.sheet for h in e.holdings.values() if h.signed} == model.signed
    # A sheet destroyed by whoever had seen both has left the other its number.
    there = [b for s, b in borne(register).items() if s not in model.destroyed]
    twice = [c for c, n in Counter(there).items()
             if n > 1 and (c[1] is not None or c[0] in ("BAT", CP))]
    for claim in twice:
        assert any(s in model.corrected for s, b in borne(register).items() if b == claim)
    assert {c[1] for c in twice if c[0] == "edition"} <= {
        n for c in unsettled_clashes(register, P) for n in c.numbers} | {
        n for c in e.settled for n in range(1, 9) if c.startswith(f"twice edition {n}:")}
    adds_up(register)


def adds_up(register: Register) -> None:
    """Every number in one list, every sheet under one heading, every total both ways."""
    e = register.edition(P)
    now = taken_numbers(e)
    assert not set(now.taken) & set(now.void)
    inside_n = {n for n in (*now.taken, *now.void, *now.free) if n <= (e.size or 0)}
    assert inside_n == set(range(1, (e.size or 0) + 1))
    assert numbers_of(e) <= {*now.taken, *now.void}
    f, t, kept = edition_figures(register, P), edition_totals(e), sheet_accounts(register, P)
    assert f.printed >= f.signed >= f.left
    for x in (f.pulled, f.old):
        assert x.in_studio + x.out + x.lost + x.destroyed + x.unknown == x.sheets
        assert x.out == sum(x.places.values()) >= x.out_unsigned
        assert x.sheets >= max(x.numbered, x.signed)
    assert kept.get("destroyed", 0) == f.pulled.destroyed + f.old.destroyed
    assert sum(kept.values()) == f.printed + f.papers + f.after
    by_kind = {k: p.given for k, p in proof_figures(register, P).items()
               if k not in ("TP", "WP", "SP")}
    assert t.everything == t.in_total + t.outside == kept.get("edition", 0) + sum(by_kind.values())
    assert t.inside == by_kind.get("HC", 0)


def lives(moves: list[tuple[a.Action, int]]) -> tuple[Studio, Model]:
    """A history, held against the model at every step."""
    studio, model = begun(), Model()
    for move, days in moves:
        studio.clock.advance(days * DAY_MS)
        before = borne(studio.register), set(model.signed), studio.e.size, model.fixed()
        expected = model.act(move)
        refusal = studio.try_(move)
        assert (refusal is None) == expected, f"{move}: {refusal}"
        holds(studio.register, model)
        if not isinstance(move, a.Correct):
            now = borne(studio.register)
            assert all(now.get(s) == before[0].get(s) for s in before[1])
        if before[3]:
            assert studio.e.size == before[2]
        if not model.corrected:  # the late sheets were numbered before their pull was told
            assert all(c.key.startswith("after cancelling L")
                       for c in unsettled_clashes(studio.register, P))
    return studio, model


@given(st.lists(st.tuples(MOVES, st.integers(0, 90)), min_size=8, max_size=40))
def test_whatever_is_done_for_years_the_edition_stays_true(moves):
    """The register does just what the plain model does, and replaying the book gives it again."""
    studio, _ = lives(moves)
    again = replay_register(studio.entries, "home", {s.id: s for s in SHEETS})
    assert again == studio.register
    view = edition_view(studio.register, P)
    assert view.figures.printed + view.figures.after == len(SHEETS)
    gave = [e for e in studio.entries if e.kind in ("number given", "proof given")]
    cut = next((i for i, e in enumerate(studio.entries) if e.kind == "plate cancelled"), None)
    after = [] if cut is None else [
        e.body for e in gave if e in studio.entries[cut:] and e.body["sheet"].startswith("L")]
    assert len(after) <= sum(1 for e in studio.entries if e.kind == "number taken back"
                             or e.kind == "corrected") + 1
    assert all(body.get("kind") == CP for body in after)


# -- every short history ------------------------------------------------------------------

ALPHABET: tuple[a.Action, ...] = (
    a.GiveNumbers(P, (("K1", 1),)), a.GiveNumbers(P, (("K2", None),)),
    a.GiveNumbers(P, (("K2", 1),)), a.GiveProof(P, "K1", "HC"), a.GiveProof(P, "K2", "BAT"),
    a.TakeNumberBack(P, "K1"), a.Sign(P, ("K1",)), a.VoidNumber(P, 1, "x"), a.Destroy(P, "K1", "x"),
    a.Lower(P, 2, "x"), a.CancelPlate(P, "x"), correction("K2", 1))


def every(length: int) -> int:
    """Every history of so many letters, walked as a tree so that each beginning is done once."""
    studio = begun()
    at = studio.clock.now()
    todo = [(studio.register, Model(), tuple(studio.entries), 0)]
    done = 0
    while todo:
        register, model, entries, depth = todo.pop()
        done += depth == length
        if depth == length:
            bare = with_sheets(replay_register(entries, "home"), SHEETS)
            assert bare == register
            continue
        for move in ALPHABET:
            after = model.copy()
            expected = after.act(move)
            decided = decide_edition(register, move, at)
            assert isinstance(decided, Refusal) != expected, (move, decided, model)
            new, book = register, list(entries)
            for draft in () if isinstance(decided, Refusal) else decided:
                n = f"home:{len(book)}"
                book.append(Entry(n, draft.stream, len(book), n, "", draft.kind, at, draft.body))
                new = apply_edition_entry(new, book[-1])
            holds(new, after)
            todo.append((new, after, tuple(book), depth + 1))
    return done


def test_every_history_of_two_letters():
    """Each does what the model says, and replays."""
    assert every(2) == len(list(product(ALPHABET, repeat=2)))


@pytest.mark.full
def test_every_history_of_five_letters():
    """All 248,832 of them."""
    assert every(5) == len(ALPHABET) ** 5
