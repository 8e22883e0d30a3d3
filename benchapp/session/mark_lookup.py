"""Which sheet of the book bears a mark: marks are used once. Pure."""

from __future__ import annotations

from collections.abc import Iterable

from benchapp.events.entry import Entry
from benchapp.events.impression import ImpressionPulled, SheetMarked
from benchapp.events.session import SessionActionTakenBack
from benchapp.events.streams import stream_family
from benchapp.session.names import session_id


def mark_bearer(entries: Iterable[Entry], mark: str, besides: tuple[str, int | None]) -> str | None:
    """The session of another sheet that bears `mark`, or None.

    Args:
        entries: All entries of the book's sessions, in order.
        mark: The mark, in its one spelling.
        besides: The sheet that is to bear it: its session's id and its ordinal.
    """
    told = [e for e in entries if stream_family(e.stream) == "session"]
    void = {e.event.action for e in told if isinstance(e.event, SessionActionTakenBack)}
    marks: dict[tuple[str, int | None], str] = {}
    for entry in told:
        borne = entry.event
        if entry.action in void or not isinstance(borne, ImpressionPulled | SheetMarked):
            continue
        sheet = session_id(entry.stream), borne.impression
        if isinstance(borne, SheetMarked) or sheet not in marks:
            marks[sheet] = borne.mark
    return next((sheet[0] for sheet, its in marks.items()
                 if its == mark and sheet != besides), None)
