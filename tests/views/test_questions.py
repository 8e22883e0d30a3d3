"""What a key of the Bench asks: wherever a day is, each question can be answered."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import pytest

from benchapp.decision import Refusal
from benchapp.session import actions as a
from benchapp.session.actions.asking import (
    ChoiceQuestion,
    LineQuestion,
    NameQuestion,
    Reply,
    TagQuestion,
)
from benchapp.views.availability import why_not
from benchapp.views.questions import reply_to
from tests.session.acts import DAYS
from tests.session.support import INK, LIFT, PULL, Bench, recipe

#: Clean hands begin, so that other sessions can be opened.
LIFT_FIRST = "{do: Lay out, hands: clean, time: 2 min}"
ACTIONS = tuple({made for spec in a.SPECS for made in spec.means})
#: Their answers are what can be done now; others may be refused once a text is typed.
ONLY_POSSIBLE = ("here", "redo", "next")


def ends_of(reply: Reply, asked: Counter[str]) -> Iterator[a.Action | Refusal]:
    """All that a reply may come to, going through every answer; each question is looked at."""
    match reply:
        case LineQuestion():
            asked["line"] += 1
            assert reply.title
            wrong = reply.check or (lambda _: None)
            good = next(text for text in ("7", "7 min") if wrong(text) is None)
            assert reply.check is None or reply.check("5, 7")
            yield from (mean(good) for mean in (reply.means, *(m for _, m in reply.choices)))
        case NameQuestion():
            asked["name"] += 1
            assert reply.title
            yield from ends_of(reply.then("coffee"), asked)
        case ChoiceQuestion():
            asked["choice" if reply.answers else "none"] += 1
            assert reply.title
            assert reply.none
            keys = [k for k in reply.keys or () if k]
            assert len(keys) == len(set(keys))
            assert reply.keys is None or len(reply.keys) == len(reply.answers)
            for words, leads in reply.answers:
                assert words
                yield from ends_of(leads() if callable(leads) else leads, asked)
        case TagQuestion():
            asked["tag"] += 1
            assert reply.sheet
            yield from (reply.means(tag) for group in reply.menu for _, tag in group.tags)
        case _:
            yield reply


def asked_everywhere(b: Bench, asked: Counter[str]) -> None:
    """Press every key that asks, now."""
    for spec in a.REGISTRY:
        if spec.asks is None:
            continue
        for end in ends_of(reply_to(b.room, b.s, spec.word, b.now), asked):
            assert isinstance(end, (*ACTIONS, Refusal)), (spec.word, end)
            if isinstance(end, Refusal):
                assert str(end)
            elif spec.word in ONLY_POSSIBLE:
                assert why_not(b.room, end, b.now) is None, (spec.word, end)


@pytest.mark.parametrize("day", range(len(DAYS)))
def test_each_question_of_a_day_can_be_answered(day: int) -> None:
    """From its opening to its close, with each key that asks pressed before every tread."""
    b, asked = Bench(DAYS[day], wanted=2), Counter[str]()
    for n in range(45):
        if n % 3 == 0:
            asked_everywhere(b, asked)
        if n == 20:
            b.do(a.StartClock(60_000, "coffee"))
            b.do(a.Helper(True, "Ada"))
        b.clock.advance(3 * 60_000)
        b.shop.tick()
        b.do(a.GoOn())
    asked_everywhere(b, asked)
    assert asked.keys() >= {"line", "choice", "none", "tag"}


def test_with_two_sessions_open_it_is_asked_which() -> None:
    """And with one nothing is asked: there is no other."""
    b = Bench(recipe(each=(LIFT_FIRST, INK, PULL, LIFT)), wanted=2)
    none = reply_to(b.room, b.s, "switch", b.now)
    assert isinstance(none, (ChoiceQuestion, Refusal))
    b.open(recipe(each=(LIFT_FIRST, INK, PULL, LIFT)))
    only = reply_to(b.room, b.s, "switch", b.now)
    assert isinstance(only, ACTIONS)
    b.open(recipe(each=(LIFT_FIRST, INK, PULL, LIFT)))
    which = reply_to(b.room, b.s, "switch", b.now)
    assert isinstance(which, ChoiceQuestion)
    assert len(which.answers) == 2
    asked_everywhere(b, Counter())


def test_a_word_without_a_question_is_its_action() -> None:
    """A word that no key says has no answer."""
    b = Bench(recipe(), wanted=2)
    assert reply_to(b.room, b.s, "go on", b.now) == a.GoOn()
    with pytest.raises(LookupError):
        reply_to(b.room, b.s, "no such word", b.now)
