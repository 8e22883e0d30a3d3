"""An action is declared once, and whole: what reads the declarations finds all it needs."""

from __future__ import annotations

from dataclasses import fields

from benchapp.session import actions as a

LISTED = {spec.word: spec for spec in a.REGISTRY}


def test_words_that_make_one_class_share_its_rule() -> None:
    """Which word is said makes no difference to what the decider allows."""
    for spec in a.SPECS:
        for rule in spec.rules:
            assert a.RULES[rule.action] is rule, spec.word


def test_every_action_has_a_rule() -> None:
    """No class of action is left out of the table."""
    actions = {x for x in vars(a).values() if isinstance(x, type) and issubclass(x, a.Action)}
    assert actions - a.RULES.keys() == {a.Action}


def test_what_a_bare_word_makes_keeps_that_word() -> None:
    """The entry's word is the word that was said."""
    said = {word: a.action_word(spec.makes) for word, spec in LISTED.items()
            if spec.makes is not None}
    assert said
    assert all(word == kept for word, kept in said.items())


def test_a_word_that_names_a_sheet_makes_what_has_one() -> None:
    """`keep K3` is about K3."""
    assert {"keep", "doubtful", "look again"} <= {w for w, x in LISTED.items() if x.of_sheet}
    for word, spec in LISTED.items():
        if spec.of_sheet:
            assert spec.makes is not None, word
            assert "impression" in {f.name for f in fields(spec.makes)}, word


def test_every_key_has_its_place_at_the_foot_and_says_when_it_works() -> None:
    """No key of the Bench is left out of its footer, and no two stand at one place."""
    keyed = {word: spec for word, spec in LISTED.items() if spec.key is not None}
    places = [spec.use for spec in keyed.values()]
    assert None not in places
    assert len(places) == len(set(places))
    assert all(x.makes or x.tries or x.possible for x in keyed.values())
