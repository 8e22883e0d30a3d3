"""What may stand in each field of an entry: asked of entries that another program wrote.

Digests tell that a line is as it was written, not that a book wrote it. What is folded is read by
its kind, so a number where a text belongs would be found out years later, in the middle of a
list. What a field may hold is said by the class of the event. The entries this program writes
itself need not be asked: a property holds them to this.
"""

from __future__ import annotations

import re
from typing import Final

from benchapp.events.entry import Entry, Moment
from benchapp.events.field_types import LAST_MS
from benchapp.events.kinds import KINDS
from benchapp.events.streams import stream_family

_DAY_MIN: Final = 24 * 60
_ID: Final = re.compile(r"[^:\s]{1,64}:[1-9][0-9]{0,17}")


def find_wrong_field(entry: Entry) -> str | None:
    """What no program of ours would have written in an entry, with the field; None: nothing.

    Its kind and the names of its fields are held against the registry elsewhere.
    """
    for name, value in (("id", entry.id), ("action", entry.action)):
        if not _ID.fullmatch(value):
            return f"{name}: not of the form book:number"
    unfit = KINDS[stream_family(entry.stream), entry.kind].find_unfit(entry.body)
    if unfit is not None:
        return f"{entry.kind}: {unfit}"
    return _wrong_moment(entry.at)


def _wrong_moment(at: Moment) -> str | None:
    if not 0 <= at.wall_ms <= LAST_MS:
        return "at: wall_ms must lie between the years 1970 and 9998"
    if not -_DAY_MIN < at.offset_min < _DAY_MIN:
        return "at: offset_min must be less than a day"
    return None
