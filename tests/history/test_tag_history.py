"""What was changed after a tag, and whether it went: from what the printer recorded alone."""

from __future__ import annotations

from benchapp.history.tag_history import after_tag, after_words
from benchapp.session import actions as a
from benchapp.session.state import Session
from tests.screens.days import on_bench, opened, printed, small, workshop


def day(*steps: tuple[str, ...]) -> Session:
    """Four sheets, with what was said after each: `tag salty`, `set left side|3.25 turns`."""
    shop, clock = workshop()
    opened(shop, small())
    assert shop.do(a.Set("left side", "3 turns")).ok
    for n, said in enumerate(steps, 1):
        printed(shop, clock, n)
        for what in said:
            kind, _, text = what.partition(" ")
            name, _, value = text.partition("|")
            action = (a.Tag(text, n) if kind == "tag" else a.Judge("keep", n) if kind == "keep"
                      else a.Set(name, value))
            assert shop.do(action).ok, what
    return on_bench(shop)


def told(*steps: tuple[str, ...]) -> list[str]:
    """The sentences about salty, newest first."""
    return [after_words(x) for x in after_tag([day(*steps)], "salty")]


def test_a_tag_that_went_after_the_screws_is_told_so() -> None:
    """What was turned between the two sheets, and that the next did not have it."""
    (one,) = told(("tag salty", "set left side|3.25 turns"), ("keep",))
    assert one == ("D1 on 2026-05-03: left side 3 turns to 3.25 turns; D2 did not have it")


def test_a_tag_that_came_again_is_told_so_newest_first() -> None:
    """Each time by itself; without a change that is said too."""
    newest, older = told(("tag salty",), ("tag salty", "set left side|3.5 turns"), ("keep",))
    assert older == "D1 on 2026-05-03: nothing recorded as changed; D2 had it again"
    assert newest.endswith("left side 3 turns to 3.5 turns; D3 did not have it")


def test_a_sheet_nobody_looked_at_says_nothing_about_the_tag() -> None:
    """Unjudged, untagged and without a note: it may have it still."""
    (one,) = told(("tag salty",), ())
    assert one.endswith("D2 was not looked at")
    (last,) = told(("tag salty",))
    assert last == "D1 on 2026-05-03: no sheet was pulled after it yet"


def test_only_the_last_three_times_are_told() -> None:
    """One screen holds no more."""
    assert len(told(*[("tag salty",)] * 5)) == 3
