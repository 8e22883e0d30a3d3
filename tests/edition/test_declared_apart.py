"""Two books that declared one edition differently while apart: named, and nothing chosen."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.edition import actions as a
from benchapp.edition.conflicts.finding import unsettled_clashes
from benchapp.edition.decide import replay_register
from benchapp.edition.state import Cap
from tests.edition.support import P, Studio, declared, number, sheet, sign, texts

SHEETS = tuple(sheet(f"K{n}") for n in range(1, 4))


def apart(here: list[a.Action], there: list[a.Action], *first: a.Action) -> tuple[Studio, Studio]:
    """Each book with the other's entries taken in after its own."""
    home = Studio(*SHEETS)
    home.do(declared(8), *first)
    away = Studio(*SHEETS, origin="away", book=home.entries)
    known = len(home.entries)
    for studio, actions in ((home, here), (away, there)):
        for action in actions:
            studio.try_(action)
    ours, theirs = home.entries[known:], away.entries[known:]
    return (Studio(*SHEETS, book=[*home.entries, *theirs]),
            Studio(*SHEETS, origin="away", book=[*away.entries, *ours]))


@pytest.mark.parametrize(("here", "there", "words"), [
    ({"caps": {"AP": Cap(3)}}, {"caps": {"AP": Cap(4)}}, "AP 3 and 4"),
    ({"caps": {"AP": Cap(3)}}, {"caps": {"AP": Cap(3, inside=True)}},
     "AP 3 and 3 inside the total"),
    ({"caps": {}}, {"caps": {"HC": Cap(1)}}, "HC not said and 1"),
    ({"roman": True}, {}, "numbers Roman and figures"),
    ({}, {"roman_proofs": False}, "numbers of proofs Roman and figures"),
    ({"form": "varied"}, {}, "form varied and limited"),
])
def test_what_differs_is_named_in_both_books(
    here: dict[str, Any], there: dict[str, Any], words: str
) -> None:
    """With both sides, whichever took the other in; what both say is not mentioned."""
    for both in apart([declared(9, **here)], [declared(9, **there)]):
        (text,) = texts(both.register)
        head, _, said = text.partition(": ")
        assert head == "Books declare the edition differently"
        assert sorted(said.split(" ")) == sorted(words.split(" "))
        assert "settle" not in unsettled_clashes(both.register, P)[0].mend
        assert both.no(a.Settle(P, unsettled_clashes(both.register, P)[0].key,
                                "never mind")).rule == "clash"


def test_title_and_artist_are_two_spellings_of_one_print() -> None:
    """Neither is put on a paper in silence."""
    one, two = declared(9), replace(declared(9), title="SLACK WATER", artist="W. Halloran")
    for both in apart([one], [two]):
        (text,) = texts(both.register)
        assert all(x in text for x in ("Slack Water", "SLACK WATER", "Wren Halloran",
                                       "W. Halloran"))


def test_while_it_is_not_decided_nothing_that_is_there_falls_outside() -> None:
    """The more of each kind of proof is reckoned with, in both books alike."""
    one = declared(9, caps={"AP": Cap(2), "HC": Cap(3)})
    two = declared(9, caps={"AP": Cap(4), "PP": Cap(1)})
    both = [x.e.caps for x in apart([one], [two])]
    assert both[0] == both[1] == {"AP": Cap(4), "HC": Cap(3), "PP": Cap(1)}


def test_the_same_said_twice_is_no_clash() -> None:
    """Both books wrote down what one recipe says."""
    for both in apart([declared(9)], [declared(9)]):
        assert texts(both.register) == []


def test_a_size_lowered_here_and_proofs_declared_there_are_two_things() -> None:
    """The size is between two; of the proofs one book alone said something."""
    for both in apart([a.Lower(P, 6, "worn")], [declared(8, caps={"AP": Cap(5)})]):
        assert texts(both.register) == ["Books differ on the size of the edition: 6 and 8"]
        assert both.e.caps == {"AP": Cap(5)}


def test_it_is_declared_again_and_then_it_is_one_thing() -> None:
    """Before a signature as the printer likes; after one only as one of the books has it."""
    for both in apart([declared(9, caps={"AP": Cap(3)})], [declared(9, caps={"AP": Cap(4)})]):
        both.do(number("K1"), sign("K1"))
        assert both.no(declared(9, caps={"AP": Cap(5)})).rule == "clash"
        assert both.no(declared(10, caps={"AP": Cap(4)})).rule == "clash"
        both.do(declared(9, caps={"AP": Cap(4)}))
        assert (texts(both.register), both.e.caps) == ([], {"AP": Cap(4)})
        assert both.no(declared(9, caps={"AP": Cap(3)})).rule == "signed"
        assert replay_register(both.entries, both.register.origin,
                               both.register.sheets) == both.register


_CAPS = st.dictionaries(st.sampled_from(["AP", "PP", "HC"]),
                        st.builds(Cap, st.integers(0, 3), st.booleans()), max_size=2)
_SAID = st.lists(st.one_of(
    st.builds(lambda n, caps, roman, form: declared(n, caps=caps, roman=roman, form=form),
              st.integers(6, 10), _CAPS, st.booleans(), st.sampled_from(["limited", "varied"])),
    st.builds(lambda: declared(None, form="open")),
    st.builds(lambda n: a.Lower(P, n, "worn"), st.integers(2, 9))), max_size=4)


@given(_SAID, _SAID, _SAID)
def test_whichever_book_takes_the_other_in_they_say_the_same(
    first: list[a.Action], here: list[a.Action], there: list[a.Action]
) -> None:
    """The same clashes, the same size, form and proofs; and each settles by declaring again."""
    home = Studio(*SHEETS)
    fits = [x for x in first if home.try_(x) is None] if home.try_(declared(8)) is None else []
    one, two = apart(here, there, *fits)
    facts = [(x.e.size, x.e.sizes, x.e.form, x.e.caps, x.e.roman, x.e.title,
              {c.key for c in unsettled_clashes(x.register, P)}) for x in (one, two)]
    assert facts[0] == facts[1]
    if not one.e.sizes:
        one.do(a.Declare(P, one.e.title, one.e.artist, one.e.size, one.e.form, one.e.caps,
                         one.e.roman, one.e.roman_proofs))
        assert texts(one.register) == []
