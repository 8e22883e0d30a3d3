"""Which row each entry has: its own number in the book that wrote it, any later one elsewhere."""

from __future__ import annotations

import sqlite3


def of_others(
    connection: sqlite3.Connection, origin: str, since: int = 0
) -> list[tuple[int, str, int, int]]:
    """The rows after `since` that entries of other books have, as runs.

    Args:
        connection: Of the book.
        origin: The book's own name.
        since: Rows up to this one are passed by.

    Returns:
        First row, other origin, number of the first entry there, and how many: row and number
        both rise by one from entry to entry of a run.
    """
    runs: list[tuple[int, str, int, int]] = []
    for row, id_ in connection.execute(
            "SELECT sequence, id FROM entries WHERE sequence > ? ORDER BY sequence", (since,)):
        other, _, number = str(id_).rpartition(":")
        if other == origin or not number.isdigit():
            continue
        first, before, start, count = runs[-1] if runs else (0, "", 0, 0)
        if (before, first + count, start + count) == (other, row, int(number)):
            runs[-1] = first, before, start, count + 1
        else:
            runs.append((row, other, int(number), 1))
    return runs
