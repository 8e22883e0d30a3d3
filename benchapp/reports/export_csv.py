"""Tables for a spreadsheet: RFC 4180, UTF-8 with its mark at the front, CR LF.

A spreadsheet takes a cell that begins with = + - or @ for a formula and reckons it, also when it
came out of somebody's note. So such a text gets an apostrophe in front, and so does one that
begins with an apostrophe: taking one leading apostrophe off every text gives the text back.
Characters that act on a terminal, which only a book from elsewhere can hold, become signs that
can be seen; in the bodies of entries they become escapes of JSON and mean the same.
Numbers and offsets from UTC never begin with a sign here: what is below nothing is written as a
text, with the apostrophe, and a moment is UTC with a Z beside local time without an offset.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime
from typing import Final

from benchapp.events.entry import Entry, Moment, canonical_json
from benchapp.events.moments import local_time
from benchapp.reports.review import Review, SheetReview
from benchapp.safe_text import escape_json, sanitize

MARK: Final = "\ufeff"
_FORMULA: Final = "=+-@\t\r\n＝＋－＠'"

_UTC: Final = "UTC, ISO 8601 with Z"
_LOCAL: Final = "local time without an offset"
#: A column's name, what it means, and how it is written or what it counts.
Columns = tuple[tuple[str, str, str], ...]
_SHEET: Final[Columns] = (
    ("number", "its number in pulling order", ""), ("mark", "its sheet mark", ""))
_PULLED: Final[Columns] = (
    ("pulled_utc", "when it was first pulled; empty: time not taken", _UTC),
    ("pulled_local", "the same", _LOCAL))
_IMPRESSIONS: Final[Columns] = (
    ("session", "the session's name", ""), ("print", "the title of the print", ""),
    ("artist", "whose print it is", ""), *_SHEET,
    ("for", "what it was pulled for", ""), ("for_by", "who said so: rule or printer", ""),
    ("state", "the state of the plate, of a state proof", ""),
    ("kind", "what it became when sorted", ""),
    ("verdict", "keep, doubtful or spoiled; empty: not judged", ""),
    ("counts", "whether it counts towards the number wanted", "yes or no"), *_PULLED,
    ("ended", "how it ended, where that was before its last step", ""),
    ("tags", "fixed labels for what was seen", "between |"),
    ("notes", "the printer's own words", "between |"),
    ("look_again", "whether to look at it again", "yes or no"),
    ("packs", "the pack of each of its papers", "between |"),
    ("settings", "the settings in force at its pull", "name: value, between |"))
_READINGS: Final[Columns] = (
    ("session", "the session's name", ""), ("print", "the title of the print", ""), *_SHEET,
    *_PULLED, ("name", "what was read", ""), ("value", "the figure", "as in unit"),
    ("unit", "its unit", ""))
_ENTRIES: Final[Columns] = (
    ("id", "the book's origin and the entry's number in it", ""),
    ("stream", "what it is about", ""), ("position", "its place in the stream, from 1", ""),
    ("action", "the action that caused it", ""), ("word", "the action's word", ""),
    ("kind", "what happened", ""), ("utc", "when", _UTC), ("local", "when", _LOCAL),
    ("wall_ms", "when, since 1970 in UTC", "ms"),
    ("boot_ns", "since the machine started, its sleep counted", "ns"),
    ("boot_id", "which start of the machine", ""),
    ("mono_ns", "since the machine started, its sleep not counted", "ns"),
    ("body", "its fields", "JSON"), ("sha256", "its digest over the entry before", "hex"))
#: The tables: their names, what a row is, their columns.
TABLES: Final = (
    ("impressions", "One sheet pulled.", _IMPRESSIONS),
    ("readings", "One value read of a sheet.", _READINGS),
    ("entries", "One entry of the book.", _ENTRIES))
IMPRESSIONS, READINGS, ENTRIES = (tuple(name for name, _, _ in columns)
                                  for _, _, columns in TABLES)


def csv_cell(value: object) -> str:
    """One cell, safe in any spreadsheet."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = sanitize(str(value), newlines=True)
    first = text.lstrip()[:1] or text[:1]
    return f"'{text}" if text and (text[0] in _FORMULA or first in _FORMULA) else text


def csv_table(head: Sequence[str], rows: Iterable[Sequence[object]]) -> Iterator[str]:
    """A whole file in parts: the mark, the head, then a row each."""
    yield MARK + _line(head)
    for row in rows:
        yield _line(row)


def _line(row: Sequence[object]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerow([csv_cell(x) for x in row])
    return out.getvalue()


# -- what stands in them ----------------------------------------------------------------------


def impression_rows(review: Review) -> Iterator[tuple[object, ...]]:
    """A session's sheets, one a row."""
    for i in review.impressions:
        yield (review.session, review.print, review.artist, i.number, i.mark,
               i.for_, i.for_by, i.state, i.kind, i.verdict, i.counts,
               *_moments(i.pulled_at), _ended(i), " | ".join(i.tags),
               " | ".join(i.notes), i.look_again,
               " | ".join(p or _of_no_pack(i.sheet_damp) for p in i.packs),
               " | ".join(f"{name}: {value}" for name, value in i.settings.items()))


def _ended(i: SheetReview) -> str | None:
    """How it ended where it stays as it is; a counterproof names the sheet it is of."""
    return i.ended if i.counterproof_of is None else f"counterproof of {i.counterproof_of}"


def _of_no_pack(damp: bool | None) -> str:
    return "not known" if damp is None else "damp, of no pack" if damp else "dry"


def reading_rows(review: Review) -> Iterator[tuple[object, ...]]:
    """A session's readings, one a row."""
    for i in review.impressions:
        for r in i.readings:
            yield (review.session, review.print, i.number, i.mark,
                   *_moments(i.pulled_at), r.name, r.value, r.unit)


def entry_rows(entries: Iterable[Entry]) -> Iterator[tuple[object, ...]]:
    """Entries, one a row, their bodies as JSON."""
    for e in entries:
        yield (e.id, e.stream, e.position, e.action, e.word, e.kind, *_both(e.at), e.at.wall_ms,
               e.at.boot_ns, e.at.boot_id, e.at.mono_ns, escape_json(canonical_json(dict(e.body))),
               e.sha256)


def _both(at: Moment) -> tuple[str, str]:
    here = local_time(at).replace(tzinfo=None).isoformat(" ", "milliseconds")
    utc = local_time(Moment(at.wall_ms, 0, 0, "", 0)).replace(tzinfo=None)
    return utc.isoformat("T", "milliseconds") + "Z", here


def _moments(iso: str | None) -> tuple[str | None, str | None]:
    """A moment of a review (local, with its offset) as UTC and as local time."""
    if iso is None:
        return None, None
    at = datetime.fromisoformat(iso)
    utc = at.astimezone(UTC).replace(tzinfo=None)
    return (utc.isoformat("T", "milliseconds") + "Z",
            at.replace(tzinfo=None).isoformat(" ", "milliseconds"))
