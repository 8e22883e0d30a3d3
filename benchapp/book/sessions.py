"""What sessions are called: by the date they were opened on, and by `last` and `yesterday`."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date

from benchapp.book.read import SessionRow
from benchapp.events.moments import local_time
from benchapp.quantities import QuantityError, read_day


def session_name(existing: Collection[str], local_date: date) -> str:
    """The name of a session opened on `local_date`, when those of `existing` are taken.

    The first of a day is its date, `2026-05-03`; then `2026-05-03b`, `c` … `z`, `aa`.
    """
    day = local_date.isoformat()
    count = 1
    while (name := day + _suffix(count)) in existing:
        count += 1
    return name


def _suffix(count: int) -> str:
    """Nothing for the first, then b, c … z, aa, ab …"""
    if count == 1:
        return ""
    text = ""
    while count:
        count, place = divmod(count - 1, 26)
        text = chr(ord("a") + place) + text
    return text


def opened_on(row: SessionRow) -> date:
    """The day a session was opened, by the clock on the wall there and then."""
    return local_time(row.opened.at).date()


def find_session(word: str, rows: Sequence[SessionRow], today: date) -> SessionRow | None:
    """The session a printer means, or None.

    Args:
        word: A name, `last` (opened last), `yesterday` (the last opened before today), or a day
            as people say it (the first of that day).
        rows: Every session in the order they were opened; a discarded one only by its name.
        today: The local date.
    """
    wanted = word.strip().lower()
    shown = (row for row in reversed(rows) if not row.discarded)
    if wanted == "last":
        return next(shown, None)
    if wanted == "yesterday":
        return next((row for row in shown if opened_on(row) < today), None)
    named = next((row for row in rows if row.name.lower() == wanted), None)
    if named is not None:
        return named
    try:
        day = read_day(wanted, today, "past").isoformat()
    except QuantityError:
        return None
    return next((row for row in rows if row.name == day), None)


def worked_on_last(rows: Sequence[SessionRow]) -> SessionRow | None:
    """The open session that was worked on last, or None if none is open."""
    still_open = [row for row in rows if not row.closed]
    return max(still_open, key=lambda row: row.last_sequence, default=None)
