"""A calendar for the phone: RFC 5545, as text. Pure: nothing here depends on now.

Hours are those of the wall (the RFC's floating time, 3.3.5): nine o'clock stays nine o'clock
when the clocks are put forward, as the printer means it; so a time bears neither Z nor a TZID.
An event keeps its UID for good and its SEQUENCE only grows, so that a calendar taken in again
changes what is there and doubles nothing. The file is no message of anyone's: it has no METHOD,
and so its DTSTAMP says when an event was last changed (3.8.7.2).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Final

from benchapp.safe_text import sanitize

#: Octets of a line, its end not counted (RFC 5545, 3.1).
LINE_OCTETS: Final = 75
#: What wrote it, as a formal public identifier (RFC 5545, 3.7.3).
_PRODUCT: Final = "-//benchapp//{}//EN"
#: How long a change of blotters stands in the calendar: no claim about the work.
_LASTS: Final = timedelta(minutes=30)


@dataclass(frozen=True, slots=True)
class Event:
    """One event.

    Attributes:
        uid: Unique in the world and the same at every writing.
        sequence: Grows whenever anything of it changed.
        stamp: When it was last changed, in UTC.
        at: The time on the wall, without a zone; or a day.
        off: It is over or was passed by: the calendar strikes it out.
        alarm: Whether the phone calls at its time.
    """

    uid: str
    sequence: int
    stamp: datetime
    at: datetime | date
    summary: str
    description: str = ""
    off: bool = False
    alarm: bool = True


def calendar_text(events: Iterable[Event], name: str = "Under boards", *,
                  product: str = "boards") -> str:
    """A whole calendar file, its lines ended by CR LF and none longer than 75 octets.

    Args:
        events: In any order.
        name: What the phone calls the calendar.
        product: Which of the writers of calendars wrote it: `boards` or `plan`.
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{_PRODUCT.format(product)}",
             "CALSCALE:GREGORIAN",
             f"NAME:{escape_value(name)}", f"X-WR-CALNAME:{escape_value(name)}"]
    for event in events:
        lines += _event(event)
    lines.append("END:VCALENDAR")
    return "".join(part + "\r\n" for line in lines for part in fold_ical_line(line))


def _event(e: Event) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{escape_value(e.uid)}"
    yield f"SEQUENCE:{e.sequence}"
    yield f"DTSTAMP:{e.stamp.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    if isinstance(e.at, datetime):
        yield f"DTSTART:{_wall(e.at)}"
        yield f"DTEND:{_wall(e.at + _LASTS)}"
    else:
        yield f"DTSTART;VALUE=DATE:{_day(e.at)}"
        yield f"DTEND;VALUE=DATE:{_day(e.at + timedelta(days=1))}"
        yield "TRANSP:TRANSPARENT"
    yield f"SUMMARY:{escape_value(e.summary)}"
    if e.description:
        yield f"DESCRIPTION:{escape_value(e.description)}"
    yield f"STATUS:{'CANCELLED' if e.off else 'CONFIRMED'}"
    if e.alarm and not e.off:
        yield from ("BEGIN:VALARM", "ACTION:DISPLAY", "TRIGGER:PT0S",
                    f"DESCRIPTION:{escape_value(e.summary)}", "END:VALARM")
    yield "END:VEVENT"


def _wall(at: datetime) -> str:
    return f"{_day(at)}T{at.hour:02}{at.minute:02}{at.second:02}"


def _day(at: date) -> str:
    # Not by %Y, which does not fill up early years on every system.
    return f"{at.year:04}{at.month:02}{at.day:02}"


def escape_value(text: str) -> str:
    """A text value (RFC 5545, 3.3.11): backslash, semicolon, comma and line ends escaped.

    What acts on a terminal is made visible first, as everywhere; a colon stays as it is.
    """
    shown: str = sanitize(text.replace("\r\n", "\n"), newlines=True)
    for sign in ("\\", ";", ","):
        shown = shown.replace(sign, "\\" + sign)
    return shown.replace("\n", "\\n")


def fold_ical_line(line: str) -> Iterator[str]:
    """The pieces of a long line, each but the first begun with a space.

    No piece has more than 75 octets, and none is cut inside a character.
    """
    piece, octets = "", 0
    for character in line:
        size = len(character.encode("utf-8"))
        if octets + size > LINE_OCTETS:
            yield piece
            piece, octets = " ", 1
        piece += character
        octets += size
    yield piece
