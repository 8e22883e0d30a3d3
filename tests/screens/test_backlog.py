"""What waits of what the terminal sent: a few go on, more wait, a flood is dropped."""

from __future__ import annotations

from benchapp.screens.backlog import AHEAD, MOST, QUIET_MS, UNREAD, Backlog


def test_a_few_go_on_and_the_others_wait_in_order() -> None:
    """An app that is behind gets none; one that is idle gets so many, the rest later."""
    backlog: Backlog[int] = Backlog()
    for n in range(AHEAD + 5):
        backlog.add(n)
    assert list(backlog.take(AHEAD)) == []
    assert list(backlog.take(AHEAD - 2)) == [0, 1]
    assert list(backlog.take(0)) == list(range(2, AHEAD + 2))
    assert list(backlog.take(0)) == [AHEAD + 2, AHEAD + 3, AHEAD + 4]
    assert len(backlog) == 0


def test_a_flood_is_dropped_until_the_line_was_quiet() -> None:
    """More than anybody types: nothing of it is kept, and a silence ends it, once."""
    backlog: Backlog[int] = Backlog()
    backlog.heard(1, 0)
    for n in range(MOST):
        backlog.add(n)
    assert not backlog.flooded
    backlog.add(MOST)
    assert backlog.flooded
    assert len(backlog) == 0
    backlog.heard(1, 500)
    backlog.add(7)
    assert len(backlog) == 0
    assert not backlog.has_ended(QUIET_MS)
    assert backlog.has_ended(500 + QUIET_MS)
    assert not backlog.has_ended(500 + QUIET_MS)
    backlog.add(8)
    assert list(backlog.take(0)) == [8]


def test_bytes_that_never_become_a_message_are_a_flood() -> None:
    """A paste without an end would be kept whole; a long one that ends is not."""
    backlog: Backlog[str] = Backlog()
    backlog.heard(UNREAD, 0)
    backlog.add("paste")
    backlog.heard(UNREAD, 10)
    assert not backlog.flooded
    backlog.heard(1, 20)
    assert backlog.flooded
